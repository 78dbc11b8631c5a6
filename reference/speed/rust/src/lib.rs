//! What both contestants do: read the moments, take the time of each run, write the
//! longitudes of the last.

use std::error::Error;
use std::fs;
use std::hint::black_box;
use std::time::Instant;

/// Reads Julian dates (TT), one a line, from the first argument; prints the seconds of
/// each of as many runs as the third says; writes the longitudes, in degrees, a row a
/// moment, to the second.
pub fn compete<const N: usize>(longitudes: impl Fn(f64) -> [f64; N]) -> Result<(), Box<dyn Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [moments, answers, runs] = &arguments[..] else {
        return Err("MOMENTS ANSWERS RUNS".into());
    };
    let moments: Vec<f64> = fs::read_to_string(moments)?
        .lines()
        .map(str::parse)
        .collect::<Result<_, _>>()?;
    let mut found = Vec::new();
    for _ in 0..runs.parse::<u32>()? {
        let begin = Instant::now();
        found = moments.iter().map(|jd| longitudes(black_box(*jd))).collect();
        println!("{}", begin.elapsed().as_secs_f64());
    }
    let rows = found.iter().map(|row| row.map(|deg| format!("{deg:.9}")).join(",") + "\n");
    fs::write(answers, rows.collect::<String>())?;
    Ok(())
}
