//! Somebody who has an instrument as it is drawn and does what sentences say, knowing
//! nothing else: neither the moment nor how the parts should stand.

use std::f64::consts::FRAC_1_SQRT_2;

use desk::WorkingStepAnswer;
use drawing::{Baseline, Item, Scene, Setting, front};
use instrument::{
    Instrument, LineId, Minutes, Pick, RetePoint, Specification, State, UnequalHour, YearDay,
};
use sky::{Angle, Latitude};

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];
const SIGNS: [&str; 12] = [
    "Aries",
    "Taurus",
    "Gemini",
    "Cancer",
    "Leo",
    "Virgo",
    "Libra",
    "Scorpio",
    "Sagittarius",
    "Capricorn",
    "Aquarius",
    "Pisces",
];
const NUMBERS: [&str; 13] = [
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve",
];
const ORDINALS: [&str; 12] = [
    "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth",
    "eleventh", "twelfth",
];

pub(crate) struct Follower {
    instrument: Instrument,
    drawn: Option<Scene>,
    state: State,
    /// What was set last: where it is judged how near it came.
    set: Set,
    waxed: bool,
}

#[derive(Clone, Copy, PartialEq)]
enum Set {
    Nothing,
    Rule,
    Rete,
    Alidade,
}

impl Follower {
    pub(crate) fn new(specification: &str) -> Follower {
        let instrument = Instrument::new(Specification::from_toml(specification).unwrap());
        Follower {
            state: State::at_rest(Latitude::ZERO),
            instrument,
            drawn: None,
            set: Set::Nothing,
            waxed: false,
        }
    }

    /// Does what a sentence says.
    pub(crate) fn follow(&mut self, sentence: &str) {
        self.set = Set::Nothing;
        if let Some(rest) = sentence.strip_prefix("Lay in the plate for ") {
            let (deg, rest) = rest.split_once('°').unwrap();
            let (min, rest) = rest.split_once('′').unwrap();
            let size = deg.parse::<f64>().unwrap() + min.parse::<f64>().unwrap() / 60.0;
            let sign = if rest.starts_with(" S") { -1.0 } else { 1.0 };
            self.state.plate = Latitude::from_deg(size * sign).unwrap();
            self.drawn = Some(front(&self.instrument, &Setting::at_rest(self.state.plate)));
        } else if let Some((_, place)) =
            sentence.split_once("Turn the rule back onto the hour: the edge of its long end lies ")
        {
            self.set_rule(place);
        } else if let Some(place) =
            sentence.strip_prefix("Turn the rule until the edge of its long end lies ")
        {
            self.set_rule(place.split(". That end").next().unwrap());
        } else if sentence.starts_with("Lay the edge of the rule's long end over ") {
            if let Some((_, place)) = sentence.split_once(" under it: ") {
                self.set_rule(place.split(". That end").next().unwrap());
            }
        } else if sentence.starts_with("Turn the rete")
            && !sentence.contains("crosses the meridian line")
        {
            self.turn_rete(sentence);
        } else if sentence.starts_with("On the back") {
            let (_, date) = sentence.split_once("with one end on ").unwrap();
            let (date, rest) = date.split_once(" of the calendar scale").unwrap();
            self.state.alidade = self.date(date);
            let way = rest
                .split_once("points ")
                .unwrap()
                .1
                .split('.')
                .next()
                .unwrap();
            let bearing = self.instrument.back().zodiac(self.state.alidade);
            assert!(points(bearing, way), "{way} for {bearing:?}");
            self.set = Set::Alidade;
        } else if sentence.starts_with("Mark the planet") || sentence.starts_with("By the old rule")
        {
            self.waxed = true;
        }
    }

    /// How far from where it should be the part stands that was set; none where it stands
    /// as near as it is told.
    pub(crate) fn off(&mut self, step: &WorkingStepAnswer) -> Option<String> {
        let stroke = f64::from(self.instrument.graduation().limb_minutes()) / 4.0;
        let degree = self.instrument.specification().ecliptic_division.deg();
        let rule = 0.55 * stroke;
        let (own, should, within) = match self.set {
            Set::Nothing => {
                // What is not told by a sentence of its own stands as it should.
                self.stands(step);
                return None;
            }
            Set::Rule => (self.state.rule, step.state.rule_deg, rule),
            // A degree is told to half a division and the rule to half a stroke; a slanting
            // line makes up to four times as much of it.
            Set::Rete => (
                self.state.rete,
                step.state.rete_deg,
                1.5 + rule + 2.2 * degree,
            ),
            Set::Alidade => (self.state.alidade, step.state.alidade_deg, 2.6),
        };
        let off = Angle::from_deg(should).to(own).deg().abs();
        // What follows starts from where it should stand, so that each sentence is judged
        // by itself.
        self.stands(step);
        (off > within).then(|| format!("{off:.2}° off, {within:.2}° allowed"))
    }

