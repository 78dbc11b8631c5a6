//! Films for etching: for both sides of each sheet as one job, which crosses and holes
//! bring together.

mod film;
mod hairline;
mod marks;
mod raster;

use drawing::Workpiece;
use instrument::{Instrument, Part};
use patience::Patience;

use self::film::{Film, Job};
pub(crate) use self::hairline::letters_that_vanish;
use crate::beside;
use crate::error::PressError;
use crate::ink::Inked;
use crate::manifest::FilmEntry;
use crate::order::{Format, Order};
use crate::printed::Printed;

/// Makes the films that an order asks for, and tells of them.
pub(crate) fn films(
    instrument: &Instrument,
    order: &Order,
    made: &[(Workpiece, Inked)],
    patience: Patience<'_>,
    files: &mut Vec<Printed>,
) -> Result<Vec<FilmEntry>, PressError> {
    let (as_pdf, as_png) = (
        order.formats.contains(&Format::Film),
        order.formats.contains(&Format::FilmPng),
    );
    if !as_pdf && !as_png {
        return Ok(Vec::new());
    }
    let title = &instrument.specification().name;
    let made = beside::each(&jobs(made), patience, |job, own| {
        let [front, back] = job.films(order, title)?;
        let mut printed = Vec::new();
        if as_png {
            for (number, film) in [&front, &back].into_iter().enumerate() {
                own.at(number, 3)?;
                let name = format!("{}-film-{}.png", job.sheet(), film.side);
                let bytes = raster::png(film, &order.filming, own.part(number, 3))?;
                printed.push(Printed { name, bytes });
            }
        }
        if as_pdf {
            own.at(2, 3)?;
            let name = format!("{}-films.pdf", job.sheet());
            let bytes = crate::pdf::filled_pages(
                &format!("{title}, {}", job.sheet()),
                &[&front, &back].map(Film::page),
            )?;
            printed.push(Printed { name, bytes });
        }
        let names = printed.iter().map(|file| file.name.clone()).collect();
        Ok((job.entry(&front, order, names), printed))
    })?;
    let mut entries = Vec::new();
    for (entry, printed) in made {
        entries.push(entry);
        files.extend(printed);
    }
    Ok(entries)
}

/// The sheets of metal of some workpieces, with what is on either side. The pin is turned.
fn jobs(made: &[(Workpiece, Inked)]) -> Vec<Job<'_>> {
    let mut jobs: Vec<Job<'_>> = Vec::new();
    for (piece, ink) in made {
        if piece.part == Part::Pin {
            continue;
        }
        match jobs.iter_mut().find(|job| job.piece.sheet == piece.sheet) {
            Some(job) => job.back = Some(ink),
            None => jobs.push(Job {
                piece,
                front: ink,
                back: None,
            }),
        }
    }
    jobs
}
