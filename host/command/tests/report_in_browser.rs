//! The report's page in a real browser, where there is one: nothing sticks out at any
//! width, nothing is asked of a network, and the browser has nothing to complain of.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use tempfile::TempDir;

const BROWSERS: [&str; 3] = ["chromium", "chromium-browser", "google-chrome"];

fn browser() -> Option<&'static str> {
    let found = BROWSERS
        .into_iter()
        .find(|name| Command::new(name).arg("--version").output().is_ok());
    if found.is_none() {
        eprintln!(
            "skipped: there is none of these browsers here: {}",
            BROWSERS.join(", ")
        );
    }
    found
}

fn look(browser: &str, arguments: &[&str], page: &Path) -> Output {
    let profile = tempfile::tempdir().expect("a temporary folder");
    let output = Command::new(browser)
        .args([
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            "--enable-logging=stderr",
            "--virtual-time-budget=10000",
        ])
        .arg(format!("--user-data-dir={}", profile.path().display()))
        .args(arguments)
        .arg(format!("file://{}", page.display()))
        .output()
        .expect("the browser runs");
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    output
}

/// A report of the demonstration job, with words that are too long for any line.
fn report() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/jobs/landing-chest");
    let job = folder.path().join("chest");
    fs::create_dir(&job).expect("made");
    let long = "w".repeat(600);
    for (name, more) in [
        ("job.txt", format!("owner: {long}\n{long}: {long}\n")),
        (
            "record.txt",
            format!(
                "2026-11-25 10:00  wish: {long}\n2026-11-25 10:01  leave: the top; {long}\n\
                 2026-11-25 10:02  agreed: {long}; ; {long}\n2026-11-25 10:03  {long}\n\
                 2026-11-25 10:04  done: {long}\n2026-11-25 10:05  photo: {long}.jpg; ; after; {long}\n"
            ),
        ),
    ] {
        let text = fs::read_to_string(from.join(name)).expect("there");
        fs::write(job.join(name), text + more.as_str()).expect("written");
    }
    let page = folder.path().join("report.html");
    let ran = Command::new(env!("CARGO_BIN_EXE_tellmark"))
        .args(["report", "chest", "--out", "report.html"])
        .current_dir(folder.path())
        .env(
            "XDG_CACHE_HOME",
            Path::new(env!("CARGO_TARGET_TMPDIR")).join("cache"),
        )
        .env("XDG_CONFIG_HOME", folder.path().join("config"))
        .env_remove("TELLMARK_RULES")
        .env("TZ", "UTC")
        .output()
        .expect("it runs");
    // The record has a line that no rule knows, and a page to say so.
    assert_eq!(
        ran.status.code(),
        Some(1),
        "{}",
        String::from_utf8_lossy(&ran.stderr)
    );
    (folder, page)
}

/// The page keeps itself to itself by its own policy, and a browser says on its console
/// what it was kept from.
#[test]
fn a_browser_has_nothing_to_complain_of() {
    let Some(browser) = browser() else { return };
    let (_folder, page) = report();
    let output = look(browser, &["--dump-dom"], &page);
    let said = String::from_utf8_lossy(&output.stderr);
    let complaints: Vec<&str> = said
        .lines()
        .filter(|line| line.contains("CONSOLE"))
        .collect();
    assert_eq!(complaints, [""; 0]);
    assert!(String::from_utf8_lossy(&output.stdout).contains("id=\"condition\""));

    // That it would say so.
    let html = fs::read_to_string(&page).expect("there");
    let outside = html.replace("</body>", "<img src=\"http://127.0.0.1:9/x.png\"></body>");
    fs::write(&page, outside).expect("written");
    let output = look(browser, &["--dump-dom"], &page);
    assert!(String::from_utf8_lossy(&output.stderr).contains("CONSOLE"));
}

/// Widths in dots: a telephone, a tablet, paper between its margins, a screen.
const WIDTHS: [u32; 4] = [360, 600, 673, 1200];

