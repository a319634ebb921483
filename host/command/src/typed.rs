//! Commands as they are shown to the user: each can be pasted into a shell as it stands.

use std::path::Path;

/// Words as they are typed in a terminal: in quotation marks if they must be.
pub(super) fn as_argument(words: &str) -> String {
    let is_plain =
        |c: char| c.is_alphanumeric() || "-_./,:+@%=".contains(c) || (cfg!(windows) && c == '\\');
    let obeyed = ['"', '$', '`', '\\', '!'];
    if !words.is_empty() && words.chars().all(is_plain) {
        words.to_owned()
    } else if cfg!(windows) {
        in_windows_marks(words)
    } else if words.contains(obeyed) {
        // Between these a shell obeys nothing; the mark itself is put in from outside.
        format!("'{}'", words.replace('\'', "'\\''"))
    } else {
        format!("\"{words}\"")
    }
}

/// Between quotation marks, as programs on Windows read them: backslashes before a mark are
/// doubled, those before the last one too.
fn in_windows_marks(words: &str) -> String {
    let mut typed = String::from("\"");
    let mut backslashes = 0;
    for letter in words.chars() {
        if letter == '"' {
            typed.extend(std::iter::repeat_n('\\', backslashes + 1));
        }
        backslashes = if letter == '\\' { backslashes + 1 } else { 0 };
        typed.push(letter);
    }
    typed.extend(std::iter::repeat_n('\\', backslashes));
    typed.push('"');
    typed
}

/// A file or folder as it is typed in a terminal; never taken for an option.
pub(super) fn as_path(path: &Path) -> String {
    let shown = path.display().to_string();
    match shown.starts_with('-') {
        true => as_argument(&format!("./{shown}")),
        false => as_argument(&shown),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// As Microsoft documents how a C program's command line is taken apart ("Parsing C
    /// command-line arguments"; from memory).
    #[test]
    fn a_backslash_does_not_swallow_a_mark() {
        for (words, typed) in [
            (r"C:\my rules", r#""C:\my rules""#),
            (r"C:\my rules\", r#""C:\my rules\\""#),
            (r#"say "yes""#, r#""say \"yes\"""#),
            (r#"a\"b"#, r#""a\\\"b""#),
        ] {
            assert_eq!(in_windows_marks(words), typed);
        }
    }

    /// A shell is asked what it makes of them.
    #[cfg(unix)]
    #[test]
    fn a_shell_reads_what_was_meant() {
        for words in [
            "plain-name_2/x.txt",
            "two words",
            "it's",
            "a \"b\" c",
            "$HOME and `id`",
            "back\\slash",
            "wow!",
            "",
            "*",
            "~",
            "a;b&c|d>e",
            "Grünspan's $5",
        ] {
            let typed = format!("printf %s {}", as_argument(words));
            let ran = std::process::Command::new("sh")
                .args(["-c", &typed])
                .output();
            let ran = ran.expect("a shell");
            assert_eq!(String::from_utf8_lossy(&ran.stdout), words, "{typed}");
        }
        assert_eq!(as_path(Path::new("-x")), "./-x");
    }
}