    fn stands(&mut self, step: &WorkingStepAnswer) {
        self.state = State {
            plate: self.state.plate,
            rete: Angle::from_deg(step.state.rete_deg),
            rule: Angle::from_deg(step.state.rule_deg),
            alidade: Angle::from_deg(step.state.alidade_deg),
        };
    }

    fn set_rule(&mut self, place: &str) {
        let bearing = self.place(place);
        self.state.rule = self.hour_angle(bearing);
        self.set = Set::Rule;
    }

    /// The hour angle of a bearing from the top, as it is drawn.
    fn hour_angle(&self, bearing: f64) -> Angle {
        let found = (0..7200)
            .map(|n| Angle::from_deg(f64::from(n) / 20.0))
            .min_by(|a, b| {
                let off = |hour_angle: &Angle| {
                    let drawn = self.instrument.orientation().bearing(*hour_angle);
                    drawn.to(Angle::from_deg(bearing)).deg().abs()
                };
                off(a).total_cmp(&off(b))
            });
        found.unwrap()
    }

    fn scene(&mut self) -> &Scene {
        let plate = self.state.plate;
        let instrument = &self.instrument;
        self.drawn
            .get_or_insert_with(|| front(instrument, &Setting::at_rest(plate)))
    }

    /// The bearing of a place of the limb.
    fn place(&mut self, place: &str) -> f64 {
        let place = place.trim_end_matches('.');
        if let Some((degrees, side)) = place.split_once(" of the limb's degrees, on the ") {
            let value = number(degrees.trim_start_matches("at "));
            let bearing = self.numbered(value);
            let right = (bearing.rem_euclid(360.0)) < 180.0;
            let on_the_line = bearing.to_radians().sin().abs() < 0.03;
            assert!(on_the_line || right == (side == "right"), "{place}");
            return bearing;
        }
        if let Some(numeral) = place.strip_prefix("at ") {
            return self.numeral(numeral);
        }
        let (head, way) = place.rsplit_once(", ").unwrap();
        let sense = match way {
            "clockwise of it" => 1.0,
            "anticlockwise of it" => -1.0,
            _ => panic!("{way} in {place}"),
        };
        let (offset, numeral) = head
            .split_once(" past the ")
            .or_else(|| head.split_once(" short of the "))
            .unwrap();
        let at = self.numeral(&format!("the {numeral}"));
        let hours = [
            ("three quarters of an hour", 11.25),
            ("a quarter of an hour", 3.75),
            ("half an hour", 7.5),
        ];
        let (part, strokes) = match hours.iter().find(|(name, _)| offset.starts_with(name)) {
            None => (0.0, offset),
            Some((name, degrees)) => (*degrees, offset[name.len()..].trim()),
        };
        let (sign, strokes) = match strokes.split_once(' ') {
            Some(("and", strokes)) if part > 0.0 => (1.0, strokes),
            Some(("less", strokes)) if part > 0.0 => (-1.0, strokes),
            _ => (1.0, strokes),
        };
        let counted = if strokes.is_empty() {
            0.0
        } else {
            counted(strokes)
        };
        let stroke = self.stroke();
        at + sense * (part + sign * counted * stroke)
    }

    /// The distance of the strokes of the hours as they are drawn.
    fn stroke(&mut self) -> f64 {
        let count: usize = self.scene().groups[0]
            .items
            .iter()
            .map(|item| match item {
                Item::Stroke(trace) if trace.scale && trace.line == Some(LineId::LimbHours) => {
                    trace.contours.len()
                }
                _ => 0,
            })
            .sum();
        #[expect(clippy::cast_precision_loss, reason = "at most 1440")]
        let strokes = count as f64;
        360.0 / strokes
    }

