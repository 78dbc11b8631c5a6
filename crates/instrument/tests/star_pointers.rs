//! Which stars a rete points to, and why it has no others.

#![expect(
    clippy::unwrap_used,
    reason = "a helper that finds nothing fails its test"
)]

use instrument::{Instrument, Specification, StarLeft};
use proptest::prelude::*;

fn instrument(diameter: f64, epoch: f64, south: bool, more: &str) -> Instrument {
    let (side, latitude) = if south { ("south", -34) } else { ("north", 42) };
    let text = format!(
        "version = 1\nname = \"stars\"\ndiameter_mm = {diameter}\nepoch_year = {epoch}\n\
         hemisphere = \"{side}\"\nplates_deg = [{latitude}]\n{more}"
    );
    Instrument::new(Specification::from_toml(&text).unwrap())
}

fn names(instrument: &Instrument) -> Vec<&'static str> {
    instrument.stars().iter().map(|star| star.name).collect()
}

/// Magnitudes of the Bright Star Catalogue: Vega 0.03, Achernar 0.46, Acrux 0.8,
/// Hadar 0.6, all brighter than γ Draconis at 2.2 (from memory).
#[test]
fn the_brightest_have_their_pointers() {
    for diameter in [120.0, 180.0, 350.0] {
        let north = names(&instrument(diameter, 2025.0, false, ""));
        for name in ["Wega", "Alramech", "Alhaiot", "Alhabor"] {
            assert!(north.contains(&name), "{diameter}: {name} of {north:?}");
        }
        let south = names(&instrument(diameter, 2025.0, true, ""));
        for name in ["Achernar", "Acrux", "Hadar", "Rigil Kentaurus", "Suhel"] {
            assert!(south.contains(&name), "{diameter}: {name} of {south:?}");
        }
    }
}

#[test]
fn a_rete_that_is_to_have_no_stars_leaves_none_out() {
    let bare = instrument(180.0, 2025.0, false, "star_pointers = 0");
    assert_eq!(names(&bare), [""; 0]);
    assert_eq!(bare.stars_left_out(), []);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    /// The reason that is told is the true one.
    #[test]
    fn a_reason_is_true(
        diameter in 30.0..500.0_f64, epoch in -500.0..2500.0_f64, south in any::<bool>(),
        wanted in prop::option::of(1_u8..60),
    ) {
        let stated = wanted.map_or(String::new(), |count| format!("star_pointers = {count}"));
        let made = instrument(diameter, epoch, south, &stated);
        let stars = made.stars();
        if let Some(wanted) = wanted {
            prop_assert!(stars.len() <= usize::from(wanted));
        }
        let place = |star: &instrument::StarPointer| {
            made.projection().point(-star.right_ascension, star.declination)
        };
        let tropic = made.fineness().outer_tropic_mm();
        let parts = &made.specification().parts;
        let elbow = (parts.least_width + parts.least_gap).mm();
        for (star, why) in made.stars_left_out() {
            let radius = place(&star).radius();
            match why {
                StarLeft::OutOfReach => prop_assert!(radius > tropic),
                StarLeft::UnderRing => prop_assert!(radius <= tropic && radius > 0.97 * tropic),
                StarLeft::GaveWayTo(name) => {
                    let other = stars.iter().find(|one| one.name == name);
                    prop_assert!(other.is_some(), "{name} has no pointer");
                    let other = other.unwrap();
                    prop_assert!(other.magnitude <= star.magnitude, "{name} is fainter");
                    let away = (place(other) - place(&star)).radius();
                    let most = if star.magnitude <= 1.5 { elbow } else { tropic * 0.5 };
                    prop_assert!(away <= most, "{name} stands {away} mm from {}", star.name);
                }
                StarLeft::TooMany => {
                    prop_assert!(stars.iter().all(|one| one.magnitude <= star.magnitude));
                }
                StarLeft::NotAsked => prop_assert!(false, "no stars were stated"),
            }
        }
    }
}
