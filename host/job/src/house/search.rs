//! Whose rules a job goes by: the places where a house's folder may be named, in order.
//!
//! The first place that names one is used. A place that names a folder which is not there, or
//! has no rules in it, is an error that names the place: nothing is ever looked for further
//! on in its stead.

use super::{RulesError, paths};
use crate::record::{self, JobError};
use std::path::{Path, PathBuf};

/// The name of a folder that is found by itself, beside a job or above it.
pub const NEAR: &str = "house";

/// The variable of the environment that names a house's folder.
pub const VARIABLE: &str = "TELLMARK_RULES";

/// By what a house was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
pub enum By {
    /// The option `--rules`.
    #[serde(rename = "--rules")]
    Asked,
    /// A line of the job's `job.txt`.
    #[serde(rename = "job.txt")]
    Job,
    /// The variable [`VARIABLE`] of the environment.
    #[serde(rename = "TELLMARK_RULES")]
    Environment,
    /// The user's settings.
    #[serde(rename = "your setting")]
    User,
    /// A folder [`NEAR`] beside the job, or above it.
    #[serde(rename = "a folder house")]
    Near,
    /// Nothing: the standard rules are gone by.
    #[serde(rename = "nothing")]
    Nothing,
}

impl By {
    /// "named by --rules".
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            By::Asked => "named by --rules",
            By::Job => "named in job.txt",
            By::Environment => "named by TELLMARK_RULES",
            By::User => "your own setting",
            By::Near => "found beside the job or above it",
            By::Nothing => "no other rules are named anywhere",
        }
    }

    /// What to do where the folder that it names will not do.
    fn remedy(self) -> &'static str {
        match self {
            By::Job => {
                "Put the folder back, or change the line \"rules folder:\" of job.txt; --rules \
                 goes before it."
            }
            By::Environment => "Put the folder back, or change TELLMARK_RULES.",
            By::User => {
                "Put the folder back, or set another: \"tellmark house set DIR\", \"tellmark house \
                 forget\"."
            }
            By::Asked | By::Near | By::Nothing => "Name another folder.",
        }
    }
}

/// Where a house's rules are.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct House {
    /// The folder, or the one file; `None` for the standard rules alone.
    pub folder: Option<PathBuf>,
    /// By what it was found.
    pub by: By,
}

/// What a house is looked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum For<'f> {
    /// The job in this folder.
    Job(&'f Path),
    /// Work in this folder, which is no job.
    Folder(&'f Path),
}

/// The places that name a house for every job alike.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Places {
    /// What `--rules` says.
    pub asked: Option<PathBuf>,
    /// What the environment says.
    pub environment: Option<PathBuf>,
    /// What the user set.
    pub user: Option<PathBuf>,
}

impl Places {
    /// Finds the house of a job.
    ///
    /// # Errors
    /// If the first place that names a house names one that cannot be used.
    pub fn find(&self, what: For<'_>) -> Result<House, RulesError> {
        if let Some(folder) = &self.asked {
            let folder = Some(folder.clone());
            return Ok(House {
                folder,
                by: By::Asked,
            });
        }
        let (job, above) = match what {
            For::Job(job) => (of_job(job)?, parent(job)),
            For::Folder(folder) => (None, Some(absolute(folder))),
        };
        let set = [
            (By::Job, job),
            (By::Environment, self.environment.clone()),
            (By::User, self.user.clone()),
        ];
        for (by, folder) in set {
            if let Some(folder) = folder {
                return named(by, folder);
            }
        }
        Ok(above.and_then(|above| near(&above)).unwrap_or(House {
            folder: None,
            by: By::Nothing,
        }))
    }
}

/// The house that a setting names.
fn named(by: By, folder: PathBuf) -> Result<House, RulesError> {
    if let Err(why) = paths(&folder) {
        return Err(RulesError::Named {
            by,
            why: Box::new(why),
            remedy: by.remedy(),
        });
    }
    Ok(House {
        folder: Some(folder),
        by,
    })
}

