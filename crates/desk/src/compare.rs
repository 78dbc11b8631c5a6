use ::moment::{Clock, SaidMoment, UtcOffset, When};
use instrument::Instrument;
use practice::{Conditions, Quantity, carry_out, casting};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sky::Angle;

use crate::answer::PlaceAnswer;
use crate::cabinet::{Cabinet, serves};
use crate::casting::Casting;
use crate::moment_texts::resolved;
use crate::refusal::{Field, Refusal};
use crate::request::{CastRequest, WithInstrument};

/// What is asked when instruments are to be compared.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct CompareRequest {
    /// The case: its place, and the year through which the instruments are tried.
    pub moment: CastRequest,
    /// The instruments; unless said, one's own and the demonstration's, as far as they serve the
    /// place.
    pub with: Vec<WithInstrument>,
}

/// Instruments side by side.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct CompareAnswer {
    /// The place.
    pub place: PlaceAnswer,
    /// The moment with which the year begins, on the clock.
    pub from: String,
    /// The house method that the cusps are held against.
    pub method: &'static str,
    /// The cusp procedure.
    pub by: &'static str,
    /// How many moments of the year were tried.
    pub moments: usize,
    /// One row for each instrument.
    pub instruments: Vec<ComparedInstrument>,
}

/// How an instrument does over a year.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ComparedInstrument {
    /// What it is called.
    pub name: String,
    /// Across the mater.
    pub diameter_mm: f64,
    /// The plate that is laid in.
    pub plate_latitude_deg: f64,
    /// `arcs` or `curves`.
    pub unequal_hour_lines: &'static str,
    /// How far the ascendant is off.
    pub ascendant: ErrorAnswer,
    /// The midheaven.
    pub midheaven: ErrorAnswer,
    /// The cusps II, III, V and VI together.
    pub cusps: ErrorAnswer,
}

/// An error over a year.
#[derive(Clone, Debug, Default, Serialize, JsonSchema)]
pub struct ErrorAnswer {
    /// To be expected: the root of the mean square; null where nothing was read.
    pub expected_deg: Option<f64>,
    /// The largest met with.
    pub largest_deg: Option<f64>,
    /// Nine in ten are no larger.
    pub nine_in_ten_deg: Option<f64>,
}

/// The moments that a year is tried at are 25 hours apart: so they fall on every
/// hour of the day in every season.
const STEP_DAYS: f64 = 25.0 / 24.0;

/// More do not stand side by side in a picture.
const MOST_COMPARED: usize = 24;

/// Carries out the same working on several instruments, at some 350 moments of a year.
///
/// # Errors
/// When the request cannot be understood, or no instrument serves the place.
pub fn compare(
    request: &CompareRequest,
    cabinet: &Cabinet,
    now_unix_s: Option<f64>,
) -> Result<CompareAnswer, Refusal> {
    let case = Casting::of(&request.moment, cabinet, now_unix_s)?;
    let asked: Vec<Instrument> = if request.with.is_empty() {
        cabinet.at_hand().cloned().collect()
    } else {
        request
            .with
            .iter()
            .map(|with| cabinet.find(Some(with), case.latitude()))
            .collect::<Result<_, _>>()?
    };
    let serving: Vec<Instrument> = asked
        .into_iter()
        .filter(|one| serves(one, case.latitude()))
        .collect();
    Refusal::beyond(Field::With, serving.len(), MOST_COMPARED, "instruments")?;
    if serving.is_empty() {
        return Err(Refusal::new(
            Field::With,
            "no instrument asked about serves this place; one of its hemisphere would do",
        ));
    }
    let moments: Vec<Casting> = (0..365_u16)
        .map(|day| STEP_DAYS * f64::from(day))
        .take_while(|days| *days < 365.0)
        .filter_map(|days| {
            let utc = case.moment.utc().plus_seconds(days * 86_400.0);
            let said = SaidMoment {
                when: When::utc_is(utc),
                place: case.moment.place().clone(),
                calendar: None,
                clock: Clock::Offset(UtcOffset::default()),
                zone: None,
                which: None,
            };
            // The end of the ephemeris may come before that of the year.
            let moment = resolved(&said, None).ok()?;
            Some(Casting {
                moment,
                ..case.clone()
            })
        })
        .collect();
    Ok(CompareAnswer {
        place: PlaceAnswer::of(case.moment.place()),
        from: case.moment.civil().to_string(),
        method: case.method.name(),
        by: case.by.name(),
        moments: moments.len(),
        instruments: serving
            .iter()
            .map(|instrument| compared(instrument, &case, &moments))
            .collect(),
    })
}

fn compared(instrument: &Instrument, case: &Casting, moments: &[Casting]) -> ComparedInstrument {
    let operation = casting(instrument, &[case.by]);
    let (mut ascendant, mut midheaven, mut cusps) = (Vec::new(), Vec::new(), Vec::new());
    for moment in moments {
        let actual = Conditions::actual(moment.given(instrument), instrument.clone(), &[]);
        let working = carry_out(&operation, &actual);
        let off = |quantity: Quantity, exact: Option<Angle>| {
            let read = working.reading(quantity).ok()?;
            Some(exact?.to(read.value.angle()?).abs().deg())
        };
        let horizon = moment.horizon();
        ascendant.extend(off(Quantity::Ascendant, horizon.ascendant().ok()));
        midheaven.extend(off(Quantity::Midheaven, Some(horizon.midheaven())));
        if let Ok(exact) = case.method.cusps(&horizon) {
            for house in case.by.read_houses() {
                let index = usize::from(house.number()) - 1;
                cusps.extend(off(
                    case.by.quantity(house),
                    exact.all().get(index).copied(),
                ));
            }
        }
    }
    let specification = instrument.specification();
    ComparedInstrument {
        name: specification.name.clone(),
        diameter_mm: specification.diameter.mm(),
        plate_latitude_deg: instrument.nearest_plate(case.latitude()).deg(),
        unequal_hour_lines: instrument.hour_lines().name(),
        ascendant: ErrorAnswer::of(ascendant),
        midheaven: ErrorAnswer::of(midheaven),
        cusps: ErrorAnswer::of(cusps),
    }
}

impl ErrorAnswer {
    fn of(mut off: Vec<f64>) -> ErrorAnswer {
        if off.is_empty() {
            return ErrorAnswer::default();
        }
        off.sort_by(f64::total_cmp);
        let square: f64 = off.iter().map(|one| one * one).sum();
        ErrorAnswer {
            expected_deg: Some((square / off.len() as f64).sqrt()),
            largest_deg: off.last().copied(),
            nine_in_ten_deg: off.get(off.len() * 9 / 10).copied(),
        }
    }
}
