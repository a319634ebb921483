//! Time spent, as people write it down: "1 h 30", "1h30", "90 min", "1:30", "half an hour".

/// How many minutes some words say; `None` if they are no time, or leave its unit open ("90").
#[must_use]
pub fn minutes_spent(text: &str) -> Option<u32> {
    let words = words_of(text)?;
    clock(&words).or_else(|| amounts(&words))
}

/// One word or number.
#[derive(Clone, Debug, PartialEq)]
enum Word {
    /// In sixtieths, so that thirds and quarters of an hour are whole minutes.
    Number(u32),
    Colon,
    Text(String),
}

/// Parts of one in a number.
const PARTS: u32 = 60;

/// Numbers and words, wherever one passes into the other: "1h30" is three of them.
fn words_of(text: &str) -> Option<Vec<Word>> {
    let mut words = Vec::new();
    let text = text.trim().trim_end_matches('.').to_lowercase();
    let mut rest = text.as_str();
    while let Some(first) = rest.chars().next() {
        let length = |keep: fn(char) -> bool| {
            let end = rest.char_indices().find(|(_, c)| !keep(*c));
            end.map_or(rest.len(), |(at, _)| at)
        };
        let taken = match first {
            '0'..='9' => {
                let taken = length(|c| c.is_ascii_digit() || matches!(c, '.' | ',' | '/'));
                words.push(Word::Number(number(&rest[..taken])?));
                taken
            }
            '½' | '¼' | '¾' => {
                words.push(Word::Number(match first {
                    '½' => PARTS / 2,
                    '¼' => PARTS / 4,
                    _ => PARTS * 3 / 4,
                }));
                first.len_utf8()
            }
            ':' => {
                words.push(Word::Colon);
                1
            }
            c if c.is_alphabetic() => {
                let taken = length(char::is_alphabetic);
                words.push(Word::Text(rest[..taken].to_owned()));
                taken
            }
            ' ' | '-' | '.' => 1,
            _ => return None,
        };
        rest = &rest[taken..];
    }
    Some(words)
}

/// "2", "1.5", "1,5", "3/4".
fn number(text: &str) -> Option<u32> {
    let text = text.trim_end_matches(['.', ',']);
    if let Some((above, below)) = text.split_once('/') {
        let (above, below): (u32, u32) = (above.parse().ok()?, below.parse().ok()?);
        let parts = above.checked_mul(PARTS)?;
        return (below > 0 && parts.is_multiple_of(below)).then(|| parts / below);
    }
    let (whole, decimals) = text.split_once(['.', ',']).unwrap_or((text, ""));
    let whole: u32 = whole.parse().ok()?;
    let mut parts = whole.checked_mul(PARTS)?;
    if !decimals.is_empty() {
        let ten = 10_u32.checked_pow(u32::try_from(decimals.len()).ok()?)?;
        let decimals: u32 = decimals.parse().ok()?;
        let of_one = decimals.checked_mul(PARTS)?;
        // To the nearest sixtieth: 1.33 hours are 1 hour 20 minutes.
        parts = parts.checked_add(of_one.checked_add(ten / 2)? / ten)?;
    }
    Some(parts)
}

/// "1:30", and no more than that.
fn clock(words: &[Word]) -> Option<u32> {
    let [
        Word::Number(hours),
        Word::Colon,
        Word::Number(minutes),
        rest @ ..,
    ] = words
    else {
        return None;
    };
    let is_whole = |parts: &u32| parts.is_multiple_of(PARTS);
    let is_end = match rest {
        [] => true,
        [Word::Text(unit)] => minutes_of(unit) == Some(60),
        _ => false,
    };
    let is_clock = is_whole(hours) && is_whole(minutes) && minutes / PARTS < 60 && is_end;
    is_clock.then(|| hours.saturating_add(minutes / PARTS))
}

/// How many minutes a unit has.
fn minutes_of(unit: &str) -> Option<u32> {
    match unit {
        "h" | "hr" | "hrs" | "hour" | "hours" => Some(60),
        "m" | "min" | "mins" | "minute" | "minutes" => Some(1),
        _ => None,
    }
}

