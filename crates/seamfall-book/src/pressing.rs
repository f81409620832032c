//! Pressing in words: a chart for each way a block is pressed, and one of the whole top with the proof.
//!
//! In: the plan's falls. Out: charts named `P1`, `P2`, ...; copies of a block whose seams all fall alike share one, however many
//! pressings the plan counts.

use crate::figures::{Figure, Figures};
use crate::words;
use seamfall_draw::FallSign;
use seamfall_model::Quilt;
use seamfall_plan::Plan;
use seamfall_plan::fall::{Count, Fall, Proof, SeamRef, Stack, State, seam_name};
use seamfall_plan::piece::BendKind;
use seamfall_plan::set::PlacedBlock;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};
use tr::tr;

/// So many places of a chart are named, and so many stacks are listed.
const NAMED: usize = 30;
const ROWS: usize = 60;

/// Which charts there are.
#[derive(Debug)]
pub struct Charts {
    all: Vec<Alike>,
    /// For each place the number of its chart.
    of_place: Vec<usize>,
}

/// Copies of one design that are pressed alike.
#[derive(Debug)]
struct Alike {
    design: usize,
    places: Vec<usize>,
}

/// A chart as it is printed.
#[derive(Debug, Serialize)]
pub struct Chart {
    /// `P1`.
    name: String,
    block: String,
    count: String,
    places: String,
    figure: Figure,
    lines: Vec<String>,
    stacks: Vec<String>,
}

/// What is printed about the whole top.
#[derive(Debug, Serialize)]
pub struct Whole {
    figure: Figure,
    proof: String,
    thickest: String,
    counts: Vec<CountRow>,
    /// What stacks, by its reason and what can be done.
    stacks: Vec<Kind>,
    /// How many more stacks than are listed.
    more: usize,
}

#[derive(Debug, Serialize)]
struct CountRow {
    pressings: String,
    stacks: String,
    proof: String,
    taken: bool,
}

/// Stacks of one reason.
#[derive(Debug, Serialize)]
struct Kind {
    reason: String,
    ways_out: String,
    rows: Vec<StackRow>,
}

#[derive(Debug, Serialize)]
struct StackRow {
    place: String,
    meet: String,
    layers: u32,
}

/// A sign and what it says.
#[derive(Debug, Serialize)]
pub struct Sign {
    figure: String,
    words: String,
}

impl Charts {
    /// Deals the places out to charts, in the order of designs and pressings.
    pub fn new(plan: &Plan) -> Self {
        let mut known: BTreeMap<(usize, &[Fall]), Alike> = BTreeMap::new();
        let mut of_place = vec![0; plan.top.places.len()];
        for (place, held) in plan.piecing.holds.iter().enumerate() {
            let falls = plan.falls.pressing(&plan.piecing, place).falls.as_slice();
            let alike = known.entry((held.design, falls)).or_insert(Alike { design: held.design, places: Vec::new() });
            alike.places.push(place);
        }
        let mut all: Vec<Alike> = known.into_values().collect();
        all.sort_by_key(|alike| (alike.design, alike.places[0]));
        for (number, alike) in all.iter().enumerate() {
            alike.places.iter().for_each(|&place| of_place[place] = number);
        }
        Self { all, of_place }
    }

    fn name(number: usize) -> String {
        format!("P{}", number + 1)
    }

    /// Names of the charts of a design: `P1, P2`.
    pub fn names_of(&self, design: usize) -> String {
        let own = self.all.iter().enumerate().filter(|(_, alike)| alike.design == design);
        let mut names: Vec<String> = own.map(|(number, _)| Self::name(number)).collect();
        if names.len() > 4 {
            let last = names.pop().unwrap_or_default();
            return tr!("{names} to {last}", names = names[0], last);
        }
        names.join(", ")
    }
}

/// The signs of the charts.
pub fn signs(figures: &mut Figures) -> Vec<Sign> {
    FallSign::ALL.iter().map(|sign| Sign { figure: figures.sign(*sign), words: sign.words().to_owned() }).collect()
}

/// Every chart.
pub fn printed(quilt: &Quilt, plan: &Plan, charts: &Charts, figures: &mut Figures) -> Vec<Chart> {
    charts.all.iter().enumerate().map(|(number, alike)| chart(quilt, plan, number, alike, figures)).collect()
}

fn chart(quilt: &Quilt, plan: &Plan, number: usize, alike: &Alike, figures: &mut Figures) -> Chart {
    let design = &plan.piecing.designs[alike.design];
    let first = alike.places[0];
    let name = Charts::name(number);
    let mut block = quilt.blocks[design.block.0].name.clone();
    if design.mirrored {
        block.push_str(&tr!(", mirrored"));
    }
    if let Some(frame) = design.frame {
        block = tr!("{block}, frame {frame}", block, frame = quilt.frames[frame.0].key);
    }
    let stacks = stacks_in(plan, first);
    let seams = plan.falls.sewing(&plan.piecing, alike.design).seams.len();
    let alt = tr!(
        "How {block} is pressed, chart {name}: {seams} with the side to which each falls, {stacks}",
        block,
        name,
        seams = tr!("1 seam" | "{n} seams" % seams),
        stacks = if stacks.is_empty() { tr!("nothing stacks") } else { tr!("1 stack" | "{n} stacks" % stacks.len()) }
    );
    Chart {
        count: tr!("1 place" | "{n} places" % alike.places.len()),
        places: place_names(plan, &alike.places),
        figure: Figure { path: figures.pressing(quilt, plan, alike.design, plan.falls.of_place[first]), alt },
        lines: lines(plan, alike, seams),
        stacks,
        name,
        block,
    }
}

