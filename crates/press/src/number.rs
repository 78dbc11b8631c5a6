use drawing::write_number;

/// The number as [`write_number`] writes it.
pub(crate) fn decimal(value: f64, decimals: usize) -> String {
    let mut text = String::new();
    write_number(&mut text, value, decimals);
    text
}
