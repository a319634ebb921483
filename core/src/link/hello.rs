//! Who are you: a question and an answer whose layout never changes.
//!
//! They are laid out by hand, so that the oldest unit and the newest host can
//! always tell each other which versions of the protocol they speak. A later
//! version may add bytes at the end, and a reader passes over them.

const NAME: [u8; 8] = *b"TELLMARK";
const ASKS: u8 = b'?';
const SAYS: u8 = b'!';

/// "Who are you?", from the host.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Query {
    /// The lowest version of the protocol that the host speaks.
    pub lowest: u8,
    /// The highest.
    pub highest: u8,
}

impl Query {
    /// Its bytes: the name (8), `?`, lowest, highest.
    #[must_use]
    pub fn to_bytes(self) -> [u8; 11] {
        let [a, b, c, d, e, f, g, h] = NAME;
        [a, b, c, d, e, f, g, h, ASKS, self.lowest, self.highest]
    }

    /// From bytes.
    #[must_use]
    pub fn from_bytes(bytes: &[u8]) -> Option<Self> {
        let &[ASKS, lowest, highest, ..] = bytes.strip_prefix(&NAME)? else {
            return None;
        };
        Some(Self { lowest, highest })
    }
}

/// Who the unit is, and what it holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hello {
    /// The lowest version of the protocol that the unit speaks.
    pub lowest: u8,
    /// The highest.
    pub highest: u8,
    /// The firmware's version: three numbers.
    pub firmware: [u8; 3],
    /// The board's own number.
    pub board: [u8; 8],
    /// The name of its log.
    pub log: u32,
    /// The check sum that names its pack, if it has one.
    pub pack: Option<u32>,
    /// How many notes it holds that were not fetched.
    pub unfetched: u32,
    /// The number of its last note; 0 if there is none.
    pub newest: u32,
}

impl Hello {
    /// Whether the unit speaks this version of the protocol.
    #[must_use]
    pub fn speaks(&self, version: u8) -> bool {
        (self.lowest..=self.highest).contains(&version)
    }

    /// Bytes that every version has.
    pub const BYTES: usize = 40;

    /// Its bytes: the name (8), `!`, lowest, highest, firmware (3), 1 if there
    /// is a pack, 0, board (8), log (4), pack (4), notes not fetched (4), last
    /// note (4); the low byte first.
    #[must_use]
    pub fn to_bytes(&self) -> [u8; Self::BYTES] {
        let mut bytes = [0; Self::BYTES];
        let numbers = [
            self.log,
            self.pack.unwrap_or(0),
            self.unfetched,
            self.newest,
        ];
        let all = NAME
            .into_iter()
            .chain([SAYS, self.lowest, self.highest])
            .chain(self.firmware)
            .chain([u8::from(self.pack.is_some()), 0])
            .chain(self.board)
            .chain(numbers.into_iter().flat_map(u32::to_le_bytes));
        for (to, from) in bytes.iter_mut().zip(all) {
            *to = from;
        }
        bytes
    }

    /// From bytes.
    #[must_use]
    pub fn from_bytes(bytes: &[u8]) -> Option<Self> {
        let rest = bytes.strip_prefix(&NAME)?;
        let (&[says, lowest, highest, major, minor, patch, has_pack, _], rest) =
            rest.split_first_chunk()?;
        let (&board, rest) = rest.split_first_chunk()?;
        let (log, rest) = number(rest)?;
        let (pack, rest) = number(rest)?;
        let (unfetched, rest) = number(rest)?;
        let (newest, _) = number(rest)?;
        (says == SAYS).then_some(Self {
            lowest,
            highest,
            firmware: [major, minor, patch],
            board,
            log,
            pack: (has_pack == 1).then_some(pack),
            unfetched,
            newest,
        })
    }
}

fn number(bytes: &[u8]) -> Option<(u32, &[u8])> {
    let (&number, rest) = bytes.split_first_chunk()?;
    Some((u32::from_le_bytes(number), rest))
}
