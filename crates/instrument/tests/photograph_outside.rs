//! Pictures by another camera than ours: OpenCV's, with points of instruments by trigonometry
//! and stars by ERFA (`reference/photograph_opencv.py`).

#![expect(clippy::unwrap_used, reason = "helpers of tests break off as tests do")]

use std::collections::BTreeMap;

use instrument::{Hemisphere, Length, Mark, Photograph, Photographed};

const PICTURES: &str = include_str!("../../../reference/photograph_opencv.csv");

#[derive(Default)]
struct Picture {
    truth: BTreeMap<String, f64>,
    marks: Vec<Mark>,
}

fn pictures() -> BTreeMap<u32, Picture> {
    let mut all: BTreeMap<u32, Picture> = BTreeMap::new();
    for row in PICTURES.lines().filter(|row| !row.starts_with('#')).skip(1) {
        let cells: Vec<&str> = row.split(',').collect();
        let [number, what, right, down] = cells.as_slice() else {
            panic!("{row}")
        };
        let picture = all.entry(number.parse().unwrap()).or_default();
        if down.is_empty() {
            picture
                .truth
                .insert((*what).to_owned(), right.parse().unwrap());
        } else {
            picture.marks.push(Mark {
                at_px: [right.parse().unwrap(), down.parse().unwrap()],
                of: what.parse().unwrap(),
            });
        }
    }
    all
}

/// As well as by our own camera, with marks to a pixel; its further terms of distortion cost
/// nothing that a hand's pixel does not.
#[test]
fn instruments_are_found_in_the_pictures_of_another_camera() {
    let (mut latitude, mut year, mut plate, mut ring) =
        (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    let mut within = 0;
    let all = pictures();
    for (number, picture) in &all {
        let photograph = Photograph {
            name: "seen by another camera".to_owned(),
            hemisphere: Hemisphere::North,
            size_px: [3000, 3000],
            limb_diameter: Some(Length::from_mm(184.0)),
            marks: picture.marks.clone(),
        };
        let found = Photographed::of(&photograph).unwrap_or_else(|why| panic!("{number}: {why}"));
        let of = |what: &str| picture.truth[what];
        let told = found.latitude.unwrap();
        latitude.push(told.at.deg() - of("latitude"));
        within += u32::from((told.at.deg() - of("latitude")).abs() <= told.within.deg());
        let told = found.year.unwrap();
        year.push(told.at - of("year"));
        within += u32::from((told.at - of("year")).abs() <= told.within);
        let told = found.plate_obliquity.unwrap();
        plate.push(told.at.deg() - of("obliquity"));
        within += u32::from((told.at.deg() - of("obliquity")).abs() <= told.within.deg());
        let told = found.ring_obliquity.unwrap();
        ring.push(told.at.deg() - of("obliquity"));
        within += u32::from((told.at.deg() - of("obliquity")).abs() <= told.within.deg());
    }
    for (what, off, most) in [
        ("latitude", &latitude, 0.05),
        ("year", &year, 5.0),
        ("obliquity of the tropics", &plate, 0.05),
        ("obliquity of the ring", &ring, 0.05),
    ] {
        let rms = (off.iter().map(|one| one * one).sum::<f64>() / off.len() as f64).sqrt();
        ordeal::tell(
            &format!("{what}, from pictures by OpenCV's camera"),
            all.len() as u64,
            &format!("off by {rms:.3} as a rule"),
        );
        assert!(rms < most, "{what}: {rms}, {off:?}");
    }
    // Of 96 values 68 in 100 should lie within their error.
    assert!((52..80).contains(&within), "{within}");
}
