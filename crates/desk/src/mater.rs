use instrument::Length;
use sky::Angle;

/// The mater that an outer tropic of this radius would have here: the border grows with it.
pub(crate) fn diameter_mm(outer_mm: f64, obliquity: Angle) -> f64 {
    let mut diameter = 2.3 * outer_mm;
    for _ in 0..8 {
        let fineness = instrument::Fineness::of(Length::from_mm(diameter), obliquity, false);
        diameter *= outer_mm / fineness.outer_tropic_mm();
    }
    diameter
}
