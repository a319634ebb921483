//! Articles, lists, numbers and capitals.

/// "a drawer", "an apron".
///
/// Goes by the first letter, with the few common words that sound otherwise
/// ("an hour", "a unit").
#[must_use]
pub fn a(noun: &str) -> String {
    let article = if begins_with_vowel_sound(noun) {
        "an"
    } else {
        "a"
    };
    format!("{article} {noun}")
}

fn begins_with_vowel_sound(noun: &str) -> bool {
    let first = noun
        .split(|c: char| !c.is_alphanumeric())
        .find(|w| !w.is_empty())
        .unwrap_or("")
        .to_lowercase();
    const SILENT_H: [&str; 4] = ["hour", "honest", "honour", "heir"];
    const Y_OR_W: [&str; 9] = [
        "unit", "uni", "use", "usu", "eu", "one", "once", "ewe", "util",
    ];
    if SILENT_H.iter().any(|w| first.starts_with(w)) {
        return true;
    }
    // "uninhabited" begins with "uni" too, but is no "you" sound.
    let un_in = first.starts_with("unin") || first.starts_with("unim");
    if !un_in && Y_OR_W.iter().any(|w| first.starts_with(w)) {
        return false;
    }
    if first == "8" || first == "11" || first == "18" {
        return true;
    }
    first
        .chars()
        .next()
        .is_some_and(|c| matches!(c, 'a' | 'e' | 'i' | 'o' | 'u' | 'é' | 'à'))
}

/// "a, b and c".
#[must_use]
pub fn list<S: AsRef<str>>(items: &[S]) -> String {
    joined(items, "and")
}

/// "a, b, c and 9 more": all of them, where that leaves out no more than one.
#[must_use]
pub fn list_some<S: AsRef<str>>(items: &[S], most: usize) -> String {
    let (first, more) = match items.len() > most + 1 {
        true => items.split_at(most),
        false => (items, &[][..]),
    };
    let mut named: Vec<String> = first.iter().map(|item| item.as_ref().to_owned()).collect();
    if !more.is_empty() {
        named.push(format!("{} more", more.len()));
    }
    list(&named)
}

/// "a, b or c".
#[must_use]
pub fn list_or<S: AsRef<str>>(items: &[S]) -> String {
    joined(items, "or")
}

fn joined<S: AsRef<str>>(items: &[S], word: &str) -> String {
    match items {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [most @ .., last] => {
            let most: Vec<&str> = most.iter().map(AsRef::as_ref).collect();
            format!("{} {word} {}", most.join(", "), last.as_ref())
        }
    }
}

/// "no", "one" … "twelve", then figures; for counts of parts.
#[must_use]
pub fn number(n: u32) -> String {
    const WORDS: [&str; 13] = [
        "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
        "eleven", "twelve",
    ];
    usize::try_from(n)
        .ok()
        .and_then(|n| WORDS.get(n))
        .map_or_else(|| n.to_string(), |w| (*w).to_owned())
}

/// "1 drawer", "4 drawers", "no drawers".
#[must_use]
pub fn some_of(n: u32, singular: &str, plural: &str) -> String {
    match n {
        0 => format!("no {plural}"),
        1 => format!("1 {singular}"),
        _ => format!("{n} {plural}"),
    }
}

/// The text with a capital at its beginning.
#[must_use]
pub fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(chars).collect()
    })
}

/// The text with a capital at its beginning and one full stop at its end.
#[must_use]
pub fn sentence(text: &str) -> String {
    let text = capital(text.trim());
    if text.ends_with(['.', '!', '?', '”']) {
        text
    } else {
        format!("{text}.")
    }
}

/// The text in quotation marks.
#[must_use]
pub fn quoted(text: &str) -> String {
    format!("“{text}”")
}
