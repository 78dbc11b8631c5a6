use std::fmt;

use instrument::{LineId, Part};

use crate::glossary;
use crate::shown::Shown;

/// What is said, in runs: each knows what of the instrument it names, the finer number
/// behind the one it tells, and whether it tells what is to be found.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sentence {
    runs: Vec<Run>,
}

/// A piece of a sentence.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Run {
    /// The words.
    pub text: String,
    /// The parts and lines that they name.
    pub shows: Vec<Shown>,
    /// The word of the glossary that explains them.
    pub word: Option<&'static str>,
    /// The number as it was found, where the words tell it as the instrument can show it.
    pub finer: Option<String>,
    /// Whether it tells what the step finds: who asks for it leaves this out.
    pub found: bool,
}

impl Sentence {
    /// The sentence as plain text.
    #[must_use]
    pub fn text(&self) -> String {
        self.runs.iter().map(|run| run.text.as_str()).collect()
    }

    /// Its runs, in order: their texts put together are the text.
    #[must_use]
    pub fn runs(&self) -> &[Run] {
        &self.runs
    }

    /// Words that name a line.
    pub(crate) fn line(text: impl Into<String>, line: LineId) -> Sentence {
        let word = glossary::of_line(&line).map(|record| record.word);
        Sentence::of(Run {
            text: text.into(),
            shows: vec![Shown::Line(line)],
            word,
            ..Run::default()
        })
    }

    /// Words that name a part.
    pub(crate) fn part(text: &str, part: Part) -> Sentence {
        Sentence::of(Run {
            text: text.to_owned(),
            word: glossary::of_part(part).map(|record| record.word),
            shows: vec![Shown::Part(part)],
            ..Run::default()
        })
    }

    /// A number as the instrument can show it, with the finer one behind it.
    pub(crate) fn number(text: impl Into<String>, finer: impl Into<String>) -> Sentence {
        let (text, finer) = (text.into(), finer.into());
        Sentence::of(Run {
            finer: (text != finer).then_some(finer),
            text,
            ..Run::default()
        })
    }

    fn of(run: Run) -> Sentence {
        Sentence { runs: vec![run] }
    }

    /// The same, as what a step finds.
    pub(crate) fn marked_found(mut self) -> Sentence {
        for run in &mut self.runs {
            run.found = true;
        }
        self
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.runs.iter().all(|run| run.text.is_empty())
    }

    /// The same with more behind it.
    pub(crate) fn then(mut self, more: impl Piece) -> Sentence {
        more.put_behind(&mut self);
        self
    }

    /// Its runs, to keep.
    #[must_use]
    pub fn into_runs(self) -> Vec<Run> {
        self.runs
    }

    /// The words at its end, where they say no more than themselves.
    fn plain_end(&mut self) -> Option<&mut Run> {
        self.runs.last_mut().filter(|run| run.is_plain())
    }
}

impl Run {
    fn is_plain(&self) -> bool {
        self.shows.is_empty() && self.word.is_none() && self.finer.is_none()
    }

    fn plain(text: String) -> Run {
        Run {
            text,
            ..Run::default()
        }
    }
}

/// What can be put behind a sentence: plain words lengthen a run that is plain too.
pub(crate) trait Piece {
    fn put_behind(self, sentence: &mut Sentence);
}

impl Piece for &str {
    fn put_behind(self, sentence: &mut Sentence) {
        match sentence.plain_end().filter(|end| !end.found) {
            _ if self.is_empty() => {}
            Some(end) => end.text.push_str(self),
            None => sentence.runs.push(Run::plain(self.to_owned())),
        }
    }
}

impl Piece for String {
    fn put_behind(self, sentence: &mut Sentence) {
        match sentence.plain_end().filter(|end| !end.found) {
            _ if self.is_empty() => {}
            Some(end) => end.text.push_str(&self),
            None => sentence.runs.push(Run::plain(self)),
        }
    }
}

impl Piece for Sentence {
    fn put_behind(self, sentence: &mut Sentence) {
        for run in self.runs {
            let alike = |end: &&mut Run| run.is_plain() && end.found == run.found;
            match sentence.plain_end().filter(alike) {
                _ if run.text.is_empty() => {}
                Some(end) => end.text.push_str(&run.text),
                None => sentence.runs.push(run),
            }
        }
    }
}

impl From<&str> for Sentence {
    fn from(text: &str) -> Sentence {
        Sentence::from(text.to_owned())
    }
}

impl From<String> for Sentence {
    fn from(text: String) -> Sentence {
        Sentence::of(Run::plain(text))
    }
}

impl fmt::Display for Sentence {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text())
    }
}

/// Pieces put together to a sentence.
macro_rules! said {
    ($($piece:expr),+ $(,)?) => {
        $crate::sentence::Sentence::default()$(.then($piece))+
    };
}
pub(crate) use said;
