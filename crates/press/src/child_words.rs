//! What a class of ten-year-olds is told when it makes an astrolabe of card. A test holds the
//! length of its sentences and how hard they are to read.

/// What is done, a picture each, in order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Making {
    Print,
    Join,
    Net,
    Glue,
    Opening,
    Outlines,
    Together,
    Plate,
    NetEdge,
    Bars,
    Fold,
    Holes,
    Stack,
    Pin,
    Thread,
}

impl Making {
    /// The steps of a set, of which some parts may be larger than a page.
    pub(crate) fn steps(has_tiles: bool) -> impl Iterator<Item = Making> {
        let all = [
            Making::Print,
            Making::Join,
            Making::Net,
            Making::Glue,
            Making::Opening,
            Making::Outlines,
            Making::Together,
            Making::Plate,
            Making::NetEdge,
            Making::Bars,
            Making::Fold,
            Making::Holes,
            Making::Stack,
            Making::Pin,
            Making::Thread,
        ];
        all.into_iter()
            .filter(move |step| has_tiles || *step != Making::Join)
    }

    /// Whether an adult does it.
    pub(crate) fn by_an_adult(self) -> bool {
        match self {
            Making::Net | Making::Opening | Making::Holes | Making::Pin => true,
            Making::Print
            | Making::Join
            | Making::Glue
            | Making::Outlines
            | Making::Together
            | Making::Plate
            | Making::NetEdge
            | Making::Bars
            | Making::Fold
            | Making::Stack
            | Making::Thread => false,
        }
    }

    pub(crate) fn words(self) -> &'static str {
        match self {
            Making::Print => "Print all the pages at 100 %. The test line must be 10 cm long.",
            Making::Join => "Some parts fill more than one page. Tape their pages cross on cross.",
            Making::Net => {
                "Print the star net on the clear sheet. Use a sheet made for your printer."
            }
            Making::Glue => "Glue the ring on one card. Glue the back on the other card.",
            Making::Opening => {
                "Cut out the grey middle of the ring. Work from the middle to the edge."
            }
            Making::Outlines => "Cut out the ring and the back. Cut along the thick line.",
            Making::Together => {
                "Glue the ring on the back. The print is on the outside. The tops meet."
            }
            Making::Plate => {
                "Pick the plate for where you live. Cut it out. Keep its small tongue."
            }
            Making::NetEdge => "Cut out the star net. Just cut along its round edge.",
            Making::Bars => "Cut out the rule, the long bar and the two flaps.",
            Making::Fold => {
                "Fold each flap on the dashed line. Glue its foot on the dashed square."
            }
            Making::Holes => "Make a hole in the middle of each part. Put a cork under it.",
            Making::Stack => "Stack the parts like this. The tongue fits in the gap of the ring.",
            Making::Pin => {
                "Push the pin through all the parts. Bend its legs flat. Tape them down."
            }
            Making::Thread => "Tie the string to the hole at the top. Now it can hang.",
        }
    }
}

/// What stands beside a step that an adult does.
pub(crate) const ADULT: [&str; 2] = ["An adult", "does this"];
pub(crate) const SIGN: &str = "This sign is on each step for an adult.";
pub(crate) const TITLE: &str = "Make your own astrolabe";
pub(crate) const OPENING: &str = "An astrolabe is an old tool for the sky. It shows the Sun, the \
     stars and the time of day. Now you will make one of card.";
