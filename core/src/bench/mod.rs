//! The bench screen: four keys in, pictures of 128 by 64 dots out.
//!
//! [`Bench`] is a state machine without a display, a clock or memory of its own.
//! Its caller
//!
//! 1. lends it a pack and [`Memory`], plays the record back to it
//!    ([`Bench::play`]) and opens the screen to go on with ([`Bench::take_up`]);
//! 2. samples four keys ([`debounce`], [`keys`]) and hands on each [`Event`]
//!    ([`Bench::press`]); everything that comes out is stored before the next
//!    picture, so a power failure loses at most the answer being keyed;
//! 3. tells it the time ([`Bench::tick`]) and how the cable is
//!    ([`Bench::tell`]), and lets it work between keys ([`Bench::idle`]);
//! 4. draws ([`Bench::draw`]) whenever one of these says that something changed.
//!
//! What each key does stands above it, in the bottom line of every screen:
//!
//! | key | in a list | a yes or no | a measure | kept down |
//! | --- | --- | --- | --- | --- |
//! | first | up | yes | more | again, in larger steps |
//! | second | down | no | less | again, in larger steps |
//! | third | open, take | other answers | note it | |
//! | fourth | back | back | back | home |
//!
//! Nothing is ever rubbed out: an answer is put right by giving another one.

pub mod canvas;
pub mod debounce;
pub mod keys;
mod list;
mod page;
mod screens;
pub mod wrap;

use embedded_graphics::draw_target::DrawTarget;
use embedded_graphics::pixelcolor::BinaryColor;
use heapless::Vec;

use crate::inspection::Given;
use crate::limits::MAX_CLASH;
use crate::looking::{self, Looking};
use crate::number::Number;
use crate::pack::Pack;
use crate::piece::Answer;
use crate::record::Noted;
use crate::round::{Progress, Round, Visit, Wanted};
use crate::shortlist::{self, CAUTIONS, Called, JOBS, SUSPECTS, Suspect, Warned};
use crate::weighing::Weighing;
use crate::work::{Memory, Refused, Work};
use canvas::Canvas;
use keys::{Event, Key};
use page::{Asked, Open, Origin, Page};

/// How deep pages can be opened one from the other.
const DEPTH: usize = 10;
/// Milliseconds for which the head shows what was just noted.
const SAID_FOR: u32 = 1_500;

/// Milliseconds for which the head shows one line of a long title.
const TURN: u32 = 1_200;

/// The state of the cable, told by the caller. A bench that is never told has no
/// cable.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Cable {
    /// Somebody is at the other end.
    pub connected: bool,
    /// Notes that nobody has fetched yet.
    pub waiting: u32,
}

/// What the head says for a moment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Said {
    /// This was answered.
    Answered(u16, Answer),
    /// This cannot be noted.
    Refused(Refused),
    /// A caution was heeded.
    Heeded,
    /// A part is out of sight, or in sight again.
    Hidden(bool),
    /// The inspection is finished.
    Finished,
    /// This was remarked.
    Remarked(u16),
}

/// Takes what is noted, to store it.
type Note<'n> = &'n mut dyn FnMut(Noted);

/// The bench screen.
#[derive(Debug)]
pub struct Bench<'m, 'a, N> {
    work: Work<'m, 'a, N>,
    pages: Vec<Open, DEPTH>,
    /// What is being answered.
    asked: Option<Asked>,
    wanted: Wanted,
    progress: Progress,
    /// The answers cannot all be true.
    clashes: bool,
    /// Cautions that hold and are not heeded yet.
    pending: Vec<Warned, CAUTIONS>,
    suspects: Vec<Suspect, SUSPECTS>,
    weighing: Option<Weighing>,
    cautions: Vec<Warned, CAUTIONS>,
    jobs: Vec<Called, JOBS>,
    clash: Option<Vec<Given, MAX_CLASH>>,
    looking: Option<Looking<'m, N>>,
    /// How far that has come; `None` if it must start again.
    looked: Option<looking::Progress>,
    cable: Option<Cable>,
    /// No other piece can be begun.
    kept_to_piece: bool,
    now: u32,
    said: Option<(Said, u32)>,
}

impl<'m, 'a, N: Number> Bench<'m, 'a, N> {
    /// An empty bench under a house's rules.
    #[must_use]
    pub fn new(pack: Pack<'a>, memory: Memory<'m, N>) -> Self {
        let mut bench = Self {
            work: Work::new(pack, memory),
            pages: Vec::new(),
            asked: None,
            wanted: Wanted::default(),
            progress: Progress::default(),
            clashes: false,
            pending: Vec::new(),
            suspects: Vec::new(),
            weighing: None,
            cautions: Vec::new(),
            jobs: Vec::new(),
            clash: None,
            looking: None,
            looked: None,
            cable: None,
            kept_to_piece: false,
            now: 0,
            said: None,
        };
        bench.go_home();
        bench
    }

