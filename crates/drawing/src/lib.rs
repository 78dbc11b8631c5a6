//! The scene of lines and letters, and its SVG; pure.
