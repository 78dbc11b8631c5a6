//! Casts a figure on an instrument specified in code, and says why the ascendant that is
//! read differs from what the same person would read on a perfect one.

#![expect(clippy::print_stdout, reason = "this is a command")]

use std::error::Error;

use instrument::{Instrument, Specification};
use moment::{Calendar, Moment, Place, SaidMoment};
use practice::{Account, Asked, Calculated, Conditions, Given, Procedure, Quantity, casting};

fn main() -> Result<(), Box<dyn Error>> {
    let place = Place::find("Santiago de Compostela, Spain")?;
    let moment = Moment::resolve(&SaidMoment::new("2024-05-14 09:20", place)?, None)?;
    let brass = Instrument::new(Specification::from_toml(
        "version = 1\nname = \"a small one\"\ndiameter_mm = 120\nplates_deg = [45]\n\
         date_from = \"zodiac\"\nepoch_year = 1990\n",
    )?);

    let given = Given::of_moment(&moment, Calendar::Gregorian);
    let ideal = Conditions::ideal(given.clone(), &brass, moment.sky().obliquity());
    let actual = Conditions::actual(given, brass.clone(), &[]);
    let account = Account::of(&casting(&brass, &[Procedure::Turning]), &ideal, &actual);

    let perfect = account.ideal(Quantity::Ascendant)?.value;
    let why = account.why(Asked {
        quantity: Quantity::Ascendant,
        opposite: false,
        exact: Calculated::at_the_moment(perfect),
        own: None,
    })?;
    println!(
        "The ascendant reads {:.2}°, on a perfect instrument {:.2}°.",
        why.read.number(),
        why.exact.number()
    );
    for share in why.largest() {
        println!("{:>7.2}°  {}", share.amount.number(), share.cause.words());
    }
    Ok(())
}
