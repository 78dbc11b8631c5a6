//! Writes a figure in every form as SVG, once spread and once with eight bodies in one
//! sign: `cargo run -p drawing --example figure -- DIRECTORY`.

use std::error::Error;
use std::path::PathBuf;
use std::{env, fs};

use drawing::{FigureDrawing, FigurePoint, FigureSheet, Placement, Standing, Svg};
use instrument::{Division, Hemisphere, House, Instrument, Orientation, Specification, Top};
use sky::{Angle, Body, Latitude};

/// An instrument of which only the front is drawn.
const INSTRUMENT: &str = "version = 1\nname = \"example\"\ndiameter_mm = 200\n\
    hemisphere = \"north\"\norientation = \"noon-up\"\nepoch_year = 1391\n\
    plates_deg = [51.83]\ndate_from = \"given\"\n";

fn main() -> Result<(), Box<dyn Error>> {
    let directory = PathBuf::from(env::args().nth(1).unwrap_or_else(|| ".".to_owned()));
    fs::create_dir_all(&directory)?;
    for (name, squeeze) in [("spread", 1.0), ("crowded", 0.075)] {
        let sheet = sheet(squeeze)?;
        for (kind, drawing) in [
            ("brass", FigureDrawing::Brass),
            ("brass-narrow", FigureDrawing::BrassNarrow),
            ("square", FigureDrawing::Square),
            ("round", FigureDrawing::Round),
            ("round-narrow", FigureDrawing::RoundNarrow),
        ] {
            let path = directory.join(format!("{name}-{kind}.svg"));
            fs::write(path, sheet.scene(drawing).svg(&Svg::default()))?;
        }
    }
    Ok(())
}

fn sheet(squeeze: f64) -> Result<FigureSheet, Box<dyn Error>> {
    // Chaucer's nine of the clock (Treatise on the Astrolabe, II.3).
    let eastern = [79.73, 97.2, 114.93, 133.43, 176.6, 220.28];
    let cusps: [f64; 12] = std::array::from_fn(|n| {
        let half = if n < 6 { 0.0 } else { 180.0 };
        eastern[n % 6] + half
    });
    let cusps = cusps.map(|deg| Angle::from_deg(deg).in_turn());
    let marks = [
        (FigurePoint::Body(Body::Sun), 0.9, false),
        (FigurePoint::Body(Body::Moon), 212.4, false),
        (FigurePoint::Body(Body::Mercury), 342.1, true),
        (FigurePoint::Body(Body::Venus), 15.2, false),
        (FigurePoint::Body(Body::Mars), 101.9, true),
        (FigurePoint::Body(Body::Jupiter), 105.3, false),
        (FigurePoint::Body(Body::Saturn), 289.7, false),
        (FigurePoint::NorthNode, 190.2, true),
        (FigurePoint::SouthNode, 10.2, true),
        (FigurePoint::Fortune, 291.2, false),
        (FigurePoint::Body(Body::Uranus), 40.2, true),
        (FigurePoint::Body(Body::Neptune), 355.2, true),
        (FigurePoint::Body(Body::Pluto), 301.0, false),
    ];
    let instrument = Instrument::new(Specification::from_toml(INSTRUMENT)?);
    Ok(FigureSheet {
        title: "A figure".to_owned(),
        description: String::new(),
        from: "houses by alcabitius".to_owned(),
        heading: [
            "Oxford",
            "12 March 1391, 9:00",
            "local apparent time",
            "51°50′ N",
            "day of the Sun, hour of the Moon",
        ]
        .map(str::to_owned)
        .to_vec(),
        ascendant: Some(cusps[0]),
        midheaven: Some(cusps[9]),
        cusps: Some(cusps),
        marks: marks
            .into_iter()
            .map(|(mark, deg, retrograde)| {
                let longitude = Angle::from_deg(deg * squeeze);
                let past = |n: usize| (longitude - cusps[n]).in_turn().deg();
                let house = (0..12).min_by(|a, b| past(*a).total_cmp(&past(*b)));
                Placement {
                    mark,
                    longitude,
                    latitude: Latitude::ZERO,
                    house: Some(House::ALL[house.unwrap_or(0)]),
                    retrograde,
                }
            })
            .collect(),
        stars: Vec::new(),
        beneath: Vec::new(),
        about_lines: String::new(),
        standing: Standing {
            plate: Latitude::from_deg(51.83)?,
            // The Sun at 0°54′ Aries, three hours before noon.
            rete: Angle::from_deg(0.83) - Angle::from_hours(3.0),
            division: Some(Division::Alcabitius),
            instrument,
        },
        orientation: Orientation::new(Hemisphere::North, Top::Noon),
        blank: false,
    })
}
