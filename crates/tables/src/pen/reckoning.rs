use std::rc::Rc;

use figure::House;
use sky::Body;

use super::page::{Page, ROW_H, Shelf, Which, row_before};
use super::{
    At, Entry, Given, Hand, Kept, LeftOut, Line, Role, SlipKind, Step, StepResult, Taken, Within,
};
use crate::{DayHour, Figure, Form, TableError};

const DAY_S: f64 = 86_400.0;
/// A figure worked with the pen.
#[derive(Clone, Debug, PartialEq)]
pub struct Reckoned {
    /// The sheet.
    pub steps: Vec<Step>,
    /// What it finds.
    pub found: Found,
    /// How far that may be off by what the tables say of themselves.
    pub within: Within,
}

/// What is found, in degrees; none where a table has a stroke.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// The local sidereal time, in hours.
    pub sidereal_h: f64,
    /// The ascendant.
    pub ascendant: Option<f64>,
    /// The midheaven.
    pub midheaven: f64,
    /// The cusps, I to XII.
    pub cusps: [Option<f64>; 12],
    /// The bodies, in the order of [`Body::ALL`].
    pub bodies: Vec<f64>,
    /// The lot of Fortune.
    pub fortune: Option<f64>,
}

/// Works a figure with the pen.
///
/// # Errors
/// When no table of houses can be made for the latitude, or the ephemeris does not reach
/// the days on either side.
pub fn reckon(given: &Given, hand: &Hand) -> Result<Reckoned, TableError> {
    let shelf = Shelf::new(given);
    let mut sheet = Sheet::new(&shelf, hand);
    let found = sheet.work()?;
    let within = sheet.within(&found)?;
    let mut steps = sheet.steps;
    for step in &mut steps {
        step.opened = shelf.open_at(&step.takes, hand);
    }
    Ok(Reckoned {
        steps,
        found,
        within,
    })
}

/// What a sheet finds that is worked from tables at hand.
pub(crate) fn worked(shelf: &Shelf<'_>, hand: &Hand) -> Result<Found, TableError> {
    Sheet::new(shelf, hand).work()
}

impl Found {
    /// With the lot of Fortune, from the cusps and the bodies, the Sun and the Moon first
    /// among them: the arc from the Sun to the Moon laid off from the ascendant, by night
    /// from the Moon to the Sun.
    #[must_use]
    pub fn finished(
        sidereal_h: f64,
        midheaven: f64,
        cusps: [Option<f64>; 12],
        bodies: Vec<f64>,
    ) -> Found {
        let ascendant = cusps[House::I.index()];
        let lot = |ascendant: f64| {
            let (sun, moon) = (bodies.first()?, bodies.get(1)?);
            let arc = if is_day(ascendant, *sun) {
                moon - sun
            } else {
                sun - moon
            };
            Some((ascendant + arc).rem_euclid(360.0))
        };
        Found {
            sidereal_h,
            ascendant,
            midheaven,
            cusps,
            fortune: ascendant.and_then(lot),
            bodies,
        }
    }
}

/// By day the Sun stands above, between the descendant and the ascendant.
fn is_day(ascendant: f64, sun: f64) -> bool {
    (ascendant - sun).rem_euclid(360.0) < 180.0
}

/// The last hour of the ephemeris not after a time, by its day, and the seconds since.
fn since_hour(ut: Time, hour: DayHour) -> (i32, f64) {
    let since_s = ut.seconds - hour.hours() * 3600.0;
    if since_s < 0.0 {
        (ut.day - 1, since_s + DAY_S)
    } else {
        (ut.day, since_s)
    }
}

/// A day by its Julian day number, and seconds after its midnight.
#[derive(Clone, Copy)]
struct Time {
    day: i32,
    seconds: f64,
}

impl Time {
    fn plus(self, seconds: f64) -> Time {
        let sum = self.seconds + seconds;
        let days = (sum / DAY_S).floor();
        Time {
            day: self.day + days as i32,
            seconds: sum - days * DAY_S,
        }
    }

    /// As an argument of what is told by days at an hour.
    fn at(self, hour: DayHour) -> f64 {
        f64::from(self.day) + (self.seconds / 3600.0 - hour.hours()) / 24.0
    }
}

