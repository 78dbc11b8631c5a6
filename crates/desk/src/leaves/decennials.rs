use figure::{Beginner, DecennialDays, Decennials, LordSpan, Planet, YEAR_DAYS};
use sky::{Angle, SkyError};

use super::leaf::{Hangs, Leaf, Made, Opened};
use crate::answer::CellAnswer;

/// The decennials with their months; on the moment that is asked about with their days too.
pub(super) const LEAF: Leaf = Leaf {
    name: "decennials",
    title: "Decennials: ten years and nine months to each planet",
    hangs: Hangs::Horizon,
    named_by: 1,
    make,
};

fn make(opened: &Opened<'_>) -> Result<Made, SkyError> {
    let figure = opened.figure;
    let place = |planet: Planet| opened.longitude(planet.body()).unwrap_or(Angle::ZERO);
    let mut notes = Vec::new();
    let first = match figure.ascendant {
        Ok(ascendant) => {
            let (first, why) = Decennials::beginner(figure.sect, ascendant, place);
            notes.push(format!(
                "{first} begins: {}.",
                because(why, figure.sect.name())
            ));
            first
        }
        Err(none) => {
            let first = match figure.sect {
                figure::Sect::Day => Planet::Sun,
                figure::Sect::Night => Planet::Moon,
            };
            notes.push(format!(
                "{first} begins as the light of the {}; whether it stands well cannot be told: {none}.",
                figure.sect.name()
            ));
            first
        }
    };
    let decennials = Decennials::from(first, place);
    notes.push(
        "Valens counts by years of 360 days and months of 30; after the seventh they begin again."
            .to_owned(),
    );
    let birth = opened.sky.instant();
    let at = |days: f64| opened.at(birth.plus_seconds(days * 86_400.0));
    let row = |name: String, span: LordSpan| {
        vec![
            CellAnswer::said(name),
            CellAnswer::number(span.from_days, 1),
            CellAnswer::number(span.from_days / YEAR_DAYS, 2),
            at(span.from_days),
            at(span.until_days),
        ]
    };
    let mut rows = Vec::new();
    for decennial in decennials.spans() {
        rows.push(row(decennial.lord.name().to_owned(), decennial));
        let months = decennials.months(decennial).into_iter();
        rows.extend(months.map(|one| row(format!("{}, {}", decennial.lord, one.lord), one)));
    }
    if let Some(on) = &opened.finishing.on {
        let day = on.instant().seconds_since(birth) / 86_400.0;
        if day >= 0.0 {
            let [decennial, months] = decennials.on(day);
            let named = |what: &str, span: LordSpan| {
                row(format!("{}, {what}: {}", on.given(), span.lord), span)
            };
            rows.push(named("its decennial", decennial));
            rows.push(named("its months", months));
            for how in DecennialDays::ALL {
                rows.push(named(how.said(), decennials.days_on(day, how)));
            }
        }
    }
    Ok(Made {
        sources: vec![Decennials::SOURCE.to_owned()],
        columns: vec!["", "day", "age", "begins", "ends"],
        rows,
        notes,
    })
}

fn because(why: Beginner, sect: &str) -> String {
    match why {
        Beginner::LightOfTheSect => {
            format!("the light of the {sect}, in a sign that does not fall away from the angles")
        }
        Beginner::OtherLight => format!(
            "the light of the {sect} stands in a sign that falls away from the angles, this one not"
        ),
        Beginner::AfterTheAscendant => {
            "both lights stand in signs that fall away from the angles; it is the next after the \
             ascendant"
                .to_owned()
        }
    }
}
