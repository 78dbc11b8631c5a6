//! What the fields of a specification are called in a form, and what each is for.

/// What a field of a specification is called, and what it is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FieldWords {
    /// With which others it stands.
    pub group: FieldGroup,
    /// What it is called.
    pub title: &'static str,
    /// What it is for, in a sentence or two.
    pub purpose: &'static str,
}

/// What is decided together, in the order in which a maker decides it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FieldGroup {
    /// For whom, how large, for which sky.
    Piece,
    /// The plates and their lines.
    Plates,
    /// Rete, stars and ecliptic.
    Rete,
    /// Limb and rule.
    Limb,
    /// Dates, and the back.
    Back,
    /// Throne, letters and their language.
    Look,
    /// What an owner wants engraved.
    Texts,
    /// Sheets, and how the parts fit.
    Sheets,
    /// How finely it is read, and what is wrong with it.
    Reading,
    /// What has no words here yet.
    Besides,
}

impl FieldGroup {
    /// All of them, in order.
    pub const ALL: [FieldGroup; 10] = [
        FieldGroup::Piece,
        FieldGroup::Plates,
        FieldGroup::Rete,
        FieldGroup::Limb,
        FieldGroup::Back,
        FieldGroup::Look,
        FieldGroup::Texts,
        FieldGroup::Sheets,
        FieldGroup::Reading,
        FieldGroup::Besides,
    ];

    /// Its heading.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            FieldGroup::Piece => "The piece",
            FieldGroup::Plates => "Plates and their lines",
            FieldGroup::Rete => "Rete and stars",
            FieldGroup::Limb => "Limb and rule",
            FieldGroup::Back => "Dates and the back",
            FieldGroup::Look => "Throne and letters",
            FieldGroup::Texts => "Words of one’s own",
            FieldGroup::Sheets => "Sheets and fits",
            FieldGroup::Reading => "Eye, and known faults",
            FieldGroup::Besides => "Besides",
        }
    }

    /// Whether it is the back that shows it.
    #[must_use]
    pub fn is_of_back(self) -> bool {
        match self {
            FieldGroup::Back | FieldGroup::Texts => true,
            FieldGroup::Piece
            | FieldGroup::Plates
            | FieldGroup::Rete
            | FieldGroup::Limb
            | FieldGroup::Look
            | FieldGroup::Sheets
            | FieldGroup::Reading
            | FieldGroup::Besides => false,
        }
    }
}

