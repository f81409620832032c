//! Lines from the path data of SVG, an open standard.
//!
//! In: the text of a `d` attribute, a box, and a tolerance. Out: chains of edges, scaled evenly to fit the box, their middle at the
//! origin, y up. Straight lines stay as they are, curves become short lines that leave them by the tolerance at most. Only path data
//! is read: no markup, no transforms.

use crate::{Edge, Point, TOLERANCE};
use kurbo::{Affine, BezPath, PathEl, Shape, Vec2};

/// Why path data cannot be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SvgPathError {
    /// It holds markup, not path data alone.
    Markup,
    /// It does not follow the grammar of path data.
    Grammar,
    /// A number in it is no ordinary one, or far too large.
    Number,
    /// It has no length.
    Empty,
    /// Its curves become more than so many lines.
    TooMany(usize),
}

/// Numbers beyond this are no drawing.
const FAR: f64 = 1e9;

/// Chains of the path `data`, scaled to fit `width` by `height`; each chain is drawn without lifting the pen. At most `most` edges.
///
/// # Errors
/// [`SvgPathError`].
pub fn svg_chains(data: &str, width: f64, height: f64, tolerance: f64, most: usize) -> Result<Vec<Vec<Edge>>, SvgPathError> {
    if data.contains('<') {
        return Err(SvgPathError::Markup);
    }
    // Before it is read: an arc so far away takes millions of curves.
    if has_far_number(data) {
        return Err(SvgPathError::Number);
    }
    let path = BezPath::from_svg(data).map_err(|_| SvgPathError::Grammar)?;
    let ordinary = |point: &Point| point.x.abs() <= FAR && point.y.abs() <= FAR;
    if !path.elements().iter().flat_map(points).flatten().all(|point| ordinary(&point)) {
        return Err(SvgPathError::Number);
    }
    let bounds = path.bounding_box();
    let scale = [(width, bounds.width()), (height, bounds.height())]
        .into_iter()
        .filter(|(_, size)| *size > 0.0)
        .map(|(room, size)| room / size)
        .fold(f64::INFINITY, f64::min);
    if !scale.is_finite() {
        return Err(SvgPathError::Empty);
    }
    let place = Affine::translate(-bounds.center().to_vec2()).then_scale_non_uniform(scale, -scale);
    let mut chains = Chains { all: Vec::new(), start: Point::ORIGIN, at: Point::ORIGIN, fresh: true, count: 0 };
    // Every element of curves becomes lines before the next is looked at, so that the limit stops it in time.
    kurbo::flatten((place * path).elements().iter().copied(), tolerance, |element| {
        if chains.count <= most {
            chains.add(element);
        }
    });
    match chains.count {
        0 => Err(SvgPathError::Empty),
        count if count > most => Err(SvgPathError::TooMany(most)),
        _ => Ok(chains.all),
    }
}

/// Whether a number in path data is far larger than any drawing's. Where digits of two numbers stand together, as flags of arcs may, they are taken for one.
#[must_use]
pub fn has_far_number(data: &str) -> bool {
    let mut rest = data;
    while let Some(start) = rest.find(|c: char| c.is_ascii_digit() || c == '.') {
        rest = &rest[start..];
        let mut end = rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(rest.len());
        let power = rest[end..].strip_prefix(['e', 'E']).map(|power| (power, power.strip_prefix(['+', '-']).unwrap_or(power)));
        if let Some((power, digits)) = power {
            let digits = digits.find(|c: char| !c.is_ascii_digit()).map_or(digits, |end| &digits[..end]);
            if !digits.is_empty() {
                end += 1 + usize::from(power.starts_with(['+', '-'])) + digits.len();
            }
        }
        // `1.5.5` is two numbers, of which the first is the larger in its whole part.
        let (token, whole) = (&rest[..end], rest[..end].split('.').next().unwrap_or_default());
        let number = token.parse::<f64>().unwrap_or_else(|_| far_of(token, whole));
        if number > FAR {
            return true;
        }
        rest = &rest[end..];
    }
    false
}

/// Two or more numbers that share a token: the whole part of the first, raised by the power of the last.
fn far_of(token: &str, whole: &str) -> f64 {
    let power = token.rsplit_once(['e', 'E']).map_or("0", |(_, power)| power);
    format!("{}e{power}", if whole.is_empty() { "1" } else { whole }).parse().unwrap_or(f64::INFINITY)
}

fn points(element: &PathEl) -> [Option<Point>; 3] {
    match *element {
        PathEl::MoveTo(a) | PathEl::LineTo(a) => [Some(a), None, None],
        PathEl::QuadTo(a, b) => [Some(a), Some(b), None],
        PathEl::CurveTo(a, b, c) => [Some(a), Some(b), Some(c)],
        PathEl::ClosePath => [None; 3],
    }
}

struct Chains {
    all: Vec<Vec<Edge>>,
    start: Point,
    at: Point,
    fresh: bool,
    count: usize,
}

impl Chains {
    fn add(&mut self, element: PathEl) {
        match element {
            PathEl::MoveTo(to) => (self.start, self.at, self.fresh) = (to, to, true),
            PathEl::LineTo(to) => self.line(to),
            PathEl::ClosePath => {
                self.line(self.start);
                self.fresh = true;
            }
            PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
        }
    }

    fn line(&mut self, to: Point) {
        let way: Vec2 = to - self.at;
        if way.x * way.x + way.y * way.y <= TOLERANCE * TOLERANCE {
            return;
        }
        let edge = Edge::Line { from: self.at, to };
        match self.all.last_mut() {
            Some(chain) if !self.fresh => chain.push(edge),
            _ => self.all.push(vec![edge]),
        }
        (self.at, self.fresh) = (to, false);
        self.count += 1;
    }
}
