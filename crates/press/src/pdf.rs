use drawing::{Contour, Dash, Face, ITALIC_FONT, ROMAN_FONT, text_width};
use instrument::Point;
use krilla::Document;
use krilla::color::rgb;
use krilla::geom::{PathBuilder, Point as PdfPoint};
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, LineCap, LineJoin, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, TextDirection};

use crate::code::Code;
use crate::error::PressError;
use crate::flow::Sheet;
use crate::foot_words::{CHECK_FACE, check_words, no_broader};
use crate::ink::{Ink, Inked};
use crate::leaf::{Leaf, broken};
use crate::order::PageSize;
use crate::page::{FOOT, MARGIN, Page, pages, room};
use crate::pdf_paths::{closed_path, path_of, points};
use crate::row::PageMark;
use crate::scene_pdf::{Put, draw_scene};
use crate::sheet::{Columns, Paragraph};
use crate::work::Work;
use patience::Patience;

/// Pieces at true size on pages, with a line to check the scale by, and then the
/// sheet's words. What is larger than a page is tiled.
///
/// # Errors
/// When the document cannot be put together.
pub fn pdf(
    title: &str,
    pieces: &[&Inked],
    words: &[Paragraph],
    size: PageSize,
) -> Result<Vec<u8>, PressError> {
    pdf_while(title, &[], pieces, words, size, Patience::ENDLESS)
}

/// The same, as long as it is waited for; first come leaves of its size.
pub(crate) fn pdf_while(
    title: &str,
    first: &[Leaf],
    pieces: &[&Inked],
    words: &[Paragraph],
    size: PageSize,
    patience: Patience<'_>,
) -> Result<Vec<u8>, PressError> {
    let fonts = Fonts::read()?;
    let mut document = begun(title);
    let settings = || paper(size.width_mm, size.height_mm);
    for leaf in first {
        let mut sheet = document.start_page_with(settings()?);
        let mut surface = sheet.surface();
        draw_leaf(&mut surface, &fonts, leaf);
        surface.finish();
        sheet.finish();
    }
    for page in patience.each(&pages(pieces, size)) {
        let (page, _) = page?;
        let mut sheet = document.start_page_with(settings()?);
        let mut surface = sheet.surface();
        draw_page(&mut surface, &fonts, page);
        surface.finish();
        sheet.finish();
    }
    for lines in typeset(words, size) {
        let mut sheet = document.start_page_with(settings()?);
        let mut surface = sheet.surface();
        for line in lines {
            match &line.code {
                Some(code) => code_squares(&mut surface, code, line.at, line.size_mm),
                None => fonts.write(&mut surface, line.at, line.size_mm, line.face, &line.text),
            }
        }
        surface.finish();
        sheet.finish();
    }
    finished(document)
}

/// Drawings that each have their own paper.
pub(crate) fn drawn_on(title: &str, drawings: &[(Inked, PageSize)]) -> Result<Vec<u8>, PressError> {
    let fonts = Fonts::read()?;
    let mut document = begun(title);
    for (drawing, size) in drawings {
        for page in &pages(&[drawing], *size) {
            let mut sheet = document.start_page_with(paper(size.width_mm, size.height_mm)?);
            let mut surface = sheet.surface();
            draw_page(&mut surface, &fonts, page);
            surface.finish();
            sheet.finish();
        }
    }
    finished(document)
}

/// A page of a size, with what closed lines enclose, by odd and even, filled.
pub(crate) type FilledPage = ((f64, f64), Vec<Vec<Point>>);

/// Pages of filled surfaces, each on its own paper.
pub(crate) fn filled_pages(title: &str, pages: &[FilledPage]) -> Result<Vec<u8>, PressError> {
    let mut document = begun(title);
    for ((width, height), lines) in pages {
        let mut page = document.start_page_with(paper(*width, *height)?);
        let mut surface = page.surface();
        let mut builder = PathBuilder::new();
        for line in lines {
            let mut corners = line.iter().map(|p| (points(p.x), points(p.y)));
            if let Some((x, y)) = corners.next() {
                builder.move_to(x, y);
            }
            for (x, y) in corners {
                builder.line_to(x, y);
            }
            builder.close();
        }
        surface.set_stroke(None);
        surface.set_fill(Some(solid(FillRule::EvenOdd)));
        if let Some(path) = builder.finish() {
            surface.draw_path(&path);
        }
        surface.finish();
        page.finish();
    }
    finished(document)
}

