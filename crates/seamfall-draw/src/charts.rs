//! Charts for the table and the iron: a unit, a block as it is pressed, and the whole top with the falls of its joins.
//!
//! A unit shows its pieces in their cloths, each with the number of its cloth where that fits, and the seams of its own step in
//! heavy lines. A pressing chart shows a block in pale cloths with its seams numbered in the order of sewing, the sign of each fall, the bends
//! and what stacks. The chart of the top shows only what is sewn between blocks; each block bears the label of its own chart.

use crate::block::{fitting, room};
use crate::falls::{self, SignSpot, fall_sign, sign_spot, sign_spots, stack_sign};
use crate::ink::{Colours, Inks, Paint, signs};
use crate::page::{Page, number};
use crate::text::{Anchor, Escaped, Label, Tone, width};
use seamfall_geom::{Edge, Loop, Point, Pose, Rect, Turn, Vec2};
use seamfall_model::{ClothId, Quilt};
use seamfall_plan::Plan;
use seamfall_plan::draft::Draft;
use seamfall_plan::fall::{Fall, SeamRef, State, set_by_hand};
use seamfall_plan::piece::{BendKind, Design, Seam, SeamStretch, TopRef, Unit};
use std::fmt::Write;
use tr::tr;

/// How much of the cloths' colours is taken away under signs: what is printed over them must be read first.
const PALE: &str = r##"fill="#fff" fill-opacity=".66""##;

/// Prefix of the hatchings of cloths.
const HATCH: &str = "chart";

/// What shows of a cloth under signs: its colour, made pale; a hatching would be in their way.
fn under(paint: Paint, cloth: Option<ClothId>) -> Option<ClothId> {
    if paint == Paint::Signs { None } else { cloth }
}

/// Unit `unit` as it lies where it is first used, its cloths in `paint`. The viewBox is in the document's unit.
#[must_use]
pub fn unit_svg(quilt: &Quilt, unit: &Unit, paint: Paint) -> String {
    let mut pieces: Vec<(&Loop, Option<ClothId>)> = unit.pieces.iter().map(|piece| (&*piece.outline, piece.cloth)).collect();
    // A piece with a hole lies below what fills it.
    pieces.sort_by(|a, b| b.0.area().total_cmp(&a.0.area()));
    let bounds = around(pieces.iter().map(|piece| piece.0.bounds()));
    let long = bounds.width().max(bounds.height());
    let mut chart = Chart::new(quilt, &tr!("Unit {unit}", unit = unit.name), bounds, (long / 60.0, paint));
    if paint == Paint::Signs {
        signs(&mut chart.out, HATCH, quilt, long / 18.0);
    }
    chart.patches(Pose::IDENTITY, &pieces, long / 160.0);
    let step: Vec<&[Edge]> = unit.seams.chunks(1).collect();
    let thinnest = pieces.iter().map(|piece| room([piece.0], piece.0.label_point())).fold(f64::INFINITY, f64::min);
    let heavy = (long / 36.0).min(thinnest * 0.6);
    chart.lines(Pose::IDENTITY, &step, heavy * 1.7, "#fff");
    chart.lines(Pose::IDENTITY, &step, heavy, "#000");
    for (outline, cloth) in &pieces {
        let Some(cloth) = cloth else { continue };
        let at = outline.label_point();
        let text = (cloth.0 + 1).to_string();
        let own = unit.seams.iter().map(|edge| (edge.nearest(at) - at).hypot2().sqrt() - heavy * 0.85);
        let free = own.fold(room([*outline], at), f64::min);
        let size = fitting(&text, free, long, false);
        // What would be too small to be read on a card is left to the card of an earlier unit.
        if size <= free * 1.6 && size > long / 24.0 {
            chart.label(&text, at, size, chart.inks.tone(Some(*cloth)));
        }
    }
    chart.finish()
}

