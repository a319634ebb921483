//! Forms of one word brought together: sags, sagging, sagged.
//!
//! A stem is only ever compared with other stems. It need not be a word, and it may throw
//! two words together that differ in more than form; what is read from stems alone is never
//! as good as the word itself.

/// Verbs whose forms no rule gives.
const IRREGULAR: [(&str, &str); 44] = [
    ("worn", "wear"),
    ("wore", "wear"),
    ("torn", "tear"),
    ("tore", "tear"),
    ("broken", "break"),
    ("broke", "break"),
    ("bent", "bend"),
    ("bended", "bend"),
    ("stuck", "stick"),
    ("swollen", "swell"),
    ("swelled", "swell"),
    ("shrunk", "shrink"),
    ("shrank", "shrink"),
    ("shrunken", "shrink"),
    ("sunk", "sink"),
    ("sunken", "sink"),
    ("sank", "sink"),
    ("hung", "hang"),
    ("rotten", "rot"),
    ("splitted", "split"),
    ("sat", "sit"),
    ("stood", "stand"),
    ("kept", "keep"),
    ("bought", "buy"),
    ("cut", "cut"),
    ("driven", "drive"),
    ("eaten", "eat"),
    ("given", "give"),
    ("gave", "give"),
    ("fallen", "fall"),
    ("fell", "fall"),
    ("held", "hold"),
    ("left", "left"),
    ("lost", "lose"),
    ("made", "make"),
    ("sprung", "spring"),
    ("sprang", "spring"),
    ("struck", "strike"),
    ("stricken", "strike"),
    ("sawn", "saw"),
    ("spun", "spin"),
    ("stolen", "steal"),
    ("frozen", "freeze"),
    ("proved", "prove"),
];

/// The stem of a word in small letters.
pub(crate) fn stem(word: &str) -> String {
    let word = british(word);
    // A moulding has no mould.
    if word.starts_with("molding") {
        return "molding".to_owned();
    }
    if let Some((_, base)) = IRREGULAR.iter().find(|(form, _)| *form == word) {
        return cut_ending(base);
    }
    cut_ending(&word)
}

/// American spelling brought to one form with British.
fn british(word: &str) -> String {
    let mut word = word.replace('\'', "");
    for (from, to) in [
        ("mould", "mold"),
        ("grey", "gray"),
        ("colour", "color"),
        ("odour", "odor"),
        ("centre", "center"),
        ("metre", "meter"),
        ("plough", "plow"),
        ("caster", "castor"),
    ] {
        if word.contains(from) {
            word = word.replace(from, to);
        }
    }
    for (from, to) in [("ise", "ize"), ("ised", "ized"), ("ising", "izing")] {
        if word.len() > 6 && word.ends_with(from) {
            word.truncate(word.len() - from.len());
            word.push_str(to);
        }
    }
    word
}

fn cut_ending(word: &str) -> String {
    let count = word.chars().count();
    if count <= 3 || !word.is_ascii() {
        return word.to_owned();
    }
    let mut base = word.to_owned();
    let long_enough = |base: &str, ending: &str| base.len() >= ending.len() + 3;
    for (ending, put) in [
        ("iness", "y"),
        ("ness", ""),
        ("ies", "y"),
        ("ied", "y"),
        ("sses", "ss"),
        ("ings", ""),
        ("ing", ""),
        ("ed", ""),
        ("ches", "ch"),
        ("shes", "sh"),
        ("xes", "x"),
    ] {
        if base.ends_with(ending) && long_enough(&base, ending) {
            // "sheed", "red": nothing is left without the vowel.
            let cut = base.len() - ending.len();
            if base[..cut].contains(['a', 'e', 'i', 'o', 'u', 'y']) {
                base.truncate(cut);
                base.push_str(put);
                return end(base);
            }
        }
    }
    if base.ends_with('s') && !base.ends_with("ss") && !base.ends_with("us") && base.len() > 3 {
        base.pop();
    }
    end(base)
}

/// Doubled last letters, a silent e, a y at the end.
fn end(mut base: String) -> String {
    if base.len() > 3 && (base.ends_with('e') || base.ends_with('y')) {
        base.pop();
    }
    let bytes = base.as_bytes();
    if let [.., a, b] = bytes
        && a == b
        && base.len() > 2
        && !matches!(b, b'e' | b'o')
    {
        base.pop();
    }
    base
}

#[cfg(test)]
mod tests {
    use super::stem;

    #[test]
    fn forms_of_one_word_come_to_one_stem() {
        for forms in [
            &["sag", "sags", "sagging", "sagged", "saggy"][..],
            &["crack", "cracks", "cracked", "cracking"],
            &["creak", "creaks", "creaky", "creaking"],
            &["wobble", "wobbles", "wobbling", "wobbly"],
            &["stiff", "stiffness"],
            &["musty", "mustiness"],
            &["rot", "rotten", "rotting", "rots"],
            &["wear", "worn", "wears"],
            &["gape", "gaping", "gapes"],
            &["scrape", "scrapes", "scraping", "scraped"],
            &["grey", "gray"],
            &["mould", "mold", "moulds", "moldy"],
            &["colour", "color", "colours"],
            &["glass", "glasses"],
            &["rattle", "rattles", "rattling"],
        ] {
            for form in forms {
                assert_eq!(stem(form), stem(forms[0]), "{form}");
            }
        }
    }

    #[test]
    fn other_words_do_not() {
        for (one, other) in [
            ("loose", "lose"),
            ("ring", "rig"),
            ("bed", "bee"),
            ("dull", "dusty"),
        ] {
            assert_ne!(stem(one), stem(other), "{one} {other}");
        }
    }

    #[test]
    fn any_word_has_a_stem() {
        for word in ["", "s", "ss", "ing", "éé", "ied", "bees", "aaaaa", "eing"] {
            let _ = stem(word);
        }
    }
}
