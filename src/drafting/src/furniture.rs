//! What every sheet carries beside its picture: title, scale bar, north arrow, break lines.

use crate::board::Board;
use crate::measure::{Units, rounded};
use crate::path::Path;
use crate::scale::round_length;
use crate::sheet::{Anchor, Bounds, Ink, LayerName, Lettering, Text};

const LAYER: LayerName = LayerName::Furniture;

/// Height of the strip at the foot of a sheet that holds title and scale bar, in ems.
pub(crate) const FOOT_EMS: f64 = 3.4;

impl Board {
    /// Title on the left and scale bar on the right of the strip between `left` and `right`, its lower
    /// edge at `bottom`.
    pub(crate) fn title_and_bar(&mut self, title: &str, scale: f64, (left, right): (f64, f64), bottom: f64) {
        self.scale_bar(scale, (left, right), bottom);
        let y = bottom - self.em() * 1.2;
        let heading = self.text((left, y), Anchor::Start, Lettering::Title, title);
        let short =
            self.text((left, y), Anchor::Start, Lettering::Title, title.split(',').next().unwrap_or(title));
        self.write_first(LAYER, [heading, short]);
    }

    /// A scale bar that ends at `right`, no longer than about a third of the strip.
    pub(crate) fn scale_bar(&mut self, scale: f64, (left, right): (f64, f64), bottom: f64) {
        let em = self.em();
        let room = right - left;
        let y = bottom - em * 1.2;
        let one = match self.units() {
            Units::Us => 0.3048,
            Units::Metric => 1.0,
        };
        let unit = match self.units() {
            Units::Us => "ft",
            Units::Metric => "m",
        };
        let bar = round_length((room * 0.36).min(em * 14.0) / scale, self.units());
        let width = bar * scale;
        let end_label = format!("{} {unit}", rounded(bar / one, 2));
        let label_room = crate::sheet::ems(&end_label) * em * 0.9 / 2.0;
        let x = right - width - label_room - em * 0.2;
        let (top, foot) = (y - em * 0.05, y + em * 0.4);
        let halves = (x + width / 2.0, x + width);
        self.path(LAYER, Ink::Solid, Path::new().rectangle((x, top), (halves.0, foot)));
        self.path(LAYER, Ink::Fine, Path::new().rectangle((x, top), (halves.1, foot)));
        self.keep_clear(Bounds { left: x, right: x + width, top, bottom: foot });
        let note = |board: &Board, at: f64, content: String| {
            board.text((at, y - em * 0.75), Anchor::Middle, Lettering::Note, content)
        };
        let end = note(self, halves.1, end_label);
        self.write(LAYER, end);
        let nought = note(self, x, "0".to_owned());
        self.write(LAYER, nought);
        let half = note(self, halves.0, rounded(bar / one / 2.0, 2));
        self.write(LAYER, half);
    }

    /// A north arrow in a circle of `radius`; `turned` is how far north lies to the left of straight up,
    /// in radians.
    pub(crate) fn north_arrow(&mut self, (x, y): (f64, f64), radius: f64, turned: f64) {
        let (sin, cos) = turned.sin_cos();
        // On paper x runs right and y down; "ahead" is toward north.
        let ahead = |along: f64, right: f64| {
            (x - along * sin * radius + right * cos * radius, y - along * cos * radius - right * sin * radius)
        };
        let tip = ahead(1.0, 0.0);
        self.path(LAYER, Ink::Fine, Path::new().circle((x, y), radius));
        self.path(LAYER, Ink::Solid, Path::new().closed(&[tip, ahead(-0.75, 0.45), ahead(-0.4, 0.0)]));
        self.path(LAYER, Ink::Fine, Path::new().closed(&[tip, ahead(-0.75, -0.45), ahead(-0.4, 0.0)]));
        let letter = ahead(1.0 + self.em() * 0.65 / radius, 0.0);
        let text = self.text(letter, Anchor::Middle, Lettering::Label, "N");
        self.write(LAYER, text);
        // After the letter, which may stand in a corner of the circle's square.
        self.keep_clear(Bounds { left: x - radius, right: x + radius, top: y - radius, bottom: y + radius });
    }

    /// A zigzag break line between two levels, where a drawing ends but the thing goes on.
    pub(crate) fn break_line(&mut self, x: f64, top: f64, bottom: f64) {
        let step = self.em() * 0.5;
        let middle = (top + bottom) / 2.0;
        let points = [
            (x, top),
            (x, middle - 1.5 * step),
            (x + step, middle - 0.5 * step),
            (x - step, middle + 0.5 * step),
            (x, middle + 1.5 * step),
            (x, bottom),
        ];
        self.path(LAYER, Ink::Fine, Path::new().open(&points));
    }

    /// A note with a thin leader from the thing it speaks of.
    pub(crate) fn note_with_leader(&mut self, thing: (f64, f64), note: Text) -> bool {
        let (x, y) = note.at;
        let gap = self.em() * 0.3;
        let end = match note.anchor {
            Anchor::Start => (x - gap, y),
            Anchor::End => (x + gap, y),
            Anchor::Middle => (x, y + if thing.1 > y { self.em() * 0.7 } else { -self.em() * 0.7 }),
        };
        if !self.write(LayerName::Dimensions, note) {
            return false;
        }
        self.thin_line(thing, end);
        true
    }
}
