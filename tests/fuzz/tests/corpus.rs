//! Every input that did harm once is run again, and every seed.

use std::time::Duration;
use tellmark_fuzz::case::{Bounds, catch_panics, run};
use tellmark_fuzz::targets::{Seen, TARGETS, kept, set_scratch};

#[test]
fn what_did_harm_once_does_none() {
    let scratch = tempfile();
    set_scratch(&scratch);
    catch_panics();
    // Other tests run at the same time, so only what takes far too long is noticed here.
    let bounds = Bounds {
        time: Duration::from_secs(10),
        ..Bounds::default()
    };
    let mut harmed = Vec::new();
    for target in &TARGETS {
        for (path, input) in kept(target) {
            let outcome = run(target, &input, &mut Seen::default(), &bounds);
            if let Some(harm) = outcome.harm {
                harmed.push(format!("{} {harm}", path.display()));
            }
        }
    }
    let _ = std::fs::remove_dir_all(&scratch);
    assert!(harmed.is_empty(), "{}", harmed.join("\n"));
}

fn tempfile() -> std::path::PathBuf {
    std::env::temp_dir().join(format!("tellmark-fuzz-corpus-{}", std::process::id()))
}
