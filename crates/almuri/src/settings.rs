use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use crate::failure::Failure;
use crate::part_file::PartFile;

/// What is kept between commands, in a small TOML file.
#[derive(Clone, Debug, Deserialize, PartialEq, Serialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Settings {
    version: u32,
    /// The home place, as it is said with `--at`.
    pub(crate) home: Option<String>,
    /// The home place's zone, where it does not name one itself.
    pub(crate) zone: Option<String>,
    /// The usual instrument.
    pub(crate) with: Option<String>,
    /// The usual house method.
    pub(crate) houses: Option<String>,
    /// The usual cusp procedure.
    pub(crate) by: Option<String>,
    /// Where the Sun's degree is usually taken from.
    pub(crate) sun: Option<String>,
    /// How figures are drawn.
    pub(crate) figures: Option<String>,
    /// Where others can open the page; what is printed has no code without it.
    pub(crate) page_address: Option<String>,
}

impl Default for Settings {
    fn default() -> Settings {
        Settings {
            version: 1,
            home: None,
            zone: None,
            with: None,
            houses: None,
            by: None,
            sun: None,
            figures: None,
            page_address: None,
        }
    }
}

impl Settings {
    /// The settings kept, or none where none are.
    pub(crate) fn kept() -> Result<Settings, Failure> {
        let Some(path) = path() else {
            return Ok(Settings::default());
        };
        if path.exists() && !path.is_file() {
            return Err(unreadable(&path, "it is no file"));
        }
        let text = match std::fs::read_to_string(&path) {
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => {
                return Ok(Settings::default());
            }
            other => other.map_err(|error| unreadable(&path, &error.to_string()))?,
        };
        let settings: Settings =
            toml::from_str(&text).map_err(|error| unreadable(&path, error.message()))?;
        match settings.version {
            1 => Ok(settings),
            other => Err(unreadable(
                &path,
                &format!("version {other} is not known, 1 would do"),
            )),
        }
    }

    /// The setting that an option of this name keeps.
    pub(crate) fn named(&mut self, name: &str) -> Result<&mut Option<String>, Failure> {
        Ok(match name {
            "home" => &mut self.home,
            "zone" => &mut self.zone,
            "with" => &mut self.with,
            "houses" => &mut self.houses,
            "by" => &mut self.by,
            "sun" => &mut self.sun,
            "figures" => &mut self.figures,
            "page-address" => &mut self.page_address,
            _ => {
                let shown: String = name.chars().take(60).collect();
                return Err(Failure::bad_input(format!(
                    "{shown:?} is no setting; home, zone, with, houses, by, sun, figures, page-address, or all would do"
                )));
            }
        })
    }

    /// Writes them beside the old ones first, so that a failure keeps the old.
    pub(crate) fn keep(&self, path: &Path) -> Result<(), Failure> {
        let text = toml::to_string(self).map_err(Failure::other)?;
        if let Some(folder) = path.parent() {
            std::fs::create_dir_all(folder).map_err(|error| {
                Failure::other(format!(
                    "the folder {} cannot be made: {error}",
                    folder.display()
                ))
            })?;
        }
        let mut file = PartFile::create(path, true)?;
        file.write_all(text.as_bytes())?;
        file.finish()
    }
}

fn unreadable(path: &Path, why: &str) -> Failure {
    Failure::bad_input(format!(
        "the settings in {} cannot be used ({why}); --no-settings ignores them, `almuri settings --forget` begins anew",
        path.display()
    ))
}

/// Where the settings are: in the user's configuration folder.
pub(crate) fn path() -> Option<PathBuf> {
    let folder = |name: &str| {
        std::env::var_os(name)
            .filter(|value| !value.is_empty())
            .map(PathBuf::from)
    };
    let base = folder("XDG_CONFIG_HOME")
        .or_else(|| folder("APPDATA"))
        .or_else(|| folder("HOME").map(|home| home.join(".config")))?;
    Some(base.join("almuri").join("settings.toml"))
}

impl Settings {
    /// Keeps what is the usual instrument, and everything else as it is.
    pub(crate) fn keep_usual(name: Option<&str>) -> Result<(), Failure> {
        let mut settings = Settings::kept()?;
        settings.with = name.map(str::to_owned);
        settings.keep(&place()?)
    }
}

pub(crate) fn place() -> Result<PathBuf, Failure> {
    path().ok_or_else(|| {
        Failure::other("no folder for settings: none of XDG_CONFIG_HOME, APPDATA and HOME is set")
    })
}
