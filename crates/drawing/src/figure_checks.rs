//! What holds of a drawn figure in every form, in many random skies.

use std::sync::LazyLock;

use instrument::{
    Division, Hemisphere, House, HouseCourse, Instrument, Orientation, Point, RetePoint,
    Specification, Top,
};
use proptest::prelude::*;
use sky::{Angle, Body, Latitude};

use crate::contour::Contour;
use crate::figure_sheet::{
    FigureDrawing, FigureSheet, ListBeneath, Placement, Standing, StarPlacement,
};
use crate::label_box::LabelBox;
use crate::page::{Leaf, Run};
use crate::planet_glyph::FigurePoint;
use crate::scene::{Item, Metal};

const DRAWINGS: [FigureDrawing; 5] = [
    FigureDrawing::Brass,
    FigureDrawing::BrassNarrow,
    FigureDrawing::Square,
    FigureDrawing::Round,
    FigureDrawing::RoundNarrow,
];

const MARKS: [FigurePoint; 13] = [
    FigurePoint::Body(Body::Sun),
    FigurePoint::Body(Body::Moon),
    FigurePoint::Body(Body::Mercury),
    FigurePoint::Body(Body::Venus),
    FigurePoint::Body(Body::Mars),
    FigurePoint::Body(Body::Jupiter),
    FigurePoint::Body(Body::Saturn),
    FigurePoint::Body(Body::Uranus),
    FigurePoint::Body(Body::Neptune),
    FigurePoint::Body(Body::Pluto),
    FigurePoint::NorthNode,
    FigurePoint::SouthNode,
    FigurePoint::Fortune,
];

const DIVISIONS: [Division; 13] = [
    Division::Alcabitius,
    Division::Regiomontanus,
    Division::Campanus,
    Division::Placidus,
    Division::Porphyry,
    Division::Equal,
    Division::WholeSign,
    Division::EqualFromMidheaven,
    Division::Meridian,
    Division::EquatorFromAscendant,
    Division::Morinus,
    Division::Koch,
    Division::Topocentric,
];

/// Instruments, built once each: northern and southern, noon and midnight up.
static INSTRUMENTS: LazyLock<Vec<Instrument>> = LazyLock::new(|| {
    let all = [
        ("north", "noon-up", 45),
        ("north", "midnight-up", 45),
        ("south", "noon-up", -45),
        ("south", "midnight-up", -45),
    ];
    all.map(|(hemisphere, top, plate)| {
        let text = format!(
            "version = 1\nname = \"any\"\ndiameter_mm = 200\nhemisphere = \"{hemisphere}\"\n\
             orientation = \"{top}\"\nepoch_year = 2000\nplates_deg = [{plate}]\n\
             date_from = \"given\"\n"
        );
        Instrument::new(Specification::from_toml(&text).unwrap())
    })
    .to_vec()
});

/// The cusps that the lines of a division make, where they are in order; else even ones.
fn cusps(standing: &Standing, ascendant: Angle) -> [Angle; 12] {
    let instrument = &standing.instrument;
    let plate = instrument.plate(standing.plate);
    let ecliptic = instrument.ecliptic(standing.rete);
    let lines = standing
        .division
        .and_then(|one| instrument.house_lines_of(one, &plate, standing.rete));
    let even = |n: usize| ascendant + Angle::from_deg(30.0 * n as f64);
    let found: Vec<Angle> = lines
        .unwrap_or_default()
        .iter()
        .enumerate()
        .map(|(n, line)| match line.course {
            HouseCourse::Half(half) => half
                .meets(&ecliptic)
                .map_or(even(n), |p| instrument.longitude(p, standing.rete)),
            HouseCourse::Horizon | HouseCourse::Meridian | HouseCourse::Curve(_) => even(n),
        })
        .collect();
    let steps = found.iter().zip(found.iter().cycle().skip(1));
    let whole: f64 = steps
        .map(|(one, next)| (*next - *one).in_turn().deg())
        .sum();
    match found.try_into() {
        Ok(found) if (whole - 360.0).abs() < 1e-6 => found,
        _ => std::array::from_fn(even),
    }
}

