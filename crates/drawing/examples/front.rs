//! Writes the fronts of the cabinet's instruments as SVG:
//! `cargo run -p drawing --example front -- DIRECTORY [RETE_DEG RULE_DEG]`.

use std::error::Error;
use std::path::PathBuf;
use std::{env, fs};

use drawing::{Setting, Svg, front};
use instrument::{Instrument, LineId, Specification, State};
use sky::Angle;

fn main() -> Result<(), Box<dyn Error>> {
    let mut arguments = env::args().skip(1);
    let directory = PathBuf::from(arguments.next().unwrap_or_else(|| ".".to_owned()));
    let angles: Vec<f64> = arguments
        .map(|text| text.parse())
        .collect::<Result<_, _>>()?;
    let cabinet = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../data/cabinet");
    fs::create_dir_all(&directory)?;
    for entry in fs::read_dir(cabinet)? {
        let path = entry?.path();
        let specification = Specification::from_toml(&fs::read_to_string(&path)?)?;
        let Some(plate) = specification.plates.first().copied() else {
            continue;
        };
        let instrument = Instrument::new(specification);
        let setting = match angles.as_slice() {
            &[rete, rule] => Setting::of(State {
                rete: Angle::from_deg(rete),
                rule: Angle::from_deg(rule),
                ..State::at_rest(plate)
            })
            .with_lit(vec![
                LineId::Horizon,
                LineId::MeridianLine,
                LineId::RuleEdge,
            ]),
            _ => Setting::at_rest(plate),
        };
        let name = path.with_extension("svg");
        let name = name.file_name().ok_or("a file without a name")?;
        fs::write(
            directory.join(name),
            front(&instrument, &setting).svg(&Svg::default()),
        )?;
    }
    Ok(())
}
