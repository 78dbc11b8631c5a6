use figure::House;
use sky::Body;

/// A slip of the pen: what went wrong, and where on the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Slip {
    /// What went wrong.
    pub kind: SlipKind,
    /// Where.
    pub at: At,
}

/// Where on the sheet something is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum At {
    /// In the sum from the clock to the sidereal time.
    Sum,
    /// In the table of houses, for every cusp.
    Houses,
    /// In the table of houses, for one cusp of the eastern half: X to III.
    Cusp(House),
    /// In the ephemeris, for every body.
    Bodies,
    /// In the ephemeris, for one body.
    Body(Body),
    /// In the lot of Fortune.
    Fortune,
}

/// A part of the sheet: what is done there, and by whom it is used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// The sum.
    Sum,
    /// The table of houses.
    Houses,
    /// The ephemeris.
    Ephemeris,
    /// The lot.
    Fortune,
}

impl At {
    /// The cusps that a table of houses has, in its order.
    pub const CUSPS: [House; 6] = [
        House::X,
        House::XI,
        House::XII,
        House::I,
        House::II,
        House::III,
    ];

    /// The part of the sheet it belongs to.
    #[must_use]
    pub const fn part(self) -> Part {
        match self {
            At::Sum => Part::Sum,
            At::Houses | At::Cusp(_) => Part::Houses,
            At::Bodies | At::Body(_) => Part::Ephemeris,
            At::Fortune => Part::Fortune,
        }
    }

    /// Whether it is one number alone.
    #[must_use]
    pub const fn is_one(self) -> bool {
        match self {
            At::Cusp(_) | At::Body(_) | At::Fortune => true,
            At::Sum | At::Houses | At::Bodies => false,
        }
    }

    /// Whether what is done here is done there too.
    fn holds(self, there: At) -> bool {
        self == there
            || match self {
                At::Houses => there.part() == Part::Houses,
                At::Bodies => there.part() == Part::Ephemeris,
                At::Sum | At::Cusp(_) | At::Body(_) | At::Fortune => false,
            }
    }
}

/// What can go wrong with the pen (common practice).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SlipKind {
    /// Morning was taken for afternoon, or the reverse.
    HalfDay,
    /// An ephemeris of noon was worked as one of midnight, or the reverse.
    OtherHour,
    /// Summer time was left in.
    SummerTimeLeftIn,
    /// The zone was left in.
    ZoneLeftIn,
    /// The zone was put on instead of off, or the reverse.
    ZoneTurned,
    /// The longitude was left out.
    LongitudeLeftOut,
    /// The longitude was put on instead of off, or the reverse.
    LongitudeTurned,
    /// A time by the Sun was taken for mean time.
    EquationLeftOut,
    /// What sidereal time gains was left out.
    AccelerationLeftOut,
    /// The row before was taken for the right one.
    RowBefore,
    /// The row behind was taken for the right one.
    RowBehind,
    /// The row was taken as it stands.
    AsItStands,
    /// The part was counted from the wrong row.
    Backwards,
    /// The part was taken off instead of put on, or the reverse.
    PartTurned,
    /// The book was open at the next latitude north.
    LatitudeNorth,
    /// The book was open at the next latitude south.
    LatitudeSouth,
    /// Minutes were read as hundredths.
    Hundredths,
    /// A borrowed unit was taken for 100 instead of 60.
    BorrowedHundred,
    /// The lot was cast by day as by night, or the reverse.
    LotTurned,
}

impl SlipKind {
    /// All of them.
    pub const ALL: [SlipKind; 19] = [
        SlipKind::HalfDay,
        SlipKind::OtherHour,
        SlipKind::SummerTimeLeftIn,
        SlipKind::ZoneLeftIn,
        SlipKind::ZoneTurned,
        SlipKind::LongitudeLeftOut,
        SlipKind::LongitudeTurned,
        SlipKind::EquationLeftOut,
        SlipKind::AccelerationLeftOut,
        SlipKind::RowBefore,
        SlipKind::RowBehind,
        SlipKind::AsItStands,
        SlipKind::Backwards,
        SlipKind::PartTurned,
        SlipKind::LatitudeNorth,
        SlipKind::LatitudeSouth,
        SlipKind::Hundredths,
        SlipKind::BorrowedHundred,
        SlipKind::LotTurned,
    ];

