//! Rule files into a model.

use tellmark::language::{self, Level, Reading, SourceFile, Style};

fn files(text: &str) -> Vec<SourceFile> {
    vec![SourceFile {
        name: "mill-lane.rules.txt".to_owned(),
        text: text.to_owned(),
        standard: false,
    }]
}

fn all_messages(reading: &Reading) -> String {
    reading
        .messages
        .iter()
        .map(|m| language::render(m, &reading.files, Style::Plain))
        .collect()
}

const MILL_LANE: &str = include_str!("packs/mill-lane.rules.txt");

#[test]
fn the_whole_example_reads_clean() {
    let reading = language::read(files(MILL_LANE));
    let stops: Vec<_> = reading
        .messages
        .iter()
        .filter(|m| m.level == Level::Stop)
        .collect();
    assert!(stops.is_empty(), "{}", all_messages(&reading));
    println!("{}", all_messages(&reading));
    println!("{:#?}", reading.model);
}
