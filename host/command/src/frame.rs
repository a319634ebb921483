//! What every command is given: where the rules are, what time it is, and the
//! two streams.

use super::exit::{Exit, Stopped};
use super::shape::Shape;
use super::typed::as_path;
use super::whose::{self, Notices};
use clap::{Args, ValueEnum};
use jiff::civil::DateTime;
use jiff::tz::Offset;
use std::cell::{Cell, OnceCell};
use std::io::Write;
use std::path::{Path, PathBuf};
use tellmark_compile::check::Checked;
use tellmark_job::advice::Now;
use tellmark_job::house::{self, Families, For, House};
use tellmark_job::record::{self, Job, Name, Pen, Says};
use tellmark_job::settings::Settings;
use tellmark_language::words::{list, some_of};
use tellmark_language::{Level, Reading};

/// Options that every command takes.
#[derive(Args, Clone, Debug, Default)]
pub struct Global {
    /// The folder with your own rules, in files that end in .rules.txt
    #[arg(long, global = true, value_name = "DIR")]
    pub rules: Option<PathBuf>,
    /// Who notes it; the lines of the record keep it [default: what "tellmark me" set]
    #[arg(long, global = true, value_name = "NAME")]
    pub by: Option<String>,
    /// Which families of the standard rules are read: all, none, or their names with commas.
    /// If not said, those that the job's piece needs, and all where your own rules speak of others
    #[arg(long, global = true, value_name = "NAMES", value_parser = families)]
    pub families: Option<Families>,
    /// Print for programs: one JSON value
    #[arg(long, global = true)]
    pub json: bool,
    /// When to use colour: auto, always or never
    #[arg(
        long,
        global = true,
        value_name = "WHEN",
        default_value = "auto",
        hide_possible_values = true
    )]
    pub colour: Colour,
}

/// When to use colour.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum Colour {
    /// On a terminal that has it
    #[default]
    Auto,
    /// Always
    Always,
    /// Never
    Never,
}

impl From<Colour> for anstream::ColorChoice {
    fn from(colour: Colour) -> anstream::ColorChoice {
        match colour {
            Colour::Auto => anstream::ColorChoice::Auto,
            Colour::Always => anstream::ColorChoice::Always,
            Colour::Never => anstream::ColorChoice::Never,
        }
    }
}

/// What a command works in.
pub struct Frame<'a> {
    /// The options that every command takes.
    pub global: &'a Global,
    /// The time on the wall.
    pub now: DateTime,
    /// How far the clock on the wall is before UTC.
    pub offset: Offset,
    /// Answers. On the way, colours are taken out if they are not wanted, and whatever
    /// else a terminal would obey is escaped.
    pub out: &'a mut dyn Write,
    /// Troubles and warnings, in the same way.
    pub err: &'a mut dyn Write,
    /// What the command is about, and so where its rules are looked for.
    pub about: For<'a>,
    /// Whose rules it goes by, once they were looked for.
    pub house: OnceCell<House>,
    /// What is to be said of them and of the job.
    pub notices: Notices,
    /// Whether something was written down.
    pub has_written: Cell<bool>,
}

