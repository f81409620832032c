//! Dimension lines: a line between two ticks with its length in words.

use crate::page::number;
use crate::text::{Anchor, Label, Tone, width};
use seamfall_geom::Point;
use std::collections::BTreeSet;
use std::fmt::Write;

/// Which way a dimension line runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Course {
    /// Across the page, text below.
    Across,
    /// Down the page, text to the right, turned to be read from there.
    Down,
}

/// A chain of dimensions on one line. `stops` are places along the course on the page, in order; `at` is where the line lies
/// across it; `shown` gives the words for a length; `size` is that of the text. What is too narrow for its words has them on
/// one of two lines further out, and only where its length comes up for the first time.
pub(crate) fn chain(out: &mut String, course: Course, stops: &[f64], at: f64, size: f64, shown: &dyn Fn(f64) -> String) {
    let (Some(&first), Some(&last)) = (stops.first(), stops.last()) else { return };
    let point = |along: f64, aside: f64| match course {
        Course::Across => Point::new(along, at + aside),
        Course::Down => Point::new(at + aside, along),
    };
    let mut d = String::new();
    let mut line = |from: Point, to: Point| {
        let _ = write!(d, "M{} {}L{} {}", number(from.x), number(from.y), number(to.x), number(to.y));
    };
    line(point(first, 0.0), point(last, 0.0));
    for &stop in stops {
        line(point(stop, -0.4 * size), point(stop, 0.4 * size));
    }
    let _ = write!(out, r##"<path d="{d}" fill="none" stroke="#000" stroke-width="{}"/>"##, number(size / 15.0));
    let mut outer = 0;
    let mut said = BTreeSet::new();
    for pair in stops.windows(2) {
        let text = shown(pair[1] - pair[0]);
        let step = if width(&text, size) < pair[1] - pair[0] {
            outer = 0;
            0
        } else if !said.insert(text.clone()) {
            continue;
        } else {
            outer = 1 + outer % 2;
            outer
        };
        let at = point((pair[0] + pair[1]) / 2.0, size * (1.0 + f64::from(step)));
        let turn = match course {
            Course::Across => String::new(),
            Course::Down => format!(r#" transform="rotate(-90 {} {})""#, number(at.x), number(at.y)),
        };
        Label { text: &text, at, size, anchor: Anchor::Middle, bold: false, tone: Tone::Plain }.write(out, &turn);
    }
}

/// How far a chain of dimensions reaches out from its line.
pub(crate) fn depth(size: f64) -> f64 {
    3.8 * size
}