/// The sheet while it is written.
struct Sheet<'a> {
    shelf: &'a Shelf<'a>,
    given: &'a Given,
    hand: &'a Hand,
    steps: Vec<Step>,
    /// The day of the ephemeris that is worked from.
    day: i32,
}

fn line(entry: Entry, role: Role, figure: Figure) -> Line {
    Line {
        entry,
        role,
        figure,
    }
}

/// The part of an hour or a degree that is lost when a borrowed unit is taken for 100.
const FORTY_SIXTIETHS: f64 = 40.0 / 60.0;

/// Whether sixtieths must be borrowed when one number is taken off another.
fn borrows(from: f64, taken_off: f64) -> bool {
    let sixtieths = |number: f64| (number.abs() * 60.0 + 1e-6).floor().rem_euclid(60.0);
    sixtieths(from) < sixtieths(taken_off)
}

/// A number whose minutes are read as hundredths: 8°42′ as 8.42°.
fn as_hundredths(number: f64) -> f64 {
    let whole = (number + 1e-9).floor();
    whole + (number - whole) * 0.6
}

impl<'a> Sheet<'a> {
    fn new(shelf: &'a Shelf<'a>, hand: &'a Hand) -> Sheet<'a> {
        Sheet {
            shelf,
            given: shelf.given,
            hand,
            steps: Vec::new(),
            day: shelf.given.date.julian_day_number(),
        }
    }

    fn work(&mut self) -> Result<Found, TableError> {
        let ut = self.universal_time()?;
        let (day, gone_s) = since_hour(ut, self.hour_taken());
        self.day = day;
        let summed_h = self.sidereal_time(ut, day, gone_s)?;
        let sidereal_h = self.hand.goes_on_with.unwrap_or(summed_h);
        let houses = self.houses()?;
        let eastern = self.eastern_cusps(&houses, sidereal_h);
        let cusps = self.all_cusps(eastern);
        let ephemeris = self.ephemeris(day)?;
        let bodies = self.places(&ephemeris, ut, day, gone_s)?;
        let midheaven = cusps[House::X.index()].unwrap_or_default();
        let mut found = Found::finished(sidereal_h, midheaven, cusps, bodies);
        if self.slips_at(SlipKind::LotTurned, At::Fortune) {
            let turned = |(lot, ascendant): (f64, f64)| (2.0 * ascendant - lot).rem_euclid(360.0);
            found.fortune = found.fortune.zip(found.ascendant).map(turned);
        }
        self.fortune(&found);
        Ok(found)
    }

    fn within(&self, found: &Found) -> Result<Within, TableError> {
        let ephemeris = self.ephemeris(self.day)?;
        Within::of(
            self.shelf,
            self.hand,
            found.sidereal_h,
            &ephemeris,
            self.day,
        )
    }

    fn houses(&self) -> Result<Rc<Page>, TableError> {
        const NEXT: f64 = 1.0;
        let mut deg = self.hand.table_latitude.deg();
        if self.slips_at(SlipKind::LatitudeNorth, At::Houses) {
            deg += NEXT;
        }
        if self.slips_at(SlipKind::LatitudeSouth, At::Houses) {
            deg -= NEXT;
        }
        // No book has a page beyond the pole: then this one lies open.
        let latitude = sky::Latitude::from_deg(deg).unwrap_or(self.hand.table_latitude);
        self.shelf
            .page(Which::Houses(latitude, self.hand.obliquity))
    }

    fn ephemeris(&self, day: i32) -> Result<Rc<Page>, TableError> {
        self.shelf.page(Which::Ephemeris(day, self.hand.hour))
    }

    /// The hour for which the ephemeris is taken.
    fn hour_taken(&self) -> DayHour {
        if !self.slips_at(SlipKind::OtherHour, At::Sum) {
            return self.hand.hour;
        }
        match self.hand.hour {
            DayHour::Noon => DayHour::Midnight,
            DayHour::Midnight => DayHour::Noon,
        }
    }

    fn slips_at(&self, kind: SlipKind, at: At) -> bool {
        self.hand.slips_at(kind, at)
    }

    /// By how many rows the row that is taken is beside the right one.
    fn rows_beside(&self, at: At) -> f64 {
        let slips = |kind| f64::from(u8::from(self.slips_at(kind, at)));
        slips(SlipKind::RowBehind) - slips(SlipKind::RowBefore)
    }

    /// A number as it is read in a cell.
    fn read(&self, taken: &Taken, at: At) -> f64 {
        let number = taken.cell.value();
        if self.slips_at(SlipKind::Hundredths, at) {
            as_hundredths(number)
        } else {
            number
        }
    }

    /// A difference of two numbers, as it is found by taking one off the other.
    fn difference(&self, (before, behind): (f64, f64), at: At) -> f64 {
        let difference = Form::Zodiac.from_to(before, behind);
        let (from, taken_off) = if difference < 0.0 {
            (before, behind)
        } else {
            (behind, before)
        };
        if self.slips_at(SlipKind::BorrowedHundred, at) && borrows(from, taken_off) {
            difference + FORTY_SIXTIETHS.copysign(difference)
        } else {
            difference
        }
    }

    /// Where the part of a difference leads to, from one of two numbers on.
    fn laid_off(&self, (before, behind): (f64, f64), part: f64, at: At) -> f64 {
        if self.slips_at(SlipKind::AsItStands, at) {
            return before;
        }
        if self.slips_at(SlipKind::Backwards, at) {
            return behind - part;
        }
        let part = if self.slips_at(SlipKind::PartTurned, at) {
            -part
        } else {
            part
        };
        let found = before + part;
        let borrowed = part < 0.0 && borrows(before, part);
        if borrowed && self.slips_at(SlipKind::BorrowedHundred, at) {
            found + FORTY_SIXTIETHS
        } else {
            found
        }
    }

    fn write(&self, form: Form, value: f64) -> Figure {
        self.hand.write(form, value)
    }

    fn clock(&self, seconds: f64) -> Figure {
        self.write(Form::ClockToSecond, seconds / 3600.0)
    }

    fn span(&self, seconds: f64) -> Figure {
        self.write(Form::SpanToSecond, seconds / 3600.0)
    }

    /// A length in time put on or taken off, without its sign.
    fn signed(&self, entry: Entry, seconds: f64) -> Line {
        let role = if seconds < 0.0 {
            Role::TakenOff
        } else {
            Role::Added
        };
        line(entry, role, self.span(seconds.abs()))
    }

    fn step(&mut self, what: StepResult, takes: Vec<Taken>, lines: Vec<Line>) {
        self.steps.push(Step {
            what,
            takes,
            opened: Vec::new(),
            lines,
        });
    }

    /// The longitude in time, to the second: east is ahead.
    fn longitude_s(&self) -> f64 {
        let longitude_s = self.span(self.given.longitude.deg() * 240.0).value() * 3600.0;
        if self.slips_at(SlipKind::LongitudeTurned, At::Sum) {
            -longitude_s
        } else {
            longitude_s
        }
    }

    /// What is too much in the sum when minutes are borrowed as hundreds.
    fn lost_by_borrowing(&self, from_s: f64, put_on_s: f64) -> f64 {
        let borrowed = put_on_s < 0.0 && borrows(from_s / 3600.0, put_on_s / 3600.0);
        if borrowed && self.slips_at(SlipKind::BorrowedHundred, At::Sum) {
            FORTY_SIXTIETHS * 3600.0
        } else {
            0.0
        }
    }

    fn universal_time(&mut self) -> Result<Time, TableError> {
        let mut clock_h = self.clock(self.given.clock_s).value();
        if self.slips_at(SlipKind::HalfDay, At::Sum) {
            clock_h = (clock_h + 12.0).rem_euclid(24.0);
        }
        if self.slips_at(SlipKind::Hundredths, At::Sum) {
            // 9 h 20 m read as 9.20 hours.
            let hours = (clock_h + 1e-9).floor();
            clock_h = hours + (clock_h - hours) * 0.6;
        }
        let clock = Time {
            day: self.given.date.julian_day_number(),
            seconds: clock_h * 3600.0,
        };
        let mut takes = Vec::new();
        let mut lines = vec![line(
            Entry::ClockTime,
            Role::Given,
            self.clock(clock.seconds),
        )];
        let mut ut = clock;
        let mut off = |sheet: &Sheet<'_>, entry, seconds: f64| {
            lines.push(sheet.signed(entry, -seconds));
            let lost = sheet.lost_by_borrowing(ut.seconds, -seconds);
            ut = ut.plus(lost - seconds);
        };
        match self.given.kept {
            Kept::Standard { ahead_s, summer_s } => {
                if self.hand.keeps(LeftOut::SummerTime) {
                    off(self, Entry::SummerTime, summer_s);
                }
                if self.hand.keeps(LeftOut::Zone) {
                    let turned = self.slips_at(SlipKind::ZoneTurned, At::Sum);
                    off(self, Entry::Zone, if turned { -ahead_s } else { ahead_s });
                }
            }
            Kept::Mean => off(self, Entry::Longitude, self.longitude_s()),
            Kept::Sun => {
                if self.hand.keeps(LeftOut::EquationOfTime) {
                    let about = clock.plus(-self.longitude_s());
                    let (equation_s, taken) = self.equation_of_time(about)?;
                    takes = taken;
                    off(self, Entry::EquationOfTime, equation_s);
                }
                off(self, Entry::Longitude, self.longitude_s());
            }
        }
        lines.push(line(
            Entry::UniversalTime,
            Role::Makes,
            self.clock(ut.seconds),
        ));
        self.step(StepResult::UniversalTime, takes, lines);
        Ok(ut)
    }

