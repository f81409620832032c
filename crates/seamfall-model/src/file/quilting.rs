//! Quilting: the check of what is written, and the writing of it.
//!
//! In: raw values; or a quilt. Out: how the quilting is done, and designs, every size checked; or their lines in the file. Whether a
//! motif fits its block, and whether the margin leaves anything, is for the plan to find.

use super::check::{Check, shortened};
use super::problems::suggestion;
use super::raw::*;
use super::write::{length, text};
use crate::*;
use seamfall_geom::{SvgPathError, svg_chains};
use std::fmt::Write as _;
use tr::tr;

/// Of `outline` and `echo`, in inches and in centimetres. Source: common practice.
const OUTLINE: [f64; 2] = [0.25, 0.75];
const ECHO: [f64; 2] = [0.5, 1.25];
const ECHOES: u32 = 2;

const ANGLE: f64 = 45.0;

fn usual([inches, centimetres]: [f64; 2], measure: Measure) -> Length {
    Length::new(if measure == Measure::Inch { inches } else { centimetres })
}

impl Check<'_> {
    pub(super) fn lap(&mut self, raw: &RawLap) -> Lap {
        let base = Lap::usual(self.measure);
        // In centimetres half an inch is said to be 1.25.
        let margins = if self.measure == Measure::Inch { (0.5, 1.0) } else { (1.25 / 2.54, 1.0) };
        let mut size = |typed: &Option<At<Typed>>, what: &str, usual: Length, bounds: (f64, f64)| {
            typed.as_ref().map_or(usual, |typed| self.length(typed, what, bounds))
        };
        let margin = size(&raw.margin, "margin", base.margin, margins);
        let reach = size(&raw.reach, "reach", base.reach, (0.0, 6.0));
        let needleful = size(&raw.needleful, "needleful", base.needleful, (8.0, 120.0));
        let tail = size(&raw.tail, "tail", base.tail, (0.0, 12.0));
        let thickness = size(&raw.thickness, "thickness", base.thickness, (0.0, 1.0));
        let largest_gap = size(&raw.largest_gap, "largest-gap", base.largest_gap, (0.5, 24.0));
        if tail.value() * 2.0 >= needleful.value() {
            let span = raw.tail.as_ref().or(raw.needleful.as_ref()).map_or(0..0, At::span);
            let reason = tr!("the two tails leave nothing of the needleful to quilt with");
            self.problems.add(span, reason, tr!("make `needleful` more than twice `tail`"));
        }
        let stitches = raw.stitches_an_inch.as_ref();
        let pace = raw.minutes_a_foot.as_ref();
        let week = raw.hours_a_week.as_ref();
        Lap {
            margin,
            reach,
            needleful,
            tail,
            stitches_an_inch: stitches.map_or(base.stitches_an_inch, |n| self.number(n, "stitches-an-inch", (1.0, 30.0))),
            minutes_a_foot: pace.map_or(base.minutes_a_foot, |n| self.number(n, "minutes-a-foot", (0.1, 240.0))),
            hours_a_week: week.map_or(base.hours_a_week, |n| self.number(n, "hours-a-week", (0.25, 168.0))),
            thickness,
            largest_gap,
        }
    }

    /// A plain number between two bounds.
    pub(super) fn number(&mut self, raw: &At<f64>, what: &str, (least, most): (f64, f64)) -> f64 {
        if (least..=most).contains(&**raw) {
            return **raw;
        }
        let reason = tr!("`{what}` is {value}, but must lie between {least} and {most}", what, value = **raw, least, most);
        self.problems.add(
            raw.span(),
            reason,
            tr!("write a number like `{what} = {most}`", what, most = decimal(f64::midpoint(least, most), 1)),
        );
        least
    }

    pub(super) fn quiltings(&mut self, raw: &[RawQuilting], bands: usize) -> Vec<Quilting> {
        if let Some(over) = raw.get(limits::QUILTING) {
            self.too_many(over.on.span(), raw.len(), &tr!("quilting designs"), limits::QUILTING);
        }
        raw.iter()
            .take(limits::QUILTING)
            .map(|one| Quilting { on: self.quilted_on(&one.on, bands), design: self.design(one) })
            .collect()
    }

    fn quilted_on(&mut self, name: &At<String>, bands: usize) -> QuiltedOn {
        let block = |key: &str| self.blocks.iter().position(|one| one == key).map(|id| QuiltedOn::Block(BlockId(id)));
        let frame = |key: &str| self.frames.iter().position(|one| one == key).map(|id| QuiltedOn::Frame(FrameId(id)));
        let whole = name.trim();
        let on = match whole.split_once(' ') {
            Some(("block", key)) => block(key.trim()),
            Some(("frame", key)) => frame(key.trim()),
            Some(("band", number)) => number
                .trim()
                .parse::<usize>()
                .ok()
                .filter(|number| (1..=bands).contains(number))
                .map(|number| QuiltedOn::Band(number - 1)),
            _ => match (block(whole), frame(whole)) {
                (Some(_), Some(_)) => {
                    let reason = tr!("`{whole}` is the key of a block and of a frame", whole = shortened(whole));
                    let help = tr!("write `block {whole}` or `frame {whole}`", whole);
                    self.problems.add(name.span(), reason, help);
                    return QuiltedOn::Quilt;
                }
                (one, other) => one.or(other).or(match whole {
                    "sashing" => Some(QuiltedOn::Sashing),
                    "quilt" => Some(QuiltedOn::Quilt),
                    _ => None,
                }),
            },
        };
        on.unwrap_or_else(|| {
            let fixed = ["sashing", "quilt", "band 1"].into_iter().take(if bands > 0 { 3 } else { 2 });
            let names = self.blocks.iter().chain(&self.frames).map(String::as_str).chain(fixed);
            let help = suggestion(whole, names).unwrap_or_else(|| tr!("name a block, a frame, `sashing`, `band 1` or `quilt`"));
            self.problems.add(name.span(), tr!("there is nothing called `{whole}` to quilt on", whole = shortened(whole)), help);
            QuiltedOn::Quilt
        })
    }

    fn design(&mut self, raw: &RawQuilting) -> QuiltingDesign {
        self.only_what_it_needs(raw);
        let measure = self.measure;
        let mut distance = |usual_sizes| match &raw.distance {
            Some(typed) => self.length(typed, "distance", (limits::SHORTEST_IN, limits::SIDE_IN)),
            None => usual(usual_sizes, measure),
        };
        let motif = |motif| (motif, raw);
        let (motif, raw) = match *raw.design {
            RawDesign::InTheDitch => return QuiltingDesign::InTheDitch,
            RawDesign::Mitres => return QuiltingDesign::Mitres,
            RawDesign::Outline => return QuiltingDesign::Outline { distance: distance(OUTLINE) },
            RawDesign::Echo => {
                let distance = distance(ECHO);
                let count = raw.count.as_ref().map_or(ECHOES, |count| self.whole(count, "count", limits::ECHOES));
                return QuiltingDesign::Echo { distance, count };
            }
            RawDesign::Parallel => return QuiltingDesign::Parallel { angle_deg: self.angle(raw), spacing: self.spacing(raw) },
            RawDesign::Crossed => return QuiltingDesign::Crossed { angle_deg: self.angle(raw), spacing: self.spacing(raw) },
            RawDesign::Stippling => return QuiltingDesign::Stippling { spacing: self.spacing(raw) },
            RawDesign::Path => return self.path(raw),
            RawDesign::Oval => motif(Motif::Oval),
            RawDesign::Circle => motif(Motif::Circle),
            RawDesign::Leaf => motif(Motif::Leaf),
            RawDesign::Cable => motif(Motif::Cable),
            RawDesign::Fan => motif(Motif::Fan),
            RawDesign::Feather => motif(Motif::Feather),
            RawDesign::Arcs => motif(Motif::Arcs),
        };
        let size = raw.size.as_ref().map(|size| self.box_size(size));
        QuiltingDesign::Motif { motif, size, repeats: self.repeats(raw) }
    }

    /// Keys that the design has no use for are refused.
    fn only_what_it_needs(&mut self, raw: &RawQuilting) {
        let needs: &[&str] = match *raw.design {
            RawDesign::InTheDitch | RawDesign::Mitres => &[],
            RawDesign::Outline => &["distance"],
            RawDesign::Echo => &["distance", "count"],
            RawDesign::Parallel | RawDesign::Crossed => &["angle", "spacing"],
            RawDesign::Stippling => &["spacing"],
            RawDesign::Path => &["path", "size", "repeats"],
            _ => &["size", "repeats"],
        };
        let given = [
            ("distance", raw.distance.as_ref().map(At::span)),
            ("count", raw.count.as_ref().map(At::span)),
            ("angle", raw.angle.as_ref().map(At::span)),
            ("spacing", raw.spacing.as_ref().map(At::span)),
            ("size", raw.size.as_ref().map(At::span)),
            ("repeats", raw.repeats.as_ref().map(At::span)),
            ("path", raw.path.as_ref().map(At::span)),
        ];
        for (key, span) in given {
            if let Some(span) = span.filter(|_| !needs.contains(&key)) {
                let help =
                    if needs.is_empty() { tr!("take it away") } else { tr!("it has: `{needs}`", needs = needs.join("`, `")) };
                self.problems.add(span, tr!("this design has no `{key}`", key), help);
            }
        }
    }

    fn angle(&mut self, raw: &RawQuilting) -> f64 {
        raw.angle.as_ref().map_or(ANGLE, |angle| {
            if angle.is_finite() && angle.abs() <= 360.0 {
                return **angle;
            }
            let reason = tr!("`angle` is {angle}, but must lie between -360 and 360", angle = **angle);
            self.problems.add(angle.span(), reason, tr!("write it in degrees from level, to the left: `angle = 45`"));
            ANGLE
        })
    }

    fn spacing(&mut self, raw: &RawQuilting) -> Length {
        match &raw.spacing {
            Some(typed) => self.length(typed, "spacing", (limits::SPACING_IN, limits::SIDE_IN)),
            None => {
                self.problems.add(raw.design.span(), tr!("this design needs a `spacing`"), tr!("add `spacing = \"1\"`"));
                Length::new(1.0)
            }
        }
    }

    fn repeats(&mut self, raw: &RawQuilting) -> Option<u32> {
        raw.repeats.as_ref().map(|count| self.whole(count, "repeats", limits::REPEATS))
    }

    fn whole(&mut self, raw: &At<i64>, what: &str, most: u32) -> u32 {
        u32::try_from(**raw).ok().filter(|count| (1..=most).contains(count)).unwrap_or_else(|| {
            let reason = tr!("`{what}` is {value}, but must lie between 1 and {most}", what, value = **raw, most);
            self.problems.add(raw.span(), reason, tr!("write a whole number: `{what} = 2`", what));
            1
        })
    }

    /// `4` for both, or `4 x 2`.
    fn box_size(&mut self, typed: &At<Typed>) -> [Length; 2] {
        const BOUNDS: (f64, f64) = (0.25, limits::SIDE_IN);
        let sides = match &**typed {
            Typed::Text(text) => text.split_once(['x', '×', 'X']),
            Typed::Number(_) => None,
        };
        let Some((width, height)) = sides else {
            let side = self.length(typed, "size", BOUNDS);
            return [side, side];
        };
        [width, height].map(|side| match parse_length(side, self.measure) {
            Ok(length) => {
                self.between(length, typed.span(), "size", BOUNDS);
                length
            }
            Err(error) => {
                self.not_a_length(&error, typed.span(), "size");
                Length::new(1.0)
            }
        })
    }

    fn path(&mut self, raw: &RawQuilting) -> QuiltingDesign {
        let mut missing = |key: &str, example: &str| {
            let reason = tr!("the design `path` needs a `{key}`", key);
            self.problems.add(raw.design.span(), reason, tr!("add `{key} = {example}`", key, example));
        };
        if raw.path.is_none() {
            missing("path", "\"M 0 0 C 1 2 3 2 4 0\"");
        }
        if raw.size.is_none() {
            missing("size", "\"4 x 3\"");
        }
        let size = raw.size.as_ref().map_or([Length::new(1.0); 2], |size| self.box_size(size));
        let repeats = self.repeats(raw);
        let data = raw.path.as_ref().map_or_else(String::new, |path| {
            self.path_data(path, size);
            path.split_whitespace().collect::<Vec<_>>().join(" ")
        });
        QuiltingDesign::Path { data, size, repeats }
    }

    fn path_data(&mut self, path: &At<String>, [width, height]: [Length; 2]) {
        if path.len() > limits::PATH_BYTES {
            let reason = tr!(
                "the path has {path} bytes, more than the {most} that can be quilted",
                path = path.len(),
                most = limits::PATH_BYTES
            );
            self.problems.add(path.span(), reason, tr!("draw it with fewer points"));
            return;
        }
        let tolerance = limits::PATH_TOLERANCE_IN * self.measure.inch();
        let (reason, help) = match svg_chains(path, width.value(), height.value(), tolerance, limits::PATH_LINES) {
            Ok(_) => return,
            Err(SvgPathError::Markup) => {
                (tr!("`path` holds a whole drawing"), tr!("write only what stands between the quotes of `d`, without transforms"))
            }
            Err(SvgPathError::Grammar) => (
                tr!("`path` is not the path data of an SVG drawing"),
                tr!("it begins with M and a point, then L, H, V, C, S, Q, T, A or Z with their numbers"),
            ),
            Err(SvgPathError::Number) => {
                (tr!("`path` has a number that no drawing has"), tr!("let all numbers be of the size of a page"))
            }
            Err(SvgPathError::Empty) => (tr!("`path` draws nothing"), tr!("add a line: `M 0 0 L 4 3`")),
            Err(SvgPathError::TooMany(most)) => {
                (tr!("`path` has more than {most} lines once its curves are drawn", most), tr!("draw it with fewer curves"))
            }
        };
        self.problems.add(path.span(), reason, help.to_owned());
    }
}

