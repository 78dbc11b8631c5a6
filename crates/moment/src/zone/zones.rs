use std::fmt;

use super::table::{self, Record};
use crate::MomentError;
use crate::near::nearest;

/// A time zone of the embedded IANA database, with its whole history.
///
/// The database is public domain. It is embedded in its full form, with the
/// history before 1970 of every name ("backzone"), which many packagings drop.
#[derive(Clone, Copy, Eq, PartialEq)]
pub struct Zone {
    index: usize,
}

impl Zone {
    /// The zone of a name such as `Europe/Madrid`, in letters of either case.
    ///
    /// # Errors
    /// When there is no such zone; the message offers the nearest names.
    ///
    /// ```
    /// use moment::Zone;
    /// assert_eq!(Zone::named("europe/madrid")?.name(), "Europe/Madrid");
    /// let message = Zone::named("Europe/Madird").unwrap_err().to_string();
    /// assert!(message.contains("Europe/Madrid"));
    /// # Ok::<(), moment::MomentError>(())
    /// ```
    pub fn named(text: &str) -> Result<Zone, MomentError> {
        let wanted = text.trim().to_ascii_lowercase();
        let (mut low, mut high) = (0, table::name_count());
        while low < high {
            let index = usize::midpoint(low, high);
            match table::name(index).to_ascii_lowercase().cmp(&wanted) {
                std::cmp::Ordering::Equal => return Ok(Zone { index }),
                std::cmp::Ordering::Less => low = index + 1,
                std::cmp::Ordering::Greater => high = index,
            }
        }
        Err(MomentError::zone_name(
            text,
            nearest(&wanted, Zone::all().map(Zone::name), 3),
        ))
    }

    /// Every zone, in alphabetical order, older names of the same included.
    pub fn all() -> impl Iterator<Item = Zone> {
        (0..table::name_count()).map(|index| Zone { index })
    }

    /// The release of the database that is embedded, such as `2026c`.
    #[must_use]
    pub fn release() -> &'static str {
        table::release()
    }

    /// The name, as the database writes it.
    #[must_use]
    pub fn name(self) -> &'static str {
        table::name(self.index)
    }

    /// The town the zone is named after, such as `Buenos Aires`.
    #[must_use]
    pub fn town(self) -> String {
        let name = self.name();
        name.rsplit('/').next().unwrap_or(name).replace('_', " ")
    }

    /// Whether the database keeps the zone's history before 1970 among those it
    /// calls less reliable.
    #[must_use]
    pub fn is_less_reliable_before_1970(self) -> bool {
        self.record().is_from_backzone()
    }

    pub(super) fn record(self) -> Record {
        table::record(self.index)
    }
}

/// The name.
impl fmt::Display for Zone {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.name())
    }
}

/// The name.
impl fmt::Debug for Zone {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Zone({})", self.name())
    }
}
