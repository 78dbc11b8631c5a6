//! What is not well known about a moment.

use sky::{DeltaT, DeltaTSource};

use crate::fold_name;
use crate::{CivilTime, Note, NoteKind, SaidMoment, Zone, ZoneSpan};

/// That a town goes by another name: it may not be the one that was meant.
pub(crate) fn name_note(said: &SaidMoment) -> Option<Note> {
    let called = said.place.called.as_ref()?;
    Some(Note {
        about: NoteKind::TownName,
        text: format!(
            "“{called}” is taken for {}, which is or was called so too",
            said.place.name
        ),
    })
}

/// What is doubtful in the zone's own record.
pub(crate) fn zone_notes(
    said: &SaidMoment,
    zone: Zone,
    span: ZoneSpan,
    utc: CivilTime,
) -> Vec<Note> {
    let named = said.zone.is_some();
    let mut notes = Vec::new();
    if let (false, Some(nearest)) = (named, &said.place.nearest) {
        notes.push(Note {
            about: NoteKind::NearestTown,
            text: format!(
                "the zone {zone} is that of the nearest town, {}, {:.0} km away",
                nearest.town, nearest.distance_km
            ),
        });
    }
    if span.is_local_mean_time() {
        let whose = if named {
            format!("the local mean time of {} stands for it", zone.town())
        } else {
            "the local mean time of the place itself stands for it".to_owned()
        };
        notes.push(Note {
            about: NoteKind::LocalMeanTime,
            text: format!("{zone} had no standard time yet; {whose}"),
        });
        return notes;
    }
    if utc.seconds_since_1970() >= 0.0 {
        return notes;
    }
    let town = zone.town();
    if zone.is_less_reliable_before_1970() {
        notes.push(Note {
            about: NoteKind::ZoneHistory,
            text: format!(
                "the record of {zone} before 1970 is among those that the time zone database \
                 itself calls less reliable"
            ),
        });
    } else if !named && !fold_name(&said.place.name).starts_with(&fold_name(&town)) {
        notes.push(Note {
            about: NoteKind::ZoneHistory,
            text: format!(
                "before 1970 the record of {zone} is that of {town}; clocks elsewhere in the \
                 zone may have gone otherwise"
            ),
        });
    }
    notes
}

/// What is doubtful in TT − UT, from a second on: less is lost in every reading.
pub(crate) fn delta_t_note(delta_t: DeltaT) -> Option<Note> {
    let uncertainty_s = delta_t.uncertainty_s;
    if uncertainty_s <= 1.0 {
        return None;
    }
    let why = match delta_t.source {
        DeltaTSource::LastLeapSecond => "leap seconds to come are not known; ",
        _ => "",
    };
    Some(Note {
        about: NoteKind::DeltaT,
        text: format!(
            "{why}TT − UT is taken as {:.0} s, uncertain by {uncertainty_s:.0} s, and the Moon's \
             place by half a second of arc for each",
            delta_t.seconds
        ),
    })
}