/// How the quilting is done, and the designs.
pub(super) fn write(out: &mut String, quilt: &Quilt) {
    lap(out, quilt);
    for quilting in &quilt.quilting {
        let _ = writeln!(out, "\n[[quilting]]\non = {}\ndesign = \"{}\"", text(&quilting.on.key(quilt)), quilting.design.word());
        design(out, quilt, &quilting.design);
    }
}

fn lap(out: &mut String, quilt: &Quilt) {
    let (lap, usual) = (&quilt.lap, Lap::usual(quilt.measure));
    if *lap == usual {
        return;
    }
    out.push_str("\n[lap]\n");
    for (key, value, usual) in [
        ("margin", lap.margin, usual.margin),
        ("reach", lap.reach, usual.reach),
        ("needleful", lap.needleful, usual.needleful),
        ("tail", lap.tail, usual.tail),
        ("thickness", lap.thickness, usual.thickness),
        ("largest-gap", lap.largest_gap, usual.largest_gap),
    ] {
        if value != usual {
            let _ = writeln!(out, "{key} = {}", length(quilt, value));
        }
    }
    for (key, value, usual) in [
        ("stitches-an-inch", lap.stitches_an_inch, usual.stitches_an_inch),
        ("minutes-a-foot", lap.minutes_a_foot, usual.minutes_a_foot),
        ("hours-a-week", lap.hours_a_week, usual.hours_a_week),
    ] {
        if value != usual {
            let _ = writeln!(out, "{key} = {value}");
        }
    }
}

