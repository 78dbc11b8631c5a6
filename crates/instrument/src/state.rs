use sky::{Angle, Latitude};

/// How the moving parts stand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct State {
    /// The plate in the mater, by its latitude.
    pub plate: Latitude,
    /// The rete: the hour angle of 0° Aries.
    pub rete: Angle,
    /// The rule: the hour angle at which its edge crosses the limb.
    pub rule: Angle,
    /// The alidade: the degree of the zodiac scale on which its line lies.
    pub alidade: Angle,
}

impl State {
    /// Everything at its beginning: 0° Aries and the rule on noon.
    #[must_use]
    pub fn at_rest(plate: Latitude) -> State {
        State {
            plate,
            rete: Angle::ZERO,
            rule: Angle::ZERO,
            alidade: Angle::ZERO,
        }
    }
}
