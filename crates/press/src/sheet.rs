use instrument::{CalendarCircle, DateFrom, DayStrokes, HourLines, Instrument, Letters};

use crate::manifest::Manifest;

/// A paragraph of the sheet that goes with a set.
#[derive(Clone, Debug, PartialEq)]
pub enum Paragraph {
    /// The title.
    Title(String),
    /// A heading.
    Heading(String),
    /// Running text.
    Text(String),
    /// A line of a list.
    Point(String),
}

/// The sheet on the parts, on making, checking and use, with its cautions.
pub(crate) fn sheet(instrument: &Instrument, manifest: &Manifest) -> Vec<Paragraph> {
    use Paragraph::{Heading, Point, Text, Title};
    let specification = instrument.specification();
    let fits = &specification.fits;
    let heading = |text: &str| Heading(text.to_owned());
    let text = |text: &str| Text(text.to_owned());
    let point = |text: &str| Point(text.to_owned());
    let mut page = vec![
        Title(specification.name.clone()),
        Text(format!(
            "An astrolabe of {} mm for the {}ern hemisphere, {}. Stars for the year {:.0}, \
             obliquity {:.4}°. {}",
            specification.diameter.mm(),
            specification.hemisphere.name(),
            specification.top.name(),
            specification.epoch_year,
            specification.obliquity.deg(),
            if manifest.calculated.is_empty() {
                String::new()
            } else {
                format!("Calculated {}.", manifest.calculated)
            }
        )),
        heading("Cautions"),
        point(
            "Never sight the Sun directly: let its light fall through the pinnules onto the \
             other one, or onto your hand.",
        ),
        point("Laser, saw and engraving: follow the machine's own safety rules, and ventilate."),
        point(
            "Break every edge of cut metal before the parts are handled; the pointers are sharp.",
        ),
        heading("Parts"),
    ];
    page.extend(manifest.pieces.iter().map(|piece| {
        let sheet = if piece.thickness_mm > 0.0 {
            format!(", sheet {:.2} mm", piece.thickness_mm)
        } else {
            String::new()
        };
        Point(format!(
            "{} × {}: {}; {:.1} × {:.1} mm{sheet}; cut {:.0} mm, engraved {:.0} mm, scored {:.0} mm",
            piece.count,
            piece.name,
            piece.title,
            piece.width_mm,
            piece.height_mm,
            piece.layers.cut_mm,
            piece.layers.engrave_mm,
            piece.layers.score_mm,
        ))
    }));
    let division = &manifest.divisions;
    page.extend([
        heading("What the size leaves out"),
        Text(format!(
            "No two lines stand closer than {:.2} mm, and the rete is nowhere thinner than \
             {:.2} mm (parts.least_gap_mm, parts.least_width_mm). What follows could be finer \
             on a larger piece; the key named with it, in the specification, overrules it.",
            division.least_gap_mm, division.least_width_mm,
        )),
    ]);
    page.extend(manifest.thinned().map(|(piece, one)| {
        Point(format!(
            "{piece}: {}: {} ({})",
            one.what, one.shown, one.key
        ))
    }));
    page.push(Text(format!("Stars: {}.", manifest.stars.join(", "))));
    for (why, key, stars) in manifest.stars_without() {
        let overruled = key.map_or(String::new(), |key| format!(" ({key})"));
        page.push(Text(format!(
            "Without a pointer, because each {why}{overruled}: {}.",
            stars.join(", ")
        )));
    }
    page.extend([
        heading("Files"),
        Text(format!(
            "One unit is one millimetre. The layers are cut, engrave, score and guide; guide is \
             not made. {} Letters are {}.",
            if fits.kerf.mm() > 0.0 {
                format!(
                    "In SVG and DXF every edge to be cut is let out by half of the cut's breadth \
                     of {:.2} mm; PDF and pictures show the true size.",
                    fits.kerf.mm()
                )
            } else {
                "Nothing is allowed for the breadth of the cut (fits.kerf_mm).".to_owned()
            },
            match specification.parts.letters {
                Letters::Serif => "outlines to be filled",
                Letters::SingleStroke => "single strokes",
            }
        )),
        heading("Putting it together"),
        point(
            "Fix the limb (mater) on the back, face outwards, thrones together; the back's \
             engraving looks the other way. Glue, rivet or solder them.",
        ),
        Text(format!(
            "The plates lie in the opening, their tongue in the notch below; each has {:.2} mm \
             of room all round, and so has the pin in its holes. If the opening is too shallow \
             for all plates, put rings of the limb's shape between limb and back.",
            fits.tolerance.mm()
        )),
        point("Over the plates the rete, over the rete the rule; on the back the alidade."),
        point(
            "Push the pin through from behind and the wedge through its slot in front; it holds \
             everything together and should let the rete turn with a light drag.",
        ),
        point("Put the pinnules into the alidade's slots, both with the small hole at one height."),
        heading("Checking"),
        point("On the printed sheets the check line must measure 100 mm."),
        point(
            "Lay a straight edge across the limb at 0° and 180°, then at 90° and 270°: both must \
             pass through the middle of the pin's hole.",
        ),
        point(
            "Turn the rete: the first points of the solstices must touch the tropics, and 0° \
             Aries and 0° Libra must cross the equator on the east-west line.",
        ),
        point(
            "The horizon must cross the equator where the prime vertical does, at 90° from the \
             meridian.",
        ),
        point("Hang it up: the line from 0° to 0° of the altitude scale must be level."),
        heading("Use"),
        Text(match specification.date_from {
            DateFrom::EqualDayRing => {
                "The rete has a ring of equal days: set the date to local mean time; the \
                 equation of time must not be applied."
                    .to_owned()
            }
            DateFrom::TrueSunRing => {
                "The rete has a ring divided by the true Sun: set the date to local apparent time."
                    .to_owned()
            }
            DateFrom::Zodiac | DateFrom::Given => {
                "Take the Sun's degree from the calendar of the back and set it to local apparent \
                 time: clock time less summer time, four minutes for each degree of longitude \
                 from the zone's meridian, and the equation of time from its curve."
                    .to_owned()
            }
        }),
        Text(format!(
            "The calendar is {} and made for {}; a stroke stands for the {} of its day. The \
             unequal-hour lines are {}.",
            match specification.parts.calendar_circle {
                CalendarCircle::Concentric => "concentric",
                CalendarCircle::Eccentric => "eccentric",
            },
            specification.date_scale.year,
            match specification.date_scale.strokes {
                DayStrokes::Begin => "beginning",
                DayStrokes::Noon => "noon",
                DayStrokes::End => "end",
            },
            match specification.hour_lines {
                HourLines::Arcs => "circular arcs through three points, as is customary",
                HourLines::Curves => "the true curves",
            }
        )),
        text(
            "The quadrant of unequal hours on the back holds exactly at the equinoxes and on the \
             equator, and elsewhere as an approximation.",
        ),
    ]);
    page
}

/// The sheet as plain text, in lines of 80 characters.
pub(crate) fn plain(paragraphs: &[Paragraph]) -> String {
    const LINE: usize = 80;
    let mut out = String::new();
    for paragraph in paragraphs {
        let (first, rest, text) = match paragraph {
            Paragraph::Title(text) => {
                out.push_str(text);
                out.push('\n');
                out.push_str(&"=".repeat(text.chars().count()));
                out.push_str("\n\n");
                continue;
            }
            Paragraph::Heading(text) => {
                out.push('\n');
                out.push_str(text);
                out.push('\n');
                out.push_str(&"-".repeat(text.chars().count()));
                out.push('\n');
                continue;
            }
            Paragraph::Text(text) => ("", "", text),
            Paragraph::Point(text) => ("- ", "  ", text),
        };
        let mut line = first.to_owned();
        for word in text.split_whitespace() {
            let long = line.chars().count() + word.chars().count() + 1 > LINE;
            if long && line.trim_start_matches(['-', ' ']).chars().count() > 0 {
                out.push_str(line.trim_end());
                out.push('\n');
                line = rest.to_owned();
            }
            line.push_str(word);
            line.push(' ');
        }
        out.push_str(line.trim_end());
        out.push('\n');
    }
    out
}