/// The folder that a job's own `job.txt` names.
fn of_job(job: &Path) -> Result<Option<PathBuf>, RulesError> {
    match record::rules_folder(job) {
        Ok(said) => Ok(said.map(|said| job.join(said))),
        // Whoever opens the job says what is wrong with it.
        Err(JobError::Read { path, why }) => Err(RulesError::Read { path, why }),
        Err(_) => Ok(None),
    }
}

/// The nearest folder [`NEAR`] with rules in it, from a folder upward.
fn near(folder: &Path) -> Option<House> {
    let houses = folder.ancestors().map(|above| above.join(NEAR));
    let mut houses = houses.filter(|house| house.is_dir() && paths(house).is_ok());
    houses.next().map(|folder| House {
        folder: Some(folder),
        by: By::Near,
    })
}

fn absolute(path: &Path) -> PathBuf {
    std::path::absolute(path).unwrap_or_else(|_| path.to_owned())
}

fn parent(job: &Path) -> Option<PathBuf> {
    // A job may be named as "." or "..".
    let job = job.canonicalize().unwrap_or_else(|_| absolute(job));
    job.parent().map(Path::to_owned)
}

/// The folder of a house as the `job.txt` of a new job `name` in `parent` is to name it:
/// relative if it was given so, so that both can be moved together.
#[must_use]
pub fn as_seen_from(parent: &Path, name: &str, given: &Path) -> PathBuf {
    let (Ok(from), Ok(to)) = (parent.canonicalize(), given.canonicalize()) else {
        return absolute(given);
    };
    let from = from.join(name);
    let shared = from.components().zip(to.components());
    let shared = shared.take_while(|(one, other)| one == other).count();
    if given.is_absolute() || shared == 0 {
        return absolute(given);
    }
    let up = from.components().skip(shared).map(|_| "..");
    let mut way: PathBuf = up.collect();
    way.extend(to.components().skip(shared));
    way
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plain;
    use std::fs;

    #[test]
    fn the_first_place_that_names_one_is_used() {
        let root = plain::unfinished_in(&std::env::temp_dir());
        let job = root.join("year").join("job");
        let houses = ["asked", "job", "environment", "user", "house"];
        fs::create_dir_all(&job).expect("made");
        for house in houses {
            fs::create_dir(root.join(house)).expect("made");
            fs::write(root.join(house).join("a.rules.txt"), "").expect("written");
        }
        let header = |more: &str| {
            let text = format!("job folder: 1\npiece: chest\n{more}");
            fs::write(job.join("job.txt"), text).expect("written");
        };
        header("rules folder: ../../job\n");
        let mut places = Places {
            asked: Some(root.join("asked")),
            environment: Some(root.join("environment")),
            user: Some(root.join("user")),
        };
        let by = |places: &Places| places.find(For::Job(&job)).expect("found").by;
        assert_eq!(by(&places), By::Asked);
        places.asked = None;
        assert_eq!(by(&places), By::Job);
        header("");
        assert_eq!(by(&places), By::Environment);
        places.environment = None;
        assert_eq!(by(&places), By::User);
        places.user = None;
        assert_eq!(by(&places), By::Near);
        fs::remove_file(root.join("house").join("a.rules.txt")).expect("removed");
        assert_eq!(by(&places), By::Nothing);
        // What is gone is told, although another place names one that is there.
        places.environment = Some(root.join("gone"));
        places.user = Some(root.join("user"));
        assert!(places.find(For::Job(&job)).is_err());
        fs::remove_dir_all(&root).expect("removed");
    }

    #[test]
    fn a_house_is_named_as_it_was_given() {
        let root = plain::unfinished_in(&std::env::temp_dir());
        fs::create_dir_all(root.join("jobs")).expect("made");
        fs::create_dir(root.join("mine")).expect("made");
        let given = root.join("mine");
        assert_eq!(as_seen_from(&root.join("jobs"), "chest", &given), given);
        fs::remove_dir_all(&root).expect("removed");
    }
}
