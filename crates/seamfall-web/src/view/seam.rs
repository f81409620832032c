//! The panel about a seam: what it joins, to which side it falls and who said so, what meets there, and the ways to change it.

use super::fields::{button, json, swatch};
use super::words;
use crate::room::Worked;
use crate::seams::{self, Word};
use maud::{Markup, html};
use seamfall_draw::seam_course;
use seamfall_geom::{Pose, Vec2};
use seamfall_model::{ClothId, Edit};
use seamfall_plan::Plan;
use seamfall_plan::fall::{self, Fall, SeamRef, State};
use seamfall_plan::piece::{BendKind, Join, SeamStretch, Sewn};
use tr::tr;

/// So many pieces of one side are named.
const NAMED: usize = 3;

/// The panel about a seam, chosen by a name.
pub fn about(worked: &Worked, seam: SeamRef, chosen: &str) -> Markup {
    let (quilt, plan) = (&worked.quilt, &worked.plan);
    let pieces = [Side::new(plan, seam, true), Side::new(plan, seam, false)];
    let falls = seams::fall(plan, seam);
    let word = Word::on(quilt, plan, seam);
    let whose = match seam {
        SeamRef::Place { place, .. } => plan.top.places[place].name.clone(),
        SeamRef::Top { .. } => tr!("the top"),
    };
    html! {
        div data-course=(seam_course(plan, seam)) data-said=(said(&pieces, falls, &whose)) {
            h2 { (tr!("Seam of {whose}", whose)) " " span.quiet { (tr!("between {first} and {second}", first = pieces[0].all, second = pieces[1].all)) } }
            p { @match falls {
                Fall::Left => { (tr!("Falls")) " " (pieces[0].shown()) },
                Fall::Right => { (tr!("Falls")) " " (pieces[1].shown()) },
                Fall::Open => (tr!("Is pressed open")),
            } ". " (decided(worked, word.as_ref())) }
            (choices(worked, seam, &pieces, falls, word.as_ref()))
            (meetings(plan, seam))
            (sewn(worked, seam))
            @if let Some(place) = seams::seen_from(plan, seam, chosen) { (steps(plan, place, chosen)) }
        }
    }
}

/// What lies on one side of a seam.
struct Side {
    /// Name of the piece beside its longest stretch.
    name: String,
    /// That piece in words, and its cloth.
    words: String,
    cloth: Option<ClothId>,
    /// All pieces in words, or the first few.
    all: String,
    /// Where that side lies in the drawing: an arrow and a word.
    way: (&'static str, String),
}

impl Side {
    fn new(plan: &Plan, seam: SeamRef, left: bool) -> Self {
        let course = &fall::seam(plan, seam).course;
        let of = |stretch: &SeamStretch| if left { stretch.left } else { stretch.right };
        let mut all: Vec<usize> = Vec::new();
        for piece in course.iter().map(of) {
            if !all.contains(&piece) {
                all.push(piece);
            }
        }
        let name = fall::pieces_beside(plan, seam)[usize::from(!left)].clone();
        let longest =
            course.iter().find(|stretch| seams::piece_name(plan, seam, of(stretch)) == name).expect("it is beside a stretch");
        let way = way(longest.edge.to() - longest.edge.from(), left, pose(plan, seam));
        let (words, cloth) = (words_of(plan, seam, of(longest)), cloth_of(plan, seam, of(longest)));
        Self { name, words, cloth, all: listed(plan, seam, &all), way }
    }

