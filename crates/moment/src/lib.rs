//! From what was said to an instant and a place: calendars, clocks, zones, towns.
