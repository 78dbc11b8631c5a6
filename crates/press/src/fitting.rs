//! Texts cut to the width that there is for them.

use drawing::{Face, text_width};

use crate::leaf::broken;

/// A text in lines that fit: a word that is too long for a line is cut.
pub(crate) fn fitted(text: &str, most: f64, face: Face) -> Vec<String> {
    let mut lines = Vec::new();
    for line in broken(text, most, face) {
        let mut part = String::new();
        for character in line.chars() {
            part.push(character);
            if text_width(&part, face) > most && part.chars().count() > 1 {
                part.pop();
                lines.push(std::mem::take(&mut part));
                part.push(character);
            }
        }
        lines.push(part);
    }
    lines
}

/// A text cut to a width, with dots where it was.
pub(crate) fn shortened_to(text: &str, most: f64, face: Face) -> String {
    if text_width(text, face) <= most {
        return text.to_owned();
    }
    let mut short = String::new();
    for character in text.chars() {
        short.push(character);
        if text_width(&short, face) + text_width("…", face) > most {
            short.pop();
            break;
        }
    }
    short.trim_end().to_owned() + "…"
}
