//! `tellmark open`

use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::shape::Shape;
use super::typed::as_argument;
use clap::Args;
use serde_json::json;
use std::path::PathBuf;
use tellmark_job::house;
use tellmark_job::noting::{Noted, Noting};
use tellmark_job::record::{self, Header, Job};
use tellmark_language::model::{Kind, Model, PieceOrder};
use tellmark_language::near::nearest;
use tellmark_language::words;
use tellmark_language::{Message, Reading};
use tellmark_notes::{bare_name, called, number_word, piece, piece_described};

/// Open a job: a folder for one piece and everything found on it
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark open \"chest of drawers with 4 drawers\"\n  tellmark \
                        open chest of drawers --in jobs --name walnut-chest\n  tellmark open chest \
                        of drawers --owner \"A. Linden, 4 Mill Lane\""
)]
pub struct Open {
    /// What it is, in the words of the rules
    #[arg(required = true, value_name = "PIECE")]
    piece: Vec<String>,
    /// Whose it is; the papers name them
    #[arg(long, value_name = "WORDS", value_parser = owner)]
    owner: Option<String>,
    /// The folder to make the job's folder in
    #[arg(long = "in", value_name = "DIR", default_value = ".")]
    pub(super) parent: PathBuf,
    /// The name of the job's folder [default: the piece and the day]
    #[arg(long, value_name = "NAME")]
    name: Option<String>,
}

impl Open {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let asked = self.piece.join(" ");
        let reading = reading_for(&asked, frame)?;
        let model = &reading.model;
        let (order, described) = piece_described(model, &asked).map_err(|message| {
            if let Some(one) = one_of_several(model, &asked) {
                return Stopped::Misuse(format!(
                    "\"{asked}\" is more than one piece, and a job is about one. Open one for each: \
                     tellmark open {} --name {}-1. Nothing was opened.",
                    as_argument(&one),
                    one.replace(' ', "-")
                ));
            }
            let (head, with) = asked.split_once(" with ").unwrap_or((&asked, ""));
            Stopped::Misuse(match piece_described(model, head) {
                Ok((order, _)) => no_such_count(model, &order, with, &message),
                Err(message) => no_such_piece(model, head, &message),
            })
        })?;
        let said = words::piece_order(model, &order);
        let name = match &self.name {
            Some(name) => name.clone(),
            None => {
                let kind = model.kinds.get(order.kind.index());
                let kind = kind.map_or("piece", |k| k.name.as_str());
                record::folder_name(&self.parent, kind, frame.now.date())
            }
        };
        let mut header = Header::new(&said, frame.now, &house::name(&reading), model.version);
        header.rules = self.rules_folder(&name, frame)?;
        if let Some(called) = called(model, &order, &asked) {
            header.set_called(&called);
        }
        if let Some(owner) = &self.owner {
            header.set_owner(owner);
        }
        let mut job = Job::create(&self.parent, &name, &header)?;
        // What was said of the piece is a note like any other.
        let noted = match described.as_str() {
            "" => None,
            words => {
                let mut noting = Noting::new(model, &job);
                Some(noting.write(&mut job, words, frame.now, &mut |_, _, _| None)?)
            }
        };
        let folder = job.folder();
        let folder = folder.strip_prefix(".").unwrap_or(folder);
        let folder = folder.display().to_string();
        frame.tell(Exit::Fine, |frame| {
            if frame.global.json {
                return frame.print_json(
                    Shape::OPEN,
                    json!({
                        "folder": folder,
                        "piece": said,
                        "described": described,
                        "owner": header.owner(),
                    }),
                );
            }
            let as_what = header
                .called()
                .map_or_else(String::new, |called| format!(", called \"{called}\""));
            writeln!(frame.out, "Opened {folder}: {}{as_what}.", words::a(&said))?;
            let taken = taken_for_granted(model, &order);
            if !taken.is_empty() {
                writeln!(
                    frame.out,
                    "Taken for granted until somebody counts: {}.",
                    words::list(&taken)
                )?;
            }
            if let Some(noted) = &noted {
                tell_noted(frame, model, &described, noted)?;
            }
            if let Some(rules) = &header.rules {
                writeln!(
                    frame.out,
                    "It goes by the rules in {rules}, as its job.txt says."
                )?;
            }
            let folder = as_argument(&folder);
            writeln!(
                frame.out,
                "Note what you find: tellmark note {folder} \"...\""
            )?;
            Ok(())
        })
    }
}

