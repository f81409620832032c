//! The finish: the check of what is written, and the writing of it.
//!
//! In: raw values; or a quilt. Out: edge, sleeve, label and cover with every size checked; or their lines in the file. Whether arcs fit their
//! side is for the plan to find.

use super::check::Check;
use super::raw::*;
use super::write::{cloth_key, length, text};
use crate::*;
use std::fmt::Write as _;
use tr::tr;

/// Sizes unless said, in inches and in centimetres. Sources: common practice; the square of the points and the sleeve are check values
/// `edges.points.sassy` and `edges.sleeve.iqa`, the depth of a scallop lies within `edges.scallop.depth`.
const SQUARE: [f64; 2] = [4.0, 10.0];
const ARC: [f64; 2] = [8.0, 20.0];
const ARC_DEPTH: [f64; 2] = [2.0, 5.0];
const RUFFLE: [f64; 2] = [3.0, 7.5];
const FACING: [f64; 2] = [2.0, 5.0];
const CORD: [f64; 2] = [0.125, 0.3];
const SLEEVE: [f64; 2] = [4.0, 10.0];
const LABEL: [[f64; 2]; 2] = [[6.0, 15.0], [4.0, 10.0]];
/// Fullness of a ruffle unless said. Source: check value `edges.ruffle.serger`.
const FULLNESS: f64 = 2.0;

fn usual([inches, centimetres]: [f64; 2], measure: Measure) -> Length {
    Length::new(if measure == Measure::Inch { inches } else { centimetres })
}

