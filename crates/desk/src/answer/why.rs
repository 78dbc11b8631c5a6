use crate::answer::numbers::{amount_deg, in_range};
use std::collections::BTreeMap;

use practice::{NoReading, Quantity, Share, Why};
use schemars::JsonSchema;
use serde::Serialize;

/// Why reading and calculation differ.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct WhyAnswer {
    /// In the ascendant.
    pub ascendant: WhyOne,
    /// In the midheaven.
    pub midheaven: WhyOne,
    /// In the cusps, by each procedure, from I to XII.
    pub cusps: BTreeMap<&'static str, Vec<WhyCuspAnswer>>,
}

/// Why one value differs.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct WhyOne {
    /// What was read; null where nothing can be.
    pub read_deg: Option<f64>,
    /// What calculation gives; null where it has no answer.
    pub exact_deg: Option<f64>,
    /// Reading minus calculation, in (−180, 180].
    pub difference_deg: Option<f64>,
    /// The parts of it, by cause; they add up to the difference.
    pub shares: Vec<ShareAnswer>,
    /// The difference in a sentence.
    pub sentence: Option<String>,
    /// Why there is no account, where there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reason: Option<String>,
}

/// Why a cusp differs.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct WhyCuspAnswer {
    /// The house's number.
    pub house: u8,
    /// The account.
    #[serde(flatten)]
    pub why: WhyOne,
}

/// A cause's part of a difference.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ShareAnswer {
    /// The cause, by its fixed name.
    pub cause: &'static str,
    /// What it is, in plain words.
    pub words: &'static str,
    /// How much it moves the reading.
    pub deg: f64,
}

impl WhyOne {
    /// Of the ascendant, the midheaven or a cusp, which are spoken of alike.
    pub(crate) fn of(name: &str, why: Result<Why, NoReading>) -> WhyOne {
        match why {
            Ok(why) => WhyOne {
                read_deg: Some(in_range(why.read)),
                exact_deg: Some(in_range(why.exact)),
                difference_deg: Some(amount_deg(why.difference())),
                shares: why.shares.iter().map(ShareAnswer::of).collect(),
                sentence: Some(words::difference(&why, name, Quantity::Ascendant)),
                reason: None,
            },
            Err(why) => WhyOne::none(why.to_string()),
        }
    }

    pub(crate) fn none(reason: String) -> WhyOne {
        WhyOne {
            read_deg: None,
            exact_deg: None,
            difference_deg: None,
            shares: Vec::new(),
            sentence: None,
            reason: Some(reason),
        }
    }
}

impl ShareAnswer {
    /// Of what an operation finds.
    pub(crate) fn found(share: &Share, quantity: Quantity) -> ShareAnswer {
        ShareAnswer {
            words: share.cause.words_for(quantity),
            ..ShareAnswer::of(share)
        }
    }

    pub(crate) fn of(share: &Share) -> ShareAnswer {
        ShareAnswer {
            cause: share.cause.name(),
            words: share.cause.words(),
            deg: amount_deg(share.amount),
        }
    }
}
