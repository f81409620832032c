//! The edge, drawn: a square becoming a tube of bias step by step, a point being folded, and scallops at true size with their corner.
//!
//! In: what the stage `finish` worked out. Out: black lines on white, so that a photocopy keeps them. Steps are to scale with one another and
//! stand in a row, each with its number; templates are full size and bring a square to measure.

use crate::page::{Page, number};
use crate::template::TemplateDrawing;
use crate::text::{Anchor, Escaped, Label, Tone};
use seamfall_geom::{Edge, Loop, Point, Pose, Rect};
use seamfall_model::{Measure, PointFold};
use seamfall_plan::finish::bias::BiasTube;
use seamfall_plan::finish::points;
use seamfall_plan::finish::scallops::CurvedEdge;
use std::f64::consts::SQRT_2;
use std::fmt::Write;

/// Sizes on paper, in inches.
const STROKE: f64 = 0.02;
const THIN: f64 = 0.01;
const DASH: f64 = 0.08;
const TEXT: f64 = 0.16;
/// Width of a step on paper, in inches; found by trying.
const STEP: f64 = 1.8;
const GAP: f64 = 0.3;

/// How a line is drawn.
#[derive(Clone, Copy, PartialEq)]
enum Line {
    /// What is cut.
    Cut,
    /// What is sewn.
    Sewn,
    /// What is marked or folded.
    Marked,
}

/// Lines of one step, y up.
#[derive(Default)]
struct Picture {
    lines: Vec<(Line, Vec<Point>, bool)>,
    names: Vec<(Point, String)>,
}

impl Picture {
    fn closed(mut self, line: Line, points: &[Point]) -> Self {
        self.lines.push((line, points.to_vec(), true));
        self
    }

    fn open(mut self, line: Line, points: &[Point]) -> Self {
        self.lines.push((line, points.to_vec(), false));
        self
    }

    fn name(mut self, at: Point, text: &str) -> Self {
        self.names.push((at, text.to_owned()));
        self
    }

    fn bounds(&self) -> Rect {
        let mut points = self.lines.iter().flat_map(|(_, points, _)| points);
        let first = points.next().copied().unwrap_or(Point::ZERO);
        points.fold(Rect::from_points(first, first), |all, point| all.union_pt(*point))
    }
}

/// A square of bias, step by step: marked and cut, sewn with its points standing out, marked again, and as a tube.
#[must_use]
pub fn bias_svg(tube: &BiasTube, measure: Measure) -> String {
    let side = tube.square.value();
    let half = side / SQRT_2;
    let out = tube.stand_out.value();
    let p = Point::new;
    let square = Picture::default()
        .closed(Line::Cut, &[p(0.0, 0.0), p(side, 0.0), p(side, side), p(0.0, side)])
        .open(Line::Cut, &[p(0.0, side), p(side, 0.0)])
        .name(p(side / 2.0, side), "A")
        .name(p(side / 2.0, 0.0), "A")
        .name(p(0.0, side / 2.0), "B")
        .name(p(side, side / 2.0), "B");
    // Sewn with the points standing out by two allowances, the piece is as deep as half the diagonal and shorter by 2 √2 allowances.
    let long = 2.0 * half - SQRT_2 * out;
    let slant = [p(0.0, 0.0), p(long, 0.0), p(long + half, -half), p(half, -half)];
    // The seam runs from one slanting edge to the other, half an allowance times √2 inside the long ones.
    let inside = out / (2.0 * SQRT_2);
    let seam = [p(long + inside, -inside), p(half - inside, inside - half)];
    let sewn = Picture::default()
        .closed(Line::Cut, &slant)
        .open(Line::Sewn, &seam)
        .name(p(half / 2.0, -half / 2.0), "B")
        .name(p(long + half / 2.0, -half / 2.0), "B")
        .name(p(seam[0].x * 0.5 + seam[1].x * 0.5, -half / 2.0), "A");
    let strip = tube.strip.value();
    let mut marked = Picture::default().closed(Line::Cut, &slant);
    for i in 1..=tube.strips.count() {
        let y = -strip * f64::from(u32::try_from(i).unwrap_or(u32::MAX));
        marked = marked.open(Line::Marked, &[p(-y, y), p(long - y, y)]);
    }
    // The two slanting edges are sewn one strip on: equal numbers meet, and a strip stands out at either end.
    let mut numbered = Picture { lines: marked.lines.clone(), names: Vec::new() };
    let strips = tube.strips.count();
    for i in 1..strips {
        let middle = |i: usize| -strip * (f64::from(u32::try_from(i).unwrap_or(u32::MAX)) + 0.5);
        let (left, right) = (middle(i), middle(i - 1));
        // Where many strips lie close, the first and the last are numbered.
        if strips > 4 && i > 1 && i + 1 < strips {
            continue;
        }
        numbered = numbered.name(p(-left, left), &i.to_string()).name(p(long - right, right), &i.to_string());
    }
    steps("Continuous bias from a square", &[square, sewn, marked, numbered], measure)
}

