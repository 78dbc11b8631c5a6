use std::fmt::{self, Write};

/// Writes a number of millimetres or degrees with at most this many decimals,
/// without trailing zeros and never as "-0".
pub fn write_number(out: &mut String, value: f64, decimals: usize) {
    if let Some(units) = nearest_units(value, decimals) {
        return write_units(out, value < 0.0, units, decimals);
    }
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

/// How many units of the last decimal a number is, where multiplying cannot err about
/// it: for numbers of a drawing's size that are no tie.
fn nearest_units(value: f64, decimals: usize) -> Option<u64> {
    const TENS: [f64; 7] = [1.0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6];
    let units = value.abs() * TENS.get(decimals)?;
    // Below this the product is right within 6e-8.
    if units.is_nan() || units >= 1e9 {
        return None;
    }
    let whole = units.floor();
    let part = units - whole;
    if (part - 0.5).abs() < 1e-6 {
        return None;
    }
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a whole number below 1e9"
    )]
    Some(whole as u64 + u64::from(part > 0.5))
}

fn write_units(out: &mut String, negative: bool, mut units: u64, mut decimals: usize) {
    while decimals > 0 && units.is_multiple_of(10) {
        units /= 10;
        decimals -= 1;
    }
    if negative && units > 0 {
        out.push('-');
    }
    let tens = 10_u64.pow(u32::try_from(decimals).unwrap_or(0));
    // Writing to a String cannot fail.
    let _ = write!(out, "{}", units / tens);
    if decimals > 0 {
        let _ = write!(out, ".{:0decimals$}", units % tens);
    }
}

/// A number that prints as [`write_number`] writes it.
pub(crate) struct Decimal(pub(crate) f64, pub(crate) usize);

impl fmt::Display for Decimal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut text = String::new();
        write_number(&mut text, self.0, self.1);
        f.write_str(&text)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// As the standard library rounds the number's exact value.
    fn exactly(value: f64, decimals: usize) -> String {
        let text = format!("{value:.decimals$}");
        let text = match text.contains('.') {
            true => text.trim_end_matches('0').trim_end_matches('.'),
            false => &text,
        };
        if text == "-0" { "0" } else { text }.to_owned()
    }

    fn written(value: f64, decimals: usize) -> String {
        let mut text = String::new();
        write_number(&mut text, value, decimals);
        text
    }

    proptest! {
        #[test]
        fn numbers_are_rounded_exactly(value in -2e4..2e4_f64, decimals in 0..8_usize) {
            prop_assert_eq!(written(value, decimals), exactly(value, decimals));
        }

        #[test]
        fn ties_and_what_is_near_them_are_rounded_exactly(units in -99_999..99_999_i32, decimals in 0..6_usize, off in -3..=3_i32) {
            let tie = (f64::from(units) + 0.5) / 10_f64.powi(i32::try_from(decimals).unwrap());
            let value = tie * (1.0 + f64::from(off) * f64::EPSILON);
            prop_assert_eq!(written(value, decimals), exactly(value, decimals));
        }
    }

    #[test]
    fn zeros_and_the_size_of_numbers_make_no_difference() {
        for value in [
            0.0,
            -0.0,
            -0.0004,
            1e-9,
            12.0,
            -120.0,
            1e15,
            999.9999,
            f64::NAN,
            f64::INFINITY,
        ] {
            assert_eq!(written(value, 3), exactly(value, 3), "{value}");
        }
    }
}
