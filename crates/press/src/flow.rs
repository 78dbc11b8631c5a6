use crate::fitting::shortened_to;
use crate::handout::Handout;
use crate::leaf::Words;
use crate::order::PageSize;
use crate::parted::Parted;
use crate::row::{EDGE, PageMark, Row, room};
use crate::rows::Setter;
use drawing::{Face, text_width};
use instrument::Point;

/// A page of marks.
#[derive(Clone, Debug, Default)]
pub(crate) struct Sheet<'a> {
    pub(crate) marks: Vec<PageMark<'a>>,
}

/// A handout laid out on pages.
pub(crate) fn pages(handout: &Handout, size: PageSize) -> Vec<Sheet<'_>> {
    let rows = Setter::on(size).rows(handout);
    let room = room(size);
    let mut sheets: Vec<Sheet<'_>> = Vec::new();
    let mut titles = Vec::new();
    for chapter in chapters(&rows) {
        let (rows, begins) = filled(chapter, room);
        let mut y = 0.0;
        for (n, row) in rows.iter().enumerate() {
            if begins.contains(&n) {
                sheets.push(Sheet::default());
                y = 0.0;
                if let (Some(head), true) = (&row.head, sheets.len() > 1) {
                    put(&mut sheets, head, 0.0);
                    y += head.height;
                }
            } else {
                y += row.above;
            }
            if row.is_title {
                titles.push(sheets.len());
            }
            put(&mut sheets, row, y);
            y += row.height;
        }
    }
    if sheets.is_empty() {
        sheets.push(Sheet::default());
    }
    for mark in sheets.iter_mut().flat_map(|sheet| &mut sheet.marks) {
        if let PageMark::PageOf {
            title,
            end,
            size_mm,
        } = *mark
        {
            let page = titles.get(title).map_or(String::new(), usize::to_string);
            *mark = PageMark::Words(Words {
                at: Point {
                    x: end.x - text_width(&page, Face::Roman) * size_mm,
                    y: end.y,
                },
                size_mm,
                face: Face::Roman,
                text: page,
            });
        }
    }
    let count = sheets.len();
    for (number, sheet) in sheets.iter_mut().enumerate() {
        foot(sheet, handout, size, number + 1, count);
    }
    sheets
}

/// The rows from one that begins a page to the next such.
fn chapters<'r, 'a>(rows: &'r [Row<'a>]) -> impl Iterator<Item = &'r [Row<'a>]> {
    rows.chunk_by(|_, next| !next.breaks)
}

/// The rows of a chapter, and which of them begin pages. Where the last page would be less
/// than half full, what the rows can spare is taken away, if that saves the page; else the
/// last two pages are parted evenly.
fn filled<'a>(rows: &[Row<'a>], room: f64) -> (Vec<Row<'a>>, Vec<usize>) {
    let as_it_is = Parted::of(rows, room, room);
    if as_it_is.begins.len() < 2 || as_it_is.last >= 0.5 * room {
        return (rows.to_vec(), as_it_is.begins);
    }
    for part in [0.25, 0.5, 0.75, 1.0] {
        let rows = closed_up(rows, part);
        let parted = Parted::of(&rows, room, room);
        if parted.begins.len() < as_it_is.begins.len() {
            return (rows, parted.begins);
        }
    }
    // Where the last two pages are parted, the least high that holds them both.
    let mut begins = as_it_is.begins;
    begins.pop();
    let before_last = begins.last().copied().unwrap_or_default();
    let (_, last_two) = rows.split_at(before_last);
    let (mut low, mut high) = (0.4 * room, room);
    while high - low > 2.0 {
        let limit = f64::midpoint(low, high);
        if Parted::of(last_two, room, limit).begins.len() > 2 {
            low = limit;
        } else {
            high = limit;
        }
    }
    let evenly = Parted::of(last_two, room, high).begins.into_iter().skip(1);
    begins.extend(evenly.map(|row| before_last + row));
    (rows.to_vec(), begins)
}

/// Rows nearer to one another, by a part of what they can spare.
fn closed_up<'a>(rows: &[Row<'a>], part: f64) -> Vec<Row<'a>> {
    /// So much of a gap can be spared.
    const OF_GAPS: f64 = 0.5;
    let closed = rows.iter().cloned().map(|row| Row {
        above: row.above * (1.0 - OF_GAPS * part),
        height: row.height - row.spare * part,
        ..row
    });
    closed.collect()
}