fn place_names(plan: &Plan, places: &[usize]) -> String {
    let mut names: Vec<&str> = places.iter().take(NAMED).map(|&place| plan.top.places[place].name.as_str()).collect();
    if places.len() > NAMED {
        names.push("…");
    }
    names.join(", ")
}

/// What is to be known of the seams of a chart.
fn lines(plan: &Plan, alike: &Alike, seams: usize) -> Vec<String> {
    let pressing = plan.falls.pressing(&plan.piecing, alike.places[0]);
    let sewing = plan.falls.sewing(&plan.piecing, alike.design);
    let mut lines = vec![tr!("{seams}, numbered in the order of sewing.", seams = tr!("1 seam" | "{n} seams" % seams))];
    let open: Vec<String> = numbers(pressing.falls.iter().map(|fall| *fall == Fall::Open));
    if !open.is_empty() {
        lines.push(tr!("Pressed open: {open}.", open = open.join(", ")));
    }
    for (number, seam) in sewing.seams.iter().enumerate() {
        if let Some(earlier) = seam.continues {
            lines.push(tr!(
                "Sew seam {seam} in part only; {number} finishes it, and both are pressed as one.",
                seam = earlier.seam + 1,
                number = number + 1
            ));
        }
    }
    let set_in: Vec<String> =
        numbers(sewing.seams.iter().map(|seam| sewing.joins[seam.join].bends.iter().any(|bend| bend.kind == BendKind::SetIn)));
    if !set_in.is_empty() {
        lines.push(tr!("With a corner set in: {set_in}.", set_in = set_in.join(", ")));
    }
    if let Some(most) = pressing.layers.iter().max() {
        lines.push(tr!("At the thickest point lie {most} layers.", most));
    }
    lines
}

/// From 1, the numbers of those that are so.
fn numbers(are: impl Iterator<Item = bool>) -> Vec<String> {
    (1..).zip(are).filter(|(_, is)| *is).map(|(number, _): (usize, bool)| number.to_string()).collect()
}

/// What stacks within a place, in words of its chart.
fn stacks_in(plan: &Plan, place: usize) -> Vec<String> {
    let own = |seam: SeamRef| match seam {
        SeamRef::Place { place: of, seam } if of == place => Some(seam + 1),
        _ => None,
    };
    let within = plan.falls.stacks.iter().filter_map(|stack| {
        let meeting = &plan.falls.meetings[stack.meeting];
        let (by, left, right) = (own(meeting.seam)?, own(meeting.left)?, own(meeting.right)?);
        let (a, b) = (left.min(right), left.max(right));
        let layers = meeting.layers;
        Some(tr!(
            "Seams {a} and {b} stack under seam {by}, {layers} layers: {reason}. Flat, if {a} or {b} is pressed open.",
            a,
            b,
            by,
            layers,
            reason = stack.reason
        ))
    });
    within.collect()
}

/// The whole top.
pub fn whole(quilt: &Quilt, plan: &Plan, charts: &Charts, figures: &mut Figures) -> Whole {
    let labels: Vec<String> = charts.of_place.iter().map(|&chart| Charts::name(chart)).collect();
    let count = plan.falls.count();
    let alt = tr!(
        "The whole top with the side to which each of its {top} between blocks falls, and the pressing of every block",
        top = tr!("1 seam" | "{n} seams" % plan.falls.top.len())
    );
    let (stacks, more) = stack_kinds(plan, charts);
    Whole {
        figure: Figure { path: figures.falls(quilt, plan, &labels), alt },
        proof: proof(plan, count),
        thickest: thickest(plan),
        counts: plan
            .falls
            .counts
            .iter()
            .enumerate()
            .map(|(number, count)| count_row(count, number == plan.falls.taken))
            .collect(),
        stacks,
        more,
    }
}

fn count_row(count: &Count, taken: bool) -> CountRow {
    CountRow {
        pressings: words::pressings(count.pressings),
        stacks: count.stacks.to_string(),
        proof: match (count.is_proven(), count.weight) {
            (true, 0) => tr!("none at all"),
            (true, weight) => tr!("proven least (weight {weight})", weight),
            (false, weight) => tr!("weight {weight}; at least {bound}", weight, bound = count.bound),
        },
        taken,
    }
}

