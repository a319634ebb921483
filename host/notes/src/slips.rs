//! Slips of the finger: how far a word that was typed is from one that is known.

/// How a key stands to its neighbours on the keyboards in use where these rules are.
const ROWS: [&str; 3] = ["qwertyuiop", "asdfghjkl", "zxcvbnm"];

fn place(key: char) -> Option<(i32, i32)> {
    ROWS.iter().enumerate().find_map(|(row, keys)| {
        let column = keys.find(key)?;
        // Each row stands half a key further to the right, in halves of a key.
        let row = i32::try_from(row).ok()?;
        Some((row, i32::try_from(column).ok()? * 2 + row))
    })
}

fn are_neighbours(one: char, other: char) -> bool {
    match (place(one), place(other)) {
        (Some((row, column)), Some((other_row, other_column))) => {
            (row - other_row).abs() <= 1 && (column - other_column).abs() <= 2
        }
        _ => false,
    }
}

/// What a slip costs: a key beside the right one, two keys the wrong way round, and a
/// letter too few of a pair happen more easily than others. In tenths.
fn swap_cost(one: char, other: char) -> u32 {
    if are_neighbours(one, other) { 8 } else { 12 }
}

/// How far a word is from another, in tenths of a slip; `None` if further than `most`.
pub(crate) fn distance(typed: &[char], known: &[char], most: u32) -> Option<u32> {
    if typed.len().abs_diff(known.len()) > 2 {
        return None;
    }
    let columns = known.len() + 1;
    let row = |from: u32| vec![from; columns];
    let mut before_last = row(u32::MAX / 2);
    let mut last: Vec<u32> = (0..columns)
        .map(|at| u32::try_from(at).unwrap_or(u32::MAX) * 10)
        .collect();
    for (down, &letter) in typed.iter().enumerate() {
        let mut this = row(u32::MAX / 2);
        this[0] = u32::try_from(down + 1).unwrap_or(u32::MAX) * 10;
        for (across, &wanted) in known.iter().enumerate() {
            let same = if letter == wanted {
                0
            } else {
                swap_cost(letter, wanted)
            };
            let doubled = across > 0 && known[across - 1] == wanted;
            let stutters = down > 0 && typed[down - 1] == letter;
            let mut least = last[across] + same;
            least = least.min(this[across] + if doubled { 6 } else { 10 });
            least = least.min(last[across + 1] + if stutters { 6 } else { 10 });
            if across > 0
                && down > 0
                && letter == known[across - 1]
                && typed[down - 1] == wanted
                && letter != wanted
            {
                least = least.min(before_last[across - 1] + 7);
            }
            this[across + 1] = least;
        }
        if this.iter().all(|cost| *cost > most) {
            return None;
        }
        before_last = std::mem::replace(&mut last, this);
    }
    let cost = last[columns - 1];
    // The first letter is seldom wrong.
    let first = typed.first() == known.first()
        || (typed.len() > 1 && known.len() > 1 && typed[0] == known[1] && typed[1] == known[0]);
    let cost = if first { cost } else { cost + 5 };
    (cost <= most).then_some(cost)
}

/// The furthest that a word of so many letters may be from what was meant, in tenths.
pub(crate) fn furthest(letters: usize) -> u32 {
    match letters {
        0..=2 => 0,
        3 => 7,
        4 => 12,
        5..=7 => 14,
        _ => 20,
    }
}

#[cfg(test)]
mod tests {
    use super::{distance, furthest};

    fn between(one: &str, other: &str) -> Option<u32> {
        let letters = |word: &str| word.chars().collect::<Vec<_>>();
        distance(&letters(one), &letters(other), furthest(one.len()))
    }

    #[test]
    fn a_slip_is_near_and_another_word_is_not() {
        assert_eq!(between("stif", "stiff"), Some(6));
        assert_eq!(between("carck", "crack"), Some(7));
        assert_eq!(between("runmer", "runner"), Some(8));
        assert_eq!(between("leef", "leaf"), Some(12));
        assert!(between("top", "tip").is_none());
        assert!(between("handle", "hinge").is_none());
        assert!(between("hindge", "hinge").is_some());
    }

    #[test]
    fn the_empty_word_is_near_to_nothing() {
        assert_eq!(between("", "top"), None);
        assert_eq!(between("to", "top"), None);
    }
}
