use handouts::PageAddress;
use serde::{Deserialize, Serialize};

use crate::Fault;

/// What the page keeps from one day to the next. Every key is said, for what is not said
/// would be forgotten: null where nothing is kept.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Kept {
    /// The home place, as it is said.
    #[serde(deserialize_with = "Option::deserialize")]
    pub home: Option<String>,
    /// The home place's zone, where it does not name one itself.
    #[serde(deserialize_with = "Option::deserialize")]
    pub zone: Option<String>,
    /// The usual instrument, by its name in the cabinet.
    #[serde(deserialize_with = "Option::deserialize")]
    pub with: Option<String>,
    /// The usual house method.
    #[serde(deserialize_with = "Option::deserialize")]
    pub houses: Option<String>,
    /// The usual cusp procedure.
    #[serde(deserialize_with = "Option::deserialize")]
    pub by: Option<String>,
    /// Where the Sun's degree is usually taken from.
    #[serde(deserialize_with = "Option::deserialize")]
    pub sun: Option<String>,
    /// How figures are drawn, by the names of [`desk::FigureForm`]; `brass` unless said.
    #[serde(deserialize_with = "Option::deserialize")]
    pub figures: Option<String>,
    /// Where others can open the page; what is printed has no code without it.
    #[serde(deserialize_with = "Option::deserialize")]
    pub page_address: Option<String>,
}

impl Kept {
    /// Where others can open the page, if that is known.
    ///
    /// # Errors
    /// When what is kept is no address.
    pub fn linked_to(&self) -> Result<Option<PageAddress>, Fault> {
        let address = self.page_address.as_deref().map(PageAddress::parse);
        address.transpose().map_err(Fault::asked)
    }
}
