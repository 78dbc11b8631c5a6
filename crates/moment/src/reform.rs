//! Where the Julian calendar was kept after October 1582, and where the year
//! began on another day than 1 January.
//!
//! Countries are those of today, by ISO 3166 code; a row that names regions (by
//! their GeoNames codes) holds for those alone. The dates of Grotefend are those
//! that the file `calendars` of the IANA time zone database quotes; statutes are
//! named from memory. Where a country's parts changed at different times, the
//! row ends with the last of them: it is only used to ask, never to convert.

use crate::{Calendar, CivilDate, Place};

struct Kept {
    countries: &'static [&'static str],
    /// Empty for the whole country.
    regions: &'static [&'static str],
    who: &'static str,
    /// The last day of the Julian calendar, by that calendar.
    until: (i32, u8, u8),
    authority: &'static str,
}

const GROTEFEND: &str = "Grotefend, Taschenbuch der Zeitrechnung, 1941, pp. 26–28";
const CALENDAR_ACT: &str = "Calendar (New Style) Act 1750, 24 Geo. II c. 23";
const SOVIET_DECREE: &str =
    "decree of the Council of People's Commissars of 24 January (6 February) 1918";

const KEPT: &[Kept] = &[
    Kept {
        countries: &[
            "GB", "IE", "GG", "JE", "IM", "BB", "BM", "JM", "AG", "KN", "MS", "BS",
        ],
        regions: &[],
        who: "Great Britain, Ireland and the colonies",
        until: (1752, 9, 2),
        authority: CALENDAR_ACT,
    },
    Kept {
        countries: &["US"],
        regions: &[
            "CT", "DE", "GA", "MA", "MD", "ME", "NC", "NH", "NJ", "NY", "PA", "RI", "SC", "VA",
            "VT", "WV",
        ],
        who: "the British colonies",
        until: (1752, 9, 2),
        authority: CALENDAR_ACT,
    },
    Kept {
        countries: &["US"],
        regions: &["AK"],
        who: "Russian America",
        until: (1867, 10, 6),
        authority: "treaty of cession, in effect 18 October 1867",
    },
    Kept {
        countries: &["CA"],
        // Newfoundland and Labrador, Nova Scotia.
        regions: &["05", "07"],
        who: "Newfoundland and Nova Scotia",
        until: (1752, 9, 2),
        authority: CALENDAR_ACT,
    },
    Kept {
        countries: &["SE", "FI", "AX"],
        regions: &[],
        who: "Sweden (with a calendar of its own, one day ahead of the Julian, from 1 March 1700 \
              to 30 February 1712)",
        until: (1753, 2, 17),
        authority: GROTEFEND,
    },
    Kept {
        countries: &["DK", "NO", "FO", "IS"],
        regions: &[],
        who: "Denmark and Norway",
        until: (1700, 2, 18),
        authority: GROTEFEND,
    },
    Kept {
        countries: &["DE"],
        regions: &[],
        who: "Protestant Germany (the Catholic states changed between 1583 and 1631)",
        until: (1700, 2, 18),
        authority: GROTEFEND,
    },
    Kept {
        countries: &["NL"],
        regions: &[],
        who: "the northern and eastern Netherlands (Holland changed in 1582)",
        until: (1700, 12, 31),
        authority: GROTEFEND,
    },
    Kept {
        countries: &["BE"],
        regions: &[],
        who: "Brabant and Flanders to 1582, the bishopric of Liège",
        until: (1583, 2, 10),
        authority: GROTEFEND,
    },
    Kept {
        countries: &["CH"],
        // Graubünden.
        regions: &["GR"],
        who: "parts of Graubünden",
        until: (1811, 12, 31),
        authority: GROTEFEND,
    },
    Kept {
        countries: &["CH"],
        regions: &["GL", "AR", "AI", "SG"],
        who: "Glarus, Appenzell and the city of St. Gallen",
        until: (1723, 12, 31),
        authority: GROTEFEND,
    },
    Kept {
        countries: &["CH"],
        regions: &[],
        who: "the Protestant cantons (the Catholic ones changed in 1584)",
        until: (1700, 12, 31),
        authority: GROTEFEND,
    },
    Kept {
        countries: &["FR"],
        // Grand Est.
        regions: &["44"],
        who: "the city of Strassburg (France changed in 1582)",
        until: (1682, 2, 5),
        authority: GROTEFEND,
    },
    Kept {
        countries: &["FR"],
        regions: &[],
        who: "France",
        until: (1582, 12, 9),
        authority: GROTEFEND,
    },
    Kept {
        countries: &["AT", "CZ"],
        regions: &[],
        who: "Austria and Bohemia",
        until: (1584, 1, 6),
        authority: GROTEFEND,
    },
    Kept {
        countries: &["PL"],
        // Warmia and Masuria, Pomerania, West Pomerania.
        regions: &["85", "82", "87"],
        who: "Pomerania and the duchy of Prussia (Danzig changed in 1582, Prussia in 1612)",
        until: (1700, 2, 18),
        authority: GROTEFEND,
    },
    Kept {
        countries: &["PL"],
        // Lower Silesia, Opole, Silesia.
        regions: &["72", "79", "83"],
        who: "Silesia",
        until: (1584, 1, 12),
        authority: GROTEFEND,
    },
    Kept {
        countries: &["HU", "SK"],
        regions: &[],
        who: "Hungary",
        until: (1587, 10, 21),
        authority: GROTEFEND,
    },
    Kept {
        countries: &[
            "RU", "BY", "UA", "EE", "LV", "LT", "GE", "AM", "AZ", "KZ", "KG", "TJ", "TM", "UZ",
        ],
        regions: &[],
        who: "the Russian Empire",
        until: (1918, 1, 31),
        authority: SOVIET_DECREE,
    },
    Kept {
        countries: &["BG"],
        regions: &[],
        who: "Bulgaria",
        until: (1916, 3, 31),
        authority: "law on the Gregorian calendar, 1916",
    },
    Kept {
        countries: &["RS", "ME", "MK", "XK"],
        regions: &[],
        who: "Serbia and Montenegro",
        until: (1919, 1, 14),
        authority: "law of the Kingdom of Serbs, Croats and Slovenes, January 1919",
    },
    Kept {
        countries: &["RO", "MD"],
        regions: &[],
        who: "Romania (Transylvania changed in 1590, Bukovina in 1584)",
        until: (1919, 3, 31),
        authority: "decree-law of March 1919",
    },
    Kept {
        countries: &["GR"],
        regions: &[],
        who: "Greece",
        until: (1923, 2, 15),
        authority: "legislative decree of January 1923",
    },
];