    /// `up, to patch 3`.
    fn shown(&self) -> Markup {
        html! { (tr!("{way}, to", way = self.way.1)) " " b { @if let Some(cloth) = self.cloth { (swatch(cloth)) " " } (self.all) } }
    }
}

/// What is said when it is chosen: `Seam of A1: falls up, to patch 3`.
fn said(sides: &[Side; 2], falls: Fall, whose: &str) -> String {
    let to = |side: &Side| tr!("falls {way}, to {side}", way = side.way.1, side = side.words);
    let how = match falls {
        Fall::Left => to(&sides[0]),
        Fall::Right => to(&sides[1]),
        Fall::Open => tr!("is pressed open"),
    };
    tr!("Seam of {whose}: {how}", whose, how)
}

fn pose(plan: &Plan, seam: SeamRef) -> Pose {
    match seam {
        SeamRef::Place { place, .. } => plan.top.places[place].pose,
        SeamRef::Top { .. } => Pose::IDENTITY,
    }
}

/// Where the left or right side of a direction lies on the drawing, in eighths of a turn.
fn way(along: Vec2, left: bool, pose: Pose) -> (&'static str, String) {
    let side = if left { Vec2::new(-along.y, along.x) } else { Vec2::new(along.y, -along.x) };
    let side = pose.apply_vec(side);
    // Within a sixteenth of a turn of an axis is along it: the tangent of 22.5 degrees.
    let near = |a: f64, b: f64| a.abs() < b.abs() * 0.414;
    match (near(side.x, side.y), near(side.y, side.x), side.x > 0.0, side.y > 0.0) {
        (true, _, _, true) => ("↑", tr!("up")),
        (true, _, _, false) => ("↓", tr!("down")),
        (_, true, true, _) => ("→", tr!("right")),
        (_, true, false, _) => ("←", tr!("left")),
        (_, _, true, true) => ("↗", tr!("up and right")),
        (_, _, false, true) => ("↖", tr!("up and left")),
        (_, _, true, false) => ("↘", tr!("down and right")),
        (_, _, false, false) => ("↙", tr!("down and left")),
    }
}

/// `patches 1, 4, 7 and 2 more`.
fn listed(plan: &Plan, seam: SeamRef, pieces: &[usize]) -> String {
    let words: Vec<String> = pieces.iter().take(NAMED).map(|&piece| words_of(plan, seam, piece)).collect();
    let are_patches =
        matches!(seam, SeamRef::Place { .. }) && pieces.iter().all(|&piece| seams::strip(plan, seam, piece).is_none());
    let numbers: Vec<String> = pieces.iter().take(NAMED).map(|&piece| (piece + 1).to_string()).collect();
    let named =
        if are_patches && numbers.len() > 1 { tr!("patches {numbers}", numbers = numbers.join(", ")) } else { words.join(", ") };
    match pieces.len().saturating_sub(NAMED) {
        0 => named,
        more => tr!("{pieces} and {more} more", pieces = named, more),
    }
}

/// A piece beside a seam in words: `patch 3`, `frame strip 1, top`, `A1`.
fn words_of(plan: &Plan, seam: SeamRef, piece: usize) -> String {
    match seams::strip(plan, seam, piece) {
        Some(strip) => words::strip(&plan.top.strips[strip]),
        None => match seam {
            SeamRef::Place { .. } => tr!("patch {piece}", piece = piece + 1),
            SeamRef::Top { .. } => seams::piece_name(plan, seam, piece),
        },
    }
}

/// Its cloth; a block as a whole has none.
fn cloth_of(plan: &Plan, seam: SeamRef, piece: usize) -> Option<ClothId> {
    if let Some(strip) = seams::strip(plan, seam, piece) {
        return Some(plan.top.strips[strip].cloth);
    }
    let SeamRef::Place { place, .. } = seam else { return None };
    let part = plan.piecing.designs[plan.piecing.holds[place].design].parts[piece]?;
    Some(plan.top.places[place].cloths[part.0])
}

/// A side on its button: `↑ up, to patch 3, Night`.
fn side(worked: &Worked, side: &Side) -> Markup {
    html! {
        @if let Some(cloth) = side.cloth { (swatch(cloth)) }
        span { span aria-hidden="true" { (side.way.0) } " " (tr!("{way}, to {side}", way = side.way.1, side = side.words))
            @if let Some(cloth) = side.cloth { ", " (worked.quilt.cloths[cloth.0].name) } }
    }
}

/// Who said so.
fn decided(worked: &Worked, word: Option<&Word>) -> Markup {
    html! { span.quiet { @match word {
        None => (tr!("The plan chose it.")),
        Some(word) if word.is_pressed => (tr!("It is pressed so.")),
        Some(word) if word.of_block => {
            (tr!("Set by hand, for every {block}.", block = block_name(worked, &word.fall.between[0])))
        },
        Some(_) => (tr!("Set by hand, here.")),
    } } }
}

/// Name of the block of `star.p1`.
fn block_name<'a>(worked: &'a Worked, patch: &str) -> &'a str {
    let key = patch.rsplit_once(".p").map_or(patch, |(key, _)| key);
    worked.quilt.blocks.iter().find(|block| block.key == key).map_or("", |block| block.name.as_str())
}

