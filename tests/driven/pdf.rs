//! A printed page, measured: what is painted where, in points from the lower left corner of the paper.
//!
//! It reads the drawing operators a browser writes, nested forms included, and follows the matrix and the clip. It doesn't
//! resolve fonts, patterns or transparency: whether something is to be seen is for the eye, where it lies is for this.
//!
//! ```text
//!   top ┌─────────┐     bounds: the path as drawn, half its pen included
//!       │  mark ┌─┼──── clip: what lets paint through
//! bottom└───────┼─┘     visible: where the two meet
//!      left   right
//! ```

use anyhow::{Context, Result, bail};
use lopdf::content::{Content, Operation};
use lopdf::{Dictionary, Document, Object, ObjectId};

/// Points in a millimetre.
const POINTS_PER_MM: f64 = 72.0 / 25.4;

/// A form within a form within a form …: deeper than this is a circle.
const DEPTH: usize = 32;

/// An upright rectangle in points, the origin at the lower left corner of the paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Rect {
    pub(crate) left: f64,
    pub(crate) bottom: f64,
    pub(crate) right: f64,
    pub(crate) top: f64,
}

impl Rect {
    const NOTHING: Self =
        Self { left: f64::INFINITY, bottom: f64::INFINITY, right: f64::NEG_INFINITY, top: f64::NEG_INFINITY };
    const EVERYTHING: Self =
        Self { left: f64::NEG_INFINITY, bottom: f64::NEG_INFINITY, right: f64::INFINITY, top: f64::INFINITY };

    pub(crate) fn width_mm(self) -> f64 {
        (self.right - self.left) / POINTS_PER_MM
    }

    pub(crate) fn height_mm(self) -> f64 {
        (self.top - self.bottom) / POINTS_PER_MM
    }

    /// Whether another lies in it, give or take some points.
    pub(crate) fn holds(self, other: Self, tolerance: f64) -> bool {
        other.left >= self.left - tolerance
            && other.bottom >= self.bottom - tolerance
            && other.right <= self.right + tolerance
            && other.top <= self.top + tolerance
    }

    fn is_empty(self) -> bool {
        self.left > self.right || self.bottom > self.top
    }

    fn with(self, x: f64, y: f64) -> Self {
        Self {
            left: self.left.min(x),
            bottom: self.bottom.min(y),
            right: self.right.max(x),
            top: self.top.max(y),
        }
    }

    fn meet(self, other: Self) -> Self {
        Self {
            left: self.left.max(other.left),
            bottom: self.bottom.max(other.bottom),
            right: self.right.min(other.right),
            top: self.top.min(other.top),
        }
    }

    fn grown(self, by: f64) -> Self {
        Self { left: self.left - by, bottom: self.bottom - by, right: self.right + by, top: self.top + by }
    }
}

/// How a mark came onto the paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Paint {
    Fill,
    Stroke,
    FillAndStroke,
    Image,
}

/// One painted path or picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Mark {
    pub(crate) paint: Paint,
    /// The path itself, without the width of the pen: what a scale is measured on. Of a curve, its control points.
    pub(crate) path: Rect,
    /// The pen's width in points; 0 when nothing is stroked.
    pub(crate) pen: f64,
    /// The rectangle that lets paint through. What clips by another shape counts as the rectangle around it.
    clip: Rect,
}

impl Mark {
    /// The path and half the pen around it.
    pub(crate) fn bounds(&self) -> Rect {
        self.path.grown(self.pen / 2.0)
    }

    /// Whether the clip takes more than `tolerance` points of it away.
    pub(crate) fn is_clipped(&self, tolerance: f64) -> bool {
        !self.clip.holds(self.bounds(), tolerance)
    }

    /// What of [`Mark::bounds`] the clip lets through.
    pub(crate) fn visible(&self) -> Option<Rect> {
        let visible = self.bounds().meet(self.clip);
        (!visible.is_empty()).then_some(visible)
    }
}

/// One sheet of paper.
#[derive(Clone, Debug)]
pub(crate) struct Page {
    /// The paper.
    pub(crate) media_box: Rect,
    /// How many times text is shown.
    pub(crate) text_shows: usize,
    /// Where each of those begins.
    pub(crate) text_starts: Vec<(f64, f64)>,
    /// What is painted beside text, in order.
    pub(crate) marks: Vec<Mark>,
}

