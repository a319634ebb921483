//! `tellmark bench`

use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::open_job::{cannot_set_up, internal, open_job, progress};
use super::shape::Shape;
use clap::Args;
use serde_json::json;
use std::fs;
use std::io::{self, IsTerminal as _};
use std::path::{Path, PathBuf};
use tellmark_device::bench::{self, BenchError, Command, Held, Picture, Room, Stop};
use tellmark_job::open_job::OpenJob;
use tellmark_job::plain::{io_reason, write_whole};
use tellmark_language::words::some_of;

/// Look a piece over on the bench unit's screen, here in the terminal
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark bench walnut-chest\n  tellmark bench walnut-chest \
                  --frames pictures --keys \"1 2 3 2x2 4~\"\n\nThe four keys are 1, 2, 3 and 4 \
                  from the left, or the arrows, Enter and Esc; what each does stands above it. \
                  Every answer goes into the job's record at once, as a sentence that \"tellmark \
                  note\" would write.\n\nIn --keys, 1x9 presses a key nine times, 1~9 keeps it \
                  down until it has counted nine times more, and 4~ goes home."
)]
pub struct Bench {
    /// The job's folder
    #[arg(value_name = "JOB")]
    pub(super) job: PathBuf,
    /// Make pictures in this folder instead, one after each of --keys
    #[arg(long, value_name = "DIR")]
    frames: Option<PathBuf>,
    /// The keys to press
    #[arg(long, value_name = "KEYS", requires = "frames", default_value = "")]
    keys: String,
    /// How many times as large as the screen the pictures are
    #[arg(long, value_name = "TIMES", requires = "frames", default_value_t = 4,
          value_parser = clap::value_parser!(u8).range(1..=16))]
    scale: u8,
}

/// Milliseconds between two words of a script.
const BETWEEN: u32 = 2_000;

impl Bench {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let commands = bench::read_keys(&self.keys).map_err(|e| Stopped::Misuse(e.to_string()))?;
        let is_terminal = io::stdin().is_terminal() && io::stdout().is_terminal();
        if self.frames.is_none() && !is_terminal {
            return Err(Stopped::Misuse(
                "The bench screen needs a terminal to be drawn in. \"--frames DIR\" makes \
                 pictures of it instead."
                    .to_owned(),
            ));
        }
        let mut job = open_job(&self.job, frame)?;
        let opening = {
            let view = job.as_found()?;
            if job.now.is_some() {
                writeln!(
                    frame.err,
                    "The bench screen shows the piece as it was found, though something was mended since. \
                     What you answer there speaks of it as it is now. To see how it is now:\n  {}",
                    frame.command("triage", &self.job)
                )?;
            }
            let progress = progress(&view, frame)?;
            let last = job.job.lines().last().map_or(0, |line| line.number);
            bench::opening(&view.set_up(), view.pack, &progress, last).map_err(cannot_set_up)?
        };

        let mut room = Room::default();
        let OpenJob { job, rules, .. } = &mut job;
        let built = rules.built.as_ref();
        let built = built.ok_or_else(|| internal("no pack"))?;
        let pack = built.bytes.open().map_err(internal)?;
        let rules = (&rules.reading.model, built);
        let mut held = Held::new(rules, job, room.bench(pack), &opening)?;
        let pictures = match &self.frames {
            Some(folder) => self.run_script(&mut held, &commands, folder, frame),
            None => bench::run(&mut held)
                .map(|()| Vec::new())
                .map_err(Stopped::from),
        };
        let added = held.added();
        let lines = some_of(u32::try_from(added).unwrap_or(u32::MAX), "line", "lines");
        // Each answer was written down when its key was pressed, whatever came after.
        let pictures = pictures.map_err(|stopped| match stopped {
            Stopped::Disk(why) if added > 0 => {
                Stopped::Disk(format!("{why} Before that, {lines} went into the record."))
            }
            other => other,
        })?;
        frame.tell(Exit::Fine, |frame| {
            if frame.global.json {
                return frame.print_json(
                    Shape::BENCH,
                    json!({ "added": added, "pictures": pictures }),
                );
            }
            match &self.frames {
                Some(folder) => {
                    let made = u32::try_from(pictures.len()).unwrap_or(u32::MAX);
                    let made = some_of(made, "picture", "pictures");
                    writeln!(
                        frame.out,
                        "Made {made} in {}, and added {lines} to the record.",
                        folder.display()
                    )?;
                }
                None => writeln!(frame.out, "Added {lines} to the record.")?,
            }
            Ok(())
        })
    }

    /// A picture of the beginning, then one after each word of the script.
    fn run_script(
        &self,
        held: &mut Held<'_>,
        commands: &[Command],
        folder: &Path,
        frame: &Frame,
    ) -> Result<Vec<String>, Stopped> {
        let cannot = |path: &Path, why: &io::Error| {
            Stopped::Disk(format!(
                "I could not write {}: {}.",
                path.display(),
                io_reason(why)
            ))
        };
        fs::create_dir_all(folder).map_err(|why| cannot(folder, &why))?;
        let mut made = Vec::new();
        let mut time = 0_u32;
        for &command in [Command::Picture].iter().chain(commands) {
            if let Command::Key(event) = command {
                held.press(event, frame.now)?;
                continue;
            }
            while held.bench.idle() {}
            let mut picture = Picture::default();
            match held.bench.draw(&mut picture) {
                Ok(()) => {}
                Err(never) => match never {},
            }
            let name = format!("{:03}.png", made.len());
            let path = folder.join(&name);
            let png = picture.png(usize::from(self.scale)).map_err(internal)?;
            write_whole(&path, &png).map_err(|why| cannot(&path, &why))?;
            made.push(name);
            // What was noted stands in the head of one picture.
            time = time.wrapping_add(BETWEEN);
            held.bench.tick(time);
        }
        Ok(made)
    }
}

impl From<BenchError> for Stopped {
    fn from(trouble: BenchError) -> Stopped {
        match trouble {
            BenchError::Job(trouble) => trouble.into(),
            BenchError::Refused(_) => Stopped::Misuse(trouble.to_string()),
        }
    }
}

impl From<Stop> for Stopped {
    fn from(stop: Stop) -> Stopped {
        match stop {
            Stop::Terminal(why) => Stopped::Disk(format!(
                "The terminal would not be drawn in: {}.",
                io_reason(&why)
            )),
            Stop::Job(trouble) => trouble.into(),
        }
    }
}
