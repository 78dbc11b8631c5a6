//! Working with the instrument: operations as steps, readings, why they differ.
