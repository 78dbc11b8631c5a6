use desk::{ClassReport, PupilReport};
use press::{Block, Column, Handout, Table};

/// The list that a teacher has at the desk: what to teach next, what is common, and how
/// everyone in the room fared.
#[must_use]
pub fn seating_list(class: &str, report: &ClassReport) -> Handout {
    let mut blocks = vec![Block::Title(format!("{class}: seating list"))];
    let answered = report.pupils.iter().filter(|one| one.sheets > 0).count();
    blocks.push(Block::Lead(format!(
        "{answered} of {} have answered",
        report.pupils.len()
    )));
    if !report.next.is_empty() {
        blocks.push(Block::Heading("What to teach next".to_owned()));
        blocks.push(Block::Table(Table {
            columns: vec![
                Column::right("", 6.0),
                Column::left("what", 106.0),
                Column::left("for", 60.0),
            ],
            rows: (1..)
                .zip(&report.next)
                .map(|(number, one)| {
                    vec![
                        format!("{number}."),
                        one.sentence.clone(),
                        all_or(&one.pupils),
                    ]
                })
                .collect(),
            ..Table::default()
        }));
    }
    if !report.common.is_empty() {
        blocks.push(Block::Heading("What is common".to_owned()));
        blocks.push(Block::Table(Table {
            columns: vec![
                Column::left("what was done", 82.0),
                Column::right("times", 12.0),
                Column::left("by", 78.0),
            ],
            rows: report
                .common
                .iter()
                .map(|one| {
                    vec![
                        one.words.clone(),
                        one.times.to_string(),
                        one.pupils.join(", "),
                    ]
                })
                .collect(),
            ..Table::default()
        }));
    }
    blocks.push(Block::Heading("In the room".to_owned()));
    blocks.push(Block::Table(Table {
        columns: vec![
            Column::left("", 44.0),
            Column::right("right", 18.0),
            Column::left("what was done", 110.0),
        ],
        rows: report.pupils.iter().map(of_pupil).collect(),
        ..Table::default()
    }));
    Handout {
        title: format!("{class}: seating list"),
        foot: String::new(),
        blocks,
    }
}

fn all_or(pupils: &[String]) -> String {
    if pupils.is_empty() {
        "all".to_owned()
    } else {
        pupils.join(", ")
    }
}

fn of_pupil(pupil: &PupilReport) -> Vec<String> {
    let right = if pupil.sheets == 0 {
        "–".to_owned()
    } else {
        format!("{} of {}", pupil.right, pupil.of)
    };
    vec![pupil.name.clone(), right, pupil.slips.join(" ")]
}