    /// The equation of time at a time by the Sun at Greenwich, which is near enough to the
    /// mean time: it changes by half a minute in a day.
    fn equation_of_time(&self, about: Time) -> Result<(f64, Vec<Taken>), TableError> {
        let hour = self.hand.hour;
        let (day, gone_s) = since_hour(about, hour);
        let page = self.shelf.page(Which::EquationOfTime(day, hour))?;
        if !self.hand.has_rows {
            // At its own mean time: in two rounds it is found to the millisecond.
            let mut equation_s = 0.0;
            for _ in 0..3 {
                equation_s = self.number(&page, about.plus(-equation_s).at(hour), 0)?;
            }
            return Ok((self.span(equation_s).value() * 3600.0, Vec::new()));
        }
        let rows = [0, 1].map(|later| page.take(f64::from(day + later), 0, self.hand));
        let [Some(before), Some(behind)] = rows else {
            return Err(self.beyond());
        };
        let (from, to) = (before.cell.value(), behind.cell.value());
        let between = from + (to - from) * gone_s / DAY_S;
        let equation = self.write(Form::SignedMinutes, between);
        Ok((equation.value(), vec![before, behind]))
    }

    fn number(&self, page: &Page, at: f64, column: usize) -> Result<f64, TableError> {
        page.exact(at, column).ok_or_else(|| self.beyond())
    }

