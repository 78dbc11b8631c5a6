use std::sync::Arc;

use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Options, Tree, fontdb};

use crate::error::PressError;
use drawing::{ITALIC_FONT, ROMAN_FONT};

/// A drawing of ours as a picture with its colours, as broad as so many pixels: a still
/// of a film. Letters are those of the fonts that are built in.
///
/// # Errors
/// When the SVG cannot be read, or the picture not be made.
pub fn still(svg: &str, pixels: u32) -> Result<Vec<u8>, PressError> {
    let cannot = |why: String| PressError::Document {
        what: "the picture".to_owned(),
        why,
    };
    let mut fonts = fontdb::Database::new();
    fonts.load_font_data(ROMAN_FONT.to_vec());
    fonts.load_font_data(ITALIC_FONT.to_vec());
    let options = Options {
        font_family: "Libertinus Serif".to_owned(),
        fontdb: Arc::new(fonts),
        ..Options::default()
    };
    let tree = Tree::from_str(svg, &options).map_err(|error| cannot(error.to_string()))?;
    let size = tree
        .size()
        .to_int_size()
        .scale_to_width(pixels)
        .ok_or_else(|| cannot(format!("it would be {pixels} pixels broad")))?;
    let mut picture = Pixmap::new(size.width(), size.height())
        .ok_or_else(|| cannot("it would be too large".to_owned()))?;
    let scale = f64::from(size.width()) / f64::from(tree.size().width());
    #[expect(
        clippy::cast_possible_truncation,
        reason = "pictures are drawn in single precision"
    )]
    let scale = scale as f32;
    resvg::render(
        &tree,
        Transform::from_scale(scale, scale),
        &mut picture.as_mut(),
    );
    picture
        .encode_png()
        .map_err(|error| cannot(error.to_string()))
}
