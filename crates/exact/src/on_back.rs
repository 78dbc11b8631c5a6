//! What calculation gives for what is read among the lines of the back's field.

use std::collections::BTreeMap;

use figure::{DignityTables, TermTable};
use instrument::{CurveLeg, ZodiacRing};
use practice::{Finding, Quantity, Sighting, Stated, Value};
use sky::{Angle, Sign};

use crate::answers::Answers;
use crate::facts::Facts;
use crate::towards_mecca::sun_towards_mecca;

/// The Sun's, as it is seen from the side on which it stands; none where it stays below the
/// horizon.
pub(crate) fn noon_altitude(facts: &Facts<'_>) -> Answers {
    let counted = facts.meridian_altitude(facts.sun.declination);
    let seen = if counted > Angle::QUARTER_TURN {
        Angle::HALF_TURN - counted
    } else {
        counted
    };
    let up = Some(seen).filter(|altitude| *altitude >= Angle::ZERO);
    Answers::of([(Finding::NoonAltitude, up)])
}

/// Its altitude in the direction of Mecca, on the legs that are asked for.
pub(crate) fn towards_mecca(facts: &Facts<'_>) -> Answers {
    let Some(curve) = &facts.conditions.qibla else {
        return Answers::default();
    };
    let (latitude, longitude) = (curve.place.latitude, curve.place.longitude);
    let there = sun_towards_mecca(latitude, longitude, facts.sun.declination);
    let on = |leg: CurveLeg| there.iter().find(|one| one.leg == leg);
    let asked = facts.choices.towards_mecca;
    Answers::of(
        [
            (Finding::TowardsMecca, Some(asked.lower)),
            (Finding::HigherTowardsMecca, asked.higher),
        ]
        .map(|(finding, leg)| (finding, leg.and_then(on).map(|one| one.altitude))),
    )
}

pub(crate) fn hour_by_altitude(facts: &Facts<'_>) -> Answers {
    let hour = facts.seen(Sighting::Altitude).and_then(|altitude| {
        facts.hour_angle_at(facts.sun.declination, altitude, facts.choices.side)
    });
    Answers::of([(Finding::Hour, hour)])
}

/// sin δ = sin λ sin ε, each sine of sixty parts.
pub(crate) fn declination_by_sines(facts: &Facts<'_>) -> Answers {
    let Some(degree) = facts.stated(Stated::Degree) else {
        return Answers::default();
    };
    let declination = facts.degree(degree).declination;
    let (sine, cosine) = degree.sin_cos();
    let mut answers = Answers::of([
        (
            Finding::FromEquinox,
            Some(Angle::atan2(sine.abs(), cosine.abs())),
        ),
        (Finding::DeclinationSize, Some(declination.angle().abs())),
        (Finding::Declination, Some(declination.angle())),
    ]);
    for (finding, sine) in [
        (Finding::SineOfDegree, sine.abs()),
        (Finding::SineOfObliquity, facts.obliquity.sin()),
        (Finding::SineOfDeclination, declination.sin().abs()),
    ] {
        let parts = Value::Points(60.0 * sine);
        answers.put_value(Quantity::Found(finding), Some(parts));
    }
    answers
}

/// The height of the gnomon times the cotangent of the altitude.
pub(crate) fn shadow(facts: &Facts<'_>) -> Answers {
    let mut answers = Answers::default();
    let altitude = facts.seen(Sighting::Altitude);
    for (finding, gnomon) in [(Finding::ShadowDigits, 12.0), (Finding::ShadowFeet, 7.0)] {
        let above = altitude.filter(|altitude| *altitude > Angle::ZERO);
        let shadow = above.map(|altitude| gnomon / libm::tan(altitude.rad()));
        answers.put_value(Quantity::Found(finding), shadow.map(Value::Points));
    }
    answers
}

/// Where the face, the term and the mansion of a degree begin: by the tables themselves.
pub(crate) fn parts_of_rings(facts: &Facts<'_>) -> Answers {
    let Some(degree) = facts.stated(Stated::Degree) else {
        return Answers::default();
    };
    let rings = facts.conditions.rings.iter();
    let found = rings.map(|one| {
        let begins = Value::Degree(begins(one.ring, degree));
        (Quantity::PartBegins(one.ring), begins)
    });
    Answers(found.collect::<BTreeMap<Quantity, Value>>())
}

fn begins(ring: ZodiacRing, longitude: Angle) -> Angle {
    match ring {
        ZodiacRing::Faces => {
            // A face ends where another planet's begins, and no two neighbours have one lord.
            let lord = |at: Angle| DignityTables::default().rulers(at).face;
            let within = longitude.in_turn().deg();
            let mut whole = within.floor();
            let here = lord(longitude);
            while whole > 0.0 && lord(Angle::from_deg(whole - 0.5)) == here {
                whole -= 1.0;
            }
            Angle::from_deg(whole)
        }
        ZodiacRing::EgyptianTerms => of_term(TermTable::Egyptian, longitude),
        ZodiacRing::PtolemysTerms => of_term(TermTable::Ptolemy, longitude),
        ZodiacRing::LillysTerms => of_term(TermTable::Lilly, longitude),
        ZodiacRing::Mansions => {
            let mansions = (longitude.in_turn() / Angle::FULL_TURN * 28.0).floor();
            Angle::FULL_TURN * (mansions / 28.0)
        }
    }
}

fn of_term(table: TermTable, longitude: Angle) -> Angle {
    let within_turn = longitude.in_turn().deg();
    let mut begun = 0.0;
    for (sign, begins) in Sign::ALL
        .into_iter()
        .zip((0..12_u8).map(|n| 30.0 * f64::from(n)))
    {
        let ends = table.of(sign).map(|term| begins + f64::from(term.end_deg));
        for from in [begins].into_iter().chain(ends) {
            if from <= within_turn {
                begun = f64::max(begun, from);
            }
        }
    }
    Angle::from_deg(begun)
}