    fn beyond(&self) -> TableError {
        TableError::Year {
            year: self.given.date.year(),
            why: "the days on either side are not all in it".to_owned(),
        }
    }

    /// The sidereal time of the place, in hours.
    fn sidereal_time(&mut self, ut: Time, day: i32, gone_s: f64) -> Result<f64, TableError> {
        let days = self.shelf.page(Which::SiderealTime(day, self.hand.hour))?;
        let longitude_s = self.longitude_s();
        let (greenwich_s, takes, mut lines) = if self.hand.has_rows {
            let noon = days.take(f64::from(day), 0, self.hand);
            let noon = noon.ok_or_else(|| self.beyond())?;
            let acceleration = self.shelf.page(Which::Acceleration)?;
            let (hours, minutes) = ((gone_s / 3600.0).floor(), (gone_s % 3600.0 / 60.0).round());
            let of_hours = acceleration.take(hours, 0, self.hand);
            let of_minutes = acceleration.take(minutes / 60.0, 0, self.hand);
            let (Some(of_hours), Some(of_minutes)) = (of_hours, of_minutes) else {
                return Err(self.beyond());
            };
            let mut sum_s = noon.cell.value() * 3600.0 + gone_s;
            let mut lines = vec![
                line(Entry::SiderealAtHour, Role::Given, noon.cell),
                line(Entry::TimeGone, Role::Added, self.span(gone_s)),
            ];
            if !self.slips_at(SlipKind::AccelerationLeftOut, At::Sum) {
                sum_s += of_hours.cell.value() + of_minutes.cell.value();
                lines.extend([
                    line(Entry::AccelerationOfHours, Role::Added, of_hours.cell),
                    line(Entry::AccelerationOfMinutes, Role::Added, of_minutes.cell),
                ]);
            }
            (sum_s, vec![noon, of_hours, of_minutes], lines)
        } else {
            let hours = self.number(&days, ut.at(self.hand.hour), 0)?;
            let written = self.write(Form::ClockToSecond, hours);
            (written.value() * 3600.0, Vec::new(), Vec::new())
        };
        lines.push(line(
            Entry::SiderealAtGreenwich,
            Role::Makes,
            self.clock(greenwich_s),
        ));
        let mut sum_s = greenwich_s;
        if self.hand.keeps(LeftOut::Longitude) {
            lines.push(self.signed(Entry::Longitude, longitude_s));
            let from_s = sum_s.rem_euclid(DAY_S);
            sum_s += longitude_s + self.lost_by_borrowing(from_s, longitude_s);
        }
        let sidereal = self.clock(sum_s);
        lines.push(line(Entry::SiderealTime, Role::Makes, sidereal));
        self.step(StepResult::SiderealTime, takes, lines);
        Ok(sidereal.value())
    }

