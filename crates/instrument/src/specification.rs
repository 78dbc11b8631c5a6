use moment::Calendar;
use sky::{Angle, Latitude};

use crate::form::{Pointers, Quadrant, StarKey, StarLabels, Throne, Tracery, ZodiacRing};
use crate::language::Language;
use crate::length::Length;
use crate::listed_place::ListedPlace;
use crate::minutes::Minutes;

/// The hemisphere whose sky an instrument shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hemisphere {
    /// Projected from the south pole; the outer tropic is Capricorn.
    North,
    /// Projected from the north pole; the outer tropic is Cancer.
    South,
}

impl Hemisphere {
    /// The hemisphere of a place, the equator's being undecided.
    #[must_use]
    pub fn of(latitude: Latitude) -> Option<Hemisphere> {
        if latitude > Latitude::ZERO {
            Some(Hemisphere::North)
        } else if latitude < Latitude::ZERO {
            Some(Hemisphere::South)
        } else {
            None
        }
    }

    /// `north` or `south`, as in a specification.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Hemisphere::North => "north",
            Hemisphere::South => "south",
        }
    }
}

/// Which half of the meridian line is at the top of the instrument.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Top {
    /// The noon half.
    Noon,
    /// The midnight half.
    Midnight,
}

impl Top {
    /// `noon-up` or `midnight-up`, as in a specification.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Top::Noon => "noon-up",
            Top::Midnight => "midnight-up",
        }
    }
}

/// Where the date is taken from, which settles the kind of time for the rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DateFrom {
    /// Calendar and zodiac scale of the back: the Sun's true degree, so local apparent time.
    Zodiac,
    /// A ring on the rete divided into equal days, the mean Sun's: local *mean* time,
    /// and the equation of time must not be applied.
    EqualDayRing,
    /// A ring on the rete divided by the true Sun's right ascension: local apparent time.
    TrueSunRing,
    /// Nothing on the instrument: the Sun's exact degree is given, from an ephemeris.
    Given,
}

impl DateFrom {
    /// All of them.
    pub const ALL: [DateFrom; 4] = [
        DateFrom::Zodiac,
        DateFrom::EqualDayRing,
        DateFrom::TrueSunRing,
        DateFrom::Given,
    ];

    /// Its name in a specification.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            DateFrom::Zodiac => "zodiac",
            DateFrom::EqualDayRing => "equal-day-ring",
            DateFrom::TrueSunRing => "true-sun-ring",
            DateFrom::Given => "given",
        }
    }

    /// Whether the rule is set to local mean time instead of local apparent time.
    #[must_use]
    pub fn wants_mean_time(self) -> bool {
        self == DateFrom::EqualDayRing
    }

    /// Whether the date is a place on a ring of the rete.
    #[must_use]
    pub fn is_ring(self) -> bool {
        matches!(self, DateFrom::EqualDayRing | DateFrom::TrueSunRing)
    }
}

/// The moment of the day for which a stroke of a date scale stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DayStrokes {
    /// The beginning of the day it is numbered for.
    Begin,
    /// Its noon.
    Noon,
    /// Its end: the stroke numbered n closes the nth day (elapsed days, as was usual).
    End,
}

impl DayStrokes {
    /// All of them.
    pub const ALL: [DayStrokes; 3] = [DayStrokes::Begin, DayStrokes::Noon, DayStrokes::End];

    /// Its name in a specification.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            DayStrokes::Begin => "begin",
            DayStrokes::Noon => "noon",
            DayStrokes::End => "end",
        }
    }

    /// The part of its day gone when a stroke's moment comes.
    #[must_use]
    pub fn part_of_day(self) -> f64 {
        match self {
            DayStrokes::Begin => 0.0,
            DayStrokes::Noon => 0.5,
            DayStrokes::End => 1.0,
        }
    }
}

/// How the unequal-hour lines are drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HourLines {
    /// As usual: circular arcs through the divisions of the tropics and the equator.
    Arcs,
    /// As the true curves.
    Curves,
}

