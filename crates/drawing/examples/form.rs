//! Draws parts of an instrument as SVG: `cargo run --example form -p drawing -- FILE PART OUT`.

use std::{env, fs, process::ExitCode};

use drawing::{Making, Svg, workpieces};
use instrument::{Instrument, Specification};

fn main() -> ExitCode {
    let words: Vec<String> = env::args().skip(1).collect();
    let [file, part, out] = words.as_slice() else {
        eprintln!("a specification, a part and a file for the drawing are needed");
        return ExitCode::FAILURE;
    };
    let Ok(text) = fs::read_to_string(file) else {
        eprintln!("{file} cannot be read");
        return ExitCode::FAILURE;
    };
    let specification = match Specification::from_toml(&text) {
        Ok(specification) => specification,
        Err(error) => {
            eprintln!("{error}");
            return ExitCode::FAILURE;
        }
    };
    let instrument = Instrument::new(specification);
    let begun = std::time::Instant::now();
    let pieces = workpieces(&instrument, &Making::ALL);
    let took = begun.elapsed();
    let least = instrument.specification().parts.least_width;
    for piece in pieces
        .iter()
        .filter(|piece| piece.name.starts_with(part.as_str()))
    {
        let svg = piece.scene().svg(&Svg::default());
        let path = format!("{out}-{}.svg", piece.name);
        if fs::write(&path, svg).is_err() {
            eprintln!("{path} cannot be written");
        }
        eprintln!(
            "{path} {:?} {:?} named {}/{}",
            took,
            piece.proven(least).err().map(|e| e.to_string()),
            piece.pointers.iter().filter(|p| p.is_named).count(),
            piece.pointers.len()
        );
        for one in &piece.thinned {
            if one.key == "stars" {
                eprintln!("  {}: {}", one.what, one.shown);
            }
        }
    }
    ExitCode::SUCCESS
}
