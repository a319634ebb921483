//! The open font of the pages, Vollkorn, cut to the letters of western and central Europe. It
//! goes with its licence, `fonts/OFL.txt`, and `fonts/cut.sh` says how it was cut.

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD as BASE64;
use std::fmt::Write as _;

const REGULAR: &[u8] = include_bytes!("../fonts/Vollkorn-Regular.woff2");
const BOLD: &[u8] = include_bytes!("../fonts/Vollkorn-SemiBold.woff2");

/// Both cuts as rules of a style sheet; the notice that the licence asks for stands before.
pub(super) fn faces() -> String {
    let mut faces = String::from(
        "/* Vollkorn, Copyright 2006-2014 Friedrich Althausen, 2006-2011 Jan Yanone Gerner; a cut \
         of it, under the SIL Open Font License, Version 1.1 */\n",
    );
    for (bytes, weight) in [(REGULAR, 400), (BOLD, 600)] {
        // Writing to a string cannot fail.
        let _ = writeln!(
            faces,
            "@font-face {{ font-family: \"Vollkorn Paper\"; font-weight: {weight}; \
             src: url(data:font/woff2;base64,{}) format(\"woff2\"); }}",
            BASE64.encode(bytes)
        );
    }
    faces
}