/// Who an owner is, in one line.
fn owner(said: &str) -> Result<String, String> {
    const LONGEST: usize = 120;
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    let is_plain = said.chars().any(char::is_alphanumeric);
    match said.as_str() {
        _ if !is_plain => Err("it names nobody".to_owned()),
        said if said.contains(char::is_control) => {
            Err("it has signs in it that are no letters".to_owned())
        }
        said if said.chars().count() > LONGEST => Err(format!(
            "it is too long for the head of a paper; say it in {LONGEST} letters and spaces"
        )),
        _ => Ok(said),
    }
}

/// Parts of which nobody said how many there are, and that are there by the usual number: "6 small
/// drawers".
fn taken_for_granted(model: &Model, order: &PieceOrder) -> Vec<String> {
    let mut taken = Vec::new();
    let mut owners = vec![order.kind];
    while let Some(owner) = owners.pop() {
        let members = model.kinds.get(owner.index()).map(|kind| &kind.members);
        for member in members.into_iter().flatten() {
            let Some(part) = model.kinds.get(member.kind.index()) else {
                continue;
            };
            // What there is one of has its own; what there are several of is like its fellows.
            if member.least == 1 && member.most == 1 {
                owners.push(member.kind);
            }
            let is_said = order.counts.iter().any(|(kind, _)| *kind == member.kind);
            let is_open = member.least < member.most && member.usual > 1;
            if is_open && !is_said {
                taken.push(format!("{} {}", member.usual, part.plural));
            }
        }
    }
    taken
}

/// The rules as they are read for this piece: what another family calls by the same words is not
/// meant.
fn reading_for(asked: &str, frame: &mut Frame) -> Result<Reading, Stopped> {
    let all = frame.ready_or_warn()?.reading;
    let head = asked.split_once(" with ").map_or(asked, |(head, _)| head);
    let Ok((order, _)) = piece_described(&all.model, head) else {
        return Ok(all);
    };
    if frame.global.families.is_some() {
        return Ok(all);
    }
    let rules = frame.rules()?;
    let families = house::families(rules, &words::piece_order(&all.model, &order))?;
    Ok(house::ready(rules, &families)?.reading)
}

/// That something cannot be counted of a piece, and what can.
fn no_such_count(model: &Model, order: &PieceOrder, with: &str, message: &Message) -> String {
    let Some(kind) = model.kinds.get(order.kind.index()) else {
        return message.said();
    };
    let each = with.split(',').flat_map(|some| some.split(" and "));
    let mut each = each.map(str::trim).filter(|some| !some.is_empty());
    let is_wrong = |some: &&str| piece(model, &format!("{} with {some}", kind.name)).is_err();
    let Some(wrong) = each.find(is_wrong) else {
        return message.said();
    };
    let counted = kind
        .members
        .iter()
        .filter(|member| member.least < member.most);
    let counted: Vec<String> = counted
        .filter_map(|member| {
            let part = model.kinds.get(member.kind.index())?;
            let many = match member.most {
                1 => &part.name,
                _ => &part.plural,
            };
            Some(format!("{} to {} {many}", member.least, member.most))
        })
        .collect();
    let what = match counted.is_empty() {
        true => "Nothing can be counted of it.".to_owned(),
        false => format!("What can be counted of it: {}.", words::list(&counted)),
    };
    format!(
        "\"{wrong}\" is nothing that I can count of a {}. {what} Leave it out, and note it afterwards. \
         Nothing was opened.",
        kind.name,
    )
}

/// Says what became of the words before the name of the piece.
fn tell_noted(frame: &mut Frame, model: &Model, words: &str, noted: &Noted) -> Result<(), Stopped> {
    for fact in noted.found.iter().flat_map(|(_, facts)| facts) {
        let said = words::capital(&words::fact_line(model, fact));
        writeln!(frame.out, "Noted, from \"{words}\": {said}.")?;
    }
    for (_, left) in &noted.left {
        let why = match (&noted.found, left.readings.is_empty()) {
            (_, false) => "it may mean several things",
            (Some(_), true) => "no rule reads all of it",
            (None, true) => "no rule reads it",
        };
        let words = &left.remark.words;
        writeln!(frame.out, "Kept as a remark, since {why}: \"{words}\".")?;
    }
    Ok(())
}

