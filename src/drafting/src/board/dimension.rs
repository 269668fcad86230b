//! Dimensions after ISO 129-1: thin lines with filled arrowheads, the figure above the line, upright
//! dimensions read from the right; a figure too long for its span stands beside it.

use super::geometry::{Direction, Line, Point, Span};
use super::path::Path;
use super::sheet::{Anchor, LayerName, Text, ems};
use super::{Board, LIT, Pass};

const LAYER: LayerName = LayerName::Dimensions;

impl Board {
    /// Height of the figure of a dimension of this pass.
    fn dimension_size(&self) -> f64 {
        if self.pass == Pass::Lit { self.em() * LIT } else { self.em() }
    }

    fn arrow_length(&self) -> f64 {
        self.em() * 0.6
    }

    /// Space between parallel dimension lines.
    pub(crate) fn lane(&self) -> f64 {
        self.em() * 1.75
    }

    fn arrow(&mut self, tip: Point, toward: Direction) {
        let (length, half) = (self.arrow_length(), self.arrow_length() * 0.22);
        let back = tip.moved(-(toward.right * length), -(toward.down * length));
        let (right, down) = (-toward.down * half, toward.right * half);
        let corners = [tip, back.moved(right, down), back.moved(-right, -down)];
        self.path(LAYER, self.arrow_ink(), Path::new().closed(&corners));
    }

    /// A level dimension between two uprights, its line at height `y`. Extension lines run from the
    /// object, whose edge stands at the height `object` below either upright, to just past the line.
    /// Draws nothing where its figure finds no room.
    pub(crate) fn across(&mut self, uprights: Span, y: f64, object: f64, content: &str) -> bool {
        let Span { from: x1, to: x2 } = uprights;
        let em = self.em();
        let (gap, over) = (em * 0.25, em * 0.3);
        let size = self.dimension_size();
        let width = ems(content) * size;
        let span = uprights.length();
        let lettering = self.dimension_lettering();
        let above =
            self.text(Point::new(uprights.middle(), y - size * 0.7), Anchor::Middle, lettering, content);
        let tail = self.arrow_length() * 1.6;
        let right = self.text(Point::new(x2 + tail + em * 0.3, y), Anchor::Start, lettering, content);
        let left = self.text(Point::new(x1 - tail - em * 0.3, y), Anchor::End, lettering, content);
        let fits = width + em * 0.4 <= span;
        let along = fits && self.write(LAYER, above);
        if !along && !self.write_first(LAYER, [right, left]) {
            return false;
        }
        let inward = !along || span < 3.0 * self.arrow_length();
        let ends = if inward { uprights.widened(tail) } else { uprights };
        let mut lines = vec![Line::new(Point::new(ends.from, y), Point::new(ends.to, y))];
        let way = if y >= object { 1.0 } else { -1.0 };
        if (y - object).abs() > gap {
            lines.extend(
                [x1, x2].map(|x| Line::new(Point::new(x, object + way * gap), Point::new(x, y + way * over))),
            );
        }
        self.thin_lines(lines);
        let (first, second) =
            if inward { (Direction::RIGHT, Direction::LEFT) } else { (Direction::LEFT, Direction::RIGHT) };
        self.arrow(Point::new(x1, y), first);
        self.arrow(Point::new(x2, y), second);
        true
    }

    /// An upright dimension between two levels, the upper one first, its line at `x`. Extension lines run
    /// from the object: `object.from` is its edge at the upper level, `object.to` at the lower.
    pub(crate) fn upright(&mut self, levels: Span, x: f64, object: Span, content: &str) -> bool {
        let Span { from: top, to: bottom } = levels;
        let em = self.em();
        let (gap, over) = (em * 0.25, em * 0.3);
        let (size, lettering) = (self.dimension_size(), self.dimension_lettering());
        let width = ems(content) * size;
        let span = levels.length();
        let middle = levels.middle();
        let along = Text {
            upright: true,
            ..self.text(Point::new(x - size * 0.7, middle), Anchor::Middle, lettering, content)
        };
        let tail = self.arrow_length() * 1.6;
        let beside =
            |anchor, offset: f64, y| self.text(Point::new(x + offset, y), anchor, lettering, content);
        // Away from the object first.
        let outward = if x >= object.from { 1.0 } else { -1.0 };
        let side = |way: f64| if way > 0.0 { Anchor::Start } else { Anchor::End };
        // Toward it only where it ends before the object does.
        let room = (x - object.from).abs().min((x - object.to).abs());
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
        let drawn = if inward { levels.widened(tail) } else { levels };
        let mut lines = vec![Line::new(Point::new(x, drawn.from), Point::new(x, drawn.to))];
        for (y, from) in [(top, object.from), (bottom, object.to)] {
            let way = if x >= from { 1.0 } else { -1.0 };
            if (x - from).abs() > gap {
                lines.push(Line::new(Point::new(from + way * gap, y), Point::new(x + way * over, y)));
            }
        }
        self.thin_lines(lines);
        let (upper, lower) =
            if inward { (Direction::DOWN, Direction::UP) } else { (Direction::UP, Direction::DOWN) };
        self.arrow(Point::new(x, top), upper);
        self.arrow(Point::new(x, bottom), lower);
        true
    }
}