impl HourLines {
    /// Its name in a specification.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            HourLines::Arcs => "arcs",
            HourLines::Curves => "curves",
        }
    }
}

/// The methods whose house lines stand still on a plate, and so can be engraved.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum HouseLines {
    /// Great circles through the north and south points of the horizon and
    /// 30° divisions of the equator.
    Regiomontanus,
    /// The same through 30° divisions of the prime vertical.
    Campanus,
}

impl HouseLines {
    /// All of them.
    pub const ALL: [HouseLines; 2] = [HouseLines::Regiomontanus, HouseLines::Campanus];

    /// The method's name.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            HouseLines::Regiomontanus => "regiomontanus",
            HouseLines::Campanus => "campanus",
        }
    }
}

/// How the hours of the limb are numbered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LimbHours {
    /// Twice I to XII, from midnight and from noon.
    TwiceTwelve,
    /// 1 to 24, from midnight.
    TwentyFour,
}

impl LimbHours {
    /// Its name in a specification.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            LimbHours::TwiceTwelve => "twice-twelve",
            LimbHours::TwentyFour => "twenty-four",
        }
    }
}

/// What is known to be wrong with an instrument; a perfect one has none of it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Faults {
    /// The pin's play in the rete's hole, in diameter. Held up by its ring the
    /// rete hangs down by half of it, towards the lower edge.
    pub pin_play: Length,
    /// The plate turned in its notch, positive as hour angles run.
    pub plate_turned: Angle,
    /// The plate's lines off the pin, towards noon.
    pub plate_off_noon: Length,
    /// The same, towards the west.
    pub plate_off_west: Length,
    /// The ecliptic ring off its centre, towards its own Capricorn.
    pub ecliptic_offset: Length,
    /// The rule's edge beside the centre, on the side of later hours.
    pub rule_offset: Length,
}

impl Faults {
    /// No faults.
    pub const NONE: Faults = Faults {
        pin_play: Length::ZERO,
        plate_turned: Angle::ZERO,
        plate_off_noon: Length::ZERO,
        plate_off_west: Length::ZERO,
        ecliptic_offset: Length::ZERO,
        rule_offset: Length::ZERO,
    };
}

/// How finely a hand sets and an eye reads.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Eye {
    /// The least distance along a scale that can be told apart; 0 reads exactly.
    pub least: Length,
    /// The least part of a division that is estimated.
    pub part_of_division: f64,
}

impl Eye {
    /// An eye that rounds nothing.
    pub const PERFECT: Eye = Eye {
        least: Length::ZERO,
        part_of_division: 0.0,
    };

    /// Whether nothing is rounded.
    #[must_use]
    pub fn is_perfect(&self) -> bool {
        self.least <= Length::ZERO
    }
}

/// The year for which date scales are divided, and how.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DateScaleFor {
    /// The year, astronomical (0 is 1 BC); with `leap_mean` the first of four.
    pub year: i32,
    /// Whether the mean of the four years of a leap cycle is taken.
    pub leap_mean: bool,
    /// The calendar of the year and of the scale's days.
    pub calendar: Calendar,
    /// What a stroke stands for.
    pub strokes: DayStrokes,
    /// The meridian at whose midnights the days are divided, east positive.
    pub meridian: Angle,
}

/// How the calendar scale of the back is divided.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CalendarCircle {
    /// About the centre of the zodiac scale, each day as long as the Sun makes it.
    Concentric,
    /// Into equal days about a centre of its own, towards the Sun's apogee.
    Eccentric,
}

impl CalendarCircle {
    /// Both of them.
    pub const ALL: [CalendarCircle; 2] = [CalendarCircle::Concentric, CalendarCircle::Eccentric];

    /// Its name in a specification.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            CalendarCircle::Concentric => "concentric",
            CalendarCircle::Eccentric => "eccentric",
        }
    }
}

/// What the rule carries.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RuleKind {
    /// Nothing but its edge.
    Plain,
    /// A scale of declinations.
    Declinations,
}

impl RuleKind {
    /// Both of them.
    pub const ALL: [RuleKind; 2] = [RuleKind::Plain, RuleKind::Declinations];

