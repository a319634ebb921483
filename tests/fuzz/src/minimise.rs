//! A shorter input that does the same harm.

use std::time::{Duration, Instant};

/// Takes out pieces, half of the input first and single bytes last, for as long as
/// `is_same` says that what is left does the same harm and there is time.
pub fn minimise(
    input: &[u8],
    patience: Duration,
    mut is_same: impl FnMut(&[u8]) -> bool,
) -> Vec<u8> {
    let start = Instant::now();
    let mut best = input.to_vec();
    let mut size = best.len().div_ceil(2);
    while size > 0 {
        let mut at = 0;
        let mut got_shorter = false;
        while at < best.len() {
            if start.elapsed() > patience {
                return best;
            }
            let end = (at + size).min(best.len());
            let mut shorter = best[..at].to_vec();
            shorter.extend_from_slice(&best[end..]);
            if is_same(&shorter) {
                best = shorter;
                got_shorter = true;
            } else {
                at = end;
            }
        }
        if !got_shorter || size > 1 {
            size /= 2;
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_does_no_harm_is_taken_out() {
        let long = b"many words and then a bad one, and more";
        let bad = |bytes: &[u8]| bytes.windows(3).any(|w| w == b"bad");
        assert_eq!(minimise(long, Duration::from_secs(5), bad), b"bad");
    }
}
