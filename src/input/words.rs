//! Words nearly right.

/// The word of `known` that is most like `word`, if one is like enough to be meant.
pub(super) fn near<'k>(word: &str, known: impl IntoIterator<Item = &'k str>) -> Option<&'k str> {
    // Long texts are no misspelt words, and the distance is quadratic in the length.
    if word.len() > 100 {
        return None;
    }
    let word = word.to_lowercase();
    let likeness = |other: &str| {
        let other = other.to_lowercase();
        // A word with something left out or added counts too: `wells` for `between_wells`.
        let part = word.len() >= 4 && other.len() >= 4;
        let part = part && (other.contains(&word) || word.contains(other.as_str()));
        let alike = strsim::normalized_damerau_levenshtein(&word, &other);
        let jaro = strsim::jaro_winkler(&word, &other);
        if part {
            alike.max(0.7)
        } else if jaro >= 0.9 {
            alike.max(0.61)
        } else {
            alike
        }
    };
    known
        .into_iter()
        .filter(|other| other.len() <= 100)
        .map(|other| (likeness(other), other))
        .filter(|(alike, _)| *alike > 0.6)
        // The first of those equally alike, so that the suggestion is always the same.
        .reduce(|best, next| if next.0 > best.0 { next } else { best })
        .map(|(_, other)| other)
}

#[cfg(test)]
mod tests {
    use super::near;

    #[test]
    fn misspelt_words_find_their_like() {
        let keys = ["between_wells", "clear_height", "width", "wells", "depth"];
        let found = |word| near(word, keys);
        assert_eq!(found("between_well"), Some("between_wells"));
        assert_eq!(found("beetween_wells"), Some("between_wells"));
        assert_eq!(found("widht"), Some("width"));
        assert_eq!(found("Depth"), Some("depth"));
        assert_eq!(found("height"), Some("clear_height"));
        assert_eq!(found("colour"), None);
        assert_eq!(found(&"w".repeat(1000)), None);
    }
}
