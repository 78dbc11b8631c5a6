use instrument::{CalendarCircle, DateFrom, DayStrokes, HourLines, Instrument, Letters};

use crate::code::Code;
use crate::manifest::{
    CuttingEntry, Manifest, PieceTotals, PlateErrorRow, PointerEntry, SheetEntry, SolidEntry,
    StackEntry,
};
use crate::materials::{MaterialPart, MaterialTotals, MaterialsEntry};

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
    /// A table.
    Table(Columns),
    /// A code for telephones.
    Code(Code),
}

/// A table: what stands over its columns, and its rows.
#[derive(Clone, Debug, PartialEq)]
pub struct Columns {
    /// What stands over each column.
    pub head: Vec<String>,
    /// A text for each column.
    pub rows: Vec<Vec<String>>,
}

/// The code by which the page shows how the instrument is set, and what it is for.
pub(crate) fn linked(code: Option<&Code>) -> Vec<Paragraph> {
    let Some(code) = code else {
        return Vec::new();
    };
    vec![
        Paragraph::Heading("How it is set now".to_owned()),
        Paragraph::Text(
            "Hold a telephone to the code: the page shows how this instrument is set for the \
             moment, and what is read on it then."
                .to_owned(),
        ),
        Paragraph::Code(code.clone()),
    ]
}

