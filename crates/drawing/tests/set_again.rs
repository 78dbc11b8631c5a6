//! A front that is set again and again is drawn as if it had never stood otherwise.

use drawing::{Front, Group, Item, Setting, front};
use instrument::{Instrument, LineId, Specification, State};
use sky::{Angle, Latitude};

fn is_lit(item: &Item) -> bool {
    matches!(item, Item::Stroke(trace) if trace.lit)
}

/// Whether something of a part is lit, and lies above the rest of it.
fn is_lit_above_others(group: &Group) -> bool {
    let first = group.items.iter().position(is_lit);
    first.is_some_and(|first| group.items[first..].iter().all(is_lit))
}

#[test]
fn a_front_forgets_how_it_stood() {
    let text = include_str!("../../../data/cabinet/class.toml");
    let instrument = Instrument::new(Specification::from_toml(text).unwrap());
    let mut again = Front::of(&instrument);
    for (number, plate) in [42.0, 51.5, 42.0].into_iter().enumerate() {
        let mut state = State::at_rest(Latitude::from_deg(plate).unwrap());
        state.rete = Angle::from_deg(100.0 * number as f64);
        state.rule = Angle::from_deg(-33.0 * number as f64);
        let setting = Setting::of(state).with_lit(vec![LineId::Horizon, LineId::RuleEdge]);
        let scene = again.set(&setting);
        assert_eq!(scene, front(&instrument, &setting), "{plate}");
        let lit: Vec<bool> = scene.groups.iter().map(is_lit_above_others).collect();
        assert_eq!(lit, [false, true, false, true], "{plate}");
    }
}
