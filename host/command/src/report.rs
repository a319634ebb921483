//! `tellmark report`

use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::open_job::{internal, open_job, progress};
use super::quote;
use clap::Args;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use tellmark_job::advice::{NoQuote, Progress, Quote};
use tellmark_job::hours::NoHours;
use tellmark_job::open_job::{JobView, OpenJob};
use tellmark_job::plain::{self, io_reason};
use tellmark_job::scripts::{self, Priced, Script};
use tellmark_job::{house, inside};
use tellmark_report::{Matter, Quoted, Template};

/// Write the report for the owner: one page to read, print and keep
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark report walnut-chest\n  tellmark report walnut-chest --out \
                        for-the-owner.html\n\nThe page is one file with everything in it, \
                        photographs too; any browser shows and prints it. A file report.html in \
                        the folder of your rules sets the page out in your own way. Prices are in it if \
                        your rules have a price list, prices.rhai."
)]
pub struct Report {
    /// The job's folder
    #[arg(value_name = "JOB")]
    job: PathBuf,
    /// The file to write; if you do not say, report-DAY.html in the job's folder
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
    /// A template of your own for the page
    #[arg(long, value_name = "FILE")]
    template: Option<PathBuf>,
}

/// The house's template, in the folder of its rules.
const TEMPLATE_FILE: &str = "report.html";
/// The longest template that is read, in bytes; the standard one is a fiftieth of it.
const LONGEST_TEMPLATE: usize = 1024 * 1024;

impl Report {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let job = open_job(&self.job, frame)?;
        let template = self.template(frame)?;
        let view = job.view()?;
        let progress = progress(&view, frame)?;
        let quote = hours_and_work(&view, &progress, frame)?;
        let priced = match &quote {
            Some(quote) => priced(frame, &job, quote)?,
            None => None,
        };
        let matter = Matter {
            view: &view,
            progress: &progress,
            quoted: quote.as_ref().map(|quote| Quoted {
                quote,
                priced: priced.as_ref(),
            }),
            made_in: job.model().region,
            now: frame.now,
        };
        let report = tellmark_report::gather(&matter).map_err(internal)?;
        let exit = if report.clash.is_empty() {
            Exit::Fine
        } else {
            Exit::No
        };
        if frame.global.json {
            let value = serde_json::to_value(&report)?;
            frame.print_json(&value)?;
            return Ok(exit);
        }
        let out = self.write(report, template.as_ref(), frame)?;
        frame.tell(exit, |frame| {
            writeln!(frame.out, "The report is in {}.", out.display())?;
            if exit == Exit::No {
                writeln!(
                    frame.out,
                    "Some findings contradict each other, and it says which; put them right, and \
                     make it again."
                )?;
            }
            Ok(())
        })
    }

    /// Writes the page, photographs and all, and says where it is.
    fn write(
        &self,
        mut report: tellmark_report::Report,
        template: Option<&Template>,
        frame: &mut Frame,
    ) -> Result<PathBuf, Stopped> {
        let out = self.out.clone().unwrap_or_else(|| {
            let day = frame.now.date();
            self.job.join(format!("report-{day}.html"))
        });
        may_be_written(&out)?;
        let mut told = Ok(());
        report.photographs.load(|at, of| {
            if told.is_ok() && of >= MANY {
                told = writeln!(frame.err, "Photograph {at} of {of}");
            }
        });
        told?;
        for (file, why) in report.photographs.missing() {
            writeln!(frame.err, "The photograph {file} {why}")?;
        }
        let page = tellmark_report::page(&report, template)
            .map_err(|bad| Stopped::Misuse(bad.to_string()))?;
        plain::write_whole(&out, page.as_bytes()).map_err(|why| {
            Stopped::Disk(format!(
                "I could not write {}: {}.",
                out.display(),
                io_reason(&why)
            ))
        })?;
        Ok(out)
    }

    /// The template asked for, or the house's own if it has one.
    fn template(&self, frame: &Frame) -> Result<Option<Template>, Stopped> {
        if let Some(path) = &self.template {
            return read_template(path).map(Some);
        }
        let Some(rules) = &frame.global.rules else {
            return Ok(None);
        };
        let path = rules.join(TEMPLATE_FILE);
        if path.is_file() {
            read_template(&path).map(Some)
        } else {
            Ok(None)
        }
    }
}

/// Hours and work, if they can be worked out.
fn hours_and_work(
    view: &JobView<'_>,
    progress: &Progress,
    frame: &mut Frame,
) -> Result<Option<Quote>, Stopped> {
    match view.quote(progress) {
        Ok(quote) => Ok(Some(quote)),
        Err(NoQuote::SetUp(why)) => Err(internal(why)),
        // Of findings that clash the report itself tells.
        Err(NoQuote::Hours(NoHours::Clash)) => Ok(None),
        Err(NoQuote::Hours(NoHours::TooTangled)) => {
            writeln!(
                frame.err,
                "The rules tie so many parts of this piece together that the hours cannot \
                 be worked out; the report gives the jobs with their times."
            )?;
            Ok(None)
        }
    }
}

/// What the house's price list makes of it; `None` if it has none of its own. Invented
/// prices have no place in what an owner is given.
fn priced(frame: &mut Frame, job: &OpenJob, quote: &Quote) -> Result<Option<Priced>, Stopped> {
    let file = house::prices(frame.global.rules.as_deref())?;
    if file.standard {
        return Ok(None);
    }
    let script = Script::read(file).map_err(quote::stopped)?;
    let piece = &job.job.header().piece;
    let priced = scripts::prices(quote, piece, &script).map_err(quote::stopped)?;
    for line in &priced.printed {
        writeln!(frame.err, "{}: {line}", scripts::PRICES)?;
    }
    Ok(Some(priced))
}

/// From so many photographs on it takes long enough to say how far it has come.
const MANY: usize = 8;

fn read_template(path: &Path) -> Result<Template, Stopped> {
    let text = plain::read_text(path).map_err(|why| {
        Stopped::Disk(format!(
            "I could not read the template {}: {}.",
            path.display(),
            io_reason(&why)
        ))
    })?;
    if text.len() > LONGEST_TEMPLATE {
        return Err(Stopped::Misuse(format!(
            "I could not read the template {}: it is far too long for one.",
            path.display()
        )));
    }
    Ok(Template {
        name: path
            .file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned(),
        text,
    })
}

/// Refuses to write over what is no page: a slip in a name must not cost a record.
fn may_be_written(out: &Path) -> Result<(), Stopped> {
    match inside::read(out) {
        Err(why) if why.kind() == ErrorKind::NotFound => Ok(()),
        Err(why) => Err(Stopped::Disk(format!(
            "I could not write {}: {}.",
            out.display(),
            io_reason(&why)
        ))),
        Ok(bytes) if tellmark_report::is_page(&bytes) => Ok(()),
        Ok(_) => Err(Stopped::Misuse(format!(
            "{} is there already and is no page, so I will not write over it. Choose another \
                 name.",
            out.display()
        ))),
    }
}
