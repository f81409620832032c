//! One template for all patches that can be cut by it.
//!
//! In: the pieces of a block and the shapes laid over. Out: templates, and for each piece the number of its template and its
//! straight grain. Pieces share a template when they are congruent by turning and their grain agrees; a turn of the grain by
//! a right angle counts as the same, since cloth is straight both ways. Cloths play no part.

use super::findings::Found;
use super::grain::{self, Grain, half_turn};
use super::patches::{self, Piece};
use super::shape::{Key, Lie, Start, lie, rounded_angle};
use super::{Kind, Notch, Template, kinds, width};
use seamfall_geom::{Edge, Loop, OffsetError, Point, Pose, TOLERANCE, TipTrim, Turn, Vec2, grow};
use seamfall_model::{Quilt, letters};
use std::collections::BTreeMap;

/// Pieces that share a template.
struct Group {
    /// Piece from which the template is drawn.
    model: usize,
    /// Grain of the model.
    grain_deg: f64,
    /// Grain from the direction in which the shape starts.
    from_start: f64,
    /// What is up on the template, from there, too.
    up_from_start: f64,
    /// Its point for the label, seen from there.
    label: Vec2,
    /// The same on the model.
    middle: Point,
    /// Lowest number of its pieces.
    first: usize,
    count: usize,
}

/// What a piece is cut by.
#[derive(Debug, Clone, Copy)]
pub(super) struct CutBy {
    /// Number of its template.
    pub template: usize,
    /// Its straight grain, 0 to under 180 degrees.
    pub grain_deg: f64,
    /// Where what is up on the template points to.
    pub up_deg: f64,
    /// A point of its cloth for the label, the same on all that share the template: it takes longer to find than all else.
    pub label: Point,
}

/// The templates of `pieces`, in order of first use, and the template of each.
pub(super) fn of_pieces(pieces: &[Piece], found: &mut Found<'_>) -> (Vec<Template>, Vec<CutBy>) {
    let straight = grain::straight_directions(found.block.shape);
    let grains: Vec<Grain> = pieces.iter().map(|piece| grain::of(piece, &straight)).collect();
    let (groups, by) = grouped(pieces, &grains);
    let mut order: Vec<usize> = (0..groups.len()).collect();
    order.sort_by_key(|group| groups[*group].first);
    let mut place = vec![0; groups.len()];
    let mut templates = Vec::with_capacity(groups.len());
    for (number, group) in order.iter().enumerate() {
        place[*group] = number;
        templates.push(template(number, &groups[*group], pieces, found));
    }
    let by: Vec<CutBy> = by.into_iter().map(|cut| CutBy { template: place[cut.template], ..cut }).collect();
    thin(pieces, &groups, &order, &by, found);
    (templates, by)
}

/// Sorts pieces into groups: first those that ask for one grain, then those to which several are as good, then those that take
/// any; these two join what is there before they make a group of their own.
fn grouped(pieces: &[Piece], grains: &[Grain]) -> (Vec<Group>, Vec<CutBy>) {
    let lies: Vec<Lie> = pieces.iter().map(|piece| lie(&piece.outline, &piece.holes)).collect();
    let mut groups: Vec<Group> = Vec::new();
    let mut of_shape: BTreeMap<&Key, Vec<(i64, usize)>> = BTreeMap::new();
    let mut by = vec![CutBy { template: 0, grain_deg: 0.0, up_deg: 90.0, label: Point::ORIGIN }; pieces.len()];
    let mut order: Vec<usize> = (0..pieces.len()).collect();
    order.sort_by_key(|i| (!grains[*i].asked, grains[*i].directions.len() > 1));
    for i in order {
        let choices = choices(&grains[i].directions, &lies[i].starts);
        let same = of_shape.entry(&lies[i].key).or_default();
        let fit = choices.iter().find_map(|choice| Some((*choice, same.iter().find(|(turn, _)| *turn == choice.turn)?.1)));
        let any = || same.first().filter(|_| !grains[i].asked).map(|(_, group)| (choices[0], *group));
        let (choice, group) = fit.or_else(any).unwrap_or_else(|| {
            let choice = choices[0];
            let from_start = half_turn(choice.deg - choice.start.deg);
            let middle = patches::label(&pieces[i]);
            let label = choice.start.seen(middle);
            same.push((choice.turn, groups.len()));
            let up_from_start = choice.deg - choice.start.deg;
            groups.push(Group { model: i, grain_deg: choice.deg, from_start, up_from_start, label, middle, first: i, count: 0 });
            (choice, groups.len() - 1)
        });
        let grain_deg = if grains[i].asked { choice.deg } else { half_turn(choice.start.deg + groups[group].from_start) };
        groups[group].first = groups[group].first.min(i);
        groups[group].count += 1;
        let up_deg = up(&lies[i].starts, choice.start.deg, groups[group].up_from_start);
        by[i] = CutBy { template: group, grain_deg, up_deg, label: choice.start.point(groups[group].label) };
    }
    (groups, by)
}

