//! The signs of falls and stacks, and the layer of them over the top's drawing.
//!
//! A seam that falls to one side bears a solid triangle: its base sits on the seam, its tip points to that side. One that is pressed
//! open bears an open diamond, which reaches to both sides. A bar behind the sign says that the fall was set by hand. Where
//! a meeting stacks there is a pile of three slices. They are told apart by their shape alone, black with a white rim, on any cloth.
//!
//! A layer is one path a place, one for the top's own seams and one for the stacks: a king quilt has thousands of seams, and a page
//! must not have an element for each.

use crate::page::{Page, number};
use seamfall_geom::{Edge, Loop, Point, Pose, Turn, Vec2};
use seamfall_model::Quilt;
use seamfall_plan::Plan;
use seamfall_plan::fall::{Fall, SeamRef, seam, set_by_hand};
use seamfall_plan::piece::{Seam, SeamStretch, TopRef};
use std::fmt::Write;
use std::ops::Range;
use tr::tr;

/// Where the sign of a seam stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct SignSpot {
    /// A point of the seam.
    pub at: Point,
    /// To the left of the seam there, one long.
    pub left: Vec2,
    /// How long the seam runs there between two pieces.
    pub room: f64,
    /// Those pieces, left and right.
    pub pieces: [usize; 2],
}

impl SignSpot {
    /// The middle of a stretch.
    fn on(stretch: &SeamStretch) -> Self {
        let edge = &stretch.edge;
        let at = edge.at(0.5);
        let left = match *edge {
            Edge::Line { from, to } => Vec2::new(from.y - to.y, to.x - from.x),
            Edge::Arc { centre, turn: Turn::Left, .. } => centre - at,
            Edge::Arc { centre, turn: Turn::Right, .. } => at - centre,
        };
        let long = left.hypot2().sqrt();
        let left = if long > 0.0 { left / long } else { left };
        Self { at, left, room: edge.length(), pieces: [stretch.left, stretch.right] }
    }

    /// The piece that the seam falls to there; neither where it is open.
    fn fallen_to(&self, fall: Fall) -> Option<usize> {
        match fall {
            Fall::Left => Some(self.pieces[0]),
            Fall::Right => Some(self.pieces[1]),
            Fall::Open => None,
        }
    }
}

/// The middle of the longest stretch of a seam: where nothing ends on it. Of equals the one nearest to the middle of the seam.
pub(crate) fn sign_spot(seam: &Seam) -> SignSpot {
    let middle = seam.length() / 2.0;
    let mut before = 0.0;
    let stretches = seam.course.iter().map(|stretch| {
        let length = stretch.edge.length();
        before += length;
        (stretch, length, (before - length / 2.0 - middle).abs())
    });
    // Lengths within a ten-thousandth are equal, so that a turned block is drawn as it was.
    let (stretch, ..) = stretches
        .reduce(|a, b| if b.1 > a.1 + 1e-4 || (b.1 > a.1 - 1e-4 && b.2 < a.2 - 1e-4) { b } else { a })
        .expect("a seam has a stretch");
    SignSpot::on(stretch)
}

/// A spot on every stretch that is at least half as long as the longest: a join through the whole quilt is met anywhere.
pub(crate) fn sign_spots(seam: &Seam) -> impl Iterator<Item = SignSpot> {
    let longest = seam.course.iter().map(|stretch| stretch.edge.length()).fold(0.0, f64::max);
    seam.course.iter().filter(move |stretch| stretch.edge.length() >= longest / 2.0).map(SignSpot::on)
}