fn put<'a>(sheets: &mut [Sheet<'a>], row: &Row<'a>, y: f64) {
    let down = Point {
        x: 0.0,
        y: y + EDGE,
    };
    if let Some(sheet) = sheets.last_mut() {
        let moved = row.marks.iter().map(|mark| mark.moved(down));
        sheet.marks.extend(moved);
    }
}

/// The title, what else is said on every page, and the page's number.
fn foot(sheet: &mut Sheet<'_>, handout: &Handout, size: PageSize, number: usize, count: usize) {
    const SIZE: f64 = 2.9;
    let y = size.height_mm - 11.0;
    let (left, right) = (EDGE, size.width_mm - EDGE);
    sheet.marks.push(PageMark::Rule {
        from: Point {
            x: left,
            y: y - 4.2,
        },
        to: Point {
            x: right,
            y: y - 4.2,
        },
        width_mm: 0.1,
        dotted: false,
    });
    let mut write = |text: String, x: f64, part: f64| {
        let long = text_width(&text, Face::Italic) * SIZE;
        sheet.marks.push(PageMark::Words(Words {
            at: Point {
                x: x - long * part,
                y,
            },
            size_mm: SIZE,
            face: Face::Italic,
            text,
        }));
        long
    };
    let page = format!("page {number} of {count}");
    let taken = write(page, right, 1.0);
    let middle = text_width(&handout.foot, Face::Italic) * SIZE;
    let room = right - left - taken - middle - 12.0;
    write(
        shortened_to(&handout.title, room / SIZE, Face::Italic),
        left,
        0.0,
    );
    if !handout.foot.is_empty() {
        write(handout.foot.clone(), right - taken - 6.0, 1.0);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::handout::{
        Block, CodeBlock, Column, Figure, FigurePart, FigureTable, Picture, Question, StepBlock,
        SumRow, Table,
    };
    use crate::row::BOTTOM;
    use drawing::{Scene, Setting, front};
    use instrument::{Instrument, Specification};
    use proptest::prelude::*;

    fn scene() -> Scene {
        let text = include_str!("../../../data/cabinet/pocket.toml");
        let instrument = Instrument::new(Specification::from_toml(text).unwrap());
        front(
            &instrument,
            &Setting::at_rest(instrument.specification().plates[0]),
        )
    }

    fn text() -> impl Strategy<Value = String> {
        prop_oneof![
            "[a-zé ]{0,400}",
            // A word that no line holds.
            "[A-Z]{150}",
            Just(String::new()),
            Just("26°36′ Cancer’s “line”".to_owned()),
        ]
    }

    fn table() -> impl Strategy<Value = Block> {
        let rows = prop::collection::vec([text(), text(), text()], 0..30);
        (rows, any::<bool>()).prop_map(|(rows, whole)| {
            Block::Table(Table {
                columns: vec![
                    Column::left("name", 1.0),
                    Column::right("a long heading of a column", 2.0),
                    Column::left("on", 3.0),
                ],
                rows: rows.into_iter().map(Vec::from).collect(),
                summed: true,
                whole,
                close: false,
            })
        })
    }

    /// Narrow and broad ones, short and long, with signs and without.
    fn figures() -> impl Strategy<Value = Block> {
        (1..40usize, 0..130usize, 1..4usize).prop_map(|(columns, rows, parts)| {
            let figure = |sign: usize| Figure {
                sign: (!sign.is_multiple_of(3)).then_some('♈'),
                text: "26 36".to_owned(),
                is_words: sign.is_multiple_of(5),
            };
            let part = FigurePart {
                heading: "Aries".to_owned(),
                rows: vec![(0..columns).map(figure).collect(); rows],
                notes: vec!["what is told beneath".to_owned()],
            };
            Block::Figures(FigureTable {
                heads: vec![["a long heading".to_owned(), "° ′".to_owned()]; columns],
                parts: vec![part; parts],
            })
        })
    }

    fn block() -> impl Strategy<Value = Block> {
        prop_oneof![
            Just(Block::NewPage),
            Just(Block::Contents),
            figures(),
            text().prop_map(Block::Title),
            text().prop_map(Block::Lead),
            text().prop_map(Block::Heading),
            text().prop_map(Block::Text),
            text().prop_map(Block::Intro),
            text().prop_map(Block::Small),
            Just(Block::WriteIn(vec!["name".to_owned(), "date".to_owned()])),
            (text(), text()).prop_map(|(words, reason)| Block::Sum(vec![
                SumRow {
                    words,
                    reason,
                    amount: "− 34 m 11 s".to_owned(),
                    result: "6 h 49 m 28 s".to_owned(),
                };
                3
            ])),
            (text(), text(), any::<bool>()).prop_map(|(text, remark, pictured)| {
                Block::Step(Box::new(StepBlock {
                    number: 17,
                    text,
                    remark,
                    picture: pictured.then(|| Picture {
                        scene: scene().into(),
                        look_at: None,
                        glass: None,
                    }),
                }))
            }),
            table(),
            text().prop_map(|words| Block::Code(CodeBlock {
                code: crate::Code::of("https://example.org/").unwrap(),
                words,
            })),
            (text(), prop::collection::vec(text(), 0..9)).prop_map(|(text, asks)| {
                Block::Question(Question {
                    number: 3,
                    text,
                    given: asks.clone(),
                    asks,
                })
            }),
        ]
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 60, ..ProptestConfig::default() })]

        #[test]
        fn nothing_leaves_its_page(
            blocks in prop::collection::vec(block(), 0..14),
            title in text(),
            letter: bool,
        ) {
            let size = if letter { PageSize::LETTER } else { PageSize::A4 };
            let handout = Handout { title, foot: "drawn with seed 7".to_owned(), blocks };
            for sheet in pages(&handout, size) {
                let foot = size.height_mm - BOTTOM;
                for mark in &sheet.marks {
                    let (low, high) = match mark {
                        PageMark::Words(words) => {
                            let long = text_width(&words.text, words.face) * words.size_mm;
                            let high = Point { x: words.at.x + long, y: words.at.y };
                            (words.at, high)
                        }
                        PageMark::Rule { from, to, .. } => (*from, *to),
                        PageMark::PageOf { end, .. } => (*end, *end),
                        PageMark::Code { corner, wide_mm, .. } => {
                            let by = Point { x: *wide_mm, y: *wide_mm };
                            (*corner, *corner + by)
                        }
                        PageMark::Picture { centre, radius_mm, .. }
                        | PageMark::Glass { centre, radius_mm, .. } => {
                            let by = Point { x: *radius_mm, y: *radius_mm };
                            (*centre - by, *centre + by)
                        }
                    };
                    prop_assert!(low.x >= EDGE - 0.5, "{low:?} {mark:?}");
                    prop_assert!(high.x <= size.width_mm - EDGE + 0.5, "{high:?} {mark:?}");
                    prop_assert!(low.y >= EDGE - 1.0, "{mark:?}");
                    let in_foot = low.y > size.height_mm - 16.0;
                    prop_assert!(in_foot || high.y <= foot + 1.0, "{mark:?}");
                }
            }
        }
    }

    #[test]
    fn no_heading_stands_alone_at_the_foot() {
        let mut blocks = Vec::new();
        for n in 0..60 {
            blocks.push(Block::Heading(format!("heading {n}")));
            let lines = "word ".repeat(20 + n * 7 % 50);
            blocks.push(Block::Text(lines));
        }
        let handout = Handout {
            title: "headings".to_owned(),
            foot: String::new(),
            blocks,
        };
        for size in [PageSize::A4, PageSize::LETTER] {
            let sheets = pages(&handout, size);
            assert!(sheets.len() > 4);
            for sheet in &sheets {
                let foot = size.height_mm - 16.0;
                let lowest = sheet
                    .marks
                    .iter()
                    .filter_map(|mark| match mark {
                        PageMark::Words(words) if words.at.y < foot => Some(words),
                        _ => None,
                    })
                    .max_by(|a, b| a.at.y.total_cmp(&b.at.y))
                    .unwrap();
                assert!(!lowest.text.starts_with("heading"), "{}", lowest.text);
            }
        }
    }

    /// How far down each page goes, above its foot.
    fn filled_to(sheets: &[Sheet<'_>], size: PageSize) -> Vec<f64> {
        let foot = size.height_mm - BOTTOM;
        let down = |mark: &PageMark<'_>| match mark {
            PageMark::Words(words) => words.at.y,
            PageMark::Rule { to, .. } => to.y,
            _ => 0.0,
        };
        let of_sheet = |sheet: &Sheet<'_>| {
            let all = sheet.marks.iter().map(down).filter(|y| *y < foot);
            all.fold(0.0, f64::max)
        };
        sheets.iter().map(of_sheet).collect()
    }

    #[test]
    fn no_last_page_is_almost_empty() {
        let question = |number: usize, asks: usize| {
            Block::Question(Question {
                number,
                text: "What is asked. ".repeat(9),
                given: Vec::new(),
                asks: vec!["ascendant".to_owned(); asks],
            })
        };
        for size in [PageSize::A4, PageSize::LETTER] {
            for count in 1..40 {
                let blocks = (1..=count).map(|number| question(number, 1 + number % 4));
                let handout = Handout {
                    blocks: blocks.collect(),
                    ..Handout::default()
                };
                let down = filled_to(&pages(&handout, size), size);
                // The lowest row reaches a line below its words.
                let half = EDGE + 0.5 * (size.height_mm - EDGE - BOTTOM) - 4.0;
                let (last, others) = down.split_last().unwrap();
                // As high as a question, by which pages cannot but differ.
                let even = others.iter().all(|one| one - last < 46.0);
                assert!(
                    others.is_empty() || *last > half || even,
                    "{count}: {down:?}"
                );
            }
        }
    }

    #[test]
    fn what_a_page_cannot_quite_hold_is_closed_up() {
        let question = |number| {
            Block::Question(Question {
                number,
                text: "What is asked.".to_owned(),
                given: Vec::new(),
                asks: vec!["ascendant".to_owned(); 3],
            })
        };
        let handout = |count| Handout {
            blocks: (1..=count).map(question).collect(),
            ..Handout::default()
        };
        let pages_of = |count| pages(&handout(count), PageSize::A4).len();
        // 34.8 mm each and 7 before it but for the first: seven fit, and an eighth closed up.
        assert_eq!([7, 8, 9].map(pages_of), [1, 1, 2]);
    }

    /// A long table goes down one strip and then the one beside it, page after page, on as
    /// few pages as its figures let it.
    #[test]
    fn a_long_table_fills_both_halves_of_its_pages_in_order() {
        let row = |number: usize| {
            let figure = |text: String| Figure {
                text,
                ..Figure::default()
            };
            let cells = (0..6).map(|_| figure("26 36".to_owned()));
            std::iter::once(figure(format!("row {number:03}")))
                .chain(cells)
                .collect()
        };
        for count in [36, 90, 200, 360, 361] {
            let part = FigurePart {
                rows: (0..count).map(row).collect(),
                ..FigurePart::default()
            };
            let handout = Handout {
                title: "a long table".to_owned(),
                foot: String::new(),
                blocks: vec![
                    Block::Title("A long table".to_owned()),
                    Block::Figures(FigureTable {
                        heads: vec![["column".to_owned(), "° ′".to_owned()]; 7],
                        parts: vec![part],
                    }),
                ],
            };
            let sheets = pages(&handout, PageSize::A4);
            // Fewer than 75 rows beneath each other are none that can be read.
            assert_eq!(sheets.len(), (count + 30).div_ceil(2 * 75), "{count}");
            let mut next = 0;
            for sheet in &sheets {
                let mut found: Vec<(bool, f64, &str)> = Vec::new();
                for mark in &sheet.marks {
                    if let PageMark::Words(words) = mark
                        && let Some(number) = words.text.strip_prefix("row ")
                    {
                        // Arguments stand at the left of their strip.
                        let is_right = words.at.x > 60.0;
                        found.push((is_right, words.at.y, number));
                    }
                }
                found.sort_by(|one, other| one.partial_cmp(other).unwrap());
                let rights = found.iter().filter(|(is_right, ..)| *is_right).count();
                assert!(found.len() - rights >= rights && found.len() <= 2 * rights + 10);
                for (_, _, number) in found {
                    assert_eq!(number, format!("{next:03}"));
                    next += 1;
                }
            }
            assert_eq!(next, count);
        }
    }

    #[test]
    fn contents_say_on_which_page_a_title_is() {
        let mut blocks = vec![Block::Title("book".to_owned()), Block::Contents];
        for title in ["one", "two", "three"] {
            blocks.push(Block::NewPage);
            blocks.push(Block::Title(title.to_owned()));
            // Two pages and a little.
            blocks.extend(vec![Block::Text("a line".to_owned()); 80]);
        }
        let handout = Handout {
            title: "book".to_owned(),
            foot: String::new(),
            blocks,
        };
        let sheets = pages(&handout, PageSize::A4);
        let words = |sheet: &Sheet<'_>| {
            let texts = sheet.marks.iter().filter_map(|mark| match mark {
                PageMark::Words(words) => Some(words.text.clone()),
                _ => None,
            });
            texts.collect::<Vec<String>>()
        };
        let contents = words(&sheets[0]);
        for title in ["one", "two", "three"] {
            let line = contents.iter().position(|text| text == title).unwrap();
            let page: usize = contents[line + 1].parse().unwrap();
            assert_eq!(words(&sheets[page - 1])[0], title);
        }
    }

    #[test]
    fn a_table_says_its_head_again_on_every_page() {
        let row = vec!["ascendant".to_owned(), "26°36′ Cancer".to_owned()];
        let handout = Handout {
            title: "a long table".to_owned(),
            foot: String::new(),
            blocks: vec![Block::Table(Table {
                columns: vec![Column::left("what", 1.0), Column::left("read", 1.0)],
                rows: vec![row; 120],
                summed: false,
                whole: true,
                close: false,
            })],
        };
        let sheets = pages(&handout, PageSize::A4);
        assert!(sheets.len() > 1);
        for sheet in &sheets {
            let heads = sheet
                .marks
                .iter()
                .filter(|mark| matches!(mark, PageMark::Words(words) if words.text == "what"));
            assert_eq!(heads.count(), 1);
        }
    }

    #[test]
    fn a_table_is_not_parted_from_the_one_it_belongs_to() {
        let table = |text: &str, rows: usize| {
            Block::Table(Table {
                columns: vec![Column::left(&format!("head of {text}"), 1.0)],
                rows: vec![vec![text.to_owned()]; rows],
                summed: false,
                whole: false,
                close: false,
            })
        };
        for before in 1..60 {
            let blocks = vec![table("filling", before), Block::Heading("then".to_owned())];
            let blocks = blocks
                .into_iter()
                .chain([table("keys", 3), table("tales", 1)]);
            let handout = Handout {
                title: "a key".to_owned(),
                foot: String::new(),
                blocks: blocks.collect(),
            };
            let holds = |sheet: &Sheet<'_>, text: &str| {
                let words = |mark: &PageMark<'_>| matches!(mark, PageMark::Words(words) if words.text == text);
                sheet.marks.iter().any(words)
            };
            for sheet in pages(&handout, PageSize::A4) {
                assert!(
                    !holds(&sheet, "tales") || holds(&sheet, "keys"),
                    "after {before}"
                );
            }
        }
    }

    #[test]
    fn the_same_handout_gives_the_same_bytes() {
        let handout = Handout {
            title: "twice".to_owned(),
            foot: String::new(),
            blocks: vec![
                Block::Title("Twice".to_owned()),
                Block::Step(Box::new(StepBlock {
                    number: 1,
                    text: "Look.".to_owned(),
                    remark: String::new(),
                    picture: Some(Picture {
                        scene: scene().into(),
                        look_at: Some(Point { x: 0.5, y: 0.5 }),
                        glass: Some(crate::handout::Glass {
                            scene: scene().into(),
                            at: Point { x: 10.0, y: 10.0 },
                            shows_mm: 5.0,
                        }),
                    }),
                })),
            ],
        };
        let made = || crate::handout(&handout, PageSize::A4, patience::Patience::ENDLESS).unwrap();
        let bytes = made();
        assert!(bytes.starts_with(b"%PDF") && bytes == made());
    }
}
