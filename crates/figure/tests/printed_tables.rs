//! The tables against the pages they are printed on, value by value.
//!
//! Each table stands here as its page has it, signs and all, misprints too; what
//! the page and the code have different is listed beside it, and nothing else may be.

#![expect(clippy::float_cmp, reason = "printed values, exact in binary")]

use figure::{
    BeamLimits, Border, Cusps, Dignity, DignityTables, House, Lots, LotsByNight, OrbTable, Planet,
    Points, Sect, Term, TermTable, TriplicityTable, UnderSun, antiscion, contra_antiscion,
    exaltation_of_planet, mean_motion, sign_and_degree,
};
use sky::{Angle, Body, Sign};

/// J. Middleton, Practical Astrology (1679), I.7, p. 60: sign; house; exaltation;
/// triplicity by day and by night; terms, each with its last degree; faces;
/// detriment; fall. The nodes' exaltations, in 3° of Gemini and of Sagittarius, are
/// left out.
const MIDDLETON: &str = "
♈ ♂ ☉19 ☉♃ ♃6,♀14,☿21,♂26,♄30 ♂☉♀ ♀ ♄
♉ ♀ ☽3  ♀☽ ♀8,☿15,♃22,♄26,♂30 ☿☽♄ ♂ -
♊ ☿ -   ♄☿ ☿7,♃14,♀21,♄25,♂30 ♃♂☉ ♃ -
♋ ☽ ♃15 ♂♂ ♂6,♃13,☿20,♀27,♄30 ♀☿☽ ♄ ♂
♌ ☉ -   ☉♃ ♄6,☿13,♀19,♃25,♂30 ♄♃♂ ♄ -
♍ ☿ ☿15 ♀☽ ☿7,♀13,♃18,♄24,♂30 ☉♀☿ ♃ ♀
♎ ♀ ♄21 ♄☿ ♄6,♀11,♃19,☿24,♂30 ☽♄♃ ♂ ☉
♏ ♂ -   ♂♂ ♂6,♃14,♀21,☿27,♄30 ♂☉♀ ♀ ☽
♐ ♃ -   ☉♃ ♃8,♀14,☿19,♄25,♂30 ☿☽♄ ☿ -
♑ ♄ ♂28 ♀☽ ♀6,☿12,♃19,♂25,♄30 ♃♂☉ ☽ ♃
♒ ♄ -   ♄☿ ♄6,☿12,♀20,♃25,♂30 ♀☿☽ ☉ -
♓ ♃ ♀27 ♂♂ ♀6,♃14,☿20,♂26,♄30 ♄♃♂ ☿ ☿
";

/// W. Lilly, Christian Astrology (1647), as R. J. Morrison printed it anew: An
/// Introduction to Astrology (1852), p. 72.
const LILLY: &str = "
♈ ♂ ☉19 ☉♃ ♃6,♀14,☿21,♂26,♄30 ♂☉♀ ♀ ♄
♉ ♀ ☽3  ♀☽ ♀8,☿15,♃22,♄20,♂30 ☿☽♄ ♂ -
♊ ☿ -   ♄☿ ☿7,♃14,♀21,♄25,♂30 ♃♂☉ ♃ -
♋ ☽ ♃15 ♂♂ ♂6,♃13,☿20,♀27,♄30 ♀☿☽ ♄ ♂
♌ ☉ -   ☉♃ ♄6,☿13,♀19,♃25,♂30 ♄♃♂ ♄ -
♍ ☿ ☿15 ♀☽ ☿7,♀13,♃18,♄24,♂30 ☉♀☿ ♃ ♀
♎ ♀ ♄21 ♄☿ ♄6,♀11,♃19,☿27,♂30 ☽♄♃ ♂ ☉
♏ ♂ -   ♂♂ ♂6,♃14,♀21,☿27,♄30 ♂☉♀ ♀ ☽
♐ ♃ -   ☉♃ ♃8,♀14,☿19,♄25,♂30 ☿☽♄ ☿ -
♑ ♄ ♂28 ♀☽ ♀6,☿12,♃19,♂25,♄30 ♃♂☉ ☽ ♄
♒ ♄ -   ♄☿ ♄6,☿12,♀20,♃25,♂30 ♀☿☽ ☉ -
♓ ♃ ♀27 ♂♂ ♀8,♃14,☿20,♂26,♄30 ♃♃♂ ☿ ☿
";