impl Open {
    /// What the job's `job.txt` says of where its rules lie: what was asked for.
    fn rules_folder(&self, name: &str, frame: &Frame) -> Result<Option<String>, Stopped> {
        let Some(asked) = &frame.global.rules else {
            return Ok(None);
        };
        let folder = house::as_seen_from(&self.parent, name, asked);
        match folder.to_str() {
            Some(text) if text.trim() == text && !text.contains(['\r', '\n']) => {
                Ok(Some(text.to_owned()))
            }
            _ => Err(Stopped::Misuse(format!(
                "The name of the folder {} cannot be kept in job.txt: it is no plain text, or \
                 ends with a space. Give it another name. Nothing was opened.",
                asked.display()
            ))),
        }
    }
}

/// The piece of which somebody names several: "6 chairs", "a set of six chairs", "pair of stools".
fn one_of_several(model: &Model, asked: &str) -> Option<String> {
    let mut rest = bare_name(asked);
    let mut is_several = false;
    while let Some((first, after)) = rest.split_once(' ') {
        let first = first.to_lowercase();
        let is_number = first.parse::<u32>().is_ok_and(|number| number > 1);
        let is_word = ["set", "pair", "of", "suite", "harlequin"].contains(&first.as_str());
        if !is_number && !is_word && number_word(&first).is_none_or(|number| number < 2) {
            break;
        }
        is_several = true;
        rest = after.trim_start();
    }
    let (order, _) = piece_described(model, rest).ok().filter(|_| is_several)?;
    Some(words::piece_order(model, &order))
}

/// How alike the names of two pieces are: how many words both have, if they are the same sort of
/// thing, which the last word tells. A piano stool is a stool, and no piano.
fn likeness(asked: &str, name: &str) -> usize {
    let (asked, name) = (asked.to_lowercase(), name.to_lowercase());
    let words = |text| -> Vec<&str> {
        let words = str::split(text, [' ', '-']).filter(|word| !word.is_empty());
        // What comes after is what it has, or what is in it: "chest of drawers".
        let words = words.take_while(|word| !["of", "with", "for", "on"].contains(word));
        words.collect()
    };
    let (asked, name) = (words(&asked), words(&name));
    let (Some(this), Some(that)) = (asked.last(), name.last()) else {
        return 0;
    };
    let is_slip = || nearest(this, [*that]).is_some_and(|near| near.sure());
    // An armchair is a chair.
    let is_sort_of = |one: &str, other: &str| other.len() > 3 && one.ends_with(other);
    if !(is_sort_of(this, that) || is_sort_of(that, this) || is_slip()) {
        return 0;
    }
    1 + name.iter().filter(|word| asked.contains(word)).count()
}

/// The pieces that are known, the nearest first, and what to do for another.
fn no_such_piece(model: &Model, asked: &str, message: &Message) -> String {
    let pieces = model.kinds.iter().skip(1).filter(|kind| kind.is_piece);
    let mut pieces: Vec<&Kind> = pieces.collect();
    let near = |kind: &Kind| {
        let names = kind.also.iter().chain([&kind.name]);
        names
            .map(|name| likeness(asked, name))
            .max()
            .unwrap_or_default()
    };
    pieces.sort_by_key(|kind| std::cmp::Reverse(near(kind)));
    let Some(first) = pieces.first() else {
        return message.said();
    };
    let known: Vec<String> = pieces.iter().map(|kind| kind.name.clone()).collect();
    // A slip in the name of a piece, and not of some part.
    let fix = message.fix.as_ref().map(|fix| fix.replacement.as_str());
    let is_piece = |name: &&str| {
        let mut likely = pieces.iter().filter(|kind| near(kind) > 0);
        likely.any(|kind| kind.name == *name || kind.also.iter().any(|also| also == name))
    };
    let fix = fix.filter(is_piece);
    let fix = fix.map_or_else(String::new, |name| format!(" Did you mean \"{name}\"?"));
    let nearest = match near(first) {
        0 => "one of these that is built like it".to_owned(),
        _ => format!("what is nearest, \"{}\"", first.name),
    };
    let bare = bare_name(asked);
    format!(
        "These rules know no piece \"{asked}\".{fix} They know: {}.\nFor another piece write \
         rules of your own (\"Pieces: {bare}.\"), or open it as {nearest}, and keep the rest as \
         remarks.",
        words::list(&known)
    )
}
