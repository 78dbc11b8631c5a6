use instrument::{Instrument, Length};

/// What the pin holds together, reckoned from behind: the alidade, the back, what lies
/// in the opening of the limb, and the rule.
///
/// Plates and rete lie in the opening, so that the rete turns level with the limb on
/// which it is read. Where they are thicker together than the limb, spacers raise it;
/// where they are thinner, a packing raises them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stack {
    /// How many plates there are, each with two sides.
    pub plates: u8,
    /// The thickness of one.
    pub plate: Length,
    /// The thickness of the rete.
    pub rete: Length,
    /// The thickness of the limb, and of the back.
    pub mater: Length,
    /// The thickness of the rule, and of the alidade.
    pub rule: Length,
    /// Rings between limb and back.
    pub spacers: Option<Spacers>,
    /// A disc beneath the plates.
    pub packing: Option<Length>,
}

/// Rings of the limb's shape.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spacers {
    /// How many.
    pub count: u16,
    /// The thickness of each.
    pub thickness: Length,
}

impl Stack {
    /// That of an instrument with all its plates.
    #[must_use]
    pub fn of(instrument: &Instrument) -> Stack {
        let specification = instrument.specification();
        let fits = &specification.fits;
        let sides =
            specification.plates.len() + usize::from(!specification.parts.horizons.is_empty());
        let bare = Stack {
            plates: u8::try_from(sides.div_ceil(2)).unwrap_or(u8::MAX),
            plate: fits.plate_thickness,
            rete: fits.rete_thickness,
            mater: fits.mater_thickness,
            rule: fits.rule_thickness,
            spacers: None,
            packing: None,
        };
        let proud = (bare.filling() - bare.depth()).mm();
        // What is less than the clearance between parts is none.
        let least = fits.tolerance.mm().max(0.01);
        if proud > least {
            Stack {
                spacers: Some(Spacers::filling(
                    proud,
                    least,
                    fits.spacer_thickness,
                    bare.mater,
                )),
                ..bare
            }
        } else if proud < -least {
            Stack {
                packing: Some(Length::from_mm(-proud)),
                ..bare
            }
        } else {
            bare
        }
    }

    /// How thick all plates are together.
    #[must_use]
    pub fn plates_together(&self) -> Length {
        self.plate * f64::from(self.plates)
    }

    /// How thick everything is that lies in the opening.
    #[must_use]
    pub fn filling(&self) -> Length {
        self.plates_together() + self.rete + self.packing.unwrap_or(Length::ZERO)
    }

    /// How deep the opening is: limb and spacers.
    #[must_use]
    pub fn depth(&self) -> Length {
        let spacers = self.spacers.map_or(Length::ZERO, |spacers| {
            spacers.thickness * f64::from(spacers.count)
        });
        self.mater + spacers
    }

    /// How far the rete's face lies below the limb's; negative where it stands above it.
    #[must_use]
    pub fn rete_below_limb(&self) -> Length {
        self.depth() - self.filling()
    }

    /// How thick everything is that the pin holds together: the rule lies on the limb or
    /// on the rete, whichever is higher.
    #[must_use]
    pub fn held(&self) -> Length {
        let inside = if self.rete_below_limb() > Length::ZERO {
            self.depth()
        } else {
            self.filling()
        };
        self.rule + self.mater + inside + self.rule
    }
}

impl Spacers {
    /// Those that make up for so many millimetres: of the sheet that is stated, or of one
    /// that fits, no thicker than the limb's.
    fn filling(proud_mm: f64, least_mm: f64, stated: Option<Length>, mater: Length) -> Spacers {
        let most = stated.unwrap_or(mater);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "some thousands at most, of plates and sheets as a specification may state"
        )]
        let count = ((proud_mm - least_mm) / most.mm())
            .ceil()
            .clamp(1.0, 65_535.0) as u16;
        Spacers {
            count,
            thickness: stated.unwrap_or(Length::from_mm(proud_mm / f64::from(count))),
        }
    }
}
