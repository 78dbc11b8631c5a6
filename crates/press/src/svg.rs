use std::fmt::Write;

use drawing::{Contour, Dash, Piece, escaped, write_number};

use crate::ink::Inked;
use crate::number::decimal;
use crate::work::Work;

/// Coordinates are written to 0.00001 mm.
const DECIMALS: usize = 5;

/// A long arc is badly determined by its rounded ends, so it is cut at this.
const LONGEST_ARC_DEG: f64 = 100.0;

/// A workpiece as SVG for a machine: one unit is a millimetre, circles and arcs are
/// true ones, and what is done with each line stands in a group of that name
/// ([`Work`]), in the order of work.
#[must_use]
pub fn svg(inked: &Inked) -> String {
    const MARGIN: f64 = 2.0;
    let mut out = String::with_capacity(1 << 16);
    let (width, height) = (
        inked.high.x - inked.low.x + 2.0 * MARGIN,
        inked.high.y - inked.low.y + 2.0 * MARGIN,
    );
    // Writing to a String cannot fail.
    let _ = writeln!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}mm\" height=\"{1}mm\" \
         viewBox=\"{2} {3} {0} {1}\">",
        decimal(width, 3),
        decimal(height, 3),
        decimal(inked.low.x - MARGIN, 3),
        decimal(inked.low.y - MARGIN, 3),
    );
    let _ = writeln!(out, "<title>{}</title>", escaped(&inked.title));
    let _ = writeln!(out, "<desc>{}</desc>", escaped(&inked.notes.join("; ")));
    for work in Work::ALL {
        let colour = work.entry().colour;
        if inked.on(work).next().is_none() {
            continue;
        }
        let _ = writeln!(
            out,
            "<g id=\"{}\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"0.1\">",
            work.name()
        );
        for ink in inked.on(work) {
            out.push_str("<path");
            if ink.filled {
                let _ = write!(
                    out,
                    " fill=\"{colour}\" fill-rule=\"evenodd\" stroke=\"none\""
                );
            } else if !work.is_through() {
                let _ = write!(out, " stroke-width=\"{}\"", decimal(ink.width_mm, 3));
            }
            match ink.dash {
                Dash::Whole => {}
                Dash::Dashed => out.push_str(" stroke-dasharray=\"1.4 0.7\""),
                Dash::Dotted => {
                    out.push_str(" stroke-dasharray=\"0 0.7\" stroke-linecap=\"round\"");
                }
            }
            if let Some(line) = &ink.line {
                let _ = write!(out, " data-line=\"{}\"", escaped(&line.to_string()));
            }
            // Letters need fewer digits than lines.
            let decimals = if ink.filled { 3 } else { DECIMALS };
            out.push_str(" d=\"");
            for contour in &ink.contours {
                write_contour(&mut out, contour, decimals);
            }
            out.push_str("\"/>\n");
        }
        out.push_str("</g>\n");
    }
    out.push_str("</svg>\n");
    out
}

fn write_contour(out: &mut String, contour: &Contour, decimals: usize) {
    let mut command = |letter: char, numbers: &[f64]| {
        out.push(letter);
        for (n, number) in numbers.iter().enumerate() {
            if n > 0 {
                out.push(' ');
            }
            write_number(out, *number, decimals);
        }
    };
    let (start, pieces, closed) = contour.outline();
    command('M', &[start.x, start.y]);
    let mut at = start;
    for piece in pieces.iter() {
        match *piece {
            Piece::Line { to } => command('L', &[to.x, to.y]),
            Piece::Cubic { first, second, to } => {
                command('C', &[first.x, first.y, second.x, second.y, to.x, to.y]);
            }
            Piece::Arc { centre, sweep, to } => {
                let radius = (at - centre).radius();
                let onward = if sweep.deg() >= 0.0 { 1.0 } else { 0.0 };
                #[expect(
                    clippy::cast_possible_truncation,
                    clippy::cast_sign_loss,
                    reason = "an arc is at most a turn long"
                )]
                let count = (sweep.abs().deg() / LONGEST_ARC_DEG).ceil().max(1.0) as u32;
                for n in 1..=count {
                    let end = if n == count {
                        to
                    } else {
                        piece.at(at, f64::from(n) / f64::from(count))
                    };
                    command('A', &[radius, radius, 0.0, 0.0, onward, end.x, end.y]);
                }
            }
        }
        at = piece.end();
    }
    if closed {
        out.push('Z');
    }
}