impl Page {
    /// No text, and nothing but fills of the whole paper.
    pub(crate) fn is_blank(&self) -> bool {
        let inked = |mark: &Mark| {
            mark.visible().is_some() && !(mark.paint == Paint::Fill && mark.path.holds(self.media_box, 1.0))
        };
        self.text_shows == 0 && !self.marks.iter().any(inked)
    }

    /// The marks the edge of the paper cuts, more than `tolerance` points beyond it.
    ///
    /// A browser narrows every clip to the paper. An edge of the clip that lies on the paper's edge is therefore no excuse for a
    /// mark that goes on beyond; one within the paper is, because the drawing asked for it.
    pub(crate) fn cut_off(&self, tolerance: f64) -> Vec<Mark> {
        let paper = self.media_box;
        let asked_for = |edge: f64, paper_edge: f64, unbounded: f64| {
            if (edge - paper_edge).abs() <= 1.0 { unbounded } else { edge }
        };
        let cut = |mark: &&Mark| {
            let clip = Rect {
                left: asked_for(mark.clip.left, paper.left, f64::NEG_INFINITY),
                bottom: asked_for(mark.clip.bottom, paper.bottom, f64::NEG_INFINITY),
                right: asked_for(mark.clip.right, paper.right, f64::INFINITY),
                top: asked_for(mark.clip.top, paper.top, f64::INFINITY),
            };
            let seen = mark.bounds().meet(clip);
            let backdrop = mark.paint == Paint::Fill && mark.path.holds(paper, 1.0);
            !backdrop && !seen.is_empty() && !paper.holds(seen, tolerance)
        };
        self.marks.iter().filter(cut).copied().collect()
    }

    /// Text that begins off the paper.
    pub(crate) fn text_off_paper(&self) -> usize {
        let off = |&&(x, y): &&(f64, f64)| !self.media_box.holds(Rect::NOTHING.with(x, y), 0.0);
        self.text_starts.iter().filter(off).count()
    }

    /// The stroked marks this wide and high, give or take a share of it: where a known length is looked for.
    pub(crate) fn strokes_of_mm(&self, width: f64, height: f64, share: f64) -> Vec<Mark> {
        let near = |found: f64, wanted: f64| (found - wanted).abs() <= (wanted * share).max(0.01);
        let fits = |mark: &&Mark| {
            mark.pen > 0.0 && near(mark.path.width_mm(), width) && near(mark.path.height_mm(), height)
        };
        self.marks.iter().filter(fits).copied().collect()
    }
}

/// Reads a PDF file, page by page.
pub(crate) fn measure(file: &[u8]) -> Result<Vec<Page>> {
    let document = Document::load_mem(file).context("this is no PDF")?;
    document.page_iter().map(|page| Reader::read(&document, page)).collect()
}

/// What is written on each page, one space between words.
pub(crate) fn words(file: &[u8]) -> Result<Vec<String>> {
    let document = Document::load_mem(file).context("this is no PDF")?;
    let page = |number: &u32| Ok(document.extract_text(&[*number])?);
    let spaced = |text: String| text.split_whitespace().collect::<Vec<_>>().join(" ");
    document.get_pages().keys().map(|number| page(number).map(spaced)).collect()
}

/// `[a b c d e f]`: x′ = a·x + c·y + e, y′ = b·x + d·y + f (ISO 32000-1, 8.3.3).
#[derive(Clone, Copy, Debug)]
struct Matrix([f64; 6]);

impl Matrix {
    const IDENTITY: Self = Self([1.0, 0.0, 0.0, 1.0, 0.0, 0.0]);

    /// First this, then the other.
    fn then(self, other: Self) -> Self {
        let ([a, b, c, d, e, f], [g, h, i, j, k, l]) = (self.0, other.0);
        Self([
            a * g + b * i,
            a * h + b * j,
            c * g + d * i,
            c * h + d * j,
            e * g + f * i + k,
            e * h + f * j + l,
        ])
    }

    fn apply(self, x: f64, y: f64) -> (f64, f64) {
        let [a, b, c, d, e, f] = self.0;
        (a * x + c * y + e, b * x + d * y + f)
    }

    /// By how much lengths grow, on average over the directions.
    fn growth(self) -> f64 {
        let [a, b, c, d, ..] = self.0;
        (a * d - b * c).abs().sqrt()
    }
}

