use instrument::{ListedPlace, Minutes, Point};
use sky::Angle;

use crate::face::Face;
use crate::lettering::{Baseline, CAPITAL, Lettering, width};
use crate::pen::Pen;
use crate::thinning::{LEAST_TYPE, Thinning};

/// Between two rows, as a part of the size of type.
const PITCH: f64 = 1.5;

/// Between two columns.
const GAP: f64 = 1.0;

/// The gazetteer, in the lower half of the mater's floor: names, latitudes, longitudes and,
/// where wanted, the direction of Mecca from north by east. As many places as there is room
/// for, in their order.
pub(crate) fn engrave(pen: &mut Pen<'_>, within: f64) {
    let m = pen.measures;
    let parts = &pen.instrument.specification().parts;
    let (places, qibla) = (parts.gazetteer.clone(), parts.qibla);
    if places.is_empty() {
        return;
    }
    let mut rows: Vec<Vec<String>> = places.iter().map(|place| row(place, qibla)).collect();
    if qibla {
        let heading = ["", "lat.", "long.", "qibla"].map(str::to_owned);
        rows.insert(0, heading.to_vec());
    }
    let least = m.least_type();
    let most = (1.3 * m.type_size).max(least);
    let sizes = (0..10_u8).map(|n| most - (most - least) * f64::from(n) / 9.0);
    let (mut best, mut count) = (Vec::new(), 0);
    for size in sizes {
        let laid = table(pen, &rows, size, within);
        if laid.len() > count {
            count = laid.len();
            best = laid;
        }
        if count == rows.len() {
            break;
        }
    }
    if count < rows.len() {
        let shown = count.saturating_sub(usize::from(qibla));
        pen.thins([Thinning {
            what: "places of the gazetteer".to_owned(),
            shown: format!("{shown} of {}: no room for more", places.len()),
            key: LEAST_TYPE,
        }]);
    }
    for one in best.into_iter().flatten() {
        pen.letter(one);
    }
}

fn row(place: &ListedPlace, qibla: bool) -> Vec<String> {
    let sided = |deg: f64, [positive, negative]: [&str; 2]| {
        let side = if deg < 0.0 { negative } else { positive };
        format!("{} {side}", Minutes::nearest(deg.abs()))
    };
    let mut row = vec![
        place.name.clone(),
        sided(place.latitude.deg(), ["N", "S"]),
        sided(place.longitude.signed().deg(), ["E", "W"]),
    ];
    if qibla {
        let told = place.qibla().map(|bearing| Minutes::nearest(bearing.deg()));
        row.push(told.map_or_else(|| "–".to_owned(), |bearing| bearing.to_string()));
    }
    row
}

/// The first rows of the table that have room, names to the left and figures to the right of
/// their columns.
fn table(pen: &Pen<'_>, rows: &[Vec<String>], size: f64, within: f64) -> Vec<Vec<Lettering>> {
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    let widths: Vec<f64> = (0..columns)
        .map(|column| {
            let texts = rows.iter().filter_map(|row| row.get(column));
            texts.map(|text| width(text) * size).fold(0.0, f64::max)
        })
        .collect();
    let gaps = GAP * size;
    #[expect(
        clippy::cast_precision_loss,
        reason = "four columns, some dozens of rows"
    )]
    let across = widths.iter().sum::<f64>() + gaps * columns.saturating_sub(1) as f64;
    let first = pen.measures.hole + 1.2 * size;
    let fits = |one: &Lettering| {
        let (half, Baseline::Straight { middle, .. }) = (one.length_mm() / 2.0, one.baseline)
        else {
            return false;
        };
        let corner = Point {
            x: middle.x.abs() + half,
            y: middle.y.abs() + CAPITAL * size,
        };
        corner.radius() < within && pen.has_room(one)
    };
    let mut all = Vec::new();
    for (n, row) in rows.iter().enumerate() {
        #[expect(clippy::cast_precision_loss, reason = "some dozens of rows")]
        let y = first + n as f64 * PITCH * size;
        let mut from = -across / 2.0;
        let mut laid = Vec::new();
        for (column, (text, broad)) in row.iter().zip(&widths).enumerate() {
            let length = width(text) * size;
            let x = if column == 0 {
                from + length / 2.0
            } else {
                from + broad - length / 2.0
            };
            if !text.is_empty() {
                laid.push(Lettering {
                    text: text.clone(),
                    size_mm: size,
                    face: if column == 0 {
                        Face::Roman
                    } else {
                        Face::Italic
                    },
                    baseline: Baseline::upright(Point { x, y }, Angle::ZERO),
                    clears: false,
                    line: None,
                });
            }
            from += broad + gaps;
        }
        if !laid.iter().all(fits) {
            break;
        }
        all.push(laid);
    }
    all
}
