//! The edge, drawn: a square becoming a tube of bias step by step, a point being folded, and scallops at true size with their corner.
//!
//! In: what the stage `finish` worked out. Out: black lines on white, so that a photocopy keeps them. Steps are to scale with one another and
//! stand in a row, each with its number; templates are full size and bring a square to measure.

use crate::page::{Page, number};
use crate::template::TemplateDrawing;
use crate::text::{Anchor, Escaped, Label, Tone, width};
use seamfall_geom::{Edge, Inset, Loop, Point, Pose, Rect, TipTrim, Vec2, grow};
use seamfall_model::{EdgeFinish, Length, Measure, PointFold, Quilt};
use seamfall_plan::Plan;
use seamfall_plan::finish::RealSide;
use seamfall_plan::finish::bias::BiasTube;
use seamfall_plan::finish::points;
use seamfall_plan::finish::scallops::CurvedEdge;
use seamfall_plan::finish::sides::sides;
use seamfall_plan::set::Top;
use std::f64::consts::{FRAC_PI_2, SQRT_2};
use std::fmt::Write;
use tr::tr;

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
    /// What is marked, folded, or was there before.
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
    steps(&tr!("Continuous bias from a square"), &[square, sewn, marked, numbered], measure)
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
    steps(&tr!("A prairie point"), &pictures, measure)
}