    /// The cusps that are printed, X to III.
    fn eastern_cusps(&mut self, houses: &Page, at_h: f64) -> [Option<f64>; 6] {
        let (row, past_s) = row_before(at_h);
        let lines = vec![
            line(Entry::SiderealTime, Role::Given, self.clock(at_h * 3600.0)),
            line(
                Entry::RowBefore,
                Role::TakenOff,
                self.clock(row * ROW_H * 3600.0),
            ),
            line(Entry::PastRow, Role::Makes, self.span(past_s)),
        ];
        self.step(StepResult::Rows, Vec::new(), lines);
        [
            (House::X, "midheaven_deg"),
            (House::XI, "XI"),
            (House::XII, "XII"),
            (House::I, "I"),
            (House::II, "II"),
            (House::III, "III"),
        ]
        .map(|(house, key)| self.cusp(houses, at_h, house, houses.column(key)))
    }

    fn cusp(&mut self, houses: &Page, at_h: f64, house: House, column: usize) -> Option<f64> {
        if !self.hand.has_rows {
            let exact = houses.exact(at_h, column)?;
            return Some(self.write(Form::Zodiac, exact).value());
        }
        let (row, past_s) = row_before(at_h);
        let at = At::Cusp(house);
        let row = row + self.rows_beside(at);
        let before = houses.take(row * ROW_H, column, self.hand)?;
        let behind = houses.take((row + 1.0) * ROW_H, column, self.hand)?;
        let both = (self.read(&before, at), self.read(&behind, at));
        let difference = self.difference(both, at);
        let part = self.write(Form::Degrees, difference * past_s / (ROW_H * 3600.0));
        let cusp = self.write(Form::Zodiac, self.laid_off(both, part.value(), at));
        let role = if difference < 0.0 {
            Role::TakenOff
        } else {
            Role::Added
        };
        let lines = vec![
            line(Entry::Behind, Role::Given, behind.cell),
            line(Entry::Before, Role::TakenOff, before.cell),
            line(
                Entry::Difference,
                Role::Makes,
                self.write(Form::Degrees, difference),
            ),
            line(Entry::Before, Role::Given, before.cell),
            line(
                Entry::Part,
                role,
                self.write(Form::Degrees, part.value().abs()),
            ),
            line(Entry::Found, Role::Makes, cusp),
        ];
        self.step(StepResult::Cusp(house), vec![before, behind], lines);
        Some(cusp.value())
    }

    fn all_cusps(&mut self, [x, xi, xii, i, ii, iii]: [Option<f64>; 6]) -> [Option<f64>; 12] {
        let opposite = |cusp: Option<f64>| cusp.map(|deg| (deg + 180.0).rem_euclid(360.0));
        let all = [
            i,
            ii,
            iii,
            opposite(x),
            opposite(xi),
            opposite(xii),
            opposite(i),
            opposite(ii),
            opposite(iii),
            x,
            xi,
            xii,
        ];
        let lines = [
            House::IV,
            House::V,
            House::VI,
            House::VII,
            House::VIII,
            House::IX,
        ];
        let lines: Vec<Line> = lines
            .into_iter()
            .filter_map(|house| {
                let figure = self.write(Form::Zodiac, all[house.index()]?);
                Some(line(Entry::Opposite(house), Role::Makes, figure))
            })
            .collect();
        self.step(StepResult::Opposites, Vec::new(), lines);
        all
    }

