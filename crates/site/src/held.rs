use std::sync::Arc;

use desk::data::{Ephemeris, Gazetteer};
use desk::{Cabinet, CabinetFile};
use page::{Fault, Holder, Kept};

/// What the browser has handed over, and the time it says it is.
#[derive(Debug)]
pub struct Held {
    pub(crate) cabinet: Arc<Cabinet>,
    pub(crate) settings: Kept,
    pub(crate) now_unix_s: Option<f64>,
}

impl Default for Held {
    fn default() -> Held {
        Held {
            cabinet: Arc::new(Cabinet::built_in()),
            settings: Kept::default(),
            now_unix_s: None,
        }
    }
}

impl Held {
    /// From now on these are the instruments of one's own.
    pub(crate) fn take_instruments(&mut self, files: Vec<(String, String)>) {
        let own = files.into_iter().map(|(file, text)| CabinetFile {
            file,
            in_folder: true,
            text: Ok(text),
        });
        self.cabinet = Arc::new(Cabinet::with_own(own.collect()));
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
        Arc::clone(&self.cabinet)
    }

    fn settings(&self) -> Result<Kept, String> {
        Ok(self.settings.clone())
    }

    fn now_unix_s(&self) -> Option<f64> {
        self.now_unix_s
    }
}
