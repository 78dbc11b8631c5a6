//! Two figures worked by hand in print, each step in our tables: what the book has there, and
//! what is found by going in proportion between two printed rows. Slips of the authors' pens
//! are told where they stand.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use figure::Horizon;
use sky::{Angle, Latitude};
use tables::{Ask, Table, named};

fn table(name: &str, latitude_deg: f64, obliquity_deg: f64) -> Table {
    let ask = Ask {
        latitude: Some(Latitude::from_deg(latitude_deg).unwrap()),
        obliquity: Some(Angle::from_deg(obliquity_deg)),
        ..Ask::of_year(1650)
    };
    named(name).unwrap().make(&ask).unwrap()
}

/// The rows of a table as they are printed: argument and number.
fn rows(table: &Table, column: &str) -> Vec<(f64, f64)> {
    let column = table.column(column).unwrap();
    let number = |row: &tables::Row| Some((row.at, row.cells[column].figure()?.value()));
    table.rows().filter_map(number).collect()
}

/// What is found between two rows, in proportion.
fn between(table: &Table, column: &str, at: f64) -> f64 {
    let rows = rows(table, column);
    let pair = rows
        .windows(2)
        .find(|pair| pair[0].0 <= at && at <= pair[1].0);
    let [from, to] = pair.unwrap() else {
        panic!("two rows");
    };
    from.1 + onward(from.1, to.1) * (at - from.0) / (to.0 - from.0)
}

/// The argument at which a number is found: the table entered from within.
fn argument(table: &Table, column: &str, number: f64) -> f64 {
    let mut rows = rows(table, column);
    // Round the circle: behind the last row stands the first.
    if let Some(first) = rows.first().copied() {
        rows.push((first.0 + 360.0, first.1));
    }
    let holds = |pair: &&[(f64, f64)]| {
        let (way, all) = (onward(pair[0].1, number), onward(pair[0].1, pair[1].1));
        all > 0.0 && (0.0..=all).contains(&way)
    };
    let pair = rows.windows(2).find(holds).unwrap();
    let part = onward(pair[0].1, number) / onward(pair[0].1, pair[1].1);
    pair[0].0 + part * (pair[1].0 - pair[0].0)
}

/// How far it is from one degree to another by the shorter way.
fn onward(from: f64, to: f64) -> f64 {
    (to - from + 540.0).rem_euclid(360.0) - 180.0
}

#[track_caller]
fn near(what: &str, found: f64, printed: f64, within: f64) {
    let off = onward(printed, found);
    assert!(off.abs() <= within, "{what}: {found}, printed {printed}");
}

fn dm(deg: f64, min: f64) -> f64 {
    deg + min / 60.0
}

/// The degree that is found for a cusp: that which rises with a degree of the equator on the
/// circle of its pole.
fn cusp(pole_deg: f64, obliquity_deg: f64, oblique_ascension: f64) -> f64 {
    let table = table("oblique-ascensions", pole_deg, obliquity_deg);
    argument(&table, "oblique_ascension_deg", oblique_ascension)
}

/// G. Wharton, Works (1683), pp. 229–237: the Sun at 1°16′ Cancer, 7 h 54 m 41 s after noon,
/// latitude 53½°; he keeps to whole minutes, and the obliquity is 23°30′.
///
/// Between two of our rows, each true to half a minute, a number is off by as much at most,
/// and his own by half a minute: 1′ in what is looked up once. A cusp is looked up by the sum
/// of three such numbers, on a circle whose pole he has in whole minutes: 2′.
#[test]
fn wharton_1646() {
    const MINUTE: f64 = 1.01 / 60.0;
    const TWO: f64 = 2.01 / 60.0;
    let obliquity = 23.5;
    let ascensions = table("right-ascensions", 53.5, obliquity);
    let sun = between(&ascensions, "right_ascension_deg", dm(91.0, 16.0));
    // It is 91°23′; he has a minute more.
    near("right ascension of the Sun", sun, dm(91.0, 24.0), TWO);
    // "Right ascension of the time".
    let time = (7.0 + 54.0 / 60.0 + 41.0 / 3600.0) * 15.0;
    near("the time", time, dm(118.0, 41.0), MINUTE);
    // He writes 210°04′ for the sum, which is 210°05′.
    let midheaven = dm(210.0, 4.0);
    near(
        "the sum",
        dm(91.0, 24.0) + dm(118.0, 41.0),
        midheaven,
        MINUTE,
    );
    near("the sum, by us", sun + time, midheaven, TWO);
    let tenth = argument(&ascensions, "right_ascension_deg", midheaven);
    near("X", tenth, 210.0 + dm(2.0, 16.0), MINUTE);

    // The poles for 53° and 54°, of which he takes the middle.
    let poles = table("positions", 53.5, obliquity);
    let of = |column| between(&poles, column, 53.5);
    let (eleventh, twelfth) = (dm(34.0, 3.0), dm(49.0, 30.0));
    near(
        "pole of XI",
        of("regiomontanus_xi_iii_deg"),
        eleventh,
        MINUTE,
    );
    near(
        "pole of XII",
        of("regiomontanus_xii_ii_deg"),
        twelfth,
        MINUTE,
    );

    for (what, pole, on, printed) in [
        ("XI", eleventh, 30.0, 210.0 + dm(19.0, 59.0)),
        ("XII", twelfth, 60.0, 240.0 + dm(5.0, 1.0)),
        ("I", 53.5, 90.0, 240.0 + dm(24.0, 45.0)),
        ("II", twelfth, 120.0, 300.0 + dm(3.0, 17.0)),
        ("III", eleventh, 150.0, dm(0.0, 6.0)),
    ] {
        near(what, cusp(pole, obliquity, midheaven + on), printed, TWO);
    }
}