impl Frame<'_> {
    /// The time, for what is waited for.
    pub fn moment(&self) -> Now {
        Now {
            wall: self.now,
            offset: self.offset,
        }
    }

    /// Looks at the clock again.
    pub fn tick(&mut self) {
        let now = jiff::ZonedDateTime::now();
        (self.now, self.offset) = (now.datetime(), now.offset());
    }

    /// A job, to be written in by whoever notes.
    pub fn job(&self, folder: &Path) -> Result<Job, Stopped> {
        let mut job = Job::open(folder)?;
        job.write_as(self.pen()?);
        Ok(job)
    }

    /// Who notes, and how their clock stands.
    pub fn pen(&self) -> Result<Pen, Stopped> {
        let by = match &self.global.by {
            Some(typed) => Some(name(typed)?),
            None => Settings::read()?.me.as_deref().map(name).transpose()?,
        };
        Ok(Pen {
            offset: Some(self.offset),
            by,
        })
    }

    /// Whose rules are gone by, and how they were found: the one way for every command.
    pub fn house(&self) -> Result<&House, Stopped> {
        if let Some(house) = self.house.get() {
            return Ok(house);
        }
        let found = whose::places(self.global)?.find(self.about)?;
        Ok(self.house.get_or_init(|| found))
    }

    /// The folder of the house's rules; `None` for the standard ones.
    pub fn rules(&self) -> Result<Option<&Path>, Stopped> {
        Ok(self.house()?.folder.as_deref())
    }

    /// The families of the standard rules that are read.
    pub fn families(&self) -> Result<Families, Stopped> {
        if let Some(asked) = &self.global.families {
            return Ok(asked.clone());
        }
        let piece = match self.about {
            For::Job(job) => record::piece_name(job).ok(),
            For::Folder(_) => None,
        };
        Ok(match piece {
            Some(piece) => house::families(self.rules()?, &piece)?,
            None => Families::All,
        })
    }

    /// The standard rules and the house's, read.
    pub fn reading(&self) -> Result<Reading, Stopped> {
        let reading = house::read(self.rules()?, &self.families()?)?;
        self.notices.go_by(&reading);
        Ok(reading)
    }

    /// The same rules, checked and built.
    pub fn ready(&self) -> Result<Checked, Stopped> {
        let checked = house::ready(self.rules()?, &self.families()?)?;
        self.notices.go_by(&checked.reading);
        Ok(checked)
    }

    /// The rules, for a command that goes on with what was understood: says on
    /// the error stream if that is not all.
    pub fn ready_or_warn(&mut self) -> Result<Checked, Stopped> {
        let rules = self.ready()?;
        let stops = rules.count(Level::Stop);
        if stops > 0 {
            let errors = errors(stops);
            writeln!(
                self.err,
                "These rules have {errors}, and I go by the rest. \
                 \"tellmark check\" says what."
            )?;
        }
        Ok(rules)
    }

    /// " --rules DIR" as it was given, so that a command shown to the user works
    /// as it stands; nothing if it was not.
    #[must_use]
    pub fn rules_argument(&self) -> String {
        self.global
            .rules
            .as_ref()
            .map_or_else(String::new, |rules| format!(" --rules {}", as_path(rules)))
    }

    /// A command about a job, as it can be pasted: "tellmark triage chest --rules mine".
    #[must_use]
    pub fn command(&self, name: &str, job: &Path) -> String {
        format!("tellmark {name} {}{}", as_path(job), self.rules_argument())
    }

    /// Prints what was written down; it is there whether or not this can be printed.
    pub fn tell(
        &mut self,
        written: Exit,
        print: impl FnOnce(&mut Self) -> Result<(), Stopped>,
    ) -> Result<Exit, Stopped> {
        self.has_written.set(true);
        let told = print(self).and_then(|()| Ok(self.out.flush()?));
        match told {
            Ok(()) => Ok(written),
            Err(Stopped::Unread) => Err(Stopped::Untold {
                exit: written,
                why: String::new(),
            }),
            Err(Stopped::Disk(why)) => Err(Stopped::Untold {
                exit: written,
                why: format!("{why} All the same it is written down; do not do it again."),
            }),
            Err(other) => Err(other),
        }
    }

    /// Prints a line that was added to the record.
    pub fn tell_line(&mut self, line: usize, says: &Says) -> Result<Exit, Stopped> {
        self.tell(Exit::Fine, |frame| frame.print_line(line, says))
    }

    /// The same, where more is to be said.
    pub fn print_line(&mut self, line: usize, says: &Says) -> Result<(), Stopped> {
        if self.global.json {
            let value = serde_json::json!({ "line": line, "text": says.to_string() });
            return self.print_json(Shape::LINE, value);
        }
        writeln!(self.out, "Line {line}: {}", says.shown())?;
        Ok(())
    }

    /// Prints one JSON value for programs.
    pub fn print_json(
        &mut self,
        shape: Shape,
        mut value: serde_json::Value,
    ) -> Result<(), Stopped> {
        if let Some(entries) = value.as_object_mut() {
            entries.insert("shape".to_owned(), shape.called().into());
        }
        whose::add_to(&mut value, self);
        serde_json::to_writer_pretty(&mut *self.out, &value)?;
        writeln!(self.out)?;
        Ok(())
    }
}

/// The name of somebody, as it can stand in a record.
pub(super) fn name(typed: &str) -> Result<Name, Stopped> {
    Name::new(typed).ok_or_else(|| {
        Stopped::Misuse(format!(
            "\"{typed}\" will not do as a name in a record: up to {} signs, without [ and ].",
            Name::LONGEST
        ))
    })
}

/// Families as a user names them.
fn families(text: &str) -> Result<Families, String> {
    Families::named(text).map_err(|none| {
        let known = list(&Families::names());
        format!("there is no family \"{none}\"; they are: {known}")
    })
}

/// "1 error", "3 errors".
pub(super) fn errors(number: usize) -> String {
    some_of(u32::try_from(number).unwrap_or(u32::MAX), "error", "errors")
}