/// Pages of words and lines.
pub(crate) fn leaves(
    title: &str,
    size_mm: (f64, f64),
    leaves: &[Leaf],
) -> Result<Vec<u8>, PressError> {
    let fonts = Fonts::read()?;
    let mut document = begun(title);
    for leaf in leaves {
        let mut sheet = document.start_page_with(paper(size_mm.0, size_mm.1)?);
        let mut surface = sheet.surface();
        draw_leaf(&mut surface, &fonts, leaf);
        surface.finish();
        sheet.finish();
    }
    finished(document)
}

fn draw_leaf(surface: &mut Surface<'_>, fonts: &Fonts, leaf: &Leaf) {
    for (ink, centre) in &leaf.inks {
        draw_ink(surface, ink, *centre);
    }
    for (scene, centre, scale) in &leaf.scenes {
        let put = Put {
            centre: *centre,
            from: Point::POLE,
            scale: *scale,
            within: f64::INFINITY,
        };
        draw_scene(surface, scene, put);
    }
    for words in &leaf.words {
        fonts.write(surface, words.at, words.size_mm, words.face, &words.text);
    }
}

/// Pages of marks.
pub(crate) fn flow(
    title: &str,
    size: PageSize,
    sheets: &[Sheet<'_>],
    patience: Patience<'_>,
) -> Result<Vec<u8>, PressError> {
    let fonts = Fonts::read()?;
    let mut document = begun(title);
    for sheet in patience.each(sheets) {
        let (sheet, _) = sheet?;
        let mut page = document.start_page_with(paper(size.width_mm, size.height_mm)?);
        let mut surface = page.surface();
        for mark in &sheet.marks {
            draw_mark(&mut surface, &fonts, mark);
        }
        surface.finish();
        page.finish();
    }
    finished(document)
}

fn draw_mark(surface: &mut Surface<'_>, fonts: &Fonts, mark: &PageMark<'_>) {
    match mark {
        PageMark::Words(words) => {
            fonts.write(surface, words.at, words.size_mm, words.face, &words.text);
        }
        PageMark::Rule {
            from,
            to,
            width_mm,
            dotted,
        } => {
            let Some(path) = path_of(&[Contour::line(*from, *to)], Point::POLE) else {
                return;
            };
            let mut stroke = line(*width_mm);
            if *dotted {
                stroke.line_cap = LineCap::Round;
                stroke.dash = Some(StrokeDash {
                    array: vec![0.0, points(1.1)],
                    offset: 0.0,
                });
            }
            surface.set_fill(None);
            surface.set_stroke(Some(stroke));
            surface.draw_path(&path);
        }
        PageMark::Code {
            code,
            corner,
            wide_mm,
        } => code_squares(surface, code, *corner, *wide_mm),
        // Words by now, or the page of no title.
        PageMark::PageOf { .. } => {}
        PageMark::Picture {
            picture,
            centre,
            radius_mm,
        } => {
            let reach = picture.scene.reach_mm;
            let put = Put {
                centre: *centre,
                from: Point::POLE,
                scale: radius_mm / reach,
                within: f64::INFINITY,
            };
            draw_scene(surface, &picture.scene, put);
            if let Some(spot) = picture.look_at {
                let ring = [Contour::circle(*centre + spot * *radius_mm, 2.3)];
                // Seen on black and on white alike.
                halo(surface, &ring, 0.9);
                strokes(surface, &ring, 0.4);
            }
        }
        PageMark::Glass {
            picture,
            centre,
            radius_mm,
        } => {
            let Some(glass) = &picture.glass else {
                return;
            };
            let ring = [Contour::circle(*centre, *radius_mm)];
            let Some(window) = path_of(&ring, Point::POLE) else {
                return;
            };
            surface.push_clip_path(&window, &FillRule::NonZero);
            let put = Put {
                centre: *centre,
                from: glass.at,
                scale: radius_mm / glass.shows_mm,
                within: glass.shows_mm * 1.05,
            };
            draw_scene(surface, &glass.scene, put);
            surface.pop();
            strokes(surface, &ring, 0.5);
        }
    }
}

fn code_squares(surface: &mut Surface<'_>, code: &Code, corner: Point, wide_mm: f64) {
    if let Some(path) = path_of(&code.squares(corner, wide_mm), Point::POLE) {
        surface.set_fill(Some(solid(FillRule::NonZero)));
        surface.set_stroke(None);
        surface.draw_path(&path);
    }
}

fn halo(surface: &mut Surface<'_>, contours: &[Contour], width_mm: f64) {
    if let Some(path) = path_of(contours, Point::POLE) {
        surface.set_fill(None);
        surface.set_stroke(Some(Stroke {
            paint: rgb::Color::white().into(),
            ..line(width_mm)
        }));
        surface.draw_path(&path);
    }
}

fn cannot(why: String) -> PressError {
    PressError::Document {
        what: "the PDF".to_owned(),
        why,
    }
}

fn begun(title: &str) -> Document {
    let mut document = Document::new();
    document.set_metadata(
        Metadata::new()
            .title(title.to_owned())
            .language("en".to_owned())
            .creator("Almuri".to_owned()),
    );
    document
}

fn paper(width_mm: f64, height_mm: f64) -> Result<PageSettings, PressError> {
    PageSettings::from_wh(points(width_mm), points(height_mm))
        .ok_or_else(|| cannot(format!("the page of {width_mm} mm is none")))
}

fn finished(document: Document) -> Result<Vec<u8>, PressError> {
    document
        .finish()
        .map_err(|error| cannot(format!("{error:?}")))
}

struct Fonts {
    roman: Font,
    italic: Font,
}

impl Fonts {
    fn read() -> Result<Fonts, PressError> {
        let font = |bytes: &'static [u8]| {
            Font::new(bytes.into(), 0).ok_or_else(|| cannot("a font cannot be read".to_owned()))
        };
        Ok(Fonts {
            roman: font(ROMAN_FONT)?,
            italic: font(ITALIC_FONT)?,
        })
    }

    /// Writes from a place on the baseline.
    fn write(&self, surface: &mut Surface<'_>, at: Point, size_mm: f64, face: Face, text: &str) {
        let font = match face {
            Face::Roman => &self.roman,
            Face::Italic => &self.italic,
        };
        surface.set_fill(Some(solid(FillRule::NonZero)));
        surface.set_stroke(None);
        surface.draw_text(
            PdfPoint::from_xy(points(at.x), points(at.y)),
            font.clone(),
            points(size_mm),
            text,
            false,
            TextDirection::LeftToRight,
        );
    }
}

