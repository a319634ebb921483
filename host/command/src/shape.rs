//! The shapes of what `--json` prints: each answer names its own, with a version that grows
//! when an entry goes or comes to mean something else. `JSON.md` describes them.

/// What an answer for programs is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shape {
    /// "triage".
    pub name: &'static str,
    /// From 1.
    pub version: u32,
}

macro_rules! shapes {
    ($($constant:ident = $name:literal, $version:literal;)*) => {
        impl Shape {
            $(
                #[doc = concat!("`", $name, "`, described in `JSON.md`.")]
                pub const $constant: Shape = Shape { name: $name, version: $version };
            )*
            /// All of them.
            pub const ALL: &[Shape] = &[$(Shape::$constant),*];
        }
    };
}

shapes! {
    ACCOUNT = "account", 1;
    AGAINST = "against", 3;
    ANSWER = "answer", 1;
    BENCH = "bench", 1;
    BRIEF = "brief", 1;
    BUILD = "build", 1;
    CHECK = "check", 1;
    DATE = "date", 1;
    DONE = "done", 1;
    ERROR = "error", 1;
    HERE = "here", 1;
    HOUSE = "house", 1;
    HOUSE_BEGUN = "house begun", 1;
    HOUSE_FORGOTTEN = "house forgotten", 1;
    HOUSE_SET = "house set", 1;
    INVOICE = "invoice", 1;
    INVOICE_KEPT = "invoice kept", 1;
    JOBS = "jobs", 1;
    LINE = "line", 1;
    ME = "me", 1;
    NEXT = "next", 1;
    NOTE = "note", 2;
    NOTES = "notes", 2;
    OPEN = "open", 1;
    PAPER = "paper", 2;
    PHOTOS = "photos", 1;
    PHOTOS_KEPT = "photos kept", 1;
    PLAN = "plan", 2;
    PLAN_WAY = "plan way", 1;
    PLAN_WHY = "plan why", 1;
    QUOTE = "quote", 2;
    READ = "read", 1;
    REMARK = "remark", 1;
    REMARKS = "remarks", 1;
    REPAIR = "repair", 1;
    REPORT = "report", 1;
    SETTLED = "settled", 1;
    SHELF = "shelf", 1;
    START = "start", 1;
    STOP = "stop", 1;
    SUM = "sum", 1;
    SUMS = "sums", 1;
    SUPPLEMENT = "supplement", 2;
    TRIAGE = "triage", 1;
    UNIT_FETCH = "unit fetch", 1;
    UNIT_FIND = "unit find", 1;
    UNIT_KEPT = "unit kept", 1;
    UNIT_SEND = "unit send", 1;
    WHY = "why", 1;
    WHY_MENDED = "why mended", 1;
    WHY_UNREAD = "why unread", 1;
}

impl Shape {
    /// "triage 1".
    #[must_use]
    pub fn called(self) -> String {
        format!("{} {}", self.name, self.version)
    }
}
