//! Slips of the pen: made on random sheets, and found again from what was written.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use figure::{House, Method};
use moment::{Calendar, CivilDate};
use proptest::prelude::*;
use sky::{Angle, Body, Latitude};
use tables::pen::{
    At, Given, Hand, Kept, NumberVerdict, Quantity, Reading, Slip, SlipKind, correct, reckon,
};
use tables::{DayHour, Figure, Form};

fn hand(given: &Given) -> Hand {
    Hand {
        has_digits: true,
        has_rows: true,
        second_difference: false,
        ..Hand::ideal(given, Angle::from_deg(23.44), DayHour::Noon)
    }
}

/// A morning of our time in an eastern town: with summer time, a zone and a longitude.
fn morning() -> Given {
    Given {
        date: CivilDate::new(Calendar::Gregorian, 2024, 5, 14).unwrap(),
        clock_s: 9.0 * 3600.0 + 20.0 * 60.0,
        kept: Kept::Standard {
            ahead_s: 3600.0,
            summer_s: 3600.0,
        },
        latitude: Latitude::from_deg(42.0 + 53.0 / 60.0).unwrap(),
        longitude: Angle::from_deg(-8.5449),
        method: Method::Alcabitius,
    }
}

const ASKED: [Quantity; 10] = [
    Quantity::SiderealTime,
    Quantity::Midheaven,
    Quantity::Ascendant,
    Quantity::Cusp(House::XI),
    Quantity::Cusp(House::II),
    Quantity::Place(Body::Sun),
    Quantity::Place(Body::Moon),
    Quantity::Place(Body::Mercury),
    Quantity::Place(Body::Saturn),
    Quantity::Fortune,
];

/// What is written on a sheet by a hand, to the minute and the second.
fn written(given: &Given, hand: &Hand) -> Option<Vec<Reading>> {
    let found = reckon(given, hand).ok()?.found;
    let each = ASKED.map(|quantity| {
        Some(Reading {
            quantity,
            value: found.get(quantity)?,
            written_to: Angle::from_deg(1.0 / 60.0),
        })
    });
    each.into_iter().collect()
}

fn slip(kind: SlipKind, at: At) -> Slip {
    Slip { kind, at }
}

/// A degree as a sheet has it.
fn told(deg: f64) -> String {
    Figure::written(Form::Zodiac, deg).to_string()
}

#[track_caller]
fn value(given: &Given, slips: Vec<Slip>, quantity: Quantity) -> f64 {
    let hand = Hand {
        slips,
        ..hand(given)
    };
    reckon(given, &hand)
        .unwrap()
        .found
        .get(quantity)
        .unwrap()
        .deg()
}

/// What a slip does is what its name says: by hand, from the numbers of the sheet.
#[test]
fn each_slip_does_what_its_name_says() {
    let given = morning();
    let sidereal = |kind| value(&given, vec![slip(kind, At::Sum)], Quantity::SiderealTime) / 15.0;
    let right = value(&given, Vec::new(), Quantity::SiderealTime) / 15.0;
    // 22 h 15 m 55 s. A twelve hours later clock, with what they gain: 1 m 58 s.
    assert!((sidereal(SlipKind::HalfDay) - right + 12.0 - 118.0 / 3600.0).abs() < 2.0 / 3600.0);
    // The last noon of the ephemeris is 19 h 20 m ago; for a midnight only 7 h 20 m have gone,
    // and that day's noon is written a day later: 12 h less, 3 m 56.6 s more, and what twelve
    // hours gain.
    let other = sidereal(SlipKind::OtherHour) - right;
    assert!(
        (other + 12.0 - (236.6 - 118.3) / 3600.0).abs() < 3.0 / 3600.0,
        "{other}"
    );
    // 9 h 20 m as 9.20 hours is 9 h 12 m.
    let hundredths = (right - sidereal(SlipKind::Hundredths)) * 60.0;
    assert!((hundredths - 8.02).abs() < 0.05, "{hundredths}");
    // 22 h 50 m less 0 h 34 m borrows nothing.
    let borrowed = sidereal(SlipKind::BorrowedHundred);
    assert!((borrowed - right).abs() < 1e-9);
    // 34 m 11 s of longitude, twice.
    let turned = (sidereal(SlipKind::LongitudeTurned) - right) * 3600.0;
    assert!(
        (turned.rem_euclid(86_400.0) - 4102.0).abs() < 1.5,
        "{turned}"
    );
    let gained = (right - sidereal(SlipKind::AccelerationLeftOut)) * 3600.0;
    assert!((gained - 190.0).abs() < 1.5, "{gained}");

    // The cusp XI: 11°51′ and 12°57′ Aries, 3 m 55 s of 4 m past the row: 12°56′.
    let eleventh = |kind| {
        let at = At::Cusp(House::XI);
        told(value(
            &given,
            vec![slip(kind, at)],
            Quantity::Cusp(House::XI),
        ))
    };
    assert_eq!(eleventh(SlipKind::AsItStands), "11°51′ Aries");
    assert_eq!(eleventh(SlipKind::Backwards), "11°52′ Aries");
    assert_eq!(eleventh(SlipKind::PartTurned), "10°46′ Aries");
    // 11.51 and 12.57 are 11°30.6′ and 12°34.2′.
    assert_eq!(eleventh(SlipKind::Hundredths), "12°33′ Aries");
    // 57 less 51 borrows nothing.
    assert_eq!(eleventh(SlipKind::BorrowedHundred), "12°56′ Aries");
    // The midheaven, 0°57′ and 2°00′ Pisces: 2°00′ less 0°57′ borrows, and 1°03′ becomes 1°43′.
    let midheaven = slip(SlipKind::BorrowedHundred, At::Cusp(House::X));
    let borrowed = value(&given, vec![midheaven], Quantity::Midheaven);
    // 1°43′ times 235/240 are 1°41′.
    assert_eq!(told(borrowed), "2°38′ Pisces");
    // By the row before and the one behind a degree of the midheaven is near four minutes.
    let right = value(&given, Vec::new(), Quantity::Midheaven);
    for (kind, sign) in [(SlipKind::RowBefore, -1.0), (SlipKind::RowBehind, 1.0)] {
        let moved = value(&given, vec![slip(kind, At::Houses)], Quantity::Midheaven) - right;
        assert!((moved * sign - 1.05).abs() < 0.05, "{moved}");
    }
}

