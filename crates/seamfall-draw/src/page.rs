//! How a drawing begins, the way from the plan's coordinates (y up) to a drawing's (y down), and path data in short numbers.
//!
//! Points are rounded to ten-thousandths of the document's unit before they are subtracted from one another, so that errors do
//! not add up along a path and edges shared by two patches fall on the same numbers.

use crate::text::Escaped;
use seamfall_geom::{Edge, Loop, Point, Pose, Turn};
use std::f64::consts::FRAC_PI_2;
use std::fmt::Write;

/// Opens a drawing about `(left, top, width, height)` under a name.
pub(crate) fn open(out: &mut String, (left, top, width, height): (f64, f64, f64, f64), name: &str) {
    let _ = write!(
        out,
        r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="{} {} {} {}" role="img" aria-label="{name}" font-family="sans-serif"><title>{name}</title>"#,
        number(left),
        number(top),
        number(width),
        number(height),
        name = Escaped(name),
    );
}

/// A sheet to draw on: `left` and `top` of the plan's coordinates come to its origin.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Page {
    pub left: f64,
    pub top: f64,
}

impl Page {
    /// Where `point` lies on the sheet.
    pub fn at(self, point: Point) -> Point {
        Point::new(point.x - self.left, self.top - point.y)
    }

    /// Path data of closed `loops`, each moved by `pose` first.
    pub fn loops<'a>(self, out: &mut String, pose: Pose, loops: impl IntoIterator<Item = &'a Loop>) {
        for closed in loops {
            self.chain(out, pose, closed.edges(), true);
        }
    }

    /// Path data of `edges` that follow one another; a `closed` chain ends with `z`.
    pub fn chain(self, out: &mut String, pose: Pose, edges: &[Edge], closed: bool) {
        let Some(first) = edges.first() else { return };
        let place = |point: Point| {
            let on_page = self.at(pose.apply(point));
            (ticks(on_page.x), ticks(on_page.y))
        };
        let start = place(first.from());
        let mut pen = Pen { out, at: start, last: 'M' };
        pen.start();
        for (i, edge) in edges.iter().enumerate() {
            match *edge {
                // `z` draws the last straight side.
                Edge::Line { .. } if closed && i + 1 == edges.len() => {}
                Edge::Line { to, .. } => pen.line(place(to)),
                Edge::Arc { from, centre, turn, .. } => {
                    let radius = (from - centre).hypot2().sqrt();
                    // A flip of the axes and a mirror each change the sense; anticlockwise is SVG's flag 0.
                    let clockwise = (turn == Turn::Right) != pose.is_mirrored();
                    // Short arcs only: near a half circle rounded ends would shift the centre that SVG computes from them.
                    let pieces = (edge.sweep().unwrap_or(0.0) / (FRAC_PI_2 + 0.01)).ceil().max(1.0);
                    let mut piece = 1.0;
                    while piece <= pieces {
                        let to = if piece < pieces { edge.at(piece / pieces) } else { edge.to() };
                        pen.arc(radius, clockwise, place(to));
                        piece += 1.0;
                    }
                }
            }
        }
        if closed {
            pen.out.push('z');
        }
    }
}

/// Writes path commands relative to where it stands.
struct Pen<'a> {
    out: &'a mut String,
    at: (i64, i64),
    last: char,
}

impl Pen<'_> {
    fn start(&mut self) {
        self.out.push('M');
        push_ticks(self.out, self.at.0);
        self.number(self.at.1);
    }

    fn line(&mut self, to: (i64, i64)) {
        match (to.0 - self.at.0, to.1 - self.at.1) {
            (0, 0) => return,
            (dx, 0) => self.command('h', dx),
            (0, dy) => self.command('v', dy),
            (dx, dy) => {
                self.command('l', dx);
                self.number(dy);
            }
        }
        self.at = to;
    }

    fn arc(&mut self, radius: f64, clockwise: bool, to: (i64, i64)) {
        self.command('a', ticks(radius));
        self.number(ticks(radius));
        self.out.push_str(if clockwise { " 0 0 1" } else { " 0 0 0" });
        self.number(to.0 - self.at.0);
        self.number(to.1 - self.at.1);
        self.at = to;
    }

    fn command(&mut self, letter: char, first: i64) {
        if self.last == letter {
            self.number(first);
        } else {
            self.out.push(letter);
            push_ticks(self.out, first);
            self.last = letter;
        }
    }

    /// A number after another one: a minus sign separates by itself.
    fn number(&mut self, value: i64) {
        if value >= 0 {
            self.out.push(' ');
        }
        push_ticks(self.out, value);
    }
}

/// Ten-thousandths of the unit, to the nearest.
pub(crate) fn ticks(value: f64) -> i64 {
    #[expect(clippy::cast_possible_truncation, reason = "drawings are far smaller than 2^63 ten-thousandths; casts saturate")]
    let ticks = (value * 10_000.0).round() as i64;
    ticks
}

fn push_ticks(out: &mut String, ticks: i64) {
    if ticks < 0 {
        out.push('-');
    }
    let (whole, mut part) = (ticks.unsigned_abs() / 10_000, ticks.unsigned_abs() % 10_000);
    if whole > 0 || part == 0 {
        let mut digits = [0_u8; 20];
        let mut from = digits.len();
        let mut rest = whole;
        loop {
            from -= 1;
            digits[from] = b'0' + u8::try_from(rest % 10).expect("a digit fits");
            rest /= 10;
            if rest == 0 {
                break;
            }
        }
        out.extend(digits[from..].iter().map(|&digit| char::from(digit)));
    }
    if part > 0 {
        out.push('.');
        let mut unit = 1_000;
        while part > 0 {
            out.push(char::from(b'0' + u8::try_from(part / unit).expect("a digit fits")));
            part %= unit;
            unit /= 10;
        }
    }
}

/// `value` as a drawing writes it: at most four decimals, no zero in front of the point.
pub(crate) fn number(value: f64) -> String {
    let mut out = String::new();
    push_ticks(&mut out, ticks(value));
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Grammar of numbers in path data: SVG 2, section 9.3.9.
    #[test]
    fn numbers_are_short() {
        for (value, text) in [
            (0.0, "0"),
            (-0.00001, "0"),
            (12.5, "12.5"),
            (-0.25, "-.25"),
            (0.0501, ".0501"),
            (1.0 / 3.0, ".3333"),
            (120.0, "120"),
        ] {
            assert_eq!(number(value), text, "{value}");
        }
    }

    #[test]
    fn a_square_closes_itself() {
        let mut out = String::new();
        let square = Loop::rect(seamfall_geom::Rect::new(0.0, 0.0, 2.0, 3.0));
        Page { left: -1.0, top: 3.0 }.loops(&mut out, Pose::IDENTITY, [&square]);
        assert_eq!(out, "M1 3h2v-3h-2z");
    }

    /// Sweep flag: SVG 2, section 9.5.1: 1 is the direction of growing angles, clockwise as seen. A quarter circle that runs
    /// anticlockwise with y up is seen so, whatever the axes.
    #[test]
    fn arcs_keep_their_sense() {
        let arc = Edge::Arc { from: Point::new(1.0, 0.0), to: Point::new(0.0, 1.0), centre: Point::ZERO, turn: Turn::Left };
        let draw = |pose| {
            let mut out = String::new();
            Page { left: 0.0, top: 0.0 }.chain(&mut out, pose, &[arc], false);
            out
        };
        assert_eq!(draw(Pose::IDENTITY), "M1 0a1 1 0 0 0-1-1");
        assert_eq!(draw(Pose::mirror()), "M-1 0a1 1 0 0 1 1-1");
    }
}
