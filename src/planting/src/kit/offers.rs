//! What rooms offer each other: plain named values, handed on in the order in which rooms are computed.

use uom::si::f64::Ratio;

/// Values that have been offered so far. One that is absent hasn't been offered: its room comes later, or hasn't come.
/// Whoever asks for it then takes a stated default and says so in its figures.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Offers {
    /// Share of the season's light on the field that crowns take in the year shown; offered by light.
    pub light_taken: Option<Ratio>,
}

impl Offers {
    /// Adds what others have offered.
    pub fn add(&mut self, others: &Offers) {
        self.light_taken = self.light_taken.or(others.light_taken);
    }
}

/// The name of an offered value, for a room to say what it offers and what it asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Offer {
    /// [`Offers::light_taken`].
    LightTaken,
}