/// Buttons to let it fall. A word that holds is changed where it was said; else it can be said here or for all copies.
fn choices(worked: &Worked, seam: SeamRef, pieces: &[Side; 2], falls: Fall, word: Option<&Word>) -> Markup {
    if word.is_some_and(|word| word.is_pressed) {
        return html! { p.quiet { (tr!("To let it fall otherwise, press it anew and write that into the ledger.")) } };
    }
    let (quilt, plan) = (&worked.quilt, &worked.plan);
    let here = pieces.each_ref().map(|piece| piece.name.clone());
    let all = fall::patches_beside(quilt, plan, seam);
    let edit =
        |between: &[String; 2], to: Option<&str>| json(&Edit::Fall { between: between.clone(), to: to.map(str::to_owned) });
    // To whom: 0, 1, or none for open.
    let choice = |id: &str, key: &str, to: Option<usize>, label: Markup| {
        let word_for = |between: &[String; 2]| edit(between, Some(to.map_or("open", |to| between[to].as_str())));
        let (edit, everywhere) = match (word, &all) {
            // Pieces of a seam that the word names may be others than those of its longest stretch.
            (Some(word), _) => (edit(&word.fall.between, Some(&side_of(plan, seam, word, to))), None),
            (None, Some(all)) => (word_for(&here), Some(word_for(all))),
            (None, None) => (word_for(&here), None),
        };
        let now = match to {
            Some(0) => falls == Fall::Left,
            Some(_) => falls == Fall::Right,
            None => falls == Fall::Open,
        };
        html! { button id=(id) type="button" data-edit=(edit) data-everywhere=[everywhere] data-key=(key) aria-keyshortcuts=(key)
        aria-pressed=(if now { "true" } else { "false" }) { (label) " " kbd { (key) } } }
    };
    html! {
        fieldset.palette.sides {
            legend { (tr!("Let it fall")) }
            @if let (None, Some(_)) = (word, &all) {
                label.switch { input #every-copy type="checkbox" data-keep; " " (tr!("in every {block}, not only here", block = block_name(worked, all.as_ref().map_or("", |all| all[0].as_str())))) }
            }
            div.swatches {
                (choice("fall-a", "a", Some(0), side(worked, &pieces[0])))
                (choice("fall-b", "b", Some(1), side(worked, &pieces[1])))
                (choice("fall-open", "o", None, html! { span { (tr!("press open")) } }))
                @if let Some(word) = word {
                    (button("fall-free", &tr!("let the plan choose"), &edit(&word.fall.between, None), Some("n")))
                }
            }
        }
    }
}

/// What a word says so that the seam falls to the left (0) or the right (1) piece, or open.
fn side_of(plan: &Plan, seam: SeamRef, word: &Word, to: Option<usize>) -> String {
    let Some(to) = to else { return "open".to_owned() };
    let first_is_left = if word.of_block {
        let number = |name: &str| name.rsplit_once(".p").and_then(|(_, number)| number.parse::<usize>().ok());
        let first = number(&word.fall.between[0]).map(|number| number - 1);
        let second = number(&word.fall.between[1]).map(|number| number - 1);
        fall::seam(plan, seam).course.iter().any(|each| (Some(each.left), Some(each.right)) == (first, second))
    } else {
        seams::is_left(plan, seam, &word.fall.between)
    };
    word.fall.between[usize::from((to == 0) != first_is_left)].clone()
}

/// What meets in or on this seam.
fn meetings(plan: &Plan, seam: SeamRef) -> Markup {
    let mine: Vec<_> = plan
        .falls
        .meetings
        .iter()
        .enumerate()
        .filter(|(_, each)| each.seam == seam || each.left == seam || each.right == seam)
        .collect();
    let count = |state| mine.iter().filter(|(_, each)| each.state == state).count();
    let (nest, flat) = (count(State::Nests), count(State::Flat));
    let stacks = plan.falls.stacks.iter().filter(|stack| mine.iter().any(|(number, _)| *number == stack.meeting));
    html! {
        @if mine.is_empty() { p.quiet { (tr!("Nothing meets along it.")) } } @else {
            @let stacked = count(State::Stacks);
            p { (tr!("At its ends and along it: {meetings}", meetings = tr!("1 meeting nests" | "{n} meetings nest" % nest)))
                @if flat > 0 { ", " (tr!("1 lies flat" | "{n} lie flat" % flat)) }
                @if stacked > 0 { ", " b { (tr!("1 stacks" | "{n} stack" % stacked)) } } "." }
        }
        @for stack in stacks {
            p.help { (tr!("{layers}: {reason}. Ways out: {ways_out}.", layers = tr!("1 layer" | "{n} layers" % plan.falls.meetings[stack.meeting].layers), reason = stack.reason, ways_out = stack.ways_out.join("; "))) }
        }
    }
}

/// When it is sewn, and how long it is.
fn sewn(worked: &Worked, seam: SeamRef) -> Markup {
    let (quilt, plan) = (&worked.quilt, &worked.plan);
    let (sewing, whole) = match seam {
        SeamRef::Place { place, .. } => (plan.falls.sewing(&plan.piecing, plan.piecing.holds[place].design), tr!("this block")),
        SeamRef::Top { .. } => (plan.falls.top_sewing(&plan.piecing), tr!("the top")),
    };
    let here = fall::seam(plan, seam);
    let join = &sewing.joins[here.join];
    let pieces = |sewn: Sewn| members(&sewing.joins, sewn);
    let bends = |kind| join.bends.iter().filter(|bend| bend.kind == kind).count();
    let (partial, set_in) = (bends(BendKind::Partial), bends(BendKind::SetIn));
    html! {
        p { (tr!("{length} {sign} long, sewn in step {join} of {joins} of {whole}, which joins {first} and {second}", length = words::length(quilt, here.length()), sign = quilt.measure.sign(), join = here.join + 1, joins = sewing.joins.len(), whole, first = part(pieces(join.left)), second = part(pieces(join.right))))
            @if let SeamRef::Place { place, .. } = seam { @if let Some(unit) = unit(plan, place, here.join) { " " (tr!("into unit {unit}", unit)) } } "."
            @if set_in > 0 { " " (tr!("1 corner is set in." | "{n} corners are set in." % set_in)) }
            @if partial > 0 { " " (tr!("It finishes a seam that was sewn in part.")) } }
    }
}

/// What is joined: `one piece`, `a unit of 4 pieces`.
fn part(pieces: usize) -> String {
    if pieces == 1 { tr!("one piece") } else { tr!("a unit of {pieces} pieces", pieces) }
}

/// Name of the unit that a join of a place makes.
fn unit(plan: &Plan, place: usize, join: usize) -> Option<&str> {
    let look = plan.units.looks.iter().find(|look| look.places.contains(&place))?;
    look.units.get(join).map(|&unit| plan.units.all[unit].name.as_str())
}

fn members(joins: &[Join], sewn: Sewn) -> usize {
    match sewn {
        Sewn::Piece(_) => 1,
        Sewn::Join(join) => members(joins, joins[join].left) + members(joins, joins[join].right),
    }
}

/// To the seams before and after it round the block, and to the block.
fn steps(plan: &Plan, place: usize, chosen: &str) -> Markup {
    let round = seams::round(plan, place);
    // A seam may have been chosen by other pieces than those of its longest stretch.
    let here = seams::find(plan, chosen);
    let number = round.iter().position(|name| seams::find(plan, name) == here).unwrap_or(0);
    let step = |by: usize| &round[(number + by) % round.len()];
    let name = &plan.top.places[place].name;
    html! {
        div.actions {
            button type="button" data-go=(name) { (tr!("Block {name}", name)) " " kbd { (tr!("Esc")) } }
            @if round.len() > 1 {
                button type="button" data-go=(step(round.len() - 1)) data-step="-1" { (tr!("Seam before")) " " kbd { "←" } }
                button type="button" data-go=(step(1)) data-step="1" data-key="s" aria-keyshortcuts="s" { (tr!("Next seam")) " " kbd { "s" } }
            }
        }
    }
}
