use drawing::{Baseline, Contour, Dash, Face, Lettering, Piece, lettered, text_width};
use instrument::{Letters, Point};
use patience::Patience;

use super::blank::Blank;
use super::order::NestOrder;
use super::packing::Placing;
use super::sheets::{UsedSheet, used_sheets};
use super::stock::Stock;
use crate::dxf::dxf;
use crate::error::PressError;
use crate::ink::{Ink, Inked, Shade};
use crate::order::Format;
use crate::printed::Printed;
use crate::svg::svg;
use crate::travel;
use crate::work::Work;

/// The files of all sheets: each as it is cut, and its other side, seen from behind, where
/// something is engraved there.
pub(super) fn files(
    order: &NestOrder,
    blanks: &[Blank],
    placings: &[Option<Placing>],
    patience: Patience<'_>,
) -> Result<Vec<Printed>, PressError> {
    let mut files = Vec::new();
    let mut drawn = Vec::new();
    let sheets = used_sheets(order, blanks, placings);
    for one in patience.each(&sheets) {
        let (UsedSheet { name, stock, lying }, _) = one?;
        drawn.push(travel::in_order(front(stock, name, lying)));
        if lying.iter().any(|(blank, _)| blank.back.is_some()) {
            let name = format!("{name}-reverse");
            drawn.push(travel::in_order(reverse(stock, &name, lying)));
        }
    }
    for inked in &drawn {
        for format in &order.formats {
            let bytes = match format {
                Format::Svg => svg(inked).into_bytes(),
                Format::Dxf => dxf(inked).into_bytes(),
                Format::Pdf
                | Format::Png
                | Format::Paper
                | Format::ThreeMf
                | Format::Stl
                | Format::Film
                | Format::FilmPng
                | Format::Assembly => {
                    continue;
                }
            };
            files.push(Printed {
                name: format!("{}.{}", inked.name, format.name()),
                bytes,
            });
        }
    }
    if order.formats.contains(&Format::Pdf) && !drawn.is_empty() {
        files.push(Printed {
            name: "sheets.pdf".to_owned(),
            bytes: document(&drawn)?,
        });
    }
    Ok(files)
}

#[cfg(feature = "documents")]
fn document(drawn: &[Inked]) -> Result<Vec<u8>, PressError> {
    let pages: Vec<(Inked, crate::PageSize)> = drawn
        .iter()
        .map(|inked| (inked.clone(), crate::page::holding(inked)))
        .collect();
    crate::pdf::drawn_on("Sheets", &pages)
}

#[cfg(not(feature = "documents"))]
fn document(_: &[Inked]) -> Result<Vec<u8>, PressError> {
    Err(PressError::NotBuilt("PDF"))
}

fn front(stock: &Stock, name: &str, lying: &[(&Blank, Placing)]) -> Inked {
    let mut inks = Vec::new();
    for (blank, placing) in lying {
        let put = |contour: &Contour| contour.placed(placing.turn(), placing.by);
        inks.extend(blank.front.inks.iter().map(|ink| carried(ink, put)));
        inks.push(name_on(blank, *placing));
    }
    sheet(stock, name, inks)
}

/// A part's name, which is not made, in the middle of where it lies.
fn name_on(blank: &Blank, placing: Placing) -> Ink {
    const SIZE_MM: f64 = 4.0;
    let (low, high) = (blank.front.low, blank.front.high);
    let corners = [low, high].map(|corner| corner.turned(placing.turn()) + placing.by);
    let [a, b] = corners;
    let wide = (a.x - b.x).abs();
    let breadth = text_width(&blank.name, Face::Roman).max(1.0);
    let lettering = Lettering {
        text: blank.name.clone(),
        size_mm: SIZE_MM.min(0.9 * wide / breadth),
        face: Face::Roman,
        baseline: Baseline::Straight {
            middle: (a + b) * 0.5,
            along: sky::Angle::ZERO,
        },
        clears: false,
        line: None,
    };
    Ink {
        work: Work::Guide,
        line: None,
        contours: lettered(&lettering, Letters::SingleStroke),
        filled: false,
        shade: Shade::Black,
        width_mm: 0.15,
        dash: Dash::Whole,
    }
}

/// The other side as it lies when the sheet is turned about its upright line: what is cut
/// is only shown there.
fn reverse(stock: &Stock, name: &str, lying: &[(&Blank, Placing)]) -> Inked {
    let mut inks = Vec::new();
    let across = Point {
        x: stock.width_mm,
        y: 0.0,
    };
    let turned = |contour: &Contour| contour.from_behind().placed(sky::Angle::ZERO, across);
    for (blank, placing) in lying {
        let put = |contour: &Contour| contour.placed(placing.turn(), placing.by);
        for ink in blank.back.iter().flat_map(|back| &back.inks) {
            if !ink.work.is_through() {
                // A drawing of the other side is one seen from behind already.
                inks.push(carried(ink, |contour| turned(&put(&contour.from_behind()))));
            }
        }
        for ink in blank.front.inks.iter().filter(|ink| ink.work.is_through()) {
            inks.push(Ink {
                work: Work::Guide,
                ..carried(ink, |contour| turned(&put(contour)))
            });
        }
    }
    sheet(stock, name, inks)
}

fn carried(ink: &Ink, put: impl Fn(&Contour) -> Contour) -> Ink {
    Ink {
        contours: ink.contours.iter().map(put).collect(),
        ..ink.clone()
    }
}

/// A sheet with its own edge to be lined up by.
fn sheet(stock: &Stock, name: &str, mut inks: Vec<Ink>) -> Inked {
    let at = |x: f64, y: f64| Point { x, y };
    let high = at(stock.width_mm, stock.height_mm);
    let edge = [at(high.x, 0.0), high, at(0.0, high.y)].map(|to| Piece::Line { to });
    inks.push(Ink {
        work: Work::Guide,
        line: None,
        contours: vec![Contour::closed(Point::POLE, edge.to_vec())],
        filled: false,
        shade: Shade::Black,
        width_mm: 0.1,
        dash: Dash::Whole,
    });
    inks.sort_by_key(|ink| ink.work);
    Inked {
        name: name.to_owned(),
        title: format!("{name}: {stock}"),
        notes: vec![format!("{name}: {stock}")],
        inks,
        low: Point::POLE,
        high,
    }
}