    /// Where letters of the limb stand: every place at which a text is found.
    fn lettered(&mut self, line: &LineId, text: &str) -> Vec<f64> {
        let items = &self.scene().groups[0].items;
        items
            .iter()
            .filter_map(|item| match item {
                Item::Text(lettering)
                    if lettering.line.as_ref() == Some(line) && lettering.text == text =>
                {
                    match lettering.baseline {
                        Baseline::Arc { middle, .. } => Some(middle.deg() + 90.0),
                        Baseline::Straight { .. } => None,
                    }
                }
                _ => None,
            })
            .collect()
    }

    /// The bearing of a degree of the limb, from the two numbers beside it.
    fn numbered(&mut self, value: f64) -> f64 {
        let zero = self.lettered(&LineId::LimbDegrees, "0")[0];
        let ninety = self.lettered(&LineId::LimbDegrees, "90")[0];
        let quarter = (ninety - zero + 180.0).rem_euclid(360.0) - 180.0;
        zero + quarter / 90.0 * value
    }

    /// The bearing of the one numeral that is meant.
    fn numeral(&mut self, said: &str) -> f64 {
        let said = said.strip_prefix("the ").unwrap();
        if let Some(rest) = said.strip_prefix("stroke at the ") {
            return if rest == "top" { 0.0 } else { 180.0 };
        }
        if let Some((ordinal, way)) = said.split_once(" long stroke ") {
            let index = ORDINALS.iter().position(|one| *one == ordinal).unwrap() + 1;
            #[expect(clippy::cast_precision_loss, reason = "1 to 12")]
            let hours = index as f64;
            let sense = if way.starts_with("clockwise") {
                1.0
            } else {
                -1.0
            };
            return sense * hours * 15.0;
        }
        let (text, which) = said.split_once(' ').unwrap();
        let places = self.lettered(&LineId::LimbHours, text);
        let meant: Vec<f64> = places
            .into_iter()
            .filter(|bearing| {
                let (x, up) = (bearing.to_radians().sin(), bearing.to_radians().cos());
                if which.starts_with("left of") {
                    x < -0.05
                } else if which.starts_with("right of") {
                    x > 0.05
                } else if which.starts_with("at the top") {
                    up > 0.9
                } else {
                    which.starts_with("at the bottom") && up < -0.9
                }
            })
            .collect();
        assert_eq!(meant.len(), 1, "“{said}” is not one numeral: {meant:?}");
        meant[0]
    }

    fn turn_rete(&mut self, sentence: &str) {
        let (_, rest) = sentence.split_once("until ").unwrap();
        let rest = rest.trim_end_matches('.').trim_end_matches(" again");
        let what = self.what(rest);
        let Some(what) = what else { return };
        let found = if let Some((_, line)) = rest.split_once(" lies under ") {
            assert!(line.starts_with("the edge of the rule's long end"));
            self.instrument
                .rete_with(what, &self.state, &LineId::RuleEdge, Pick::Drawn)
        } else if let Some((_, line)) = rest.split_once(" lies on ") {
            let (line, pick) = self.line(line);
            self.instrument.rete_with(what, &self.state, &line, pick)
        } else if let Some((_, altitude)) = rest.split_once(" stands at ") {
            let side = self.pick(altitude);
            let altitude = Latitude::from_deg(self.altitude(altitude)).unwrap();
            self.instrument
                .rete_at_altitude(what, &self.state, altitude, side)
        } else {
            return;
        };
        // A degree told to half a stroke may just miss the end of a line, or the highest
        // place of its path.
        let Ok(rete) = found else { return };
        if let Some((_, by)) = sentence
            .split(" until ")
            .next()
            .unwrap()
            .split_once(", by ")
        {
            let head = sentence.split(", by ").next().unwrap();
            let clockwise = head.split([' ', ',']).any(|word| word == "clockwise");
            let sense = if clockwise == self.instrument.orientation().clockwise() {
                1.0
            } else {
                -1.0
            };
            let by = if by.starts_with("less") {
                0.5
            } else {
                number(by.split(',').next().unwrap())
            };
            let turned = self.state.rete + Angle::from_deg(sense * by);
            let off = turned.to(rete).deg().abs();
            let degree = self.instrument.specification().ecliptic_division.deg();
            assert!(
                off < 3.0 + 2.5 * degree,
                "{off}° from what “{sentence}” says"
            );
        }
        self.state.rete = rete;
        self.set = Set::Rete;
    }

