use instrument::{DateFrom, House, Instrument, LineId, Pick};

use crate::operation::{Act, Operation, Reckoning, RetePlace, Sense, Step};
use crate::procedure::Procedure;
use crate::quantity::{OnPlate, Quantity, WhichPlate};

/// Casting a figure: from the clock to the ascendant, the midheaven, and the cusps
/// by each of the procedures in turn.
#[must_use]
pub fn casting(instrument: &Instrument, procedures: &[Procedure]) -> Operation {
    let mut steps = shared(setting(instrument.date_from()));
    steps.extend(shared(vec![read_ascendant(None), read_midheaven()]));
    steps.extend(all_cusps(procedures, None));
    Operation {
        title: "Casting a figure",
        steps,
    }
}

/// The same on two plates, between which the place's latitude lies: ascendant and cusps are
/// read on both, and as far as the latitude lies between the plates, so far is gone from
/// one reading to the other. The midheaven is the same on every plate.
#[must_use]
pub fn casting_on_two_plates(instrument: &Instrument, procedures: &[Procedure]) -> Operation {
    let (first, second) = (Some(WhichPlate::First), Some(WhichPlate::Second));
    let mut steps = shared(setting(instrument.date_from()));
    steps.extend(shared(vec![read_ascendant(first), read_midheaven()]));
    steps.extend(all_cusps(procedures, first));
    steps.extend(shared(vec![Act::ExchangePlate]));
    steps.extend(shared(sun_under_rule().to_vec()));
    steps.extend(shared(vec![read_ascendant(second)]));
    steps.extend(all_cusps(procedures, second));
    let between = |what| Act::Reckon(Reckoning::BetweenPlates(what));
    steps.extend(shared(vec![between(OnPlate::Ascendant)]));
    for procedure in procedures {
        steps.extend(procedure.read_houses().map(|house| Step {
            act: between(OnPlate::Cusp(*procedure, house)),
            procedure: Some(*procedure),
        }));
    }
    Operation {
        title: "Casting a figure on two plates",
        steps,
    }
}

/// Steps that belong to every procedure.
fn shared(acts: Vec<Act>) -> Vec<Step> {
    let step = |act| Step {
        act,
        procedure: None,
    };
    acts.into_iter().map(step).collect()
}

fn all_cusps(procedures: &[Procedure], on: Option<WhichPlate>) -> Vec<Step> {
    let of = |procedure: &Procedure| {
        let procedure = *procedure;
        let step = move |act| Step {
            act,
            procedure: Some(procedure),
        };
        cusps(procedure, on).into_iter().map(step)
    };
    procedures.iter().flat_map(of).collect()
}

/// What is read: on one of two plates, or for good.
fn read(on: Option<WhichPlate>, what: OnPlate) -> Quantity {
    on.map_or(what.quantity(), |plate| Quantity::On(plate, what))
}

fn read_ascendant(on: Option<WhichPlate>) -> Act {
    Act::ReadEcliptic {
        at: LineId::Horizon,
        pick: Pick::Eastern,
        finds: read(on, OnPlate::Ascendant),
    }
}

fn read_midheaven() -> Act {
    Act::ReadEcliptic {
        at: LineId::MeridianLine,
        pick: Pick::Drawn,
        finds: Quantity::Midheaven,
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
    steps.extend(sun_under_rule());
    steps
}

fn sun_under_rule() -> [Act; 2] {
    [
        Act::TurnRuleOnto(Quantity::HourForRule),
        Act::TurnRete {
            what: RetePlace::Sun,
            onto: LineId::RuleEdge,
            pick: Pick::Drawn,
            sense: Sense::Either,
        },
    ]
}

fn cusps(procedure: Procedure, on: Option<WhichPlate>) -> Vec<Act> {
    match procedure {
        Procedure::Turning => turning(on),
        Procedure::DirectCut => crossings(procedure, on, |house| {
            procedure.hour_line(house).map(LineId::UnequalHour)
        }),
        Procedure::HouseLines(method) => {
            crossings(procedure, on, |house| Some(LineId::House(method, house)))
        }
        Procedure::LimbThirds => limb_thirds(on),
    }
}

/// The ascendant's degree back onto lines 8 and 10, its opposite onward onto
/// lines 2 and 4; the cusp stands on the midnight line.
fn turning(on: Option<WhichPlate>) -> Vec<Act> {
    let procedure = Procedure::Turning;
    let ascendant = read(on, OnPlate::Ascendant);
    let mut steps = Vec::new();
    for house in procedure.read_houses() {
        let Some(hour) = procedure.hour_line(house) else {
            continue;
        };
        let (what, sense) = if hour.number() > 6 {
            (RetePlace::Degree(ascendant), Sense::Back)
        } else {
            (RetePlace::Opposite(ascendant), Sense::Onward)
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
            finds: read(on, OnPlate::Cusp(procedure, house)),
        });
        steps.push(Act::Return);
    }
    steps
}

/// The rete stays; each cusp is where the ecliptic crosses a line.
fn crossings(
    procedure: Procedure,
    on: Option<WhichPlate>,
    line: impl Fn(House) -> Option<LineId>,
) -> Vec<Act> {
    let houses = procedure.read_houses().into_iter();
    houses
        .filter_map(|house| {
            Some(Act::ReadEcliptic {
                at: line(house)?,
                pick: Pick::Drawn,
                finds: read(on, OnPlate::Cusp(procedure, house)),
            })
        })
        .collect()
}

/// The rule over the ascendant gives a degree of the limb; thirds of the way to
/// noon and to midnight are set, and the ecliptic read under the rule.
fn limb_thirds(on: Option<WhichPlate>) -> Vec<Act> {
    let mut steps = vec![Act::ReadLimb {
        over: RetePlace::Degree(read(on, OnPlate::Ascendant)),
        finds: Quantity::LimbOfAscendant,
    }];
    for house in Procedure::LimbThirds.read_houses() {
        steps.push(Act::Reckon(Reckoning::ThirdOfLimb(house)));
        steps.push(Act::TurnRuleOnto(Quantity::LimbForCusp(house)));
        steps.push(Act::ReadEcliptic {
            at: LineId::RuleEdge,
            pick: Pick::Drawn,
            finds: read(on, OnPlate::Cusp(Procedure::LimbThirds, house)),
        });
    }
    steps.push(Act::Return);
    steps
}