fn planet(sign: char) -> Planet {
    match sign {
        '♄' => Planet::Saturn,
        '♃' => Planet::Jupiter,
        '♂' => Planet::Mars,
        '☉' => Planet::Sun,
        '♀' => Planet::Venus,
        '☿' => Planet::Mercury,
        '☽' => Planet::Moon,
        other => panic!("{other} is no planet"),
    }
}

fn symbol(planet: Planet) -> char {
    ['♄', '♃', '♂', '☉', '♀', '☿', '☽'][planet as usize]
}

fn symbols(planets: impl IntoIterator<Item = Planet>) -> String {
    let written: String = planets.into_iter().map(symbol).collect();
    if written.is_empty() {
        "-".to_owned()
    } else {
        written
    }
}

fn terms(terms: [Term; 5]) -> String {
    terms
        .map(|term| format!("{}{}", symbol(term.ruler), term.end_deg))
        .join(",")
}

/// A row as the tables of the code would print it.
fn row(sign: Sign) -> [String; 7] {
    let tables = DignityTables {
        terms: TermTable::Lilly,
        triplicities: TriplicityTable::Lilly,
        ..DignityTables::default()
    };
    let begins = sign.begins();
    let rulers = tables.rulers(begins);
    let exaltation = rulers.exaltation.map_or("-".to_owned(), |planet| {
        // The 19th degree ends at 19°.
        let (_, deg) = sign_and_degree(exaltation_of_planet(planet) - Angle::from_deg(0.5));
        format!("{}{}", symbol(planet), deg + 0.5)
    });
    let faces = [5.0, 15.0, 25.0].map(|deg| tables.rulers(begins + Angle::from_deg(deg)).face);
    let with = |dignity| {
        let mut has = Planet::ALL.into_iter();
        symbols(has.find(|planet| tables.of(*planet, begins, Sect::Day).has(dignity)))
    };
    [
        symbols([rulers.rulership]),
        exaltation,
        symbols([rulers.triplicity.day, rulers.triplicity.night]),
        terms(TermTable::Lilly.of(sign)),
        symbols(faces),
        with(Dignity::Detriment),
        with(Dignity::Fall),
    ]
}

/// What a page has otherwise than the code, as `sign: printed, here …`.
fn differences(page: &str) -> Vec<String> {
    let mut found = Vec::new();
    let rows: Vec<Vec<&str>> = page
        .trim()
        .lines()
        .map(|line| line.split_whitespace().collect())
        .collect();
    assert_eq!(rows.len(), 12);
    for (printed, sign) in rows.iter().zip(Sign::ALL) {
        let ours = row(sign);
        assert_eq!(printed.len(), 8, "{printed:?}");
        for (printed, ours) in printed[1..].iter().zip(&ours) {
            let pairs = printed.split(',').zip(ours.split(','));
            for (printed, ours) in pairs.filter(|(printed, ours)| printed != ours) {
                found.push(format!("{}: {printed}, here {ours}", sign.name()));
            }
        }
    }
    found
}

/// Two printings of one table; where one has a slip the other has what is here.
#[test]
fn the_table_of_essential_dignities() {
    // Six degrees would leave Jupiter eight; p. 72 of the other has eight and six.
    assert_eq!(differences(MIDDLETON), ["Pisces: ♀6, here ♀8"]);
    assert_eq!(
        differences(LILLY),
        [
            "Taurus: ♄20, here ♄26",
            "Libra: ☿27, here ☿24",
            "Capricorn: ♄, here ♃",
            "Pisces: ♃♃♂, here ♄♃♂",
        ]
    );
}

