//! What every sheet carries beside its picture: title, scale bar, north arrow, break lines.

use super::Board;
use super::geometry::{Bounds, Point, Span};
use super::path::Path;
use super::scale::round_length;
use super::sheet::{Anchor, Ink, LayerName, Lettering, Text, ems};
use crate::measure::{Units, rounded};

const LAYER: LayerName = LayerName::Furniture;

/// Height of the strip at the foot of a sheet that holds title and scale bar, in ems.
pub(crate) const FOOT_EMS: f64 = 3.4;

impl Board {
    /// Title on the left and scale bar on the right of the strip, its lower edge at `bottom`; nothing where the frame has no foot.
    pub(crate) fn title_and_bar(&mut self, title: &str, scale: f64, strip: Span, bottom: f64) {
        if !self.frame.has_foot {
            return;
        }
        self.scale_bar(scale, strip, bottom);
        let y = bottom - self.em() * 1.2;
        let at = Point::new(strip.from, y);
        let heading = self.text(at, Anchor::Start, Lettering::Title, title);
        let short = self.text(at, Anchor::Start, Lettering::Title, title.split(',').next().unwrap_or(title));
        self.write_first(LAYER, [heading, short]);
    }

    /// A scale bar at the right end of a strip, no longer than about a third of it; nothing where the frame has no foot.
    pub(crate) fn scale_bar(&mut self, scale: f64, strip: Span, bottom: f64) {
        if !self.frame.has_foot {
            return;
        }
        let em = self.em();
        let room = strip.length();
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
        let label_room = ems(&end_label) * em * 0.9 / 2.0;
        let x = strip.to - width - label_room - em * 0.2;
        let (top, foot) = (y - em * 0.05, y + em * 0.4);
        let corner = Point::new(x, top);
        let (half_way, end) = (Point::new(x + width / 2.0, foot), Point::new(x + width, foot));
        self.path(LAYER, Ink::Solid, Path::new().rectangle(corner, half_way));
        self.path(LAYER, Ink::Fine, Path::new().rectangle(corner, end));
        self.keep_clear(Bounds::between(corner, end));
        let note = |board: &Board, at: f64, content: String| {
            board.text(Point::new(at, y - em * 0.75), Anchor::Middle, Lettering::Note, content)
        };
        let last = note(self, end.x, end_label);
        self.write(LAYER, last);
        let nought = note(self, x, "0".to_owned());
        self.write(LAYER, nought);
        let half = note(self, half_way.x, rounded(bar / one / 2.0, 2));
        self.write(LAYER, half);
    }

    /// A north arrow in a circle of `radius`; `turned` is how far north lies to the left of straight up,
    /// in radians.
    pub(crate) fn north_arrow(&mut self, centre: Point, radius: f64, turned: f64) {
        let (sin, cos) = turned.sin_cos();
        // On paper x runs right and y down; "ahead" is toward north.
        let ahead = |along: f64, right: f64| {
            let Point { x, y } = centre;
            Point::new(
                x - along * sin * radius + right * cos * radius,
                y - along * cos * radius - right * sin * radius,
            )
        };
        let tip = ahead(1.0, 0.0);
        self.path(LAYER, Ink::Fine, Path::new().circle(centre, radius));
        self.path(LAYER, Ink::Solid, Path::new().closed(&[tip, ahead(-0.75, 0.45), ahead(-0.4, 0.0)]));
        self.path(LAYER, Ink::Fine, Path::new().closed(&[tip, ahead(-0.75, -0.45), ahead(-0.4, 0.0)]));
        let letter = ahead(1.0 + self.em() * 0.65 / radius, 0.0);
        let text = self.text(letter, Anchor::Middle, Lettering::Label, "N");
        self.write(LAYER, text);
        // After the letter, which may stand in a corner of the circle's square.
        self.keep_clear(Bounds::around(centre, radius));
    }

    /// A zigzag break line between two levels, where a drawing ends but the thing goes on.
    pub(crate) fn break_line(&mut self, x: f64, levels: Span) {
        let step = self.em() * 0.5;
        let middle = levels.middle();
        let points = [
            (x, levels.from),
            (x, middle - 1.5 * step),
            (x + step, middle - 0.5 * step),
            (x - step, middle + 0.5 * step),
            (x, middle + 1.5 * step),
            (x, levels.to),
        ]
        .map(|(x, y)| Point::new(x, y));
        self.path(LAYER, Ink::Fine, Path::new().open(&points));
    }

    /// A note with a thin leader from the thing it speaks of.
    pub(crate) fn note_with_leader(&mut self, thing: Point, note: Text) -> bool {
        let at = note.at;
        let gap = self.em() * 0.3;
        let end = match note.anchor {
            Anchor::Start => at.moved(-gap, 0.0),
            Anchor::End => at.moved(gap, 0.0),
            Anchor::Middle => at.moved(0.0, if thing.y > at.y { self.em() * 0.7 } else { -self.em() * 0.7 }),
        };
        if !self.write(LayerName::Dimensions, note) {
            return false;
        }
        self.thin_line(thing, end);
        true
    }
}
