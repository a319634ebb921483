//! Making a picture smaller while it is unfolded: each dot of the small one is the mean of
//! the area that it covers, and the rows may come in any order.

/// A small picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Dots {
    /// Dots across.
    pub width: u32,
    /// Dots down.
    pub height: u32,
    /// Red, green and blue of each dot, row by row.
    pub rgb: Vec<u8>,
}

/// The size of a picture whose longer side has at most so many dots.
pub(super) fn fitted((width, height): (u32, u32), longest: u32) -> (u32, u32) {
    let long = width.max(height);
    if long <= longest {
        return (width, height);
    }
    let (long, longest) = (u64::from(long), u64::from(longest));
    let fitted = |side: u32| {
        let halves = (2 * u64::from(side) * longest + long) / (2 * long);
        u32::try_from(halves).unwrap_or(u32::MAX).max(1)
    };
    (fitted(width), fitted(height))
}

/// Which dots of the small picture a column or row goes to, and how much of it to each.
#[derive(Clone, Copy)]
struct Share {
    cell: usize,
    here: u64,
    next: u64,
}

impl Share {
    /// A column is `to` wide and a cell `from`, so that both rows end together.
    fn of(at: u32, from: u32, to: u32) -> Share {
        let (at, from, to) = (u64::from(at), u64::from(from), u64::from(to));
        let start = at * to;
        let cell = start / from;
        let here = to.min((cell + 1) * from - start);
        Share {
            cell: usize::try_from(cell).unwrap_or(usize::MAX),
            here,
            next: to - here,
        }
    }
}

/// A picture that is being made smaller.
pub(super) struct Shrink {
    from: (u32, u32),
    to: (u32, u32),
    columns: Vec<Share>,
    /// Sums of one row, and of all; each has a cell more, which stays empty.
    row: Vec<u64>,
    all: Vec<u64>,
}

/// Red, green and blue.
const COLOURS: usize = 3;

impl Shrink {
    /// From a size to one that is not larger.
    pub fn new(from: (u32, u32), to: (u32, u32)) -> Shrink {
        let to = (to.0.clamp(1, from.0.max(1)), to.1.clamp(1, from.1.max(1)));
        let [across, down] = [to.0, to.1].map(|side| usize::try_from(side).unwrap_or(usize::MAX));
        let row = (across + 1) * COLOURS;
        Shrink {
            from,
            to,
            columns: (0..from.0).map(|x| Share::of(x, from.0, to.0)).collect(),
            row: vec![0; row],
            all: vec![0; row * (down + 1)],
        }
    }

    /// Adds a row, or only the dots of it that stand at `first`, `first + step` and so on.
    pub fn row(
        &mut self,
        y: u32,
        first: u32,
        step: u32,
        dots: impl Iterator<Item = [u8; COLOURS]>,
    ) {
        if y >= self.from.1 {
            return;
        }
        self.row.fill(0);
        let first = usize::try_from(first).unwrap_or(usize::MAX);
        let step = usize::try_from(step).unwrap_or(usize::MAX);
        let columns = self.columns.iter().skip(first).step_by(step);
        for (share, [r, g, b]) in columns.zip(dots) {
            let at = share.cell * COLOURS;
            let Some([r0, g0, b0, r1, g1, b1]) = self.row.get_mut(at..at + 2 * COLOURS) else {
                continue;
            };
            let [r, g, b] = [r, g, b].map(u64::from);
            *r0 += r * share.here;
            *g0 += g * share.here;
            *b0 += b * share.here;
            *r1 += r * share.next;
            *g1 += g * share.next;
            *b1 += b * share.next;
        }
        let share = Share::of(y, self.from.1, self.to.1);
        let length = self.row.len();
        for (cell, part) in [(share.cell, share.here), (share.cell + 1, share.next)] {
            let sums = self.all.iter_mut().skip(cell * length);
            for (sum, add) in sums.zip(&self.row) {
                *sum += add * part;
            }
        }
    }

    /// The small picture.
    pub fn finish(self) -> Dots {
        let (width, height) = self.to;
        // The area of a cell, in the units of the shares.
        let area = u64::from(self.from.0) * u64::from(self.from.1);
        let across = self.row.len() - COLOURS;
        let mut rgb = Vec::with_capacity(across * usize::try_from(height).unwrap_or(0));
        let rows = self.all.chunks_exact(self.row.len());
        for row in rows.take(usize::try_from(height).unwrap_or(usize::MAX)) {
            let mean = |sum: &u64| u8::try_from((sum + area / 2) / area).unwrap_or(u8::MAX);
            rgb.extend(row.iter().take(across).map(mean));
        }
        Dots { width, height, rgb }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mean_is_taken_over_the_area() {
        // Three dots into two: each takes one and a half.
        let mut shrink = Shrink::new((3, 1), (2, 1));
        shrink.row(
            0,
            0,
            1,
            [[0, 0, 0], [90, 30, 0], [240, 255, 255]].into_iter(),
        );
        assert_eq!(shrink.finish().rgb, [30, 10, 0, 190, 180, 170]);
    }

    #[test]
    fn rows_and_dots_may_come_in_any_order() {
        let dot = |x: u32, y: u32| [x * 7 % 256, y * 11 % 256, x * y % 256].map(|c| c as u8);
        let (from, to) = ((37, 23), (10, 6));
        let mut whole = Shrink::new(from, to);
        let mut apart = Shrink::new(from, to);
        for y in 0..from.1 {
            whole.row(y, 0, 1, (0..from.0).map(|x| dot(x, y)));
        }
        for first in [1, 0] {
            for y in (0..from.1).rev() {
                let dots = (first..from.0).step_by(2).map(|x| dot(x, y));
                apart.row(y, first, 2, dots);
            }
        }
        assert_eq!(whole.finish(), apart.finish());
    }

    #[test]
    fn what_is_of_one_colour_stays_so() {
        for (from, to) in [
            ((7, 5), (3, 2)),
            ((900, 1), (900, 1)),
            ((65_535, 1), (900, 1)),
        ] {
            let mut shrink = Shrink::new(from, to);
            for y in 0..from.1 {
                shrink.row(y, 0, 1, (0..from.0).map(|_| [255, 128, 1]));
            }
            let dots = shrink.finish();
            assert_eq!(dots.rgb, [255, 128, 1].repeat((to.0 * to.1) as usize));
        }
    }

    #[test]
    fn the_longer_side_fits() {
        assert_eq!(fitted((4000, 3000), 900), (900, 675));
        assert_eq!(fitted((3000, 4000), 900), (675, 900));
        assert_eq!(fitted((40, 30), 900), (40, 30));
        assert_eq!(fitted((65_535, 1), 900), (900, 1));
    }
}