/// Where what is up on the template points to. A shape that looks the same turned by right angles can be cut so that its print stands upright in the
/// block, or as nearly so as it goes.
fn up(starts: &[Start], usual_deg: f64, up_from_start: f64) -> f64 {
    let usual = usual_deg + up_from_start;
    let same_grain = |up: &f64| rounded_angle(up - usual, 90) == 0;
    let upright = |up: f64| libm::sin(up.to_radians());
    let all = starts.iter().map(|start| start.deg + up_from_start).filter(same_grain);
    // The usual one unless another is plainly better.
    all.fold(usual, |best, up| if upright(up) > upright(best) + 1e-9 { up } else { best })
}

/// A way to lay the grain on a shape.
#[derive(Clone, Copy)]
struct Choice {
    /// From the shape's start to the grain, rounded; a right angle more or less counts as the same.
    turn: i64,
    /// Direction of the grain.
    deg: f64,
    /// Where the shape starts.
    start: Start,
}

/// All ways, in an order that does not depend on how the shape lies: by the turn from its start to the grain.
fn choices(directions: &[f64], starts: &[Start]) -> Vec<Choice> {
    let from = |deg: f64| starts.iter().map(move |start| Choice { turn: rounded_angle(deg - start.deg, 90), deg, start: *start });
    let mut choices: Vec<Choice> = directions.iter().flat_map(|deg| from(*deg)).collect();
    choices.sort_by_key(|choice| choice.turn);
    choices
}

fn template(number: usize, group: &Group, pieces: &[Piece], found: &mut Found<'_>) -> Template {
    let piece = &pieces[group.model];
    let allowance = found.quilt.allowance.0.value();
    let cut = grown(&piece.outline, allowance, TipTrim::Aligned).map_err(|error| found.no_room(group.first, piece, error)).ok();
    let turn = Pose::turn_deg(90.0 - group.grain_deg);
    let mut template = laid(&piece.outline, &piece.holes, cut.as_ref(), group.middle, turn);
    template.letter = letters(number);
    template.kind = kinds::kind(&template.finished, &template.holes);
    template.notches = notches(&template, allowance, found.quilt);
    template.count = group.count;
    template
}