/// The amounts of one time added up, each with its unit; minutes may go without one after
/// hours.
fn amounts(words: &[Word]) -> Option<u32> {
    let (mut total, mut last, mut rest) = (0_u32, None, words);
    while !rest.is_empty() {
        let (parts, after) = amount(rest)?;
        let (unit, after) = match after {
            [Word::Text(unit), after @ ..] => (minutes_of(unit)?, after),
            [] if last == Some(60) && parts < 60 * PARTS => (1, after),
            _ => return None,
        };
        if last.is_some_and(|last| last <= unit) {
            return None;
        }
        let mut minutes = parts.checked_mul(unit)?;
        rest = after;
        // "an hour and a half"
        if let [
            Word::Text(and),
            Word::Text(a),
            Word::Text(share),
            after @ ..,
        ] = rest
            && (and.as_str(), a.as_str()) == ("and", "a")
            && let Some(share) = share_of_one(share)
        {
            minutes = minutes.checked_add(share.checked_mul(unit)?)?;
            rest = after;
        }
        if let [Word::Text(and), after @ ..] = rest
            && and == "and"
            && !after.is_empty()
        {
            rest = after;
        }
        total = total.checked_add(minutes)?;
        last = Some(unit);
    }
    last?;
    total.is_multiple_of(PARTS).then_some(total / PARTS)
}

fn share_of_one(word: &str) -> Option<u32> {
    match word {
        "half" => Some(PARTS / 2),
        "quarter" => Some(PARTS / 4),
        _ => None,
    }
}

/// "2", "1 1/2", "1½", "an", "half an", "a quarter of an", "one and a half".
fn amount(words: &[Word]) -> Option<(u32, &[Word])> {
    match words {
        [Word::Number(whole), Word::Number(share), rest @ ..] if *share < PARTS && *share > 0 => {
            Some((whole.checked_add(*share)?, rest))
        }
        [Word::Number(parts), rest @ ..] => Some((*parts, rest)),
        [Word::Text(first), rest @ ..] => {
            let (times, rest) = match first.as_str() {
                "half" | "quarter" => (1, words),
                "a" | "an" => (1, rest),
                word => (number_word(word)?, rest),
            };
            match rest {
                // "half an hour", "a quarter of an hour", "three quarters of an hour"
                [Word::Text(share), rest @ ..] if share_of_one(singular(share)).is_some() => {
                    let parts = share_of_one(singular(share))?.checked_mul(times)?;
                    let small = |w: &&Word| matches!(w, Word::Text(t) if ["of", "a", "an"].contains(&t.as_str()));
                    let skipped = rest.iter().take_while(small).count();
                    Some((parts, &rest[skipped..]))
                }
                // "one and a half hours"
                [Word::Text(and), Word::Text(a), Word::Text(share), rest @ ..]
                    if and == "and" && a == "a" =>
                {
                    let parts = share_of_one(share)?.checked_add(times.checked_mul(PARTS)?)?;
                    Some((parts, rest))
                }
                _ => Some((times.checked_mul(PARTS)?, rest)),
            }
        }
        _ => None,
    }
}

fn singular(word: &str) -> &str {
    word.strip_suffix('s').unwrap_or(word)
}

fn number_word(word: &str) -> Option<u32> {
    const WORDS: [&str; 12] = [
        "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
        "twelve",
    ];
    let at = WORDS.iter().position(|known| *known == word)?;
    u32::try_from(at + 1).ok()
}

#[cfg(test)]
mod tests {
    use super::minutes_spent;

    #[test]
    fn what_people_write_is_read() {
        for (text, minutes) in [
            ("1 h 30", 90),
            ("1h30", 90),
            ("1h 30m", 90),
            ("1 h 30 min.", 90),
            ("90 min", 90),
            ("90min", 90),
            ("1:30", 90),
            ("0:45 h", 45),
            ("half an hour", 30),
            ("half hour", 30),
            ("an hour", 60),
            ("one hour", 60),
            ("an hour and a half", 90),
            ("one and a half hours", 90),
            ("1 1/2 h", 90),
            ("1½ hours", 90),
            ("½ h", 30),
            ("1/4 hour", 15),
            ("a quarter of an hour", 15),
            ("three quarters of an hour", 45),
            ("2 h", 120),
            ("0.5 h", 30),
            ("0,5 h", 30),
            ("1.5hrs", 90),
            ("1.33 hours", 80),
            ("two hours and ten minutes", 130),
            ("25 minutes", 25),
            ("1 hour 30 minutes", 90),
        ] {
            assert_eq!(minutes_spent(text), Some(minutes), "{text}");
        }
    }

    #[test]
    fn what_leaves_it_open_is_no_time() {
        for text in [
            "",
            "90",
            "1.5",
            "h",
            "30 1 h",
            "1:75",
            "1:30:20",
            "2 h 90",
            "10 min 2 h",
            "2 to 3 h",
            "soon",
            "1 h and",
            "half",
            "1 / 2 h",
            "99999999999 h",
            "1 h 2 h",
            "-1 h 5 x",
        ] {
            assert_eq!(minutes_spent(text), None, "{text}");
        }
    }
}