#[test]
fn nothing_sticks_out_at_any_width() {
    let Some(browser) = browser() else { return };
    let (folder, page) = report();
    let html = fs::read_to_string(&page).expect("there");
    let policy = html
        .split("<meta ")
        .find(|meta| meta.starts_with("http-equiv=\"Content-Security-Policy\""))
        .and_then(|meta| meta.split('>').next())
        .expect("the page has a policy");
    // Measured from outside, in frames of each width; the page itself runs no scripts.
    let html = html.replace(&format!("<meta {policy}>"), "");
    let quoted = html.replace('&', "&amp;").replace('"', "&quot;");
    let frames: String = WIDTHS
        .iter()
        .map(|width| format!("<iframe style=\"width:{width}px\" srcdoc=\"{quoted}\"></iframe>"))
        .collect();
    let measure = "
        onload = () => {
            const lines = [...document.querySelectorAll('iframe')].map(frame => {
                const page = frame.contentDocument, width = page.documentElement.clientWidth;
                const out = [...page.body.querySelectorAll('*')]
                    .filter(e => e.getBoundingClientRect().right > width + 1 && !e.closest('svg'))
                    .map(e => e.tagName + ' ' + e.textContent.trim().slice(0, 20));
                return [width, page.documentElement.scrollWidth, page.body.offsetHeight, ...out.slice(0, 5)].join('|');
            });
            document.body.textContent = 'MEASURED ' + lines.join(' ; ') + ' END';
        }";
    let desk = folder.path().join("measure.html");
    let around = format!(
        "<!doctype html><style>iframe {{ border: 0; height: 500px; }}</style><body>{frames}\
         <script>{measure}</script></body>"
    );
    fs::write(&desk, around).expect("written");
    let output = look(browser, &["--dump-dom", "--window-size=1300,900"], &desk);
    let dom = String::from_utf8_lossy(&output.stdout);
    let measured = dom
        .split_once("MEASURED ")
        .and_then(|(_, rest)| rest.split_once(" END"))
        .map(|(measured, _)| measured)
        .expect("it was measured");
    let lines: Vec<&str> = measured.split(" ; ").collect();
    assert_eq!(lines.len(), WIDTHS.len());
    for (line, width) in lines.iter().zip(WIDTHS) {
        let fields: Vec<&str> = line.split('|').collect();
        let number = |at: usize| fields[at].parse::<u32>().expect("a number");
        assert!(number(0) <= width && number(0) + 20 >= width, "{line}");
        assert!(number(1) <= number(0), "it can be moved sideways: {line}");
        assert!(number(2) > 2000, "the page is there: {line}");
        assert_eq!(fields.len(), 3, "this sticks out: {line}");
    }
}

/// A4 is 210 by 297 mm and Letter 8½ by 11 inches, in points of 1/72 inch.
#[test]
fn it_prints_on_the_paper_that_there_is() {
    let Some(browser) = browser() else { return };
    let (folder, page) = report();
    let text = fs::read_to_string(&page).expect("a page");
    assert!(!text.contains("@page { size"), "whoever prints it chooses");
    for (paper, across, down) in [("A4", 595.3, 841.9), ("Letter", 612.0, 792.0)] {
        let chosen = text.replace("</style>", &format!("@page {{ size: {paper}; }}</style>"));
        let page = folder.path().join(format!("{paper}.html"));
        fs::write(&page, chosen).expect("written");
        prints(browser, &folder, &page, (across, down));
    }
}

fn prints(browser: &str, folder: &TempDir, page: &Path, (across, down): (f64, f64)) {
    let pdf = folder.path().join("report.pdf");
    let to = format!("--print-to-pdf={}", pdf.display());
    look(browser, &[&to, "--no-pdf-header-footer"], page);
    let bytes = fs::read(&pdf).expect("printed");
    assert!(bytes.starts_with(b"%PDF"));
    let text = String::from_utf8_lossy(&bytes);
    let sheets: Vec<&str> = text.split("/MediaBox [").skip(1).collect();
    assert!(!sheets.is_empty(), "it has sheets");
    for sheet in sheets {
        let size: Vec<f64> = sheet
            .split(']')
            .next()
            .unwrap_or_default()
            .split_whitespace()
            .filter_map(|n| n.parse().ok())
            .collect();
        assert!(
            (size[2] - across).abs() < 1.5 && (size[3] - down).abs() < 1.5,
            "{size:?}"
        );
    }
}