    /// The place of the rete that a sentence names.
    fn what(&mut self, said: &str) -> Option<RetePoint> {
        if self.waxed && said.starts_with("the place marked with wax")
            || said.starts_with("the almuri")
        {
            return None;
        }
        if let Some(name) = said.strip_prefix("the tip of the pointer of ") {
            let star = self
                .instrument
                .stars()
                .iter()
                .find(|star| name.starts_with(star.name))
                .unwrap();
            return Some(RetePoint::Place(star.right_ascension, star.declination));
        }
        if let Some((date, _)) = said.split_once(" of the date ring") {
            return Some(RetePoint::Date(self.date(date)));
        }
        let (_, degree) = said.split_once(" (").unwrap();
        Some(RetePoint::Degree(
            self.degree(degree.split(')').next().unwrap()),
        ))
    }

    /// `about 29 Leo, one stroke short of the sign's end`.
    fn degree(&self, said: &str) -> Angle {
        let (head, offset) = said.split_once(", ").unwrap();
        let sign = SIGNS.iter().position(|sign| head.ends_with(sign)).unwrap();
        #[expect(clippy::cast_precision_loss, reason = "one of twelve")]
        let begins = sign as f64 * 30.0;
        let stroke = self.instrument.specification().ecliptic_division.deg();
        let within = if offset == "at the sign's beginning" {
            0.0
        } else if let Some(numbered) = offset.strip_prefix("on the stroke of its ") {
            numbered.parse().unwrap()
        } else if let Some((strokes, from)) = offset.split_once(" past ") {
            mark(from) + counted(strokes) * stroke
        } else {
            let (strokes, from) = offset.split_once(" short of ").unwrap();
            mark(from) - counted(strokes) * stroke
        };
        let told = number(head.trim_end_matches(SIGNS[sign]).trim());
        assert!((told - within).abs() <= 0.6 * stroke + 0.51, "{said}");
        Angle::from_deg(begins + within)
    }

    /// A date of the calendar scale or the ring, as the degree or right ascension there.
    fn date(&self, said: &str) -> Angle {
        let said = said.trim_end_matches(" (Julian calendar)");
        if let Some((part, rest)) = said.split_once(" from the ") {
            let (from, to) = rest.split_once(" to the ").unwrap();
            let (from, to) = (self.stroke_of(from), self.stroke_of(to));
            return (from + from.to(to) * part_of_way(part)).in_turn();
        }
        self.stroke_of(said.trim_start_matches("the "))
    }

    fn stroke_of(&self, said: &str) -> Angle {
        let dates = self.instrument.dates();
        let month = MONTHS
            .iter()
            .position(|month| said.contains(month))
            .unwrap();
        let month = u8::try_from(month + 1).unwrap();
        if said.starts_with("line where ") {
            return dates.at(YearDay {
                month,
                day: 1,
                part: 0.0,
            });
        }
        let day: u8 = said.split(' ').rev().nth(1).unwrap().parse().unwrap();
        let part = if said.contains("begins") {
            0.0
        } else if said.contains("noon") {
            0.5
        } else {
            1.0
        };
        dates.at(YearDay { month, day, part })
    }

    /// A line of the plate, and which half of it, by its side alone.
    fn line(&self, said: &str) -> (LineId, Pick) {
        if said.starts_with("the eastern horizon") || said.starts_with("the western horizon") {
            return (LineId::Horizon, self.pick(said));
        }
        if said.starts_with("the meridian line") || said.starts_with("the midnight line") {
            let to_top = said.contains("centre to the top");
            let noon_up = self
                .instrument
                .orientation()
                .bearing(Angle::ZERO)
                .in_turn()
                .deg()
                < 1.0;
            let line = if to_top == noon_up {
                LineId::MeridianLine
            } else {
                LineId::MidnightLine
            };
            return (line, Pick::Drawn);
        }
        if let Some(rest) = said.strip_prefix("unequal-hour line ") {
            let number: u8 = rest.split(',').next().unwrap().parse().unwrap();
            return (
                LineId::UnequalHour(UnequalHour::new(number).unwrap()),
                Pick::Drawn,
            );
        }
        let rest = said
            .strip_prefix("the almucantar ")
            .unwrap_or_else(|| panic!("{said}"));
        let altitude = number(rest.split(',').next().unwrap());
        (
            LineId::Almucantar(Minutes::nearest(altitude)),
            self.pick(said),
        )
    }

    /// Which half of the plate is on the side that is said.
    fn pick(&self, said: &str) -> Pick {
        let left = said.contains("on the left");
        assert_ne!(left, said.contains("on the right"), "{said}");
        // Six hours before noon is east, wherever that is drawn.
        let east = self
            .instrument
            .orientation()
            .bearing(Angle::from_hours(-6.0));
        if left == (east.in_turn() > Angle::HALF_TURN) {
            Pick::Eastern
        } else {
            Pick::Western
        }
    }

