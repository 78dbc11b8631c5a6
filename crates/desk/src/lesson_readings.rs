//! What is read in a worked example, beside what is calculated.

use figure::Method;
use instrument::House;
use practice::{Account, Act, Amount, Asked, Calculated, Procedure, Quantity, Value, Why, Working};
use sky::{Angle, Zodiacal};
use words::{Fineness, ValueInWords};

use crate::answer::{FindingAnswer, LessonReadingAnswer, LessonShareAnswer, amount_of_deg};
use crate::casting::Casting;
use crate::spoken::signed;

/// The lines of a step that are looked at, in words.
pub(crate) fn lines(step: &practice::Done) -> String {
    let mut names: Vec<String> = step.lines.iter().map(ToString::to_string).collect();
    names.dedup();
    names.join(", ")
}

/// The lines on which a quantity is read, in words; empty where no step reads it.
pub(crate) fn read_on(working: &Working, quantity: Quantity) -> String {
    let mut steps = working.steps.iter();
    let found = steps.find(|step| step.act.finds().is_some_and(|found| found == quantity));
    found.map_or_else(String::new, |step| match step.act {
        Act::Reckon(_) => "reckoned".to_owned(),
        _ => lines(step),
    })
}

/// What an operation of the treatise finds.
pub(crate) fn of_finding(
    quantity: Quantity,
    finding: &FindingAnswer,
    working: &Working,
) -> LessonReadingAnswer {
    let measure = quantity.measure();
    let amount = |deg: f64| amount_of_deg(measure, deg);
    let shares = finding.shares.iter();
    LessonReadingAnswer {
        name: finding.name.clone(),
        what: finding.what.clone(),
        read: finding.text.clone(),
        line: read_on(working, quantity),
        opposite: false,
        reads_to: finding.reads_to_text.clone(),
        exact: finding.exact_text.clone(),
        differs: finding.difference_deg.map(|deg| signed(amount(deg))),
        shares: shares
            .filter(|share| is_seen(amount(share.deg)))
            .map(|share| LessonShareAnswer {
                cause: share.cause,
                words: share.words.to_owned(),
                amount: signed(amount(share.deg)),
            })
            .collect(),
        sentence: finding.sentence.clone(),
        reason: finding.reason.clone(),
    }
}

/// The twelve cusps with the angles among them.
pub(crate) fn cusps(casting: &Casting, account: &Account) -> Vec<LessonReadingAnswer> {
    let by = casting.by;
    let horizon = casting.horizon();
    let exact = casting.method.cusps(&horizon);
    let mut readings = Vec::new();
    for (index, house) in House::ALL.into_iter().enumerate() {
        let exact = match house.number() {
            1 => horizon.ascendant().map_err(|why| why.to_string()),
            10 => Ok(horizon.midheaven()),
            _ => exact
                .as_ref()
                .map(|cusps| cusps.all().get(index).copied().unwrap_or_default())
                .map_err(ToString::to_string),
        };
        readings.push(cusp(account, by, casting.method, house, exact));
    }
    readings
}

fn cusp(
    account: &Account,
    by: Procedure,
    method: Method,
    house: House,
    exact: Result<Angle, String>,
) -> LessonReadingAnswer {
    let from = by.cusp_from(house);
    let quantity = by.quantity(house);
    let name = match house.number() {
        1 => "ascendant".to_owned(),
        10 => "midheaven".to_owned(),
        _ => house.to_string(),
    };
    let reading = account.actual().reading(quantity);
    let own = |read: Value| if from.opposite { read.opposite() } else { read };
    let why: Option<Why> = exact.as_ref().ok().and_then(|exact| {
        let asked = Asked {
            quantity,
            opposite: from.opposite,
            exact: Calculated::at_the_moment(Value::Degree(*exact)),
            own: None,
        };
        account.why(asked).ok()
    });
    let line = if from.opposite {
        format!("{}, opposite", from.line)
    } else {
        from.line.to_string()
    };
    let shares = why.iter().flat_map(|why| &why.shares);
    LessonReadingAnswer {
        read: reading
            .as_ref()
            .ok()
            .map(|one| ValueInWords(own(one.value)).to_string()),
        line,
        opposite: from.opposite,
        reads_to: reading
            .as_ref()
            .ok()
            .filter(|one| one.reads_to.is_some())
            .map(|one| Fineness(one.reads_to).to_string()),
        exact: exact
            .as_ref()
            .ok()
            .map(|exact| Zodiacal(*exact).to_string()),
        differs: why.as_ref().map(|why| signed(why.difference())),
        shares: shares
            .filter(|share| is_seen(share.amount))
            .map(|share| LessonShareAnswer {
                cause: share.cause.name(),
                words: share.cause.words().to_owned(),
                amount: signed(share.amount),
            })
            .collect(),
        sentence: why.map(|why| {
            let name = match house.number() {
                1 => "The ascendant".to_owned(),
                10 => "The midheaven".to_owned(),
                _ => format!("Cusp {house}"),
            };
            words::difference(&why, &name, Quantity::Ascendant)
        }),
        reason: match (reading, exact) {
            (Err(why), _) => Some(why.to_string()),
            (_, Err(why)) => Some(format!("{}: {why}", method.name())),
            _ => None,
        },
        name: name.clone(),
        what: name,
    }
}

/// Shares below half of what is said are left out.
fn is_seen(amount: Amount) -> bool {
    let least = match amount {
        Amount::Points(_) | Amount::Length(_) | Amount::UnequalHours(_) => 0.005,
        Amount::Time(_) => 0.5 / 240.0,
        Amount::Angle(_) => 0.5 / 60.0,
    };
    amount.number().abs() >= least
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Angles are said to the minute, times to the second, all else to the hundredth.
    #[test]
    fn what_rounds_to_nothing_is_not_seen() {
        let minute = Angle::from_deg(1.0 / 60.0);
        let second = Angle::from_deg(1.0 / 240.0);
        let kinds: [fn(f64) -> Amount; 3] = [Amount::Points, Amount::Length, Amount::UnequalHours];
        for sign in [1.0, -1.0] {
            let mut units = vec![
                [0.6, 0.4].map(|part| Amount::Angle(minute * (part * sign))),
                [0.6, 0.4].map(|part| Amount::Time(second * (part * sign))),
            ];
            units.extend(kinds.map(|kind| [0.006, 0.004].map(|part| kind(part * sign))));
            for [more, less] in units {
                assert!(is_seen(more), "{more:?}");
                assert!(!is_seen(less), "{less:?}");
            }
        }
    }
}
