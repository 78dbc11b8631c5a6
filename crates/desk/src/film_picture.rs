use drawing::{Face, Scene, Svg, centred_text, escaped, style_sheet, text_width, wrapped};

/// How the numbered pictures of a film lie.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum FilmShape {
    /// 16:9, 1920 × 1080, for a screen.
    #[default]
    Wide,
    /// 9:16, 1080 × 1920, for a telephone.
    Tall,
}

/// A box in a picture: left, top, width, height.
type Room = (f64, f64, f64, f64);

impl FilmShape {
    /// Both.
    pub const ALL: [FilmShape; 2] = [FilmShape::Wide, FilmShape::Tall];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            FilmShape::Wide => "wide",
            FilmShape::Tall => "tall",
        }
    }

    /// Width and height, in pixels.
    #[must_use]
    pub const fn size(self) -> (u32, u32) {
        match self {
            FilmShape::Wide => (1920, 1080),
            FilmShape::Tall => (1080, 1920),
        }
    }

    const fn instrument(self) -> Room {
        match self {
            FilmShape::Wide => (30.0, 30.0, 1020.0, 1020.0),
            FilmShape::Tall => (30.0, 40.0, 1020.0, 1040.0),
        }
    }

    const fn words(self) -> Room {
        match self {
            FilmShape::Wide => (1090.0, 60.0, 790.0, 960.0),
            FilmShape::Tall => (50.0, 1110.0, 980.0, 760.0),
        }
    }
}

/// Letters of a caption and of a card, in pixels.
const LETTERS: f64 = 42.0;
const ON_A_CARD: f64 = 76.0;

/// From line to line, as a part of the letters.
const LEADING: f64 = 1.35;

/// What words leave free on both sides together, as a part of their room.
const FREE: f64 = 0.08;

/// A picture with its caption inside, in the shape of a film.
pub(crate) fn framed(picture: &Scene, caption: &str, shape: FilmShape) -> String {
    let (x, y, width, height) = shape.instrument();
    let shown = picture.svg_within(&Svg::default(), (x, y), (width, height));
    sheet(shape, &(shown + &lines(caption, shape.words(), LETTERS)))
}

/// A card: words alone.
pub(crate) fn card(text: &str, shape: FilmShape) -> String {
    let (width, height) = shape.size();
    let whole = (0.0, 0.0, f64::from(width), f64::from(height));
    sheet(shape, &lines(text, whole, ON_A_CARD))
}

fn sheet(shape: FilmShape, inside: &str) -> String {
    let (width, height) = shape.size();
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"astrolabe\" width=\"{width}\" height=\"{height}\" \
         viewBox=\"0 0 {width} {height}\">\n<style>\n{}</style>\n\
         <rect class=\"paper\" width=\"{width}\" height=\"{height}\"/>\n{inside}</svg>\n",
        style_sheet()
    )
}

/// Words in the middle of their room, in lines that fit it.
fn lines(text: &str, (x, y, width, height): Room, letters: f64) -> String {
    let broad = width * (1.0 - FREE) / letters;
    let lines = wrapped(text, |line| text_width(line, Face::Roman) <= broad);
    let first = y + (height - letters * LEADING * (lines.len() as f64 - 1.0)) / 2.0;
    let mut out = format!("<g class=\"letter\" aria-label=\"{}\">", escaped(text));
    for (number, line) in lines.iter().enumerate() {
        let below = first + letters * LEADING * number as f64;
        out.push_str(&centred_text(line, letters, x + width / 2.0, below));
    }
    out + "</g>\n"
}
