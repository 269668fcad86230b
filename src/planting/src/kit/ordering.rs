//! Order lines: what is to be bought, how much of it, and which.

use super::message::Message;

/// One line of an order.
#[derive(Clone, Debug, PartialEq)]
pub struct OrderLine {
    /// Key of the figure that says how much.
    pub figure: &'static str,
    /// Which: size, kind, or how it was counted.
    pub which: Message,
}
