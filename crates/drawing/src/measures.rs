use instrument::{Instrument, TypeSizes};

/// How large things are drawn on an instrument of some size, in millimetres.
///
/// Widths of bands follow the diameter; lettering and lines grow more slowly, as
/// the hand and the eye do not grow with the brass.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Measures {
    /// The mater's radius.
    pub(crate) mater: f64,
    /// The plate's radius, where limb and date ring are read.
    pub(crate) plate: f64,
    /// The radius of the outer tropic.
    pub(crate) tropic: f64,
    /// The ordinary size of type.
    pub(crate) type_size: f64,
    /// The width of the finest line.
    pub(crate) hair: f64,
    /// The least distance between neighbouring strokes of a scale.
    pub(crate) gap: f64,
    /// The sizes of type.
    types: TypeSizes,
    /// The least width of the rete's metal.
    pub(crate) least: f64,
    /// The radius of the pin's hole.
    pub(crate) hole: f64,
}

impl Measures {
    pub(crate) fn of(instrument: &Instrument) -> Measures {
        let mater = instrument.specification().diameter.mm() / 2.0;
        let fits = &instrument.specification().fits;
        let growth = (mater / 90.0).sqrt();
        let types = instrument.type_sizes();
        Measures {
            mater,
            plate: instrument.limb_mm(),
            tropic: instrument.fineness().outer_tropic_mm(),
            type_size: types.usual_mm,
            hair: 0.075 * growth,
            gap: instrument.fineness().least_gap().mm(),
            types,
            least: instrument.specification().parts.least_width.mm(),
            hole: (fits.pin + fits.tolerance).mm() / 2.0,
        }
    }

    /// A size of type that fits a height, if it is not too small to read.
    pub(crate) fn type_for(&self, height_mm: f64, most: f64) -> Option<f64> {
        self.types.for_height(height_mm, most)
    }

    /// Sizes of type from one that fits down to the least that can be read.
    pub(crate) fn smaller(&self, size: f64) -> impl Iterator<Item = f64> + use<> {
        self.types.smaller(size)
    }

    /// The smallest size of type that can be read.
    pub(crate) fn least_type(&self) -> f64 {
        self.types.least_mm()
    }

    /// The width of the limb.
    pub(crate) fn limb_width(&self) -> f64 {
        self.mater - self.plate
    }
}