    /// All of them, those made most often first (common practice in teaching).
    pub const LIKELIEST: [SlipKind; 19] = [
        SlipKind::LongitudeLeftOut,
        SlipKind::SummerTimeLeftIn,
        SlipKind::AccelerationLeftOut,
        SlipKind::ZoneLeftIn,
        SlipKind::AsItStands,
        SlipKind::PartTurned,
        SlipKind::LongitudeTurned,
        SlipKind::RowBefore,
        SlipKind::RowBehind,
        SlipKind::HalfDay,
        SlipKind::ZoneTurned,
        SlipKind::OtherHour,
        SlipKind::LotTurned,
        SlipKind::Hundredths,
        SlipKind::BorrowedHundred,
        SlipKind::LatitudeNorth,
        SlipKind::LatitudeSouth,
        SlipKind::Backwards,
        SlipKind::EquationLeftOut,
    ];

    /// Its fixed name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            SlipKind::HalfDay => "half-day",
            SlipKind::OtherHour => "other-hour",
            SlipKind::SummerTimeLeftIn => "summer-time",
            SlipKind::ZoneLeftIn => "zone",
            SlipKind::ZoneTurned => "zone-turned",
            SlipKind::LongitudeLeftOut => "longitude",
            SlipKind::LongitudeTurned => "longitude-turned",
            SlipKind::EquationLeftOut => "equation-of-time",
            SlipKind::AccelerationLeftOut => "acceleration",
            SlipKind::RowBefore => "row-before",
            SlipKind::RowBehind => "row-behind",
            SlipKind::AsItStands => "as-it-stands",
            SlipKind::Backwards => "backwards",
            SlipKind::PartTurned => "part-turned",
            SlipKind::LatitudeNorth => "latitude-north",
            SlipKind::LatitudeSouth => "latitude-south",
            SlipKind::Hundredths => "hundredths",
            SlipKind::BorrowedHundred => "borrowed-hundred",
            SlipKind::LotTurned => "lot-turned",
        }
    }

    /// The parts of the sheet in which it can happen.
    const fn parts(self) -> &'static [Part] {
        match self {
            SlipKind::HalfDay
            | SlipKind::OtherHour
            | SlipKind::SummerTimeLeftIn
            | SlipKind::ZoneLeftIn
            | SlipKind::ZoneTurned
            | SlipKind::LongitudeLeftOut
            | SlipKind::LongitudeTurned
            | SlipKind::EquationLeftOut
            | SlipKind::AccelerationLeftOut => &[Part::Sum],
            SlipKind::RowBefore
            | SlipKind::RowBehind
            | SlipKind::AsItStands
            | SlipKind::Backwards
            | SlipKind::PartTurned => &[Part::Houses, Part::Ephemeris],
            SlipKind::LatitudeNorth | SlipKind::LatitudeSouth => &[Part::Houses],
            SlipKind::Hundredths | SlipKind::BorrowedHundred => {
                &[Part::Sum, Part::Houses, Part::Ephemeris]
            }
            SlipKind::LotTurned => &[Part::Fortune],
        }
    }

    /// Whether it happens with the whole book rather than with one number.
    const fn is_of_book(self) -> bool {
        matches!(self, SlipKind::LatitudeNorth | SlipKind::LatitudeSouth)
    }
}

impl Slip {
    /// Every slip, wherever on the sheet it can happen: with all numbers of a part before
    /// it happens with one of them.
    #[must_use]
    pub fn all() -> Vec<Slip> {
        let of_kind = |kind: SlipKind| {
            let mut at = Vec::new();
            for part in kind.parts() {
                match part {
                    Part::Sum => at.push(At::Sum),
                    Part::Fortune => at.push(At::Fortune),
                    Part::Houses if kind.is_of_book() => at.push(At::Houses),
                    Part::Houses => {
                        at.push(At::Houses);
                        at.extend(At::CUSPS.map(At::Cusp));
                    }
                    Part::Ephemeris => {
                        at.push(At::Bodies);
                        at.extend(Body::ALL.map(At::Body));
                    }
                }
            }
            at.into_iter().map(move |at| Slip { kind, at })
        };
        SlipKind::ALL.into_iter().flat_map(of_kind).collect()
    }

    /// Whether it is made at a place of the sheet.
    pub(crate) fn is_made(self, kind: SlipKind, at: At) -> bool {
        self.kind == kind && self.at.holds(at)
    }
}