/// The sheet on the parts, on making, checking and use, with its cautions.
pub(crate) fn sheet(instrument: &Instrument, manifest: &Manifest) -> Vec<Paragraph> {
    use Paragraph::{Heading, Point, Text, Title};
    let specification = instrument.specification();
    let fits = &specification.fits;
    let cutting = &manifest.cutting;
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
    ];
    page.extend(
        manifest
            .warnings
            .iter()
            .map(|warning| Point(format!("Mind: {warning}."))),
    );
    page.push(heading("Parts"));
    page.extend(manifest.sheets.iter().map(|sheet| part(manifest, sheet)));
    let turned = manifest.pieces.iter().filter(|piece| piece.sheet.is_none());
    page.extend(turned.map(|piece| {
        Point(format!(
            "{} × {}: {}; {:.1} × {:.1} mm",
            piece.count, piece.name, piece.title, piece.width_mm, piece.height_mm
        ))
    }));
    page.extend(materials(&manifest.materials));
    if manifest.sheets.iter().any(|sheet| sheet.sides.len() > 1) {
        page.push(text(
            "Where a sheet has two sides, engrave one, turn the sheet about its upright line, so \
             that the tongue stays below, engrave the other, and cut once.",
        ));
    }
    let division = &manifest.divisions;
    page.extend([
        heading("What the size leaves out"),
        Text(format!(
            "No two lines of a scale or of a net stand closer than {:.2} mm, but where a key of \
             the specification asks for a finer division, and the rete is nowhere thinner than \
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
    page.extend(
        manifest
            .arcs()
            .map(|(plate, told)| Point(format!("{plate}: {told}."))),
    );
    page.extend(plate_errors(manifest));
    page.extend(star_table(manifest));
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
            "One unit is one millimetre. The layers stand in the order of work: guide, which is \
             not made, score, engrave-line, engrave-fill, drill, cut-inside and cut-outside; within \
             each the lines follow one another by a short way. {} {}{}Letters are {}.",
            if cutting.drilled_up_to_mm > 0.0 {
                format!(
                    "Round holes of up to {} mm are on the layer drill, at their true size: a \
                     beam that cuts them makes them larger by its breadth.",
                    sky::Plain(cutting.drilled_up_to_mm)
                )
            } else {
                "All holes are cut.".to_owned()
            },
            if cutting.kerf_mm > 0.0 {
                format!(
                    "In SVG and DXF every edge to be cut is let out by half of the cut's breadth \
                     of {:.2} mm; PDF and pictures show the true size.",
                    cutting.kerf_mm
                )
            } else {
                "Nothing is allowed for the breadth of the cut (fits.kerf_mm).".to_owned()
            },
            tools(cutting),
            match specification.parts.letters {
                Letters::Serif => "outlines to be filled",
                Letters::SingleStroke => "single strokes",
            }
        )),
    ]);
    page.extend(solids(manifest));
    page.extend(films(manifest));
    page.extend([
        heading("Putting it together"),
        point(
            "Fix the limb (mater) on the back, face outwards, thrones together; the back's \
             engraving looks the other way. Glue, rivet or solder them.",
        ),
        Text(format!(
            "The plates lie in the opening, their tongue in the notch below; each has {:.2} mm \
             of room all round, and so has the pin in its holes. {}",
            fits.tolerance.mm(),
            opening(&manifest.stack)
        )),
        point("Over the plates the rete, over the rete the rule; on the back the alidade."),
        Text(format!(
            "From the alidade's face to the rule's all is {:.2} mm thick; the pin's slot begins \
             there, a little below the rule, so that the wedge presses on it.",
            manifest.stack.held_mm
        )),
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

/// How near each plate comes, as it is planned.
fn plate_errors(manifest: &Manifest) -> Vec<Paragraph> {
    if manifest.plate_errors.is_empty() {
        return Vec::new();
    }
    let minutes = |arcmin: f64| format!("{arcmin:.0}′");
    let row = |one: &PlateErrorRow| {
        vec![
            format!("{:.0}°", one.altitude_deg),
            format!("{:.2}", one.mm_per_degree),
            minutes(one.line_arcmin),
            minutes(one.room_arcmin),
            minutes(one.eye_arcmin),
            minutes(one.altitude_arcmin),
            minutes(one.azimuth_arcmin),
            one.hour_min
                .map_or("–".to_owned(), |minutes| format!("{minutes:.1} min")),
        ]
    };
    let head = [
        "altitude",
        "mm to 1°",
        "line",
        "room",
        "eye",
        "altitude",
        "azimuth",
        "hour",
    ];
    let mut page = vec![
        Paragraph::Heading("How near each plate comes, as planned".to_owned()),
        Paragraph::Text(
            "Reckoned from the drawing, measured on no plate: what is read in the east or the west \
             at an altitude, by half the breadth of a line, by the room of the plate in the limb \
             and of the rete on its pin (fits.tolerance_mm), and by half of what an eye tells apart \
             (eye_mm, eye_part_of_division); together for an altitude, an azimuth and the hour, \
             either way in nineteen cases of twenty. What a finished plate is off is another \
             table: almuri examine makes it of what is measured on it."
                .to_owned(),
        ),
    ];
    for plate in &manifest.plate_errors {
        page.push(Paragraph::Point(format!(
            "Plate for {}°, as planned:",
            sky::Plain(plate.latitude_deg)
        )));
        page.push(Paragraph::Table(Columns {
            head: head.map(str::to_owned).to_vec(),
            rows: plate.rows.iter().map(row).collect(),
        }));
    }
    page
}

/// What is bought and what there is to do.
fn materials(materials: &MaterialsEntry) -> Vec<Paragraph> {
    let row = |part: &MaterialPart| {
        let gauges: Vec<String> = part.gauges.iter().map(|one| one.gauge.clone()).collect();
        vec![
            part.name.clone(),
            part.count.to_string(),
            format!("{:.2}", part.thickness_mm),
            format!("{:.1}", part.area_mm2 / 100.0),
            format!("{:.1}", part.mass_g),
            format!("{:.2}", part.cut_mm / 1000.0),
            format!("{:.2}", part.engrave_mm / 1000.0),
            gauges.join(", "),
        ]
    };
    let head = [
        "sheet",
        "count",
        "mm",
        "cm²",
        "g each",
        "cut m",
        "engraved m",
        "nearest sold",
    ];
    let mut paragraphs = vec![
        Paragraph::Heading("Materials".to_owned()),
        Paragraph::Text(format!(
            "Reckoned for {} ({}), {} g to the cubic centimetre. Areas and masses are those of one \
             part when it is cut; the pin is turned, and not among them.",
            materials.of,
            materials.kind,
            sky::Plain(materials.density_g_cm3)
        )),
        Paragraph::Table(Columns {
            head: head.map(str::to_owned).to_vec(),
            rows: materials.parts.iter().map(row).collect(),
        }),
        Paragraph::Text(totals_told("One instrument", &materials.one)),
    ];
    if materials.batch > 1 {
        let whose = format!("{} instruments", materials.batch);
        paragraphs.push(Paragraph::Text(totals_told(&whose, &materials.all)));
    }
    paragraphs
}

/// What several parts come to, in a sentence for each thing.
pub(crate) fn totals_told(whose: &str, totals: &MaterialTotals) -> String {
    let mut told = format!(
        "{whose}: {} parts, {:.0} g, of rectangles of {:.0} g; {:.2} m cut, {:.2} m engraved and \
         scored.",
        totals.parts,
        totals.mass_g,
        totals.bought_g,
        totals.cut_mm / 1000.0,
        totals.engrave_mm / 1000.0
    );
    if let Some(minutes) = totals.cut_min {
        told.push_str(&format!(" Cutting {minutes:.0} min."));
    }
    if let Some(minutes) = totals.engrave_min {
        told.push_str(&format!(" Engraving {minutes:.0} min."));
    }
    if let Some(cost) = totals.metal_cost {
        told.push_str(&format!(" Metal {cost:.2}."));
    }
    if let Some(cost) = totals.machine_cost {
        told.push_str(&format!(" Machine {cost:.2}."));
    }
    told
}

/// The solids, and how they are taken up.
fn solids(manifest: &Manifest) -> Vec<Paragraph> {
    if manifest.solids.is_empty() {
        return Vec::new();
    }
    let row = |solid: &SolidEntry| {
        vec![
            solid.name.clone(),
            solid.count.to_string(),
            format!(
                "{:.1} × {:.1} × {:.2}",
                solid.width_mm, solid.height_mm, solid.thickness_mm
            ),
            format!("{:.2}", solid.relief_mm),
            format!("{:.2}", solid.volume_mm3 / 1000.0),
            solid.triangles.to_string(),
        ]
    };
    let head = ["solid", "count", "mm", "lines mm", "cm³", "triangles"];
    let mut paragraphs = vec![
        Paragraph::Heading("Solids".to_owned()),
        Paragraph::Text(
            "One unit is one millimetre; 3MF says so itself, to a program that reads STL it must \
             be said. The underside lies at height 0, the pin's hole in the middle. Lines end \
             0.1 mm before an edge. Where both sides of a plate are engraved they are one solid; \
             where limb and back are both made they are one too, with the hollow between them, and \
             neither spacers nor packing are needed."
                .to_owned(),
        ),
        Paragraph::Table(Columns {
            head: head.map(str::to_owned).to_vec(),
            rows: manifest.solids.iter().map(row).collect(),
        }),
    ];
    if manifest.solids.iter().any(|solid| solid.raised) {
        paragraphs.push(Paragraph::Text(
            "Lines are raised: what lies on them stands higher by as much, and turns on them."
                .to_owned(),
        ));
    }
    paragraphs
}

/// The films, how they are laid on the metal, and the cautions.
fn films(manifest: &Manifest) -> Vec<Paragraph> {
    let Some(first) = manifest.films.first() else {
        return Vec::new();
    };
    let point = |text: &str| Paragraph::Point(text.to_owned());
    let names: Vec<&str> = manifest
        .films
        .iter()
        .map(|film| film.name.as_str())
        .collect();
    vec![
        Paragraph::Heading("Etching".to_owned()),
        Paragraph::Text(format!(
            "Films for both sides of {}. They are {}s: {}.",
            names.join(", "),
            first.sense,
            if first.sense == "negative" {
                "dark is what stays, for a resist that light makes soluble"
            } else {
                "dark is what is etched, for a resist that light hardens"
            }
        )),
        Paragraph::Text(
            if first.mirrored {
                "They are mirrored: printed with the ink on top they are turned over, so that the \
                 ink lies on the resist and the film reads right from above."
            } else {
                "They read right with the emulsion down: looked at from above as they lie on the \
                 metal, the dark layer against the resist, everything reads as on the finished \
                 part. A printer that lays its ink on top of a sheet needs them mirrored."
            }
            .to_owned(),
        ),
        Paragraph::Text(format!(
            "{} Lay the two films of a sheet face to face, their crosses on one another, punch the \
             two holes through both and pin them; the holes stand at different heights, so that \
             they fit in one way alone. The line at the foot must measure 50 mm.",
            if first.through {
                "The parts are etched through along their edges from both sides, but for tabs that \
                 are broken and filed."
            } else {
                "A fine line along the edges guides the saw."
            }
        )),
        Paragraph::Text(format!(
            "Every edge is drawn in by {} mm for what the etch eats beneath the resist; try a strip \
             of the same metal first and measure it.",
            sky::Plain(first.undercut_mm)
        )),
        point(
            "Resists, developers and etchants hurt skin, eyes and lungs, and some set free \
             poisonous or burning gases: follow their safety data sheets, with goggles, gloves and \
             an exhaust, and never mix them.",
        ),
        point(
            "Spent etchant holds copper and zinc: it goes neither into a drain nor into the ground; \
             local rules say where it is taken.",
        ),
    ]
}

/// What is allowed for tools besides the breadth of the cut, each a sentence.
fn tools(cutting: &CuttingEntry) -> String {
    let mut told = " ".to_owned();
    if cutting.cutter_mm > 0.0 {
        told.push_str(&format!(
            "Square inner corners that another part must fill are opened for a cutter of {} mm. ",
            sky::Plain(cutting.cutter_mm)
        ));
    }
    if cutting.tabs > 0 {
        told.push_str(&format!(
            "Each part is held in its sheet by {} tabs of {} mm: saw them through and file them \
             away. ",
            cutting.tabs,
            sky::Plain(cutting.tab_mm)
        ));
    }
    if cutting.lead_in_mm > 0.0 {
        told.push_str(&format!(
            "The tool comes in from {} mm beside the edge, {}. ",
            sky::Plain(cutting.lead_in_mm),
            cutting.lead_in_side
        ));
    }
    told
}

/// A sheet of metal: its sides, its size, and what there is to do on it.
fn part(manifest: &Manifest, sheet: &SheetEntry) -> Paragraph {
    let sides: Vec<&PieceTotals> = sheet
        .sides
        .iter()
        .filter_map(|name| manifest.pieces.iter().find(|piece| piece.name == *name))
        .collect();
    let size = format!(
        "{:.1} × {:.1} mm, sheet {:.2} mm; cut {:.0} mm",
        sheet.width_mm, sheet.height_mm, sheet.thickness_mm, sheet.cut_mm
    );
    let work = |piece: &PieceTotals| {
        format!(
            "engraved {:.0} mm, scored {:.0} mm",
            piece.layers.engrave_mm, piece.layers.score_mm
        )
    };
    let text = match sides.as_slice() {
        [one] => format!("{}; {size}, {}", one.title, work(one)),
        several => {
            let sides: Vec<String> = several
                .iter()
                .map(|side| format!("{} ({}), {}", side.name, side.title, work(side)))
                .collect();
            format!("one sheet with two sides; {size}; {}", sides.join("; "))
        }
    };
    Paragraph::Point(format!("{} × {}: {text}", sheet.count, sheet.name))
}

/// How plates and rete fill the opening of the limb.
fn opening(stack: &StackEntry) -> String {
    let raised = match stack.spacers {
        0 => String::new(),
        1 => format!(
            "One spacer of {:.2} mm lies between limb and back. ",
            stack.spacer_mm
        ),
        several => format!(
            "{several} spacers of {:.2} mm each lie between limb and back. ",
            stack.spacer_mm
        ),
    };
    let packing = if stack.packing_mm > 0.0 {
        format!(", {:.2} mm of packing beneath them", stack.packing_mm)
    } else {
        String::new()
    };
    let plates = match stack.plates {
        1 => "One plate".to_owned(),
        several => format!("{several} plates"),
    };
    let level = beside_limb(stack.rete_below_limb_mm);
    format!(
        "{raised}The opening is {:.2} mm deep. {plates} ({:.2} mm{packing}) and the rete ({:.2} mm) \
         lie in it, so that the rete's face is {level}.",
        stack.opening_mm, stack.plates_mm, stack.rete_mm
    )
}

/// Where the rete's face lies that is so far below the limb's.
pub(crate) fn beside_limb(below_mm: f64) -> String {
    if below_mm.abs() < 0.005 {
        "level with the limb's".to_owned()
    } else if below_mm > 0.0 {
        format!("{below_mm:.2} mm below the limb's")
    } else {
        format!("{:.2} mm above the limb's", -below_mm)
    }
}

/// The stars of the rete, and where it shows each of them.
fn star_table(manifest: &Manifest) -> Vec<Paragraph> {
    if manifest.pointers.is_empty() {
        return Vec::new();
    }
    let mut pointers: Vec<&PointerEntry> = manifest.pointers.iter().collect();
    pointers.sort_by(|a, b| a.right_ascension_deg.total_cmp(&b.right_ascension_deg));
    let row = |one: &&PointerEntry| {
        let ringed = if one.ringed { "* " } else { "" };
        vec![
            one.star.to_owned(),
            one.label.clone(),
            one.designation.to_owned(),
            hours(one.right_ascension_deg),
            signed(one.declination_deg),
            degree(one.degree_deg),
            format!("{:.1}", one.from_centre_mm),
            format!("{ringed}{}", one.sits_on),
        ]
    };
    let head = [
        "name", "lettered", "star", "R.A.", "decl.", "with", "mm", "sits on",
    ];
    let mut paragraphs = vec![
        Paragraph::Heading("Stars of the rete".to_owned()),
        Paragraph::Text(
            "With the rule's edge over a pointer's tip, the degree told under “with” lies under \
             it too; from the centre to the tip there are so many millimetres. Right ascension \
             and declination are those of the epoch. *: no pointer, but a small ring on the metal."
                .to_owned(),
        ),
        Paragraph::Table(Columns {
            head: head.map(str::to_owned).to_vec(),
            rows: pointers.iter().map(row).collect(),
        }),
    ];
    let nameless: Vec<&str> = pointers
        .iter()
        .filter(|one| !one.named)
        .map(|one| one.star)
        .collect();
    if !nameless.is_empty() {
        paragraphs.push(Paragraph::Text(format!(
            "Without letters on the metal, to be known by this table: {}.",
            nameless.join(", ")
        )));
    }
    paragraphs
}

/// The whole minutes of a number of degrees.
fn minutes(deg: f64) -> u32 {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "degrees of a turn, without their sign"
    )]
    let minutes = (deg.abs() * 60.0).round() as u32;
    minutes
}

