use std::fmt::Write;

/// The colours of a drawing, by the name of the custom property that a page may
/// set to have another.
///
/// Colour carries no meaning alone: what is being read is also drawn thicker.
const COLOURS: [(&str, &str); 12] = [
    ("--paper", "#f7f2e6"),
    ("--ink", "#2a2520"),
    ("--mater", "#dcc48a"),
    ("--plate", "#f6efdc"),
    ("--rete", "#cfae62"),
    ("--rule", "#b98f43"),
    ("--dark", "#4a3413"),
    ("--sky", "#fffdf6"),
    ("--ground", "#e9e0cc"),
    ("--zodiac", "#ecdcb0"),
    ("--verdigris", "#12796a"),
    ("--vermilion", "#c8371f"),
];

/// What is coloured: selector, property, colour.
const RULES: [(&str, &str, &str); 16] = [
    (".paper", "fill", "--paper"),
    (".line", "stroke", "--ink"),
    (".line.lit", "stroke", "--verdigris"),
    (".line.wrong", "stroke", "--vermilion"),
    (".metal", "stroke", "--ink"),
    (".metal-mater", "fill", "--mater"),
    (".metal-plate", "fill", "--plate"),
    (".metal-rete", "fill", "--rete"),
    (".metal-rule", "fill", "--rule"),
    (".metal-dark", "fill", "--dark"),
    (".metal-sky", "fill", "--sky"),
    (".metal-ground", "fill", "--ground"),
    (".metal-zodiac", "fill", "--zodiac"),
    (".letter", "fill", "--ink"),
    (".letter.clears", "stroke", "--plate"),
    (".letter.clears.on-mater", "stroke", "--mater"),
];

/// What is the same in every setting.
const PLAIN: &str = "\
.astrolabe .line{fill:none;stroke-linejoin:round}
.astrolabe .dotted{stroke-linecap:round}
.astrolabe .metal{stroke-linejoin:round;paint-order:stroke}
.astrolabe .letter{text-anchor:middle;font-family:'Libertinus Serif','Linux Libertine O','Linux \
Libertine',Palatino,'Palatino Linotype','Book Antiqua',Georgia,serif}
.astrolabe .italic{font-style:italic}
.astrolabe .clears{stroke-linejoin:round;paint-order:stroke}
";

/// The style sheet of a drawing: plain colours first, for readers that know no
/// custom properties, then the same by custom properties.
#[must_use]
pub fn style_sheet() -> String {
    let mut sheet = PLAIN.to_owned();
    let default = |name: &str| {
        let found = COLOURS.iter().find(|(known, _)| *known == name);
        found.map_or("", |(_, colour)| colour)
    };
    // Writing to a String cannot fail.
    for (selector, property, name) in RULES {
        let _ = writeln!(
            sheet,
            ".astrolabe {selector}{{{property}:{}}}",
            default(name)
        );
    }
    sheet.push_str("@supports (fill:var(--ink)){\n");
    for (selector, property, name) in RULES {
        let _ = writeln!(
            sheet,
            ".astrolabe {selector}{{{property}:var({name},{})}}",
            default(name)
        );
    }
    sheet.push_str("}\n");
    sheet
}
