use desk::Scene;
use patience::Patience;
use press::{PageSize, PressError};

/// Blank figures to be filled in by hand, as [`desk::blank_figures`] draws them, a page for
/// each: upright or across the page, whichever leaves more room to write.
///
/// # Errors
/// When they cannot be printed on such paper, or nobody waits for them any longer.
pub fn blank_forms(
    scenes: &[Scene],
    size: PageSize,
    patience: Patience<'_>,
) -> Result<Vec<u8>, PressError> {
    press::drawings_on_pages("Figures to be filled in", scenes, size, patience)
}
