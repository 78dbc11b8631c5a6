use figure::{DignityTables, Planet, TermTable};
use instrument::{Back, EngravedRing, Instrument, LineId, Point, RingPart, ZodiacRing};
use sky::{Angle, Sign};

use crate::contour::Contour;
use crate::face::Face;
use crate::label_box::LabelBox;
use crate::lettering::{Lettering, width};
use crate::limb::radial;
use crate::pen::Pen;
use crate::planet_glyph::{FigurePoint, planet_glyph_along};
use crate::scene::{Dash, Weight};
use crate::thinning::{LEAST_GAP, Thinning};

/// What stands in a cell of a ring of the zodiac.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CellSign {
    /// The planet whose face or term it is.
    Lord(Planet),
    /// The number of a mansion, from 1, and its name.
    Mansion(u8, &'static str),
}

/// A part of the zodiac in one of the back's rings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RingCell {
    /// The longitude at which it begins.
    pub begins: Angle,
    /// How much of the zodiac it takes.
    pub breadth: Angle,
    /// What stands in it.
    pub sign: CellSign,
}

/// The mansions of the Moon by their Latin names: the Latin *Picatrix*, I.4. The spelling
/// differs from one manuscript and print to the next.
const MANSIONS: [&str; 28] = [
    "Alnath",
    "Albotain",
    "Azoraya",
    "Aldebaran",
    "Almices",
    "Athaya",
    "Aldirah",
    "Annathra",
    "Atarf",
    "Algebha",
    "Azobra",
    "Acarfa",
    "Alahue",
    "Azimech",
    "Argafra",
    "Azubene",
    "Alichil",
    "Alcalb",
    "Exaula",
    "Nahaym",
    "Elbelda",
    "Caadaldeba",
    "Caadebolach",
    "Caadacohot",
    "Caadalhacbia",
    "Almiquedam",
    "Algarf",
    "Arrexhe",
];

/// The cells of a ring, from the head of Aries.
///
/// Faces are thirds of a sign in the order of the spheres from Mars in the first of Aries
/// (J. Middleton, *Practical Astrology*, 1679, I.7, p. 60). Terms are those of
/// [`TermTable`], with its sources. Mansions are twenty-eighths of the zodiac, 12°51′26″ each,
/// from the head of Aries (H. C. Agrippa, *De occulta philosophia*, 1533, II.33). Agrippa
/// counts from the head of Aries among the fixed stars; here it is that of the zodiac scale.
#[must_use]
pub fn ring_cells(ring: ZodiacRing) -> Vec<RingCell> {
    let terms = |table: TermTable| {
        let mut cells = Vec::new();
        for sign in Sign::ALL {
            let mut from = 0_u8;
            for term in table.of(sign) {
                cells.push(RingCell {
                    begins: sign.begins() + Angle::from_deg(f64::from(from)),
                    breadth: Angle::from_deg(f64::from(term.end_deg.saturating_sub(from))),
                    sign: CellSign::Lord(term.ruler),
                });
                from = term.end_deg;
            }
        }
        cells
    };
    match ring {
        ZodiacRing::Faces => (0..36_u8)
            .map(|n| {
                let begins = Angle::from_deg(10.0 * f64::from(n));
                let middle = begins + Angle::from_deg(5.0);
                RingCell {
                    begins,
                    breadth: Angle::from_deg(10.0),
                    sign: CellSign::Lord(DignityTables::default().rulers(middle).face),
                }
            })
            .collect(),
        ZodiacRing::EgyptianTerms => terms(TermTable::Egyptian),
        ZodiacRing::PtolemysTerms => terms(TermTable::Ptolemy),
        ZodiacRing::LillysTerms => terms(TermTable::Lilly),
        ZodiacRing::Mansions => (1..)
            .zip(MANSIONS)
            .map(|(number, name)| {
                let breadth = Angle::FULL_TURN / 28.0;
                RingCell {
                    begins: breadth * f64::from(number - 1),
                    breadth,
                    sign: CellSign::Mansion(number, name),
                }
            })
            .collect(),
    }
}

/// The rings about the back's field that find room, from the outermost inwards, with what
/// stands in them: what one reads who looks at the back.
#[must_use]
pub fn engraved_rings(instrument: &Instrument) -> Vec<EngravedRing> {
    let gap = instrument.fineness().least_gap().mm();
    let bands = places(instrument).into_iter();
    bands
        .map(|(ring, (_, inner))| (ring, inner, ring_cells(ring)))
        .filter(|(_, inner, cells)| has_room(cells, *inner, gap))
        .map(|(ring, _, cells)| EngravedRing {
            ring,
            parts: cells
                .into_iter()
                .map(|cell| RingPart {
                    begins: cell.begins,
                    breadth: cell.breadth,
                    bears: match cell.sign {
                        CellSign::Lord(planet) => planet.body().to_string(),
                        CellSign::Mansion(number, name) => format!("{number}, {name}"),
                    },
                })
                .collect(),
        })
        .collect()
}

/// The rings of a specification with the radii between which each lies.
fn places(instrument: &Instrument) -> Vec<(ZodiacRing, (f64, f64))> {
    let rings = &instrument.specification().parts.rings;
    let bands = instrument.back().bands;
    #[expect(clippy::cast_precision_loss, reason = "four rings at most")]
    let breadth = (bands.rings - bands.field) / rings.len().max(1) as f64;
    let mut outer = bands.rings;
    let mut places = Vec::new();
    for ring in rings {
        places.push((*ring, (outer, outer - breadth)));
        outer -= breadth;
    }
    places
}

