//! What is exactly so at a moment and place: ascendant, midheaven, houses.
