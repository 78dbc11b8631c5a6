use practice::{Account, Asked, Conditions, Measure, Quantity};
use sky::Angle;
use words::{Fineness, Said};

use crate::answer::{FindingAnswer, ShareAnswer};
use crate::work::in_range;

impl FindingAnswer {
    pub(crate) fn of(
        quantity: Quantity,
        account: &Account,
        exact: Option<Angle>,
        within: Option<Angle>,
        conditions: &Conditions,
    ) -> FindingAnswer {
        let measure = quantity.measure();
        let reading = account.actual().reading(quantity);
        let said = |value: Angle| Said(measure, value).to_string();
        let fine = |value: Angle| Fineness(measure, value).to_string();
        let why = exact.and_then(|exact| {
            let asked = Asked {
                quantity,
                opposite: false,
                exact,
                own: None,
            };
            account.why(asked).ok()
        });
        let in_range = |value: Angle| in_range(measure, value);
        FindingAnswer {
            name: quantity.name(),
            what: quantity.to_string(),
            measure: measure.name(),
            deg: reading.as_ref().ok().map(|reading| in_range(reading.value)),
            text: reading.as_ref().ok().map(|reading| said(reading.value)),
            clock: reading
                .as_ref()
                .ok()
                .filter(|_| measure == Measure::TimeOfDay)
                .map(|reading| words::TimeOfDay(conditions.clock_at(reading.value)).to_string()),
            reads_to_deg: reading.as_ref().ok().map(|reading| reading.reads_to.deg()),
            reads_to_text: reading
                .as_ref()
                .ok()
                .map(|reading| reading.reads_to)
                .filter(|to| *to > Angle::ZERO)
                .map(fine),
            within_deg: reading.as_ref().ok().and(within).map(Angle::deg),
            within_text: reading
                .as_ref()
                .ok()
                .and(within)
                .filter(|to| *to > Angle::ZERO)
                .map(fine),
            exact_deg: exact.map(in_range),
            exact_text: exact.map(said),
            difference_deg: why.as_ref().map(|why| why.difference().deg()),
            shares: why
                .iter()
                .flat_map(|why| &why.shares)
                .map(|share| ShareAnswer::found(share, quantity))
                .collect(),
            sentence: why.map(|why| words::difference(&why, &format!("The {quantity}"), quantity)),
            reason: reading.err().map(|why| why.to_string()),
        }
    }
}