/// A person's own sheet without a slip is right, and the sidereal time goes on into the
/// cusps: who has it wrong for no known reason and goes on rightly is told so.
#[test]
fn what_follows_from_a_wrong_sidereal_time_follows() {
    let given = morning();
    let right = hand(&given);
    let own = written(&given, &right).unwrap();
    let corrected = correct(&given, &right, &own).unwrap();
    assert!(corrected.fits && corrected.explanations[0].slips.is_empty());
    assert!(
        corrected
            .held
            .iter()
            .all(|one| one.mark == NumberVerdict::Right)
    );

    // Seventeen minutes too many, for no reason.
    let wrong = Hand {
        goes_on_with: Some(22.0 + 32.0 / 60.0 + 55.0 / 3600.0),
        ..right.clone()
    };
    let own = written(&given, &wrong).unwrap();
    let corrected = correct(&given, &right, &own).unwrap();
    let marks: Vec<NumberVerdict> = corrected.held.iter().map(|one| one.mark).collect();
    assert_eq!(marks[0], NumberVerdict::Wrong);
    assert!(
        marks[1..5]
            .iter()
            .all(|mark| *mark == NumberVerdict::Follows),
        "{marks:?}"
    );
    assert!(
        marks[5..9].iter().all(|mark| *mark == NumberVerdict::Right),
        "{marks:?}"
    );
}

/// Two slips at once, one in the sum and one with a number of the ephemeris.
#[test]
fn two_slips_are_found_together() {
    let given = morning();
    let made = [
        slip(SlipKind::SummerTimeLeftIn, At::Sum),
        slip(SlipKind::PartTurned, At::Body(Body::Mercury)),
    ];
    let wrong = Hand {
        slips: made.to_vec(),
        ..hand(&given)
    };
    let own = written(&given, &wrong).unwrap();
    let corrected = correct(&given, &hand(&given), &own).unwrap();
    assert!(corrected.fits);
    let first = corrected.explanations.iter().filter(|one| one.rank == 1);
    assert!(
        first.clone().any(|one| one.slips == made),
        "{:?}",
        first.map(|one| &one.slips).collect::<Vec<_>>()
    );
}

fn cases() -> impl Strategy<Value = Given> {
    let places = (-60.0..60.0f64, -170.0..170.0f64);
    let times = (1600..2500i32, 1..=12u8, 1..=28u8, 0..1440u32);
    (places, times, any::<bool>(), 0..4usize).prop_map(|(place, time, summer, method)| {
        let ((latitude, longitude), (year, month, day, minute)) = (place, time);
        Given {
            date: CivilDate::new(Calendar::Gregorian, year, month, day).unwrap(),
            clock_s: f64::from(minute) * 60.0,
            kept: Kept::Standard {
                ahead_s: (longitude / 15.0).round() * 3600.0,
                summer_s: if summer { 3600.0 } else { 0.0 },
            },
            latitude: Latitude::from_deg((latitude * 60.0).round() / 60.0).unwrap(),
            longitude: Angle::from_deg(longitude),
            method: [
                Method::Alcabitius,
                Method::Regiomontanus,
                Method::Placidus,
                Method::Porphyry,
            ][method],
        }
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(6))]

    /// Every slip that shows is put before all others, or beside those that give the same
    /// numbers; one that moves nothing much further than the tables leave open is no slip:
    /// one is told where it makes the numbers 90 times as likely.
    #[test]
    fn a_slip_that_is_made_is_found(given in cases()) {
        let right = hand(&given);
        for made in Slip::all() {
            let wrong = Hand { slips: vec![made], ..right.clone() };
            let Some(own) = written(&given, &wrong) else { continue };
            let corrected = correct(&given, &right, &own).unwrap();
            let shows = own.iter().zip(&corrected.held).any(|(own, held)| {
                let off = held.should.map_or(0.0, |should| own.off(should).abs().deg());
                off > 1.6 * held.within.deg()
            });
            let mut first = corrected.explanations.iter().filter(|one| one.rank == 1);
            prop_assert!(corrected.fits, "{made:?}");
            if shows {
                prop_assert!(
                    first.any(|one| one.slips == [made]),
                    "{made:?} taken for {:?}",
                    corrected.explanations.first().map(|one| &one.slips)
                );
            }
        }
    }
}
