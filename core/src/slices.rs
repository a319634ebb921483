//! Putting few things in order, in place, without a heap.

use core::cell::Cell;

use heapless::Vec;

/// Moves the last before the first; the others stay in order.
pub(crate) fn last_to_front<T: Copy>(things: &mut [T]) {
    let things = Cell::from_mut(things).as_slice_of_cells();
    let (Some(first), Some(last)) = (things.first(), things.last()) else {
        return;
    };
    let carried = last.get();
    for pair in things.windows(2).rev() {
        if let [before, after] = pair {
            after.set(before.get());
        }
    }
    first.set(carried);
}

/// Puts a thing at this place, or at the end if that comes before it; whether
/// there was room.
pub(crate) fn insert<T: Copy, const N: usize>(list: &mut Vec<T, N>, at: usize, thing: T) -> bool {
    let has_room = list.push(thing).is_ok();
    if has_room {
        last_to_front(list.get_mut(at..).unwrap_or(&mut []));
    }
    has_room
}