    /// Its name in a specification.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            RuleKind::Plain => "plain",
            RuleKind::Declinations => "declinations",
        }
    }
}

/// How letters are made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Letters {
    /// Outlines of a serif face.
    Serif,
    /// Single strokes, as an engraver's tool draws them.
    SingleStroke,
}

impl Letters {
    /// Both of them.
    pub const ALL: [Letters; 2] = [Letters::Serif, Letters::SingleStroke];

    /// Its name in a specification.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Letters::Serif => "serif",
            Letters::SingleStroke => "single-stroke",
        }
    }
}

/// How the parts are carried out, where that is not settled by the front.
#[derive(Clone, Debug, PartialEq)]
pub struct Parts {
    /// `calendar_scale`: `"concentric"` or `"eccentric"`.
    pub calendar_circle: CalendarCircle,
    /// `quadrant`: what the back's right upper quarter bears, one of [`Quadrant::ALL`];
    /// `sine_quadrant = true` is `"sines"` too.
    pub quadrant: Quadrant,
    /// `quadrant_deg`: for which latitudes, in a quadrant of noon altitudes (1 to 12) or of
    /// equal hours (one); where left out, those of the plates, or the first of them.
    pub quadrant_latitudes: Vec<Latitude>,
    /// `rings`: up to four rings about the back's field, from the outermost inwards, each one
    /// of [`ZodiacRing::ALL`].
    pub rings: Vec<ZodiacRing>,
    /// `gazetteer`: up to 48 places, engraved on the mater's floor.
    pub gazetteer: Vec<ListedPlace>,
    /// `qibla`: whether the direction of Mecca stands with them.
    pub qibla: bool,
    /// `cotangents`: whether the back's field has a scale of them.
    pub cotangents: bool,
    /// `rule`: `"plain"` or `"declinations"`.
    pub rule: RuleKind,
    /// `horizons_deg`: the latitudes of a plate of horizons, or `"all"`: by the finest step
    /// that the size carries; without any there is none.
    pub horizons: Vec<Latitude>,
    /// `letters`: `"serif"` or `"single-stroke"`.
    pub letters: Letters,
    /// `tracery`: one of [`Tracery::ALL`]; where left out, what the size carries.
    pub tracery: Tracery,
    /// `pointers`: one of [`Pointers::ALL`]; where left out, what suits the tracery.
    pub pointers: Pointers,
    /// `star_labels`: `"names"`, `"numbers"` or `"initials"`; where left out, names from
    /// 100 mm.
    pub star_labels: StarLabels,
    /// `star_key`: `"none"`, `"floor"` or `"field"`.
    pub star_key: StarKey,
    /// `throne`: one of [`Throne::ALL`].
    pub throne: Throne,
    /// `months`: the language of the months, one of [`Language::ALL`].
    pub months: Language,
    /// `signs`: that of the signs.
    pub signs: Language,
    /// `type_factor`, 0.5 to 2: how many times as large as usual letters are, where there is
    /// room.
    pub type_factor: f64,
    /// `least_width_mm`, 0.1 to 10: the rete is nowhere thinner.
    pub least_width: Length,
    /// `least_gap_mm`, 0.1 to 5: no two lines of a scale or a net stand closer.
    pub least_gap: Length,
    /// `least_type_mm`, 0.3 to 5: letters whose capitals would be lower are left out.
    pub least_type: Length,
}

impl Parts {
    /// What suits a mater of a diameter.
    #[must_use]
    pub fn suited_to(diameter: Length) -> Parts {
        Parts {
            calendar_circle: CalendarCircle::Concentric,
            quadrant: Quadrant::Title,
            quadrant_latitudes: Vec::new(),
            rings: Vec::new(),
            gazetteer: Vec::new(),
            qibla: false,
            cotangents: false,
            rule: RuleKind::Plain,
            horizons: Vec::new(),
            letters: Letters::Serif,
            tracery: Tracery::suited_to(diameter),
            pointers: Pointers::suited_to(diameter, Tracery::suited_to(diameter)),
            star_labels: StarLabels::suited_to(diameter),
            star_key: StarKey::Floor,
            throne: Throne::Shoulders,
            months: Language::English,
            signs: Language::Latin,
            type_factor: 1.0,
            // Brass of 0.4 mm holds on the smallest pieces, 0.6 mm looks right on
            // a hand-sized one and 1 mm on a demonstration piece (common practice).
            least_width: Length::from_mm((0.25 + 0.002 * diameter.mm()).clamp(0.4, 1.0)),
            least_gap: Length::from_mm(0.5),
            least_type: Length::from_mm(0.9),
        }
    }
}