prop_compose! {
    /// Bodies anywhere, or crowded into a sign or a few degrees; every division, every
    /// latitude, every orientation.
    pub(crate) fn sheets()(
        (theta, latitude, top, division) in
            (0.0..360.0_f64, -89.0..89.0_f64, 0..2_usize, 0..13_usize),
        places in proptest::collection::vec((0.0..360.0_f64, -8.0..8.0_f64), 0..=13),
        squeeze in prop_oneof![Just(1.0), Just(1.0 / 12.0), 0.0..0.02],
        start in 0.0..360.0,
        stars in proptest::collection::vec((0.0..360.0_f64, -40.0..80.0_f64), 0..40),
        (aspects, houses) in (0..30_usize, proptest::bool::weighted(0.9)),
        (midnight, retrograde) in (proptest::bool::ANY, proptest::bool::ANY),
    ) -> FigureSheet {
        let southern = latitude < 0.0;
        let instrument = INSTRUMENTS[top + if southern { 2 } else { 0 }].clone();
        let rete = Angle::from_deg(theta);
        let plate = Latitude::from_deg(latitude).unwrap();
        let standing = Standing {
            division: houses.then_some(DIVISIONS[division]),
            instrument,
            plate,
            rete,
        };
        let over = standing.instrument.plate(plate);
        let degree = |p: Point| standing.instrument.longitude(p, rete);
        let ascendant = standing.instrument.eastern_crossing(&over, rete).map(degree);
        let midheaven = standing.instrument.noon_crossing(&over, rete).map(degree);
        let cusps = ascendant.filter(|_| houses).map(|one| cusps(&standing, one));
        let house_of = |longitude: Angle| {
            let past = |house: &House| {
                let cusp = cusps.map(|cusps| cusps[usize::from(house.number() - 1)]);
                (longitude - cusp.unwrap_or_default()).in_turn().deg()
            };
            House::ALL.into_iter().min_by(|a, b| past(a).total_cmp(&past(b)))
        };
        FigureSheet {
            title: "A figure".to_owned(),
            description: String::new(),
            from: "calculated, houses by whichever".to_owned(),
            heading: vec!["Santiago de Compostela, Galicia, Spain".to_owned(); 6],
            ascendant,
            midheaven,
            cusps,
            marks: places
                .iter()
                .zip(MARKS)
                .map(|((deg, latitude), mark)| {
                    let longitude = Angle::from_deg(start + deg * squeeze).in_turn();
                    let latitude = Latitude::from_deg(*latitude).unwrap();
                    let house = cusps.and_then(|_| house_of(longitude));
                    Placement { mark, longitude, latitude, house, retrograde }
                })
                .collect(),
            stars: stars
                .iter()
                .map(|(longitude, latitude)| StarPlacement {
                    name: "Zubeneschamali",
                    longitude: Angle::from_deg(*longitude),
                    latitude: Latitude::from_deg(*latitude).unwrap(),
                })
                .collect(),
            beneath: vec![ListBeneath {
                title: "Aspects",
                lines: vec![
                    vec![
                        Run::Point(FigurePoint::Body(Body::Moon)),
                        Run::Text("opposition".to_owned()),
                        Run::Point(FigurePoint::Body(Body::Sun)),
                        Run::Note("separating 12°59′, not by sign".to_owned()),
                    ];
                    aspects
                ],
            }],
            about_lines: "Dotted: circles through the horizon's north and south points and \
                         every 30th degree of the equator, as a plate may carry them."
                .to_owned(),
            standing,
            orientation: Orientation::new(
                if southern { Hemisphere::South } else { Hemisphere::North },
                if midnight { Top::Midnight } else { Top::Noon },
            ),
            blank: false,
        }
    }
}

fn overlaps(leaf: &Leaf) -> Vec<(LabelBox, LabelBox)> {
    let boxes = &leaf.page.boxes;
    let mut found = Vec::new();
    for (n, one) in boxes.iter().enumerate() {
        let met = boxes[n + 1..].iter().filter(|other| one.overlaps(other));
        found.extend(met.map(|other| (*one, *other)));
    }
    found
}

fn within(leaf: &Leaf) -> bool {
    const ROUNDING_MM: f64 = 1e-9;
    let corners = leaf.page.boxes.iter().flat_map(LabelBox::corners);
    let inside =
        |low: f64, at: f64, high: f64| (low - ROUNDING_MM..=high + ROUNDING_MM).contains(&at);
    corners
        .into_iter()
        .all(|p| inside(leaf.low.x, p.x, leaf.high.x) && inside(leaf.low.y, p.y, leaf.high.y))
}

