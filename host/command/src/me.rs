//! `tellmark me`

use super::exit::{Exit, Stopped};
use super::frame::{Frame, name};
use super::shape::Shape;
use clap::Args;
use serde_json::json;
use tellmark_job::settings::Settings;

/// Say or set the name under which lines are noted
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark me \"A. Joiner\"\n  tellmark me\n  tellmark me \
                        --forget\n\nEvery line that is noted from then on says who noted it. \
                        --by goes before it, for one line."
)]
pub struct Me {
    /// The name
    #[arg(value_name = "NAME")]
    name: Vec<String>,
    /// Forget the name; lines say nobody's from then on
    #[arg(long, conflicts_with = "name")]
    forget: bool,
}

impl Me {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let mut settings = Settings::read()?;
        if self.name.is_empty() && !self.forget {
            return show(frame, settings.me.as_deref());
        }
        settings.me = match self.forget {
            true => None,
            false => Some(name(&self.name.join(" "))?.to_string()),
        };
        let file = settings.write()?;
        frame.tell(Exit::Fine, |frame| {
            if frame.global.json {
                let file = file.display().to_string();
                return frame.print_json(Shape::ME, json!({ "me": settings.me, "settings": file }));
            }
            match &settings.me {
                Some(me) => writeln!(frame.out, "Lines are noted by {me} from now on.")?,
                None => writeln!(frame.out, "Lines say nobody's name from now on.")?,
            }
            Ok(())
        })
    }
}

fn show(frame: &mut Frame, me: Option<&str>) -> Result<Exit, Stopped> {
    if frame.global.json {
        let file = Settings::file().map(|file| file.display().to_string());
        frame.print_json(Shape::ME, json!({ "me": me, "settings": file }))?;
        return Ok(Exit::Fine);
    }
    match me {
        Some(me) => writeln!(frame.out, "Lines are noted by {me}.")?,
        None => writeln!(
            frame.out,
            "No name is set, so lines say nobody's. To set one: tellmark me \"NAME\""
        )?,
    }
    Ok(Exit::Fine)
}
