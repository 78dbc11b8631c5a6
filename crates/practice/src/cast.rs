use instrument::{DateFrom, House, Instrument, LineId, Pick};

use crate::operation::{Act, Brought, Operation, Reckoning, Sense, Step};
use crate::procedure::Procedure;
use crate::quantity::Quantity;

/// Casting a figure: from the clock to the ascendant, the midheaven, and the cusps
/// by each of the procedures in turn.
#[must_use]
pub fn casting(instrument: &Instrument, procedures: &[Procedure]) -> Operation {
    let mut steps = setting(instrument.date_from());
    steps.push(Act::ReadEcliptic {
        at: LineId::Horizon,
        pick: Pick::Eastern,
        finds: Quantity::Ascendant,
    });
    steps.push(Act::ReadEcliptic {
        at: LineId::MeridianLine,
        pick: Pick::Drawn,
        finds: Quantity::Midheaven,
    });
    let mut steps: Vec<Step> = steps
        .into_iter()
        .map(|act| Step {
            act,
            procedure: None,
        })
        .collect();
    for procedure in procedures {
        let of_procedure = |act| Step {
            act,
            procedure: Some(*procedure),
        };
        steps.extend(cusps(*procedure).into_iter().map(of_procedure));
    }
    Operation {
        title: "Casting a figure",
        steps,
    }
}

/// The procedures that an instrument allows.
#[must_use]
pub fn procedures(instrument: &Instrument) -> Vec<Procedure> {
    let always = [
        Procedure::Turning,
        Procedure::DirectCut,
        Procedure::LimbThirds,
    ];
    let engraved = instrument.house_lines().map(Procedure::HouseLines);
    always.into_iter().chain(engraved).collect()
}

/// Plate, hour, and rete.
fn setting(date_from: DateFrom) -> Vec<Act> {
    let mut steps = vec![Act::ChoosePlate, Act::Reckon(Reckoning::HourForRule)];
    if date_from == DateFrom::Zodiac {
        steps.push(Act::ReadSunDegree);
    }
    steps.push(Act::TurnRuleOnto(Quantity::HourForRule));
    steps.push(Act::TurnRete {
        what: Brought::Sun,
        onto: LineId::RuleEdge,
        pick: Pick::Drawn,
        sense: Sense::Either,
    });
    steps
}

fn cusps(procedure: Procedure) -> Vec<Act> {
    match procedure {
        Procedure::Turning => turning(),
        Procedure::DirectCut => crossings(procedure, |house| {
            procedure.hour_line(house).map(LineId::UnequalHour)
        }),
        Procedure::HouseLines(method) => {
            crossings(procedure, |house| Some(LineId::House(method, house)))
        }
        Procedure::LimbThirds => limb_thirds(),
    }
}

/// The ascendant's degree back onto lines 8 and 10, its opposite onward onto
/// lines 2 and 4; the cusp stands on the midnight line.
fn turning() -> Vec<Act> {
    let procedure = Procedure::Turning;
    let mut steps = Vec::new();
    for house in procedure.read_houses() {
        let Some(hour) = procedure.hour_line(house) else {
            continue;
        };
        let (what, sense) = if hour.number() > 6 {
            (Brought::Degree(Quantity::Ascendant), Sense::Back)
        } else {
            (Brought::Opposite(Quantity::Ascendant), Sense::Onward)
        };
        steps.push(Act::TurnRete {
            what,
            onto: LineId::UnequalHour(hour),
            pick: Pick::Drawn,
            sense,
        });
        steps.push(Act::ReadEcliptic {
            at: LineId::MidnightLine,
            pick: Pick::Drawn,
            finds: Quantity::Cusp(procedure, house),
        });
        steps.push(Act::Return);
    }
    steps
}

/// The rete stays; each cusp is where the ecliptic crosses a line.
fn crossings(procedure: Procedure, line: impl Fn(House) -> Option<LineId>) -> Vec<Act> {
    let houses = procedure.read_houses().into_iter();
    houses
        .filter_map(|house| {
            Some(Act::ReadEcliptic {
                at: line(house)?,
                pick: Pick::Drawn,
                finds: Quantity::Cusp(procedure, house),
            })
        })
        .collect()
}

/// The rule over the ascendant gives a degree of the limb; thirds of the way to
/// noon and to midnight are set, and the ecliptic read under the rule.
fn limb_thirds() -> Vec<Act> {
    let mut steps = vec![Act::ReadLimb {
        over: Brought::Degree(Quantity::Ascendant),
        finds: Quantity::LimbOfAscendant,
    }];
    for house in Procedure::LimbThirds.read_houses() {
        steps.push(Act::Reckon(Reckoning::ThirdOfLimb(house)));
        steps.push(Act::TurnRuleOnto(Quantity::LimbForCusp(house)));
        steps.push(Act::ReadEcliptic {
            at: LineId::RuleEdge,
            pick: Pick::Drawn,
            finds: Quantity::Cusp(Procedure::LimbThirds, house),
        });
    }
    steps.push(Act::Return);
    steps
}
