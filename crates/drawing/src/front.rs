use instrument::{Instrument, LineId, Minutes, State};
use sky::{Angle, Latitude};

use crate::limb::mater;
use crate::measures::Measures;
use crate::pen::Pen;
use crate::plate;
use crate::rete::rete;
use crate::rule::rule;
use crate::scene::{Group, Scene};

/// How an instrument is shown: where its parts stand, and what is being read.
#[derive(Clone, Debug, PartialEq)]
pub struct Setting {
    /// Where the parts stand, and which plate is in.
    pub state: State,
    /// The lines to light: those being read.
    pub lit: Vec<LineId>,
}

impl Setting {
    /// Unset: everything at its beginning, 0° Aries and the rule on noon.
    #[must_use]
    pub fn at_rest(plate: Latitude) -> Setting {
        Setting::of(State::at_rest(plate))
    }

    /// The parts where a state has them, nothing lit.
    #[must_use]
    pub fn of(state: State) -> Setting {
        Setting {
            state,
            lit: Vec::new(),
        }
    }

    /// With these lines lit.
    #[must_use]
    pub fn with_lit(self, lit: Vec<LineId>) -> Setting {
        Setting { lit, ..self }
    }
}

/// The front of an instrument: mater and limb, plate, rete and rule, set.
///
/// Any latitude has a plate, whether it is at hand or not. Everything is thinned to
/// what the size carries, and letters too small to read are left out.
///
/// ```
/// use drawing::{Setting, Svg, front};
/// use instrument::{Instrument, Specification};
/// # let text = r#"
/// #     version = 1
/// #     name = "class instrument"
/// #     diameter_mm = 180
/// #     epoch_year = 2025
/// #     plates_deg = [42]
/// # "#;
/// let instrument = Instrument::new(Specification::from_toml(text)?);
/// let plate = instrument.specification().plates[0];
/// let svg = front(&instrument, &Setting::at_rest(plate)).svg(&Svg::default());
/// assert!(svg.contains("data-line=\"almucantar 30°\""));
/// # Ok::<(), instrument::SpecificationError>(())
/// ```
#[must_use]
pub fn front(instrument: &Instrument, setting: &Setting) -> Scene {
    Front::of(instrument).set(setting)
}

/// The front of an instrument, to be set again and again.
///
/// Its mater, rete and rule are the same however they stand, and to draw them takes far
/// longer than to turn them: they are drawn once. A plate is drawn when it is laid in.
#[derive(Clone, Debug)]
pub struct Front {
    instrument: Instrument,
    mater: Group,
    plate: Option<(Latitude, Group)>,
    rete: Group,
    rule: Group,
}

impl Front {
    /// The front of an instrument, without a plate yet.
    #[must_use]
    pub fn of(instrument: &Instrument) -> Front {
        let pen = || Pen::new(instrument);
        Front {
            mater: mater(pen()),
            plate: None,
            rete: rete(pen()),
            rule: rule(pen()),
            instrument: instrument.clone(),
        }
    }

    /// The instrument.
    #[must_use]
    pub fn instrument(&self) -> &Instrument {
        &self.instrument
    }

    /// As it is set, like [`front`].
    #[must_use]
    pub fn set(&mut self, setting: &Setting) -> Scene {
        let State {
            plate, rete, rule, ..
        } = setting.state;
        let instrument = &self.instrument;
        let measures = Measures::of(instrument);
        let drawn = |turn: Angle| {
            let clockwise = instrument.orientation().clockwise();
            (if clockwise { turn } else { -turn }).in_turn()
        };
        let turned = |part: &Group, turn: Angle| Group {
            turn: drawn(turn),
            ..part.clone()
        };
        let laid_in = match &self.plate {
            Some((latitude, drawn)) if *latitude == plate => drawn.clone(),
            _ => {
                let drawn = plate::plate(Pen::new(instrument), plate);
                self.plate = Some((plate, drawn.clone()));
                drawn
            }
        };
        let scene = Scene {
            title: format!("{}, front", instrument.specification().name),
            description: description(instrument, setting),
            reach_mm: measures.mater,
            upright_mm: measures.mater,
            hair_mm: measures.hair,
            groups: vec![
                self.mater.clone(),
                laid_in,
                turned(&self.rete, rete),
                turned(&self.rule, rule),
            ],
        };
        scene.with_lit(&setting.lit)
    }
}

fn description(instrument: &Instrument, setting: &Setting) -> String {
    let specification = instrument.specification();
    let state = &setting.state;
    let angle = |deg: f64| Minutes::nearest(deg).to_string();
    let mut text = format!(
        "The front of an astrolabe of the {}ern hemisphere, {} mm across, {}, with the plate for \
         latitude {}. The rete stands with 0° Aries at hour angle {}; the rule at hour angle {}.",
        specification.hemisphere.name(),
        specification.diameter.mm(),
        specification.top.name(),
        angle(state.plate.deg()),
        angle(state.rete.in_turn().deg()),
        angle(state.rule.in_turn().deg()),
    );
    if !setting.lit.is_empty() {
        let names: Vec<String> = setting.lit.iter().map(LineId::to_string).collect();
        text.push_str(" Being read: ");
        text.push_str(&names.join(", "));
        text.push('.');
    }
    text
}
