//! The table `[parts]`: what an instrument bears, and in what form.

use sky::Angle;
use toml::Table;

use crate::fineness;
use crate::form::{Pointers, StarKey, StarLabels, Throne, Tracery};
use crate::language::Language;
use crate::length::Length;
use crate::specification::{CalendarCircle, Hemisphere, Letters, Parts, RuleKind};
use crate::toml_fields::{Fields, Read};

/// Every key of the table `[parts]`, as documented on [`Parts`].
pub(super) const PART_KEYS: [&str; 22] = [
    "calendar_scale",
    "sine_quadrant",
    "quadrant",
    "quadrant_deg",
    "rings",
    "cotangents",
    "gazetteer",
    "qibla",
    "rule",
    "horizons_deg",
    "letters",
    "tracery",
    "pointers",
    "star_labels",
    "star_key",
    "throne",
    "months",
    "signs",
    "type_factor",
    "least_width_mm",
    "least_gap_mm",
    "least_type_mm",
];

impl Fields<'_> {
    pub(super) fn parts(
        &self,
        diameter: Length,
        obliquity: Angle,
        hemisphere: Hemisphere,
        fine: fineness::Fineness,
    ) -> Read<Parts> {
        let empty = Table::new();
        let fields = self.section("parts", "parts.", &PART_KEYS, &empty)?;
        let usual = Parts::suited_to(diameter);
        let length = |key, least, most, usual: Length| -> Read<Length> {
            Ok(fields
                .number(key, least, most)?
                .map_or(usual, Length::from_mm))
        };
        let least_gap = length("least_gap_mm", 0.1, 5.0, usual.least_gap)?;
        let fine = fine.with_least_gap(least_gap);
        let tracery = fields
            .choice("tracery", &Tracery::ALL, Tracery::name)?
            .unwrap_or(usual.tracery);
        let quadrant = fields.quadrant()?;
        Ok(Parts {
            calendar_circle: fields
                .choice("calendar_scale", &CalendarCircle::ALL, CalendarCircle::name)?
                .unwrap_or(usual.calendar_circle),
            quadrant,
            quadrant_latitudes: fields.quadrant_latitudes(quadrant, hemisphere)?,
            rings: fields.rings()?,
            gazetteer: fields.gazetteer()?,
            qibla: fields.truth("qibla")?.unwrap_or(usual.qibla),
            cotangents: fields.truth("cotangents")?.unwrap_or(usual.cotangents),
            rule: fields
                .choice("rule", &RuleKind::ALL, RuleKind::name)?
                .unwrap_or(usual.rule),
            horizons: match fields.horizons(fine, obliquity, hemisphere)? {
                None => usual.horizons,
                Some(latitudes) => latitudes,
            },
            letters: fields
                .choice("letters", &Letters::ALL, Letters::name)?
                .unwrap_or(usual.letters),
            tracery,
            pointers: fields
                .choice("pointers", &Pointers::ALL, Pointers::name)?
                .unwrap_or(Pointers::suited_to(diameter, tracery)),
            star_labels: fields
                .choice("star_labels", &StarLabels::ALL, StarLabels::name)?
                .unwrap_or(usual.star_labels),
            star_key: fields
                .choice("star_key", &StarKey::ALL, StarKey::name)?
                .unwrap_or(usual.star_key),
            throne: fields
                .choice("throne", &Throne::ALL, Throne::name)?
                .unwrap_or(usual.throne),
            months: fields
                .choice("months", &Language::ALL, Language::name)?
                .unwrap_or(usual.months),
            signs: fields
                .choice("signs", &Language::ALL, Language::name)?
                .unwrap_or(usual.signs),
            type_factor: fields
                .number("type_factor", 0.5, 2.0)?
                .unwrap_or(usual.type_factor),
            least_width: length("least_width_mm", 0.1, 10.0, usual.least_width)?,
            least_gap,
            least_type: length("least_type_mm", 0.3, 5.0, usual.least_type)?,
        })
    }
}
