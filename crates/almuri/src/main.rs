//! Casting with the astrolabe: the command line.

fn main() {}