/// What `q` keeps and `Q` brings back, as far as it moves or clips marks.
#[derive(Clone, Copy)]
struct State {
    matrix: Matrix,
    clip: Rect,
    pen: f64,
}

struct Reader<'a> {
    document: &'a Document,
    page: Page,
    state: State,
    kept: Vec<State>,
    path: Rect,
    clips: bool,
    text_line: Matrix,
    leading: f64,
}

impl<'a> Reader<'a> {
    fn read(document: &'a Document, id: ObjectId) -> Result<Page> {
        let page = document.get_dictionary(id)?;
        let corners = numbers(inherited(document, page, b"MediaBox")?.as_array()?)?;
        let &[left, bottom, right, top] = corners.as_slice() else { bail!("a media box has four numbers") };
        let media_box = Rect { left, bottom, right, top };
        let empty = Page { media_box, text_shows: 0, text_starts: Vec::new(), marks: Vec::new() };
        let state = State { matrix: Matrix::IDENTITY, clip: Rect::EVERYTHING, pen: 1.0 };
        let mut reader = Self {
            document,
            page: empty,
            state,
            kept: Vec::new(),
            path: Rect::NOTHING,
            clips: false,
            text_line: Matrix::IDENTITY,
            leading: 0.0,
        };
        let resources = inherited(document, page, b"Resources").and_then(|object| Ok(object.as_dict()?)).ok();
        reader.content(&document.get_page_content(id), resources, 0)?;
        Ok(reader.page)
    }

    fn content(&mut self, bytes: &[u8], resources: Option<&'a Dictionary>, depth: usize) -> Result<()> {
        for operation in Content::decode(bytes)?.operations {
            match operation.operator.as_str() {
                "Do" => self.external(&operation, resources, depth)?,
                "gs" => self.graphics_state(&operation, resources)?,
                _ => self.step(&operation)?,
            }
        }
        Ok(())
    }

    fn step(&mut self, operation: &Operation) -> Result<()> {
        let n = numbers(&operation.operands).unwrap_or_default();
        match (operation.operator.as_str(), n.as_slice()) {
            ("q", _) => self.kept.push(self.state),
            ("Q", _) => self.state = self.kept.pop().context("Q without q")?,
            ("cm", &[a, b, c, d, e, f]) => {
                self.state.matrix = Matrix([a, b, c, d, e, f]).then(self.state.matrix);
            }
            ("w", &[width]) => self.state.pen = width,
            ("m" | "l", &[x, y]) => self.reach(x, y),
            ("c", &[a, b, c, d, e, f]) => {
                self.reach(a, b);
                self.reach(c, d);
                self.reach(e, f);
            }
            ("v" | "y", &[a, b, c, d]) => {
                self.reach(a, b);
                self.reach(c, d);
            }
            ("re", &[x, y, width, height]) => self.reach_rectangle(x, y, width, height),
            ("W" | "W*", _) => self.clips = true,
            ("n", _) => self.end_path(),
            ("S" | "s", _) => self.paint(Paint::Stroke),
            ("f" | "F" | "f*", _) => self.paint(Paint::Fill),
            ("B" | "B*" | "b" | "b*", _) => self.paint(Paint::FillAndStroke),
            ("sh", _) => {
                self.path = self.state.clip;
                self.paint(Paint::Fill);
            }
            ("BI", _) => {
                self.reach_rectangle(0.0, 0.0, 1.0, 1.0);
                self.paint(Paint::Image);
            }
            ("BT", _) => self.text_line = Matrix::IDENTITY,
            ("Tm", &[a, b, c, d, e, f]) => self.text_line = Matrix([a, b, c, d, e, f]),
            ("TL", &[leading]) => self.leading = leading,
            ("Td", &[x, y]) => self.next_line(x, y),
            ("TD", &[x, y]) => {
                self.leading = -y;
                self.next_line(x, y);
            }
            ("T*", _) => self.next_line(0.0, -self.leading),
            ("Tj" | "TJ", _) => self.show_text(),
            ("'" | "\"", _) => {
                self.next_line(0.0, -self.leading);
                self.show_text();
            }
            _ => {}
        }
        Ok(())
    }

