//! The three roads to a number beside each other: pen, brass and calculation.

use figure::House;
use schemars::JsonSchema;
use serde::Serialize;
use sky::Angle;

use crate::answer::{ShareAnswer, WhyOne};
use crate::cabinet::{Cabinet, refuse_other_hemisphere};
use crate::casting::Casting;
use crate::refusal::Refusal;
use crate::request::CastRequest;

/// The three roads beside each other.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct RoadsAnswer {
    /// What the instrument is called.
    pub instrument: String,
    /// The cusp procedure on it.
    pub by: &'static str,
    /// The angles and the cusps I to XII; none where the instrument does not serve the place.
    pub numbers: Vec<RoadsToAnswer>,
    /// Why there are none.
    pub reason: Option<String>,
}

/// The roads to one number.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct RoadsToAnswer {
    /// Its name.
    pub what: String,
    /// By tables and pen; null where there is no answer.
    pub pen_deg: Option<f64>,
    /// On the brass.
    pub brass_deg: Option<f64>,
    /// By calculation.
    pub calculated_deg: Option<f64>,
    /// Why any two of them differ: pen and brass, pen and calculation, brass and calculation.
    pub between: Vec<BetweenRoadsAnswer>,
}

/// A road to a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Road {
    /// By tables and pen.
    Pen,
    /// On the brass.
    Brass,
    /// By calculation.
    Calculation,
}

impl Road {
    /// In a sentence.
    const fn words(self) -> &'static str {
        match self {
            Road::Pen => "tables and pen",
            Road::Brass => "the brass",
            Road::Calculation => "calculation",
        }
    }
}

/// Why two roads to a number differ.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct BetweenRoadsAnswer {
    /// `pen` or `brass`.
    #[schemars(with = "String", extend("enum" = ["pen", "brass"]))]
    pub one: Road,
    /// `brass` or `calculation`.
    #[schemars(with = "String", extend("enum" = ["brass", "calculation"]))]
    pub other: Road,
    /// The one less the other, in (−180, 180].
    pub difference_deg: f64,
    /// Its parts by cause, in the order in which causes are accounted for; but for whole turns
    /// they add up to it.
    pub shares: Vec<ShareAnswer>,
    /// The difference in a sentence.
    pub sentence: String,
}

/// In which order causes are accounted for, whichever road they belong to.
const ORDER: [&str; 20] = [
    "procedure",
    "summer-time",
    "zone",
    "longitude",
    "equation-of-time",
    "sun-latitude",
    "sun-degree",
    "sun-moves",
    "refraction",
    "plate-latitude",
    "epoch",
    "arcs",
    "table-latitude",
    "table-rounding",
    "interpolation",
    "second-difference",
    "faults",
    "setting",
    "rounding",
    "unexplained",
];

/// Holds what was found with the pen, and why it differs (in the ascendant, the midheaven and
/// the cusps), against what an instrument reads.
///
/// # Errors
/// When the instrument cannot be understood.
pub(crate) fn roads(
    request: &CastRequest,
    (ascendant, midheaven, of_pen): (&WhyOne, &WhyOne, &[WhyOne]),
    cabinet: &Cabinet,
    now_unix_s: Option<f64>,
) -> Result<RoadsAnswer, Refusal> {
    let casting = Casting::of(request, cabinet, now_unix_s)?;
    let mut answer = RoadsAnswer {
        instrument: words::Called(&casting.instrument.specification().name).to_string(),
        by: casting.by.name(),
        numbers: Vec::new(),
        reason: None,
    };
    if let Err(refusal) = refuse_other_hemisphere(&casting.instrument, casting.latitude()) {
        answer.reason = Some(refusal.message);
        return Ok(answer);
    }
    let mut brass = casting.why_of(casting.by);
    let cusps = brass.cusps.remove(casting.by.name()).unwrap_or_default();
    let mut numbers = vec![
        roads_to("The ascendant", ascendant, &brass.ascendant),
        roads_to("The midheaven", midheaven, &brass.midheaven),
    ];
    let both = House::ALL.iter().zip(of_pen).zip(&cusps);
    numbers.extend(
        both.map(|((house, pen), brass)| roads_to(&format!("Cusp {house}"), pen, &brass.why)),
    );
    answer.numbers = numbers;
    Ok(answer)
}

