use figure::{Dignity, House, MoonsCourse, Placed, Planet, UnderSun, sign_and_degree};
use sky::{Angle, Body, Sign, SkyError};

use super::leaf::{Hangs, Leaf, Made, Opened};
use crate::answer::CellAnswer;

/// What is looked at before a question is judged.
pub(super) const LEAF: Leaf = Leaf {
    name: "considerations",
    title: "Considerations before judgement",
    hangs: Hangs::Horizon,
    named_by: 1,
    make,
};

/// Something that a book asks for, and whether it is so; none where it cannot be told.
type Asked = (&'static str, Option<bool>);

fn make(opened: &Opened<'_>) -> Result<Made, SkyError> {
    let middletons = rising_and_hour(opened);
    let lillys = moon_and_lords(opened);
    let row = |(book, (what, is)): (&str, Asked)| {
        vec![
            CellAnswer::said(what),
            is.map_or_else(CellAnswer::none, CellAnswer::yes),
            CellAnswer::said(book),
        ]
    };
    let by = |book: &'static str, all: Vec<Asked>| all.into_iter().map(move |one| (book, one));
    Ok(Made {
        sources: vec![
            "Middleton, Practical Astrology (1679), pp. 95–97; the burnt way from 15° Libra to 15° Scorpio, p. 97".to_owned(),
            "Lilly, Christian Astrology (1647; ed. 1852, pp. 74–75), who has the burnt way too; where he says “the later degrees” those from 27° are taken".to_owned(),
        ],
        columns: vec!["", "is so", "asked for by"],
        rows: by("Middleton", middletons)
            .chain(by("Lilly", lillys))
            .map(row)
            .collect(),
        notes: Vec::new(),
    })
}

fn rising_and_hour(opened: &Opened<'_>) -> Vec<Asked> {
    let figure = opened.figure;
    let tables = opened.choices().dignities;
    let ascendant = figure.ascendant.ok();
    let rising = ascendant.map(|at| sign_and_degree(at).1);
    let hour = figure.hour.as_ref().ok().map(|hour| hour.ruler);
    let lord = ascendant.map(|at| tables.rulers(at).rulership);
    let same = hour.zip(lord).map(|(hour, lord)| hour == lord);
    let triplicity = hour.zip(ascendant).map(|(hour, at)| {
        let triplicity = tables.rulers(at).triplicity;
        [
            Some(triplicity.day),
            Some(triplicity.night),
            triplicity.always,
        ]
        .contains(&Some(hour))
    });
    let burnt = opened.longitude(Body::Moon).map(|moon| {
        let from = Sign::Libra.begins() + Angle::from_deg(15.0);
        (moon - from).in_turn() < Angle::from_deg(30.0)
    });
    vec![
        (
            "the first two degrees of a sign rise",
            rising.map(|deg| deg < 2.0),
        ),
        (
            "the last degrees of a sign rise, from 28°",
            rising.map(|deg| deg >= 28.0),
        ),
        ("the hour is of the lord of the ascendant", same),
        (
            "the hour’s planet rules the ascendant’s triplicity",
            triplicity,
        ),
        ("the Moon is in the burnt way", burnt),
    ]
}

fn moon_and_lords(opened: &Opened<'_>) -> Vec<Asked> {
    const LATER_DEG: f64 = 27.0;
    let figure = opened.figure;
    let tables = opened.choices().dignities;
    let placed = |planet: Planet| figure.body(planet.body());
    let is_in = |planet: Planet, wanted: House| {
        let house = placed(planet).and_then(|one| one.house);
        house.map(|house| house == wanted)
    };
    let ascendant = figure.ascendant.ok();
    let seventh = figure
        .cusps
        .as_ref()
        .ok()
        .map(|cusps| cusps.get(House::VII));
    let lord = |at: Option<Angle>| placed(tables.rulers(at?).rulership);
    let so = |one: Option<&Placed>, is: &dyn Fn(&Placed) -> bool| one.map(is);
    let moon = opened.longitude(Body::Moon).map(sign_and_degree);
    let void = MoonsCourse::of(opened.courses()).map(|course| course.is_void_in_sign());
    let of_seventh = lord(seventh);
    vec![
        (
            "27° or more of a sign rise",
            ascendant.map(|at| sign_and_degree(at).1 >= LATER_DEG),
        ),
        (
            "the Moon is in the later degrees of a sign",
            moon.map(|(_, deg)| deg >= LATER_DEG),
        ),
        ("the Moon is void of course in her sign", void),
        (
            "the Moon is where she performs though void: Taurus, Cancer, Sagittarius, Pisces",
            moon.map(|(sign, _)| {
                [Sign::Taurus, Sign::Cancer, Sign::Sagittarius, Sign::Pisces].contains(&sign)
            }),
        ),
        (
            "Saturn is in the first house",
            is_in(Planet::Saturn, House::I),
        ),
        (
            "Saturn is in the seventh house",
            is_in(Planet::Saturn, House::VII),
        ),
        (
            "the lord of the ascendant is combust",
            so(lord(ascendant), &|one| {
                one.under_sun == Some(UnderSun::Combust)
            }),
        ),
        (
            "the lord of the seventh goes backward",
            so(of_seventh, &|one| one.motion.retrograde),
        ),
        (
            "the lord of the seventh is in its fall",
            so(of_seventh, &|one| {
                one.dignities
                    .as_ref()
                    .is_some_and(|dignities| dignities.has(Dignity::Fall))
            }),
        ),
        (
            "the lord of the seventh is in a term of Saturn or Mars",
            so(of_seventh, &|one| {
                one.dignities.as_ref().is_some_and(|dignities| {
                    matches!(dignities.rulers().term, Planet::Saturn | Planet::Mars)
                })
            }),
        ),
    ]
}