impl Check<'_> {
    fn or_usual(&mut self, typed: Option<&At<Typed>>, what: &str, sizes: [f64; 2], bounds_in: (f64, f64)) -> Length {
        match typed {
            Some(typed) => self.length(typed, what, bounds_in),
            None => usual(sizes, self.measure),
        }
    }

    pub(super) fn finishing(&mut self, raw: &RawQuilt) -> Finishing {
        Finishing {
            edge: raw.finish.as_ref().map_or(EdgeFinish::Straight, |finish| self.edge(finish)),
            sleeve: raw.sleeve.as_ref().map(|sleeve| Sleeve {
                cloth: self.cloth_id(&sleeve.cloth),
                depth: self.or_usual(sleeve.depth.as_ref(), "depth", SLEEVE, (0.5, 24.0)),
            }),
            label: raw.label.as_ref().map(|label| {
                let size = match &label.size {
                    Some(size) => self.width_and_length(size).into(),
                    None => LABEL.map(|side| usual(side, self.measure)),
                };
                Label { cloth: self.cloth_id(&label.cloth), size }
            }),
            cover: raw.cover.as_ref().map(|cover| self.cover(cover)),
        }
    }

    fn edge(&mut self, raw: &RawFinish) -> EdgeFinish {
        self.only_what_the_edge_needs(raw);
        match *raw.edge {
            RawEdge::Straight => EdgeFinish::Straight,
            RawEdge::PrairiePoints => EdgeFinish::PrairiePoints {
                cloth: self.edge_cloth(raw),
                square: self.or_usual(raw.square.as_ref(), "square", SQUARE, (0.5, 24.0)),
                spacing: raw.spacing.as_ref().map(|typed| self.length(typed, "spacing", (0.25, 24.0))),
                fold: match raw.fold.as_deref() {
                    Some(RawFold::Overlapping) => PointFold::Overlapping,
                    Some(RawFold::Nested) | None => PointFold::Nested,
                },
            },
            RawEdge::Scallops => EdgeFinish::Scallops(self.arcs(raw)),
            RawEdge::Waves => EdgeFinish::Waves(self.arcs(raw)),
            RawEdge::Ruffle => EdgeFinish::Ruffle {
                cloth: self.edge_cloth(raw),
                depth: self.or_usual(raw.depth.as_ref(), "depth", RUFFLE, (0.25, 40.0)),
                fullness: raw.fullness.as_ref().map_or(FULLNESS, |fullness| self.number(fullness, "fullness", (1.0, 10.0))),
            },
            RawEdge::Facing => EdgeFinish::Facing {
                cloth: self.edge_cloth(raw),
                depth: self.or_usual(raw.depth.as_ref(), "depth", FACING, (0.25, 24.0)),
            },
            RawEdge::Piping => EdgeFinish::Piping {
                cloth: self.edge_cloth(raw),
                cord: self.or_usual(raw.cord.as_ref(), "cord", CORD, (limits::SHORTEST_IN, 6.0)),
                flat: raw.flat.as_deref().copied().unwrap_or(false),
            },
        }
    }

    fn arcs(&mut self, raw: &RawFinish) -> Arcs {
        Arcs {
            width: self.or_usual(raw.width.as_ref(), "width", ARC, (1.0, limits::SIDE_IN)),
            depth: self.or_usual(raw.depth.as_ref(), "depth", ARC_DEPTH, (0.25, limits::SIDE_IN)),
            corner: raw.corner.as_ref().map(|typed| self.length(typed, "corner", (0.25, limits::SIDE_IN))),
        }
    }

    fn edge_cloth(&mut self, raw: &RawFinish) -> ClothId {
        if let Some(cloth) = &raw.cloth {
            return self.cloth_id(cloth);
        }
        self.problems.add(raw.edge.span(), tr!("this edge needs a `cloth`"), tr!("add `cloth = \"CLOTH\"`"));
        ClothId(0)
    }

    /// Keys that the edge has no use for are refused.
    fn only_what_the_edge_needs(&mut self, raw: &RawFinish) {
        let needs: &[&str] = match *raw.edge {
            RawEdge::Straight => &[],
            RawEdge::PrairiePoints => &["cloth", "square", "spacing", "fold"],
            RawEdge::Scallops | RawEdge::Waves => &["width", "depth", "corner"],
            RawEdge::Ruffle => &["cloth", "depth", "fullness"],
            RawEdge::Facing => &["cloth", "depth"],
            RawEdge::Piping => &["cloth", "cord", "flat"],
        };
        let given = [
            ("cloth", raw.cloth.as_ref().map(At::span)),
            ("square", raw.square.as_ref().map(At::span)),
            ("spacing", raw.spacing.as_ref().map(At::span)),
            ("fold", raw.fold.as_ref().map(At::span)),
            ("width", raw.width.as_ref().map(At::span)),
            ("depth", raw.depth.as_ref().map(At::span)),
            ("corner", raw.corner.as_ref().map(At::span)),
            ("fullness", raw.fullness.as_ref().map(At::span)),
            ("cord", raw.cord.as_ref().map(At::span)),
            ("flat", raw.flat.as_ref().map(At::span)),
        ];
        for (key, span) in given {
            if let Some(span) = span.filter(|_| !needs.contains(&key)) {
                let help =
                    if needs.is_empty() { tr!("take it away") } else { tr!("it has: `{needs}`", needs = needs.join("`, `")) };
                self.problems.add(span, tr!("this edge has no `{key}`", key), help);
            }
        }
    }

    fn cover(&mut self, raw: &RawCover) -> Cover {
        let base = Cover::usual(self.measure, self.cloth_id(&raw.lining));
        let mut size =
            |typed: &Option<At<Typed>>, what: &str, bounds| typed.as_ref().map(|typed| self.length(typed, what, bounds));
        let larger = size(&raw.larger, "larger", (0.0, 6.0)).unwrap_or(base.larger);
        let channel = size(&raw.channel, "channel", (1.0, 24.0));
        let ties = size(&raw.ties, "ties", (2.0, limits::SIDE_IN));
        let tie_length = size(&raw.tie_length, "tie-length", (0.5, 24.0)).unwrap_or(base.tie_length);
        let flap = size(&raw.flap, "flap", (1.0, 40.0));
        Cover {
            larger,
            channel,
            ties,
            tie_length,
            flap,
            grams: raw.grams.as_ref().map(|grams| self.number(grams, "grams", (10.0, 2_000.0))),
            seam: match raw.seam {
                Some(RawSeamKind::Open) => SeamKind::Open,
                Some(RawSeamKind::Plain) => SeamKind::Plain,
                Some(RawSeamKind::Overedged) => SeamKind::Overedged,
                Some(RawSeamKind::Lapped) => SeamKind::Lapped,
                Some(RawSeamKind::French) | None => SeamKind::French,
            },
            ..base
        }
    }
}

