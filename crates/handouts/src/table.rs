use desk::{Cell, PrintedTable, Table};
use press::{Block, Figure, FigurePart, FigureTable, Handout};

/// A table by itself: what it says of itself, then its rows.
#[must_use]
pub fn table_handout(printed: &PrintedTable) -> Handout {
    let title = printed.answer.title.clone();
    Handout {
        blocks: table_blocks(printed),
        title,
        foot: String::new(),
    }
}

/// A book of tables: a page of contents, then each table on pages of its own.
#[must_use]
pub fn table_book_handout(tables: &[PrintedTable]) -> Handout {
    let title = "Tables for working with the pen".to_owned();
    let mut blocks = vec![
        Block::Title(title.clone()),
        Block::Lead(
            "Every number is printed with the digits it is true to; between two rows one goes in \
             proportion, and each table says what that costs."
                .to_owned(),
        ),
        Block::Heading("Contents".to_owned()),
        Block::Contents,
        Block::Small("A chart is no medical, legal or financial advice.".to_owned()),
    ];
    for printed in tables {
        blocks.push(Block::NewPage);
        blocks.extend(table_blocks(printed));
    }
    Handout {
        title,
        foot: String::new(),
        blocks,
    }
}

fn table_blocks(printed: &PrintedTable) -> Vec<Block> {
    let answer = &printed.answer;
    let mut blocks = vec![Block::Title(answer.title.clone())];
    let told = answer.definitions.iter().chain([&answer.rounding]);
    let told = told.chain(&answer.interpolation);
    blocks.extend(told.map(|sentence| Block::Small(sentence.clone())));
    blocks.push(Block::Figures(figure_table(&printed.table)));
    blocks
}

fn figure_table(table: &Table) -> FigureTable {
    let columns = std::iter::once(&table.head.argument).chain(&table.head.columns);
    FigureTable {
        heads: columns
            .map(|column| {
                let units = column.form.map_or("", |form| form.units());
                let head = column.head.as_str();
                // Where the head is nothing but the units it is said once.
                let name = if head == units { "" } else { head };
                [name.to_owned(), units.to_owned()]
            })
            .collect(),
        parts: table
            .parts
            .iter()
            .map(|part| FigurePart {
                heading: part.heading.clone(),
                rows: part
                    .rows
                    .iter()
                    .map(|row| {
                        let cells = std::iter::once(&row.argument).chain(&row.cells);
                        cells.map(figure).collect()
                    })
                    .collect(),
                notes: part.notes.clone(),
            })
            .collect(),
    }
}

fn figure(cell: &Cell) -> Figure {
    Figure {
        sign: cell.sign().map(|sign| sign.symbol()),
        text: match cell {
            Cell::Figure(figure) => figure.bare(),
            other @ (Cell::Words(_) | Cell::Nothing) => other.to_string(),
        },
        is_words: matches!(cell, Cell::Words(words) if words.parse::<u8>().is_err()),
    }
}
