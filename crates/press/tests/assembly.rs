//! What is bought and what there is to do, by hand, and the page that tells it.

#![cfg(feature = "documents")]
#![expect(
    clippy::unwrap_used,
    reason = "a helper that finds nothing fails its test"
)]

use instrument::{Instrument, Specification};
use patience::Patience;
use press::{Format, Order, OrderError, Rates, Set, Stuff, set};

fn made(rates: Rates, plates: &str) -> Set {
    let text = format!(
        "version = 1\nname = \"priced piece\"\nepoch_year = 2025\ndiameter_mm = 120\nplates_deg = [{plates}]\n"
    );
    let order = Order {
        formats: vec![Format::Assembly],
        rates,
        ..Order::default()
    };
    let instrument = Instrument::new(Specification::from_toml(&text).unwrap());
    set(&instrument, &order, Patience::ENDLESS).unwrap()
}

#[test]
fn masses_and_costs_are_those_of_the_rule_of_three() {
    let rates = Rates {
        batch: 7,
        kilogram: Some(20.0),
        hour: Some(60.0),
        cut_mm_per_min: Some(100.0),
        engrave_mm_per_min: Some(400.0),
        ..Rates::default()
    };
    let materials = made(rates, "51.5, 42").manifest.materials;
    let back = materials
        .parts
        .iter()
        .find(|part| part.name == "back")
        .unwrap();
    // A disc of 120 mm with its throne: 113 cm², of brass of 8.44 g to the cubic centimetre.
    assert!((113.0..130.0).contains(&(back.area_mm2 / 100.0)));
    let mass = back.area_mm2 / 100.0 * back.thickness_mm / 10.0 * 8.44;
    assert!((back.mass_g - mass).abs() < 0.01);
    let pinnule = materials
        .parts
        .iter()
        .find(|part| part.name == "pinnule")
        .unwrap();
    assert_eq!(pinnule.count, 2);
    let (one, all) = (&materials.one, &materials.all);
    let cut: f64 = materials
        .parts
        .iter()
        .map(|part| part.cut_mm * f64::from(part.count))
        .sum();
    assert!((one.cut_mm - cut).abs() < 0.05);
    assert_eq!(all.parts, 7 * one.parts);
    assert!((all.mass_g - 7.0 * one.mass_g).abs() < 0.1);
    assert!(one.bought_g > one.mass_g);
    assert!((one.metal_cost.unwrap() - one.bought_g / 1000.0 * 20.0).abs() < 0.01);
    let minutes = one.cut_mm / 100.0 + one.engrave_mm / 400.0;
    assert!((one.machine_cost.unwrap() - minutes).abs() < 0.02);
}

#[test]
fn no_rate_is_assumed() {
    let materials = made(Rates::default(), "51.5").manifest.materials;
    for totals in [&materials.one, &materials.all] {
        assert_eq!(totals.cut_min, None);
        assert_eq!(totals.engrave_min, None);
        assert_eq!(totals.metal_cost, None);
        assert_eq!(totals.machine_cost, None);
    }
    assert!(matches!(Stuff::named("gold"), Err(OrderError::Stuff(_))));
    let none = Rates {
        batch: 0,
        ..Rates::default()
    };
    assert!(none.checked().is_err());
}

#[test]
fn it_is_one_page_however_many_plates_there_are() {
    for plates in [
        "51.5",
        "10, 20, 30, 40, 50, 60, 70, 12, 22, 32, 42, 52, 62, 72, 14, 24, 34, 44",
    ] {
        let set = made(Rates::default(), plates);
        let page = set
            .files
            .iter()
            .find(|file| file.name == "assembly.pdf")
            .unwrap();
        let text = String::from_utf8_lossy(&page.bytes);
        assert_eq!(text.matches("/MediaBox").count(), 1);
    }
}
