use figure::Figure;

use crate::answer::{
    CloseAnswer, FinishedAnswer, LeafAnswer, MomentAnswer, PlaceAnswer, changed_points, changes,
};
use crate::cabinet::Cabinet;
use crate::figure_case::{FigureCase, FigureRequest};
use crate::leaves;
use crate::refusal::Refusal;

/// Finishes a figure: planets in houses, hour, lots, dignities and aspects, from the
/// exact cusps and from those read on the instrument, and what the reading changes.
///
/// # Errors
/// When the request cannot be understood or answered; see [`Refusal`].
pub fn figure(
    request: &FigureRequest,
    cabinet: &Cabinet,
    now_unix_s: Option<f64>,
) -> Result<FinishedAnswer, Refusal> {
    let finishing = FigureCase::of(request, cabinet, now_unix_s)?;
    let exact = finishing.exact()?;
    let read = finishing.read()?;
    let leaves = leaves::opened(&request.leaves, &finishing, &exact, read.as_ref().ok())?;
    Ok(FinishedAnswer::of(&finishing, &exact, &read, leaves))
}

impl FinishedAnswer {
    fn of(
        finishing: &FigureCase,
        exact: &Figure,
        read: &Result<Figure, String>,
        leaves: Vec<LeafAnswer>,
    ) -> FinishedAnswer {
        let casting = &finishing.casting;
        let told = finishing.finished(exact, format!("calculated, {}", casting.method));
        let read_told = read
            .as_ref()
            .ok()
            .map(|figure| finishing.finished(figure, finishing.read_from()));
        let mut changed = read
            .as_ref()
            .map_or_else(|_| Vec::new(), |read| changes(exact, read));
        if let Some(read) = &read_told {
            changed.extend(changed_points(&told, read));
        }
        let close = exact.close_calls(casting.moment.sky(), &finishing.choices, finishing.within_s);
        FinishedAnswer {
            moment: MomentAnswer::of(&casting.moment),
            place: PlaceAnswer::of(casting.moment.place()),
            rules: finishing.rules(),
            mixture: finishing.mixture(),
            exact: told,
            read: read_told,
            reason: read.as_ref().err().cloned(),
            changes: changed,
            close: close.iter().map(CloseAnswer::of).collect(),
            leaves,
        }
    }
}
