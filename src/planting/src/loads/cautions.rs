//! Where the work can hurt, and why trellises fall: facts of others, said in plain sentences.

use crate::kit::figure::Source;

/// One caution.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Caution {
    /// What it is about, in a few words.
    pub title: &'static str,
    /// What can happen and what to do.
    pub text: &'static str,
    /// Who says so.
    pub source: Source,
}

const fn caution(title: &'static str, text: &'static str, source: Source) -> Caution {
    Caution { title, text, source }
}

/// Where the work can hurt; the last says how far this tool goes.
pub const CAUTIONS: [Caution; 7] = [
    caution(
        "Wire that springs back",
        "High-tensile wire under tension whips when it is cut, breaks or slips. Take it off a dispenser, keep out of its line while it is drawn, tie loose ends down, and wear eye protection and gloves.",
        Source::published("FISA 104, Fencing; UK fencing note of 2010"),
    ),
    caution(
        "Driving posts",
        "One person works the driver. Nobody's hands are on the post or its cap while the weight can fall, and the driver is never lifted clear of the post. Wear hearing protection.",
        Source::published("FISA 104, Fencing; the rule about hands is common practice, no source"),
    ),
    caution(
        "Augers",
        "One person, seated. Nobody else within 20 ft, shields on, the right shear bolt, and no bar to press it down.",
        Source::published("Ag-safety extension; LSU AgCenter"),
    ),
    caution(
        "Lines under and over the ground",
        "Call 811 before posts or anchors go in. Mind drains and irrigation pipes. Stay at least 10 ft from overhead lines.",
        Source::published("Ohio State Ag Safety 2021; Fraser and Oakes 1999 for drains"),
    ),
    caution(
        "Treated wood",
        "Use posts treated for ground contact. Wear gloves, and a dust mask when you cut; never burn the offcuts.",
        Source::published("UGA, Sumner; cutting and burning are common practice, no source"),
    ),
    caution(
        "Storms",
        "Long bare wires draw lightning: keep people away from them in thunderstorms.",
        Source::practice("Common practice, no source"),
    ),
    caution(
        "What this is",
        "A planning estimate, not a design. Local codes, makers' ratings and soil tests come first; have a licensed engineer check posts and anchors, and any net or shade cloth.",
        Source::assumption("Project's own words"),
    ),
];

/// Why trellises have fallen.
pub const COLLAPSES: [Caution; 6] = [
    caution(
        "Anchors",
        "Weak anchorage is the cause named most: anchors too small, at a wrong angle, too near the post, or in ground that was dug and filled again.",
        Source::published(
            "OMAFRA support sheet; Fraser and Oakes 1999; Good Fruit Grower, Constructing a trellis",
        ),
    ),
    caution(
        "Soil or post",
        "Posts fail in two ways only: the soil lets them turn over, or they break at the ground. Nine of ten failures surveyed in Washington were in blocks of ten years or younger.",
        Source::published("De Kleine, WTFRC, in Good Fruit Grower and Growing Produce"),
    ),
    caution(
        "Posts",
        "Thinner than 3 in, short and shallow, and 50 ft apart.",
        Source::published("Kuhn in Good Fruit Grower"),
    ),
    caution(
        "Row ends",
        "Most fences that fail begin to at badly built ends: a short brace span, a light or low rail, shallow posts, staples driven home.",
        Source::published("UF CIR792; UGA, Sumner"),
    ),
    caution(
        "Shade cloth",
        "Cloth put on a trellis that was not built for it broke the posts at the ground.",
        Source::published("Growing Produce, on solid foundations"),
    ),
    caution(
        "Wet ground",
        "Wind, snow and waterlogged soil together brought rows down in New York in 2011; they had been built light to save cost.",
        Source::published("Hoying and Miranda Sazo, Cornell"),
    ),
];
