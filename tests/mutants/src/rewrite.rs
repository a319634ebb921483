//! A source file with every change in it, each behind a switch.
//!
//! `a < b` becomes
//! `(if crate::mutant::on(17) { (a) <= (b) } else { a < b })`. A change holds the text
//! as it was, without the changes inside it: only one is ever switched on, so the text
//! grows with how deep expressions lie in one another, not by a power of it.

use crate::find::{Form, Found, Site};
use std::collections::HashSet;
use std::ops::Range;

/// A rewritten file.
#[derive(Debug, Default)]
pub struct Rewritten {
    /// Its text.
    pub text: String,
    /// Which bytes of it are there for the sake of which changes.
    pub marks: Vec<(Range<usize>, Vec<usize>)>,
}

/// Rewrites a file; changes are numbered from `first`, and those in `dropped` left out.
pub fn rewrite(source: &str, found: &Found, first: usize, dropped: &HashSet<usize>) -> Rewritten {
    let mut writer = Writer {
        source,
        first,
        dropped,
        out: Rewritten::default(),
    };
    writer.span(0..source.len(), &found.sites);
    writer.out
}

impl Rewritten {
    /// The changes to which an error at these bytes is due: those of the smallest
    /// rewritten place around it.
    pub fn blame(&self, bytes: &Range<usize>) -> &[usize] {
        self.marks
            .iter()
            .filter(|(range, _)| range.start <= bytes.start && bytes.end <= range.end)
            .min_by_key(|(range, _)| range.len())
            .map_or(&[], |(_, changes)| changes)
    }
}

struct Writer<'a> {
    source: &'a str,
    first: usize,
    dropped: &'a HashSet<usize>,
    out: Rewritten,
}

impl Writer<'_> {
    /// Writes a part of the source, with all the places in it.
    fn span(&mut self, bytes: Range<usize>, mut sites: &[Site]) {
        let mut at = bytes.start;
        while let Some((site, rest)) = sites.split_first() {
            // What lies inside this place comes right after it.
            let is_inside = |s: &Site| s.bytes.end <= site.bytes.end && !site.bytes.is_empty();
            let inside = rest.iter().take_while(|s| is_inside(s)).count();
            let (inside, after) = rest.split_at(inside);
            self.copy(at..site.bytes.start);
            self.site(site, inside);
            at = site.bytes.end;
            sites = after;
        }
        self.copy(at..bytes.end);
    }

    fn copy(&mut self, bytes: Range<usize>) {
        self.out.text += self.source.get(bytes).unwrap_or("");
    }

    fn site(&mut self, site: &Site, inside: &[Site]) {
        let begin = self.out.text.len();
        let mut changes = Vec::new();
        match &site.form {
            Form::Switch(others) => {
                let others = self.kept(others);
                if others.is_empty() {
                    return self.span(site.bytes.clone(), inside);
                }
                self.out.text += "(";
                for (change, text) in others {
                    self.choice(*change, text, "else ");
                    changes.push(*change);
                }
                self.out.text += "{ ";
                self.span(site.bytes.clone(), inside);
                self.out.text += " })";
            }
            Form::Start(bodies) => {
                for (change, text) in self.kept(bodies) {
                    self.choice(*change, text, "");
                    changes.push(*change);
                }
            }
            Form::Arm(shut) => {
                if !self.dropped.contains(shut) {
                    self.out.text += &format!(" if !{}", self.on(*shut));
                    changes.push(*shut);
                }
            }
            Form::Guard {
                always,
                never,
                shut,
            } => {
                let is_kept = |change: &&usize| !self.dropped.contains(*change);
                let shut = shut.as_ref().filter(is_kept);
                let is_guarded = is_kept(&always) && is_kept(&never);
                if let Some(shut) = shut {
                    self.out.text += &format!("!{} && ", self.on(*shut));
                    changes.push(*shut);
                }
                if is_guarded {
                    let (always_on, never_on) = (self.on(*always), self.on(*never));
                    self.out.text += &format!("({always_on} || !{never_on} && (");
                    changes.extend([*always, *never]);
                } else {
                    self.out.text += "((";
                }
                self.span(site.bytes.clone(), inside);
                self.out.text += "))";
            }
        }
        self.out.marks.push((begin..self.out.text.len(), changes));
    }

    fn kept<'c>(&self, others: &'c [(usize, String)]) -> Vec<&'c (usize, String)> {
        let is_kept = |(change, _): &&(usize, String)| !self.dropped.contains(change);
        others.iter().filter(is_kept).collect()
    }

    fn choice(&mut self, change: usize, text: &str, then: &str) {
        let on = self.on(change);
        self.out.text += &format!("if {on} {{ ");
        let begin = self.out.text.len();
        self.out.text += text;
        self.out
            .marks
            .push((begin..self.out.text.len(), vec![change]));
        self.out.text += &format!(" }} {then}");
    }

    fn on(&self, change: usize) -> String {
        format!("crate::mutant::on({})", self.first + change)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::find::find;

    fn rewritten(source: &str, dropped: &[usize]) -> Rewritten {
        let found = find(source).expect("Rust");
        rewrite(source, &found, 10, &dropped.iter().copied().collect())
    }

    #[test]
    fn a_change_holds_the_text_as_it_was_and_the_rest_goes_on_being_rewritten() {
        let out = rewritten("fn f() { x(a * b + c) }", &[0]);
        let expected = "fn f() { x((if crate::mutant::on(11) { (a * b) - (c) } else { \
            (if crate::mutant::on(12) { (a) / (b) } else { a * b }) + c })) }";
        assert_eq!(out.text, expected);
    }

    #[test]
    fn arms_and_guards_get_switches() {
        let out = rewritten("fn f() { match a { 1 if g => h, 2 => i, _ => j } }", &[0]);
        let expected = "fn f() { match a { 1 if !crate::mutant::on(11) && \
            (crate::mutant::on(12) || !crate::mutant::on(13) && (g)) => h, \
            2 if !crate::mutant::on(14) => i, _ => j } }";
        assert_eq!(out.text, expected);
    }

    #[test]
    fn with_all_its_changes_dropped_a_file_is_as_it_was() {
        let source = "fn f(a: u8) -> bool { match a { 1 => a < 2 && !b, _ => a.min(3) == 1 } }";
        let all = find(source).expect("Rust").changes.len();
        let out = rewritten(source, &(0..all).collect::<Vec<_>>());
        assert_eq!(out.text, source);
    }

    #[test]
    fn an_error_is_due_to_the_smallest_change_around_it() {
        let out = rewritten("fn f() -> A { x(a + b) }", &[]);
        let at = out.text.find("Default").expect("a body");
        assert_eq!(out.blame(&(at..at + 7)), [0]);
        let at = out.text.find("(a) - (b)").expect("a change");
        assert_eq!(out.blame(&(at..at + 3)), [1]);
        assert_eq!(out.blame(&(0..2)), [] as [usize; 0]);
    }
}
