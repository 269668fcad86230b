//! Where the work can hurt, why trellises fall, and what is usual: facts of others, said in plain sentences.

use crate::kit::figure::Source;
use crate::kit::message::{Message, Slot};
use crate::kit::quantity::{Quantity, feet, inches};

/// Something to know, who says so, and what it is about.
#[derive(Clone, Debug, PartialEq)]
pub struct Caution {
    /// What it is about, in a few words.
    pub title: &'static str,
    /// What can happen and what to do, or what is usual.
    pub text: Message,
    /// Who says so.
    pub source: Source,
}

fn caution(title: &'static str, text: &'static str, source: Source) -> Caution {
    Caution { title, text: Message::plain(text), source }
}

fn numbered(
    title: &'static str,
    text: &'static str,
    values: impl Into<Vec<Slot>>,
    source: Source,
) -> Caution {
    Caution { title, text: Message::new(text, values), source }
}

fn small(inch: f64) -> Slot {
    Slot::Number(inches(inch).value, Quantity::SmallLength)
}

/// Where the work can hurt; the last says how far this tool goes.
///
/// ```
/// let cautions = planting::loads::cautions();
/// assert!(cautions.last().unwrap().text.template.contains("licensed engineer"));
/// ```
pub fn cautions() -> Vec<Caution> {
    vec![
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
        numbered(
            "Augers",
            "One person, seated. Nobody else within {0}, shields on, the right shear bolt, and no bar to press it down.",
            [feet(20.0).into()],
            Source::published("Ag-safety extension; LSU AgCenter"),
        ),
        numbered(
            "Lines under and over the ground",
            "Call 811 before posts or anchors go in. Mind drains and irrigation pipes. Stay at least {0} from overhead lines.",
            [feet(10.0).into()],
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
    ]
}

/// Why trellises have fallen.
pub fn collapses() -> Vec<Caution> {
    vec![
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
        numbered(
            "Posts",
            "Posts thinner than {0}, short and shallow, or {1} apart.",
            [small(3.0), feet(50.0).into()],
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
    ]
}

/// What is usual: the published practice that posts, anchors and ends are judged against beside any index.
pub fn practice() -> Vec<Caution> {
    vec![
        numbered(
            "Between line posts",
            "{0} to {1} is best in vertical trellises, {2} average, {3} has been trouble; {4} in super spindle.",
            [32.0, 35.0, 40.0, 50.0, 20.0].map(|length| Slot::from(feet(length))),
            Source::published("Kuhn and Ferri in Good Fruit Grower"),
        ),
        numbered(
            "Line posts",
            "At least {0} thick, {0} to {1} preferred; corner and end posts {2} to {3}.",
            [small(3.0), small(4.0), small(5.0), small(6.0)],
            Source::published("Kuhn in Good Fruit Grower; UGA; UF CIR792"),
        ),
        numbered(
            "In the ground",
            "At least a quarter of the post; {0} of a post {1} long in newer plantings. Driven posts resist turning over about half as much again as augered ones, and a third more depth about doubles it.",
            [feet(3.0).into(), feet(14.0).into()],
            Source::published("Fraser and Kuhn in Good Fruit Grower; OMAFRA"),
        ),
        numbered(
            "Tie-backs",
            "The anchor as far out as the post stands above the ground, the post leaned 15 to 18° toward it; screw anchors {0} to {1} long with plates of at least {2}.",
            [feet(4.0).into(), feet(5.0).into(), small(6.0)],
            Source::published("Good Fruit Grower, Constructing a trellis; OMAFRA tall-spindle support sheet"),
        ),
        numbered(
            "H-braces",
            "Posts {0} to {1} apart, set {2} deep.",
            [feet(8.0).into(), feet(10.0).into(), feet(3.5).into()],
            Source::published("UW Extension; NRCS Mississippi, code 382"),
        ),
    ]
}