/// Path data of the sign of a fall, about `size` wide, less where the seam is short. `spot` and `fall` are as the plan has them, in
/// the coordinates of a block drawn unmirrored; `pose` brings them to the drawing.
pub(crate) fn fall_sign(out: &mut String, (page, pose): (Page, Pose), spot: &SignSpot, fall: Fall, size: f64, by_hand: bool) {
    let size = size.min(spot.room * 0.55);
    let tip = if fall == Fall::Right { -spot.left } else { spot.left } * size;
    let along = Vec2::new(tip.y, -tip.x);
    let at = |across: f64, up: f64| spot.at + along * across + tip * up;
    let mut shape = |corners: &[Point]| polygon(out, page, pose, corners);
    match fall {
        Fall::Left | Fall::Right => shape(&[at(-0.5, 0.0), at(0.5, 0.0), at(0.0, 0.85)]),
        Fall::Open => {
            shape(&[at(-0.5, 0.0), at(0.0, -0.6), at(0.5, 0.0), at(0.0, 0.6)]);
            // The other way round, so that it is left out.
            shape(&[at(-0.25, 0.0), at(0.0, 0.3), at(0.25, 0.0), at(0.0, -0.3)]);
        }
    }
    if by_hand {
        let from = if fall == Fall::Open { -0.95 } else { -0.35 };
        shape(&[at(-0.6, from), at(0.6, from), at(0.6, from + 0.2), at(-0.6, from + 0.2)]);
    }
}

/// Path data of the sign of a stack about a point of the plan, `size` wide.
pub(crate) fn stack_sign(out: &mut String, page: Page, at: Point, size: f64) {
    let half = size / 2.0;
    let mut slice = |low: (f64, f64), high: (f64, f64)| {
        let corner = |(wide, up): (f64, f64), side: f64| at + Vec2::new(wide * side * half, up * half);
        polygon(out, page, Pose::IDENTITY, &[corner(low, -1.0), corner(low, 1.0), corner(high, 1.0), corner(high, -1.0)]);
    };
    slice((0.9, 0.44), (0.4, 0.95));
    slice((1.0, -0.24), (1.0, 0.24));
    slice((0.4, -0.95), (0.9, -0.44));
}

fn polygon(out: &mut String, page: Page, pose: Pose, corners: &[Point]) {
    let next = corners.iter().cycle().skip(1);
    let sides: Vec<Edge> = corners.iter().zip(next).map(|(&from, &to)| Edge::Line { from, to }).collect();
    page.chain(out, pose, &sides, true);
}

