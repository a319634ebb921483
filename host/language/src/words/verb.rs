//! What was done and what will be done: "glued" and "glue".

/// Verbs that have a past of their own: as they are named, and what was done.
const IRREGULAR: [(&str, &str); 78] = [
    ("bear", "bore"),
    ("begin", "began"),
    ("bend", "bent"),
    ("bind", "bound"),
    ("blow", "blew"),
    ("break", "broke"),
    ("bring", "brought"),
    ("build", "built"),
    ("buy", "bought"),
    ("cast", "cast"),
    ("catch", "caught"),
    ("choose", "chose"),
    ("come", "came"),
    ("cut", "cut"),
    ("deal", "dealt"),
    ("dig", "dug"),
    ("do", "did"),
    ("draw", "drew"),
    ("drive", "drove"),
    ("feed", "fed"),
    ("feel", "felt"),
    ("find", "found"),
    ("freeze", "froze"),
    ("get", "got"),
    ("give", "gave"),
    ("go", "went"),
    ("grind", "ground"),
    ("hang", "hung"),
    ("have", "had"),
    ("hide", "hid"),
    ("hit", "hit"),
    ("hold", "held"),
    ("inlay", "inlaid"),
    ("keep", "kept"),
    ("know", "knew"),
    ("lay", "laid"),
    ("lead", "led"),
    ("leave", "left"),
    ("lend", "lent"),
    ("let", "let"),
    ("light", "lit"),
    ("lose", "lost"),
    ("make", "made"),
    ("meet", "met"),
    ("pay", "paid"),
    ("put", "put"),
    ("read", "read"),
    ("run", "ran"),
    ("saw", "sawed"),
    ("say", "said"),
    ("see", "saw"),
    ("seek", "sought"),
    ("sell", "sold"),
    ("send", "sent"),
    ("set", "set"),
    ("sew", "sewed"),
    ("shake", "shook"),
    ("shut", "shut"),
    ("sink", "sank"),
    ("slide", "slid"),
    ("spend", "spent"),
    ("spin", "spun"),
    ("split", "split"),
    ("spread", "spread"),
    ("stand", "stood"),
    ("stick", "stuck"),
    ("strike", "struck"),
    ("sweep", "swept"),
    ("swing", "swung"),
    ("take", "took"),
    ("teach", "taught"),
    ("tear", "tore"),
    ("tell", "told"),
    ("think", "thought"),
    ("throw", "threw"),
    ("weave", "wove"),
    ("wind", "wound"),
    ("write", "wrote"),
];

/// Beginnings before which a verb stays what it is: "rehung" is "rehang".
const BEFORE: [&str; 4] = ["re", "un", "over", "with"];

/// What stands before "ed" where the letters would not say that an "e" has gone.
const TO_E: [&str; 16] = [
    "restor", "secur", "prepar", "explor", "ignor", "measur", "textur", "fractur", "structur",
    "complet", "delet", "past", "wast", "bath", "breath", "cloth",
];

/// "glue" of "glued", "plug" of "plugged"; `None` of what says of nothing that it was done.
#[must_use]
pub fn base(past: &str) -> Option<String> {
    if let Some(verb) = irregular(past, |(base, past)| (past, base)) {
        return Some(verb);
    }
    let stem = past.strip_suffix("ed").filter(|stem| stem.len() > 1)?;
    Some(of_stem(stem))
}

/// "glued" of "glue", "plugged" of "plug".
#[must_use]
pub fn past(base: &str) -> String {
    if let Some(verb) = irregular(base, |(base, past)| (base, past)) {
        return verb;
    }
    let letters: Vec<char> = base.chars().collect();
    let [.., before, last] = letters.as_slice() else {
        return format!("{base}ed");
    };
    match last {
        'e' => format!("{base}d"),
        'y' if !is_vowel(*before) => format!("{}ied", base.strip_suffix('y').unwrap_or(base)),
        last if doubles(&letters) => format!("{base}{last}ed"),
        _ => format!("{base}ed"),
    }
}

fn irregular(
    word: &str,
    pair: impl Fn((&'static str, &'static str)) -> (&'static str, &'static str),
) -> Option<String> {
    let said = |word: &str| {
        let mut pairs = IRREGULAR.iter().map(|one| pair(*one));
        pairs
            .find(|(said, _)| *said == word)
            .map(|(_, other)| other)
    };
    if let Some(found) = said(word) {
        return Some(found.to_owned());
    }
    BEFORE.iter().find_map(|before| {
        let found = said(word.strip_prefix(before)?)?;
        Some(format!("{before}{found}"))
    })
}

