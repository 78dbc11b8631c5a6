use std::fmt::Write;

use desk::words::{Angle, Degrees};

/// Lines are kept to this width, so that a sheet prints on a page.
const WIDTH: usize = 78;

/// A time as a sheet has it, to the second: `2024-05-14 09:20:11.6` is said 09:20:12.
/// What follows from it is kept in full in the JSON.
pub(crate) fn whole_seconds(text: &str) -> String {
    let (date, time) = match text.rsplit_once(' ') {
        Some((date, time)) => (format!("{date} "), time),
        None => (String::new(), text),
    };
    let parts: Option<Vec<f64>> = time.split(':').map(|part| part.parse().ok()).collect();
    let Some([hours, minutes, seconds]) = parts.as_deref() else {
        return text.to_owned();
    };
    // The last half second of a day stays with its date.
    let whole = (hours * 3600.0 + minutes * 60.0 + seconds)
        .round()
        .min(86_399.0);
    format!(
        "{date}{:02}:{:02}:{:02}",
        (whole / 3600.0).floor(),
        (whole / 60.0).floor() % 60.0,
        whole % 60.0
    )
}

pub(crate) fn signed_degrees(deg: f64) -> String {
    let angle = Angle::from_deg(deg);
    let words = match deg.abs() {
        small if small < 0.5 / 60.0 => format!("{:.0}″", small * 3600.0),
        medium if medium < 59.5 / 60.0 => format!("{:.0}′", medium * 60.0),
        _ => Degrees(angle).to_string(),
    };
    let sign = if deg < 0.0 { '−' } else { '+' };
    format!("{sign}{words}")
}

/// A page of text being written.
#[derive(Default)]
pub(crate) struct Sheet {
    text: String,
}

impl Sheet {
    /// What has been written.
    pub(crate) fn text(self) -> String {
        self.text
    }

    pub(crate) fn line(&mut self, line: &str) {
        // Writing to a String cannot fail.
        let _ = writeln!(self.text, "{}", line.trim_end());
    }

    pub(crate) fn gap(&mut self) {
        self.text.push('\n');
    }

    pub(crate) fn title(&mut self, title: &str) {
        self.gap();
        self.line(title);
        self.line(&"─".repeat(title.chars().count()));
    }

    pub(crate) fn paragraph(&mut self, text: &str) {
        self.wrapped(text, "", "");
    }

    pub(crate) fn indented(&mut self, text: &str, by: usize) {
        let margin = " ".repeat(by);
        self.wrapped(text, &margin, &margin);
    }

    pub(crate) fn item(&mut self, number: usize, text: &str) {
        self.wrapped(text, &format!("{number:>3}. "), "     ");
    }

    /// A name in a column, with a text beside it.
    pub(crate) fn entry(&mut self, name: &str, column: usize, text: &str) {
        self.wrapped(text, &format!("{name:<column$} "), &" ".repeat(column + 1));
    }

    fn wrapped(&mut self, text: &str, first: &str, rest: &str) {
        let mut line = first.to_owned();
        let mut fresh = true;
        for word in text.split_whitespace() {
            let width = line.chars().count() + word.chars().count() + usize::from(!fresh);
            if width > WIDTH && !fresh {
                self.line(&line);
                rest.clone_into(&mut line);
                fresh = true;
            }
            if !fresh {
                line.push(' ');
            }
            line.push_str(word);
            fresh = false;
        }
        self.line(&line);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_are_said_to_the_second() {
        for (kept, said) in [
            ("2024-05-14 09:20:11.224", "2024-05-14 09:20:11"),
            ("2024-05-14 09:59:59.6", "2024-05-14 10:00:00"),
            ("-0600-05-14 23:59:59.9", "-0600-05-14 23:59:59"),
            ("06:49:39.5", "06:49:40"),
            ("09:20:00", "09:20:00"),
            ("no time", "no time"),
        ] {
            assert_eq!(whole_seconds(kept), said);
        }
    }
}
