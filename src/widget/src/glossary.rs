//! Words of the trade. Where one stands in a text it can be tapped or hovered; what it means is said by `rooms/words.rs`, which comes
//! when it is asked for.

use planting::order::sort_by;

/// A word of the trade.
#[derive(Debug, PartialEq)]
pub(crate) struct TradeWord {
    /// The word as it heads its definition; its meaning is found by it.
    pub(crate) name: &'static str,
    /// How it stands in running text, in lower case; longer forms first.
    forms: &'static [&'static str],
}

/// A piece of a text.
#[derive(Debug, PartialEq)]
pub(crate) enum TextPart<'a> {
    /// Plain words.
    Plain(&'a str),
    /// A word with a meaning, as it stands in the text.
    Term(&'a str, &'static TradeWord),
}

static TRADE_WORDS: &[TradeWord] = &[
    TradeWord { name: "Leader", forms: &["central leader", "leaders", "leader"] },
    TradeWord { name: "Graft union", forms: &["graft unions", "graft union"] },
    TradeWord { name: "Headland", forms: &["headlands", "headland"] },
    TradeWord { name: "Tie-back", forms: &["tie-backs", "tie-back", "tied-back"] },
    TradeWord { name: "H-brace", forms: &["h-braces", "h-brace"] },
    TradeWord { name: "Embedment", forms: &["post depth in the ground", "depth in the ground", "embedment"] },
    TradeWord {
        name: "Trunk area (TCSA)",
        forms: &["trunk cross-section", "trunk areas", "trunk area", "tcsa"],
    },
    TradeWord { name: "In-row spacing", forms: &["in-row spacing"] },
    TradeWord { name: "Canopy fill", forms: &["canopy fill"] },
    TradeWord { name: "Row azimuth", forms: &["row direction", "row azimuth"] },
];

/// Splits a text where each word of the trade first stands in it.
pub(crate) fn marked(text: &str) -> Vec<TextPart<'_>> {
    let lower = text.to_ascii_lowercase();
    let mut found: Vec<(usize, usize, &'static TradeWord)> = Vec::new();
    for term in TRADE_WORDS {
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
            pieces.push(TextPart::Plain(&text[after..from]));
        }
        pieces.push(TextPart::Term(&text[from..to], term));
        after = to;
    }
    if after < text.len() {
        pieces.push(TextPart::Plain(&text[after..]));
    }
    pieces
}

/// Where a form stands as a whole word, not as a part of a longer one.
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
    fn every_word_has_its_meaning() {
        for term in TRADE_WORDS {
            assert!(!crate::rooms::words::meaning(term.name).is_empty(), "{}", term.name);
        }
    }

    #[test]
    fn terms_are_found_once_and_whole() {
        let pieces = marked("Headland at row ends; a headland is not headlanded. Graft union low.");
        let terms: Vec<&str> = pieces
            .iter()
            .filter_map(|piece| match piece {
                TextPart::Term(word, _) => Some(*word),
                TextPart::Plain(_) => None,
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
                    TextPart::Plain(words) | TextPart::Term(words, _) => *words,
                })
                .collect();
            assert_eq!(joined, text);
        }
    }
}
