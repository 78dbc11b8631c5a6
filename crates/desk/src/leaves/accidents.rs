use figure::{FortuneState, Planet};

use sky::SkyError;

use super::leaf::{Hangs, Leaf, Made, Opened};
use crate::answer::CellAnswer;

/// Accidental dignities and debilities with their points, and those of the lot of Fortune.
pub(super) const LEAF: Leaf = Leaf {
    name: "accidents",
    title: "Accidental dignities and debilities",
    hangs: Hangs::Horizon,
    named_by: 1,
    make,
};

fn make(opened: &Opened<'_>) -> Result<Made, SkyError> {
    let points = opened.choices().accidents;
    let mut rows = Vec::new();
    for planet in Planet::ALL {
        let essential = opened
            .figure
            .body(planet.body())
            .and_then(|body| body.dignities.as_ref())
            .map_or(0, figure::Dignities::score);
        let accidents = opened.figure.accidents(opened.sky, planet);
        let counted = accidents
            .into_iter()
            .filter_map(|one| Some((one.said(), points.of(one)?)));
        let (said, sum) = told(counted);
        rows.push(vec![
            CellAnswer::planet(planet),
            CellAnswer::points(essential),
            CellAnswer::points(sum),
            CellAnswer::points(essential + sum),
            CellAnswer::said(said),
        ]);
    }
    if let Some(fortune) = opened.fortune() {
        let states = opened
            .figure
            .fortune_states(opened.sky, opened.choices(), fortune);
        let counted = states
            .into_iter()
            .filter_map(|one| Some((one.said(), one.points()?)));
        let (said, sum) = told(counted);
        rows.push(vec![
            CellAnswer::said("lot of Fortune"),
            CellAnswer::none(),
            CellAnswer::points(sum),
            CellAnswer::points(sum),
            CellAnswer::said(said),
        ]);
    }
    Ok(Made {
        sources: vec![
            points.source().to_owned(),
            format!("the lot of Fortune: {}", FortuneState::SOURCE),
        ],
        columns: vec!["", "essential", "accidental", "together", "what is counted"],
        rows,
        notes: vec![
            "An aspect or a node is counted when both stand in the same degree of their signs; \
             Regulus and Spica within 1°, Algol within 5°."
                .to_owned(),
            "A Sun or Moon is never counted as direct: it is always so.".to_owned(),
        ],
    })
}

/// What is counted, each with its points, and the sum.
fn told(counted: impl Iterator<Item = (String, i32)>) -> (String, i32) {
    let mut said = Vec::new();
    let mut sum = 0;
    for (what, points) in counted {
        said.push(format!("{what} {}", CellAnswer::points(points).said));
        sum += points;
    }
    (said.join(", "), sum)
}