    /// `about 32°, two tenths of the way from the almucantar 30° up to the almucantar 36°`.
    fn altitude(&self, said: &str) -> f64 {
        let of = |line: &str| {
            if line.starts_with("the horizon") {
                0.0
            } else if line.starts_with("the zenith") {
                90.0
            } else {
                let rest = line.strip_prefix("the almucantar ").unwrap();
                number(rest.split(',').next().unwrap())
            }
        };
        let (_, place) = said.split_once(", ").unwrap();
        if let Some(line) = place.strip_prefix("on ") {
            return of(line);
        }
        let (part, rest) = place.split_once(" from ").unwrap();
        let (from, to) = rest.split_once(" up to ").unwrap();
        let (from, to) = (of(from), of(to));
        from + (to - from) * part_of_way(part)
    }
}

/// `the sign's beginning`, `the sign's end`, `its 20`.
fn mark(said: &str) -> f64 {
    match said {
        "the sign's beginning" => 0.0,
        "the sign's end" => 30.0,
        its => its.strip_prefix("its ").unwrap().parse().unwrap(),
    }
}

/// `about 29`, `about 28½`, `28°50′`, `about 37°`.
fn number(said: &str) -> f64 {
    let said = said.trim_start_matches("about ").trim();
    if let Some((deg, min)) = said.split_once('°')
        && !min.is_empty()
    {
        return deg.parse::<f64>().unwrap()
            + min.trim_end_matches('′').parse::<f64>().unwrap() / 60.0;
    }
    let said = said.trim_end_matches('°');
    for (sign, part) in [("¼", 0.25), ("½", 0.5), ("¾", 0.75)] {
        if let Some(whole) = said.strip_suffix(sign) {
            return whole.parse::<f64>().unwrap() + part;
        }
    }
    said.parse().unwrap_or_else(|_| panic!("{said}"))
}

/// So many strokes.
fn counted(said: &str) -> f64 {
    if let Some(rest) = said.strip_prefix("a little over ") {
        return counted(rest) + 0.1;
    }
    if let Some(rest) = said.strip_prefix("a little under ") {
        return counted(rest) - 0.1;
    }
    if let Some(part) = said.strip_suffix(" of a division") {
        return fraction(part);
    }
    if said == "half a division" {
        return 0.5;
    }
    if let Some(whole) = said.strip_suffix(" and a half strokes") {
        return in_words(whole) + 0.5;
    }
    let (whole, rest) = said
        .split_once(" stroke")
        .unwrap_or_else(|| panic!("{said}"));
    let part = rest.trim_start_matches('s').trim_start_matches(" and ");
    in_words(whole) + if part.is_empty() { 0.0 } else { fraction(part) }
}

fn part_of_way(said: &str) -> f64 {
    match said {
        "halfway" => 0.5,
        part => fraction(part.strip_suffix(" of the way").unwrap()),
    }
}

/// `a third`, `seven tenths`.
fn fraction(said: &str) -> f64 {
    let (count, part) = said.split_once(' ').unwrap();
    let count = if count == "a" { 1.0 } else { in_words(count) };
    match part.trim_end_matches('s') {
        "third" => count / 3.0,
        "quarter" => count / 4.0,
        "tenth" => count / 10.0,
        other => panic!("{other}"),
    }
}

fn in_words(said: &str) -> f64 {
    let found = NUMBERS.iter().position(|number| *number == said);
    #[expect(clippy::cast_precision_loss, reason = "to twelve")]
    found.map_or_else(|| said.parse().unwrap(), |number| number as f64)
}

/// Whether a bearing from the top is rightly told.
fn points(bearing: Angle, way: &str) -> bool {
    let (right, down) = bearing.sin_cos();
    let up = down;
    let steep = 0.5 * FRAC_1_SQRT_2;
    let told = (
        way.contains("right"),
        way.contains("left"),
        way.contains("up"),
        way.contains("down"),
    );
    let is = (right > steep, right < -steep, up > steep, up < -steep);
    // Near the border of two words either will do.
    let borders = right.abs() < 0.42 || up.abs() < 0.42;
    told == is
        || borders
            && !(told.0 && right < 0.0
                || told.1 && right > 0.0
                || told.2 && up < 0.0
                || told.3 && up > 0.0)
}