/// In a plain sentence: how many stack, and how it is known that no pressing does better.
fn proof(plan: &Plan, count: &Count) -> String {
    let meetings = plan.falls.meetings.len();
    let flat = plan.falls.meetings.iter().filter(|meeting| meeting.state == State::Flat).count();
    let open = match flat {
        0 => String::new(),
        1 => format!(" {}", tr!("At one a seam is pressed open, and it lies flat.")),
        many => format!(" {}", tr!("At {many} a seam is pressed open, and they lie flat.", many)),
    };
    let often = match meetings {
        1 => tr!("Earlier seams meet in a later one at 1 point of the quilt"),
        many => tr!("Earlier seams meet in a later one at {many} points of the quilt", many),
    };
    let within = tr!("With {pressings}", pressings = words::pressings(count.pressings));
    let because = match count.by {
        Proof::Alone => tr!("each block by itself already has as many in its best order"),
        Proof::Solved(_) => {
            tr!("every other choice of falls and of natural sewing orders was gone through or ruled out by a bound")
        }
    };
    match (count.stacks, count.is_proven()) {
        (0, _) => tr!("{often}. Nothing stacks at any of them, and no pressing can do better than that.{open}", often, open),
        (1, true) => {
            tr!("{often}; 1 of them stacks. {within} none can be without it: {because}.{open}", often, within, because, open)
        }
        (many, true) => tr!(
            "{often}; {many} of them stack. {within} that is the least there can be: {because}.{open}",
            often,
            many,
            within,
            because,
            open
        ),
        (many, false) => tr!(
            "{often}; {many} of them stack. The search ended before it was proven that this is the least: counted by their weight of {weight}, \
             no pressing can go below {bound}.{open}",
            often,
            many,
            weight = count.weight,
            bound = count.bound,
            open
        ),
    }
}

fn thickest(plan: &Plan) -> String {
    let Some((layers, at)) = plan.falls.thickest else { return String::new() };
    let far = |place: &&PlacedBlock| {
        let edges = place.outline.edges().iter();
        edges.map(|edge| (edge.nearest(at) - at).hypot2()).fold(f64::INFINITY, f64::min)
    };
    let place = plan.top.places.iter().find(|place| place.outline.contains(at));
    let nearest = || plan.top.places.iter().min_by(|a, b| far(a).total_cmp(&far(b)));
    let place = place
        .map(|place| tr!("in {place}", place = place.name))
        .or_else(|| nearest().map(|place| tr!("beside {place}", place = place.name)));
    tr!(
        "At the thickest point, {place}, lie {layers} layers: there the ring stands on the drawing.",
        place = place.unwrap_or_default(),
        layers
    )
}

/// Stacks by their reason, and how many are left out. What can be done about all of one reason is said once; which two seams could be
/// pressed open is seen in each row.
fn stack_kinds(plan: &Plan, charts: &Charts) -> (Vec<Kind>, usize) {
    let mut kinds: Vec<(Vec<&Stack>, Vec<StackRow>)> = Vec::new();
    let rows = stack_rows(plan, charts);
    let more = rows.len().saturating_sub(ROWS);
    for (stack, row) in rows.into_iter().take(ROWS) {
        match kinds.iter_mut().find(|(known, _)| known[0].reason == stack.reason) {
            Some((stacks, rows)) => {
                stacks.push(stack);
                rows.push(row);
            }
            None => kinds.push((vec![stack], vec![row])),
        }
    }
    let kind = |(stacks, rows): (Vec<&Stack>, Vec<StackRow>)| {
        let shared = |way: &&String| stacks.iter().all(|stack| stack.ways_out.contains(way));
        let mut ways: Vec<String> = stacks[0].ways_out.iter().filter(shared).cloned().collect();
        if ways.len() < stacks[0].ways_out.len() {
            ways.push(tr!("press one of the two seams open"));
        }
        Kind { reason: stacks[0].reason.clone(), ways_out: ways.join("; "), rows }
    };
    (kinds.into_iter().map(kind).collect(), more)
}

/// Stacks in the order of the plan; those within blocks once for all copies pressed alike.
fn stack_rows<'a>(plan: &'a Plan, charts: &Charts) -> Vec<(&'a Stack, StackRow)> {
    let mut seen = BTreeSet::new();
    let mut rows = Vec::new();
    for stack in &plan.falls.stacks {
        let meeting = &plan.falls.meetings[stack.meeting];
        let (place, meet) = match (meeting.seam, meeting.left, meeting.right) {
            (SeamRef::Place { place, seam }, SeamRef::Place { seam: left, .. }, SeamRef::Place { seam: right, .. }) => {
                let chart = charts.of_place[place];
                let (a, b) = (left.min(right), left.max(right));
                if !seen.insert((chart, seam, a, b)) {
                    continue;
                }
                let copies = charts.all[chart].places.len();
                let every = || tr!("in every {chart}, {copies} in all", chart = Charts::name(chart), copies);
                let place = if copies == 1 { stack.place.clone() } else { every() };
                (place, tr!("seams {a} and {b} under {seam}", a = a + 1, b = b + 1, seam = seam + 1))
            }
            _ => (
                stack.place.clone(),
                tr!("{left} and {right}", left = seam_name(plan, meeting.left), right = seam_name(plan, meeting.right)),
            ),
        };
        rows.push((stack, StackRow { place, meet, layers: meeting.layers }));
    }
    rows
}
