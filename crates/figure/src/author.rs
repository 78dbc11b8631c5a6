use crate::{
    AccidentPoints, BeamLimits, Border, Choices, DignityTables, LotsByNight, OrbTable, Points,
    ReceptionRule, TermTable, TriplicityTable,
};

/// An author whose rules are taken together, so that no figure is finished by a mixture
/// of books unawares.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum Author {
    /// Ptolemy, Tetrabiblos (2nd century).
    Ptolemy,
    /// Al-Qabīṣī (Alcabitius), Introduction to Astrology (10th century; from memory).
    Alqabisi,
    /// Guido Bonatti, Liber astronomiae (13th century; from memory), who follows
    /// al-Qabīṣī in all that stands here.
    Bonatti,
    /// William Lilly, Christian Astrology (1647).
    #[default]
    Lilly,
}

/// A rule of a set, as an author has it and as a figure was finished.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SetRule {
    /// What it rules.
    pub rule: &'static str,
    /// The author's own choice; none where the book is silent.
    pub own: Option<&'static str>,
    /// What was taken.
    pub taken: &'static str,
}

/// What an author says; none of what the book is silent about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct AuthorRules {
    /// Where houses begin to count.
    pub border: Option<Border>,
    /// The terms.
    pub terms: Option<TermTable>,
    /// The triplicities.
    pub triplicities: Option<TriplicityTable>,
    /// The points of essential dignities.
    pub points: Option<Points>,
    /// What mutual reception counts.
    pub receptions: Option<ReceptionRule>,
    /// The orbs.
    pub orbs: Option<OrbTable>,
    /// The limits of the Sun's beams.
    pub beams: Option<BeamLimits>,
    /// Lots by night.
    pub by_night: Option<LotsByNight>,
    /// The points of accidental dignities.
    pub accidents: Option<AccidentPoints>,
}

impl Author {
    /// All of them, the oldest first.
    pub const ALL: [Author; 4] = [
        Author::Ptolemy,
        Author::Alqabisi,
        Author::Bonatti,
        Author::Lilly,
    ];

    /// `ptolemy`, `alqabisi`, `bonatti` or `lilly`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Author::Ptolemy => "ptolemy",
            Author::Alqabisi => "alqabisi",
            Author::Bonatti => "bonatti",
            Author::Lilly => "lilly",
        }
    }

    /// As it is said.
    #[must_use]
    pub const fn said(self) -> &'static str {
        match self {
            Author::Ptolemy => "Ptolemy",
            Author::Alqabisi => "al-Qabīṣī",
            Author::Bonatti => "Bonatti",
            Author::Lilly => "Lilly",
        }
    }

    /// The book.
    #[must_use]
    pub const fn source(self) -> &'static str {
        match self {
            Author::Ptolemy => "Ptolemy, Tetrabiblos",
            Author::Alqabisi => "al-Qabīṣī, Introduction to Astrology (from memory)",
            Author::Bonatti => "Bonatti, Liber astronomiae (from memory)",
            Author::Lilly => "Lilly, Christian Astrology (1647)",
        }
    }

    /// What the author says of each rule.
    #[must_use]
    pub const fn rules(self) -> AuthorRules {
        match self {
            Author::Ptolemy => AuthorRules {
                border: Some(Border::FiveDegrees),
                terms: Some(TermTable::Ptolemy),
                triplicities: Some(TriplicityTable::Ptolemy),
                points: Some(Points::Ptolemy),
                receptions: Some(ReceptionRule::LeftOut),
                orbs: None,
                beams: None,
                by_night: Some(LotsByNight::Unchanged),
                accidents: None,
            },
            Author::Alqabisi | Author::Bonatti => AuthorRules {
                border: None,
                terms: Some(TermTable::Egyptian),
                triplicities: Some(TriplicityTable::Dorotheus),
                points: Some(Points::Alqabisi),
                receptions: Some(ReceptionRule::LeftOut),
                orbs: Some(OrbTable::Biruni),
                beams: None,
                by_night: Some(LotsByNight::AsListed),
                accidents: None,
            },
            Author::Lilly => AuthorRules {
                border: Some(Border::FiveDegrees),
                terms: Some(TermTable::Lilly),
                triplicities: Some(TriplicityTable::Lilly),
                points: Some(Points::Lilly),
                receptions: Some(ReceptionRule::Counted),
                orbs: Some(OrbTable::Lilly),
                beams: Some(BeamLimits::Lilly),
                by_night: Some(LotsByNight::Unchanged),
                accidents: Some(AccidentPoints::Lilly),
            },
        }
    }

    /// The author's rules, and the usual ones where the book is silent.
    #[must_use]
    pub fn choices(self) -> Choices {
        let rules = self.rules();
        Choices {
            border: rules.border.unwrap_or_default(),
            dignities: DignityTables {
                terms: rules.terms.unwrap_or_default(),
                triplicities: rules.triplicities.unwrap_or_default(),
                points: rules.points.unwrap_or_default(),
                receptions: rules.receptions.unwrap_or_default(),
            },
            orbs: rules.orbs.unwrap_or_default(),
            beams: rules.beams.unwrap_or_default(),
            by_night: rules.by_night.unwrap_or_default(),
            accidents: rules.accidents.unwrap_or_default(),
            ..Choices::default()
        }
    }

    /// How some choices part from the author's, and what was taken where the book is
    /// silent. Empty when nothing is mixed.
    #[must_use]
    pub fn mixed_with(self, choices: &Choices) -> Vec<SetRule> {
        let own = self.rules();
        let tables = choices.dignities;
        let rule = |rule, own: Option<&'static str>, taken| SetRule { rule, own, taken };
        let all = [
            rule(
                "border",
                own.border.map(Border::name),
                choices.border.name(),
            ),
            rule("terms", own.terms.map(TermTable::name), tables.terms.name()),
            rule(
                "triplicities",
                own.triplicities.map(TriplicityTable::name),
                tables.triplicities.name(),
            ),
            rule("points", own.points.map(Points::name), tables.points.name()),
            rule(
                "receptions",
                own.receptions.map(ReceptionRule::name),
                tables.receptions.name(),
            ),
            rule("orbs", own.orbs.map(OrbTable::name), choices.orbs.name()),
            rule(
                "beams",
                own.beams.map(BeamLimits::name),
                choices.beams.name(),
            ),
            rule(
                "lots by night",
                own.by_night.map(LotsByNight::name),
                choices.by_night.name(),
            ),
            rule(
                "accidents",
                own.accidents.map(AccidentPoints::name),
                choices.accidents.name(),
            ),
        ];
        all.into_iter()
            .filter(|one| one.own != Some(one.taken))
            .collect()
    }
}
