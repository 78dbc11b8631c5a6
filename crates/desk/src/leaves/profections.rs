use figure::{Profection, YEAR_DAYS, handed_over, profected, sign_and_degree};
use sky::{Angle, SkyError};

use super::leaf::{Hangs, Leaf, Made, Opened};
use crate::answer::CellAnswer;

/// Profections: year by year, and by month and day of the moment that is asked about.
pub(super) const LEAF: Leaf = Leaf {
    name: "profections",
    title: "Profections by year, month and day",
    hangs: Hangs::Horizon,
    named_by: 1,
    make,
};

/// As many years of life as are told.
const YEARS: u32 = 96;

fn make(opened: &Opened<'_>) -> Result<Made, SkyError> {
    let mut places = opened.places_of_life();
    places.push(("midheaven", opened.figure.midheaven));
    let wanted = ["ascendant", "Sun", "Moon", "lot of Fortune", "midheaven"];
    let at = |name: &str| {
        places
            .iter()
            .find(|(one, _)| *one == name)
            .map(|(_, at)| *at)
    };
    let tables = opened.choices().dignities;
    let told = |place: Option<Angle>| {
        place.map_or_else(CellAnswer::none, |place| {
            let lord = tables.rulers(place).rulership;
            CellAnswer::said(format!("{}, {lord}", sign_and_degree(place).0.name()))
        })
    };
    let birth = opened.sky.instant();
    let begins = |days: f64| opened.at(birth.plus_seconds(days * 86_400.0));
    let mut rows = Vec::new();
    for year in 1..=YEARS {
        let gone = f64::from(year - 1);
        let mut row = vec![
            CellAnswer::said(format!("year {year}")),
            begins(gone * YEAR_DAYS),
        ];
        for name in wanted {
            row.push(told(
                at(name).map(|place| profected(place, year - 1, 0.0)[0]),
            ));
        }
        rows.push(row);
    }
    let mut notes = Vec::new();
    if let Some(on) = &opened.finishing.on {
        let days = on.instant().seconds_since(birth) / 86_400.0;
        if days >= 0.0 {
            let years = (days / YEAR_DAYS).floor();
            let left = days - years * YEAR_DAYS;
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "the ephemeris holds 3,250 years"
            )]
            let years = years as u32;
            for (index, what) in ["its year", "its month of 28 days", "its 2⅓ days"]
                .iter()
                .enumerate()
            {
                let mut row = vec![
                    CellAnswer::said(format!("{}, {what}", on.given())),
                    opened.at(on.instant()),
                ];
                for name in wanted {
                    row.push(told(
                        at(name).map(|place| profected(place, years, left)[index]),
                    ));
                }
                rows.push(row);
            }
            let mut standing: Vec<(&str, Angle)> = opened
                .figure
                .bodies
                .iter()
                .filter(|body| body.dignities.is_some())
                .map(|body| (body.body.name(), body.place.longitude))
                .collect();
            standing.extend(at("ascendant").map(|place| ("ascendant", place)));
            let handed = handed_over(&standing, years + 1);
            let handed: Vec<String> = handed
                .into_iter()
                .map(|(from, to)| format!("{from} to {to}"))
                .collect();
            notes.push(if handed.is_empty() {
                format!("In year {} nobody hands over.", years + 1)
            } else {
                format!("In year {} hand over: {}.", years + 1, handed.join(", "))
            });
        }
    }
    Ok(Made {
        sources: vec![Profection::SOURCE.to_owned()],
        columns: vec![
            "",
            "begins",
            "ascendant",
            "Sun",
            "Moon",
            "lot of Fortune",
            "midheaven",
        ],
        rows,
        notes,
    })
}
