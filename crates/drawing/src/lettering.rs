use instrument::{LineId, Point};
use sky::Angle;

use crate::face::Face;
use crate::glyphs::glyph;
use crate::label_box::LabelBox;

/// Letters or figures on a straight or curved baseline.
#[derive(Clone, Debug, PartialEq)]
pub struct Lettering {
    /// What is lettered.
    pub text: String,
    /// The size of the type in millimetres: two thirds of it is the height of a capital.
    pub size_mm: f64,
    /// The cut of the letters.
    pub face: Face,
    /// Where it stands.
    pub baseline: Baseline,
    /// Whether it stands on lines, and so needs the ground cleared about it.
    pub clears: bool,
    /// The line it names, if it names one.
    pub line: Option<LineId>,
}

/// Where lettering stands. What is given is the middle of it: half its length, and
/// half the height of its capitals.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Baseline {
    /// Along a straight line.
    Straight {
        /// The middle.
        middle: Point,
        /// The direction in which it reads, clockwise from the right.
        along: Angle,
    },
    /// Along a circle.
    Arc {
        /// The circle's centre.
        centre: Point,
        /// The distance of the middle from it, in millimetres.
        radius_mm: f64,
        /// The direction of the middle, clockwise from the right.
        middle: Angle,
        /// Whether the tops of the letters point away from the centre (it reads
        /// clockwise) or towards it.
        outward: bool,
    },
}

pub(crate) use instrument::CAPITAL;

/// How much wider than the fonts measured another serif font may run.
const SPARE: f64 = 1.06;

/// The width of a text as a part of the size of its type.
///
/// Advance widths of Linux Libertine, regular, in thousandths; the italic is a
/// few per cent narrower.
pub(crate) fn width(text: &str) -> f64 {
    const ASCII: [u16; 95] = [
        250, 288, 336, 465, 465, 637, 705, 190, 298, 298, 369, 550, 220, 338, 220, 323, 465, 465,
        465, 465, 465, 465, 465, 465, 465, 465, 236, 236, 550, 550, 550, 435, 895, 695, 588, 646,
        701, 557, 485, 685, 730, 297, 322, 637, 528, 839, 699, 702, 541, 702, 587, 485, 597, 661,
        652, 951, 660, 575, 604, 356, 287, 356, 518, 486, 392, 457, 493, 428, 506, 447, 310, 500,
        538, 271, 272, 512, 264, 790, 542, 504, 519, 503, 372, 390, 316, 531, 497, 747, 490, 515,
        424, 277, 205, 277, 449,
    ];
    let thousandths: u32 = text
        .chars()
        .map(|c| {
            let index = u32::from(c).checked_sub(32);
            let known = index.and_then(|i| ASCII.get(usize::try_from(i).ok()?));
            u32::from(known.copied().unwrap_or(match c {
                '°' | '′' => 267,
                _ => 560,
            }))
        })
        .sum();
    f64::from(thousandths) / 1000.0 * SPARE
}

impl Lettering {
    /// Its length along the baseline, in millimetres, in a font of ordinary width.
    #[must_use]
    pub fn length_mm(&self) -> f64 {
        width(&self.text) * self.size_mm
    }

    /// The height of its capitals and figures, in millimetres.
    #[must_use]
    pub fn height_mm(&self) -> f64 {
        CAPITAL * self.size_mm
    }

    /// How far its letters reach above and below the baseline, in millimetres.
    fn reach_mm(&self) -> (f64, f64) {
        // Letters in single strokes are as high as capitals are said to be, and what the
        // font has not is taken for a letter with everything.
        let (mut above, mut below): (f64, f64) = (CAPITAL, 0.0);
        for character in self.text.chars() {
            let (over, under) = glyph(character, self.face)
                .map_or((0.75, 0.25), |glyph| (glyph.above, glyph.below));
            above = above.max(over);
            below = below.max(under);
        }
        (above * self.size_mm, below * self.size_mm)
    }

    /// Moved across its baseline so that the middle of its letters, with what hangs below
    /// them, stands where that of the capitals was.
    pub(crate) fn centred(mut self) -> Lettering {
        let (above, below) = self.reach_mm();
        let down = self.height_mm() / 2.0 + (below - above) / 2.0;
        match &mut self.baseline {
            Baseline::Straight { middle, along } => {
                *middle = *middle - Point::polar(down, *along + Angle::QUARTER_TURN);
            }
            Baseline::Arc {
                radius_mm, outward, ..
            } => *radius_mm += if *outward { down } else { -down },
        }
        self
    }

    /// The space it takes: one box for a straight text, several along a curved one.
    #[must_use]
    pub fn boxes(&self) -> Vec<LabelBox> {
        let (above, below) = self.reach_mm();
        let (length, height) = (self.length_mm(), above + below);
        // The middle of the letters is not that of their capitals.
        let down = self.height_mm() / 2.0 + (below - above) / 2.0;
        match self.baseline {
            Baseline::Straight { middle, along } => {
                let middle = middle + Point::polar(down, along + Angle::QUARTER_TURN);
                vec![LabelBox::new(middle, length, height, along)]
            }
            Baseline::Arc {
                centre,
                radius_mm,
                middle,
                outward,
            } => {
                let radius_mm = radius_mm - if outward { down } else { -down };
                let whole = Angle::from_rad(length / radius_mm);
                // So many that none bulges from its arc by a twentieth of a letter.
                #[expect(
                    clippy::cast_possible_truncation,
                    clippy::cast_sign_loss,
                    reason = "a small positive number"
                )]
                let count = (length / (0.6 * height * radius_mm).sqrt())
                    .ceil()
                    .clamp(1.0, 40.0) as u32;
                let each = whole / f64::from(count);
                let chord = 2.0 * radius_mm * (each / 2.0).sin();
                (0..count)
                    .map(|n| {
                        let direction = middle - whole / 2.0 + each * (f64::from(n) + 0.5);
                        LabelBox::new(
                            centre + Point::polar(radius_mm, direction),
                            chord,
                            height,
                            direction + Angle::QUARTER_TURN,
                        )
                    })
                    .collect()
            }
        }
    }
}

impl Baseline {
    /// Along a straight line, the right way up.
    #[must_use]
    pub fn upright(middle: Point, along: Angle) -> Baseline {
        let signed = along.signed();
        let over = signed.abs() > Angle::QUARTER_TURN;
        Baseline::Straight {
            middle,
            along: if over {
                (signed + Angle::HALF_TURN).signed()
            } else {
                signed
            },
        }
    }
}
