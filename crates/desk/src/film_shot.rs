use drawing::{Front, Scene, Setting};
use practice::{Done, Working};

use crate::answer::on_back;

/// How long parts move, in seconds.
const MOVES_S: f64 = 2.5;

/// A step as it is filmed.
pub(crate) struct Shot<'a> {
    /// The step.
    pub(crate) done: &'a Done,
    /// Whether it is done on the back.
    pub(crate) on_back: bool,
    /// How long the parts move, in seconds.
    pub(crate) moves_s: f64,
}

/// The steps of a working as they are filmed.
pub(crate) fn shots(working: &Working) -> Vec<Shot<'_>> {
    let shot = |done| Shot {
        done,
        on_back: on_back(done),
        moves_s: if moves(done) { MOVES_S } else { 0.0 },
    };
    working.steps.iter().map(shot).collect()
}

fn moves(done: &Done) -> bool {
    let (before, after) = (&done.before, &done.after);
    before.rete != after.rete || before.rule != after.rule || before.alidade != after.alidade
}

impl Shot<'_> {
    /// The side of the instrument on which it is done, its lines lit.
    pub(crate) fn scene(&self, front: &mut Front) -> Scene {
        if self.on_back {
            let back = drawing::back(front.instrument(), self.done.after.alidade);
            return back.with_lit(&self.done.lines);
        }
        let lit = self.done.lines.clone();
        front.set(&Setting::of(self.done.after).with_lit(lit))
    }
}