/// Templates of the shapes laid over, numbered from `from` on; for each shape the number of its template.
pub(super) fn of_overlays(shapes: &[(usize, Loop)], from: usize, found: &mut Found<'_>) -> (Vec<Template>, Vec<usize>) {
    let mut templates: Vec<Template> = Vec::new();
    let mut numbers: BTreeMap<(Key, u64), usize> = BTreeMap::new();
    let mut by = Vec::new();
    for (overlay, shape) in shapes {
        let turn_under = found.block.overlays[*overlay].turn_under;
        let key = (lie(shape, &[]).key, turn_under.value().to_bits());
        let number = *numbers.entry(key).or_insert_with(|| {
            let cut = grown(shape, turn_under.value(), TipTrim::Full)
                .map_err(|error| found.no_room_over(*overlay, shape, turn_under, error))
                .ok();
            // As it lies in the block: there the ground's grain is upright, too.
            let template = laid(shape, &[], cut.as_ref(), shape.label_point(), Pose::IDENTITY);
            templates.push(Template { letter: letters(from + templates.len()), kind: Kind::Overlay, ..template });
            templates.len() - 1
        });
        templates[number].count += 1;
        by.push(from + number);
    }
    (templates, by)
}

fn grown(outline: &Loop, by: f64, tips: TipTrim) -> Result<Loop, OffsetError> {
    if by > TOLERANCE { grow(outline, by, tips) } else { Ok(outline.clone()) }
}

/// Outlines turned, and shifted so that the lower left corner of their bounds is the origin.
fn laid(outline: &Loop, holes: &[Loop], cut: Option<&Loop>, middle: Point, turn: Pose) -> Template {
    let corner = cut.unwrap_or(outline).moved(turn).bounds();
    let pose = turn.then(Pose::shift(-corner.origin().to_vec2()));
    Template {
        letter: String::new(),
        kind: Kind::Straight,
        finished: outline.moved(pose),
        holes: holes.iter().map(|hole| hole.moved(pose)).collect(),
        cut: cut.map(|cut| cut.moved(pose)),
        middle: pose.apply(middle),
        notches: Vec::new(),
        count: 0,
    }
}

/// Match marks: the middle of every arc, the quarters of one longer than 6 in, and the points on an arc at which other seams
/// meet it; square to the seam, as long as the allowance.
fn notches(template: &Template, allowance: f64, quilt: &Quilt) -> Vec<Notch> {
    let long = 6.0 * quilt.measure.inch();
    let mut notches = Vec::new();
    for around in [&template.finished].into_iter().chain(&template.holes) {
        let edges = around.edges();
        for (i, edge) in edges.iter().enumerate() {
            let Edge::Arc { centre, turn, .. } = edge else { continue };
            let mut mark = |share: f64| {
                let from = edge.at(share);
                let out: Vec2 = if *turn == Turn::Left { from - *centre } else { *centre - from };
                notches.push(Notch { from, to: from + out * (allowance / grain::length(out)) });
            };
            if goes_on(&edges[(i + edges.len() - 1) % edges.len()], edge) {
                mark(0.0);
            }
            let shares: &[f64] = if edge.length() > long { &[0.25, 0.5, 0.75] } else { &[0.5] };
            shares.iter().for_each(|share| mark(*share));
        }
    }
    notches
}

/// Whether arc `b` goes on along the circle of arc `a`.
fn goes_on(a: &Edge, b: &Edge) -> bool {
    let (Edge::Arc { centre: ca, turn: ta, .. }, Edge::Arc { centre: cb, turn: tb, .. }) = (a, b) else { return false };
    ta == tb && (*ca - *cb).hypot2() <= TOLERANCE * TOLERANCE
}

/// Says which pieces are too thin to sew, and which hold another. Congruent pieces are measured once.
fn thin(pieces: &[Piece], groups: &[Group], order: &[usize], by: &[CutBy], found: &mut Found<'_>) {
    let allowance = found.quilt.allowance.0.value();
    let width = |group: &usize| {
        let piece = &pieces[groups[*group].model];
        width::narrowest(&piece.outline, &piece.holes, piece.area)
    };
    let widths: Vec<f64> = order.iter().map(width).collect();
    for (i, piece) in pieces.iter().enumerate() {
        if widths[by[i].template] < allowance - TOLERANCE {
            found.too_thin(i, widths[by[i].template]);
        }
        if !piece.holes.is_empty() {
            found.holds_another(i);
        }
    }
}
