//! The host's side of one exchange: ask, wait, ask again.

use super::frame::{Frame, MAX_PAYLOAD, Received, Receiver};
use super::hello::{Hello, Query};
use super::message::{Answer, HIGHEST, LOWEST, Request, Spoken};

/// How long the host waits, and how often it asks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Patience {
    /// Milliseconds until it asks again. Erasing flash may take the unit most
    /// of half a second.
    pub wait: u32,
    /// How often it asks before it gives up.
    pub tries: u32,
}

/// What the line has cost so far.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    /// Frames sent, those sent again among them.
    pub sent: u32,
    /// Frames sent again.
    pub again: u32,
    /// Frames that came back damaged.
    pub garbled: u32,
    /// Times that no answer came.
    pub silent: u32,
}

/// What to do next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step<'a> {
    /// Send these bytes.
    Send(&'a [u8]),
    /// Wait for bytes, at most until this millisecond.
    WaitUntil(u64),
    /// Nobody answers.
    GaveUp,
}

/// What came in reply.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Heard<'a> {
    /// Who the unit is. In reply to a request: it does not speak this version.
    Hello(Hello),
    /// The answer.
    Answer(Answer<'a>),
}

/// The host's side of the link.
#[derive(Debug)]
pub struct Caller {
    patience: Patience,
    receiver: Receiver,
    frame: Frame,
    tag: u16,
    greeting: bool,
    due: Due,
    tries: u32,
    tally: Tally,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Due {
    Nothing,
    Now,
    At(u64),
}

impl Caller {
    /// Starts with a number for the first request that an earlier host is not
    /// likely to have used just before.
    #[must_use]
    pub fn new(patience: Patience, tag: u16) -> Self {
        Self {
            patience,
            receiver: Receiver::default(),
            frame: Frame::default(),
            tag,
            greeting: false,
            due: Due::Nothing,
            tries: 0,
            tally: Tally::default(),
        }
    }

    /// Asks this often from the next question on.
    pub fn set_tries(&mut self, tries: u32) {
        self.patience.tries = tries;
    }

    /// Asks who is there.
    pub fn greet(&mut self) {
        self.greeting = true;
        self.ask_with(&Spoken::Query(Query {
            lowest: LOWEST,
            highest: HIGHEST,
        }));
    }

    /// Asks for something.
    pub fn ask(&mut self, request: Request<'_>) {
        self.greeting = false;
        self.tag = self.tag.wrapping_add(1);
        self.ask_with(&Spoken::Request(self.tag, request));
    }

    fn ask_with(&mut self, spoken: &Spoken<'_>) {
        let mut room = [0; MAX_PAYLOAD];
        self.frame.fill(spoken.write(&mut room));
        self.due = Due::Now;
        self.tries = 0;
    }

    /// What to do at this millisecond.
    pub fn step(&mut self, now: u64) -> Step<'_> {
        match self.due {
            Due::At(until) if now < until => return Step::WaitUntil(until),
            Due::At(_) => self.tally.silent = self.tally.silent.saturating_add(1),
            Due::Now => {}
            Due::Nothing => return Step::WaitUntil(u64::MAX),
        }
        if self.tries >= self.patience.tries {
            self.due = Due::Nothing;
            return Step::GaveUp;
        }
        self.tally.sent = self.tally.sent.saturating_add(1);
        if self.tries > 0 {
            self.tally.again = self.tally.again.saturating_add(1);
        }
        self.tries = self.tries.saturating_add(1);
        self.due = Due::At(now.saturating_add(u64::from(self.patience.wait)));
        Step::Send(self.frame.bytes())
    }

    /// Takes one byte from the line. Gives something when it ends the reply;
    /// until the next request nothing more is.
    pub fn receive(&mut self, byte: u8) -> Option<Heard<'_>> {
        let spoken = match self.receiver.push(byte)? {
            Received::Payload(payload) => Spoken::read(payload).ok(),
            Received::Garbled => {
                self.tally.garbled = self.tally.garbled.saturating_add(1);
                Some(Spoken::Garbled)
            }
        };
        if self.due == Due::Nothing {
            return None;
        }
        match spoken? {
            Spoken::Answer(tag, answer) if tag == self.tag && !self.greeting => {
                self.due = Due::Nothing;
                Some(Heard::Answer(answer))
            }
            // One that speaks our version is late, in reply to a greeting.
            Spoken::Hello(hello) if self.greeting || !hello.speaks(HIGHEST) => {
                self.due = Due::Nothing;
                Some(Heard::Hello(hello))
            }
            // One of the two was damaged on the way: there is no need to wait.
            Spoken::Garbled => {
                self.due = Due::Now;
                None
            }
            Spoken::Hello(_) | Spoken::Answer(..) | Spoken::Query(_) | Spoken::Request(..) => None,
        }
    }

    /// What the line has cost so far.
    #[must_use]
    pub fn tally(&self) -> Tally {
        self.tally
    }
}
