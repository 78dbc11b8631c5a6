//! The astrolabe as geometry: projection, plate, rete, limb, back, moving parts, faults.