/// Lilly, Christian Astrology (1659), p. 58: Saturn's terms and faces in degrees,
/// counted. In Sagittarius he leaves out the 20th, which his table gives to Saturn.
#[test]
fn saturns_degrees_by_lilly() {
    const TERMS: [(Sign, u8, u8); 12] = [
        (Sign::Aries, 27, 30),
        (Sign::Taurus, 23, 26),
        (Sign::Gemini, 22, 25),
        (Sign::Cancer, 28, 30),
        (Sign::Leo, 1, 6),
        (Sign::Virgo, 19, 24),
        (Sign::Libra, 1, 6),
        (Sign::Scorpio, 28, 30),
        (Sign::Sagittarius, 20, 25),
        (Sign::Capricorn, 26, 30),
        (Sign::Aquarius, 1, 6),
        (Sign::Pisces, 27, 30),
    ];
    for (sign, first, last) in TERMS {
        for ordinal in 1..=30 {
            let term = TermTable::Lilly.at(sign, f64::from(ordinal) - 0.5);
            let printed = (first..=last).contains(&ordinal);
            assert_eq!(
                term.ruler == Planet::Saturn,
                printed,
                "{ordinal} {}",
                sign.name()
            );
        }
    }
    let faces: Vec<(Sign, u8)> = Sign::ALL
        .into_iter()
        .flat_map(|sign| [1, 11, 21].map(|first| (sign, first)))
        .filter(|(sign, first)| {
            let at = sign.begins() + Angle::from_deg(f64::from(*first));
            DignityTables::default().rulers(at).face == Planet::Saturn
        })
        .collect();
    assert_eq!(
        faces,
        [
            (Sign::Taurus, 21),
            (Sign::Leo, 1),
            (Sign::Libra, 11),
            (Sign::Sagittarius, 21),
            (Sign::Pisces, 1),
        ]
    );
}

/// Ptolemy, Tetrabiblos I.20, tr. Ashmand (1822; there I.23), pp. 33–34, "the terms
/// according to the Ægyptians": each with its last degree.
#[test]
fn the_terms_of_the_egyptians() {
    const PRINTED: [&str; 12] = [
        "♃6,♀12,☿20,♂25,♄30",
        "♀8,☿14,♃22,♄27,♂30",
        "☿6,♃12,♀17,♂24,♄30",
        "♂7,♀13,☿19,♃26,♄30",
        "♃6,♀11,♄18,☿24,♂30",
        "☿7,♀17,♃21,♂28,♄30",
        "♄6,☿14,♃21,♀28,♂30",
        "♂7,♀11,☿19,♃24,♄30",
        "♃12,♀17,☿21,♄26,♂30",
        "☿7,♃14,♀22,♄26,♂30",
        "☿7,♀13,♃20,♂25,♄30",
        "♀12,♃16,☿19,♂28,♄30",
    ];
    for (sign, printed) in Sign::ALL.into_iter().zip(PRINTED) {
        assert_eq!(
            terms(TermTable::Egyptian.of(sign)),
            printed,
            "{}",
            sign.name()
        );
    }
}