fn design(out: &mut String, quilt: &Quilt, design: &QuiltingDesign) {
    let inch = quilt.measure;
    let put = |out: &mut String, key: &str, value: Length| {
        let _ = writeln!(out, "{key} = {}", length(quilt, value));
    };
    let bare = |side: Length| length(quilt, side).trim_matches('"').to_owned();
    let sizes = |out: &mut String, [width, height]: [Length; 2]| {
        if width == height {
            put(out, "size", width);
        } else {
            let _ = writeln!(out, "size = \"{} x {}\"", bare(width), bare(height));
        }
    };
    match design {
        QuiltingDesign::InTheDitch | QuiltingDesign::Mitres => {}
        QuiltingDesign::Outline { distance } => {
            if *distance != usual(OUTLINE, inch) {
                put(out, "distance", *distance);
            }
        }
        QuiltingDesign::Echo { distance, count } => {
            if *distance != usual(ECHO, inch) {
                put(out, "distance", *distance);
            }
            if *count != ECHOES {
                let _ = writeln!(out, "count = {count}");
            }
        }
        QuiltingDesign::Parallel { angle_deg, spacing } | QuiltingDesign::Crossed { angle_deg, spacing } => {
            if *angle_deg != ANGLE {
                let _ = writeln!(out, "angle = {angle_deg:?}");
            }
            put(out, "spacing", *spacing);
        }
        QuiltingDesign::Stippling { spacing } => put(out, "spacing", *spacing),
        QuiltingDesign::Motif { size, repeats, .. } => {
            if let Some(size) = size {
                sizes(out, *size);
            }
            if let Some(repeats) = repeats {
                let _ = writeln!(out, "repeats = {repeats}");
            }
        }
        QuiltingDesign::Path { data, size, repeats } => {
            let _ = writeln!(out, "path = {}", text(data));
            sizes(out, *size);
            if let Some(repeats) = repeats {
                let _ = writeln!(out, "repeats = {repeats}");
            }
        }
    }
}
