//! The names of the months and the signs in the languages in which they are engraved.

/// A language of the names that are engraved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Language {
    /// Latin.
    Latin,
    /// English.
    English,
    /// French.
    French,
    /// German.
    German,
    /// Italian.
    Italian,
    /// Portuguese, as it is written in Portugal.
    Portuguese,
    /// Spanish.
    Spanish,
}

type Names = [&'static str; 12];

impl Language {
    /// All of them.
    pub const ALL: [Language; 7] = [
        Language::Latin,
        Language::English,
        Language::French,
        Language::German,
        Language::Italian,
        Language::Portuguese,
        Language::Spanish,
    ];

    /// Its name in a specification.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Language::Latin => "latin",
            Language::English => "english",
            Language::French => "french",
            Language::German => "german",
            Language::Italian => "italian",
            Language::Portuguese => "portuguese",
            Language::Spanish => "spanish",
        }
    }

    /// The months, from January.
    ///
    /// The living languages as calendars print them, with a capital (common practice; from
    /// memory); Latin as the dictionaries have them (Lewis and Short, *A Latin Dictionary*,
    /// 1879; from memory).
    #[must_use]
    pub fn months(self) -> &'static Names {
        match self {
            Language::Latin => &[
                "Ianuarius",
                "Februarius",
                "Martius",
                "Aprilis",
                "Maius",
                "Iunius",
                "Iulius",
                "Augustus",
                "September",
                "October",
                "November",
                "December",
            ],
            Language::English => &[
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
            ],
            Language::French => &[
                "Janvier",
                "Février",
                "Mars",
                "Avril",
                "Mai",
                "Juin",
                "Juillet",
                "Août",
                "Septembre",
                "Octobre",
                "Novembre",
                "Décembre",
            ],
            Language::German => &[
                "Januar",
                "Februar",
                "März",
                "April",
                "Mai",
                "Juni",
                "Juli",
                "August",
                "September",
                "Oktober",
                "November",
                "Dezember",
            ],
            Language::Italian => &[
                "Gennaio",
                "Febbraio",
                "Marzo",
                "Aprile",
                "Maggio",
                "Giugno",
                "Luglio",
                "Agosto",
                "Settembre",
                "Ottobre",
                "Novembre",
                "Dicembre",
            ],
            Language::Portuguese => &[
                "Janeiro",
                "Fevereiro",
                "Março",
                "Abril",
                "Maio",
                "Junho",
                "Julho",
                "Agosto",
                "Setembro",
                "Outubro",
                "Novembro",
                "Dezembro",
            ],
            Language::Spanish => &[
                "Enero",
                "Febrero",
                "Marzo",
                "Abril",
                "Mayo",
                "Junio",
                "Julio",
                "Agosto",
                "Septiembre",
                "Octubre",
                "Noviembre",
                "Diciembre",
            ],
        }
    }

    /// As many of a month's first letters as tell it from the others, three at least: January
    /// is 1.
    #[must_use]
    pub fn short_month(self, month: u8) -> String {
        let months = self.months();
        let name = months
            .get(usize::from(month.saturating_sub(1)))
            .copied()
            .unwrap_or_default();
        crate::form::told_apart(name, months, 3)
    }

    /// The signs, from Aries: the words in everyday use (common practice; from memory).
    #[must_use]
    pub fn signs(self) -> &'static Names {
        match self {
            Language::Latin => &[
                "Aries",
                "Taurus",
                "Gemini",
                "Cancer",
                "Leo",
                "Virgo",
                "Libra",
                "Scorpio",
                "Sagittarius",
                "Capricornus",
                "Aquarius",
                "Pisces",
            ],
            Language::English => &[
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
            ],
            Language::French => &[
                "Bélier",
                "Taureau",
                "Gémeaux",
                "Cancer",
                "Lion",
                "Vierge",
                "Balance",
                "Scorpion",
                "Sagittaire",
                "Capricorne",
                "Verseau",
                "Poissons",
            ],
            Language::German => &[
                "Widder",
                "Stier",
                "Zwillinge",
                "Krebs",
                "Löwe",
                "Jungfrau",
                "Waage",
                "Skorpion",
                "Schütze",
                "Steinbock",
                "Wassermann",
                "Fische",
            ],
            Language::Italian => &[
                "Ariete",
                "Toro",
                "Gemelli",
                "Cancro",
                "Leone",
                "Vergine",
                "Bilancia",
                "Scorpione",
                "Sagittario",
                "Capricorno",
                "Acquario",
                "Pesci",
            ],
            Language::Portuguese => &[
                "Carneiro",
                "Touro",
                "Gémeos",
                "Caranguejo",
                "Leão",
                "Virgem",
                "Balança",
                "Escorpião",
                "Sagitário",
                "Capricórnio",
                "Aquário",
                "Peixes",
            ],
            Language::Spanish => &[
                "Aries",
                "Tauro",
                "Géminis",
                "Cáncer",
                "Leo",
                "Virgo",
                "Libra",
                "Escorpio",
                "Sagitario",
                "Capricornio",
                "Acuario",
                "Piscis",
            ],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Three or four letters are engraved where a month has no room.
    #[test]
    fn no_two_names_are_alike() {
        for language in Language::ALL {
            for names in [language.months(), language.signs()] {
                let mut sorted = names.to_vec();
                sorted.sort_unstable();
                sorted.dedup();
                assert_eq!(sorted.len(), 12, "{}", language.name());
            }
            let mut short: Vec<String> = (1..=12).map(|n| language.short_month(n)).collect();
            assert!(short.iter().all(|name| name.chars().count() <= 4));
            short.sort_unstable();
            short.dedup();
            assert_eq!(short.len(), 12, "{}", language.name());
        }
    }
}