    /// A browser sets the pen's width here (ISO 32000-1, 8.4.5).
    fn graphics_state(&mut self, operation: &Operation, resources: Option<&'a Dictionary>) -> Result<()> {
        let name = operation.operands.first().context("gs names nothing")?.as_name()?;
        let states =
            self.document.get_dict_in_dict(resources.context("gs without resources")?, b"ExtGState")?;
        let state = states.get_deref(name, self.document)?.as_dict()?;
        if let Ok(width) = state.get_deref(b"LW", self.document).and_then(Object::as_float) {
            self.state.pen = f64::from(width);
        }
        Ok(())
    }

    fn external(
        &mut self,
        operation: &Operation,
        resources: Option<&'a Dictionary>,
        depth: usize,
    ) -> Result<()> {
        let name = operation.operands.first().context("Do names nothing")?.as_name()?;
        let resources = resources.context("Do without resources")?;
        let externals = self.document.get_dict_in_dict(resources, b"XObject")?;
        let stream = externals.get_deref(name, self.document)?.as_stream()?;
        if stream.dict.get(b"Subtype")?.as_name()? == b"Image" {
            self.reach_rectangle(0.0, 0.0, 1.0, 1.0);
            self.paint(Paint::Image);
            return Ok(());
        }
        if depth > DEPTH {
            bail!("a form holds itself");
        }
        let (before, kept) = (self.state, std::mem::take(&mut self.kept));
        if let Ok(matrix) = stream.dict.get_deref(b"Matrix", self.document)
            && let &[a, b, c, d, e, f] = numbers(matrix.as_array()?)?.as_slice()
        {
            self.state.matrix = Matrix([a, b, c, d, e, f]).then(self.state.matrix);
        }
        if let Ok(bounds) = stream.dict.get_deref(b"BBox", self.document)
            && let &[left, bottom, right, top] = numbers(bounds.as_array()?)?.as_slice()
        {
            self.reach_rectangle(left, bottom, right - left, top - bottom);
            self.clips = true;
            self.end_path();
        }
        let own = stream.dict.get_deref(b"Resources", self.document).and_then(Object::as_dict).ok();
        self.content(&stream.get_plain_content()?, own.or(Some(resources)), depth + 1)?;
        (self.state, self.kept) = (before, kept);
        Ok(())
    }

    fn reach(&mut self, x: f64, y: f64) {
        let (x, y) = self.state.matrix.apply(x, y);
        self.path = self.path.with(x, y);
    }

    fn reach_rectangle(&mut self, x: f64, y: f64, width: f64, height: f64) {
        for (x, y) in [(x, y), (x + width, y), (x, y + height), (x + width, y + height)] {
            self.reach(x, y);
        }
    }

    fn paint(&mut self, paint: Paint) {
        if !self.path.is_empty() {
            let pen = match paint {
                Paint::Stroke | Paint::FillAndStroke => self.state.pen * self.state.matrix.growth(),
                Paint::Fill | Paint::Image => 0.0,
            };
            self.page.marks.push(Mark { paint, path: self.path, pen, clip: self.state.clip });
        }
        self.end_path();
    }

    /// A clip takes effect when the path it was said of has been used (ISO 32000-1, 8.5.4).
    fn end_path(&mut self) {
        if self.clips {
            self.state.clip = self.state.clip.meet(self.path);
            self.clips = false;
        }
        self.path = Rect::NOTHING;
    }

    fn next_line(&mut self, x: f64, y: f64) {
        self.text_line = Matrix([1.0, 0.0, 0.0, 1.0, x, y]).then(self.text_line);
    }

    fn show_text(&mut self) {
        self.page.text_shows += 1;
        self.page.text_starts.push(self.text_line.then(self.state.matrix).apply(0.0, 0.0));
    }
}

/// A page takes what it doesn't say from the node above (ISO 32000-1, 7.7.3.4).
fn inherited<'a>(document: &'a Document, page: &'a Dictionary, key: &[u8]) -> Result<&'a Object> {
    let mut node = page;
    for _ in 0..DEPTH {
        if let Ok(found) = node.get_deref(key, document) {
            return Ok(found);
        }
        node = node.get_deref(b"Parent", document)?.as_dict()?;
    }
    bail!("the page tree is a circle")
}

fn numbers(objects: &[Object]) -> Result<Vec<f64>> {
    objects.iter().map(|object| Ok(f64::from(object.as_float()?))).collect()
}
