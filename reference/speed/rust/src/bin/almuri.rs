//! This project's own sky.

use std::error::Error;

use sky::{Body, Instant, Sky};

fn main() -> Result<(), Box<dyn Error>> {
    speed::compete(|jd_tt| {
        let sky = Sky::at(Instant::from_jd_tt(jd_tt)).expect("within the span");
        let [bodies @ .., _pluto] = Body::ALL;
        bodies.map(|body: Body| sky.body(body).longitude.deg())
    })
}