    /// The bodies' places, by diurnal logarithms from the days on either side.
    fn places(
        &mut self,
        ephemeris: &Page,
        ut: Time,
        day: i32,
        gone_s: f64,
    ) -> Result<Vec<f64>, TableError> {
        let key = |body: Body| format!("{}_longitude_deg", body.name().to_lowercase());
        if !self.hand.has_rows {
            return Body::ALL
                .iter()
                .map(|body| {
                    let column = ephemeris.column(&key(*body));
                    let exact = self.number(ephemeris, ut.at(self.hand.hour), column)?;
                    Ok(self.write(Form::Zodiac, exact).value())
                })
                .collect();
        }
        let logarithms = self.shelf.page(Which::Logarithms)?;
        let minutes = (gone_s / 60.0).round();
        let gone = logarithm(&logarithms, minutes, self.hand);
        let mut lines = vec![line(
            Entry::TimeGone,
            Role::Given,
            self.write(Form::Span, minutes / 60.0),
        )];
        lines.extend(
            gone.iter()
                .map(|taken| line(Entry::LogarithmOfTime, Role::Makes, taken.cell)),
        );
        self.step(StepResult::TimeGone, gone.iter().cloned().collect(), lines);
        let mut found = Vec::new();
        for body in Body::ALL {
            let column = ephemeris.column(&key(body));
            let time = (minutes, gone.as_ref());
            let straight = self.place(ephemeris, (body, column), day, time, &logarithms);
            let mut place = straight.ok_or_else(|| self.beyond())?;
            if body == Body::Moon && self.hand.second_difference {
                let bent = self.second_difference(ephemeris, (body, column), day, minutes, place);
                place = bent.ok_or_else(|| self.beyond())?;
            }
            found.push(place.value());
        }
        Ok(found)
    }

    /// A place by the straight line from one day to the next.
    fn place(
        &mut self,
        ephemeris: &Page,
        (body, column): (Body, usize),
        day: i32,
        (minutes, gone): (f64, Option<&Taken>),
        logarithms: &Page,
    ) -> Option<Figure> {
        let at = At::Body(body);
        let row = f64::from(day) + self.rows_beside(at);
        let before = ephemeris.take(row, column, self.hand)?;
        let behind = ephemeris.take(row + 1.0, column, self.hand)?;
        let both = (self.read(&before, at), self.read(&behind, at));
        let motion = self.difference(both, at);
        let motion_min = (motion.abs() * 60.0).round();
        let mut lines = vec![
            line(Entry::Behind, Role::Given, behind.cell),
            line(Entry::Before, Role::TakenOff, before.cell),
            line(
                Entry::Motion,
                Role::Makes,
                self.write(Form::Degrees, motion),
            ),
        ];
        let mut takes = vec![before.clone(), behind.clone()];
        // Nothing gone or nothing moved has no logarithm, and a whole day needs none.
        let part_min = match (gone, logarithm(logarithms, motion_min, self.hand)) {
            _ if minutes >= 1440.0 => motion_min,
            (Some(gone), Some(of_motion)) => {
                let sum = gone.cell.value() + of_motion.cell.value();
                let (part_min, of_part) = antilogarithm(logarithms, sum, self.hand)?;
                lines.extend([
                    line(Entry::LogarithmOfTime, Role::Given, gone.cell),
                    line(Entry::LogarithmOfMotion, Role::Added, of_motion.cell),
                    line(
                        Entry::LogarithmOfPart,
                        Role::Makes,
                        self.write(Form::Number(4), sum),
                    ),
                ]);
                takes.push(of_motion);
                takes.extend(of_part);
                part_min
            }
            _ => 0.0,
        };
        let part = part_min / 60.0 * motion.signum();
        let place = self.write(Form::Zodiac, self.laid_off(both, part, at));
        let role = if motion < 0.0 {
            Role::TakenOff
        } else {
            Role::Added
        };
        lines.extend([
            line(Entry::Before, Role::Given, before.cell),
            line(
                Entry::MotionInTime,
                role,
                self.write(Form::Degrees, part.abs()),
            ),
            line(Entry::Found, Role::Makes, place),
        ]);
        self.step(StepResult::Place(body), takes, lines);
        Some(place)
    }

