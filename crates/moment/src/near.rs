//! Names that someone may have meant.

/// Texts longer than this are no misspelt name.
const LONGEST: usize = 60;

/// The `count` names nearest to a wanted one (in lower case), the nearest first;
/// none that differ in more than a third of their letters.
pub(crate) fn nearest<'a>(
    wanted: &str,
    names: impl Iterator<Item = &'a str>,
    count: usize,
) -> Vec<&'a str> {
    let wanted: Vec<char> = wanted.chars().take(LONGEST + 1).collect();
    if wanted.is_empty() || wanted.len() > LONGEST {
        return Vec::new();
    }
    let most = wanted.len().max(3) / 3;
    let mut near: Vec<(usize, &str)> = names
        .filter_map(|name| {
            let whole = name.to_lowercase();
            // Someone may have left out what stands before the slash.
            let town = whole.rsplit('/').next().unwrap_or_default();
            let both = [edits(&wanted, &whole, most), edits(&wanted, town, most)];
            Some((both.into_iter().flatten().min()?, name))
        })
        .collect();
    near.sort_by_key(|(distance, _)| *distance);
    near.truncate(count);
    near.into_iter().map(|(_, name)| name).collect()
}

/// Levenshtein's distance: letters put in, left out or changed; none where there are more
/// than `most`, which is known before the end for nearly all of many names.
pub(crate) fn edits(wanted: &[char], name: &str, most: usize) -> Option<usize> {
    let mut row: Vec<usize> = (0..=wanted.len()).collect();
    for (line, letter) in name.chars().enumerate() {
        let mut diagonal = line;
        let mut left = line + 1;
        let mut least = left;
        for (above, other) in row.iter_mut().skip(1).zip(wanted) {
            let here = (diagonal + usize::from(letter != *other))
                .min(left + 1)
                .min(*above + 1);
            diagonal = *above;
            *above = here;
            left = here;
            least = least.min(here);
        }
        // It only grows from line to line.
        if least > most {
            return None;
        }
        if let Some(first) = row.first_mut() {
            *first = line + 1;
        }
    }
    row.last().copied().filter(|distance| *distance <= most)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_put_in_left_out_and_changed_are_counted() {
        let edits = |a: &str, b: &str, most| edits(&a.chars().collect::<Vec<_>>(), b, most);
        assert_eq!(edits("kitten", "sitting", 3), Some(3));
        assert_eq!(edits("kitten", "sitting", 2), None);
        assert_eq!(edits("", "abc", 3), Some(3));
        assert_eq!(edits("abc", "", 3), Some(3));
        assert_eq!(edits("abc", "", 2), None);
        assert_eq!(edits("same", "same", 0), Some(0));
    }

    #[test]
    fn nothing_is_near_to_nonsense() {
        assert!(nearest("xqzzy", ["Europe/Madrid"].into_iter(), 3).is_empty());
        assert!(nearest(&"a".repeat(100_000), ["a"].into_iter(), 3).is_empty());
    }
}