fn roads_to(name: &str, pen: &WhyOne, brass: &WhyOne) -> RoadsToAnswer {
    let mut between = Vec::new();
    if let (Some(of_pen), Some(of_brass)) = (pen.difference_deg, brass.difference_deg) {
        let shares = apart(&pen.shares, &brass.shares);
        // The short way round, as each of the two is.
        let difference = Angle::from_deg(of_pen - of_brass).signed().deg();
        between.push(between_two(
            name,
            (Road::Pen, Road::Brass),
            difference,
            shares,
        ));
    }
    for (road, why) in [(Road::Pen, pen), (Road::Brass, brass)] {
        if let Some(difference) = why.difference_deg {
            let shares = why.shares.clone();
            between.push(between_two(
                name,
                (road, Road::Calculation),
                difference,
                shares,
            ));
        }
    }
    let calculated = pen.exact_deg.or(brass.exact_deg);
    RoadsToAnswer {
        what: name.to_owned(),
        pen_deg: pen.read_deg,
        brass_deg: brass.read_deg,
        calculated_deg: calculated,
        between,
    }
}

fn between_two(
    name: &str,
    (one, other): (Road, Road),
    difference_deg: f64,
    shares: Vec<ShareAnswer>,
) -> BetweenRoadsAnswer {
    let named: Vec<(&str, f64)> = shares.iter().map(|one| (one.words, one.deg)).collect();
    BetweenRoadsAnswer {
        sentence: words::roads_difference(
            name,
            (one.words(), other.words()),
            difference_deg,
            &named,
        ),
        one,
        other,
        difference_deg,
        shares,
    }
}

/// The shares of one road less those of the other, cause by cause.
fn apart(pen: &[ShareAnswer], brass: &[ShareAnswer]) -> Vec<ShareAnswer> {
    fn of<'a>(all: &'a [ShareAnswer], cause: &str) -> Option<&'a ShareAnswer> {
        all.iter().find(|one| one.cause == cause)
    }
    let of_cause = |cause: &&'static str| {
        let (pen, brass) = (of(pen, cause), of(brass, cause));
        let deg = |share: Option<&ShareAnswer>| share.map_or(0.0, |share| share.deg);
        // A cause that both have is named as that of the road where it weighs more.
        let heavier = if deg(pen).abs() > deg(brass).abs() {
            pen.or(brass)
        } else {
            brass.or(pen)
        };
        Some(ShareAnswer {
            cause,
            words: heavier?.words,
            deg: deg(pen) - deg(brass),
        })
    };
    ORDER.iter().filter_map(of_cause).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_cause_has_its_place() {
        let brass = practice::Cause::REPLAYED.map(practice::Cause::name);
        let pen = ::tables::pen::Cause::GIVEN_UP.map(::tables::pen::Cause::name);
        let ends = ["procedure", "unexplained"];
        for name in brass.iter().chain(&pen).chain(&ends) {
            assert!(ORDER.contains(name), "{name}");
        }
    }

    #[test]
    fn two_roads_far_on_either_side_differ_by_the_short_way_round() {
        // 179° on from calculation, and 178° back from it: 3° apart across 0° Aries.
        let [pen, brass] = [(179.0, 179.0), (182.0, -178.0)].map(|(read, difference)| WhyOne {
            read_deg: Some(read),
            exact_deg: Some(0.0),
            difference_deg: Some(difference),
            shares: Vec::new(),
            sentence: None,
            reason: None,
        });
        let between = roads_to("The ascendant", &pen, &brass).between;
        assert_eq!((between[0].one, between[0].other), (Road::Pen, Road::Brass));
        assert!((between[0].difference_deg + 3.0).abs() < 1e-9);
    }
}
