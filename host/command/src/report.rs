//! `tellmark report`

use super::bounded::Bounded;
use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::open_job::{cannot_set_up, open_job, progress};
use super::quote;
use super::shape::Shape;
use super::typed::as_path;
use super::whose;
use clap::Args;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use tellmark_job::advice::{NoQuote, Progress, Quote};
use tellmark_job::hours::NoHours;
use tellmark_job::open_job::{JobView, OpenJob};
use tellmark_job::papers::{Account, DoneWork};
use tellmark_job::plain::{self, io_reason};
use tellmark_job::record::PHOTOS_FOLDER;
use tellmark_job::scripts::{Priced, Tax};
use tellmark_job::{house, inside};
use tellmark_language::words::{capital, list, some_of};
use tellmark_report::{Kind, Matter, Photographs, Quoted, Template};

/// Write the owner's papers: a letter to keep, and the record behind it
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark report walnut-chest\n  tellmark report walnut-chest --out \
                        for-the-owner.html\n  tellmark report walnut-chest --photos-out \
                        for-the-owner\n  tellmark report walnut-chest --kind estimate\n\n\
                        Before the work it is an estimate, while it lasts it says how far it is, and \
                        when all is done it is what goes home with the piece. The page is one file with \
                        everything in it, photographs too; any browser shows and prints it, on A4 or \
                        Letter. Its head has what workshop.txt in the folder of your rules says \
                        (name, trade, address, telephone, email, note); a file report.html there \
                        sets the page out in your own way. Prices are in it if your rules have a price \
                        list, prices.rhai."
)]
pub struct Report {
    /// The job's folder
    #[arg(value_name = "JOB")]
    pub(super) job: PathBuf,
    /// The file to write; if you do not say, report-DAY.html in the job's folder
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
    /// Which paper it is, if not what the moment calls for
    #[arg(long, value_name = "KIND", value_parser = KINDS)]
    kind: Option<String>,
    /// A folder for copies of the photographs, to hand over: without place, time and owner
    #[arg(long, value_name = "DIR", conflicts_with = "json")]
    photos_out: Option<PathBuf>,
    /// A template of your own for the page
    #[arg(long, value_name = "FILE")]
    template: Option<PathBuf>,
}

/// The kinds by name, as they are asked for.
const KINDS: [&str; 3] = [Kind::ALL[0].1, Kind::ALL[1].1, Kind::ALL[2].1];