/// Ptolemy, Tetrabiblos I.21, tr. Ashmand (1822; there I.24), p. 36: planet and how
/// many degrees, with the second reading where he prints two. Where he has a slip
/// the row says so.
///
/// Ptolemy himself sums up 79 degrees for Jupiter, 82 for Venus and 76 for Mercury
/// (ed. Boll and Boer 1940, I.21.30). No choice among the readings reaches that: it
/// takes eight of Jupiter's for five in Libra and for seven in Scorpio, from Mercury and
/// from Venus; so it is here. In Pisces, three of Saturn's after 25° are a slip for five.
#[test]
fn the_terms_of_ptolemy() {
    #[rustfmt::skip]
    const PRINTED: [[&str; 5]; 12] = [
        ["♃6", "♀8", "☿7", "♂5", "♄4"],
        ["♀8", "☿7", "♃7", "♄2 ♄4", "♂6 ♂4"],
        ["☿7", "♃6", "♀7", "♂6", "♄4"],
        ["♂6", "☿7 ♃7", "♃7 ☿7", "♀7", "♄3"],
        // Printed: fourth Jupiter, in both readings; Venus is missing from the first.
        ["♃6 ♄6", "☿7", "♄6 ♀6", "♀6 ♃6", "♂5"],
        ["☿7", "♀6", "♃5", "♄6", "♂6"],
        ["♄6", "♀5", "☿8 ♃5", "♃5 ☿8", "♂6"],
        ["♂6", "♀8 ♃7", "♃7 ♀8", "☿6", "♄3"],
        ["♃8", "♀6", "☿5", "♄6", "♂5"],
        ["♀6", "☿6", "♃7", "♄6 ♂6", "♂5 ♄5"],
        ["♄6", "☿6", "♀8", "♃5", "♂5"],
        ["♀8", "♃6", "☿6", "♂6 ♂5", "♄4 ♄3"],
    ];
    let mut otherwise = Vec::new();
    for (sign, printed) in Sign::ALL.into_iter().zip(PRINTED) {
        let mut from = 0;
        for (term, readings) in TermTable::Ptolemy.of(sign).into_iter().zip(printed) {
            let ours = format!("{}{}", symbol(term.ruler), term.end_deg - from);
            from = term.end_deg;
            if !readings.split(' ').any(|reading| reading == ours) {
                otherwise.push(format!("{}: {readings}, here {ours}", sign.name()));
            }
        }
    }
    assert_eq!(
        otherwise,
        [
            "Libra: ☿8 ♃5, here ☿5",
            "Libra: ♃5 ☿8, here ♃8",
            "Scorpio: ♀8 ♃7, here ♀7",
            "Scorpio: ♃7 ♀8, here ♃8",
            "Pisces: ♄4 ♄3, here ♄5",
        ]
    );
}

/// Vettius Valens, Anthology II.1 (ed. Kroll 1908, pp. 55–56), whose rulers are those
/// that Dorotheus has: by day, by night, and the third who takes part in both.
/// Ptolemy, Tetrabiblos I.18 (ed. Boll and Boer 1940, I.19): by day, by night; Mars
/// rules the watery triplicity, with Venus by day and the Moon by night.
#[test]
fn the_rulers_of_triplicities() {
    const VALENS: [&str; 4] = ["☉♃♄", "♀☽♂", "♄☿♃", "♀♂☽"];
    const PTOLEMY: [&str; 4] = ["☉♃", "♀☽", "♄☿", "♀☽♂"];
    for (table, printed) in [
        (TriplicityTable::Dorotheus, VALENS),
        (TriplicityTable::Ptolemy, PTOLEMY),
    ] {
        for sign in Sign::ALL {
            let rulers = table.of(sign);
            let named = [Some(rulers.day), Some(rulers.night), rulers.always];
            assert_eq!(
                symbols(named.into_iter().flatten()),
                printed[sign as usize % 4],
                "{}",
                sign.name()
            );
        }
    }
}

/// Houses and exaltations by Ptolemy, Tetrabiblos I.17 and I.19 (ed. Boll and Boer
/// 1940, I.18 and I.20), from Aries.
#[test]
fn houses_and_exaltations_of_ptolemy() {
    const HOUSES: &str = "♂♀☿☽☉☿♀♂♃♄♄♃";
    const EXALTATIONS: &str = "☉☽-♃-☿♄--♂-♀";
    for (sign, (house, exalted)) in Sign::ALL
        .into_iter()
        .zip(HOUSES.chars().zip(EXALTATIONS.chars()))
    {
        let rulers = DignityTables::default().rulers(sign.begins());
        assert_eq!(rulers.rulership, planet(house));
        assert_eq!(symbols(rulers.exaltation), exalted.to_string());
    }
}

