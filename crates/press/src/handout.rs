use std::sync::Arc;

use crate::code::Code;
use drawing::Scene;
use instrument::Point;

/// A document to be handed out: what stands in it, in order. Where the pages end is
/// the press's affair.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Handout {
    /// What it is called: the document's title, and the left of every foot.
    pub title: String,
    /// What stands in the middle of every foot, such as the seed it was drawn with.
    pub foot: String,
    /// What it consists of.
    pub blocks: Vec<Block>,
}

/// A piece of a handout.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// What follows begins on a page of its own.
    NewPage,
    /// The title, in large letters.
    Title(String),
    /// The titles that stand behind it, each with its page.
    Contents,
    /// A line under the title.
    Lead(String),
    /// A heading; it never stands alone at the foot of a page.
    Heading(String),
    /// A paragraph.
    Text(String),
    /// A paragraph that stands on the page of what comes after it.
    Intro(String),
    /// A paragraph in small italics.
    Small(String),
    /// A line for a pupil to write on, after its name.
    WriteIn(Vec<String>),
    /// A sum as on paper.
    Sum(Vec<SumRow>),
    /// A form to be filled in; it is never parted.
    Form(Form),
    /// A numbered step.
    Step(Box<StepBlock>),
    /// An instrument with names at its sides, as broad as the page and three fifths as high.
    Named(Box<Picture>),
    /// A table; its head is said again where it goes on on another page.
    Table(Table),
    /// A table of figures, as close as it is read by lamplight.
    Figures(FigureTable),
    /// A code for telephones, and beside it what it is for.
    Code(CodeBlock),
    /// A question with room for answers; it is never parted.
    Question(Question),
}

/// A code for telephones.
#[derive(Clone, Debug, PartialEq)]
pub struct CodeBlock {
    /// The code.
    pub code: Code,
    /// What it is for.
    pub words: String,
}

/// A table of figures: its rows stand in fives, in as many strips side by side as the
/// page has room for.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FigureTable {
    /// What stands above each column, the argument's first: its name, and what its
    /// figures count.
    pub heads: Vec<[String; 2]>,
    /// Its parts.
    pub parts: Vec<FigurePart>,
}

/// Rows of figures under one heading.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FigurePart {
    /// The heading; empty where there is none.
    pub heading: String,
    /// The rows, a figure for each column.
    pub rows: Vec<Vec<Figure>>,
    /// What is told beneath, a paragraph each.
    pub notes: Vec<String>,
}

/// What stands in one place of a table of figures.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Figure {
    /// The character of the sign that it stands in; it is printed where it changes.
    pub sign: Option<char>,
    /// The figures.
    pub text: String,
    /// Whether they are words, which begin at the column's left edge.
    pub is_words: bool,
}

/// A line of a sum: what is put on or taken off, and what comes of it.
#[derive(Clone, Debug, PartialEq)]
pub struct SumRow {
    /// What it is.
    pub words: String,
    /// Why so much, in small letters; empty where that needs no saying.
    pub reason: String,
    /// The amount with its sign; empty for the first line.
    pub amount: String,
    /// What comes of it.
    pub result: String,
}

/// A form to be filled in: several alike beside each other, a line for each number of them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Form {
    /// What stands above each column.
    pub columns: Vec<String>,
    /// Its lines.
    pub lines: Vec<FormLine>,
}

/// A line of a form.
#[derive(Clone, Debug, PartialEq)]
pub struct FormLine {
    /// What is to be written.
    pub words: String,
    /// What is done with it, before each place to write in.
    pub sign: String,
    /// Whether it is what comes of the lines above.
    pub makes: bool,
}

/// A step of a working.
#[derive(Clone, Debug, PartialEq)]
pub struct StepBlock {
    /// Its number.
    pub number: usize,
    /// What to do.
    pub text: String,
    /// Where to look, and how finely it is read, in small letters.
    pub remark: String,
    /// The instrument after it.
    pub picture: Option<Picture>,
}

/// An instrument in a small picture, and what is read on it under a glass.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// The whole of it. Lines that are lit are drawn in heavy black, all others in grey.
    pub scene: Arc<Scene>,
    /// Where to look, as a part of the reach to the right and downwards.
    pub look_at: Option<Point>,
    /// The place to look at, enlarged.
    pub glass: Option<Glass>,
}

/// A part of an instrument under a glass.
#[derive(Clone, Debug, PartialEq)]
pub struct Glass {
    /// The instrument at its own size.
    pub scene: Arc<Scene>,
    /// The middle of what is seen, in millimetres to the right and downwards.
    pub at: Point,
    /// How far from there is seen, in millimetres.
    pub shows_mm: f64,
}

/// A table.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows, a text for each column.
    pub rows: Vec<Vec<String>>,
    /// Whether a line stands above the last row, as above a sum.
    pub summed: bool,
    /// Whether it stands on one page, where it is no longer than that.
    pub whole: bool,
    /// Whether it is set as close as can be, in small letters; what begins a row then goes on
    /// beside the rows beneath that begin with nothing.
    pub close: bool,
}

/// A column of a table.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// Its heading.
    pub head: String,
    /// How broad it is against the others.
    pub share: f64,
    /// Whether its texts end at its right edge.
    pub right: bool,
}

impl Column {
    /// A column whose texts begin at its left edge.
    #[must_use]
    pub fn left(head: &str, share: f64) -> Column {
        Column {
            head: head.to_owned(),
            share,
            right: false,
        }
    }

    /// A column whose texts end at its right edge.
    #[must_use]
    pub fn right(head: &str, share: f64) -> Column {
        Column {
            right: true,
            ..Column::left(head, share)
        }
    }
}

/// A question of an exercise.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// Its number.
    pub number: usize,
    /// What is asked.
    pub text: String,
    /// What is given with it, one a line.
    pub given: Vec<String>,
    /// What is to be written down, each on a line of its own.
    pub asks: Vec<String>,
}
