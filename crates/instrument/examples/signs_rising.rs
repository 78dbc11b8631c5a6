//! Turns the rete of an instrument specified in code until each sign's beginning rises, and
//! writes what then stands on the meridian line.

#![expect(clippy::print_stdout, reason = "this is a command")]

use std::error::Error;

use instrument::{Instrument, LineId, Pick, RetePoint, Specification, State};
use sky::{Latitude, Sign, Zodiacal};

fn main() -> Result<(), Box<dyn Error>> {
    let brass = Instrument::new(Specification::from_toml(
        "version = 1\nname = \"brass\"\ndiameter_mm = 180\nepoch_year = 2000\nplates_deg = [45]\ndate_from = \"given\"\n",
    )?);
    let mut state = State::at_rest(Latitude::from_deg(45.0)?);
    for sign in Sign::ALL {
        let begins = RetePoint::Degree(sign.begins());
        state.rete = brass.rete_with(begins, &state, &LineId::Horizon, Pick::Eastern)?;
        let midheaven = brass.read_ecliptic(&state, &LineId::MeridianLine, Pick::Drawn)?;
        println!(
            "With the beginning of {} rising, {} culminates.",
            sign.name(),
            Zodiacal(midheaven.longitude)
        );
    }
    Ok(())
}
