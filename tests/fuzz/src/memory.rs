//! Counts the bytes that are allocated, so that a case that takes too many is noticed.

use std::alloc::{GlobalAlloc, Layout, System};
use std::ptr::null_mut;
use std::sync::atomic::{AtomicUsize, Ordering::Relaxed};

/// The system's allocator, with a count of the bytes it has given out.
#[derive(Debug)]
pub struct Counted;

static NOW: AtomicUsize = AtomicUsize::new(0);
static PEAK: AtomicUsize = AtomicUsize::new(0);
static CEILING: AtomicUsize = AtomicUsize::new(usize::MAX);

fn add(bytes: usize) {
    let now = NOW.fetch_add(bytes, Relaxed) + bytes;
    if now > PEAK.load(Relaxed) {
        PEAK.store(now, Relaxed);
    }
}

fn would_pass_the_ceiling(more: usize) -> bool {
    NOW.load(Relaxed).saturating_add(more) > CEILING.load(Relaxed)
}

// SAFETY: every call is handed on to the system's allocator as it came, or refused by a
// null pointer, which `GlobalAlloc` allows. The counters are atomic and allocate nothing.
unsafe impl GlobalAlloc for Counted {
    unsafe fn alloc(&self, layout: Layout) -> *mut u8 {
        if would_pass_the_ceiling(layout.size()) {
            return null_mut();
        }
        add(layout.size());
        // SAFETY: the caller keeps `alloc`'s contract, and it is the same one.
        unsafe { System.alloc(layout) }
    }

    unsafe fn alloc_zeroed(&self, layout: Layout) -> *mut u8 {
        if would_pass_the_ceiling(layout.size()) {
            return null_mut();
        }
        add(layout.size());
        // SAFETY: as above.
        unsafe { System.alloc_zeroed(layout) }
    }

    unsafe fn dealloc(&self, memory: *mut u8, layout: Layout) {
        NOW.fetch_sub(layout.size(), Relaxed);
        // SAFETY: as above.
        unsafe { System.dealloc(memory, layout) }
    }

    unsafe fn realloc(&self, memory: *mut u8, layout: Layout, size: usize) -> *mut u8 {
        if would_pass_the_ceiling(size.saturating_sub(layout.size())) {
            return null_mut();
        }
        // SAFETY: as above.
        let moved = unsafe { System.realloc(memory, layout, size) };
        if !moved.is_null() {
            NOW.fetch_sub(layout.size(), Relaxed);
            add(size);
        }
        moved
    }
}

/// Bytes in use when it was begun, and the most since then.
#[derive(Clone, Copy, Debug)]
pub struct Watch {
    before: usize,
}

impl Watch {
    /// Begins to watch. One at a time: the peak is the whole process's.
    #[must_use]
    pub fn begin() -> Self {
        let before = NOW.load(Relaxed);
        PEAK.store(before, Relaxed);
        Self { before }
    }

    /// The most bytes in use at once since then, less those in use before.
    #[must_use]
    pub fn most(self) -> usize {
        PEAK.load(Relaxed).saturating_sub(self.before)
    }
}

/// Lets every allocation fail that would take the whole process over so many bytes. A
/// program that does not expect that is aborted.
pub fn set_ceiling(bytes: usize) {
    CEILING.store(bytes, Relaxed);
}
