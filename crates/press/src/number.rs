use std::fmt::Write;

/// Writes a number with at most this many decimals, without trailing zeros and
/// never as "-0".
pub(crate) fn write_number(out: &mut String, value: f64, decimals: usize) {
    let start = out.len();
    // Writing to a String cannot fail.
    let _ = write!(out, "{value:.decimals$}");
    if out.get(start..).is_some_and(|text| text.contains('.')) {
        let kept = out.trim_end_matches('0').trim_end_matches('.').len();
        out.truncate(kept);
    }
    if out.get(start..) == Some("-0") {
        out.truncate(start);
        out.push('0');
    }
}

/// The number as [`write_number`] writes it.
pub(crate) fn decimal(value: f64, decimals: usize) -> String {
    let mut text = String::new();
    write_number(&mut text, value, decimals);
    text
}
