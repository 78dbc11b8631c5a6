//! The tables `[fits]` and `[faults]`: thicknesses, holes and play, and what is amiss.

use sky::Angle;
use toml::Table;

use crate::length::Length;
use crate::specification::{Faults, Fits};
use crate::toml_fields::{Fields, Read};

/// Every key of the table `[fits]`, as documented on [`Fits`].
pub(super) const FIT_KEYS: [&str; 9] = [
    "mater_thickness_mm",
    "plate_thickness_mm",
    "rete_thickness_mm",
    "rule_thickness_mm",
    "spacer_thickness_mm",
    "tolerance_mm",
    "kerf_mm",
    "pin_mm",
    "ring_hole_mm",
];

/// Every key of the table `[faults]`.
pub(super) const FAULT_KEYS: [&str; 6] = [
    "pin_play_mm",
    "plate_turned_deg",
    "plate_off_noon_mm",
    "plate_off_west_mm",
    "ecliptic_offset_mm",
    "rule_offset_mm",
];

impl Fields<'_> {
    pub(super) fn fits(&self, diameter: Length) -> Read<Fits> {
        let empty = Table::new();
        let fields = self.section("fits", "fits.", &FIT_KEYS, &empty)?;
        let usual = Fits::suited_to(diameter);
        let length = |key, least, most, usual: Length| -> Read<Length> {
            Ok(fields
                .number(key, least, most)?
                .map_or(usual, Length::from_mm))
        };
        // A larger hole would leave no hub and no throne.
        let (pin, ring) = (diameter.mm() * 0.04, diameter.mm() * 0.06);
        Ok(Fits {
            mater_thickness: length("mater_thickness_mm", 0.05, 20.0, usual.mater_thickness)?,
            plate_thickness: length("plate_thickness_mm", 0.05, 20.0, usual.plate_thickness)?,
            rete_thickness: length("rete_thickness_mm", 0.05, 20.0, usual.rete_thickness)?,
            rule_thickness: length("rule_thickness_mm", 0.05, 20.0, usual.rule_thickness)?,
            spacer_thickness: fields
                .number("spacer_thickness_mm", 0.05, 20.0)?
                .map(Length::from_mm),
            tolerance: length("tolerance_mm", 0.0, 2.0, usual.tolerance)?,
            kerf: length("kerf_mm", 0.0, 3.0, usual.kerf)?,
            pin: length("pin_mm", 0.5, pin, usual.pin)?,
            ring_hole: length("ring_hole_mm", 0.5, ring, usual.ring_hole)?,
        })
    }

    pub(super) fn faults(&self, diameter: Length) -> Read<Faults> {
        let empty = Table::new();
        let fields = self.section("faults", "faults.", &FAULT_KEYS, &empty)?;
        // Beyond a twentieth of the diameter it is not a fault but another instrument.
        let most = diameter.mm() / 20.0;
        let length = |key| -> Read<Length> {
            Ok(Length::from_mm(
                fields.number(key, -most, most)?.unwrap_or(0.0),
            ))
        };
        Ok(Faults {
            pin_play: Length::from_mm(fields.number("pin_play_mm", 0.0, most)?.unwrap_or(0.0)),
            plate_turned: Angle::from_deg(
                fields
                    .number("plate_turned_deg", -10.0, 10.0)?
                    .unwrap_or(0.0),
            ),
            plate_off_noon: length("plate_off_noon_mm")?,
            plate_off_west: length("plate_off_west_mm")?,
            ecliptic_offset: length("ecliptic_offset_mm")?,
            rule_offset: length("rule_offset_mm")?,
        })
    }
}