pub(crate) const NEEDED: &str = "You need";
pub(crate) const CAUTIONS_HEAD: &str = "Take care";
pub(crate) const CAUTIONS: [&str; 5] = [
    "Never look at the Sun, not even through the small holes. It hurts your eyes.",
    "Knife and awl are for adults only. Cut on a mat. Cut away from your hand.",
    "The legs of the pin are sharp. Bend them flat and tape them down.",
    "Keep pins and bits of card away from small children.",
    "Tidy up the knife and the awl when you are done.",
];
pub(crate) const CHECK_HEAD: &str = "Does it work?";
/// The first check, which holds for any latitude; the sign of spring is put for the gap.
pub(crate) const EQUINOX: [&str; 3] = [
    "1  Turn the star net. Put the start of {} on the horizon, as in the picture.",
    "Lay the rule on that point. Read the time on the ring.",
    "It must be 6 o’clock in the morning. Day and night are the same length then.",
];
/// The second; the longest day's sign is put for the gap.
pub(crate) const SOLSTICE: [&str; 2] = [
    "2  Now put the start of {} there. Lay the rule on it. This is the longest day.",
    "The Sun rises at the time in this list:",
];
pub(crate) const TODAY: [&str; 5] = [
    "3  Find today on the back. Lay the long bar on it. Read the sign and the degree.",
    "Put that degree on the horizon. Lay the rule on it. Write down the time.",
    "Look up when the Sun rises where you live. Is it summer time? Take off one hour.",
    "Are the two times less than an hour apart? Then it works! A clock is not the Sun.",
    "My astrolabe says: ________    I looked up: ________",
];
/// To whoever is with the class; not for children, and not counted with their words.
pub(crate) const FOR_ADULTS_HEAD: &str = "For the adult";
pub(crate) const FOR_ADULTS: &str = "The astrolabe shows the Sun’s own time. A clock differs from \
     it by four minutes for each degree from the middle of its zone, by up to a quarter of an hour \
     through the year (the equation of time), by summer time, and sunrise as it is seen comes some \
     minutes early by refraction. Where the zone’s middle is far off, an hour may not be enough: \
     count it out beforehand. Mind the age limits on glue and pins, wear eye protection where your \
     school asks for it, and follow its rules for knives.";

#[cfg(test)]
mod tests {
    use super::*;

    /// Syllables: groups of vowels, without a silent e at the end; a number is one.
    fn syllables(word: &str) -> usize {
        let word: String = word
            .to_lowercase()
            .chars()
            .filter(|c| c.is_alphabetic())
            .collect();
        let is_vowel = |c: char| "aeiouy".contains(c);
        let letters: Vec<char> = word.chars().collect();
        let mut count = 0;
        for (n, c) in letters.iter().enumerate() {
            if is_vowel(*c) && (n == 0 || !is_vowel(letters[n - 1])) {
                count += 1;
            }
        }
        if word.ends_with('e') && !word.ends_with("le") && count > 1 {
            count -= 1;
        }
        count.max(1)
    }

    fn sentences() -> Vec<String> {
        let mut all: Vec<&str> = vec![OPENING];
        all.extend(Making::steps(true).map(Making::words));
        all.extend(CAUTIONS);
        all.extend(EQUINOX);
        all.extend(SOLSTICE);
        all.extend(&TODAY[..4]);
        let joined = all.join(" ").replace("{}", "Cancer");
        let ends = joined.split_inclusive(['.', '?', '!', ':']);
        ends.map(|one| one.trim().to_owned())
            .filter(|one| one.chars().any(char::is_alphabetic))
            .collect()
    }

    /// The grade of Kincaid, Fishburne, Rogers and Chissom, Derivation of New Readability
    /// Formulas for Navy Enlisted Personnel, Research Branch Report 8-75 (1975):
    /// 0.39 words a sentence + 11.8 syllables a word − 15.59. Ten-year-olds are in the fifth.
    fn grade(sentences: &[String]) -> f64 {
        let words = || sentences.iter().flat_map(|one| one.split_whitespace());
        let count = f64::from(u32::try_from(words().count()).unwrap());
        let said = f64::from(u32::try_from(words().map(syllables).sum::<usize>()).unwrap());
        let long = f64::from(u32::try_from(sentences.len()).unwrap());
        0.39 * count / long + 11.8 * said / count - 15.59
    }

    #[test]
    fn a_ten_year_old_can_read_it() {
        let all = sentences();
        assert!(all.len() > 60, "{}", all.len());
        for one in &all {
            let words = one.split_whitespace().count();
            assert!(words <= 14, "{words} words: {one}");
        }
        let grade = grade(&all);
        assert!((0.0..=3.0).contains(&grade), "grade {grade}");
    }

    /// The formula on a line whose syllables can be counted by hand: 6 words, 6 syllables,
    /// one sentence: 0.39 × 6 + 11.8 − 15.59 = −1.45.
    #[test]
    fn the_grade_is_the_formula_s() {
        let one = ["The cat sat on the mat.".to_owned()];
        assert!((grade(&one) + 1.45).abs() < 1e-9);
        for (word, count) in [
            ("astrolabe", 3),
            ("horizon", 3),
            ("middle", 2),
            ("tape", 1),
            ("o’clock", 2),
        ] {
            assert_eq!(syllables(word), count, "{word}");
        }
    }
}