/// A point being folded, from square to triangle, with the line it is sewn on.
#[must_use]
pub fn point_svg(point: &points::Point, fold: PointFold, measure: Measure) -> String {
    let side = point.square.value;
    let p = Point::new;
    let square = [p(0.0, 0.0), p(side, 0.0), p(side, side), p(0.0, side)];
    let (half, seam) = (side / 2.0, (side - point.base.value) / 2.0);
    let folded = [p(0.0, 0.0), p(side, 0.0), p(half, half)];
    let line = [p(seam, seam), p(side - seam, seam)];
    let done = Picture::default().closed(Line::Cut, &folded).open(Line::Sewn, &line);
    let pictures = match fold {
        PointFold::Nested => [
            Picture::default().closed(Line::Cut, &square).open(Line::Marked, &[p(0.0, side), p(side, 0.0)]),
            Picture::default()
                .closed(Line::Cut, &[p(0.0, 0.0), p(side, 0.0), p(0.0, side)])
                .open(Line::Marked, &[p(0.0, 0.0), p(half, half)]),
            done,
        ],
        PointFold::Overlapping => [
            Picture::default().closed(Line::Cut, &square).open(Line::Marked, &[p(0.0, half), p(side, half)]),
            Picture::default()
                .closed(Line::Cut, &[p(0.0, 0.0), p(side, 0.0), p(side, half), p(0.0, half)])
                .open(Line::Marked, &[p(0.0, 0.0), p(half, half)])
                .open(Line::Marked, &[p(side, 0.0), p(half, half)]),
            done.open(Line::Marked, &[p(half, 0.0), p(half, half)]),
        ],
    };
    steps("A prairie point", &pictures, measure)
}

/// Steps in a row, each as wide as the others, with their numbers.
fn steps(title: &str, pictures: &[Picture], measure: Measure) -> String {
    let inch = measure.inch();
    let largest = pictures.iter().map(|picture| picture.bounds().width().max(picture.bounds().height())).fold(0.0, f64::max);
    let scale = if largest > 0.0 { STEP * inch / largest } else { 1.0 };
    let count = f64::from(u32::try_from(pictures.len()).unwrap_or(u32::MAX));
    let (width, height) = ((count * (STEP + GAP) + GAP) * inch, (STEP + 2.0 * GAP + TEXT) * inch);
    let mut out = open(title, width, height, measure);
    let mut left = GAP * inch;
    for (i, picture) in pictures.iter().enumerate() {
        let bounds = picture.bounds();
        let place =
            |point: Point| Point::new(left + (point.x - bounds.x0) * scale, (GAP + TEXT) * inch + (bounds.y1 - point.y) * scale);
        for (line, points, closed) in &picture.lines {
            chain(&mut out, *line, points.iter().map(|point| place(*point)), *closed, inch);
        }
        for (at, text) in &picture.names {
            label(&mut out, place(*at), text, TEXT * inch, Tone::OnLight);
        }
        label(&mut out, Point::new(left + TEXT * inch / 2.0, GAP * inch * 0.7), &(i + 1).to_string(), TEXT * inch, Tone::Plain);
        left += (STEP + GAP) * inch;
    }
    out + "</svg>"
}

