//! Dimensions after ISO 129-1: thin lines with filled arrowheads, the figure above the line, upright
//! dimensions read from the right; a figure too long for its span stands beside it.

use crate::board::Board;
use crate::path::Path;
use crate::sheet::{Anchor, Ink, LayerName, Lettering, Text, ems};

const LAYER: LayerName = LayerName::Dimensions;

impl Board {
    fn arrow_length(&self) -> f64 {
        self.em() * 0.6
    }

    /// Space between parallel dimension lines.
    pub(crate) fn lane(&self) -> f64 {
        self.em() * 1.75
    }

    fn arrow(&mut self, tip: (f64, f64), toward: (f64, f64)) {
        let (length, half) = (self.arrow_length(), self.arrow_length() * 0.22);
        let back = (tip.0 - toward.0 * length, tip.1 - toward.1 * length);
        let side = (-toward.1 * half, toward.0 * half);
        let corners = [tip, (back.0 + side.0, back.1 + side.1), (back.0 - side.0, back.1 - side.1)];
        self.path(LAYER, Ink::Arrow, Path::new().closed(&corners));
    }

    /// A level dimension between two uprights at `x1 < x2`, its line at height `y`, extension lines from
    /// `from` (the object) to just past the line. Draws nothing where its figure finds no room.
    pub(crate) fn across(&mut self, x1: f64, x2: f64, y: f64, from: (f64, f64), content: &str) -> bool {
        let em = self.em();
        let (gap, over) = (em * 0.25, em * 0.3);
        let width = ems(content) * em;
        let span = x2 - x1;
        let above = self.text(((x1 + x2) / 2.0, y - em * 0.7), Anchor::Middle, Lettering::Label, content);
        let tail = self.arrow_length() * 1.6;
        let right = self.text((x2 + tail + em * 0.3, y), Anchor::Start, Lettering::Label, content);
        let left = self.text((x1 - tail - em * 0.3, y), Anchor::End, Lettering::Label, content);
        let fits = width + em * 0.4 <= span;
        let (ends, beside) = if fits && self.is_free(&above) {
            self.write(LAYER, above);
            ((x1, x2), false)
        } else if self.is_free(&right) {
            self.write(LAYER, right);
            ((x1 - tail, x2 + tail), true)
        } else if self.is_free(&left) {
            self.write(LAYER, left);
            ((x1 - tail, x2 + tail), true)
        } else {
            return false;
        };
        let inward = beside || span < 3.0 * self.arrow_length();
        let ends = if inward { (x1 - tail, x2 + tail) } else { ends };
        let mut lines = vec![[(ends.0, y), (ends.1, y)]];
        for (x, from) in [(x1, from.0), (x2, from.1)] {
            let way = if y >= from { 1.0 } else { -1.0 };
            if (y - from).abs() > gap {
                lines.push([(x, from + way * gap), (x, y + way * over)]);
            }
        }
        self.thin_lines(lines);
        let way = if inward { -1.0 } else { 1.0 };
        self.arrow((x1, y), (-way, 0.0));
        self.arrow((x2, y), (way, 0.0));
        true
    }

    /// An upright dimension between two levels `top < bottom`, its line at `x`, extension lines from
    /// `from` (the object at the top and at the bottom).
    pub(crate) fn upright(&mut self, top: f64, bottom: f64, x: f64, from: (f64, f64), content: &str) -> bool {
        let em = self.em();
        let (gap, over) = (em * 0.25, em * 0.3);
        let width = ems(content) * em;
        let span = bottom - top;
        let middle = (top + bottom) / 2.0;
        let along = Text {
            upright: true,
            ..self.text((x - em * 0.7, middle), Anchor::Middle, Lettering::Label, content)
        };
        let tail = self.arrow_length() * 1.6;
        let beside = |anchor, offset: f64, y| self.text((x + offset, y), anchor, Lettering::Label, content);
        // Away from the object first.
        let outward = if x >= from.0 { 1.0 } else { -1.0 };
        let side = |way: f64| if way > 0.0 { Anchor::Start } else { Anchor::End };
        // Toward it only where it ends before the object does.
        let room = (x - from.0).abs().min((x - from.1).abs());
        let inside = (width + em <= room).then(|| beside(side(-outward), -outward * em * 0.5, middle));
        let choices = [Some(beside(side(outward), outward * em * 0.5, middle)), inside];
        let choices = choices.into_iter().flatten().chain([
            beside(Anchor::End, -em * 0.5, top - em * 0.6),
            beside(Anchor::Start, em * 0.5, top - em * 0.6),
            beside(Anchor::Start, em * 0.5, bottom + em * 0.6),
        ]);
        let fits = width + em * 0.4 <= span;
        let written = (fits && self.write(LAYER, along)) || self.write_first(LAYER, choices);
        if !written {
            return false;
        }
        let inward = span < 3.0 * self.arrow_length();
        let (y1, y2) = if inward { (top - tail, bottom + tail) } else { (top, bottom) };
        let mut lines = vec![[(x, y1), (x, y2)]];
        for (y, from) in [(top, from.0), (bottom, from.1)] {
            let way = if x >= from { 1.0 } else { -1.0 };
            if (x - from).abs() > gap {
                lines.push([(from + way * gap, y), (x + way * over, y)]);
            }
        }
        self.thin_lines(lines);
        let way = if inward { -1.0 } else { 1.0 };
        self.arrow((x, top), (0.0, -way));
        self.arrow((x, bottom), (0.0, way));
        true
    }
}