/// Middleton I.6, p. 57: the orbs in degrees and minutes; Lilly (1852), p. 25, and in
/// its chapters on the planets (pp. 37, 42, 44, 50, 52), the smaller ones.
#[test]
fn orbs() {
    let bodies = [
        Body::Saturn,
        Body::Jupiter,
        Body::Mars,
        Body::Sun,
        Body::Venus,
        Body::Mercury,
        Body::Moon,
    ];
    let orbs = |table: OrbTable| bodies.map(|body| table.moiety(body).deg() * 2.0);
    assert_eq!(
        orbs(OrbTable::Lilly),
        [10.0, 12.0, 7.5, 17.0, 8.0, 7.0, 12.5]
    );
    assert_eq!(
        orbs(OrbTable::LillySmaller),
        [9.0, 9.0, 7.0, 15.0, 7.0, 7.0, 12.0]
    );
    // His example: Saturn and Venus, five degrees and four, make nine.
    let both = OrbTable::Lilly.moiety(Body::Saturn) + OrbTable::Lilly.moiety(Body::Venus);
    assert_eq!(both.deg(), 9.0);
}

/// Middleton I.6, p. 58, in degrees, minutes and seconds a day. Lilly (1852), p. 38,
/// has 4′52″ for Jupiter, which the sky does not bear out.
#[test]
fn mean_motions() {
    for (planet, deg, arcmin, arcsec) in [
        (Planet::Saturn, 0.0, 2.0, 1.0),
        (Planet::Jupiter, 0.0, 4.0, 59.0),
        (Planet::Mars, 0.0, 31.0, 27.0),
        (Planet::Sun, 0.0, 59.0, 8.0),
        (Planet::Venus, 0.0, 59.0, 8.0),
        (Planet::Mercury, 0.0, 59.0, 8.0),
        (Planet::Moon, 13.0, 10.0, 36.0),
    ] {
        let printed = Angle::from_arcsec(deg * 3600.0 + arcmin * 60.0 + arcsec);
        assert_eq!(mean_motion(planet), printed, "{planet}");
    }
}

/// Middleton I.7, p. 63.
#[test]
fn points_of_dignities() {
    for (dignity, points) in [
        (Dignity::Rulership, 5),
        (Dignity::Exaltation, 4),
        (Dignity::Triplicity, 3),
        (Dignity::Term, 2),
        (Dignity::Face, 1),
        (Dignity::Detriment, -5),
        (Dignity::Fall, -4),
        (Dignity::Peregrine, -5),
    ] {
        assert_eq!(Points::Lilly.of(dignity), points, "{}", dignity.name());
    }
}

/// Middleton I.8, pp. 70–71: combust within 8°30′, under the beams until 17° away. He
/// has the heart within 16′, in longitude and latitude; Lilly has 17′.
#[test]
fn beams_of_the_sun() {
    let of = |away| BeamLimits::Lilly.of(Angle::from_deg(5.0 + away), Angle::from_deg(5.0));
    assert_eq!(of(8.5), Some(UnderSun::Combust));
    assert_eq!(of(8.51), Some(UnderSun::Beams));
    assert_eq!(of(17.0), Some(UnderSun::Beams));
    assert_eq!(of(17.01), None);
    assert_eq!(of(16.0 / 60.0), Some(UnderSun::Heart));
}

