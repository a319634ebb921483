//! Which edges of the program were taken, if it was built to count them
//! (`with-coverage.sh`); otherwise nothing.
//!
//! The compiler then puts a counter of one byte at every edge and tells, before `main`,
//! where the counters lie. That is LLVM's SanitizerCoverage with inline 8-bit counters:
//! <https://clang.llvm.org/docs/SanitizerCoverage.html>.

/// The edges taken so far in a campaign.
#[derive(Debug, Default)]
pub struct Edges {
    /// For each edge, the classes of how often it was taken, a bit each.
    #[cfg(feature = "edge-counters")]
    seen: Vec<u8>,
    /// How many edges were taken.
    pub taken: usize,
}

#[cfg(not(feature = "edge-counters"))]
impl Edges {
    /// Whether edges are counted in this build.
    #[must_use]
    pub fn are_counted() -> bool {
        false
    }

    /// Forgets what was taken before a case.
    pub fn begin(&mut self) {}

    /// Whether the case took an edge, or took it much more often, than any before.
    pub fn is_new(&mut self) -> bool {
        false
    }
}

#[cfg(feature = "edge-counters")]
mod counters {
    use std::sync::Mutex;

    /// Beginnings and ends of the tables of counters, as addresses.
    pub(super) static TABLES: Mutex<Vec<(usize, usize)>> = Mutex::new(Vec::new());

    /// Called before `main` for every table of counters.
    // SAFETY: the name is the one that the compiler's code calls, and nothing else has it.
    #[unsafe(no_mangle)]
    extern "C" fn __sanitizer_cov_8bit_counters_init(start: *mut u8, stop: *mut u8) {
        if let Ok(mut tables) = TABLES.lock() {
            let table = (start as usize, stop as usize);
            if !tables.contains(&table) {
                tables.push(table);
            }
        }
    }

    /// Clears the counters, or hands each that is not zero on with its number.
    pub(super) fn each(mut take: impl FnMut(usize, u8)) {
        let Ok(tables) = TABLES.lock() else { return };
        let mut number = 0;
        for &(start, stop) in tables.iter() {
            let length = stop - start;
            // SAFETY: the compiler's code gave this stretch of static memory, which lives
            // for ever. One thread runs cases; a count that another thread changes at the
            // same time may be lost, which does no harm to a count.
            let table = unsafe { std::slice::from_raw_parts_mut(start as *mut u8, length) };
            let (chunks, rest) = table.as_chunks_mut::<16>();
            for (at, chunk) in chunks.iter_mut().enumerate() {
                if u128::from_ne_bytes(*chunk) != 0 {
                    for (i, count) in chunk.iter_mut().enumerate() {
                        if *count != 0 {
                            take(number + at * 16 + i, *count);
                        }
                    }
                    *chunk = [0; 16];
                }
            }
            for (i, count) in rest.iter_mut().enumerate() {
                if *count != 0 {
                    take(number + length - length % 16 + i, *count);
                    *count = 0;
                }
            }
            number += length;
        }
    }
}

#[cfg(feature = "edge-counters")]
impl Edges {
    /// Whether edges are counted in this build.
    #[must_use]
    pub fn are_counted() -> bool {
        true
    }

    /// Forgets what was taken before a case.
    pub fn begin(&mut self) {
        counters::each(|_, _| {});
    }

    /// Whether the case took an edge, or took it much more often, than any before.
    pub fn is_new(&mut self) -> bool {
        let mut is_new = false;
        let (seen, taken) = (&mut self.seen, &mut self.taken);
        counters::each(|edge, count| {
            // Once, twice, thrice, and so on in steps of about two.
            let class = match count {
                0 => 0,
                1 => 1,
                2 => 2,
                3 => 4,
                4..8 => 8,
                8..16 => 16,
                16..32 => 32,
                32..128 => 64,
                128.. => 128,
            };
            if edge >= seen.len() {
                seen.resize(edge + 1, 0_u8);
            }
            if seen[edge] & class == 0 {
                *taken += usize::from(seen[edge] == 0);
                seen[edge] |= class;
                is_new = true;
            }
        });
        is_new
    }
}
