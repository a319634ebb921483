//! Words as they were typed, to the byte, in a line of the record.
//!
//! Nearly always they stand as they are. What a line cannot hold (an end of a line, blanks
//! at either end, a control character), and words that stand in quotation marks
//! themselves, are put between quotation marks, with the escapes of JSON.

/// The words as they stand in a line.
pub(super) fn written(words: &str) -> String {
    let is_plain = words == words.trim()
        && !words.is_empty()
        && !words.contains(char::is_control)
        && !words.starts_with('"');
    // Nor may it end as a line does that was cut short.
    if is_plain && !words.ends_with(super::CUT_SHORT.trim()) {
        return words.to_owned();
    }
    let mut line = String::from("\"");
    for sign in words.chars() {
        match sign {
            '"' => line.push_str("\\\""),
            '\\' => line.push_str("\\\\"),
            sign if sign.is_control() => {
                line.push_str(&format!("\\u{:04x}", u32::from(sign)));
            }
            sign => line.push(sign),
        }
    }
    line.push('"');
    line
}

/// What stands in a line as the words that were typed.
pub(super) fn read(line: &str) -> String {
    if line.starts_with('"')
        && let Ok(words) = serde_json::from_str::<String>(line)
    {
        return words;
    }
    line.to_owned()
}

#[cfg(test)]
mod tests {
    use super::{read, written};

    #[test]
    fn what_is_typed_is_read_again_to_the_byte() {
        for words in [
            "l/h leaf sags 12mm",
            "1/8\" split",
            "\"musty\"",
            "\"",
            "  blanks  ",
            "a\tb",
            "two\nlines",
            "back\\slash",
            "\"a\\",
            "",
            "é 🪑 \u{7f}\u{1b}[2J",
            "it is <cut short here, not read>",
        ] {
            let line = written(words);
            assert!(!line.contains(char::is_control), "{line:?}");
            assert_eq!(line, line.trim());
            assert_eq!(read(&line), words, "{line:?}");
        }
    }

    #[test]
    fn what_can_stand_as_it_is_does() {
        assert_eq!(written("1/8\" split; see left"), "1/8\" split; see left");
    }
}