/// Middleton I.6, pp. 53–54: Saturn in 10° Taurus casts his antiscion to 20° Leo; the
/// antiscia of the signs. He slips with the contrantiscion of Leo, which he puts in
/// Aquarius, opposite to Leo itself and not to its antiscion.
#[test]
fn antiscia() {
    let at = |sign: Sign, deg: f64| sign.begins() + Angle::from_deg(deg);
    assert_eq!(antiscion(at(Sign::Taurus, 10.0)), at(Sign::Leo, 20.0));
    for (sign, other) in [
        (Sign::Cancer, Sign::Gemini),
        (Sign::Leo, Sign::Taurus),
        (Sign::Virgo, Sign::Aries),
        (Sign::Libra, Sign::Pisces),
        (Sign::Scorpio, Sign::Aquarius),
        (Sign::Sagittarius, Sign::Capricorn),
    ] {
        for deg in [1.0, 11.0, 29.0] {
            let (there, left) = sign_and_degree(antiscion(at(sign, deg)));
            assert_eq!((there, left), (other, 30.0 - deg), "{deg} {}", sign.name());
        }
    }
    // "By the opposite signs and degrees" of the antiscia.
    let leo = at(Sign::Leo, 20.0);
    assert_eq!(contra_antiscion(leo), at(Sign::Scorpio, 10.0));
}

/// Middleton I.9, pp. 78–81, the figure of 6 January 1677: Mars in 8°26′ Gemini stands
/// before the cusp of XII and "shall be accounted in the 12th, because he is within
/// 5 deg. of the cusp thereof"; Saturn, between XI and XII, is in XI; Jupiter is put
/// before the cusp of VIII.
#[test]
fn five_degrees_before_a_cusp() {
    let at =
        |sign: Sign, deg: f64, arcmin: f64| sign.begins() + Angle::from_deg(deg + arcmin / 60.0);
    let east = [
        at(Sign::Cancer, 14.0, 54.0),
        at(Sign::Leo, 4.0, 21.0),
        at(Sign::Leo, 21.0, 18.0),
        at(Sign::Virgo, 13.0, 0.0),
        at(Sign::Libra, 21.0, 16.0),
        at(Sign::Sagittarius, 12.0, 31.0),
    ];
    let cusps = Cusps::given(std::array::from_fn(|n| {
        if n < 6 {
            east[n]
        } else {
            east[n - 6] + Angle::HALF_TURN
        }
    }))
    .expect("in order");
    let houses = |longitude| {
        [Border::FiveDegrees, Border::Cusp].map(|border| border.house_of(&cusps, longitude))
    };
    assert_eq!(houses(at(Sign::Gemini, 8.0, 26.0)), [House::XII, House::XI]);
    assert_eq!(houses(at(Sign::Taurus, 19.0, 13.0)), [House::XI, House::XI]);
    assert_eq!(
        houses(at(Sign::Aquarius, 2.0, 52.0)),
        [House::VIII, House::VII]
    );
}

/// Middleton I.12, pp. 91–93, the part of Fortune "either by day or night": the Moon
/// 29°25′ Gemini, the Sun 27°06′ Capricorn, 14°54′ Cancer ascending; 17°13′
/// Sagittarius. By day Vettius Valens, Anthology II.3 (ed. Kroll 1908, p. 59), has it
/// so too: from the Sun to the Moon, and as much from the ascendant.
#[test]
fn the_part_of_fortune() {
    let at =
        |sign: Sign, deg: f64, arcmin: f64| sign.begins() + Angle::from_deg(deg + arcmin / 60.0);
    let moon = at(Sign::Gemini, 29.0, 25.0);
    let sun = at(Sign::Capricorn, 27.0, 6.0);
    let printed = at(Sign::Sagittarius, 17.0, 13.0);
    for sect in [Sect::Day, Sect::Night] {
        let cast = Lots::built_in().cast(&figure::LotInputs {
            sect,
            by_night: LotsByNight::Unchanged,
            ascendant: Some(at(Sign::Cancer, 14.0, 54.0)),
            midheaven: at(Sign::Pisces, 13.0, 0.0),
            cusps: None,
            north_node: Angle::ZERO,
            lunation: None,
            body: &|body| if body == Body::Moon { moon } else { sun },
        });
        let fortune = cast[0].expect("Fortune");
        assert!(printed.to(fortune).abs().arcsec() < 1e-6, "{fortune}");
    }
}