/// Whether the narrowest part of a ring keeps the least gap.
fn has_room(cells: &[RingCell], inner: f64, gap: f64) -> bool {
    let breadths = cells.iter().map(|cell| cell.breadth.rad());
    breadths.fold(f64::INFINITY, f64::min) * inner >= gap
}

/// The rings about the back's field, from the outermost inwards.
pub(crate) fn engrave(pen: &mut Pen<'_>, back: &Back) {
    for (ring, (outer, inner)) in places(pen.instrument) {
        pen.plain(Weight::Fine, &[Contour::circle(Point::POLE, outer)]);
        one(pen, back, ring, (outer, inner));
    }
}

fn one(pen: &mut Pen<'_>, back: &Back, ring: ZodiacRing, (outer, inner): (f64, f64)) {
    let cells = ring_cells(ring);
    let line = LineId::ZodiacRing(ring);
    if !has_room(&cells, inner, pen.measures.gap) {
        pen.thins([Thinning {
            what: format!("ring of {}", ring.called()),
            shown: "left out: its narrowest part is too narrow".to_owned(),
            key: LEAST_GAP,
        }]);
        return;
    }
    let (signs, parts): (Vec<&RingCell>, Vec<&RingCell>) =
        cells.iter().partition(|cell| begins_a_sign(cell));
    let strokes = |cells: Vec<&RingCell>| -> Vec<Contour> {
        let all = cells.into_iter();
        all.map(|cell| radial(back.zodiac(cell.begins), inner, outer))
            .collect()
    };
    pen.scale(line.clone(), Weight::Hair, &strokes(parts));
    pen.scale(line, Weight::Middle, &strokes(signs));
    match ring {
        ZodiacRing::Mansions => mansions(pen, back, &cells, (outer, inner)),
        ZodiacRing::Faces
        | ZodiacRing::EgyptianTerms
        | ZodiacRing::PtolemysTerms
        | ZodiacRing::LillysTerms => lords(pen, back, ring, &cells, (outer, inner)),
    }
}

/// Whether a sign begins where a cell does.
fn begins_a_sign(cell: &RingCell) -> bool {
    let within = cell.begins.deg().rem_euclid(30.0);
    !(1e-9..30.0 - 1e-9).contains(&within)
}

/// The characters of the planets, upright as seen from the centre; smaller in narrow cells.
fn lords(
    pen: &mut Pen<'_>,
    back: &Back,
    ring: ZodiacRing,
    cells: &[RingCell],
    (outer, inner): (f64, f64),
) {
    let radius = f64::midpoint(outer, inner);
    // As high as the least letter that is read.
    let least = pen.measures.least_type() * instrument::CAPITAL;
    for cell in cells {
        let CellSign::Lord(planet) = cell.sign else {
            continue;
        };
        let air = 2.5 * pen.measures.hair;
        let room = cell.breadth.rad() * inner - air;
        let size = ((outer - inner) * 0.7).min(room * 0.85);
        if size < least {
            pen.unlettered(&format!("some planets of the ring of {}", ring.called()));
            continue;
        }
        let place = Point::polar(radius, back.zodiac(cell.begins + cell.breadth / 2.0));
        let upright = pen.direction(place) + Angle::QUARTER_TURN;
        let contours = planet_glyph_along(
            FigurePoint::Body(planet.body()),
            pen.drawn(place),
            size,
            upright,
        );
        pen.put_drawn(None, Weight::Fine, Dash::Whole, contours);
        pen.keep_free(LabelBox::new(pen.drawn(place), size, size, upright));
    }
}

/// The names of the mansions where all of them have room, or else their numbers.
fn mansions(pen: &mut Pen<'_>, back: &Back, cells: &[RingCell], (outer, inner): (f64, f64)) {
    let m = pen.measures;
    let radius = f64::midpoint(outer, inner);
    let Some(most) = m.type_for((outer - inner) * 0.5, 1.0) else {
        pen.unlettered("numbers of the mansions of the Moon");
        return;
    };
    let letter = |cell: &RingCell, named: bool, size_mm: f64, pen: &Pen<'_>| {
        let CellSign::Mansion(number, name) = cell.sign else {
            return None;
        };
        let middle = Point::polar(radius, back.zodiac(cell.begins + cell.breadth / 2.0));
        Some(Lettering {
            text: if named {
                name.to_owned()
            } else {
                number.to_string()
            },
            size_mm,
            face: Face::Italic,
            baseline: pen.round(Point::POLE, middle),
            clears: false,
            line: Some(LineId::ZodiacRing(ZodiacRing::Mansions)),
        })
    };
    let longest = MANSIONS.iter().map(|name| width(name)).fold(0.0, f64::max);
    let fits = cells
        .first()
        .map_or(0.0, |cell| 0.94 * cell.breadth.rad() * inner / longest);
    for named in [true, false] {
        let sizes = if named {
            vec![most.min(fits)]
        } else {
            m.smaller(most).collect()
        };
        for size in sizes
            .into_iter()
            .filter(|size| *size >= m.least_type() - 1e-9)
        {
            let all: Vec<Lettering> = cells
                .iter()
                .filter_map(|cell| letter(cell, named, size, pen))
                .collect();
            if all.iter().all(|one| pen.has_room(one)) {
                for one in all {
                    pen.letter(one);
                }
                if !named {
                    pen.thins([Thinning {
                        what: "names of the mansions of the Moon".to_owned(),
                        shown: "numbered instead: too small to read".to_owned(),
                        key: crate::thinning::LEAST_TYPE,
                    }]);
                }
                return;
            }
        }
    }
    pen.crowded("numbers of the mansions of the Moon");
}
