use crate::field_kind::FieldValue;
use crate::fineness::Fineness;
use crate::form::Quadrant;
use crate::length::Length;
use crate::minutes::Minutes;
use crate::specification::{HouseLines, Specification};

impl Specification {
    /// What a field holds, by its name with its section, be it stated or what the size
    /// carries; nothing where it is settled by others, or where there is no such field.
    ///
    /// ```
    /// use instrument::{FieldValue, Specification};
    /// let text = "version = 1\nname = \"small\"\ndiameter_mm = 60\nepoch_year = 2025\nplates_deg = [45]\n";
    /// let small = Specification::from_toml(text)?;
    /// assert_eq!(small.value("parts.tracery"), Some(FieldValue::Text("plain".to_owned())));
    /// assert_eq!(small.value("almucantar_step_deg"), Some(FieldValue::Number(6.0)));
    /// assert_eq!(small.value("fits.spacer_thickness_mm"), None);
    /// # Ok::<(), instrument::SpecificationError>(())
    /// ```
    #[must_use]
    pub fn value(&self, key: &str) -> Option<FieldValue> {
        let name = |name: &str| Some(FieldValue::Text(name.to_owned()));
        let number = |number: f64| Some(FieldValue::Number(number));
        let mm = |length: Length| Some(FieldValue::Number(length.mm()));
        let truth = |truth| Some(FieldValue::Truth(truth));
        let texts = |all: &[String]| Some(FieldValue::texts(all));
        let latitudes = |all: &[sky::Latitude]| {
            let all = all.iter().map(|one| FieldValue::Number(one.deg()));
            Some(FieldValue::List(all.collect()))
        };
        let (date, parts, fits, faults) = (&self.date_scale, &self.parts, &self.fits, &self.faults);
        let fine = Fineness::of(self.diameter, self.obliquity, self.date_from.is_ring())
            .with_least_gap(parts.least_gap);
        match key {
            "name" => name(&self.name),
            "description" => name(&self.description),
            "diameter_mm" => mm(self.diameter),
            "hemisphere" => name(self.hemisphere.name()),
            "orientation" => name(self.top.name()),
            "obliquity_deg" => number(self.obliquity.deg()),
            "epoch_year" => number(self.epoch_year),
            "plates_deg" => latitudes(&self.plates),
            "date_from" => name(self.date_from.name()),
            "calendar_year" => number(f64::from(date.year)),
            "calendar_leap_mean" => truth(date.leap_mean),
            "calendar" => name(date.calendar.name()),
            "day_strokes" => name(date.strokes.name()),
            "calendar_meridian_deg" => number(date.meridian.deg()),
            "unequal_hour_lines" => name(self.hour_lines.name()),
            "house_lines" => name(self.house_lines.map_or("none", HouseLines::name)),
            "eye_mm" => mm(self.eye.least),
            "eye_part_of_division" => number(self.eye.part_of_division),
            "limb_hours" => name(self.limb_hours.name()),
            "limb_division_deg" => number(self.limb_division.deg()),
            "ecliptic_division_deg" => number(self.ecliptic_division.deg()),
            "almucantar_step_deg" => {
                let step = self.almucantar_step;
                number(f64::from(step.unwrap_or_else(|| fine.almucantar_step())))
            }
            "azimuth_step_deg" => {
                let step = self.azimuth_step;
                number(step.map_or_else(|| f64::from(fine.azimuth_step()), Minutes::deg))
            }
            "twilight_line" => truth(self.twilight),
            "star_pointers" => {
                let count = self.star_pointers;
                number(f64::from(count.unwrap_or_else(|| fine.star_pointers())))
            }
            "stars" => texts(&self.stars),
            "parts.calendar_scale" => name(parts.calendar_circle.name()),
            "parts.sine_quadrant" => truth(parts.quadrant == Quadrant::Sines),
            "parts.cotangents" => truth(parts.cotangents),
            "parts.gazetteer" => {
                let places = parts.gazetteer.iter().map(|place| {
                    FieldValue::List(vec![
                        FieldValue::Text(place.name.clone()),
                        FieldValue::Number(place.latitude.deg()),
                        FieldValue::Number(place.longitude.deg()),
                    ])
                });
                Some(FieldValue::List(places.collect()))
            }
            "parts.qibla" => truth(parts.qibla),
            "parts.rings" => {
                let names = parts.rings.iter().map(|ring| ring.name().to_owned());
                texts(&names.collect::<Vec<_>>())
            }
            "parts.quadrant" => name(parts.quadrant.name()),
            "parts.quadrant_deg" => latitudes(&parts.quadrant_latitudes),
            "parts.rule" => name(parts.rule.name()),
            "parts.horizons_deg" => latitudes(&parts.horizons),
            "parts.letters" => name(parts.letters.name()),
            "parts.tracery" => name(parts.tracery.name()),
            "parts.pointers" => name(parts.pointers.name()),
            "parts.star_labels" => name(parts.star_labels.name()),
            "parts.star_key" => name(parts.star_key.name()),
            "parts.throne" => name(parts.throne.name()),
            "parts.months" => name(parts.months.name()),
            "parts.signs" => name(parts.signs.name()),
            "parts.type_factor" => number(parts.type_factor),
            "parts.least_width_mm" => mm(parts.least_width),
            "parts.least_gap_mm" => mm(parts.least_gap),
            "parts.least_type_mm" => mm(parts.least_type),
            "texts.throne" => texts(&self.texts.throne),
            "texts.back" => texts(&self.texts.back),
            "texts.floor" => texts(&self.texts.floor),
            "texts.plates" => texts(&self.texts.plates),
            "fits.mater_thickness_mm" => mm(fits.mater_thickness),
            "fits.plate_thickness_mm" => mm(fits.plate_thickness),
            "fits.rete_thickness_mm" => mm(fits.rete_thickness),
            "fits.rule_thickness_mm" => mm(fits.rule_thickness),
            "fits.spacer_thickness_mm" => mm(fits.spacer_thickness?),
            "fits.tolerance_mm" => mm(fits.tolerance),
            "fits.kerf_mm" => mm(fits.kerf),
            "fits.pin_mm" => mm(fits.pin),
            "fits.ring_hole_mm" => mm(fits.ring_hole),
            "faults.pin_play_mm" => mm(faults.pin_play),
            "faults.plate_turned_deg" => number(faults.plate_turned.deg()),
            "faults.plate_off_noon_mm" => mm(faults.plate_off_noon),
            "faults.plate_off_west_mm" => mm(faults.plate_off_west),
            "faults.ecliptic_offset_mm" => mm(faults.ecliptic_offset),
            "faults.rule_offset_mm" => mm(faults.rule_offset),
            _ => None,
        }
    }
}
