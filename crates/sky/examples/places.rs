//! Reads Julian dates (TT), one a line, and writes where everything appears, as CSV.

#![expect(clippy::print_stdout, reason = "this is a command")]

use std::error::Error;
use std::io;

use sky::{Body, Instant, Sky};

fn main() -> Result<(), Box<dyn Error>> {
    println!("jd_tt,body,longitude_deg,latitude_deg,distance_au,ra_deg,declination_deg,speed_deg");
    for line in io::stdin().lines() {
        let line = line?;
        let sky = Sky::at(Instant::from_jd_tt(line.trim().parse()?))?;
        for body in Body::ALL {
            let seen = sky.body(body);
            println!(
                "{},{body},{:.9},{:.9},{:.12},{:.9},{:.9},{:.9}",
                line.trim(),
                seen.longitude.deg(),
                seen.latitude.deg(),
                seen.distance_au,
                seen.right_ascension.deg(),
                seen.declination.deg(),
                seen.speed.deg()
            );
        }
    }
    Ok(())
}
