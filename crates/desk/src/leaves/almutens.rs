use figure::{AccidentPoints, FigureClaims, Planet, most};

use sky::SkyError;

use super::leaf::{Hangs, Leaf, Made, Opened, list};
use crate::answer::CellAnswer;

/// The almuten of the whole figure by three authors.
pub(super) const LEAF: Leaf = Leaf {
    name: "almuten",
    title: "Almuten of the figure by three authors",
    hangs: Hangs::Horizon,
    named_by: 1,
    make,
};

fn make(opened: &Opened<'_>) -> Result<Made, SkyError> {
    let figure = opened.figure;
    let places = opened.places_of_life();
    let degrees: Vec<_> = places.iter().map(|(_, at)| *at).collect();
    let claims = figure.claims(&opened.choices().dignities, &degrees);
    let lilly = |planet: Planet| {
        let essential = figure
            .body(planet.body())
            .and_then(|body| body.dignities.as_ref());
        let accidents = figure.accidents(opened.sky, planet).into_iter();
        let counted: i32 = accidents
            .filter_map(|one| AccidentPoints::Lilly.of(one))
            .sum();
        essential.map_or(0, figure::Dignities::score) + counted
    };
    let rows = claims.iter().map(|one| {
        vec![
            CellAnswer::planet(one.planet),
            CellAnswer::points(one.dignities),
            CellAnswer::points(one.house),
            CellAnswer::points(one.day + one.hour),
            CellAnswer::points(one.sum()),
            CellAnswer::points(one.ways),
            CellAnswer::points(lilly(one.planet)),
        ]
    });
    let rows = rows.collect();
    let winners = |of: &dyn Fn(&FigureClaims) -> i32| {
        let points: Vec<(Planet, i32)> = claims.iter().map(|one| (one.planet, of(one))).collect();
        list(most(&points)).said
    };
    let names: Vec<&str> = places.iter().map(|(name, _)| *name).collect();
    Ok(Made {
        sources: vec![
            FigureClaims::IBN_EZRA.to_owned(),
            FigureClaims::PTOLEMY.to_owned(),
            format!(
                "essential and accidental dignities together: {}",
                AccidentPoints::Lilly.source()
            ),
        ],
        columns: vec![
            "",
            "dignities",
            "house",
            "day and hour",
            "together, ibn Ezra",
            "ways, Ptolemy",
            "all dignities, Lilly",
        ],
        rows,
        notes: vec![
            format!("Most by ibn Ezra: {}.", winners(&FigureClaims::sum)),
            format!("Most by Ptolemy: {}.", winners(&|one| one.ways)),
            format!("Most by Lilly: {}.", winners(&|one| lilly(one.planet))),
            format!("The places: {}.", names.join(", ")),
        ],
    })
}
