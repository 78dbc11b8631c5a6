use drawing::{Scene, Setting, front};
use instrument::Instrument;
use practice::{Act, Done, Reckoning, Tower, Value, Working};
use sky::Angle;

use crate::answer::on_back;

/// How long parts move, in seconds.
const MOVES_S: f64 = 2.5;

/// A step as it is filmed.
pub(crate) struct Shot<'a> {
    /// The step.
    pub(crate) done: &'a Done,
    /// Whether it is done on the back.
    pub(crate) on_back: bool,
    /// The bearing of the alidade before and after, clockwise from the throne.
    pub(crate) alidade: (Angle, Angle),
    /// How long the parts move, in seconds.
    pub(crate) moves_s: f64,
}

/// The steps of a working as they are filmed.
pub(crate) fn shots<'a>(instrument: &Instrument, working: &'a Working) -> Vec<Shot<'a>> {
    let first = working.steps.first().map(|done| done.before.alidade);
    let mut before = instrument.back().zodiac(first.unwrap_or_default());
    working
        .steps
        .iter()
        .map(|done| {
            let on_back = on_back(done);
            let after = match bearing(instrument, working, done) {
                Some(bearing) if on_back => bearing,
                _ => before,
            };
            let alidade = (before, after);
            before = after;
            let moves = done.before.rete != done.after.rete
                || done.before.rule != done.after.rule
                || alidade.0 != alidade.1;
            Shot {
                done,
                on_back,
                alidade,
                moves_s: if moves { MOVES_S } else { 0.0 },
            }
        })
        .collect()
}

/// Where the alidade stands after a step on the back.
fn bearing(instrument: &Instrument, working: &Working, done: &Done) -> Option<Angle> {
    /// What is sighted stands up to the left, and the shadow falls down to the right.
    const RIGHT: bool = true;
    let back = instrument.back();
    let Some(Ok((_, reading))) = &done.outcome else {
        return None;
    };
    Some(match (&done.act, reading.value) {
        (Act::Observe(_), Value::Points(points)) => {
            let versa = |step: &Done| {
                let act = &step.act;
                matches!(
                    act,
                    Act::Reckon(Reckoning::Height(Tower::Versa | Tower::VersaTwice))
                )
            };
            let point = if working.steps.iter().any(versa) {
                back.umbra_versa(points, RIGHT)
            } else {
                back.umbra_recta(points, RIGHT)
            };
            back.alidade_over(point)
        }
        (Act::Observe(_), Value::Height(altitude)) => back.altitude(altitude, !RIGHT),
        _ => back.zodiac(done.after.alidade),
    })
}

impl Shot<'_> {
    /// The side of the instrument on which it is done, its lines lit.
    pub(crate) fn scene(&self, instrument: &Instrument) -> Scene {
        if self.on_back {
            let degree = instrument.back().longitude(self.alidade.1);
            return drawing::back(instrument, degree).with_lit(&self.done.lines);
        }
        let lit = self.done.lines.clone();
        front(instrument, &Setting::of(self.done.after).with_lit(lit))
    }
}