type Row = (&'static str, FieldGroup, &'static str, &'static str);

/// Each field by its name in the file, with its section.
#[rustfmt::skip]
const ROWS: [Row; 67] = [
    ("name", FieldGroup::Piece, "Name", "What it is called in the cabinet; engraved on the back."),
    ("description", FieldGroup::Piece, "A sentence about it", "For whoever looks through the cabinet."),
    ("diameter_mm", FieldGroup::Piece, "Diameter", "Of the mater, without the throne. What the size cannot carry is left out."),
    ("hemisphere", FieldGroup::Piece, "Half of the Earth", "Whose sky it shows: Capricorn lies outermost in the north, Cancer in the south."),
    ("orientation", FieldGroup::Piece, "At the top", "Whether noon or midnight stands beneath the throne."),
    ("epoch_year", FieldGroup::Piece, "Year of the stars", "For which the stars stand and the dates are divided. Stars move by a degree in 72 years."),
    ("obliquity_deg", FieldGroup::Piece, "Obliquity", "Of the ecliptic; unless stated, the mean one of the year."),

    ("plates_deg", FieldGroup::Plates, "Latitudes of the plates", "A side for each, south negative: 42, 46, 50."),
    ("almucantar_step_deg", FieldGroup::Plates, "Almucantars every", "Circles of equal altitude; unless stated, as the size carries."),
    ("azimuth_step_deg", FieldGroup::Plates, "Azimuths every", "Verticals through the zenith, 0 for none; unless stated, as the size carries."),
    ("twilight_line", FieldGroup::Plates, "Line of twilight", "18° below the horizon."),
    ("unequal_hour_lines", FieldGroup::Plates, "Lines of the unequal hours", "As arcs of a circle, which most plates have, or as the true curves."),
    ("house_lines", FieldGroup::Plates, "House lines", "Of the methods whose lines stand still on a plate."),
    ("parts.horizons_deg", FieldGroup::Plates, "Plate of horizons", "The latitudes on one plate that has horizons alone, for travellers, or the word all; none unless stated."),

    ("parts.tracery", FieldGroup::Rete, "Tracery", "What fills the rete between its rings; unless stated, as the size carries."),
    ("parts.pointers", FieldGroup::Rete, "Pointers", "The form of the star pointers; unless stated, what suits the tracery."),
    ("star_pointers", FieldGroup::Rete, "How many stars", "The brightest first, where their tips find room; unless stated, 12 to 40 by the size."),
    ("stars", FieldGroup::Rete, "Which stars", "By name or designation, parted by commas; unless stated, they are chosen for the size."),
    ("parts.star_labels", FieldGroup::Rete, "Stars are told by", "What stands on a pointer; below 100 mm a name finds no room."),
    ("parts.star_key", FieldGroup::Rete, "Key to the stars", "Where numbers and initials are explained: on the mater’s floor, in the back’s field, or on the sheet alone."),
    ("ecliptic_division_deg", FieldGroup::Rete, "Ecliptic divided every", "Unless stated, the finest that the size carries."),
    ("parts.least_width_mm", FieldGroup::Rete, "Rete nowhere thinner than", "What the metal needs to hold."),

    ("limb_hours", FieldGroup::Limb, "Hours of the limb", "Twice I to XII, from midnight and from noon, or 1 to 24 from midnight."),
    ("limb_division_deg", FieldGroup::Limb, "Limb divided every", "Unless stated, the finest that the size carries."),
    ("parts.rule", FieldGroup::Limb, "Rule", "Plain, or with a scale of declinations."),

    ("date_from", FieldGroup::Back, "Dates stand", "On the back, against the signs; or in a ring on the rete, of equal days (mean time) or as the Sun has them; or nowhere."),
    ("calendar_year", FieldGroup::Back, "Year of the dates", "For which the days are divided; unless stated, the year of the stars."),
    ("calendar_leap_mean", FieldGroup::Back, "Mean of four years", "Divided for the mean of the four years of a leap cycle that begins there."),
    ("calendar", FieldGroup::Back, "Calendar", "Unless stated, the Julian before 1583."),
    ("day_strokes", FieldGroup::Back, "A stroke stands for", "The beginning of its day, its noon, or its end, as elapsed days are counted."),
    ("calendar_meridian_deg", FieldGroup::Back, "Meridian of the days", "Whose midnights part them, east positive."),
    ("parts.calendar_scale", FieldGroup::Back, "Calendar scale", "Concentric, each day as long as the Sun makes it; or of equal days about a centre of its own."),
    ("parts.quadrant", FieldGroup::Back, "Quarter of the back", "What its right upper quarter bears: a title, numbered sines, or the Sun’s altitudes through the year: at noon, at the equal hours, or in the direction of Mecca."),
    ("parts.quadrant_deg", FieldGroup::Back, "Latitudes of that quarter", "1 to 12 of noon altitudes, one of equal hours; unless stated, those of the plates."),
    ("parts.sine_quadrant", FieldGroup::Back, "Sine quadrant", "The same as sines in the quarter of the back."),
    ("parts.rings", FieldGroup::Back, "Rings about the field", "Parted by commas, from the outermost inwards; none unless stated."),
    ("parts.cotangents", FieldGroup::Back, "Scale of cotangents", "Round the lower half of the back."),

    ("parts.throne", FieldGroup::Look, "Throne", "The form by which it hangs."),
    ("parts.letters", FieldGroup::Look, "Letters", "Outlines of a serif face, or single strokes as an engraver’s tool draws them."),
    ("parts.months", FieldGroup::Look, "Months in", "The language of their names."),
    ("parts.signs", FieldGroup::Look, "Signs in", "The language of their names."),
    ("parts.type_factor", FieldGroup::Look, "Letters so many times as large", "As usual is 1; where there is room."),
    ("parts.least_type_mm", FieldGroup::Look, "No capitals lower than", "What would be smaller is left out."),
    ("parts.least_gap_mm", FieldGroup::Look, "No lines closer than", "Scales and nets are thinned so that they can be engraved and told apart."),

    ("texts.throne", FieldGroup::Texts, "On the throne", "A line for each: a motto, a maker."),
    ("texts.back", FieldGroup::Texts, "On the back", "Below the name; a line for each."),
    ("texts.floor", FieldGroup::Texts, "On the mater’s floor", "Beneath the plates, where a dedication stood; a line for each."),
    ("texts.plates", FieldGroup::Texts, "On every plate", "A line for each."),
    ("parts.gazetteer", FieldGroup::Texts, "Gazetteer", "Places on the mater’s floor, one in a line, with latitude and longitude in degrees, south and west negative: Toledo, 39.8567, −4.0245."),
    ("parts.qibla", FieldGroup::Texts, "Direction of Mecca", "Beside each place of the gazetteer."),

    ("fits.mater_thickness_mm", FieldGroup::Sheets, "Mater’s sheet", "The thickness of the sheet for back and limb."),
    ("fits.plate_thickness_mm", FieldGroup::Sheets, "Plates’ sheet", "Its thickness."),
    ("fits.rete_thickness_mm", FieldGroup::Sheets, "Rete’s sheet", "Its thickness."),
    ("fits.rule_thickness_mm", FieldGroup::Sheets, "Rule’s sheet", "For rule, alidade and pinnules: its thickness."),
    ("fits.spacer_thickness_mm", FieldGroup::Sheets, "Spacers’ sheet", "Spacers raise the limb to the height of plates and rete; unless stated, of a sheet that fits."),
    ("fits.tolerance_mm", FieldGroup::Sheets, "Clearance", "Left round what goes into something else."),
    ("fits.kerf_mm", FieldGroup::Sheets, "Kerf", "The whole breadth that cutting takes away."),
    ("fits.pin_mm", FieldGroup::Sheets, "Pin", "Its diameter; a thick one needs a broad hub."),
    ("fits.ring_hole_mm", FieldGroup::Sheets, "Hole in the throne", "Its diameter."),

    ("eye_mm", FieldGroup::Reading, "Stated apart by the eye", "The least distance along a scale; 0 reads exactly."),
    ("eye_part_of_division", FieldGroup::Reading, "Estimated part of a division", "0.1 is a tenth."),
    ("faults.pin_play_mm", FieldGroup::Reading, "Play of the pin", "How much wider the rete’s hole is than the pin."),
    ("faults.plate_turned_deg", FieldGroup::Reading, "Plate turned in its notch", "As hour angles run."),
    ("faults.plate_off_noon_mm", FieldGroup::Reading, "Plate off the pin, to noon", "Its lines, and so off limb, rule and rete."),
    ("faults.plate_off_west_mm", FieldGroup::Reading, "Plate off the pin, to the west", "The same, across."),
    ("faults.ecliptic_offset_mm", FieldGroup::Reading, "Ecliptic ring out of its place", "Towards its own Capricorn."),
    ("faults.rule_offset_mm", FieldGroup::Reading, "Rule’s edge beside the middle", "On the side of later hours."),
];

impl FieldWords {
    /// The names of all fields that have words, in the order in which they are decided.
    pub fn keys() -> impl Iterator<Item = &'static str> {
        ROWS.iter().map(|(key, ..)| *key)
    }

    /// Those of a field of a specification, by its name with its section.
    #[must_use]
    pub fn of(key: &str) -> Option<FieldWords> {
        let (_, group, title, purpose) = ROWS.iter().find(|(known, ..)| *known == key)?;
        Some(FieldWords {
            group: *group,
            title,
            purpose,
        })
    }
}

#[cfg(test)]
mod tests {
    use instrument::SpecificationDraft;

    use super::*;

    #[test]
    fn every_field_of_a_specification_has_its_words_and_no_other() {
        let draft = SpecificationDraft::of("").unwrap();
        for field in &draft.fields {
            let words = FieldWords::of(&field.key);
            assert!(words.is_some(), "{} has no words in ROWS", field.key);
        }
        for key in FieldWords::keys() {
            assert!(draft.field(key).is_some(), "{key} is no field");
        }
    }
}
