//! Putting few things in order, in place, without a heap.

/// Moves the last before the first; the others stay in order.
pub(crate) fn last_to_front<T: Copy>(things: &mut [T]) {
    let Some(mut carried) = things.last().copied() else {
        return;
    };
    for thing in things {
        core::mem::swap(thing, &mut carried);
    }
}
