//! How long a cast takes, value to value, and a drawing: `cargo bench -p desk`.
//! Each timed run must give the very answer of an untimed one.

#![expect(clippy::print_stdout, reason = "this is a command")]

use std::error::Error;
use std::hint::black_box;
use std::time::{Duration, Instant as Clock};

use desk::{Cabinet, CastRequest, Casting, DrawRequest, WithInstrument};
use figure::Method;
use instrument::House;
use practice::{Asked, Quantity, Why, procedures};
use sky::{Angle, Body};

const RUNS: usize = 7;

fn main() -> Result<(), Box<dyn Error>> {
    // Under `cargo test --benches` once is enough to see that it runs.
    let rounds: u32 = if std::env::args().any(|arg| arg == "--bench") {
        2000
    } else {
        1
    };
    let cabinet = Cabinet::built_in();
    for instrument in cabinet.instruments() {
        let name = instrument.specification().name.clone();
        let latitude = instrument
            .specification()
            .plates
            .first()
            .map_or(0.0, |plate| plate.deg() + 0.8806);
        let request = CastRequest {
            when: "2024-05-14 09:20".to_owned(),
            at: format!("{latitude},-8.5449"),
            zone: Some("Europe/Madrid".to_owned()),
            with: Some(WithInstrument::Named(name.clone())),
            ..CastRequest::default()
        };
        println!("\n{name}");
        let casting = Casting::of(&request, &cabinet, None)?;
        report("time chain, from what was said", rounds, || {
            Casting::of(&request, &cabinet, None).map(|casting| casting.moment.sidereal_time())
        })?;
        report("figure by all methods", rounds, || Ok(figure(&casting)))?;
        report("ten bodies", rounds, || Ok(bodies(&casting)))?;
        report("working", rounds, || {
            Ok(casting.working().reading(Quantity::Ascendant).ok())
        })?;
        report("working and why, every cusp", rounds, || Ok(whys(&casting)))?;
        report("all of it, value to value", rounds, || {
            let casting = Casting::of(&request, &cabinet, None)?;
            Ok((figure(&casting), bodies(&casting), whys(&casting)))
        })?;
        report("the answer with all its sentences", rounds, || {
            desk::cast(&request, &cabinet, None).map(|answer| answer.figure.midheaven_deg)
        })?;
        let draw = DrawRequest {
            set: Some(request.clone()),
            ..DrawRequest::default()
        };
        let drawings = (rounds / 50).max(1);
        report("the front drawn, as SVG", drawings, || {
            desk::draw(&draw, &cabinet, None).map(|svg| svg.len())
        })?;
    }
    Ok(())
}

/// The figure by every method; zero where a method has no answer.
fn figure(casting: &Casting) -> Vec<Angle> {
    let horizon = casting.horizon();
    let cusps = Method::ALL.into_iter().map(|method| method.cusps(&horizon));
    cusps
        .flat_map(|cusps| cusps.map_or([Angle::ZERO; 12], |cusps| cusps.all()))
        .collect()
}

fn bodies(casting: &Casting) -> [Angle; 10] {
    Body::ALL.map(|body| casting.moment.sky().body(body).longitude)
}

/// Why each cusp differs, by every procedure of the instrument.
fn whys(casting: &Casting) -> Vec<Option<Why>> {
    let account = casting.account();
    let exact = Method::Alcabitius
        .cusps(&casting.horizon())
        .map_or([Angle::ZERO; 12], |cusps| cusps.all());
    let mut whys = Vec::new();
    for procedure in procedures(&casting.instrument) {
        for (house, exact) in House::ALL.into_iter().zip(exact) {
            let asked = Asked {
                quantity: procedure.quantity(house),
                opposite: procedure.cusp_from(house).opposite,
                exact: practice::Calculated::at_the_moment(practice::Value::Degree(exact)),
                own: None,
            };
            whys.push(account.why(asked).ok());
        }
    }
    whys
}

/// The best of some runs, each of many rounds.
fn report<T: PartialEq>(
    name: &str,
    rounds: u32,
    answer: impl Fn() -> Result<T, desk::Refusal>,
) -> Result<(), Box<dyn Error>> {
    let expected = answer()?;
    let mut best = Duration::MAX;
    for _ in 0..RUNS {
        let begin = Clock::now();
        for _ in 0..rounds {
            black_box(answer()?);
        }
        best = best.min(begin.elapsed() / rounds);
    }
    if answer()? != expected {
        return Err(format!("{name}: not the same answer").into());
    }
    println!("    {name:<36}{:>10.1} µs", best.as_secs_f64() * 1e6);
    Ok(())
}
