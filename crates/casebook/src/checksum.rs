//! The sums by which a case and a change are known to be as they were kept.

use crate::kind::Kind;

/// What a case's checksum is made of.
pub(crate) struct CaseBytes<'a> {
    pub(crate) id: i64,
    pub(crate) uid: &'a str,
    pub(crate) version: i64,
    pub(crate) kept_unix_s: i64,
    pub(crate) changed_unix_s: i64,
    pub(crate) document: &'a str,
    pub(crate) kind: Kind,
    pub(crate) class_id: Option<i64>,
}

impl CaseBytes<'_> {
    /// CRC-32 (ISO 3309), which finds every error of up to three bits and every burst of
    /// up to 32 in texts of our length.
    pub(crate) fn checksum(&self) -> i64 {
        let mut sum = crc32fast::Hasher::new();
        for number in [self.id, self.version, self.kept_unix_s, self.changed_unix_s] {
            sum.update(&number.to_le_bytes());
        }
        sum.update(self.uid.as_bytes());
        sum.update(self.document.as_bytes());
        // A case bears the checksum that it had before there were classes.
        match self.kind {
            Kind::Case => {}
            Kind::Class | Kind::Paper => {
                sum.update(self.kind.name().as_bytes());
                sum.update(&self.class_id.unwrap_or_default().to_le_bytes());
            }
        }
        i64::from(sum.finalize())
    }
}

/// The checksum of what can be undone: the case it belongs to, when it was done, and
/// the case as it was before, and with what it is undone.
pub(crate) fn of_change(
    case_id: i64,
    at_unix_s: i64,
    before: Option<&str>,
    with_done: Option<i64>,
) -> i64 {
    let mut sum = crc32fast::Hasher::new();
    sum.update(&case_id.to_le_bytes());
    sum.update(&at_unix_s.to_le_bytes());
    sum.update(&[u8::from(before.is_some())]);
    sum.update(before.unwrap_or_default().as_bytes());
    if let Some(with_done) = with_done {
        sum.update(&with_done.to_le_bytes());
    }
    i64::from(sum.finalize())
}