    /// Plays one thing of the record back. When all of it has been, the bench
    /// must [`take_up`](Self::take_up) the work.
    ///
    /// # Errors
    /// See [`Refused`]; then this one thing is passed over.
    pub fn play(&mut self, noted: Noted) -> Result<(), Refused> {
        self.work.play(noted)
    }

    /// Opens the screen on which the work goes on: the next thing to look at,
    /// or the choice of a piece.
    pub fn take_up(&mut self) {
        self.refresh();
        self.go_home();
        if self.work.inspection().is_some() {
            if !self.work.is_finished() {
                self.go_round();
            }
        } else if self.work.root().is_some() {
            self.open(Page::Counts);
        }
    }

    /// The piece, and what has been noted about it.
    #[must_use]
    pub fn work(&self) -> &Work<'m, 'a, N> {
        &self.work
    }

    /// What the round asks next: what is first taken up after a power failure.
    #[must_use]
    pub fn next_to_ask(&self) -> Option<Visit> {
        let after = self.work.last();
        self.open_after(after.map(|(part, ask)| Visit { part, ask }))
    }

    /// How far the round has come.
    #[must_use]
    pub fn progress(&self) -> Progress {
        self.progress
    }

    /// Whether a caution is shown that must be heeded before the round goes on.
    #[must_use]
    pub fn is_warning(&self) -> bool {
        self.page() == Page::Caution
    }

    /// Whether the answers cannot all be true.
    #[must_use]
    pub fn clashes(&self) -> bool {
        self.clashes
    }

    /// Whether this is the page that the fourth key, kept down, leads to.
    #[must_use]
    pub fn is_home(&self) -> bool {
        self.pages.len() == 1
    }

    /// Takes a key. What is noted goes to `note`, to be stored before the next
    /// picture is drawn.
    pub fn press(&mut self, event: Event, note: &mut dyn FnMut(Noted)) {
        match event {
            Event::Again(Key::Fourth, _) => self.go_home(),
            Event::Press(Key::Fourth) => self.back(),
            event => screens::press(self, event, note),
        }
        self.warn();
    }

    /// Tells the time, by a clock in milliseconds that may wrap around. Returns
    /// whether the picture changes.
    pub fn tick(&mut self, now: u32) -> bool {
        let turned = self.now / TURN != now / TURN;
        self.now = now;
        let over = |until: u32| now.wrapping_sub(until).cast_signed() >= 0;
        if self.said.is_some_and(|(_, until)| over(until)) {
            self.said = None;
            return true;
        }
        turned && self.said.is_none() && screens::title_lines(self) > 1
    }

    /// Tells the state of the cable. Returns whether the picture changes.
    pub fn tell(&mut self, cable: Cable) -> bool {
        let changed = self.cable != Some(cable);
        self.cable = Some(cable);
        changed && matches!(self.page(), Page::Cable | Page::Home)
    }

    /// Lends memory to work out what is worth looking at next. Without it, the
    /// home screen does not offer that.
    pub fn lend_looking(&mut self, looking: Looking<'m, N>) {
        self.looking = Some(looking);
        self.looked = None;
    }

    /// Lets nobody begin another piece: the record is of this one only.
    pub fn keep_to_piece(&mut self) {
        self.kept_to_piece = true;
    }

    /// Does one step of what is worked out between key presses. Returns whether
    /// there was one: then the picture changes, and there may be more to do.
    pub fn idle(&mut self) -> bool {
        let page = self.page();
        let Some(inspection) = self.work.inspection_mut() else {
            return false;
        };
        match (page, &mut self.weighing, &mut self.clash) {
            (Page::Weights, Some(weighing), _) if !weighing.is_done() => {
                weighing.step(inspection);
                true
            }
            (Page::Clash, _, clash @ None) => {
                *clash = Some(inspection.clash());
                true
            }
            (Page::Looks, ..) => self.look_on(),
            _ => false,
        }
    }

    /// Draws the picture.
    ///
    /// # Errors
    /// The target's.
    pub fn draw<D: DrawTarget<Color = BinaryColor>>(&self, target: &mut D) -> Result<(), D::Error> {
        let mut canvas = Canvas::new(target);
        screens::draw(self, &mut canvas);
        canvas.end()
    }

    /// Does one step towards what is worth looking at next; whether there was one.
    fn look_on(&mut self) -> bool {
        let (Some(looking), Some(inspection)) = (&mut self.looking, self.work.inspection_mut())
        else {
            return false;
        };
        let progress = match self.looked {
            Some(looking::Progress::Done) => return false,
            None => looking.start(inspection).map_or(
                // The answers clash, or the memory is too small: nothing can be told.
                looking::Progress::Done,
                |()| looking::Progress::More,
            ),
            Some(_) => looking.step(inspection, |_, _| {}),
        };
        self.looked = match progress {
            looking::Progress::Outdated => None,
            progress => Some(progress),
        };
        true
    }