fn solid(rule: FillRule) -> Fill {
    Fill {
        paint: rgb::Color::black().into(),
        opacity: NormalizedF32::ONE,
        rule,
    }
}

fn line(width_mm: f64) -> Stroke {
    Stroke {
        paint: rgb::Color::black().into(),
        width: points(width_mm),
        line_cap: LineCap::Butt,
        line_join: LineJoin::Round,
        ..Stroke::default()
    }
}

fn draw_page(surface: &mut Surface<'_>, fonts: &Fonts, page: &Page<'_>) {
    if let Some(tile) = &page.tile {
        let (width, height) = tile.shown;
        let window = closed_path(&[
            Point {
                x: MARGIN,
                y: MARGIN,
            },
            Point {
                x: MARGIN + width,
                y: MARGIN,
            },
            Point {
                x: MARGIN + width,
                y: MARGIN + height,
            },
            Point {
                x: MARGIN,
                y: MARGIN + height,
            },
        ]);
        if let Some(window) = window {
            surface.push_clip_path(&window, &FillRule::NonZero);
        }
    }
    for placed in &page.placed {
        for (number, ink) in placed.piece.inks.iter().enumerate() {
            match &page.tile {
                Some(tile) => {
                    draw_contours(surface, ink, tile.touched(number, ink), placed.centre);
                }
                None => draw_ink(surface, ink, placed.centre),
            }
        }
    }
    if let Some(tile) = &page.tile {
        surface.pop();
        for mark in &tile.marks {
            registration_mark(surface, *mark);
        }
    }
    foot(surface, fonts, page);
}

fn draw_ink(surface: &mut Surface<'_>, ink: &Ink, centre: Point) {
    draw_contours(surface, ink, &ink.contours, centre);
}

/// Some of the contours of what is put down.
fn draw_contours<'a>(
    surface: &mut Surface<'_>,
    ink: &Ink,
    contours: impl IntoIterator<Item = &'a Contour>,
    centre: Point,
) {
    let Some(path) = path_of(contours, centre) else {
        return;
    };
    if ink.filled {
        let grey = ink.shade.grey();
        surface.set_fill(Some(Fill {
            paint: rgb::Color::new(grey, grey, grey).into(),
            ..solid(FillRule::EvenOdd)
        }));
        surface.set_stroke(None);
    } else {
        let dash = match ink.dash {
            Dash::Whole => None,
            Dash::Dashed => Some(vec![points(1.4), points(0.7)]),
            Dash::Dotted => Some(vec![0.0, points(0.7)]),
        };
        let grey = rgb::Color::new(110, 110, 110);
        let mut stroke = Stroke {
            dash: dash.map(|array| StrokeDash { array, offset: 0.0 }),
            ..line(ink.width_mm)
        };
        if ink.dash == Dash::Dotted {
            stroke.line_cap = LineCap::Round;
        }
        if ink.work == Work::Guide {
            stroke.paint = grey.into();
        }
        surface.set_fill(None);
        surface.set_stroke(Some(stroke));
    }
    surface.draw_path(&path);
}

