//! Draws instruments for the gallery as SVG, put together and by parts:
//! `cargo run -p drawing --example gallery -- DIRECTORY SPECIFICATION…`.
//! `reference/gallery.py` makes pictures of them.

use std::error::Error;
use std::path::{Path, PathBuf};
use std::{env, fs};

use drawing::{Making, Scene, Setting, Svg, Workpiece, front, workpieces};
use instrument::{Instrument, Specification, State};
use sky::Angle;

fn main() -> Result<(), Box<dyn Error>> {
    let mut words = env::args().skip(1).map(PathBuf::from);
    let directory = words.next().unwrap_or_else(|| PathBuf::from("."));
    fs::create_dir_all(&directory)?;
    for file in words {
        let specification = Specification::from_toml(&fs::read_to_string(&file)?)?;
        let instrument = Instrument::new(specification);
        let name = file.file_stem().unwrap_or_default().to_string_lossy();
        let pieces = workpieces(&instrument, &Making::ALL);
        let least = instrument.specification().parts.least_width;
        for piece in &pieces {
            piece
                .proven(least)
                .map_err(|flaw| format!("{name}, {}: {flaw}", piece.name))?;
            if matches!(
                piece.name.as_str(),
                "back" | "floor" | "rete" | "plate-1a" | "shackle" | "ring"
            ) {
                let path = directory.join(format!("{name}-{}.svg", piece.name));
                write(&path, &piece.scene(), piece)?;
            }
        }
        if let Some(mater) = pieces.iter().find(|piece| piece.name == "mater") {
            let path = directory.join(format!("{name}.svg"));
            write(&path, &assembled(&instrument, mater), mater)?;
        }
    }
    Ok(())
}

/// The front with its throne, set for an evening.
fn assembled(instrument: &Instrument, mater: &Workpiece) -> Scene {
    let sense = if instrument.orientation().clockwise() {
        1.0
    } else {
        -1.0
    };
    let state = instrument
        .specification()
        .plates
        .first()
        .map(|plate| State {
            rete: Angle::from_deg(118.0 * sense),
            rule: Angle::from_deg(52.0 * sense),
            ..State::at_rest(*plate)
        });
    let mut scene = mater.scene();
    if let Some(state) = state {
        let set = front(instrument, &Setting::of(state));
        let parts = set.groups.into_iter();
        scene
            .groups
            .extend(parts.filter(|group| group.name != "mater"));
    }
    scene
}

/// Writes a scene, cut to what a piece fills.
fn write(path: &Path, scene: &Scene, piece: &Workpiece) -> Result<(), Box<dyn Error>> {
    let (low, high) = piece.bounds();
    let margin = 0.02 * (high.x - low.x);
    let (left, top) = (low.x - margin, low.y - margin);
    let (width, height) = (high.x - low.x + 2.0 * margin, high.y - low.y + 2.0 * margin);
    let svg = scene.svg(&Svg::default());
    let begins = svg.find(" width=\"").ok_or("no width")?;
    let ends = svg.find(" role=").ok_or("no role")?;
    let head = format!(
        " width=\"{width:.3}mm\" height=\"{height:.3}mm\" viewBox=\"{left:.3} {top:.3} \
         {width:.3} {height:.3}\""
    );
    let (before, rest) = svg.split_at(begins);
    fs::write(path, format!("{before}{head}{}", &rest[ends - begins..]))?;
    Ok(())
}
