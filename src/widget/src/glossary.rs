//! Words of the trade, said plainly. Where one stands in a text it can be tapped or hovered.

use planting::order::sort_by;

/// A word and what it means.
#[derive(Debug, PartialEq)]
pub(crate) struct Term {
    /// The word as it heads its definition.
    pub(crate) name: &'static str,
    /// How it stands in running text, in lower case; longer forms first.
    forms: &'static [&'static str],
    /// What it means.
    pub(crate) meaning: &'static str,
}

/// A piece of a text.
#[derive(Debug, PartialEq)]
pub(crate) enum Piece<'a> {
    /// Plain words.
    Plain(&'a str),
    /// A word with a meaning, as it stands in the text.
    Term(&'a str, &'static Term),
}

static TERMS: &[Term] = &[
    Term {
        name: "Leader",
        forms: &["central leader", "leaders", "leader"],
        meaning: "The upright main stem of the tree. A spindle has one; a bi-axis tree has two.",
    },
    Term {
        name: "Graft union",
        forms: &["graft unions", "graft union"],
        meaning: "The joint between rootstock and the cultivar grafted on it. It must stay above the soil, or the cultivar grows its own roots and the rootstock no longer holds the tree small.",
    },
    Term {
        name: "Headland",
        forms: &["headlands", "headland"],
        meaning: "The free strip at the ends of the rows, for turning machines and for anchors.",
    },
    Term {
        name: "Tie-back",
        forms: &["tie-backs", "tie-back", "tied-back"],
        meaning: "A row end with a leaning post and a guy wire to an anchor in the ground behind it.",
    },
    Term {
        name: "H-brace",
        forms: &["h-braces", "h-brace"],
        meaning: "A row end of two upright posts with a rail between them and a diagonal wire; it needs no anchor in the headland.",
    },
    Term {
        name: "Embedment",
        forms: &["post depth in the ground", "depth in the ground", "embedment"],
        meaning: "How deep a post stands in the ground. The deeper it stands, the more push it takes at the top.",
    },
    Term {
        name: "Trunk area (TCSA)",
        forms: &["trunk cross-section", "trunk areas", "trunk area", "tcsa"],
        meaning: "Cross-section of the trunk about a foot above the union. Trials compare the vigour of rootstocks by it, and crop load is counted per square centimetre of it.",
    },
    Term {
        name: "In-row spacing",
        forms: &["in-row spacing"],
        meaning: "Distance from one trunk to the next along the row.",
    },
    Term {
        name: "Canopy fill",
        forms: &["canopy fill"],
        meaning: "Volume of the crowns against the space they are given. Near 100 % the planting uses its space; a young one is far below.",
    },
    Term {
        name: "Row azimuth",
        forms: &["row direction", "row azimuth"],
        meaning: "The direction the rows run, clockwise from north. 0° is north-south, 90° is east-west.",
    },
];

/// Splits a text at the first standing of each term.
pub(crate) fn marked(text: &str) -> Vec<Piece<'_>> {
    let lower = text.to_ascii_lowercase();
    let mut found: Vec<(usize, usize, &'static Term)> = Vec::new();
    for term in TERMS {
        let place =
            term.forms.iter().find_map(|form| stands_at(&lower, form).map(|at| (at, at + form.len())));
        if let Some((from, to)) = place
            && !found.iter().any(|(start, end, _)| from < *end && *start < to)
        {
            found.push((from, to, term));
        }
    }
    sort_by(&mut found, |one, other| one.0.cmp(&other.0));
    let mut pieces = Vec::new();
    let mut after = 0;
    for (from, to, term) in found {
        if from > after {
            pieces.push(Piece::Plain(&text[after..from]));
        }
        pieces.push(Piece::Term(&text[from..to], term));
        after = to;
    }
    if after < text.len() {
        pieces.push(Piece::Plain(&text[after..]));
    }
    pieces
}

/// Where a form stands as a word of its own.
fn stands_at(lower: &str, form: &str) -> Option<usize> {
    let is_letter = |byte: Option<&u8>| byte.is_some_and(u8::is_ascii_alphanumeric);
    let bytes = lower.as_bytes();
    // Byte by byte: the standard library's way of finding texts costs a download more than a page of terms costs time.
    bytes.windows(form.len()).enumerate().find_map(|(at, window)| {
        let before = at.checked_sub(1).and_then(|place| bytes.get(place));
        let alone = !is_letter(before) && !is_letter(bytes.get(at + form.len()));
        (alone && window == form.as_bytes()).then_some(at)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn terms_are_found_once_and_whole() {
        let pieces = marked("Headland at row ends; a headland is not headlanded. Graft union low.");
        let terms: Vec<&str> = pieces
            .iter()
            .filter_map(|piece| match piece {
                Piece::Term(word, _) => Some(*word),
                Piece::Plain(_) => None,
            })
            .collect();
        assert_eq!(terms, ["Headland", "Graft union"]);
    }

    #[test]
    fn nothing_is_lost() {
        for text in ["", "no trade words", "Row direction, 0° north–south; leader", "tie-back"] {
            let joined: String = marked(text)
                .iter()
                .map(|piece| match piece {
                    Piece::Plain(words) | Piece::Term(words, _) => *words,
                })
                .collect();
            assert_eq!(joined, text);
        }
    }
}