/// What an owner wants engraved: maker, dedication, motto, date; by lines of at most 80
/// characters, twelve at most in a place.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Texts {
    /// `throne`: along the rim, on the throne's front.
    pub throne: Vec<String>,
    /// `back`: in the back's field, below the name.
    pub back: Vec<String>,
    /// `floor`: on the mater's floor, under the plates.
    pub floor: Vec<String>,
    /// `plates`: on every plate.
    pub plates: Vec<String>,
}

/// Thicknesses and allowances, by which the parts fit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fits {
    /// `mater_thickness_mm`, 0.05 to 20: of the sheet for back and limb.
    pub mater_thickness: Length,
    /// `plate_thickness_mm`, 0.05 to 20.
    pub plate_thickness: Length,
    /// `rete_thickness_mm`, 0.05 to 20.
    pub rete_thickness: Length,
    /// `rule_thickness_mm`, 0.05 to 20: of rule, alidade and pinnules.
    pub rule_thickness: Length,
    /// `spacer_thickness_mm`, 0.05 to 20: of the sheet for spacers between limb and back;
    /// where left out, of one that fits.
    pub spacer_thickness: Option<Length>,
    /// `tolerance_mm`, 0 to 2: the clearance left round what goes into something else.
    pub tolerance: Length,
    /// `kerf_mm`, 0 to 3: the breadth that the cutting takes away.
    pub kerf: Length,
    /// `pin_mm`, 0.5 to 30: the diameter of the pin.
    pub pin: Length,
    /// `ring_hole_mm`, 0.5 to 60: the diameter of the hole in the throne.
    pub ring_hole: Length,
}

impl Fits {
    /// What suits a mater of a diameter, cut from sheet by laser or saw.
    #[must_use]
    pub fn suited_to(diameter: Length) -> Fits {
        let mm = Length::from_mm;
        let d = diameter.mm();
        Fits {
            mater_thickness: mm((d / 90.0).clamp(1.0, 4.0)),
            plate_thickness: mm((d / 180.0).clamp(0.5, 2.0)),
            rete_thickness: mm((d / 150.0).clamp(0.6, 2.5)),
            rule_thickness: mm((d / 120.0).clamp(0.8, 3.0)),
            spacer_thickness: None,
            tolerance: mm(0.1),
            kerf: Length::ZERO,
            pin: mm((d * 0.026).clamp(1.2, 8.0)),
            ring_hole: mm((d * 0.03).clamp(1.5, 10.0)),
        }
    }
}

