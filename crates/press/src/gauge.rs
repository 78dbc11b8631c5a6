use serde::Serialize;

/// What sheets of metal are called where they are sold, and the nearest to a thickness.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct GaugeEntry {
    /// The series: `metric`, `B&S` or `SWG`.
    pub series: &'static str,
    /// Its name in the series.
    pub gauge: String,
    /// How thick it is.
    pub thickness_mm: f64,
}

/// Thicknesses in millimetres that stockists of brass commonly keep (common practice).
const METRIC_MM: [f64; 16] = [
    0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 1.0, 1.2, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0,
];

/// The imperial standard wire gauge (BS 3737:1964; from memory), numbers 6 to 30 by twos, in
/// thousandths of an inch.
const SWG_MIL: [(u8, f64); 13] = [
    (6, 192.0),
    (8, 160.0),
    (10, 128.0),
    (12, 104.0),
    (14, 80.0),
    (16, 64.0),
    (18, 48.0),
    (20, 36.0),
    (22, 28.0),
    (24, 22.0),
    (26, 18.0),
    (28, 14.8),
    (30, 12.4),
];

const INCH_MM: f64 = 25.4;

/// The nearest of each series.
pub(crate) fn nearest_gauges(thickness_mm: f64) -> Vec<GaugeEntry> {
    let metric = METRIC_MM.map(|mm| (format!("{mm} mm"), mm));
    let swg = SWG_MIL.map(|(number, mil)| (format!("SWG {number}"), mil * INCH_MM / 1000.0));
    // Brown & Sharpe, by which brass sheet is sold in America: ASTM B258 divides the ratio of
    // 0.46 to 0.005 inches into 39 equal ratios, from number 0000 to 36.
    let brown = (2..=30_u8).map(|number| {
        let steps = f64::from(36 - number) / 39.0;
        let inches = 0.005 * libm::pow(92.0, steps);
        (format!("B&S {number}"), inches * INCH_MM)
    });
    [
        ("metric", nearest(metric.into_iter(), thickness_mm)),
        ("B&S", nearest(brown, thickness_mm)),
        ("SWG", nearest(swg.into_iter(), thickness_mm)),
    ]
    .into_iter()
    .filter_map(|(series, found)| {
        let (gauge, thickness_mm) = found?;
        Some(GaugeEntry {
            series,
            gauge,
            thickness_mm: (thickness_mm * 1000.0).round() / 1000.0,
        })
    })
    .collect()
}

fn nearest(
    gauges: impl Iterator<Item = (String, f64)>,
    thickness_mm: f64,
) -> Option<(String, f64)> {
    let off = |mm: f64| (mm - thickness_mm).abs();
    gauges.min_by(|a, b| off(a.1).total_cmp(&off(b.1)))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ASTM B258's own table (from memory): number 18 is 0.0403 inches, number 10 0.1019;
    /// number 16 of the standard wire gauge 0.064.
    #[test]
    fn gauges_are_those_of_their_tables() {
        let of = |mm: f64, series: &str| {
            let found = nearest_gauges(mm);
            let one = found.into_iter().find(|one| one.series == series);
            one.map(|one| (one.gauge, one.thickness_mm))
        };
        assert_eq!(of(1.0, "B&S"), Some(("B&S 18".to_owned(), 1.024)));
        assert_eq!(of(2.6, "B&S"), Some(("B&S 10".to_owned(), 2.588)));
        assert_eq!(of(1.6, "SWG"), Some(("SWG 16".to_owned(), 1.626)));
        assert_eq!(of(1.05, "metric"), Some(("1 mm".to_owned(), 1.0)));
        assert_eq!(of(40.0, "metric"), Some(("5 mm".to_owned(), 5.0)));
    }
}