/// How signs are inked: black, with a white rim of a sixth of their size.
pub(crate) fn ink(size: f64) -> String {
    format!(r##"fill="#000" stroke="#fff" stroke-width="{}" stroke-linejoin="round" paint-order="stroke""##, number(size / 6.0))
}

/// Writes the layer of the whole top. Out: id and bytes of its elements, `A1.falls` a place, `top.falls`, and `stacks`.
pub(crate) fn layer(out: &mut String, quilt: &Quilt, plan: &Plan, page: Page, ids: bool) -> Vec<(String, Range<usize>)> {
    let by_hand = set_by_hand(quilt, plan);
    let is_by_hand = |seam| by_hand.contains_key(&seam);
    let usual = sign_size(plan);
    let mut elements = Vec::new();
    let _ = write!(out, r#"<g class="falls" pointer-events="none" {}>"#, ink(usual));
    let mut element = |out: &mut String, id: String, draw: &dyn Fn(&mut String)| {
        let from = out.len();
        out.push_str("<path");
        if ids {
            let _ = write!(out, r#" id="{}""#, crate::text::Escaped(&id));
        }
        out.push_str(r#" d=""#);
        draw(out);
        out.push_str(r#""/>"#);
        elements.push((id, from..out.len()));
    };
    let rooms: Vec<Vec<f64>> = (0..plan.piecing.designs.len()).map(|design| rooms_of(plan, design)).collect();
    for (number, place) in plan.top.places.iter().enumerate() {
        let design = plan.piecing.holds[number].design;
        let sewing = plan.falls.sewing(&plan.piecing, design);
        let falls = &plan.falls.pressing(&plan.piecing, number).falls;
        element(out, format!("{}.falls", place.name), &|out| {
            for (i, (seam, &fall)) in sewing.seams.iter().zip(falls).enumerate() {
                let fixed = is_by_hand(SeamRef::Place { place: number, seam: i });
                let spot = sign_spot(seam);
                let size = spot.fallen_to(fall).map_or(usual, |piece| usual.min(rooms[design][piece]));
                fall_sign(out, (page, place.pose), &spot, fall, size, fixed);
            }
        });
    }
    let room = |piece: usize| match plan.piecing.top_pieces[piece] {
        TopRef::Place(_) => usual,
        TopRef::Strip(strip) => usual.min(room(&plan.top.strips[strip].outline)),
    };
    element(out, "top.falls".to_owned(), &|out| {
        for (i, (seam, &fall)) in plan.falls.top_sewing(&plan.piecing).seams.iter().zip(&plan.falls.top).enumerate() {
            let fixed = is_by_hand(SeamRef::Top { seam: i });
            for spot in sign_spots(seam) {
                let size = spot.fallen_to(fall).map_or(usual, room);
                fall_sign(out, (page, Pose::IDENTITY), &spot, fall, size, fixed);
            }
        }
    });
    element(out, "stacks".to_owned(), &|out| {
        for stack in &plan.falls.stacks {
            stack_sign(out, page, plan.falls.meetings[stack.meeting].at, usual * 1.35);
        }
    });
    out.push_str("</g>");
    elements
}

/// For each piece of a design how large a sign may be that lies on it.
fn rooms_of(plan: &Plan, design: usize) -> Vec<f64> {
    let design = &plan.piecing.designs[design];
    let patches = plan.drafts[design.block.0].patches.iter().map(|patch| &patch.outline);
    patches.chain(&design.frame_pieces).map(room).collect()
}

/// How large a sign may be that lies on a piece: the width of a long strip, half of a square's, so that the tip stays within it.
fn room(outline: &Loop) -> f64 {
    2.0 * outline.area() / outline.perimeter().max(f64::MIN_POSITIVE)
}

/// An eleventh of the usual block: small beside it, and still seen where the whole of a large quilt is shown.
fn sign_size(plan: &Plan) -> f64 {
    let side = |place: &seamfall_plan::set::PlacedBlock| place.outline.area().sqrt();
    let mut sides: Vec<f64> = plan.top.places.iter().map(side).collect();
    sides.sort_by(f64::total_cmp);
    sides.get(sides.len() / 2).map_or(1.0, |side| side / 11.0)
}

/// Path data of the course of a seam, where it lies in the drawing of the top.
#[must_use]
pub fn seam_course(plan: &Plan, of: SeamRef) -> String {
    let page = Page { left: 0.0, top: plan.top.size.y };
    let pose = match of {
        SeamRef::Place { place, .. } => plan.top.places[place].pose,
        SeamRef::Top { .. } => Pose::IDENTITY,
    };
    let mut out = String::new();
    page.chain(&mut out, pose, &seam(plan, of).edges(), false);
    out
}

/// What a legend explains.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FallSign {
    /// A seam that falls to one side.
    Fall,
    /// A seam pressed open.
    Open,
    /// A seam whose fall was set by hand.
    ByHand,
    /// A meeting that stacks.
    Stack,
}

impl FallSign {
    /// All signs, in the order of a legend.
    pub const ALL: [Self; 4] = [Self::Fall, Self::Open, Self::ByHand, Self::Stack];

    /// What it says.
    #[must_use]
    pub fn words(self) -> String {
        match self {
            Self::Fall => tr!("falls to this side"),
            Self::Open => tr!("pressed open"),
            Self::ByHand => tr!("set by hand"),
            Self::Stack => tr!("stacks"),
        }
    }

    /// A picture of it, ten units wide, on a piece of seam.
    #[must_use]
    pub fn svg(self) -> String {
        let mut out = String::from(
            r##"<svg xmlns="http://www.w3.org/2000/svg" viewBox="-5 -5 10 10" aria-hidden="true"><path d="M-5 0h10" stroke="#000" stroke-opacity=".5" stroke-width=".5"/>"##,
        );
        let _ = write!(out, r#"<path {} d=""#, ink(6.0));
        let page = Page { left: 0.0, top: 0.0 };
        let (spot, here) =
            (SignSpot { at: Point::ZERO, left: Vec2::new(0.0, 1.0), room: 40.0, pieces: [0, 1] }, (page, Pose::IDENTITY));
        match self {
            Self::Fall => fall_sign(&mut out, here, &spot, Fall::Left, 5.5, false),
            Self::Open => fall_sign(&mut out, here, &spot, Fall::Open, 5.5, false),
            Self::ByHand => fall_sign(&mut out, here, &spot, Fall::Left, 5.5, true),
            Self::Stack => stack_sign(&mut out, page, Point::ZERO, 7.5),
        }
        out.push_str(r#""/></svg>"#);
        out
    }
}