/// Writes copies of the photographs, and says what became of them.
fn hand_over(frame: &mut Frame, photographs: &Photographs, folder: &Path) -> Result<(), Stopped> {
    let handed = tellmark_report::hand_over(photographs, folder).map_err(Stopped::Disk)?;
    let copies = u32::try_from(handed.copies).unwrap_or(u32::MAX);
    writeln!(
        frame.out,
        "{} without place, time and owner: {}.",
        capital(&some_of(copies, "copy", "copies")),
        folder.display()
    )?;
    if handed.missing.is_empty() {
        return Ok(());
    }
    let missing = handed.missing.iter();
    let missing = missing.map(|(file, why)| format!("The photograph {file} {why}"));
    Err(Stopped::Disk(missing.collect::<Vec<_>>().join("\n")))
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
            None => Ok(None),
        };
        let is_unpriced = priced.is_err();
        let (priced, taxes) = priced.unwrap_or_default().unzip();
        let agreed = quote::agreed(&job.job, frame)?;
        // What is done is worth what the same price list says.
        let done = match is_unpriced {
            true => DoneWork::default(),
            false => quote::done_work(&view, &progress, &agreed, frame)?,
        };
        if let Err(why) = Account::of(&job.job) {
            writeln!(frame.err, "{why} What is left to pay is not in the letter.")?;
        }
        let found = job.as_found()?;
        let kind = self.kind.as_deref().and_then(Kind::of_name);
        if let Some(kind) = kind {
            let fits = kind.fits(job.model(), &progress);
            fits.map_err(Stopped::Misuse)?;
        }
        let workshop = house::workshop(frame.rules()?)?;
        let matter = Matter {
            view: &view,
            found: &found,
            progress: &progress,
            quoted: quote.as_ref().map(|quote| Quoted {
                quote,
                priced: priced.as_ref(),
                taxes: taxes.as_deref().unwrap_or_default(),
                done,
            }),
            made_in: job.model().region,
            kind,
            workshop: &workshop,
            now: frame.moment(),
        };
        let mut report = tellmark_report::gather(&matter).map_err(cannot_set_up)?;
        let is_clash = !report.clash.is_empty();
        let exit = if is_clash || is_unpriced || frame.notices.is_amiss() {
            Exit::No
        } else {
            Exit::Fine
        };
        if frame.global.json {
            let value = serde_json::to_value(&report)?;
            frame.print_json(Shape::REPORT, value)?;
            return Ok(exit);
        }
        let out = self.write(&mut report, template.as_ref(), frame)?;
        let photographs = &report.photographs;
        let exit = frame.tell(exit, |frame| {
            writeln!(frame.out, "The report is in {}.", out.display())?;
            if let Some(rules) = whose::line(frame) {
                writeln!(frame.out, "{rules}")?;
            }
            if is_clash {
                writeln!(
                    frame.out,
                    "Some findings contradict each other, and it says which; put them right, and \
                     make it again."
                )?;
            }
            match self.photos_out {
                Some(_) => Ok(()),
                None => self.tell_of_places(frame, photographs),
            }
        })?;
        if let Some(folder) = &self.photos_out {
            hand_over(frame, photographs, folder)?;
        }
        Ok(exit)
    }

    /// Writes the page, photographs and all, and says where it is.
    fn write(
        &self,
        report: &mut tellmark_report::Report,
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
        let page = tellmark_report::page(report, template, &Bounded::here())
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

    /// Says which photographs would tell a stranger where the piece was.
    fn tell_of_places(&self, frame: &mut Frame, photographs: &Photographs) -> Result<(), Stopped> {
        let telling: Vec<&str> = photographs.telling_place().collect();
        let (which, they_were) = match telling.as_slice() {
            [] => return Ok(()),
            [one] => ((*one).to_owned(), "says where it was"),
            some if some.len() <= NAMED => (list(some), "say where they were"),
            some => (
                format!("{} of the photographs", some.len()),
                "say where they were",
            ),
        };
        writeln!(
            frame.out,
            "{which} {they_were} taken. The page does not say it, but the files in \
             {PHOTOS_FOLDER} do. For copies without it, to hand over:\n  \
             tellmark report {} --photos-out for-the-owner{}",
            as_path(&self.job),
            frame.rules_argument()
        )?;
        Ok(())
    }

    /// The template asked for, or the house's own if it has one.
    fn template(&self, frame: &Frame) -> Result<Option<Template>, Stopped> {
        if let Some(path) = &self.template {
            return read_template(path).map(Some);
        }
        let Some(rules) = frame.rules()? else {
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
        Err(NoQuote::SetUp(why)) => Err(cannot_set_up(why)),
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

/// Prices, and the taxes that are added to them.
type Taxed = (Priced, Vec<Tax>);

/// The house's price list gives no prices; why, was said.
struct Unpriced;

/// What the house's price list makes of it; `None` if it has none of its own. Invented
/// prices have no place in what an owner is given.
///
/// A price list that is not filled in yet, or has a slip, costs the page its prices and nothing
/// else.
fn priced(
    frame: &mut Frame,
    job: &OpenJob,
    quote: &Quote,
) -> Result<Result<Option<Taxed>, Unpriced>, Stopped> {
    let file = house::prices(frame.rules()?)?;
    if file.standard {
        return Ok(Ok(None));
    }
    let piece = &job.job.header().piece;
    let priced = quote::priced(frame, quote, piece, &file).and_then(|priced| {
        let taxes = quote::taxes(frame, piece, &file)?;
        Ok((priced, taxes))
    });
    match priced {
        Ok(priced) => Ok(Ok(Some(priced))),
        Err(Stopped::Misuse(why)) => {
            writeln!(
                frame.err,
                "{why}\nThe page names no prices until that is put right."
            )?;
            Ok(Err(Unpriced))
        }
        Err(other) => Err(other),
    }
}

/// So many photographs are named; of more, their number is told.
const NAMED: usize = 3;
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
