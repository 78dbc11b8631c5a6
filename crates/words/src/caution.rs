//! What to beware of, said the same way wherever it is said.

use sky::Latitude;

/// Said wherever the Sun is looked for: whoever sights it directly is blinded.
pub const SUN: &str =
    "Never sight the Sun directly: let its light fall through the pinnules of the alidade.";

/// Said beside every figure.
pub const NO_ADVICE: &str = "A chart is no medical, legal or financial advice.";

/// Beyond this latitude, in degrees, some house methods have no answer at some hours.
const NEAR_THE_POLES: f64 = 66.0;

/// From this many seconds on, what is not known of the Earth's turning is seen on a large
/// instrument: ten seconds are 2½′ of the limb.
const SEEN_S: f64 = 10.0;

/// What to know of a moment and a place before its figure is relied on: near the poles, and
/// where the turning of the Earth is known to so many seconds only.
#[must_use]
pub fn cautions(latitude: Latitude, delta_t_uncertainty_s: f64) -> Vec<String> {
    let near_the_poles = (latitude.deg().abs() > NEAR_THE_POLES).then(|| {
        "Near the poles the ascendant moves fast and some house methods have no answer.".to_owned()
    });
    let far_from_now = (delta_t_uncertainty_s >= SEEN_S).then(|| {
        format!(
            "So far from our time the turning of the Earth is known to about {delta_t_uncertainty_s:.0} s only."
        )
    });
    near_the_poles.into_iter().chain(far_from_now).collect()
}
