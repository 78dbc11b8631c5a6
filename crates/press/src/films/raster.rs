use instrument::Point;
use miniz_oxide::deflate::core::{
    CompressorOxide, TDEFLFlush, TDEFLStatus, compress_to_output, create_comp_flags_from_zip_params,
};
use patience::Patience;

use super::film::Film;
use crate::error::PressError;
use crate::filming::Filming;
use crate::plane::grid::point;

/// No film has more dots on a side: 600 mm at 2540 to the inch.
const MOST_DOTS: f64 = 60_000.0;

/// So many rows are packed at once.
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
    let mut picture = Picture::begun(columns, rows, dots);
    let mut band: Vec<u8> = Vec::new();
    let mut before = vec![0xff; columns.div_ceil(8)];
    let mut active: Vec<Edge> = Vec::new();
    let mut crossings: Vec<f64> = Vec::new();
    for row in 0..rows {
        active.extend(edges.begin(row));
        active.retain(|edge| edge.last >= row);
        crossings.clear();
        crossings.extend(active.iter().map(|edge| edge.at(row)));
        crossings.sort_unstable_by(f64::total_cmp);
        let mut line = vec![0xff; columns.div_ceil(8)];
        for pair in crossings.chunks_exact(2) {
            if let [from, to] = pair {
                darken(&mut line, *from, *to, columns);
            }
        }
        // The difference from the row above is mostly nothing; the first has none above.
        band.push(2);
        let above = |n: usize| {
            if row == 0 {
                0
            } else {
                before.get(n).copied().unwrap_or(0)
            }
        };
        band.extend(
            line.iter()
                .enumerate()
                .map(|(n, byte)| byte.wrapping_sub(above(n))),
        );
        before = line;
        if row % BAND == BAND - 1 {
            patience.at(row, rows)?;
            picture.pack(&band, TDEFLFlush::None);
            band.clear();
        }
    }
    picture.pack(&band, TDEFLFlush::Finish);
    Ok(picture.finished())
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

/// A PNG that is being put together.
struct Picture {
    bytes: Vec<u8>,
    packer: Box<CompressorOxide>,
    packed: Vec<u8>,
}

impl Picture {
    fn begun(columns: usize, rows: usize, dots_per_mm: f64) -> Picture {
        const LEVEL: i32 = 4;
        /// A positive number asks for the frame of zlib, which the format wants.
        const FRAMED: i32 = 1;
        let number = |count: usize| u32::try_from(count).unwrap_or(u32::MAX).to_be_bytes();
        let mut picture = Picture {
            bytes: b"\x89PNG\r\n\x1a\n".to_vec(),
            packer: Box::new(CompressorOxide::new(create_comp_flags_from_zip_params(
                LEVEL, FRAMED, 0,
            ))),
            packed: Vec::new(),
        };
        let mut head = [number(columns), number(rows)].concat();
        // One bit, grey, packed by deflate, filters by row, not interlaced.
        head.extend([1, 0, 0, 0, 0]);
        picture.chunk(*b"IHDR", &head);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "200,000 at most"
        )]
        let to_the_metre = (dots_per_mm * 1000.0).round() as u32;
        let mut size = [to_the_metre, to_the_metre].map(u32::to_be_bytes).concat();
        size.push(1);
        picture.chunk(*b"pHYs", &size);
        picture
    }

    fn chunk(&mut self, kind: [u8; 4], content: &[u8]) {
        let length = u32::try_from(content.len()).unwrap_or(u32::MAX);
        self.bytes.extend(length.to_be_bytes());
        let body = [&kind, content].concat();
        self.bytes.extend(&body);
        self.bytes.extend(crc32fast::hash(&body).to_be_bytes());
    }

    fn pack(&mut self, rows: &[u8], flush: TDEFLFlush) {
        const CHUNK: usize = 1 << 20;
        let packed = &mut self.packed;
        let mut rest = rows;
        // Each turn takes something in, or ends.
        loop {
            let (status, taken) = compress_to_output(&mut self.packer, rest, flush, |out| {
                packed.extend(out);
                true
            });
            rest = rest.get(taken..).unwrap_or_default();
            if rest.is_empty() || status != TDEFLStatus::Okay || taken == 0 {
                break;
            }
        }
        if self.packed.len() >= CHUNK || flush == TDEFLFlush::Finish {
            let packed = std::mem::take(&mut self.packed);
            self.chunk(*b"IDAT", &packed);
        }
    }

    fn finished(mut self) -> Vec<u8> {
        self.chunk(*b"IEND", &[]);
        self.bytes
    }
}
