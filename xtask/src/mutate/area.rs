//! Which sources mutants are made in.

/// A part of the house, told of by itself.
pub(super) struct Area {
    pub(super) name: &'static str,
    /// The crate whose sources these are.
    pub(super) package: &'static str,
    /// How the names of its files begin; all files of the crate where none is said.
    files: &'static [&'static str],
}

pub(super) const AREAS: &[Area] = &[
    Area {
        name: "figure",
        package: "figure",
        files: &[],
    },
    Area {
        name: "instrument",
        package: "instrument",
        files: &[],
    },
    Area {
        name: "practice",
        package: "practice",
        files: &[],
    },
    Area {
        name: "exact",
        package: "exact",
        files: &[],
    },
    Area {
        name: "teaching",
        package: "desk",
        files: &[
            "class",
            "correct",
            "course",
            "dice",
            "exercises",
            "given_reading",
            "judging",
            "known_slip",
            "lesson",
            "marked_sheet",
            "pen_exercise",
            "question",
            "reckon_corrected",
        ],
    },
];

/// The crates whose tests are asked: those with an area, and those between and above them
/// that say what is worked, draw it, or answer with it.
pub(super) const ASKED: &[&str] = &[
    "figure",
    "instrument",
    "practice",
    "exact",
    "words",
    "drawing",
    "desk",
];

impl Area {
    /// Where its sources lie, from the root.
    pub(super) fn folder(&self) -> String {
        format!("crates/{}/src", self.package)
    }

    /// Whether a file of that folder, by its path from the root, is among them.
    pub(super) fn holds(&self, path: &str) -> bool {
        let name = path.strip_prefix(&self.folder()).unwrap_or(path);
        let name = name.trim_start_matches('/');
        path.ends_with(".rs")
            && (self.files.is_empty() || self.files.iter().any(|begin| name.starts_with(begin)))
    }
}