/// Edge, sleeve, label and cover; what is as it would be anyway is not written.
pub(super) fn write(out: &mut String, quilt: &Quilt) {
    let cloth = |cloth| cloth_key(quilt, cloth);
    edge(out, quilt);
    if let Some(sleeve) = &quilt.finish.sleeve {
        let _ = writeln!(out, "\n[sleeve]\ncloth = {}", cloth(sleeve.cloth));
        put(out, quilt, "depth", sleeve.depth, Some(SLEEVE));
    }
    if let Some(label) = &quilt.finish.label {
        let _ = writeln!(out, "\n[label]\ncloth = {}", cloth(label.cloth));
        if label.size != LABEL.map(|side| usual(side, quilt.measure)) {
            let [width, height] = label.size.map(|side| length(quilt, side).trim_matches('"').to_owned());
            let _ = writeln!(out, "size = {}", text(&format!("{width} x {height}")));
        }
    }
    if let Some(cover) = &quilt.finish.cover {
        let usual = Cover::usual(quilt.measure, cover.lining);
        let _ = writeln!(out, "\n[cover]\nlining = {}", cloth(cover.lining));
        if cover.larger != usual.larger {
            put(out, quilt, "larger", cover.larger, None);
        }
        for (key, size) in [("channel", cover.channel), ("ties", cover.ties), ("flap", cover.flap)] {
            if let Some(size) = size {
                put(out, quilt, key, size, None);
            }
        }
        if cover.tie_length != usual.tie_length {
            put(out, quilt, "tie-length", cover.tie_length, None);
        }
        if let Some(grams) = cover.grams {
            let _ = writeln!(out, "grams = {grams}");
        }
        if cover.seam != usual.seam {
            let _ = writeln!(out, "seam = \"{}\"", cover.seam.word());
        }
    }
}

fn put(out: &mut String, quilt: &Quilt, key: &str, value: Length, sizes: Option<[f64; 2]>) {
    if sizes.is_none_or(|sizes| value != usual(sizes, quilt.measure)) {
        let _ = writeln!(out, "{key} = {}", length(quilt, value));
    }
}

fn edge(out: &mut String, quilt: &Quilt) {
    let edge = &quilt.finish.edge;
    if *edge == EdgeFinish::Straight {
        return;
    }
    let _ = writeln!(out, "\n[finish]\nedge = \"{}\"", edge.word());
    let cloth = |out: &mut String, cloth| {
        let _ = writeln!(out, "cloth = {}", cloth_key(quilt, cloth));
    };
    match *edge {
        EdgeFinish::Straight => {}
        EdgeFinish::PrairiePoints { cloth: of, square, spacing, fold } => {
            cloth(out, of);
            put(out, quilt, "square", square, Some(SQUARE));
            if let Some(spacing) = spacing {
                put(out, quilt, "spacing", spacing, None);
            }
            if fold != PointFold::default() {
                let _ = writeln!(out, "fold = \"{}\"", fold.word());
            }
        }
        EdgeFinish::Scallops(arcs) | EdgeFinish::Waves(arcs) => {
            put(out, quilt, "width", arcs.width, Some(ARC));
            put(out, quilt, "depth", arcs.depth, Some(ARC_DEPTH));
            if let Some(corner) = arcs.corner {
                put(out, quilt, "corner", corner, None);
            }
        }
        EdgeFinish::Ruffle { cloth: of, depth, fullness } => {
            cloth(out, of);
            put(out, quilt, "depth", depth, Some(RUFFLE));
            if fullness != FULLNESS {
                let _ = writeln!(out, "fullness = {fullness}");
            }
        }
        EdgeFinish::Facing { cloth: of, depth } => {
            cloth(out, of);
            put(out, quilt, "depth", depth, Some(FACING));
        }
        EdgeFinish::Piping { cloth: of, cord, flat } => {
            cloth(out, of);
            put(out, quilt, "cord", cord, Some(CORD));
            if flat {
                let _ = writeln!(out, "flat = true");
            }
        }
    }
}