fn strokes(surface: &mut Surface<'_>, contours: &[Contour], width_mm: f64) {
    if let Some(path) = path_of(contours, Point::POLE) {
        surface.set_fill(None);
        surface.set_stroke(Some(line(width_mm)));
        surface.draw_path(&path);
    }
}

fn registration_mark(surface: &mut Surface<'_>, at: Point) {
    let off = |x: f64, y: f64| at + Point { x, y };
    strokes(
        surface,
        &[
            Contour::line(off(-4.0, 0.0), off(4.0, 0.0)),
            Contour::line(off(0.0, -4.0), off(0.0, 4.0)),
            Contour::circle(at, 1.8),
        ],
        0.12,
    );
}

/// What is on the page, and the line by which its scale is checked.
fn foot(surface: &mut Surface<'_>, fonts: &Fonts, page: &Page<'_>) {
    const SIZE: f64 = 3.1;
    let left = MARGIN;
    let top = page.size.height_mm - MARGIN - FOOT + 6.0;
    let mut lines: Vec<String> = match page.placed.as_slice() {
        [one] => one.piece.notes.clone(),
        several => several
            .first()
            .map(|one| one.piece.notes.iter().skip(1).cloned().collect())
            .unwrap_or_default(),
    };
    if let (Some(tile), Some(first)) = (&page.tile, lines.first_mut()) {
        first.push_str(&format!(
            " — row {} of {}, column {} of {}: lay the crosses on one another",
            tile.row, tile.rows, tile.column, tile.columns
        ));
    }
    let (room, _) = room(page.size);
    let sizes = lines
        .iter()
        .map(|text| no_broader(text, Face::Roman, SIZE, room));
    let size = sizes.fold(SIZE, f64::min);
    let mut y = top;
    for text in lines {
        fonts.write(surface, Point { x: left, y }, size, Face::Roman, &text);
        y += size * 1.3;
    }
    if page.placed.len() > 1 {
        for placed in &page.placed {
            let under = placed.centre
                + Point {
                    x: placed.piece.low.x,
                    y: placed.piece.high.y + 4.2,
                };
            // Words may not run into the next piece.
            let title = &placed.piece.title;
            let short = title.split([':', ',']).next().unwrap_or(title);
            fonts.write(surface, under, SIZE, Face::Italic, short);
        }
    }
    let base = page.size.height_mm - MARGIN - 1.0;
    let tick = |x: f64, height: f64| {
        Contour::line(
            Point { x, y: base },
            Point {
                x,
                y: base - height,
            },
        )
    };
    let mut scale = vec![Contour::line(
        Point { x: left, y: base },
        Point {
            x: left + 100.0,
            y: base,
        },
    )];
    for n in 0..=10 {
        let height = if n % 5 == 0 { 3.0 } else { 1.8 };
        scale.push(tick(left + f64::from(n) * 10.0, height));
    }
    strokes(surface, &scale, 0.15);
    let line = Point { x: left, y: base };
    for (at, size, text) in check_words(room) {
        fonts.write(surface, line + at, size, CHECK_FACE, &text);
    }
}

/// A line of the sheet as it stands on its page.
struct Line {
    at: Point,
    size_mm: f64,
    face: Face,
    text: String,
    /// A code in place of the text, so broad as the size says, beneath the place.
    code: Option<Code>,
}