/// The Julian calendar kept by a place at a date.
pub(crate) struct JulianKept {
    pub(crate) who: &'static str,
    pub(crate) until: CivilDate,
    pub(crate) authority: &'static str,
}

/// Whether a place may have been keeping the Julian calendar on a date after
/// 4 October 1582, given by its year, month and day alone.
pub(crate) fn julian_kept(place: &Place, date: (i32, u8, u8)) -> Option<JulianKept> {
    let rows = KEPT.iter().filter(|row| {
        place.is_in(row.countries)
            && (row.regions.is_empty()
                || place
                    .region
                    .is_some_and(|region| row.regions.contains(&region)))
    });
    rows.filter_map(|row| {
        let (year, month, day) = row.until;
        let until = CivilDate::new(Calendar::Julian, year, month, day).ok()?;
        let number = until.julian_day_number() + 1;
        let after = CivilDate::from_julian_day_number(Calendar::Gregorian, number);
        (date < after.year_month_day()).then_some(JulianKept {
            who: row.who,
            until,
            authority: row.authority,
        })
    })
    .next()
}

struct YearBegan {
    countries: &'static [&'static str],
    /// The first and the last year of which this is said.
    years: (i32, i32),
    /// Days before this month and day, or from it on, could carry another year's
    /// number; see `early`.
    day: (u8, u8),
    /// False: the new year came after 1 January, and days before it still
    /// carried the old number. True: it came in the year before, and days from
    /// then on already carried the new one.
    early: bool,
    says: &'static str,
}

const YEAR_BEGAN: &[YearBegan] = &[
    YearBegan {
        countries: &["GB", "IE", "US", "BB", "BM", "JM", "AG", "KN", "MS", "BS"],
        years: (1155, 1752),
        day: (3, 25),
        early: false,
        says: "in England and its colonies the year began on 25 March until 1751 \
               (Calendar (New Style) Act 1750; Scotland had 1 January from 1600)",
    },
    YearBegan {
        countries: &["RU", "UA", "BY"],
        years: (1492, 1699),
        day: (9, 1),
        early: true,
        says: "in Russia the year, counted from the creation of the world, began on 1 September \
               until 1699 (ukase of 19 and 20 December 7208)",
    },
    YearBegan {
        countries: &["FR"],
        years: (987, 1567),
        day: (4, 26),
        early: false,
        says: "in France the year began at Easter in many places until 1566 (edict of Paris, \
               January 1563, old style)",
    },
    YearBegan {
        countries: &["IT"],
        years: (1000, 1797),
        day: (3, 25),
        early: false,
        says: "in Florence and Pisa the year began on 25 March until 1749, in Venice on 1 March \
               until 1797 (Grotefend, Taschenbuch der Zeitrechnung)",
    },
];

/// What to say of a date whose year may have been counted from another day.
pub(crate) fn year_began_otherwise(place: &Place, date: CivilDate) -> Option<String> {
    let (year, month, day) = date.year_month_day();
    let row = YEAR_BEGAN.iter().find(|row| {
        place.is_in(row.countries)
            && (row.years.0..=row.years.1).contains(&year)
            && ((month, day) < row.day) != row.early
    })?;
    let other = if row.early { year + 1 } else { year - 1 };
    Some(format!(
        "{}: a source of the time may give this day the year {other}; it is taken as {year} \
         counted from 1 January",
        row.says
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Country;

    #[test]
    fn every_row_is_a_date_and_names_its_authority() {
        for row in KEPT {
            let (year, month, day) = row.until;
            assert!(
                CivilDate::new(Calendar::Julian, year, month, day).is_ok(),
                "{}",
                row.who
            );
            assert!(row.until > (1582, 10, 4), "{}", row.who);
            assert!(!row.authority.is_empty(), "{}", row.who);
        }
    }

    #[test]
    fn every_row_is_of_countries_and_regions_that_exist() {
        for row in KEPT {
            for code in row.countries {
                assert!(Country::from_code(code).is_some(), "{code}");
            }
        }
        // A town of each of the regions told apart.
        for (town, asked) in [
            ("St. John's, Newfoundland and Labrador", true),
            ("Halifax, Nova Scotia", true),
            ("Toronto, Canada", false),
            ("Sitka, Alaska", true),
            ("Richmond, Virginia", true),
            ("New Orleans, US", false),
            ("Chur, Switzerland", true),
            ("Glarus, Switzerland", true),
            ("Strasbourg, France", true),
            ("Lyon, France", false),
            ("Szczecin, Poland", true),
            ("Wrocław, Poland", true),
            ("Kraków, Poland", false),
        ] {
            let place = Place::find(town).unwrap();
            assert_eq!(julian_kept(&place, (1583, 6, 1)).is_some(), asked, "{town}");
        }
    }
}
