//! `tellmark photo`

use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::shape::Shape;
use clap::{Args, ValueEnum};
use serde_json::{Value, json};
use std::fs;
use std::path::{Path, PathBuf};
use tellmark_job::noting::Noting;
use tellmark_job::plain::{self, io_reason};
use tellmark_job::record::{Copies, How, Job, Kept, PHOTOS_FOLDER, Photo as OnRecord, Said, Stage};
use tellmark_language::model::Model;
use tellmark_language::words::{self, capital, some_of};
use tellmark_report::picture::{self, LARGEST_FILE, Picture};

/// Keep photographs with a job, or list those that it has
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark photo walnut-chest IMG_2041.jpg --part \"drawer 2\" \
                        --shows \"the torn lip\"\n  tellmark photo walnut-chest *.jpg --stage \
                        after\n  tellmark photo walnut-chest\n\nPhotographs are copied, and the \
                        originals stay where they are. JPEG and PNG are taken. To put right what \
                        was said of one, add it again: the latest line counts."
)]
pub struct Photo {
    /// The job's folder
    #[arg(value_name = "JOB")]
    pub(super) job: PathBuf,
    /// The photographs; with none, those that the job has are listed
    #[arg(value_name = "FILE")]
    files: Vec<PathBuf>,
    /// The part that they show, in the words of the rules; if you do not say, the
    /// whole piece
    #[arg(long, requires = "files")]
    part: Option<String>,
    /// When they were taken: before, during or after the work [default: before]
    #[arg(
        long,
        value_name = "WHEN",
        requires = "files",
        hide_possible_values = true
    )]
    stage: Option<Taken>,
    /// What there is to see
    #[arg(long, value_name = "WORDS", requires = "files")]
    shows: Option<String>,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum Taken {
    Before,
    During,
    After,
}

impl From<Taken> for Stage {
    fn from(taken: Taken) -> Stage {
        match taken {
            Taken::Before => Stage::Before,
            Taken::During => Stage::During,
            Taken::After => Stage::After,
        }
    }
}

impl Photo {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let mut job = frame.job(&self.job)?;
        if self.files.is_empty() {
            return list(frame, &job);
        }
        let said = Said {
            part: match &self.part {
                Some(part) => Some(part_of_piece(frame, &job, part)?),
                None => None,
            },
            stage: self.stage.map(Stage::from),
            words: self.shows.as_deref().map(one_line).transpose()?,
        };
        let mut copies = Copies::new(&job)?;
        let mut pictures = Vec::new();
        for file in &self.files {
            let (bytes, picture) = looked_at(file)?;
            let named = file.file_stem().unwrap_or_default().to_string_lossy();
            copies.add(&bytes, said.clone(), &named, picture.format.ending())?;
            pictures.push((picture, bytes.len()));
        }
        let kept = job.keep(copies, frame.now)?;
        frame.tell(Exit::Fine, |frame| {
            if frame.global.json {
                return frame.print_json(Shape::PHOTOS_KEPT, kept_json(&kept, &job));
            }
            for ((file, kept), (picture, bytes)) in self.files.iter().zip(&kept).zip(pictures) {
                print_kept(frame, file, kept, picture, bytes)?;
            }
            let new = kept.iter().filter(|k| !matches!(k.how, How::Already(_)));
            let mut told: Vec<String> = Vec::new();
            for kept in new {
                let of = job
                    .photos()
                    .into_iter()
                    .find(|one| one.photo.file == kept.file);
                let said = of.map_or_else(String::new, |of| capital(&shown(&of.photo)));
                if !told.contains(&said) {
                    writeln!(frame.out, "{said}")?;
                    told.push(said);
                }
            }
            Ok(())
        })
    }
}

/// The part as the rules call it, if the piece has it.
fn part_of_piece(frame: &mut Frame, job: &Job, part: &str) -> Result<String, Stopped> {
    let reading = frame.ready_or_warn()?.reading;
    let model: &Model = &reading.model;
    let meant = Noting::new(model, job)
        .part_meant(job, part)
        .map_err(|none| Stopped::Misuse(format!("{none} No photograph was kept.")))?;
    Ok(words::part_name(model, &meant))
}

/// The words as they can stand in the record.
fn one_line(words: &str) -> Result<String, Stopped> {
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    if words.contains(char::is_control) {
        return Err(Stopped::Misuse(
            "What a photograph shows must be plain words. No photograph was kept.".to_owned(),
        ));
    }
    Ok(words)
}

