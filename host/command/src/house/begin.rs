//! `tellmark house begin`: the files of a new house, to be filled in.

use super::super::exit::{Exit, Stopped};
use super::super::frame::Frame;
use super::super::shape::Shape;
use super::super::typed::as_path;
use serde_json::json;
use std::fs;
use std::path::Path;
use tellmark_job::house::{is_name_of_a_house, prices_to_fill_in};
use tellmark_job::plain::write_whole;
use tellmark_language::words::list;

/// What stands in the file of rules, below its title.
const RULES: &str = "
# Your own rules stand here, each a sentence. The standard ones go on beside them.
# \"tellmark read\" lists those, and the guide says how a sentence is written. Two to begin with:
#
# Take care when a piece shows green paint: \"Ask at the bench before you touch it.\"  From: house
# When a drawer is stiff then plan to wax the runners.  From: house
#
# \"tellmark check --rules THIS-FOLDER\" says whether they are understood.
";

/// What a price list is given, and what it gives back.
const SCRIPTS: &str = include_str!("../../../../rules/SCRIPTS.md");

/// The head of the papers.
const WORKSHOP: &str = "\
# What stands at the head of your papers. A label without a text leaves that line out.
name:
trade:
address:
telephone:
email:
note:
";

/// The head of the papers, with the name of the house if it was given one.
fn workshop(name: &str) -> String {
    let named = match name == super::NO_NAME {
        true => String::new(),
        false => format!(" {name}"),
    };
    WORKSHOP.replacen("name:", &format!("name:{named}"), 1)
}

/// Writes the files that the folder lacks; what is there stays as it is.
pub(super) fn begin(folder: &Path, name: &str, frame: &mut Frame) -> Result<Exit, Stopped> {
    let title = format!("House rules for {name}, version 1.\n");
    if !is_name_of_a_house(name) {
        return Err(Stopped::Misuse(format!(
            "\"{name}\" will not do as the name of a house: a few plain words would, such as \"the \
             bench at Mill Lane\". Nothing was written."
        )));
    }
    fs::create_dir_all(folder).map_err(|why| cannot(folder, &why))?;
    let files = [
        ("house.rules.txt", format!("{title}{RULES}")),
        ("prices.rhai", prices_to_fill_in()),
        ("workshop.txt", workshop(name)),
        ("SCRIPTS.md", SCRIPTS.to_owned()),
    ];
    let (mut written, mut kept) = (Vec::new(), Vec::new());
    for (file, text) in &files {
        let path = folder.join(file);
        // A link to nowhere is there as well.
        if fs::symlink_metadata(&path).is_ok() {
            kept.push(*file);
            continue;
        }
        write_whole(&path, text.as_bytes()).map_err(|why| cannot(&path, &why))?;
        written.push(*file);
    }
    frame.tell(Exit::Fine, |frame| {
        if frame.global.json {
            return frame.print_json(
                Shape::HOUSE_BEGUN,
                json!({
                    "folder": folder.display().to_string(),
                    "written": written,
                    "kept": kept,
                }),
            );
        }
        let said = |files: &[&str]| {
            let files: Vec<String> = files.iter().map(|file| (*file).to_owned()).collect();
            list(&files)
        };
        if written.is_empty() {
            writeln!(frame.out, "All of it is there already: {}.", said(&kept))?;
            return Ok(());
        }
        let there = as_path(folder);
        writeln!(frame.out, "Written into {there}: {}.", said(&written))?;
        if !kept.is_empty() {
            writeln!(
                frame.out,
                "There already, and left as it is: {}.",
                said(&kept)
            )?;
        }
        writeln!(
            frame.out,
            "Put your own figures into prices.rhai, and your name and address into workshop.txt: \
             they stand on your papers.\nTo go by this house from now on:\n  tellmark house set \
             {there}"
        )?;
        Ok(())
    })
}

fn cannot(path: &Path, why: &std::io::Error) -> Stopped {
    Stopped::Disk(format!("{} cannot be written: {why}.", path.display()))
}
