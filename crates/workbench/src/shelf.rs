use std::sync::{Arc, Mutex};

use axum::http::StatusCode;
use casebook::{CabinetError, CabinetFolder, FolderState};
use desk::{Cabinet, CabinetFile};

use crate::fault::Fault;

/// The instruments of the page: as they stand in the cabinet's folder now, whoever put
/// them there.
pub struct Shelf {
    kind: Kind,
}

enum Kind {
    /// Always the same; nothing is kept.
    Fixed(Arc<Cabinet>),
    Folder {
        place: Result<CabinetFolder, String>,
        besides: Box<dyn Fn() -> Option<CabinetFile> + Send + Sync>,
        read: Mutex<Option<(Seen, Arc<Cabinet>)>>,
    },
}

/// How everything stood from which a cabinet was read.
#[derive(PartialEq)]
struct Seen {
    folder: Result<FolderState, String>,
    besides: Option<CabinetFile>,
}

impl From<Cabinet> for Shelf {
    fn from(cabinet: Cabinet) -> Shelf {
        Shelf {
            kind: Kind::Fixed(Arc::new(cabinet)),
        }
    }
}

impl Shelf {
    /// Of a folder, or the reason why there is no place for one; with what another file
    /// specifies besides, asked for anew whenever instruments are.
    pub fn of(
        place: Result<CabinetFolder, String>,
        besides: impl Fn() -> Option<CabinetFile> + Send + Sync + 'static,
    ) -> Shelf {
        Shelf {
            kind: Kind::Folder {
                place,
                besides: Box::new(besides),
                read: Mutex::default(),
            },
        }
    }

    /// The instruments as they stand now.
    pub(crate) fn cabinet(&self) -> Arc<Cabinet> {
        match &self.kind {
            Kind::Fixed(cabinet) => Arc::clone(cabinet),
            Kind::Folder {
                place,
                besides,
                read,
            } => {
                let folder = place.as_ref().map_err(String::clone);
                let seen = Seen {
                    folder: folder
                        .and_then(|folder| folder.state().map_err(|error| error.to_string())),
                    besides: besides(),
                };
                // A cabinet that was being read when a request broke off was not put here.
                let mut read = read.lock().unwrap_or_else(|broken| broken.into_inner());
                if let Some((before, cabinet)) = &*read
                    && *before == seen
                {
                    return Arc::clone(cabinet);
                }
                let cabinet = Arc::new(at_hand(place.as_ref(), seen.besides.clone()));
                *read = Some((seen, Arc::clone(&cabinet)));
                cabinet
            }
        }
    }

    /// The folder in which something is to be changed.
    pub(crate) fn folder(&self) -> Result<&CabinetFolder, Fault> {
        let none = |why: &str| {
            Fault::Request(
                StatusCode::UNPROCESSABLE_ENTITY,
                format!("there is no folder to keep instruments in: {why}"),
            )
        };
        match &self.kind {
            Kind::Fixed(_) => Err(none("this workbench has none")),
            Kind::Folder { place, .. } => place.as_ref().map_err(|why| none(why)),
        }
    }
}

/// The instruments that are built in, those of a folder, and what another file specifies
/// besides. What cannot be read is told in the cabinet.
pub fn at_hand(place: Result<&CabinetFolder, &String>, besides: Option<CabinetFile>) -> Cabinet {
    let mut files = Vec::new();
    if let Ok(folder) = place {
        match folder.files() {
            Ok(kept) => files.extend(kept.into_iter().map(|kept| CabinetFile {
                file: kept.file,
                in_folder: true,
                text: kept.text,
            })),
            Err(error) => files.push(CabinetFile {
                file: folder.path().display().to_string(),
                in_folder: false,
                text: Err(error.to_string()),
            }),
        }
    }
    files.extend(besides);
    Cabinet::with_own(files)
}

impl From<CabinetError> for Fault {
    fn from(error: CabinetError) -> Fault {
        let status = if error.is_bad_input() {
            StatusCode::UNPROCESSABLE_ENTITY
        } else {
            // The folder's own trouble: the person can do something about it.
            StatusCode::INTERNAL_SERVER_ERROR
        };
        Fault::Request(status, error.to_string())
    }
}