/// Everything that is stated about an instrument, in a specification file of
/// ours (TOML). The keys are the field names with their units; see
/// [`Specification::from_toml`].
#[derive(Clone, Debug, PartialEq)]
pub struct Specification {
    /// `name`: what the instrument is called in the cabinet.
    pub name: String,
    /// `description`: a sentence about it; may be empty.
    pub description: String,
    /// `diameter_mm`, 30 to 1000: of the mater, without the throne.
    pub diameter: Length,
    /// `hemisphere`: `"north"` or `"south"`.
    pub hemisphere: Hemisphere,
    /// `orientation`: `"noon-up"` or `"midnight-up"`.
    pub top: Top,
    /// `obliquity_deg`, 22 to 25; where it is left out, the mean obliquity of the epoch.
    pub obliquity: Angle,
    /// `epoch_year`, −600 to 2650: for which the stars stand and the date scales
    /// are divided, unless they state a year of their own.
    pub epoch_year: f64,
    /// `plates_deg`: the latitudes of the plates, south negative; at least one.
    pub plates: Vec<Latitude>,
    /// `date_from`: `"zodiac"`, `"equal-day-ring"`, `"true-sun-ring"` or `"given"`.
    pub date_from: DateFrom,
    /// `calendar_year`, `calendar_leap_mean`, `calendar` (`"gregorian"` or
    /// `"julian"`), `day_strokes` (`"begin"`, `"noon"` or `"end"`) and
    /// `calendar_meridian_deg`, −180 to 180.
    pub date_scale: DateScaleFor,
    /// `unequal_hour_lines`: `"arcs"` or `"curves"`.
    pub hour_lines: HourLines,
    /// `house_lines`: `"none"`, `"regiomontanus"` or `"campanus"`.
    pub house_lines: Option<HouseLines>,
    /// `eye_mm`, 0 to 5, and `eye_part_of_division`, 0 to 1.
    pub eye: Eye,
    /// `limb_hours`: `"twice-twelve"` or `"twenty-four"`.
    pub limb_hours: LimbHours,
    /// `limb_division_deg`: 0.25, 0.5, 1, 2 or 5; where left out, what the size carries.
    pub limb_division: Angle,
    /// `ecliptic_division_deg`: 0.5, 1, 2, 3, 5 or 10; where left out, what the size carries.
    pub ecliptic_division: Angle,
    /// `almucantar_step_deg`: 1, 2, 3, 4, 5, 6, 10 or 15; where left out, what the size carries.
    pub almucantar_step: Option<u8>,
    /// `azimuth_step_deg`: 0 (none), or 1 to 45, a whole part of a right angle in whole
    /// minutes such as 10 or 22.5 (half the angle between neighbours of the eight winds);
    /// where left out, what the size carries.
    pub azimuth_step: Option<Minutes>,
    /// `twilight_line`: whether the line 18° below the horizon is drawn.
    pub twilight: bool,
    /// `star_pointers`: how many, 0 to 60; where left out, what the size carries.
    pub star_pointers: Option<u8>,
    /// `stars`: those the rete points to, by name or designation; where left out,
    /// they are chosen for the size.
    pub stars: Vec<String>,
    /// `[parts]`: see [`Parts`].
    pub parts: Parts,
    /// `[texts]`: what an owner wants engraved.
    pub texts: Texts,
    /// `[fits]`: see [`Fits`].
    pub fits: Fits,
    /// `[faults]`: `pin_play_mm`, `plate_turned_deg`, `plate_off_noon_mm`, `plate_off_west_mm`,
    /// `ecliptic_offset_mm`, `rule_offset_mm`.
    pub faults: Faults,
}

impl Specification {
    /// A plain instrument of a hemisphere and obliquity, to be altered into an ideal
    /// one: the Sun's degree is given, and nothing is wrong with it.
    #[must_use]
    pub fn ideal(hemisphere: Hemisphere, obliquity: Angle) -> Specification {
        Specification {
            name: "ideal instrument".to_owned(),
            description: String::new(),
            diameter: Length::from_mm(200.0),
            hemisphere,
            top: Top::Noon,
            obliquity,
            epoch_year: 2000.0,
            plates: Vec::new(),
            date_from: DateFrom::Given,
            date_scale: DateScaleFor {
                year: 2000,
                leap_mean: false,
                calendar: Calendar::Gregorian,
                strokes: DayStrokes::Begin,
                meridian: Angle::ZERO,
            },
            hour_lines: HourLines::Arcs,
            house_lines: None,
            eye: Eye::PERFECT,
            limb_hours: LimbHours::TwiceTwelve,
            limb_division: Angle::from_deg(1.0),
            ecliptic_division: Angle::from_deg(1.0),
            almucantar_step: None,
            azimuth_step: None,
            twilight: true,
            star_pointers: None,
            stars: Vec::new(),
            parts: Parts::suited_to(Length::from_mm(200.0)),
            texts: Texts::default(),
            fits: Fits::suited_to(Length::from_mm(200.0)),
            faults: Faults::NONE,
        }
    }
}
