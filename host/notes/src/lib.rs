//! Notes in a restorer's own words.
//!
//! Rules are exact; a note is easy. The reader of rules ([`tellmark_language`]) refuses what
//! it does not know. This one understands what it can with the same words, says how sure it
//! is, and names what it leaves out. What it understands becomes facts by way of the exact
//! words: nothing is noted that the rules would not read as just that.
//!
//! ```text
//! "l/h leaf sags 12mm, drawr 2 stif"
//!   token      words, figures, marks
//!   line       each word with what the house may mean by it (lexicon, stem, slips)
//!   mention    the parts that are spoken of, on this piece (scene)
//!   meant      which parts those are, and whether that is certain
//!   clause     where one thing said ends; so or not, how sure
//!   ordering   clauses put together as they belong
//!   sound      a part that is said to be as it should be
//!   candidate  every saying that words of a clause stand in, and of which parts
//!   praise     what is not so, because it goes as it should
//!   spoken     the best of them; whether it is clear, or must be asked
//!   findings   facts, by way of the exact words
//! ```
//!
//! Nothing here knows a word about furniture. The small words of English are in `english`;
//! all others are the house's.

mod candidate;
mod clause;
mod english;
mod findings;
mod house;
mod lexicon;
mod line;
mod meant;
mod measure;
mod mention;
mod nearest;
mod ordering;
mod piece;
mod praise;
mod reader;
mod reading;
mod scene;
mod slips;
mod sound;
mod spoken;
mod stem;
mod token;

pub use english::{number_word, turns};
pub use nearest::Sayable;
pub use piece::{bare_name, called, piece, piece_described};
pub use reader::NoteReader;
pub use reading::{
    Dropped, Heard, InOrder, MOST_READINGS, Question, Reading, Understood, What, Why,
};
pub use scene::Scene;
