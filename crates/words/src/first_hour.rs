/// A section of the first hour with an instrument.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Section {
    /// Its title.
    pub title: &'static str,
    /// Its paragraphs.
    pub paragraphs: &'static [&'static str],
}

/// Lesson nought: what one knows before anything is worked. It names what the glossary
/// explains. How altitudes are taken is common practice.
pub const FIRST_HOUR: &[Section] = &[
    Section {
        title: "The parts",
        paragraphs: &[
            "Lay the instrument on the table with the throne, the piece with the ring, away from you. The thick disc is the mater; its raised rim is the limb. In its hollow lies a plate, engraved with the sky over one latitude; over that turns the rete, the pierced map of the stars; over all turns the rule. Turn it round: on the back turns the alidade, with a pinnule, a small upright plate with a hole, at each end. Through the middle goes the pin, and through the pin the wedge.",
            "Take the wedge out, and everything comes off. Put it together again: plate, rete, rule on the front; alidade on the back; pin, wedge. The plate has a notch or a tooth that keeps it from turning.",
            "The rule may have two ends that look alike. The one that is read reaches over the limb, and its edge runs through the centre of the pin. Where both ends reach the limb, mark one with a thread, and always read that one.",
        ],
    },
    Section {
        title: "What each circle is",
        paragraphs: &[
            "The limb is the day. Its hours, outside, are numbered I to XII twice, or 1 to 24: so each numeral of the first kind stands there twice, once for the morning and once for the evening. Noon is at the top or at the bottom; east is where the morning is. The degrees, inside, run once round from noon: fifteen to an hour, four minutes of time to each.",
            "On the plate the middle is the pole of the sky, and the three circles about it are the tropics and the equator. The upright line is the meridian: noon half, midnight half. The strongest curve is the horizon: its half in the east is where things rise, its half in the west where they set. Inside it, above it in the sky, run the almucantars, the circles of equal height, closer and closer about the zenith, the point overhead; across them run the azimuth lines, the directions. Below the horizon stand the lines of the unequal hours.",
            "On the rete the ring off the centre is the ecliptic, the Sun's path through the twelve signs. Its outer edge is read. The thorns are stars: the very tip counts. Turn the rete slowly with the hours: you see the stars and the Sun's path rise in the east, pass the meridian and set in the west. Once round is a day.",
            "On the back, from outside in: heights, the zodiac, the calendar. The alidade laid over a date shows the Sun's degree for that day beside it, under the same end.",
        ],
    },
    Section {
        title: "How it is held",
        paragraphs: &[
            "On the table it lies with the throne away from you. For sighting it hangs: put your thumb, or a loop of cord, through the ring, hold the arm out so that the instrument hangs free at the height of your eyes, and wait until it is still. What you do not hold cannot be crooked: do not steady the disc with the other hand, only move the alidade.",
            "For sighting the back looks towards you, the disc stands edge on to what you sight, and what you sight is on your left.",
        ],
    },
    Section {
        title: "An altitude of the Sun, safely",
        paragraphs: &[
            "Never look at the Sun, neither through the pinnules nor past them: it burns the eye before it hurts. Look at the light and the shadow only.",
            "With pinnules: let the instrument hang with its edge towards the Sun, so that it throws a shadow no broader than itself. Turn the alidade, the upper end towards the Sun, until the shadow of the upper pinnule covers the lower one and the spot of light from the hole of the upper one falls on the hole of the lower. Now read the height on the altitude scale under the line of the alidade, at the upper end, on the left: degrees counted up from the level line. It is the line through the centre that counts, not the bar's side.",
            "Without pinnules: hold a sheet of paper upright behind the lower end, so that the shadow of the alidade falls on it. Turn the alidade until its shadow is as thin as the bar itself: then the bar points at the Sun. Read as before.",
            "Take it three times, letting the instrument go and hang again each time, and take the mean: add the three, divide by three. If one is more than a degree from the others, take a fourth and leave that one out. Note the time of the middle one, and whether it was forenoon or afternoon: the height alone does not say.",
        ],
    },
    Section {
        title: "Finding a star",
        paragraphs: &[
            "Choose a pointer of the rete whose star you know in the sky, one that stands neither low nor near the meridian. If you know none yet, set the instrument for the hour first: the rule on the hour, the Sun's degree under it. The pointer then stands among the almucantars and azimuth lines where its star stands in the sky: so high, in that direction. Set the alidade to that height, hang the instrument up, turn yourself to that direction, and look along it: the bright star that passes through both pinnules is the one.",
            "To take its height, bring your eye to the lower pinnule, on the right, and turn the alidade until the star is seen through both holes. With small holes look along the edge of the pinnules first. Read as for the Sun; three times, and the mean. Note whether the star stood in the east or in the west.",
        ],
    },
    Section {
        title: "What you can do now",
        paragraphs: &[
            "With a date, the back gives the Sun's degree. With a height, the front gives the hour; with the hour, it gives the ascendant, the rising sign and its degree: where the outer edge of the ecliptic crosses the eastern half of the horizon. That is what the next lessons do, step by step.",
        ],
    },
];

#[cfg(test)]
mod tests {
    use super::FIRST_HOUR;

    /// Whoever reads of sighting the Sun has been warned before.
    #[test]
    fn the_warning_stands_first() {
        for section in FIRST_HOUR {
            let sun = section.title.contains("Sun");
            let first = section.paragraphs.first().copied().unwrap_or("");
            assert!(
                !sun || first.starts_with("Never look at the Sun"),
                "{first}"
            );
        }
    }
}