fn no_label_overlaps(sheet: &FigureSheet) -> Result<(), TestCaseError> {
    let blank = FigureSheet {
        ascendant: None,
        midheaven: None,
        cusps: None,
        stars: Vec::new(),
        beneath: Vec::new(),
        blank: true,
        ..sheet.clone()
    };
    for drawing in DRAWINGS {
        for sheet in [sheet, &blank] {
            if drawing == FigureDrawing::Square && sheet.cusps.is_none() && !sheet.blank {
                continue;
            }
            let leaf = sheet.leaf(drawing);
            let met = overlaps(&leaf);
            prop_assert!(met.is_empty(), "{:?}: {:?}", drawing, met.first());
            prop_assert!(within(&leaf), "{:?} reaches beyond its edge", drawing);
            // Nothing is left out: a row for each thing.
            let rows = sheet.marks.len() + sheet.cusps.map_or(0, |_| 10);
            prop_assert!(leaf.page.boxes.len() >= rows, "{:?}", drawing);
        }
        let pair = sheet.leaf(drawing).with(sheet.leaf(drawing));
        prop_assert!(overlaps(&pair).is_empty(), "{:?}, two", drawing);
    }
    Ok(())
}

/// The places of the dots.
fn dots(leaf: &Leaf) -> Vec<Point> {
    let fills = leaf.page.items.iter().filter_map(|item| match item {
        Item::Fill(fill) => (fill.metal == Metal::Dark).then_some(&fill.regions),
        Item::Stroke(_) | Item::Text(_) => None,
    });
    fills
        .flatten()
        .filter_map(|region| match region.outline {
            Contour::Circle { centre, .. } => Some(centre),
            Contour::Path { .. } => None,
        })
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(120))]

    #[test]
    fn no_labels_overlap_in_any_form(sheet in sheets()) {
        no_label_overlaps(&sheet)?;
    }

    /// A body's dot stands where its right ascension and declination put it, turned with
    /// the rete and as the instrument lies.
    #[test]
    fn bodies_stand_where_they_are_in_the_sky(sheet in sheets()) {
        let dots = dots(&sheet.leaf(FigureDrawing::Brass));
        let standing = &sheet.standing;
        let instrument = &standing.instrument;
        let scale = standing_scale(&sheet, &dots);
        for mark in &sheet.marks {
            // Equatorial from ecliptic (J. Meeus, Astronomical Algorithms, 2nd ed. 1998,
            // 13.3 and 13.4).
            let (sin_l, cos_l) = mark.longitude.sin_cos();
            let (sin_e, cos_e) = instrument.obliquity().sin_cos();
            let (sin_b, cos_b) = (mark.latitude.sin(), mark.latitude.cos());
            let ascension = Angle::atan2(sin_l * cos_e - sin_b / cos_b * sin_e, cos_l);
            let declination = Latitude::asin(sin_b * cos_e + cos_b * sin_e * sin_l);
            let place = RetePoint::Place(ascension, declination);
            let at = instrument.rete_point(place, standing.rete);
            let drawn = instrument.orientation().drawn(at) * scale;
            prop_assert!(dots.iter().any(|dot| (*dot - drawn).radius() < 1e-9), "{:?}", mark);
        }
    }
}

/// The drawn millimetres of each of the instrument's: from the body that stands farthest
/// from the pole, or from the usual edge.
fn standing_scale(sheet: &FigureSheet, dots: &[Point]) -> f64 {
    let instrument = &sheet.standing.instrument;
    let farthest = sheet
        .marks
        .iter()
        .map(|one| {
            instrument
                .rete()
                .zodiacal_point(one.longitude, one.latitude)
                .radius()
        })
        .fold(0.0, f64::max);
    let drawn = dots.iter().map(|dot| dot.radius()).fold(0.0, f64::max);
    if farthest > 0.0 {
        drawn / farthest
    } else {
        1.0
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(10_000))]

    /// The same in ten thousand skies: `cargo test -p drawing -- --ignored skies`.
    #[test]
    #[ignore = "takes five minutes; a hundred and twenty skies are tried in every check"]
    fn no_labels_overlap_in_ten_thousand_skies(sheet in sheets()) {
        no_label_overlaps(&sheet)?;
    }
}
