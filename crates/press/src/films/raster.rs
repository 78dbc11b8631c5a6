use std::io::Write;

use instrument::Point;
use patience::Patience;

use super::film::Film;
use crate::error::PressError;
use crate::filming::Filming;
use crate::plane::grid::point;

/// No film has more dots on a side: 600 mm at 2540 to the inch.
const MOST_DOTS: f64 = 60_000.0;

/// After so many rows it is asked whether anybody waits for the others.
const BAND: usize = 256;

/// A film as a picture of one bit for each dot (PNG, third edition of the W3C), row by row:
/// it is never whole in memory.
///
/// # Errors
/// When it would have too many dots, or nobody waits for it any longer.
pub(super) fn png(
    film: &Film,
    filming: &Filming,
    patience: Patience<'_>,
) -> Result<Vec<u8>, PressError> {
    let (width, height) = (film.high.x - film.low.x, film.high.y - film.low.y);
    let most = (MOST_DOTS / width.max(height) * 25.4).floor();
    if filming.dots_per_inch > most {
        return Err(PressError::FilmTooLarge {
            width_mm: width,
            height_mm: height,
            dots_per_inch: filming.dots_per_inch,
            most,
        });
    }
    let dots = filming.dots_per_inch / 25.4;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "some ten thousands of dots"
    )]
    let whole = |mm: f64| (mm * dots).round().max(1.0) as usize;
    let (columns, rows) = (whole(width), whole(height));
    let edges = Edges::of(film, dots, rows);
    // Each with where it crosses the row. Edges of what is united do not cross one another, so
    // that from row to row they stand in the same order: a sort that keeps what is in order
    // has little to do.
    let mut active: Vec<(f64, Edge)> = Vec::new();
    written(columns, rows, dots, |row, line| {
        active.retain_mut(|(at, edge)| {
            *at = edge.at(row);
            edge.last >= row
        });
        active.extend(edges.begin(row).iter().map(|edge| (edge.at(row), *edge)));
        active.sort_by(|a, b| a.0.total_cmp(&b.0));
        for pair in active.chunks_exact(2) {
            if let [(from, _), (to, _)] = pair {
                darken(line, *from, *to, columns);
            }
        }
        if row % BAND == BAND - 1 {
            patience.at(row, rows)?;
        }
        Ok(())
    })
}

/// A picture of one bit for each dot, white but for what is darkened in each of its rows.
fn written(
    columns: usize,
    rows: usize,
    dots_per_mm: f64,
    mut row: impl FnMut(usize, &mut [u8]) -> Result<(), PressError>,
) -> Result<Vec<u8>, PressError> {
    /// So much is packed before it is put down.
    const CHUNK: usize = 1 << 20;
    let cannot = |why: &dyn std::fmt::Display| PressError::Document {
        what: "the picture of a film".to_owned(),
        why: why.to_string(),
    };
    let side = |count: usize| u32::try_from(count).map_err(|error| cannot(&error));
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "200,000 at most"
    )]
    let to_the_metre = (dots_per_mm * 1000.0).round() as u32;
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, side(columns)?, side(rows)?);
    encoder.set_color(png::ColorType::Grayscale);
    encoder.set_depth(png::BitDepth::One);
    encoder.set_compression(png::Compression::Fast);
    // The difference from the row above is mostly nothing.
    encoder.set_filter(png::Filter::Up);
    encoder.set_pixel_dims(Some(png::PixelDimensions {
        xppu: to_the_metre,
        yppu: to_the_metre,
        unit: png::Unit::Meter,
    }));
    let mut head = encoder.write_header().map_err(|error| cannot(&error))?;
    let mut picture = head
        .stream_writer_with_size(CHUNK)
        .map_err(|error| cannot(&error))?;
    let mut line = vec![0xff; columns.div_ceil(8)];
    for number in 0..rows {
        line.fill(0xff);
        row(number, &mut line)?;
        picture.write_all(&line).map_err(|error| cannot(&error))?;
    }
    picture.finish().map_err(|error| cannot(&error))?;
    head.finish().map_err(|error| cannot(&error))?;
    Ok(bytes)
}

/// Darkens the dots whose middles lie between two places.
fn darken(line: &mut [u8], from: f64, to: f64, columns: usize) {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "clamped to the columns"
    )]
    let dot = |at: f64| (at - 0.5).ceil().max(0.0) as usize;
    let (from, to) = (dot(from).min(columns), dot(to).min(columns));
    if from >= to {
        return;
    }
    let (first, last) = (from / 8, (to - 1) / 8);
    let head = 0xff_u8 >> (from % 8);
    let tail = 0xff_u8 << (7 - (to - 1) % 8);
    for n in first..=last {
        let mut mask = 0xff;
        if n == first {
            mask &= head;
        }
        if n == last {
            mask &= tail;
        }
        if let Some(byte) = line.get_mut(n) {
            *byte &= !mask;
        }
    }
}

/// An edge of what is dark, by the middles of the rows that it crosses.
#[derive(Clone, Copy)]
struct Edge {
    first: usize,
    last: usize,
    /// Where it crosses the middle of its first row, and how much further right that of
    /// each row below it.
    x: f64,
    each: f64,
}

impl Edge {
    #[expect(clippy::cast_precision_loss, reason = "some ten thousands of rows")]
    fn at(&self, row: usize) -> f64 {
        self.x + self.each * (row - self.first) as f64
    }
}

/// All edges, by the row in which they begin.
struct Edges {
    edges: Vec<Edge>,
    starts: Vec<usize>,
}

impl Edges {
    fn of(film: &Film, dots: f64, rows: usize) -> Edges {
        let on_film = |p: Point| (p - film.low) * dots;
        let mut edges = Vec::new();
        for ring in &film.dark {
            let next = ring.iter().cycle().skip(1);
            for (a, b) in ring.iter().zip(next) {
                let (mut a, mut b) = (on_film(point(*a)), on_film(point(*b)));
                if a.y > b.y {
                    std::mem::swap(&mut a, &mut b);
                }
                // The rows whose middles lie from the upper end on and before the lower.
                let (from, to) = ((a.y - 0.5).ceil().max(0.0), (b.y - 0.5).ceil());
                #[expect(
                    clippy::cast_possible_truncation,
                    clippy::cast_sign_loss,
                    reason = "some ten thousands of rows, and none where it is negative"
                )]
                let (first, end) = (from as usize, (to as usize).min(rows));
                if first >= end {
                    continue;
                }
                let each = (b.x - a.x) / (b.y - a.y);
                edges.push(Edge {
                    first,
                    last: end - 1,
                    x: a.x + (from + 0.5 - a.y) * each,
                    each,
                });
            }
        }
        edges.sort_by_key(|edge| edge.first);
        let starts = (0..=rows).map(|row| edges.partition_point(|edge| edge.first < row));
        Edges {
            starts: starts.collect(),
            edges,
        }
    }

    fn begin(&self, row: usize) -> &[Edge] {
        let range = self.starts.get(row).zip(self.starts.get(row + 1));
        let edges = range.and_then(|(from, to)| self.edges.get(*from..*to));
        edges.unwrap_or_default()
    }
}
