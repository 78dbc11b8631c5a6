use desk::words::{Angle, Zodiacal};
use desk::{ReckonAnswer, RoadsAnswer, SheetStepAnswer, WhyOne};
use press::{Block, Column, Handout, SumRow, Table};

/// A figure worked with the pen, as a sheet: every step with the cells it takes and its
/// lines, then what was found beside what is calculated.
#[must_use]
pub fn reckoned_handout(answer: &ReckonAnswer) -> Handout {
    let mut blocks = vec![
        Block::Title(answer.working.title.clone()),
        Block::Lead(format!(
            "{} ({} calendar); {}",
            answer.moment.clock_time, answer.moment.calendar, answer.place.name
        )),
    ];
    let tables = answer.working.tables.iter();
    blocks.push(Block::Heading("The tables".to_owned()));
    blocks.push(Block::Table(Table {
        columns: vec![Column::left("", 50.0), Column::left("", 120.0)],
        rows: tables
            .map(|table| vec![table.name.to_owned(), table.title.clone()])
            .collect(),
        summed: false,
        whole: true,
        close: false,
    }));
    blocks.push(Block::Heading("The sheet".to_owned()));
    for (index, step) in answer.working.steps.iter().enumerate() {
        blocks.push(Block::Intro(format!("{}. {}", index + 1, step.instruction)));
        blocks.extend(step_blocks(step));
    }
    blocks.push(Block::Heading("Found, and calculated".to_owned()));
    blocks.push(Block::Table(compared(answer)));
    blocks.push(Block::Heading("Why they differ".to_owned()));
    let whys = [&answer.why.ascendant, &answer.why.midheaven];
    let moon = answer.why.bodies.iter().filter(|one| one.name == "Moon");
    let sentences = whys.into_iter().chain(moon.map(|one| &one.why));
    blocks.extend(
        sentences
            .filter_map(|why| why.sentence.clone().or(why.reason.clone()))
            .map(Block::Text),
    );
    if let Some(roads) = &answer.roads {
        three_roads(roads, &mut blocks);
    }
    blocks.push(Block::Small(
        "A chart is no medical, legal or financial advice.".to_owned(),
    ));
    Handout {
        title: answer.working.title.clone(),
        foot: answer.place.name.clone(),
        blocks,
    }
}

/// Pen, brass and calculation beside each other.
fn three_roads(roads: &RoadsAnswer, blocks: &mut Vec<Block>) {
    let said = |deg: Option<f64>| {
        deg.map_or("–".to_owned(), |deg| {
            Zodiacal(Angle::from_deg(deg)).to_string()
        })
    };
    blocks.push(Block::Heading(format!(
        "Three roads, with {}",
        roads.instrument
    )));
    if let Some(reason) = &roads.reason {
        blocks.push(Block::Text(reason.clone()));
        return;
    }
    blocks.push(Block::Table(Table {
        columns: vec![
            Column::left("", 36.0),
            Column::left("tables and pen", 42.0),
            Column::left("brass", 42.0),
            Column::left("calculated", 42.0),
        ],
        rows: roads
            .numbers
            .iter()
            .map(|one| {
                vec![
                    one.what.trim_start_matches("The ").to_owned(),
                    said(one.pen_deg),
                    said(one.brass_deg),
                    said(one.calculated_deg),
                ]
            })
            .collect(),
        summed: false,
        whole: true,
        close: false,
    }));
    let angles = roads.numbers.iter().take(2);
    let sentences = angles.flat_map(|one| &one.between);
    blocks.extend(sentences.map(|two| Block::Text(two.sentence.clone())));
}

fn step_blocks(step: &SheetStepAnswer) -> Vec<Block> {
    let mut blocks: Vec<Block> = Vec::new();
    let takes: Vec<String> = step
        .takes
        .iter()
        .map(|taken| {
            format!(
                "From {}, row {}, column {}: {}.",
                taken.table, taken.row, taken.column, taken.cell
            )
        })
        .collect();
    if !takes.is_empty() {
        blocks.push(Block::Small(takes.join(" ")));
    }
    let lines = step.lines.iter().map(|line| {
        let makes = line.sign == "=";
        SumRow {
            words: line.what.clone(),
            reason: String::new(),
            amount: if makes {
                String::new()
            } else {
                format!("{} {}", line.sign, line.figure).trim().to_owned()
            },
            result: if makes {
                line.figure.clone()
            } else {
                String::new()
            },
        }
    });
    blocks.push(Block::Sum(lines.collect()));
    blocks
}

fn compared(answer: &ReckonAnswer) -> Table {
    let said = |deg: Option<f64>| {
        deg.map_or("–".to_owned(), |deg| {
            Zodiacal(Angle::from_deg(deg)).to_string()
        })
    };
    let minutes = |deg: f64| {
        // A tenth of a minute; adding nothing turns a negative zero into a plain one.
        let tenths = (deg * 600.0).round() / 10.0 + 0.0;
        format!("{tenths:.1}′").replace('-', "−")
    };
    let row = |name: &str, why: &WhyOne, within_deg: f64| {
        vec![
            name.to_owned(),
            said(why.read_deg),
            said(why.exact_deg),
            why.difference_deg.map_or("–".to_owned(), minutes),
            minutes(within_deg),
        ]
    };
    let why = &answer.why;
    let within = &answer.within;
    let mut rows = vec![row("midheaven", &why.midheaven, within.cusps_deg[9])];
    let numerals = ["XI", "XII", "ascendant", "II", "III"];
    for (name, index) in numerals.into_iter().zip([10, 11, 0, 1, 2]) {
        rows.extend(
            why.cusps
                .get(index)
                .map(|why| row(name, why, within.cusps_deg[index])),
        );
    }
    let bodies = why.bodies.iter().zip(&within.bodies_deg);
    rows.extend(bodies.map(|(one, within)| row(one.name, &one.why, *within)));
    rows.push(row("lot of Fortune", &why.fortune, within.fortune_deg));
    Table {
        columns: vec![
            Column::left("", 36.0),
            Column::left("found", 40.0),
            Column::left("calculated", 40.0),
            Column::right("apart", 24.0),
            Column::right("within, by the tables", 30.0),
        ],
        rows,
        summed: false,
        whole: true,
        close: false,
    }
}