/// J. Newton, Cosmographia (1679), pp. 295–306: 20 March 1674, one in the afternoon, the Sun at
/// 10.23° Aries, latitude 51.533°, obliquity 23.525°, in degrees and hundredths.
///
/// Our tables are true to half a minute, 0.0084°, his numbers to 0.005°, and the logarithms
/// he works by add some thousandths: 0.02° for what is looked up once; for a cusp, looked up by the sum of such numbers on a
/// circle whose pole is one, 0.035°.
///
/// His slips. The angle of ecliptic and meridian is 68.60 on p. 298 and 68.68 on the next. At
/// XII he adds 37.625 and 71.496 to 113.669 instead of 109.121. For the ascendant among the
/// cusps he takes the logarithm 10.6875 for 10.7875, and finds 121.693 where pp. 298–300 have
/// 134.04.
#[test]
fn newton_1674() {
    const ONCE: f64 = 0.02;
    const CUSP: f64 = 0.035;
    let (latitude, obliquity) = (51.533, 23.525);
    let degrees = table("right-ascensions", latitude, obliquity);
    let sun = between(&degrees, "right_ascension_deg", 10.23);
    near("right ascension of the Sun", sun, 9.39, ONCE);
    near("of the midheaven", sun + 15.0, 24.39, ONCE);
    let tenth = argument(&degrees, "right_ascension_deg", 24.39);
    near("X", tenth, 26.31, ONCE);
    let declination = between(&degrees, "declination_deg", 26.31);
    near("its declination", declination, 10.19, ONCE);
    near("its height", 90.0 - latitude + declination, 48.66, ONCE);

    // From the meridian to the nonagesimal, the degree of the ecliptic that stands highest:
    // the ascendant is a quarter of a turn behind it.
    let (ecliptic, pole) = (obliquity.to_radians(), declination.to_radians());
    let angle = (ecliptic.cos() / pole.cos()).asin();
    near("ecliptic and meridian", angle.to_degrees(), 68.68, ONCE);
    let away = (latitude - declination).to_radians();
    let height = 90.0 - (away.sin() * angle.sin()).asin().to_degrees();
    near("height of the nonagesimal", height, 52.03, ONCE);
    let on = (angle.cos() * away.tan()).atan().to_degrees();
    near("nonagesimal", tenth + on, 44.04, CUSP);
    let ascendant = cusp(latitude, obliquity, 24.39 + 90.0);
    near("ascendant, from it", tenth + on + 90.0, ascendant, CUSP);
    near("ascendant", ascendant, 134.04, CUSP);

    let positions = table("positions", latitude, obliquity);
    let of = |column| between(&positions, column, latitude);
    let (eleventh, twelfth) = (32.184, 47.467);
    near("pole of XI", of("regiomontanus_xi_iii_deg"), eleventh, ONCE);
    near("pole of XII", of("regiomontanus_xii_ii_deg"), twelfth, ONCE);

    let found = |pole, on| cusp(pole, obliquity, 24.39 + on);
    near("XI", found(eleventh, 30.0), 70.803, CUSP);
    near("II", found(twelfth, 120.0), 153.740, CUSP);
    // What he would have had without his slips.
    near("XII", found(twelfth, 60.0), 37.625 + 71.496, CUSP);
    for (slip, found) in [(113.669, found(twelfth, 60.0)), (121.693, ascendant)] {
        assert!(onward(slip, found).abs() > 4.0, "{slip}, found {found}");
    }
    // Where the tables know nothing of him: the horizon of his place, exactly.
    let horizon = Horizon {
        sidereal_time: Angle::from_deg(24.39),
        obliquity: Angle::from_deg(obliquity),
        latitude: Latitude::from_deg(latitude).unwrap(),
    };
    near("exactly", horizon.ascendant().unwrap().deg(), 134.04, CUSP);
}