/// Design `design` as its pressing `pressing` has it, in the cloths of the first place that is pressed so; empty where there is
/// none. A mirrored design is drawn as it is sewn. The viewBox is in the document's unit.
#[must_use]
pub fn pressing_svg(quilt: &Quilt, plan: &Plan, (design, pressing): (usize, usize), paint: Paint) -> String {
    let (piecing, falls) = (&plan.piecing, &plan.falls);
    let Some(here) =
        (0..piecing.holds.len()).find(|&place| piecing.holds[place].design == design && falls.of_place[place] == pressing)
    else {
        return String::new();
    };
    let (shape, place) = (&piecing.designs[design], &plan.top.places[here]);
    let pose = if shape.mirrored { Pose::mirror() } else { Pose::IDENTITY };
    let draft = &plan.drafts[shape.block.0];
    let patches = draft.patches.iter().map(|patch| (&patch.outline, under(paint, patch.part.map(|part| place.cloths[part.0]))));
    let strips = piecing.holds[here].frame_strips.iter().map(|&strip| under(paint, Some(plan.top.strips[strip].cloth)));
    let mut pieces: Vec<(&Loop, Option<ClothId>)> = patches.chain(shape.frame_pieces.iter().zip(strips)).collect();
    pieces.sort_by(|a, b| b.0.area().total_cmp(&a.0.area()));

    let bounds = around(pieces.iter().map(|piece| piece.0.moved(pose).bounds()));
    let long = bounds.width().max(bounds.height());
    let mut chart =
        Chart::new(quilt, &tr!("How {block} is pressed", block = quilt.blocks[shape.block.0].name), bounds, (long / 80.0, paint));
    chart.patches(pose, &pieces, long / 400.0);
    chart.pale(bounds);
    let outlines: Vec<&[Edge]> = pieces.iter().map(|piece| piece.0.edges()).collect();
    chart.lines(pose, &outlines, long / 250.0, "#000");

    let sewing = falls.sewing(piecing, design);
    let by_hand = set_by_hand(quilt, plan);
    let usual = long / 17.0;
    for bend in sewing.joins.iter().flat_map(|join| &join.bends) {
        chart.bend(pose.apply(bend.at), bend.kind, long / 60.0);
    }
    let outline = |piece: usize| outline_of(shape, draft, piece);
    let spots: Vec<Spot> = sewing.seams.iter().map(|seam| Spot::new(seam, &outline, usual)).collect();
    let seams = || spots.iter().zip(&falls.pressings[design][pressing].falls).enumerate();
    let _ = write!(chart.out, r#"<path {} d=""#, falls::ink(usual));
    for (seam, (spot, &fall)) in seams() {
        let fixed = by_hand.contains_key(&SeamRef::Place { place: here, seam });
        fall_sign(&mut chart.out, (chart.page, pose), &spot.sign, fall, spot.size(fall, usual), fixed);
    }
    let mut taken = Taken::default();
    seams().for_each(|(_, (spot, &fall))| taken.all.push(spot.covered(fall, usual)));
    let back = place.pose.inverse();
    for meeting in &falls.meetings {
        let inside = matches!(meeting.seam, SeamRef::Place { place, .. } if place == here);
        if inside && meeting.state == State::Stacks {
            let at = back.apply(meeting.at);
            stack_sign(&mut chart.out, chart.page, pose.apply(at), usual * 1.2);
            taken.all.push((at, usual * 0.6));
        }
    }
    chart.out.push_str(r#""/>"#);
    for (seam, (spot, &fall)) in seams() {
        let text = (seam + 1).to_string();
        let size = usual * if spot.sign.room < usual * 2.5 { 0.54 } else { 0.62 };
        let at = taken.place(spot.beside_sign(fall, usual, size, width(&text, size)), width(&text, size).max(size) * 0.42);
        chart.label(&text, pose.apply(at), size, Tone::OnLight);
    }
    chart.finish()
}

/// The whole top with the falls of its own seams and everything that stacks; `labels` holds for each place the name of its chart. The
/// viewBox is in the document's unit.
#[must_use]
pub fn falls_svg(quilt: &Quilt, plan: &Plan, labels: &[String], paint: Paint) -> String {
    let top = &plan.top;
    let bounds = Rect::new(0.0, 0.0, top.size.x, top.size.y);
    let long = top.size.x.max(top.size.y).max(1.0);
    let mut chart = Chart::new(quilt, &tr!("Falls of {name}", name = quilt.name), bounds, (long / 200.0, paint));
    for place in &top.places {
        let patches = plan.drafts[place.block.0].patches.iter();
        let pieces: Vec<(&Loop, Option<ClothId>)> =
            patches.map(|patch| (&patch.outline, under(paint, patch.part.map(|part| place.cloths[part.0])))).collect();
        chart.patches(place.pose, &pieces, long / 2500.0);
    }
    let strips: Vec<(&Loop, Option<ClothId>)> =
        top.strips.iter().map(|strip| (&strip.outline, under(paint, Some(strip.cloth)))).collect();
    chart.patches(Pose::IDENTITY, &strips, long / 2500.0);
    chart.pale(bounds);
    let seams = &plan.falls.top_sewing(&plan.piecing).seams;
    let courses: Vec<Vec<Edge>> = seams.iter().map(seamfall_plan::piece::Seam::edges).collect();
    let courses: Vec<&[Edge]> = courses.iter().map(Vec::as_slice).collect();
    chart.lines(Pose::IDENTITY, &courses, long / 700.0, "#000");
    chart.lines(Pose::IDENTITY, &[Loop::rect(bounds).edges()], long / 300.0, "#000");
    let side = block_side(plan);
    for (place, label) in top.places.iter().zip(labels) {
        let at = place.outline.label_point();
        let size = (side * 0.26).min(side * 0.75 / width(label, 1.0));
        chart.label(label, at + Vec2::new(0.0, side * 0.08), size, Tone::OnLight);
        chart.small_label(&place.name, at - Vec2::new(0.0, side * 0.16), side * 0.15);
    }
    let by_hand = set_by_hand(quilt, plan);
    let size = side / 7.0;
    let strip = |piece: usize| match plan.piecing.top_pieces[piece] {
        TopRef::Strip(strip) => Some(&top.strips[strip].outline),
        TopRef::Place(_) => None,
    };
    let _ = write!(chart.out, r#"<path {} d=""#, falls::ink(size));
    for (seam, (course, &fall)) in seams.iter().zip(&plan.falls.top).enumerate() {
        let fixed = by_hand.contains_key(&SeamRef::Top { seam });
        for sign in sign_spots(course) {
            let near = |stretch: &&SeamStretch| (stretch.edge.nearest(sign.at) - sign.at).hypot2();
            let stretch = course.course.iter().min_by(|a, b| near(a).total_cmp(&near(b))).expect("a seam has a stretch");
            let spot = Spot::beside(sign, [stretch.left, stretch.right].map(strip), size);
            fall_sign(&mut chart.out, (chart.page, Pose::IDENTITY), &sign, fall, spot.size(fall, size), fixed);
        }
    }
    for stack in &plan.falls.stacks {
        stack_sign(&mut chart.out, chart.page, plan.falls.meetings[stack.meeting].at, size * 1.3);
    }
    chart.out.push_str(r#""/>"#);
    if let Some((_, at)) = plan.falls.thickest {
        chart.ring(at, size * 1.1);
    }
    chart.finish()
}

/// Where the sign of a seam stands, and how far it is to the next seam or edge on either side.
struct Spot {
    sign: SignSpot,
    left: f64,
    right: f64,
}

impl Spot {
    /// Of the pieces beside it `outline` knows the outlines; nothing is taken for wide enough. Looks no farther than `most`.
    fn new<'a>(seam: &Seam, outline: &impl Fn(usize) -> Option<&'a Loop>, most: f64) -> Self {
        let sign = sign_spot(seam);
        let near = |stretch: &&SeamStretch| (stretch.edge.nearest(sign.at) - sign.at).hypot2();
        let stretch = seam.course.iter().min_by(|a, b| near(a).total_cmp(&near(b))).expect("a seam has a stretch");
        Self::beside(sign, [stretch.left, stretch.right].map(outline), most)
    }

    fn beside(sign: SignSpot, [left, right]: [Option<&Loop>; 2], most: f64) -> Self {
        let depth = |outline: Option<&Loop>, to: Vec2| {
            let Some(outline) = outline else { return most };
            let step = |i: u32| most * f64::from(i) / 24.0;
            (1..=24).map(step).take_while(|&far| outline.contains(sign.at + to * far)).last().unwrap_or(0.0)
        };
        Self { sign, left: depth(left, sign.left), right: depth(right, -sign.left) }
    }

    /// The size at which its sign stays within the piece on which the allowances come to lie, if that can be read.
    fn size(&self, fall: Fall, usual: f64) -> f64 {
        let depth = match fall {
            Fall::Left => self.left,
            Fall::Right => self.right,
            Fall::Open => self.left.min(self.right),
        };
        usual.min(depth * 1.1).min(self.sign.room * 0.4).max(usual * 0.45)
    }

    /// About what the sign covers: a point and how far round it.
    fn covered(&self, fall: Fall, usual: f64) -> (Point, f64) {
        let size = self.size(fall, usual).min(self.sign.room * 0.55);
        match fall {
            Fall::Left => (self.sign.at + self.sign.left * (size * 0.35), size * 0.4),
            Fall::Right => (self.sign.at - self.sign.left * (size * 0.35), size * 0.4),
            Fall::Open => (self.sign.at, size * 0.6),
        }
    }

    /// Where the number of the seam may stand, the best first: on the side to which it does not fall, along the seam, between.
    fn beside_sign(&self, fall: Fall, usual: f64, size: f64, wide: f64) -> Vec<Point> {
        let sign = self.size(fall, usual);
        let away = if fall == Fall::Right { self.sign.left } else { -self.sign.left };
        let off = size * 0.62 + if fall == Fall::Open { sign * 0.6 } else { 0.0 };
        let along = Vec2::new(away.y, -away.x);
        let beside = sign * 0.5 + wide * 0.5 + size * 0.1;
        let mut all = vec![self.sign.at + away * off];
        for (share, far) in [(0.0, 1.0), (1.0, 0.8), (0.0, 1.6), (1.0, 1.5)] {
            all.extend([1.0, -1.0].map(|way| self.sign.at + away * (off * share) + along * (beside * far * way)));
        }
        all
    }
}

/// What is covered by signs and numbers.
#[derive(Default)]
struct Taken {
    /// Points, and how far round each.
    all: Vec<(Point, f64)>,
}

impl Taken {
    /// Takes the first of `spots` that is free for as far as `radius` round it, else the one with the most room.
    fn place(&mut self, spots: Vec<Point>, radius: f64) -> Point {
        let free = |at: Point| {
            let room = self.all.iter().map(|(other, covered)| (*other - at).hypot2().sqrt() - covered - radius);
            room.fold(0.0, f64::min)
        };
        // Of equals the first.
        let best = spots.into_iter().map(|at| (at, free(at))).reduce(|a, b| if b.1 > a.1 { b } else { a });
        let (at, _) = best.expect("a seam has a spot for its number");
        self.all.push((at, radius * 0.9));
        at
    }
}

/// Of a piece of a design: a patch, or one of its frame.
fn outline_of<'a>(design: &'a Design, draft: &'a Draft, piece: usize) -> Option<&'a Loop> {
    match piece.checked_sub(draft.patches.len()) {
        None => draft.patches.get(piece).map(|patch| &patch.outline),
        Some(frame) => design.frame_pieces.get(frame),
    }
}

/// Side of the usual block, as if it were a square.
fn block_side(plan: &Plan) -> f64 {
    let mut sides: Vec<f64> = plan.top.places.iter().map(|place| place.outline.area().sqrt()).collect();
    sides.sort_by(f64::total_cmp);
    sides.get(sides.len() / 2).copied().unwrap_or(1.0)
}

fn around(mut all: impl Iterator<Item = Rect>) -> Rect {
    let first = all.next().unwrap_or(Rect::new(0.0, 0.0, 1.0, 1.0));
    all.fold(first, |all, one| all.union(one))
}

/// A chart as it grows.
struct Chart<'a> {
    inks: Inks<'a>,
    page: Page,
    out: String,
}

impl<'a> Chart<'a> {
    fn new(quilt: &'a Quilt, title: &str, bounds: Rect, (rim, paint): (f64, Paint)) -> Self {
        let page = Page { left: bounds.x0, top: bounds.y1 };
        let mut out = String::new();
        let _ = write!(
            out,
            r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="{} {} {} {}" role="img" aria-label="{title}" font-family="sans-serif"><title>{title}</title>"#,
            number(-rim),
            number(-rim),
            number(bounds.width() + 2.0 * rim),
            number(bounds.height() + 2.0 * rim),
            title = Escaped(title),
        );
        Self { inks: Inks::plain(quilt, paint, Colours::Attributes, HATCH), page, out }
    }

    fn patches(&mut self, pose: Pose, pieces: &[(&Loop, Option<ClothId>)], stroke: f64) {
        let _ = write!(self.out, r##"<g stroke="#000" stroke-width="{}" stroke-linejoin="round">"##, number(stroke));
        for (outline, cloth) in pieces {
            let _ = write!(self.out, r#"<path{} d=""#, self.inks.fill(*cloth));
            self.page.loops(&mut self.out, pose, [*outline]);
            self.out.push_str(r#""/>"#);
        }
        self.out.push_str("</g>");
    }

    /// Takes away from the colours of all that is drawn so far.
    fn pale(&mut self, bounds: Rect) {
        let _ = write!(self.out, r#"<path {PALE} d=""#);
        self.page.loops(&mut self.out, Pose::IDENTITY, [&Loop::rect(bounds)]);
        self.out.push_str(r#""/>"#);
    }

    fn lines(&mut self, pose: Pose, chains: &[&[Edge]], stroke: f64, colour: &str) {
        let _ = write!(
            self.out,
            r#"<path fill="none" stroke="{colour}" stroke-width="{}" stroke-linejoin="round" stroke-linecap="round" d=""#,
            number(stroke)
        );
        for chain in chains {
            self.page.chain(&mut self.out, pose, chain, false);
        }
        self.out.push_str(r#""/>"#);
    }

    fn label(&mut self, text: &str, at: Point, size: f64, tone: Tone) {
        Label { text, at: self.page.at(at), size, anchor: Anchor::Middle, bold: true, tone }.write(&mut self.out, "");
    }

    fn small_label(&mut self, text: &str, at: Point, size: f64) {
        Label { text, at: self.page.at(at), size, anchor: Anchor::Middle, bold: false, tone: Tone::OnLight }
            .write(&mut self.out, "");
    }

    /// A corner set in: an open square. A seam finished: an open circle.
    fn bend(&mut self, at: Point, kind: BendKind, half: f64) {
        let round = |a: f64, b: f64| Edge::Arc {
            from: at + Vec2::new(a * half, 0.0),
            to: at + Vec2::new(b * half, 0.0),
            centre: at,
            turn: Turn::Left,
        };
        let outline = match kind {
            BendKind::SetIn => Loop::rect(Rect::new(at.x - half, at.y - half, at.x + half, at.y + half)),
            BendKind::Partial => Loop::new(vec![round(1.0, -1.0), round(-1.0, 1.0)]),
        };
        let _ = write!(self.out, r##"<path fill="#fff" stroke="#000" stroke-width="{}" d=""##, number(half / 3.0));
        self.page.loops(&mut self.out, Pose::IDENTITY, [&outline]);
        self.out.push_str(r#""/>"#);
    }

    fn ring(&mut self, at: Point, radius: f64) {
        let at = self.page.at(at);
        for (colour, stroke) in [("#fff", radius / 2.0), ("#000", radius / 5.0)] {
            let _ = write!(
                self.out,
                r#"<circle cx="{}" cy="{}" r="{}" fill="none" stroke="{colour}" stroke-width="{}"/>"#,
                number(at.x),
                number(at.y),
                number(radius),
                number(stroke)
            );
        }
    }

    fn finish(mut self) -> String {
        self.out.push_str("</svg>");
        self.out
    }
}