/// How a part of the finish is made, by the question its answer has; nothing for one that is not drawn step by step.
#[must_use]
pub fn finish_steps_svg(quilt: &Quilt, plan: &Plan, question: &str) -> Option<String> {
    match (question, quilt.finish.edge) {
        ("bias", _) => Some(bias_svg(plan.finish.bias.as_ref()?, quilt.measure)),
        ("points", EdgeFinish::PrairiePoints { fold, .. }) => Some(point_svg(plan.finish.point.as_ref()?, fold, quilt.measure)),
        _ => None,
    }
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

/// The template of a curved edge at true size: a square corner, the lower right one of a rectangle, and the arcs beside it, two of each side.
///
/// The line is the edge that is cut; the dotted one is the quilt before it is cut; a square of 1 in (2 cm) is to be measured.
#[must_use]
pub fn edge_template_svg(edge: &CurvedEdge, measure: Measure) -> TemplateDrawing {
    edge_corner_svg(edge, square_corner(edge), measure)
}

/// Number of the first square corner among [`CurvedEdge::corners`].
fn square_corner(edge: &CurvedEdge) -> usize {
    let is_square = |side: &RealSide| (side.turns[1] - FRAC_PI_2).abs() < 1e-6;
    sides(&edge.plain).iter().position(is_square).unwrap_or(0)
}

/// The same for the corner behind any side; an edge without corners shows the arcs where its side closes.
#[must_use]
pub fn edge_corner_svg(edge: &CurvedEdge, corner: usize, measure: Measure) -> TemplateDrawing {
    let of = edge.outline.edges();
    let next = (corner + 1) % edge.spans.len().max(1);
    let (Some([before, turned]), Some([after, _])) = (edge.spans.get(corner), edge.spans.get(next)) else {
        return TemplateDrawing { svg: String::new(), width: 0.0, height: 0.0 };
    };
    let last = before.end.saturating_sub(2).max(before.start)..before.end;
    let first = after.start..(after.start + 2).min(after.end);
    let shown: Vec<Edge> = [last, turned.clone(), first].into_iter().flat_map(|span| of[span].to_vec()).collect();
    let bounds = shown.iter().map(Edge::bounds).reduce(|all, next| all.union(next)).unwrap_or(Rect::ZERO);
    let at = sides(&edge.plain).get(corner).map_or(bounds.center(), |side| side.place(side.length, 0.0).0);
    let bounds = bounds.union_pt(at);
    let mut sheet = Sheet::new(&tr!("Template of the edge and its corner, full size"), bounds, measure);
    sheet.chain(Line::Cut, &shown);
    sheet.within(Line::Marked, &edge.plain);
    sheet.test_square_far_from(at);
    sheet.done()
}

/// The template of a changed corner at true size: what is cut, the finished edge in dashes an allowance inside, and the quilt before it is trimmed.
/// Nothing
/// where there is no such corner. Of an arc the point about which a string goes is marked, and how long the string is.
#[must_use]
pub fn corner_template_svg(quilt: &Quilt, top: &Top, corner: usize) -> Option<TemplateDrawing> {
    let changed = top.corners.get(corner)?;
    let (measure, allowance) = (quilt.measure, quilt.allowance.0.value());
    let inch = measure.inch();
    let rim = allowance + TEXT * inch;
    let ends = changed.edge.iter().flat_map(|edge| [edge.from(), edge.to()]);
    let bounds = ends.fold(changed.away.bounds(), |all, point| all.union_pt(point));
    let centre = changed.mattress.filter(|_| changed.radius().is_some());
    let bounds = centre.map_or(bounds, |centre| bounds.union_pt(centre)).inflate(rim, rim);
    let mut sheet = Sheet::new(&tr!("Template of the {which} corner, full size", which = changed.name()), bounds, measure);
    sheet.within(Line::Marked, &Loop::rect(Rect::new(0.0, 0.0, top.size.x, top.size.y)));
    if let Ok(cut) = grow(&top.outline, allowance, TipTrim::Full) {
        sheet.within(Line::Cut, &cut);
    }
    sheet.within(Line::Sewn, &top.outline);
    if let (Some(radius), Some(centre)) = (changed.radius(), centre) {
        let half = TEXT * inch / 2.0;
        for way in [Vec2::new(half, 0.0), Vec2::new(0.0, half)] {
            sheet.chain(Line::Cut, &[Edge::Line { from: centre - way, to: centre + way }]);
        }
        let string = Length::new(radius + allowance).shown_with_unit(quilt.step);
        let text = tr!("corner of the mattress; string to the cut: {string}", string);
        let wide = width(&text, TEXT * inch) / 2.0 + half;
        let aside = if changed.is_right { wide } else { -wide };
        sheet.name(Point::new(centre.x + aside, centre.y - 2.0 * half), &text);
    }
    let side = test_side(measure);
    let x = if changed.is_right { bounds.x1 - side - rim } else { bounds.x0 + rim };
    sheet.test_square(Point::new(x, bounds.y0 + side + rim));
    Some(sheet.done())
}

/// Side of the square that is to be measured.
fn test_side(measure: Measure) -> f64 {
    if measure == Measure::Inch { 1.0 } else { 2.0 }
}

/// A sheet at true size.
struct Sheet {
    out: String,
    page: Page,
    bounds: Rect,
    measure: Measure,
    size: [f64; 2],
}

impl Sheet {
    fn new(title: &str, bounds: Rect, measure: Measure) -> Self {
        let rim = GAP * measure.inch();
        let size = [bounds.width() + 2.0 * rim, bounds.height() + 2.0 * rim];
        let page = Page { left: bounds.x0 - rim, top: bounds.y1 + rim };
        Self { out: open(title, size[0], size[1], measure), page, bounds, measure, size }
    }

    fn chain(&mut self, line: Line, edges: &[Edge]) {
        let _ = write!(self.out, r#"<path {} d=""#, attributes(line, self.measure.inch()));
        self.page.chain(&mut self.out, Pose::IDENTITY, edges, false);
        self.out.push_str("\"/>");
    }

    /// What of an outline lies on the sheet.
    fn within(&mut self, line: Line, outline: &Loop) {
        let sheet = Inset::new(&Loop::rect(self.bounds), 0.0);
        for run in sheet.cut(outline.edges()).into_iter().filter(|run| run.inside) {
            self.chain(line, &run.edges);
        }
    }

    fn name(&mut self, at: Point, text: &str) {
        label(&mut self.out, self.page.at(at), text, TEXT * self.measure.inch(), Tone::OnLight);
    }

    /// The square to be measured in the corner of the sheet that is farthest from `at`.
    fn test_square_far_from(&mut self, at: Point) {
        let (side, bounds) = (test_side(self.measure), self.bounds);
        let x = if at.x > bounds.center().x { bounds.x0 } else { bounds.x1 - side };
        let y = if at.y < bounds.center().y { bounds.y1 } else { bounds.y0 + side };
        self.test_square(Point::new(x, y));
    }

    /// The square to be measured, below and to the right of `at`.
    fn test_square(&mut self, at: Point) {
        let inch = self.measure.inch();
        let side = test_side(self.measure);
        self.chain(Line::Cut, Loop::rect(Rect::new(at.x, at.y - side, at.x + side, at.y)).edges());
        let text = if self.measure == Measure::Inch { "1 in" } else { "2 cm" };
        let middle = Point::new(at.x + side / 2.0, at.y - side / 2.0);
        label(&mut self.out, self.page.at(middle), text, TEXT * inch, Tone::Plain);
    }

    fn done(mut self) -> TemplateDrawing {
        self.out.push_str("</svg>");
        TemplateDrawing { svg: self.out, width: self.size[0], height: self.size[1] }
    }
}