/// A photograph's bytes, if it can be shown.
fn looked_at(file: &Path) -> Result<(Vec<u8>, Picture), Stopped> {
    let unreadable = |why: std::io::Error| {
        Stopped::Disk(format!(
            "I could not read {}: {}. No photograph was kept.",
            file.display(),
            io_reason(&why)
        ))
    };
    let refused = |why: picture::PictureError| {
        Stopped::Misuse(format!("{} {why} No photograph was kept.", file.display()))
    };
    if fs::metadata(file).map_err(unreadable)?.len() > LARGEST_FILE {
        return Err(refused(picture::PictureError::TooLarge));
    }
    let bytes = plain::read(file).map_err(unreadable)?;
    let picture = picture::look_at(&bytes).map_err(refused)?;
    Ok((bytes, picture))
}

fn print_kept(
    frame: &mut Frame,
    file: &Path,
    kept: &Kept,
    picture: Picture,
    bytes: usize,
) -> Result<(), Stopped> {
    let (file, name) = (file.display(), &kept.file);
    match kept.how {
        How::New(line) => writeln!(
            frame.out,
            "Line {line}: {file} is kept as {PHOTOS_FOLDER}/{name} ({} by {} dots, {}).",
            picture.width,
            picture.height,
            size(bytes)
        )?,
        How::SaidAnew(line) => writeln!(
            frame.out,
            "Line {line}: {file} is there already, as {PHOTOS_FOLDER}/{name}; this line now says \
             what it shows."
        )?,
        How::Already(line) => writeln!(
            frame.out,
            "{file} is there already, as {PHOTOS_FOLDER}/{name} (line {line}). Nothing was \
             written."
        )?,
    }
    Ok(())
}

/// "0.4 MB", "12 kB".
fn size(bytes: usize) -> String {
    if bytes < 100_000 {
        format!("{} kB", bytes.div_ceil(1000))
    } else {
        let tenths = bytes.div_ceil(100_000);
        format!("{}.{} MB", tenths / 10, tenths % 10)
    }
}

/// "drawer 2, before the work: the torn lip".
fn shown(said: &OnRecord) -> String {
    let part = said.part.as_deref().unwrap_or("the whole piece");
    let stage = said.stage.name();
    if said.words.is_empty() {
        format!("{part}, {stage} the work.")
    } else {
        format!("{part}, {stage} the work: {}", words::sentence(&said.words))
    }
}

fn list(frame: &mut Frame, job: &Job) -> Result<Exit, Stopped> {
    let photos = job.photos();
    let is_there = |file: &str| job.has_photo(file);
    let strays = job.photos_not_on_record();
    if frame.global.json {
        let photos: Vec<Value> = photos
            .iter()
            .map(|p| {
                json!({
                    "line": p.number,
                    "file": p.photo.file,
                    "part": p.photo.part,
                    "stage": p.photo.stage.name(),
                    "shows": p.photo.words,
                    "is_there": is_there(&p.photo.file),
                })
            })
            .collect();
        frame.print_json(
            Shape::PHOTOS,
            json!({ "photos": photos, "not_on_record": strays }),
        )?;
        return Ok(Exit::Fine);
    }
    let number = u32::try_from(photos.len()).unwrap_or(u32::MAX);
    writeln!(
        frame.out,
        "{}.",
        capital(&some_of(number, "photograph", "photographs"))
    )?;
    for p in &photos {
        let missing = if is_there(&p.photo.file) {
            ""
        } else {
            " This file is not there any more."
        };
        let (file, shown) = (&p.photo.file, words::sentence(&shown(&p.photo)));
        writeln!(frame.out, "  {file} (line {}): {shown}{missing}", p.number)?;
    }
    if !strays.is_empty() {
        writeln!(
            frame.out,
            "In the folder {PHOTOS_FOLDER}, but not in the record: {}. Add them from there to say \
             what they show.",
            words::list(&strays)
        )?;
    }
    Ok(Exit::Fine)
}

fn kept_json(kept: &[Kept], job: &Job) -> Value {
    let photos = job.photos();
    let kept: Vec<Value> = kept
        .iter()
        .map(|kept| {
            let (line, is_new) = match kept.how {
                How::New(line) => (line, true),
                How::SaidAnew(line) | How::Already(line) => (line, false),
            };
            let photo = photos.iter().find(|one| one.photo.file == kept.file);
            let photo = photo.map(|one| &one.photo);
            json!({
                "file": kept.file,
                "line": line,
                "new": is_new,
                "part": photo.and_then(|photo| photo.part.as_ref()),
                "stage": photo.map(|photo| photo.stage.name()),
                "shows": photo.map(|photo| &photo.words),
            })
        })
        .collect();
    json!({ "kept": kept })
}
