use moment::Moment;
use practice::{Account, Amount, Asked, Calculated, Conditions, Quantity, Value};
use sky::{Angle, Instant};
use words::{Fineness, TimeOfDay, ValueInWords};

use crate::answer::{FindingAnswer, ShareAnswer, amount_deg, in_range};

impl FindingAnswer {
    pub(crate) fn of(
        quantity: Quantity,
        account: &Account,
        calculated: Option<Calculated>,
        within: Option<Amount>,
        (conditions, moment): (&Conditions, &Moment),
    ) -> FindingAnswer {
        let measure = quantity.measure();
        let reading = account.actual().reading(quantity);
        let said = |value: Value| ValueInWords(value).to_string();
        let fine = |amount: Amount| Fineness(amount).to_string();
        let exact = calculated.map(|calculated| calculated.truly);
        let clock = match reading.as_ref().map(|reading| reading.value) {
            Ok(Value::TimeOfDay(hour)) => Some(ByClock::of(hour, conditions, moment)),
            Ok(_) | Err(_) => None,
        };
        let why = calculated.and_then(|exact| {
            let asked = Asked {
                quantity,
                opposite: false,
                exact,
                own: None,
            };
            account.why(asked).ok()
        });
        FindingAnswer {
            name: quantity.name(),
            what: quantity.to_string(),
            measure: measure.name(),
            deg: reading.as_ref().ok().map(|reading| in_range(reading.value)),
            text: reading.as_ref().ok().map(|reading| said(reading.value)),
            clock: clock.as_ref().map(|clock| clock.time.clone()),
            clock_date: clock.map(|clock| clock.date),
            reads_to_deg: reading
                .as_ref()
                .ok()
                .map(|reading| amount_deg(reading.reads_to)),
            reads_to_text: reading
                .as_ref()
                .ok()
                .map(|reading| reading.reads_to)
                .filter(|to| to.is_some())
                .map(fine),
            within_deg: reading.as_ref().ok().and(within).map(amount_deg),
            within_text: reading
                .as_ref()
                .ok()
                .and(within)
                .filter(|to| to.is_some())
                .map(fine),
            exact_deg: exact.map(in_range),
            exact_text: exact.map(said),
            exact_clock: calculated
                .and_then(|calculated| calculated.at)
                .and_then(|instant| to_the_second(moment, instant)),
            difference_deg: why.as_ref().map(|why| amount_deg(why.difference())),
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

/// What the moment's clock shows at an hour by the Sun, by the sum undone.
struct ByClock {
    /// To the minute, in words.
    time: String,
    date: String,
}

impl ByClock {
    fn of(hour: Angle, conditions: &Conditions, moment: &Moment) -> ByClock {
        const MINUTE: Angle = Angle::from_deg(0.25);
        let minutes = (conditions.clock_at(hour) / MINUTE).round();
        // The hours by the Sun are those of its own date.
        let local = moment.local_apparent_time();
        let shown = local.plus_seconds(minutes * 60.0 - local.time.seconds());
        ByClock {
            time: TimeOfDay((MINUTE * minutes).in_turn()).to_string(),
            date: shown.date.to_string(),
        }
    }
}

/// What the moment's clock truly shows then: its date and time.
fn to_the_second(moment: &Moment, instant: Instant) -> Option<String> {
    let shown = moment.clock_at(instant).ok()?;
    Some(shown.to_the_second().to_string())
}