/// A verb from what stands before "ed".
fn of_stem(stem: &str) -> String {
    let letters: Vec<char> = stem.chars().collect();
    let (last, rest) = match letters.split_last() {
        Some((last, rest)) => (*last, rest),
        None => return String::new(),
    };
    let before = rest.last().copied().unwrap_or(' ');
    let with_e = || format!("{stem}e");
    if stem.len() == 2 && last == 'i' {
        return with_e();
    }
    if last == 'i' {
        return format!("{}y", rest.iter().collect::<String>());
    }
    // "plugged", but "filled", "pressed", "stuffed".
    if last == before && !matches!(last, 's' | 'f' | 'z') {
        let single: String = rest.iter().collect();
        let is_of_its_own = last == 'l' && syllables(&single) == 1;
        return if is_of_its_own {
            stem.to_owned()
        } else {
            single
        };
    }
    if TO_E.contains(&stem) || loses_an_e(&letters) {
        return with_e();
    }
    match last {
        'c' | 'e' | 'u' | 'v' | 'z' => with_e(),
        's' if before != 's' => with_e(),
        'g' if before != 'g' => with_e(),
        'l' if !is_vowel(before) && !matches!(before, 'l' | 'r' | 'w') => with_e(),
        _ => stem.to_owned(),
    }
}

/// Whether one vowel stands before one consonant at the end of a short stem, as in "plan-ed"
/// of "plane" ("plan" would have two), or of one with a long end, as in "examin-ed".
fn loses_an_e(letters: &[char]) -> bool {
    let [rest @ .., vowel, last] = letters else {
        return false;
    };
    let is_open = is_vowel(*vowel) && !is_vowel(*last) && !matches!(last, 'w' | 'x' | 'y');
    let is_single = match rest {
        [.., 'q', 'u'] => true,
        [.., before] => !is_vowel(*before),
        [] => true,
    };
    let stem: String = letters.iter().collect();
    let ends = ["at", "in", "ir", "ut", "ad", "id"];
    let is_long = ends.iter().any(|end| stem.ends_with(end));
    is_open && is_single && (is_short(&stem) || is_long)
}

/// Whether it has one syllable, but for a beginning as in "refit".
fn is_short(word: &str) -> bool {
    let own = ["re", "un"].iter().find_map(|before| {
        let own = word.strip_prefix(before)?;
        (own.len() > 2).then_some(own)
    });
    syllables(word) == 1 || own.is_some_and(|own| syllables(own) == 1)
}

/// Whether the last letter is written twice before "ed": "plug", "refit", "level".
fn doubles(letters: &[char]) -> bool {
    let [.., first, vowel, last] = letters else {
        return false;
    };
    let is_closed = !is_vowel(*first) && is_vowel(*vowel) && !is_vowel(*last);
    if !is_closed || matches!(last, 'w' | 'x' | 'y') {
        return false;
    }
    *last == 'l' || is_short(&letters.iter().collect::<String>())
}

fn is_vowel(letter: char) -> bool {
    matches!(letter, 'a' | 'e' | 'i' | 'o' | 'u')
}

/// How many runs of vowels there are, "y" among them behind the first letter.
fn syllables(word: &str) -> usize {
    let mut runs = 0;
    let mut in_run = false;
    for (at, letter) in word.chars().enumerate() {
        let vowel = is_vowel(letter) || (letter == 'y' && at > 0);
        runs += usize::from(vowel && !in_run);
        in_run = vowel;
    }
    runs
}

#[cfg(test)]
mod tests {
    use super::{base, past};

    #[test]
    fn what_was_done_and_what_is_to_be_done() {
        let pairs = "glue glued, plug plugged, fit fitted, refit refitted, plane planed, ease eased, \
                     dry dried, level levelled, fill filled, wax waxed, renew renewed, refix refixed, \
                     repin repinned, file filed, clean cleaned, open opened, harden hardened, \
                     loosen loosened, secure secured, restore restored, replace replaced, \
                     change changed, hinge hinged, settle settled, handle handled, move moved, \
                     oil oiled, nail nailed, press pressed, polish polished, square squared, \
                     reglue reglued, wedge wedged, shape shaped, tie tied, cut cut, \
                     rehang rehung, relay relaid, take took, make made, bring brought, let let, \
                     treat treated, brush brushed, photograph photographed, label labelled, \
                     clear cleared, test tested, note noted, close closed, strap strapped, \
                     tip tipped, piece pieced, mend mended, slip slipped, watch watched, \
                     free freed, rejoin rejoined, true trued, back backed, service serviced, \
                     flatten flattened, patch patched, colour coloured, try tried, dust dusted, \
                     draw drew, revive revived, assemble assembled, reblock reblocked, \
                     join joined, turn turned, tighten tightened, straighten straightened, \
                     trim trimmed, scrape scraped, sand sanded, shave shaved, cramp cramped, \
                     stop stopped, lift lifted, scribe scribed, rivet riveted, lacquer lacquered, \
                     varnish varnished, repair repaired, remove removed, screw screwed, use used, \
                     soften softened, wipe wiped, steam steamed, lower lowered, raise raised, \
                     support supported, prepare prepared, consolidate consolidated, \
                     store stored, ask asked, check checked, bore bored, drill drilled, \
                     measure measured, touch touched, match matched, rub rubbed, pin pinned, \
                     repair repaired, deliver delivered, wind wound, paste pasted, \
                     tack tacked, stitch stitched, line lined, web webbed, stuff stuffed, \
                     rebuild rebuilt, number numbered, examine examined";
        for pair in pairs.split(", ") {
            let (now, then) = pair.split_once(' ').expect("a pair");
            assert_eq!(past(now), then);
            assert_eq!(base(then).as_deref(), Some(now), "of {then}");
        }
        assert_eq!(base("the"), None);
    }
}