/// A right ascension in hours and minutes.
fn hours(deg: f64) -> String {
    let minutes = minutes(deg / 15.0) % 1440;
    format!("{}h{:02}m", minutes / 60, minutes % 60)
}

/// A declination with its sign.
fn signed(deg: f64) -> String {
    let minutes = minutes(deg);
    let sign = if deg < 0.0 { '−' } else { '+' };
    format!("{sign}{}°{:02}′", minutes / 60, minutes % 60)
}

/// A degree of the zodiac in its sign.
fn degree(deg: f64) -> String {
    let minutes = minutes(deg) % 21_600;
    let sign = usize::try_from(minutes / 1800).unwrap_or_default();
    let name = instrument::Language::Latin.signs().get(sign);
    let name = name.copied().unwrap_or_default();
    format!("{}°{:02}′ {name}", minutes % 1800 / 60, minutes % 60)
}

/// A table as plain text: columns as broad as their longest text.
fn plain_table(out: &mut String, table: &Columns) {
    let all = || std::iter::once(&table.head).chain(&table.rows);
    let breadth = |column: usize| {
        let texts = all().filter_map(|row| row.get(column));
        texts.map(|text| text.chars().count()).max().unwrap_or(0)
    };
    let breadths: Vec<usize> = (0..table.head.len()).map(breadth).collect();
    out.push('\n');
    for row in all() {
        let cells = row.iter().zip(&breadths);
        let cells: Vec<String> = cells
            .map(|(text, breadth)| format!("{text:<breadth$}"))
            .collect();
        out.push_str(cells.join("  ").trim_end());
        out.push('\n');
    }
    out.push('\n');
}

/// The sheet as plain text, in lines of 80 characters, but for tables.
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
            Paragraph::Table(table) => {
                plain_table(&mut out, table);
                continue;
            }
            // A link is not broken into lines.
            Paragraph::Code(code) => {
                out.push_str(&format!("\n{}\n", code.text()));
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
