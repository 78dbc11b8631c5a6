use std::sync::Arc;

use desk::data::{Ephemeris, Gazetteer};
use desk::{Cabinet, CabinetFile};
use page::{Fault, Holder, Kept};

/// What the browser has handed over, and the time it says it is.
#[derive(Debug, Default)]
pub struct Held {
    /// None before the sky is here, by which scales are divided.
    pub(crate) cabinet: Option<Arc<Cabinet>>,
    pub(crate) settings: Kept,
    pub(crate) now_unix_s: Option<f64>,
}

impl Held {
    /// From now on these are the instruments of one's own. One whose scales are of years
    /// that are not held is told as a file that cannot be read; says whether there is one.
    pub(crate) fn take_instruments(&mut self, files: Vec<(String, String)>) -> bool {
        const OF_OTHER_YEARS: &str =
            "it is of an epoch that this copy of the program holds no sky of";
        let mut lacks = false;
        let file = |(file, text): (String, String), lacks: &mut bool| {
            let mut own = CabinetFile {
                file,
                in_folder: true,
                text: Ok(text),
            };
            let _ = Ephemeris::was_missed();
            drop(Cabinet::with_own(vec![own.clone()]));
            if Ephemeris::was_missed() {
                *lacks = true;
                own.text = Err(OF_OTHER_YEARS.to_owned());
            }
            own
        };
        let own = files.into_iter().map(|one| file(one, &mut lacks)).collect();
        self.cabinet = Some(Arc::new(Cabinet::with_own(own)));
        lacks
    }

    /// From now on this ephemeris is asked.
    pub(crate) fn take_sky(bytes: Vec<u8>) -> Result<(), Fault> {
        let ephemeris = Ephemeris::from_bytes(bytes.leak()).map_err(Fault::asked)?;
        ephemeris.hold().map_err(Fault::asked)
    }

    /// From now on these towns are asked.
    pub(crate) fn take_towns(bytes: Vec<u8>) -> Result<(), Fault> {
        let towns = Gazetteer::from_bytes(bytes.leak()).map_err(Fault::asked)?;
        towns.hold().map_err(Fault::asked)
    }
}

impl Holder for Held {
    fn cabinet(&self) -> Arc<Cabinet> {
        match &self.cabinet {
            Some(cabinet) => Arc::clone(cabinet),
            None => Arc::new(Cabinet::built_in()),
        }
    }

    fn settings(&self) -> Result<Kept, String> {
        Ok(self.settings.clone())
    }

    fn now_unix_s(&self) -> Option<f64> {
        self.now_unix_s
    }
}
