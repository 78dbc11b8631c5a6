use std::io::Write;

use drawing::{Contour, Dash};
use instrument::Point;
use png::{BitDepth, ColorType, Compression, Encoder, EncodingError, PixelDimensions, Unit};
use tiny_skia::{
    Color, FillRule, LineCap, LineJoin, Paint, Path, PathBuilder, Pixmap, Stroke, StrokeDash,
    Transform,
};

use crate::error::PressError;
use crate::ink::Inked;
use crate::moves::{Move, moves};
use crate::work::Work;

/// No picture is larger than this on a side: it takes 80 MB while it is made.
const MOST_PIXELS: f64 = 4000.0;

/// Free margin round the piece, in millimetres.
const MARGIN: f64 = 3.0;

/// The dots per inch of a piece's picture, which are fewer than those asked for where it
/// would become too large.
pub(crate) fn dots_that_fit(inked: &Inked, dots_per_inch: f64) -> f64 {
    let (width, height) = size_mm(inked);
    dots_per_inch.min(25.4 * MOST_PIXELS / width.max(height))
}

fn size_mm(inked: &Inked) -> (f64, f64) {
    (
        inked.high.x - inked.low.x + 2.0 * MARGIN,
        inked.high.y - inked.low.y + 2.0 * MARGIN,
    )
}

/// A workpiece as a picture on white, so many dots to the inch (fewer where it would
/// become larger than 4000 dots on a side).
///
/// # Errors
/// When the picture cannot be made.
pub fn png(inked: &Inked, dots_per_inch: f64) -> Result<Vec<u8>, PressError> {
    let cannot = |why: String| PressError::Document {
        what: format!("the picture of {}", inked.name),
        why,
    };
    let (width, height) = size_mm(inked);
    let dots = dots_that_fit(inked, dots_per_inch) / 25.4;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a positive number of pixels"
    )]
    let pixels = |mm: f64| (mm * dots).ceil().max(1.0) as u32;
    let (columns, rows) = (pixels(width), pixels(height));
    let mut picture = Pixmap::new(columns, rows)
        .ok_or_else(|| cannot(format!("{columns} by {rows} dots are too many")))?;
    picture.fill(Color::WHITE);
    let corner = Point {
        x: inked.low.x - MARGIN,
        y: inked.low.y - MARGIN,
    };
    let mut paint = Paint {
        anti_alias: true,
        ..Paint::default()
    };
    for ink in &inked.inks {
        let Some(path) = path_of(&ink.contours, corner, dots) else {
            continue;
        };
        let shade = if ink.work == Work::Guide {
            110
        } else {
            ink.shade.grey()
        };
        paint.set_color_rgba8(shade, shade, shade, 255);
        if ink.filled {
            picture.fill_path(
                &path,
                &paint,
                FillRule::EvenOdd,
                Transform::identity(),
                None,
            );
            continue;
        }
        let dash = match ink.dash {
            Dash::Whole => None,
            Dash::Dashed => StrokeDash::new(vec![single(1.4 * dots), single(0.7 * dots)], 0.0),
            Dash::Dotted => StrokeDash::new(vec![0.01, single(0.7 * dots)], 0.0),
        };
        let stroke = Stroke {
            width: single(ink.width_mm * dots),
            line_join: LineJoin::Round,
            line_cap: if ink.dash == Dash::Dotted {
                LineCap::Round
            } else {
                LineCap::Butt
            },
            dash,
            ..Stroke::default()
        };
        picture.stroke_path(&path, &paint, &stroke, Transform::identity(), None);
    }
    written(&picture, dots).map_err(|error| cannot(error.to_string()))
}

/// The file of a picture on white, which has no colours: a byte for each dot, a quarter
/// of what colours take. It states how large its dots are, so that it is printed at true
/// size.
fn written(picture: &Pixmap, dots_per_mm: f64) -> Result<Vec<u8>, EncodingError> {
    /// So much is packed before it is put down.
    const CHUNK: usize = 1 << 20;
    const BYTES_OF_COLOUR: usize = 4;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a positive number of dots"
    )]
    let to_the_metre = (dots_per_mm * 1000.0).round() as u32;
    let mut bytes = Vec::new();
    let mut encoder = Encoder::new(&mut bytes, picture.width(), picture.height());
    encoder.set_color(ColorType::Grayscale);
    encoder.set_depth(BitDepth::Eight);
    encoder.set_compression(Compression::Fast);
    encoder.set_pixel_dims(Some(PixelDimensions {
        xppu: to_the_metre,
        yppu: to_the_metre,
        unit: Unit::Meter,
    }));
    let mut head = encoder.write_header()?;
    let mut rows = head.stream_writer_with_size(CHUNK)?;
    for row in picture
        .data()
        .chunks(picture.width() as usize * BYTES_OF_COLOUR)
    {
        // Red is as bright as green and blue, and nothing is seen through.
        let greys: Vec<u8> = row.iter().step_by(BYTES_OF_COLOUR).copied().collect();
        rows.write_all(&greys)?;
    }
    rows.finish()?;
    head.finish()?;
    // Sets hold many pictures: what this one no longer needs is given back.
    bytes.shrink_to_fit();
    Ok(bytes)
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "pictures are drawn in single precision"
)]
fn single(number: f64) -> f32 {
    number as f32
}

fn path_of(contours: &[Contour], corner: Point, dots: f64) -> Option<Path> {
    let mut builder = PathBuilder::new();
    let at = |p: Point| {
        let p = (p - corner) * dots;
        (single(p.x), single(p.y))
    };
    for step in moves(contours) {
        match step {
            Move::To(p) => {
                let (x, y) = at(p);
                builder.move_to(x, y);
            }
            Move::Line(p) => {
                let (x, y) = at(p);
                builder.line_to(x, y);
            }
            Move::Cubic(first, second, to) => {
                let ((a, b), (c, d), (x, y)) = (at(first), at(second), at(to));
                builder.cubic_to(a, b, c, d, x, y);
            }
            Move::Close => builder.close(),
        }
    }
    builder.finish()
}