    fn pack(&self) -> &Pack<'a> {
        self.work.pack()
    }

    // ---- pages

    fn top(&self) -> Open {
        self.pages.last().copied().unwrap_or_default()
    }

    fn page(&self) -> Page {
        self.top().page
    }

    fn open(&mut self, page: Page) {
        // No chain of pages is deeper than `DEPTH`.
        let _ = self.pages.push(Open::at(page));
    }

    fn replace(&mut self, page: Page) {
        if let Some(open) = self.pages.last_mut() {
            *open = Open::at(page);
        }
    }

    fn back(&mut self) {
        if self.page() == Page::Caution {
            self.go_home();
        } else if self.pages.len() > 1 {
            self.pages.pop();
        }
    }

    fn go_home(&mut self) {
        self.pages.clear();
        let home = if self.work.inspection().is_some() {
            Page::Home
        } else {
            Page::Pieces
        };
        self.open(home);
    }

    /// Opens the round at the next thing to look at.
    fn go_round(&mut self) {
        let next = self.next_to_ask();
        self.asked = next.map(|visit| Asked {
            visit,
            origin: Origin::Round,
        });
        self.open(Page::Question);
        self.warn();
    }

    /// Asks one thing and comes back.
    fn ask_once(&mut self, visit: Visit) {
        self.asked = Some(Asked {
            visit,
            origin: Origin::Once,
        });
        self.open(Page::Question);
    }

    /// Closes pages until this one is on top.
    fn close_to(&mut self, page: Page) {
        while self.pages.len() > 1 && self.page() != page {
            self.pages.pop();
        }
    }

    /// Nothing is asked before the cautions are heeded.
    fn warn(&mut self) {
        if self.page() == Page::Question && !self.pending.is_empty() {
            self.open(Page::Caution);
        }
    }

    fn say(&mut self, said: Said) {
        self.said = Some((said, self.now.wrapping_add(SAID_FOR)));
    }

    // ---- what is noted

    /// Notes something; whether it could be.
    fn note(&mut self, noted: Noted, note: Note<'_>) -> bool {
        let done = self.work.note(noted, note);
        self.was_noted(done)
    }

    /// Whether something was noted; if not, the head says why.
    fn was_noted(&mut self, done: Result<(), Refused>) -> bool {
        if let Err(refused) = done {
            self.say(Said::Refused(refused));
        }
        done.is_ok()
    }

    /// Notes the answer to what is asked, and goes on.
    fn answer(&mut self, answer: Answer, note: Note<'_>) {
        let Some(asked) = self.asked else { return };
        let visit = asked.visit;
        let parts = self.work.parts().len();
        let done = self.work.note_answer(visit.part, visit.ask, answer, note);
        if !self.was_noted(done) {
            return;
        }
        self.say(Said::Answered(visit.ask, answer));
        self.refresh();
        self.close_to(Page::Question);
        match asked.origin {
            Origin::Round => self.pass(),
            Origin::Once => self.back(),
        }
        if self.work.parts().len() != parts {
            // The pages below hold indices of parts, which are outdated now.
            self.go_home();
            if asked.origin == Origin::Round {
                self.go_round();
            }
        }
    }

    /// Goes on to the next thing to look at after what is asked.
    fn pass(&mut self) {
        let visit = self
            .asked
            .and_then(|asked| self.open_after(Some(asked.visit)));
        self.asked = visit.map(|visit| Asked {
            visit,
            origin: Origin::Round,
        });
    }

    fn open_after(&self, after: Option<Visit>) -> Option<Visit> {
        let piece = self.work.inspection()?.piece();
        let round = Round::of(self.pack(), piece);
        // What was answered last may no longer be among what is asked.
        round.open_after(self.pack(), piece, &self.wanted, after)
    }

    /// Works out anew what follows from the answers and is shown at once; lists are
    /// worked out when they are opened.
    fn refresh(&mut self) {
        self.suspects.clear();
        self.weighing = None;
        self.clash = None;
        self.looked = None;
        self.pending.clear();
        self.clashes = false;
        let Some(inspection) = self.work.inspection_mut() else {
            self.progress = Progress::default();
            return;
        };
        self.clashes = inspection.settle().is_err();
        let cautions = shortlist::cautions(inspection);
        let pack = *inspection.pack();
        let round = Round::of(&pack, inspection.piece());
        self.wanted = round.wanted(inspection);
        self.progress = round.progress(&pack, inspection.piece(), &self.wanted);
        for warned in cautions {
            let (caution, part) = (usize::from(warned.caution), usize::from(warned.part));
            if !self.work.is_heeded(caution, part) {
                // `pending` has room for as many as are found.
                let _ = self.pending.push(warned);
            }
        }
    }
}
