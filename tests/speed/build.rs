//! Two hundred rules over three hundred facts, as Rust would be written by hand:
//! one expression after another.

use std::env;
use std::fmt::Write as _;
use std::fs;
use std::io;
use std::path::PathBuf;

const RULES: usize = 200;
const FACTS: usize = 300;

fn main() -> io::Result<()> {
    println!("cargo::rerun-if-changed=build.rs");
    let rules = (0..RULES).map(|i| {
        // Four facts for each rule, spread over all of them.
        [7 * i + 3, 113 * i + 31, 171 * i + 59, 217 * i + 101].map(|fact| fact % FACTS)
    });
    let mut text = format!(
        "/// How many facts there are.\npub const FACTS: usize = {FACTS};\n\
         /// The facts a, b, c, d of each rule `(a and b) or (not c and d)`.\n\
         pub const RULES: [[usize; 4]; {RULES}] = ["
    );
    let (mut separate, mut straight, mut three) = (String::new(), String::new(), String::new());
    for [a, b, c, d] in rules {
        // Writing to a string cannot fail.
        let _ = write!(text, "[{a}, {b}, {c}, {d}],");
        let expression = format!("(f[{a}] && f[{b}]) || (!f[{c}] && f[{d}])");
        let _ = writeln!(separate, "|f| {expression},");
        let _ = writeln!(straight, "fired += usize::from({expression});");
        let _ = writeln!(
            three,
            "fired += usize::from(f[{a}].and(f[{b}]).or((!f[{c}]).and(f[{d}])) == Truth::True);"
        );
    }
    let _ = write!(
        text,
        "];\n\
         /// The rules, each a function of its own.\n\
         pub const SEPARATE: [fn(&[bool; FACTS]) -> bool; {RULES}] = [{separate}];\n\
         /// The rules, one after the other: how many fire.\n\
         #[inline(never)]\n\
         pub fn straight(f: &[bool; FACTS]) -> usize {{ let mut fired = 0; {straight} fired }}\n\
         /// The same in three values.\n\
         #[inline(never)]\n\
         pub fn in_three_values(f: &[Truth; FACTS]) -> usize {{ let mut fired = 0; {three} fired }}\n"
    );
    let out = PathBuf::from(env::var_os("OUT_DIR").unwrap_or_default());
    fs::write(out.join("by_hand.rs"), text)
}