/// Where the columns of a table begin, in sizes of its type: as broad as their longest
/// text, with what is left of the breadth shared out between them.
fn columns(table: &Columns, breadth: f64) -> Vec<f64> {
    /// Columns stand no further apart.
    const MOST_APART: f64 = 2.0;
    let all = || {
        std::iter::once((&table.head, Face::Italic))
            .chain(table.rows.iter().map(|row| (row, Face::Roman)))
    };
    let breadths: Vec<f64> = (0..table.head.len())
        .map(|column| {
            let texts = all().filter_map(|(row, face)| Some(text_width(row.get(column)?, face)));
            texts.fold(0.0, f64::max)
        })
        .collect();
    #[expect(clippy::cast_precision_loss, reason = "some columns")]
    let gaps = breadths.len().saturating_sub(1).max(1) as f64;
    let apart = ((breadth - breadths.iter().sum::<f64>()) / gaps).min(MOST_APART);
    let mut left = 0.0;
    breadths
        .into_iter()
        .map(|breadth| {
            let begins = left;
            left += breadth + apart;
            begins
        })
        .collect()
}

/// Paragraphs broken into lines and pages.
fn typeset(paragraphs: &[Paragraph], size: PageSize) -> Vec<Vec<Line>> {
    const EDGE: f64 = 22.0;
    let width = size.width_mm - 2.0 * EDGE;
    let bottom = size.height_mm - EDGE;
    let mut pages: Vec<Vec<Line>> = Vec::new();
    let mut y = f64::INFINITY;
    let mut put = |line: Line, leading: f64, before: f64, keep: f64, y: &mut f64| {
        *y += before + leading;
        if *y + keep > bottom || pages.is_empty() {
            pages.push(Vec::new());
            *y = EDGE + line.code.as_ref().map_or(line.size_mm, |_| 0.0);
        }
        if let Some(page) = pages.last_mut() {
            page.push(Line {
                at: Point {
                    x: line.at.x,
                    y: *y,
                },
                ..line
            });
        }
    };
    for paragraph in paragraphs {
        let (text, size_mm, face, indent, before, keep) = match paragraph {
            Paragraph::Table(table) => {
                const SIZE: f64 = 3.4;
                let lefts = columns(table, width / SIZE);
                let head = (&table.head, Face::Italic, 12.0);
                let rows = table.rows.iter().map(|row| (row, Face::Roman, 0.0));
                for (row, face, keep) in std::iter::once(head).chain(rows) {
                    let leading = SIZE * 1.32;
                    // The first cell makes the line, the others stand on it.
                    for (n, (text, left)) in row.iter().zip(&lefts).enumerate() {
                        let (leading, keep) = if n == 0 { (leading, keep) } else { (0.0, 0.0) };
                        put(
                            Line {
                                at: Point {
                                    x: EDGE + left * SIZE,
                                    y: 0.0,
                                },
                                size_mm: SIZE,
                                face,
                                text: text.clone(),
                                code: None,
                            },
                            leading,
                            0.0,
                            keep,
                            &mut y,
                        );
                    }
                }
                y += SIZE;
                continue;
            }
            Paragraph::Code(code) => {
                const WIDE: f64 = 40.0;
                put(
                    Line {
                        at: Point { x: EDGE, y: 0.0 },
                        size_mm: WIDE,
                        face: Face::Roman,
                        text: String::new(),
                        code: Some(code.clone()),
                    },
                    1.5,
                    0.0,
                    WIDE,
                    &mut y,
                );
                y += WIDE;
                continue;
            }
            Paragraph::Title(text) => (text, 8.0, Face::Roman, 0.0, 0.0, 0.0),
            Paragraph::Heading(text) => (text, 5.0, Face::Italic, 0.0, 4.0, 12.0),
            Paragraph::Text(text) => (text, 3.9, Face::Roman, 0.0, 1.6, 0.0),
            Paragraph::Point(text) => (text, 3.9, Face::Roman, 5.0, 0.9, 0.0),
        };
        let leading = size_mm * 1.28;
        let mut first = true;
        for text in broken(text, (width - indent) / size_mm, face) {
            let before = if first { before } else { 0.0 };
            if first && indent > 0.0 {
                put(
                    Line {
                        at: Point { x: EDGE, y: 0.0 },
                        size_mm,
                        face,
                        text: "–".to_owned(),
                        code: None,
                    },
                    leading,
                    before,
                    keep,
                    &mut y,
                );
                y -= leading;
                put(
                    Line {
                        at: Point {
                            x: EDGE + indent,
                            y: 0.0,
                        },
                        size_mm,
                        face,
                        text,
                        code: None,
                    },
                    leading,
                    0.0,
                    0.0,
                    &mut y,
                );
            } else {
                put(
                    Line {
                        at: Point {
                            x: EDGE + indent,
                            y: 0.0,
                        },
                        size_mm,
                        face,
                        text,
                        code: None,
                    },
                    leading,
                    before,
                    keep,
                    &mut y,
                );
            }
            first = false;
        }
    }
    pages
}