    /// The same, bent by how the motion changes from the day before to the day behind.
    fn second_difference(
        &mut self,
        ephemeris: &Page,
        (body, column): (Body, usize),
        day: i32,
        minutes: f64,
        straight: Figure,
    ) -> Option<Figure> {
        let take = |later: i32| ephemeris.take(f64::from(day + later), column, self.hand);
        let rows = [take(-1)?, take(0)?, take(1)?, take(2)?];
        let motion = |one: usize| {
            let (from, to) = (rows.get(one)?, rows.get(one + 1)?);
            Some(Form::Zodiac.from_to(from.cell.value(), to.cell.value()))
        };
        let (before, behind) = (motion(0)?, motion(2)?);
        let factors = self.shelf.page(Which::SecondDifferences).ok()?;
        let quarter = (minutes / 15.0).round() / 4.0;
        let factor = factors.take(quarter, 0, self.hand)?;
        let change = behind - before;
        let bend = self.write(Form::Degrees, change * factor.cell.value());
        let place = self.write(Form::Zodiac, straight.value() - bend.value());
        let role = if bend.value() < 0.0 {
            Role::Added
        } else {
            Role::TakenOff
        };
        let degrees = |value: f64| self.write(Form::Degrees, value);
        let lines = vec![
            line(Entry::MotionBehind, Role::Given, degrees(behind)),
            line(Entry::MotionBefore, Role::TakenOff, degrees(before)),
            line(Entry::Difference, Role::Makes, degrees(change)),
            line(Entry::Factor, Role::Times, factor.cell),
            line(Entry::Bend, Role::Makes, bend),
            line(Entry::Before, Role::Given, straight),
            line(Entry::Bend, role, degrees(bend.value().abs())),
            line(Entry::Found, Role::Makes, place),
        ];
        let takes = rows.into_iter().chain([factor]).collect();
        self.step(StepResult::SecondDifference(body), takes, lines);
        Some(place)
    }

    fn fortune(&mut self, found: &Found) {
        let (Some(ascendant), Some(lot), [sun, moon, ..]) =
            (found.ascendant, found.fortune, found.bodies.as_slice())
        else {
            return;
        };
        let zodiac = |value| self.write(Form::Zodiac, value);
        let (ends, begins) = if is_day(ascendant, *sun) {
            ((Entry::Moon, *moon), (Entry::Sun, *sun))
        } else {
            ((Entry::Sun, *sun), (Entry::Moon, *moon))
        };
        let lines = vec![
            line(Entry::Ascendant, Role::Given, zodiac(ascendant)),
            line(ends.0, Role::Added, zodiac(ends.1)),
            line(begins.0, Role::TakenOff, zodiac(begins.1)),
            line(Entry::Found, Role::Makes, zodiac(lot)),
        ];
        self.step(StepResult::Fortune, Vec::new(), lines);
    }
}

/// The logarithm of minutes of time or arc; nothing has none, and a whole day that of one.
fn logarithm(logarithms: &Page, minutes: f64, hand: &Hand) -> Option<Taken> {
    if !(1.0..1440.0).contains(&minutes) {
        return None;
    }
    let column = (minutes / 60.0).floor();
    logarithms.take(minutes - column * 60.0, column as usize, hand)
}

/// The minutes whose logarithm is nearest to one, with the cell where it stands; what is
/// less than half a minute has none, and is nothing.
fn antilogarithm(logarithms: &Page, sum: f64, hand: &Hand) -> Option<(f64, Option<Taken>)> {
    // The logarithm falls from row to row by more than its last digit: the nearest cell is
    // beside where the number itself would stand.
    let about = (1440.0 / libm::pow(10.0, sum)).round();
    let off = |minutes: f64| {
        let taken = logarithm(logarithms, minutes, hand)?;
        Some(((taken.cell.value() - sum).abs(), minutes, taken))
    };
    if about < 1.0 {
        return Some((0.0, None));
    }
    let near = [about - 1.0, about, about + 1.0]
        .into_iter()
        .filter_map(off);
    let (_, minutes, taken) = near.min_by(|a, b| a.0.total_cmp(&b.0))?;
    Some((minutes, Some(taken)))
}
