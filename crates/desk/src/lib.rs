//! One door: a pure function from a request to an answer; the JSON is defined here.
