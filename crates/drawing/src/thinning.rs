/// Something that a size leaves out, or carries only in part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Thinning {
    /// What it is.
    pub what: String,
    /// What is there of it.
    pub shown: String,
    /// The key of the specification that overrules it.
    pub key: &'static str,
}

/// The key for what stands too close.
pub(crate) const LEAST_GAP: &str = "parts.least_gap_mm";
/// The key for letters too small to read.
pub(crate) const LEAST_TYPE: &str = "parts.least_type_mm";

impl Thinning {
    /// Letters that would be too small to read.
    pub(crate) fn unlettered(what: &str) -> Thinning {
        Thinning {
            what: what.to_owned(),
            shown: "left out: too small to read".to_owned(),
            key: LEAST_TYPE,
        }
    }

    /// Letters for which there is no room between the lines.
    pub(crate) fn crowded(what: &str) -> Thinning {
        Thinning {
            what: what.to_owned(),
            shown: "left out: no room between the lines".to_owned(),
            key: LEAST_TYPE,
        }
    }

    /// A scale whose divisions could be finer on a larger piece.
    pub(crate) fn divided(
        what: &str,
        step: f64,
        finest: f64,
        unit: &str,
        key: &'static str,
    ) -> Option<Thinning> {
        (step > finest * 1.001).then(|| Thinning {
            what: what.to_owned(),
            shown: format!("every {step}{unit} (finest {finest}{unit})"),
            key,
        })
    }
}
