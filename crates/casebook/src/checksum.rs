//! The sums by which a case and a change are known to be as they were kept.

/// What a case's checksum is made of.
pub(crate) struct CaseBytes<'a> {
    pub(crate) id: i64,
    pub(crate) uid: &'a str,
    pub(crate) version: i64,
    pub(crate) kept_unix_s: i64,
    pub(crate) changed_unix_s: i64,
    pub(crate) document: &'a str,
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
        i64::from(sum.finalize())
    }
}

/// The checksum of what can be undone: the case it belongs to, when it was done, and
/// the case as it was before.
pub(crate) fn of_change(case_id: i64, at_unix_s: i64, before: Option<&str>) -> i64 {
    let mut sum = crc32fast::Hasher::new();
    sum.update(&case_id.to_le_bytes());
    sum.update(&at_unix_s.to_le_bytes());
    sum.update(&[u8::from(before.is_some())]);
    sum.update(before.unwrap_or_default().as_bytes());
    i64::from(sum.finalize())
}
