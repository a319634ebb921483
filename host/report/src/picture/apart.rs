//! Photographs are unfolded apart from everything else: a decoder that gives up on a file
//! made to do harm takes nothing with it.

use super::PictureError;
use std::thread;

/// The name of the thread that unfolds a photograph. Whoever tells of panics may be quiet
/// about one there: it is told as a photograph that is damaged.
pub const THREAD: &str = "photograph";

/// Does this in a thread of its own.
pub(super) fn apart<T: Send>(
    unfold: impl FnOnce() -> Result<T, PictureError> + Send,
) -> Result<T, PictureError> {
    thread::scope(|scope| {
        let thread = thread::Builder::new().name(THREAD.to_owned());
        match thread.spawn_scoped(scope, unfold) {
            Ok(thread) => thread.join().unwrap_or(Err(PictureError::Damaged)),
            Err(_) => Err(PictureError::TooMuchMemory),
        }
    })
}

#[cfg(test)]
mod tests {
    use super::{PictureError, apart};

    #[test]
    fn a_decoder_that_gives_up_takes_nothing_with_it() {
        let none: Result<u8, _> = apart(|| panic!("as decoders do"));
        assert_eq!(none, Err(PictureError::Damaged));
        assert_eq!(apart(|| Ok(7)), Ok(7));
    }
}
