//! Invoices, credits and payments, as a user types them.

use crate::user::{Ran, User};
use rust_decimal::Decimal;
use serde_json::Value;
use std::fs;
use std::path::PathBuf;

const RECORD: &str = "\
2026-05-04 09:14  runner 1 of drawer 2 is certainly worn 3 mm
2026-05-04 09:15  bottom of drawer 1 is certainly split 2 mm wide
2026-05-04 09:16  the back is rattling
";

/// So much a minute; what is likely has a price of its own; a tax, and carriage.
const PRICES: &str = r##"
fn line(job) {
    let text = job.job + ": " + job.part;
    if job.mean == () { return; }
    if job.certain || job.in_100 >= 95 { return #{ text: text, amount: job.mean * 0.83 }; }
    if job.in_100 >= 40 { return #{ text: text, amount: job.most * 0.83, provisional: true }; }
}
fn terms(work) {
    #{ currency: "marks", lines: [#{ text: "carriage", amount: 30 }] }
}
fn invoice(work) {
    #{
        by: "BY",
        taxes: [#{ text: "works tax", percent: 17.5 }],
        days_to_pay: 14,
        how_to_pay: ["By transfer to the bench."],
    }
}
"##;

/// A workshop with two jobs, "chest" and "other", charging in this way.
fn workshop(by: &str) -> User {
    let header = "job folder: 1\npiece: chest of drawers with 3 drawers\n";
    let user = User::with_chest(header, RECORD);
    user.make("other");
    user.write("other/job.txt", header);
    user.write("other/record.txt", RECORD);
    user.make("ours");
    user.write("ours/prices.rhai", PRICES.replace("BY", by));
    user
}

fn run(user: &User, arguments: &[&str]) -> Ran {
    user.run(&[arguments, &["--rules", "ours"]].concat())
}

/// Ticks a job out of its order, which is said.
fn ticks(user: &User, arguments: &[&str]) {
    let ran = run(user, arguments);
    assert_eq!(ran.code, Some(0), "{}", ran.all());
    assert!(ran.err.starts_with("It was to come after"), "{}", ran.err);
}

fn works(user: &User, arguments: &[&str]) -> String {
    user.works(&[arguments, &["--rules", "ours"]].concat())
}

fn data(user: &User, arguments: &[&str]) -> Value {
    serde_json::from_str(&works(user, &[arguments, &["--json"]].concat())).expect("JSON")
}

fn sum(value: &Value) -> Decimal {
    value.as_str().expect("a text").parse().expect("an amount")
}

/// An estimate that was agreed to, and some of it done.
fn agreed(user: &User, job: &str) {
    works(user, &["quote", job, "--keep"]);
    works(user, &["brief", job, "--agreed", "estimate 1"]);
    works(user, &["done", job, "refix the back", "--took", "2 h"]);
    ticks(
        user,
        &[
            "done",
            job,
            "let in a fillet",
            "--part",
            "bottom of drawer 1",
            "--took",
            "70 min",
            "--anyway",
        ],
    );
}

/// A little more is done.
fn clear_drawer(user: &User, job: &str) {
    let part = ["--part", "drawer 1", "--took", "10 min"];
    ticks(
        user,
        &[&["done", job, "clear the drawer", "--anyway"], &part[..]].concat(),
    );
}

/// The sums of an invoice add up as they are read.
fn adds_up(invoice: &Value) {
    let all = |list: &str| -> Decimal {
        let list = invoice[list].as_array().expect("a list");
        list.iter().map(|line| sum(&line["amount"])).sum()
    };
    assert_eq!(all("lines"), sum(&invoice["net"]));
    assert_eq!(all("lines") + all("taxes"), sum(&invoice["total"]));
    assert_eq!(
        sum(&invoice["paid"]) + sum(&invoice["to_pay"]),
        sum(&invoice["total"])
    );
    for sums in ["net", "total", "paid", "to_pay", "too_much"] {
        assert!(!sum(&invoice[sums]).is_sign_negative(), "{invoice}");
    }
}

fn texts(invoice: &Value) -> Vec<String> {
    let lines = invoice["lines"].as_array().expect("a list");
    let text = |line: &Value| line["text"].as_str().expect("a text").to_owned();
    lines.iter().map(text).collect()
}

#[test]
fn papers_name_the_workshop_and_the_owner() {
    let user = workshop("agreed");
    let header = "job folder: 1\npiece: chest of drawers with 3 drawers\nowner: A. Linden\n";
    user.write("chest/job.txt", header);
    user.write(
        "ours/workshop.txt",
        "name: Elm Yard\ntrade: furniture mended\naddress: 3 Mill Lane\n",
    );
    let both = "from: Elm Yard, furniture mended; 3 Mill Lane\nowner: A. Linden\n";
    let shown = works(&user, &["quote", "chest"]);
    let said = "\nFrom: Elm Yard, furniture mended; 3 Mill Lane\nOwner: A. Linden\n";
    assert!(shown.contains(said), "{shown}");
    agreed(&user, "chest");
    assert!(user.text("chest/papers/estimate-1.txt").contains(both));
    let written = works(&user, &["invoice", "chest", "--keep"]);
    assert!(written.contains(said), "{written}");
    let papers = fs::read_dir(user.path("chest/papers")).expect("papers");
    let mut papers = papers.flatten().map(|entry| entry.path());
    let is_invoice = |path: &PathBuf| path.to_string_lossy().contains("invoice");
    let invoice = papers.find(is_invoice).expect("an invoice");
    let text = fs::read_to_string(invoice).expect("read");
    assert!(text.contains(both), "{text}");
    // Where nobody says either, nothing stands in their place.
    agreed(&user, "other");
    fs::remove_file(user.path("ours/workshop.txt")).expect("removed");
    works(&user, &["quote", "other", "--keep"]);
    let bare = user.text("other/papers/estimate-2.txt");
    assert!(
        !bare.contains("from:") && !bare.contains("owner:"),
        "{bare}"
    );
}

/// An invoice that goes past the owner's limit says so, with the tax that they pay.
#[test]
fn an_invoice_past_the_owner_s_limit_says_so() {
    let user = workshop("agreed");
    agreed(&user, "chest");
    let shown = data(&user, &["invoice", "chest"]);
    let total = sum(&shown["invoice"]["total"]);
    works(
        &user,
        &["brief", "chest", "--limit", &format!("{total} marks")],
    );
    let ran = run(&user, &["invoice", "chest"]);
    assert!(ran.err.is_empty(), "{}", ran.err);
    let less = total - Decimal::from(10);
    works(
        &user,
        &["brief", "chest", "--limit", &format!("{less} marks")],
    );
    let ran = run(&user, &["invoice", "chest"]);
    assert_eq!(ran.code, Some(0), "{}", ran.all());
    let said = format!("which is 10.00 more than the owner's limit of {less}");
    assert!(ran.err.contains(&said), "{}", ran.err);
}

#[test]
fn the_owner_is_said_when_a_job_is_opened() {
    let user = User::new();
    let owner = ["--owner", "A. Linden,\n4 Mill Lane"];
    user.works(&[&["open", "chest of drawers", "--name", "new"], &owner[..]].concat());
    assert!(
        user.text("new/job.txt")
            .ends_with("owner: A. Linden, 4 Mill Lane\n")
    );
    let listed = user.works(&["jobs"]);
    assert!(listed.contains(", of A. Linden, 4 Mill Lane"), "{listed}");
    let nobody = user.run(&["open", "chest of drawers", "--owner", " "]);
    assert_eq!(nobody.code, Some(2), "{}", nobody.all());
}

#[test]
fn what_was_agreed_is_charged_for_what_was_done() {
    let user = workshop("agreed");
    agreed(&user, "chest");
    let shown = data(&user, &["invoice", "chest"]);
    let invoice = &shown["invoice"];
    adds_up(invoice);
    let lines = texts(invoice);
    let paper = user.text("chest/papers/estimate-1.txt");
    for line in &lines {
        assert!(
            line.contains("agreed up to") || paper.contains(&format!("; {line}\n")),
            "{line} in {paper}"
        );
    }
    assert!(lines.contains(&"carriage".to_owned()));
    assert!(lines.iter().any(|line| line.starts_with("let in a fillet")));
    // Agreed at a fixed price, and nobody did it.
    let not = shown["not_charged"].to_string();
    assert!(
        not.contains("and not ticked: ") && not.contains("renew the running edges"),
        "{not}"
    );
    // A tax on the sum, to the hundredth, halves up.
    let tax = (sum(&invoice["net"]) * Decimal::new(175, 3))
        .round_dp_with_strategy(2, rust_decimal::RoundingStrategy::MidpointAwayFromZero);
    assert_eq!(sum(&invoice["taxes"][0]["amount"]), tax);
    // Nothing was written.
    assert!(!user.path("invoices.txt").exists());
}

#[test]
fn hours_that_were_ticked_are_charged_where_the_house_says_so() {
    let user = workshop("hours");
    works(&user, &["done", "chest", "refix the back", "--took", "2 h"]);
    ticks(
        &user,
        &[
            "done",
            "chest",
            "clear the drawer",
            "--part",
            "drawer 1",
            "--anyway",
        ],
    );
    let shown = data(&user, &["invoice", "chest"]);
    adds_up(&shown["invoice"]);
    // 120 minutes at 0.83, and carriage.
    assert_eq!(shown["invoice"]["lines"][0]["amount"], "99.60");
    assert_eq!(shown["invoice"]["net"], "129.60");
    assert_eq!(shown["invoice"]["total"], "152.28");
    let not = shown["not_charged"].to_string();
    assert!(
        not.contains("Nobody said what it took to clear the drawer: drawer 1"),
        "{not}"
    );
}

#[test]
fn deposits_are_taken_off_and_what_is_too_much_is_said() {
    let user = workshop("agreed");
    agreed(&user, "chest");
    let whole = sum(&data(&user, &["invoice", "chest"])["invoice"]["total"]);
    works(&user, &["paid", "chest", "50", "--how", "by transfer"]);
    works(&user, &["paid", "chest", "10.00 marks", "--back"]);
    let invoice = &data(&user, &["invoice", "chest"])["invoice"];
    assert_eq!(sum(&invoice["paid"]), Decimal::from(40));
    adds_up(invoice);
    works(&user, &["paid", "chest", "1,000.00"]);
    let invoice = &data(&user, &["invoice", "chest"])["invoice"];
    assert_eq!(sum(&invoice["to_pay"]), Decimal::ZERO);
    assert_eq!(sum(&invoice["too_much"]), Decimal::from(1040) - whole);
    adds_up(invoice);
    let told = works(&user, &["invoice", "chest"]);
    assert!(
        told.contains("paid over and above, and are the owner's"),
        "{told}"
    );
    for (sum, said) in [
        ("0", "as a sum of money"),
        ("-5", "as a sum of money"),
        ("12,50", "as a sum of money"),
        ("12 crowns", "is other money"),
    ] {
        let ran = user.run(&["paid", "chest", "--rules", "ours", "--", sum]);
        assert_eq!(ran.code, Some(2), "{sum}: {}", ran.err);
        assert!(ran.err.contains(said) || sum == "-5", "{}", ran.err);
    }
}

#[test]
fn numbers_run_over_all_jobs_of_a_folder_and_a_credit_takes_one() {
    let user = workshop("agreed");
    agreed(&user, "chest");
    agreed(&user, "other");
    let year = data(&user, &["invoice", "chest"])["invoice"]["written"].to_string();
    let year = year.get(1..5).expect("a year").to_owned();
    let told = works(&user, &["invoice", "chest", "--keep"]);
    assert!(
        told.contains(&format!("Invoice {year}-001 is written")),
        "{told}"
    );
    assert!(told.contains("The numbers begin here"), "{told}");
    let first = user.text(&format!("chest/papers/invoice-{year}-001.txt"));
    works(&user, &["invoice", "other", "--keep"]);
    // What was charged is not charged again.
    let ran = run(&user, &["invoice", "chest", "--keep"]);
    assert_eq!(ran.code, Some(1));
    assert!(
        ran.err.contains("Nothing that is done is to be charged"),
        "{}",
        ran.err
    );
    let number = format!("{year}-001");
    let told = works(
        &user,
        &[
            "invoice",
            "chest",
            "--credit",
            &number,
            "--because",
            "a slip",
        ],
    );
    assert!(
        told.contains(&format!("Credit {year}-003 is written")),
        "{told}"
    );
    let ran = run(&user, &["invoice", "chest", "--credit", &number]);
    assert_eq!(ran.code, Some(2));
    assert!(ran.err.contains("was taken back before"), "{}", ran.err);
    // And now it can be, under a number of its own.
    let told = works(&user, &["invoice", "chest", "--keep"]);
    assert!(
        told.contains(&format!("Invoice {year}-004 is written")),
        "{told}"
    );
    assert_eq!(
        first,
        user.text(&format!("chest/papers/invoice-{year}-001.txt"))
    );
    let written = user.text("invoices.txt");
    let written: Vec<&str> = written.lines().filter(|l| l.ends_with("written")).collect();
    assert_eq!(written.len(), 4, "{written:?}");
}

#[test]
fn several_at_once_leave_no_gap() {
    let user = workshop("hours");
    for n in 0..6 {
        let job = format!("job{n}");
        user.make(&job);
        user.write(&format!("{job}/job.txt"), user.text("chest/job.txt"));
        user.write(
            &format!("{job}/record.txt"),
            format!("{RECORD}2026-05-05 10:00  done: refix the back; the back; 2 hours\n"),
        );
    }
    works(&user, &["invoice", "job0"]);
    let running: Vec<_> = (0..6)
        .map(|n| {
            let job = format!("job{n}");
            let mut command = user.command(&["invoice", &job, "--keep", "--rules", "ours"]);
            command.stdout(std::process::Stdio::null());
            command.spawn().expect("it runs")
        })
        .collect();
    for mut one in running {
        assert!(one.wait().expect("it ends").success());
    }
    let mut numbers: Vec<String> = (0..6)
        .flat_map(|n| fs::read_dir(user.path(&format!("job{n}/papers"))).expect("read"))
        .map(|entry| {
            entry
                .expect("read")
                .file_name()
                .into_string()
                .expect("text")
        })
        .collect();
    numbers.sort();
    let ends: Vec<&str> = numbers
        .iter()
        .map(|name| name.get(name.len() - 7..name.len() - 4).expect("a number"))
        .collect();
    assert_eq!(ends, ["001", "002", "003", "004", "005", "006"]);
}

/// A program that was stopped after it had begun a number: whoever comes next finds out.
#[test]
fn a_number_that_was_begun_is_written_or_free() {
    let user = workshop("hours");
    for job in ["chest", "other"] {
        works(&user, &["done", job, "refix the back", "--took", "2 h"]);
    }
    works(&user, &["invoice", "chest", "--keep"]);
    let series = user.text("invoices.txt");
    let until_begun = series.rsplit_once('\n').expect("lines").0;
    let until_begun = until_begun.rsplit_once('\n').expect("lines").0;
    assert!(until_begun.contains("begun"), "{until_begun}");
    let paper = fs::read_dir(user.path("chest/papers"))
        .expect("read")
        .next();
    let paper = paper.expect("one").expect("read").path();
    let text = fs::read(&paper).expect("read");
    // It is on the disk and its line is not: the number was used.
    user.write("invoices.txt", format!("{until_begun}\n"));
    let record = user.text("chest/record.txt");
    let (before, _) = record.trim_end().rsplit_once('\n').expect("lines");
    user.write("chest/record.txt", format!("{before}\n"));
    let told = works(&user, &["invoice", "other", "--keep"]);
    assert!(told.contains("-002 is written"), "{told}");
    assert!(user.text("chest/record.txt").contains("  invoice: "));
    // It never came to the disk: the number is free, and the next has it.
    fs::remove_file(&paper).expect("removed");
    user.write("chest/record.txt", format!("{before}\n"));
    fs::remove_dir_all(user.path("other/papers")).expect("removed");
    let other = user.text("other/record.txt");
    let (other, _) = other.trim_end().rsplit_once('\n').expect("lines");
    user.write("other/record.txt", format!("{other}\n"));
    user.write("invoices.txt", format!("{until_begun}\n"));
    let told = works(&user, &["invoice", "other", "--keep"]);
    assert!(told.contains("-001 is written"), "{told}");
    assert!(user.text("invoices.txt").contains("; not used\n"));
    // Where the job is not there, nobody can tell.
    clear_drawer(&user, "other");
    fs::write(&paper, text).expect("written");
    user.write("invoices.txt", format!("{until_begun}\n"));
    fs::rename(user.path("chest"), user.path("gone")).expect("renamed");
    let ran = run(&user, &["invoice", "other", "--keep"]);
    assert_eq!(ran.code, Some(2));
    assert!(ran.err.contains("which is not there"), "{}", ran.err);
}

#[test]
fn a_series_that_was_lost_or_altered_gives_no_number() {
    let user = workshop("hours");
    works(&user, &["done", "chest", "refix the back", "--took", "1 h"]);
    works(&user, &["invoice", "chest", "--keep"]);
    clear_drawer(&user, "chest");
    let series = user.text("invoices.txt");
    fs::remove_file(user.path("invoices.txt")).expect("removed");
    let ran = run(&user, &["invoice", "chest", "--keep"]);
    assert_eq!(ran.code, Some(2));
    assert!(
        ran.err.contains("does not name it, so I give no number"),
        "{}",
        ran.err
    );
    user.write("invoices.txt", series.replace("written\n", "writen\n"));
    let ran = run(&user, &["invoice", "chest", "--keep"]);
    assert_eq!(ran.code, Some(2));
    assert!(ran.err.contains("is not as I wrote it"), "{}", ran.err);
    user.write("invoices.txt", series);
    let told = works(&user, &["invoice", "chest", "--keep"]);
    // Carriage was charged once.
    assert!(
        told.contains("-002 is written") && !told.contains("carriage"),
        "{told}"
    );
}

#[test]
fn more_than_was_agreed_is_written_in_no_invoice() {
    let user = workshop("hours");
    works(&user, &["quote", "chest", "--keep"]);
    works(
        &user,
        &["brief", "chest", "--agreed", "estimate 1", "--up-to", "100"],
    );
    works(&user, &["done", "chest", "refix the back", "--took", "4 h"]);
    let ran = run(&user, &["invoice", "chest"]);
    assert_eq!(ran.code, Some(1), "{}", ran.out);
    assert!(
        ran.out
            .contains("Over what was agreed: 129.20 marks more than 100.00"),
        "{}",
        ran.out
    );
    let ran = run(&user, &["invoice", "chest", "--keep"]);
    assert_eq!(ran.code, Some(2));
    assert!(
        ran.err.contains("more than the owner agreed to"),
        "{}",
        ran.err
    );
    assert!(!user.path("invoices.txt").exists());
}

#[test]
fn without_an_answer_or_a_list_there_is_no_invoice() {
    let user = workshop("agreed");
    works(&user, &["done", "chest", "refix the back", "--took", "4 h"]);
    let ran = run(&user, &["invoice", "chest"]);
    assert_eq!(ran.code, Some(2));
    assert!(
        ran.err.contains("the owner has said yes to no paper"),
        "{}",
        ran.err
    );
    let ran = user.run(&["invoice", "chest", "--keep"]);
    assert_eq!(ran.code, Some(2));
    assert!(ran.err.contains("These prices are invented"), "{}", ran.err);
    user.write("ours/prices.rhai", PRICES.replace("\"BY\"", "\"barter\""));
    let ran = run(&user, &["invoice", "chest"]);
    assert_eq!(ran.code, Some(2));
    assert!(ran.err.contains("\"agreed\" or \"hours\""), "{}", ran.err);
}

#[test]
fn what_several_charge_at_once_is_charged_once() {
    let user = workshop("agreed");
    agreed(&user, "chest");
    let keep = || run(&user, &["invoice", "chest", "--keep"]).code;
    let codes: Vec<Option<i32>> = std::thread::scope(|scope| {
        let all: Vec<_> = (0..6).map(|_| scope.spawn(keep)).collect();
        let all = all.into_iter();
        all.map(|one| one.join().expect("it runs")).collect()
    });
    let kept = codes.iter().filter(|code| **code == Some(0)).count();
    assert_eq!(kept, 1, "{codes:?}");
    let record = user.text("chest/record.txt");
    let invoices = record.lines().filter(|line| line.contains("  invoice: "));
    assert_eq!(invoices.count(), 1, "{record}");
}

#[test]
fn an_invoice_that_lost_its_line_is_put_on_record_before_another_is_made() {
    let user = workshop("agreed");
    agreed(&user, "chest");
    works(&user, &["invoice", "chest", "--keep"]);
    let record = user.text("chest/record.txt");
    let without = record.trim_end().rsplit_once('\n').expect("lines").0;
    user.write("chest/record.txt", format!("{without}\n"));
    let again = run(&user, &["invoice", "chest", "--keep"]);
    assert_ne!(again.code, Some(0), "{}", again.all());
    let record = user.text("chest/record.txt");
    assert_eq!(record.matches("  invoice: ").count(), 1, "{record}");
    let nothing = run(&user, &["invoice", "chest", "--keep"]);
    assert_ne!(nothing.code, Some(0), "{}", nothing.all());
}

/// Takes a tick back, and says that it took.
fn undo(user: &User, job: &str) {
    works(user, &["done", job, "refix the back", "--undo"]);
}

#[test]
fn what_is_taken_back_after_an_invoice_is_not_charged_anew_beside_it() {
    for by in ["hours", "agreed"] {
        let user = workshop(by);
        if by == "agreed" {
            works(&user, &["quote", "chest", "--keep"]);
            works(&user, &["brief", "chest", "--agreed", "estimate 1"]);
        }
        works(&user, &["done", "chest", "refix the back", "--took", "2 h"]);
        works(&user, &["invoice", "chest", "--keep"]);
        undo(&user, "chest");
        works(&user, &["done", "chest", "refix the back", "--took", "3 h"]);
        let ran = run(&user, &["invoice", "chest", "--keep"]);
        assert_eq!(ran.code, Some(2), "{by}: {}", ran.all());
        let advice = ran.err.split("tellmark ").nth(1).expect("a way out");
        let advice = advice
            .split(')')
            .next()
            .expect("its end")
            .replace("JOB", "chest");
        works(&user, &advice.split(' ').collect::<Vec<_>>());
        let told = works(&user, &["invoice", "chest", "--keep"]);
        assert!(told.contains("-003 is written"), "{by}: {told}");
    }
}

#[test]
fn a_job_of_a_later_paper_is_charged_once() {
    let user = workshop("agreed");
    agreed(&user, "chest");
    user.write(
        "ours/prices.rhai",
        PRICES.replace("BY", "agreed").replace("0.83", "1.66"),
    );
    works(&user, &["quote", "chest", "--supplement", "--keep"]);
    works(&user, &["brief", "chest", "--agreed", "supplement 2"]);
    let invoice = data(&user, &["invoice", "chest"])["invoice"].clone();
    let of_job = |line: &&String| line.starts_with("refix the back");
    assert_eq!(
        texts(&invoice).iter().filter(of_job).count(),
        1,
        "{invoice}"
    );
}

#[test]
fn a_number_is_neither_given_again_nor_taken_back_by_a_copy() {
    let user = workshop("hours");
    works(&user, &["done", "chest", "refix the back", "--took", "1 h"]);
    works(&user, &["done", "other", "refix the back", "--took", "1 h"]);
    works(&user, &["invoice", "chest", "--keep"]);
    let series = user.text("invoices.txt");
    fs::remove_file(user.path("invoices.txt")).expect("removed");
    let ran = run(&user, &["invoice", "other", "--keep"]);
    assert_eq!(ran.code, Some(2), "{}", ran.all());
    assert!(ran.err.contains("does not name it"), "{}", ran.err);
    user.write("invoices.txt", series);
    let copied = std::process::Command::new("cp")
        .args(["-r", "chest", "copy"])
        .current_dir(user.path("."))
        .status();
    assert!(copied.expect("it runs").success());
    let record = user.text("copy/record.txt");
    let number = record.split("invoice: ").nth(1).expect("an invoice");
    let number = number.split(';').next().expect("its number").to_owned();
    let ran = run(&user, &["invoice", "copy", "--credit", &number]);
    assert_eq!(ran.code, Some(2), "{}", ran.all());
    assert!(ran.err.contains("of the job chest"), "{}", ran.err);
    works(&user, &["invoice", "chest", "--credit", &number]);
}

#[test]
fn a_payment_has_no_thousandths() {
    let user = workshop("hours");
    for sum in ["0.001", "1.234"] {
        let ran = user.run(&["paid", "chest", sum]);
        assert_eq!(ran.code, Some(2), "{sum}: {}", ran.all());
    }
    user.works(&["paid", "chest", "1.23"]);
}

/// What was invoiced, paid and is left stands wherever somebody would look for it.
#[test]
fn what_is_left_to_pay_is_said_on_the_shelf_and_in_the_letter() {
    let user = workshop("agreed");
    let nothing = works(&user, &["paid", "chest"]);
    assert_eq!(nothing, "Nothing was invoiced or paid yet.\n");
    agreed(&user, "chest");
    let deposit = works(&user, &["paid", "chest", "20"]);
    let said = "20.00 marks paid, nothing invoiced yet.\n";
    assert!(deposit.ends_with(said), "{deposit}");
    let invoice = data(&user, &["invoice", "chest", "--keep"]);
    let total = sum(&invoice["paper"]["total"]);
    let account = data(&user, &["paid", "chest"]);
    assert_eq!(sum(&account["account"]["invoiced"]), total);
    let left = total - Decimal::from(20);
    let said = format!("{total} marks invoiced, 20.00 paid, {left} left to pay");
    assert_eq!(works(&user, &["paid", "chest"]), format!("{said}.\n"));
    assert!(works(&user, &["jobs"]).contains(&said));
    let letter = data(&user, &["report", "chest"])["letter"]["account"].clone();
    assert_eq!(letter, format!("{said}."));
    // An invoice that was altered is no ground for a figure, and that is said.
    let papers = fs::read_dir(user.path("chest/papers")).expect("papers");
    let names = papers.map(|entry| entry.expect("a paper").file_name());
    let mut names = names.map(|name| name.to_string_lossy().into_owned());
    let name = names.find(|name| name.starts_with("invoice-"));
    let path = format!("chest/papers/{}", name.expect("an invoice"));
    let paper = user.text(&path);
    user.write(&path, paper.replace("to pay", "to  pay"));
    let jobs = run(&user, &["jobs"]);
    assert!(
        jobs.out.contains("What is left to pay cannot be said: "),
        "{}",
        jobs.all()
    );
    let report = run(&user, &["report", "chest", "--json"]);
    assert!(
        report.err.contains("is not in the letter"),
        "{}",
        report.all()
    );
    assert_eq!(report.json()["letter"]["account"], "");
    user.write(&path, paper);
    let rest = works(&user, &["paid", "chest", &left.to_string()]);
    assert!(rest.contains("marks invoiced, all of it paid."), "{rest}");
    let more = works(&user, &["paid", "chest", "5"]);
    assert!(more.contains("5.00 of it the owner's."), "{more}");
    let letter = data(&user, &["report", "chest"])["letter"]["account"].to_string();
    assert!(letter.contains("5.00 of it yours."), "{letter}");
}

/// An owner is not told less than what they will pay.
#[test]
fn tax_is_in_the_letter_and_in_what_a_limit_is_compared_with() {
    let user = workshop("agreed");
    user.works(&["brief", "chest", "--limit", "10 hours"]);
    user.works(&["brief", "chest", "--limit", "150 marks"]);
    let report = data(&user, &["report", "chest"]);
    let quotation = &report["price"]["quotation"];
    let fixed = sum(&quotation["fixed_total"]);
    let tax = (fixed * Decimal::new(175, 3))
        .round_dp_with_strategy(2, rust_decimal::RoundingStrategy::MidpointAwayFromZero);
    assert_eq!(sum(&quotation["fixed_with_taxes"]), fixed + tax);
    assert_eq!(quotation["taxes"], "works tax");
    let lead = report["letter"]["lead"].to_string();
    let said = format!(
        "comes to {fixed} marks ({} marks with works tax)",
        fixed + tax
    );
    assert!(lead.contains(&said), "{lead}");
    let limits = report["letter"]["limits"].to_string();
    let said = format!(
        "limit of 150 marks: what is fixed comes to {} marks with works tax",
        fixed + tax
    );
    assert!(limits.contains(&said), "{limits}");
    assert!(
        limits.contains("limit of 10 hours as planned: what is planned takes"),
        "{limits}"
    );
    let quote = works(&user, &["quote", "chest"]);
    assert!(quote.replace("\n    ", " ").contains(&said), "{quote}");
    let plan = works(&user, &["plan", "chest"]);
    assert!(plan.contains("the owner's limit: 150 marks"), "{plan}");
}

#[test]
fn a_limit_says_which_side_of_it_the_work_is() {
    let user = workshop("agreed");
    for (limit, side) in [
        ("1 hour", "over"),
        ("400 hours", "within"),
        ("20 marks", "over"),
        ("9,000 marks", "within"),
    ] {
        user.works(&["brief", "chest", "--limit", limit]);
        let quote = data(&user, &["quote", "chest"]);
        let limits = quote["limits"].as_array().expect("a list");
        let found = limits.iter().find(|l| l["limit"] == limit);
        let found = found.unwrap_or_else(|| panic!("{limit} in {limits:?}"));
        assert_eq!(found["is_over"], side == "over", "{limit}");
    }
    // Other money is compared with nothing.
    user.works(&["brief", "chest", "--limit", "500 shillings"]);
    let quote = data(&user, &["quote", "chest"]);
    let limits = quote["limits"].as_array().expect("a list");
    let found = limits.iter().find(|l| l["limit"] == "500 shillings");
    assert!(found.is_some_and(|l| l["is_over"].is_null()), "{limits:?}");
}
