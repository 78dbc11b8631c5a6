use desk::{DateAnswer, DayOfYearAnswer, PlatesAnswer, TownPlates};
use press::{Card, CardDay, CardPlate, Code};

/// The card of a town, to be printed, with the code of a link where there is one; none
/// where no year was asked for.
#[must_use]
pub fn town_card(answer: &PlatesAnswer, town: &TownPlates, code: Option<Code>) -> Option<Card> {
    let card = town.card.as_ref()?;
    let day = |date: DateAnswer| CardDay {
        month: date.month(),
        day: date.day(),
    };
    let summer = card.summer_time.iter();
    let summer = summer.map(|span| (day(span.from), day(span.to), span.minutes));
    let equation = card.equation_of_time.iter().map(|week| {
        let DayOfYearAnswer { month, day } = week.day;
        (CardDay { month, day }, week.minutes)
    });
    let plate = match (town.best_plate_deg, &town.error) {
        (Some(plate), Some(error)) => Some(CardPlate {
            latitude_deg: plate,
            method: answer.method.to_owned(),
            ascendant_deg: [error.largest_ascendant_deg, error.typical_ascendant_deg],
            cusps_deg: [error.largest_cusp_deg, error.typical_cusp_deg],
            serves: town.advice == "plate",
            between: town
                .proportion
                .as_ref()
                .filter(|_| town.advice == "proportion")
                .map(|two| (two.plates_deg, two.part)),
        }),
        _ => None,
    };
    Some(Card {
        town: town.name.clone(),
        latitude_deg: town.latitude_deg,
        longitude_deg: town.longitude_deg,
        year: card.year,
        zone: card.zone.map(str::to_owned),
        fixed_min: card.fixed_minutes,
        summer: summer.collect(),
        equation: equation.collect(),
        plate,
        code,
    })
}
