//! Every capacity in one place. The compiler refuses, with a sentence, a house
//! whose rules would exceed one.

/// States of a part's owners that its rules may read or feed together: a
/// part's message to its owner has two to this power entries.
pub const MAX_INTERFACE: usize = 10;

/// Sums and products in the belief fragment of one kind of part.
pub const MAX_NODES: usize = 12_000;

/// Sums and products while a belief fragment is being made on the host, those included
/// that turn out not to be needed.
pub const MAX_WORKING_NODES: usize = 8 * MAX_NODES;

/// Entries of one table on the way there.
pub const MAX_TABLE: usize = 1 << 20;

/// Entries of all tables on the way there, seen before they are made.
pub const MAX_ENTRIES: usize = 1 << 20;

/// Sums and products in the circuit of one whole piece with its findings, which the host
/// makes for bench hours.
pub const MAX_PIECE_NODES: usize = 2_000_000;

/// How deep parts may be built into one another (drawer, handle, screw: 3).
pub const MAX_DEPTH: usize = 8;

/// Parts of one piece.
pub const MAX_PARTS: usize = 1_000;

/// Answers named when answers clash.
pub const MAX_CLASH: usize = 12;

/// Feeds from the parts of one kind into their owner.
pub const MAX_FEEDS: usize = MAX_INTERFACE;

/// Marks on one measure, or values of one choice, that are told apart when a
/// check is weighed.
pub const MAX_MARKS: usize = 32;

/// The highest degree of what is judged by eye; 0 is "not at all".
pub const MAX_DEGREE: u8 = 15;

/// How far hand and gauge may be out on a measure (one standard deviation), in
/// ticks: 1.638 mm.
pub const MAX_GAUGE: u16 = u16::MAX;

/// Measures and choices that go into a sum.
pub const MAX_SUM_AXES: usize = 6;

/// Measures among these.
pub const MAX_SUM_READINGS: usize = 4;

/// Values in the table of a sum.
pub const MAX_SUM_VALUES: usize = 4_096;

/// Owners whose parts are counted when a piece is begun at the bench.
pub const MAX_COUNTS: usize = 128;

/// Cautions heeded at the bench that are remembered, one for each part they
/// are about; any more are shown again.
pub const MAX_HEEDED: usize = 256;

/// Steps of a round on the bench screen.
pub const MAX_STEPS: usize = 512;
