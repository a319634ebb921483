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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_last_comes_first_and_the_others_keep_their_order() {
        let mut four = [1, 2, 3, 4];
        last_to_front(&mut four);
        assert_eq!(four, [4, 1, 2, 3]);
        last_to_front::<u8>(&mut []);
    }

    #[test]
    fn a_full_list_takes_nothing_more() {
        let mut list: Vec<u8, 3> = Vec::new();
        assert!(insert(&mut list, 0, 2) && insert(&mut list, 0, 1) && insert(&mut list, 9, 3));
        assert_eq!(list, [1, 2, 3]);
        assert!(!insert(&mut list, 0, 0));
        assert_eq!(list, [1, 2, 3]);
    }
}
