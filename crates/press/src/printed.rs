/// A file of a set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Printed {
    /// Its name, without a folder.
    pub name: String,
    /// Its content.
    pub bytes: Vec<u8>,
}