fn open(title: &str, width: f64, height: f64, measure: Measure) -> String {
    let (w, h, unit, title) = (number(width), number(height), measure.sign(), Escaped(title));
    format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="{w}{unit}" height="{h}{unit}" viewBox="0 0 {w} {h}" role="img" aria-label="{title}" font-family="sans-serif"><title>{title}</title>"#
    )
}

fn attributes(line: Line, inch: f64) -> String {
    let dash = |dash: f64, gap: f64| format!(r#" stroke-dasharray="{} {}""#, number(dash * inch), number(gap * inch));
    let (class, width, dashes) = match line {
        Line::Cut => ("cut", STROKE, String::new()),
        Line::Sewn => ("sew", STROKE, dash(DASH, DASH * 0.6)),
        Line::Marked => ("mark", THIN, dash(DASH * 0.3, DASH * 0.5)),
    };
    format!(
        r##"class="{class}" fill="none" stroke="#000" stroke-width="{}" stroke-linejoin="round"{dashes}"##,
        number(width * inch)
    )
}

fn chain(out: &mut String, line: Line, points: impl Iterator<Item = Point>, closed: bool, inch: f64) {
    let _ = write!(out, r#"<path {} d=""#, attributes(line, inch));
    for (i, point) in points.enumerate() {
        let _ = write!(out, "{}{} {}", if i == 0 { 'M' } else { 'L' }, number(point.x), number(point.y));
    }
    out.push_str(if closed { "z\"/>" } else { "\"/>" });
}

fn label(out: &mut String, at: Point, text: &str, size: f64, tone: Tone) {
    Label { text, at, size, anchor: Anchor::Middle, bold: true, tone }.write(out, "");
}

/// The template of a curved edge at true size: the corner at the lower right and the arcs beside it, one of each side and a half.
///
/// The line is the edge that is cut; the dashed box is the quilt before it is cut; a square of 1 in (2 cm) is to be measured.
#[must_use]
pub fn edge_template_svg(edge: &CurvedEdge, measure: Measure) -> TemplateDrawing {
    let inch = measure.inch();
    let all = edge.outline.bounds();
    let reach = |side: usize| edge.sides[side].width.value * 1.5;
    let across = edge.outline.edges();
    let arcs = edge.sides[0].count.count();
    // The last arcs of the bottom, the corner, and the first of the right side.
    let from = arcs.saturating_sub(2);
    let corner = usize::from(edge.corner.length() > 0.0);
    let to = (arcs + corner + 2).min(across.len());
    let shown: Vec<Edge> = across[from..to].to_vec();
    let bounds = shown.iter().map(Edge::bounds).reduce(|all, next| all.union(next)).unwrap_or(all);
    let bounds = Rect::new(bounds.x0.max(all.x1 - reach(0) * 2.0), all.y0, all.x1, bounds.y1);
    let rim = GAP * inch;
    let (width, height) = (bounds.width() + 2.0 * rim, bounds.height() + 2.0 * rim);
    let page = Page { left: bounds.x0 - rim, top: bounds.y1 + rim };
    let mut out = open("Template of the edge and its corner, full size", width, height, measure);
    let _ = write!(out, r#"<path {} d=""#, attributes(Line::Cut, inch));
    page.chain(&mut out, Pose::IDENTITY, &shown, false);
    out.push_str("\"/>");
    let quilt = [Point::new(bounds.x0, all.y0), Point::new(all.x1, all.y0), Point::new(all.x1, bounds.y1)];
    chain(&mut out, Line::Marked, quilt.iter().map(|point| page.at(*point)), false, inch);
    let test = if measure == Measure::Inch { 1.0 } else { 2.0 };
    let (x, y) = (bounds.x0, bounds.y1);
    let _ = write!(out, r#"<path {} d=""#, attributes(Line::Cut, inch));
    page.loops(&mut out, Pose::IDENTITY, [&Loop::rect(Rect::new(x, y - test, x + test, y))]);
    out.push_str("\"/>");
    let text = if measure == Measure::Inch { "1 in" } else { "2 cm" };
    label(&mut out, page.at(Point::new(x + test / 2.0, y - test / 2.0)), text, TEXT * inch, Tone::Plain);
    out.push_str("</svg>");
    TemplateDrawing { svg: out, width, height }
}
