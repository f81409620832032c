//! The order of joins, and what is done at each.
//!
//! In: the lap sections, the falls of the top, the quilting, what is joined already. Out: the orders in which sections can be joined so that
//! no edge is trapped, each with its weights and lengths, and for the one that is taken every step: pins, batting, backing, where hand
//! stitching stops, what crosses and how thick it is, what is finished afterwards; and a join cut across, to scale.
//!
//! In the order of work: `mesh` finds where sections touch, `sewn` what is joined already, `pieces` the full lines that take a group apart,
//! `orders` rows, columns and halves, `best` the least weight at the machine, `nest` the falls and crossings, `layers` their thickness,
//! `beside` threads and cloths. `cross_section` is geometry by itself. [docs/joining.md](../../../../docs/joining.md) has the rules.

mod beside;
mod best;
mod cross_section;
mod layers;
mod manner;
mod mesh;
mod nest;
mod orders;
mod pieces;
mod say;
mod sewn;
mod steps;
#[cfg(test)]
mod tests;

pub use cross_section::{CLOTH_IN, CrossSection, Layer, LayerKind, Options, Side, THICKEST_CAUGHT_IN};
pub use layers::{BALKS_CLOTHS, PRESSED};
pub use manner::Manner;
pub use say::{instructions, order_name, part_name};

use crate::Staged;
use crate::draft::Draft;
use crate::fall::{Effort, Falls};
use crate::lap::LapWork;
use crate::piece::Piecing;
use crate::set::Top;
use mesh::{Extents, Mesh};
use nest::{Nesting, leanings, nest};
use orders::{Node, Tree, against_strips};
use pieces::Pieces;
use seamfall_geom::Point;
use seamfall_model::{ClothId, JoinOrder, Quilt, Rounding, Rule, Working, term};
use sewn::SewnGroup;
use tr::tr;

/// The joining of the sections.
#[derive(Debug, Clone, PartialEq)]
pub struct Joins {
    /// How joins are made.
    pub manner: Manner,
    /// The orders that can be had, the simplest first.
    pub orders: Vec<Order>,
    /// Those that cannot, each with the reason.
    pub left_out: Vec<(JoinOrder, String)>,
    /// Which of [`Joins::orders`] is recommended.
    pub recommended: usize,
    /// Why.
    pub reason: String,
    /// Which is taken: the maker's choice, or what is recommended.
    pub taken: usize,
    /// The steps of that order, each after those it needs.
    pub steps: Vec<Step>,
}

/// A side of a join.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// One section, by its number.
    Section(usize),
    /// What an earlier join made, by its number in the order.
    Join(usize),
}

/// An order of joins.
#[derive(Debug, Clone, PartialEq)]
pub struct Order {
    /// Its kind.
    pub kind: JoinOrder,
    /// Its joins, each after those it needs; those that are sewn come first.
    pub joins: Vec<Join>,
    /// Joins within strips and between them, in rows and columns.
    pub within_and_between: Option<[usize; 2]>,
    /// The longest seam.
    pub longest: Working,
    /// What lies at the machine in the last join, the heaviest: the whole quilt.
    pub heaviest: Working,
    /// What lies at the machine, over all that is still to be sewn.
    pub mean_weight: Working,
    /// Length sewn at the machine, of what is still to be sewn.
    pub machine: Working,
    /// Length slip-stitched by hand.
    pub hand: Working,
    /// Hours.
    pub hours: Working,
    /// Crossings that stack.
    pub stacks: usize,
    /// Area at the machine times length, in thousandths each, over all that is still to be sewn.
    pub burden: u64,
    /// No order has a smaller burden than this.
    pub bound: u64,
}

impl Order {
    /// Whether no order keeps the weight lower.
    #[must_use]
    pub fn is_best(&self) -> bool {
        self.burden == self.bound
    }
}

/// A join of an order.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Join {
    /// What lies to the left and to the right of its seam.
    pub parts: [Part; 2],
    /// Where its seam starts and ends; level seams run to the right, upright ones up.
    pub seam: [Point; 2],
    /// Area of both parts.
    pub area: f64,
    /// Whether it is sewn already.
    pub sewn: bool,
}

impl Join {
    /// Length of its seam.
    #[must_use]
    pub fn length(&self) -> f64 {
        (self.seam[1] - self.seam[0]).hypot2().sqrt()
    }
}

/// What is done at one join of the order that is taken.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// The join.
    pub join: Join,
    /// To which of its parts the allowance of the fronts falls; its backing lies flat, and its batting is cut back. The other's batting is caught,
    /// if any is, and its backing is turned under.
    pub falls_to: usize,
    /// Whether that is how the falls of the top have it; nothing where they have none here.
    pub as_the_top: Option<bool>,
    /// At its start and its end the later step whose seam passes there; nothing at the edge of the quilt.
    pub ends: [Option<usize>; 2],
    /// Whether the first stitches are left out at its start and at its end, so that allowances lie free where the later step is too thick.
    pub free: [bool; 2],
    /// Where earlier joins end on it, from its start.
    pub crossings: Vec<Crossing>,
    /// A corner at which it turns, where what lies beyond has to be set in: by half a cornerstone at the edge of a setting on point.
    pub set_in: Option<Point>,
    /// The darker of the two fronts along it, for the thread of the machine.
    pub front_thread: Option<ClothId>,
    /// The backing, for the thread of the hand.
    pub back_thread: Option<ClothId>,
    /// Threads that are taken up after it.
    pub hanging: Vec<Hanging>,
    /// Lines that are quilted after it.
    pub waiting: Vec<Waiting>,
}

/// Where earlier joins end on a later one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crossing {
    /// Where.
    pub at: Point,
    /// The earlier step that ends there on the left, and on the right.
    pub ends: [Option<usize>; 2],
    /// Whether they nest, where there are two.
    pub nests: Option<bool>,
    /// Layers of cloth of the joined quilt, at the thickest.
    pub layers: u32,
    /// Layers of cloth under the foot while the join is sewn, at the most.
    pub under_the_foot: u32,
    /// Whether the machine will balk there.
    pub balks: bool,
}

/// A thread left hanging.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hanging {
    /// The section.
    pub section: usize,
    /// Where, in the coordinates of the top.
    pub at: Point,
}

/// A line that waits for the join.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Waiting {
    /// The section.
    pub section: usize,
    /// Its number in the section's [`Pattern::lines`](crate::lap::Pattern::lines).
    pub line: usize,
}

/// What comes before the joins.
#[derive(Debug, Clone, Copy)]
pub struct Before<'a> {
    /// One a block.
    pub drafts: &'a [Draft],
    /// The top with its sections.
    pub top: &'a Top,
    /// How it is pieced.
    pub piecing: &'a Piecing,
    /// How its seams fall.
    pub falls: &'a Falls,
    /// How it is quilted.
    pub lap: &'a LapWork,
}

/// Sections that cannot be joined by straight seams alone.
#[derive(Debug, Clone, PartialEq)]
struct Stuck {
    sections: Vec<usize>,
}

/// Rectangles of sections that the search for the best order looks at, at an effort of one: a setting of 22 by 24 sections has fewer.
const RECTANGLES: usize = 80_000;

/// More than this above the least weight at the machine, and a simple order is no longer recommended.
const AS_GOOD: f64 = 1.1;

impl Joins {
    /// The order that is taken, if there is any.
    #[must_use]
    pub fn order(&self) -> Option<&Order> {
        self.orders.get(self.taken)
    }

    /// Whether both parts of a step hang together, so that it can be sewn.
    #[must_use]
    pub fn is_ready(&self, step: &Step) -> bool {
        step.join.parts.iter().all(|part| match part {
            Part::Section(_) => true,
            Part::Join(earlier) => self.steps[*earlier].join.sewn,
        })
    }

    /// Sections of a part of the order that is taken, in order.
    #[must_use]
    pub fn sections(&self, part: Part) -> Vec<usize> {
        let mut sections = Vec::new();
        let mut open = vec![part];
        while let Some(part) = open.pop() {
            match part {
                Part::Section(section) => sections.push(section),
                Part::Join(step) => open.extend(self.steps.get(step).iter().flat_map(|step| step.join.parts)),
            }
        }
        sections.sort_unstable();
        sections
    }
}

/// Works out the joining of `quilt`; `joined` are the joins that are sewn, each with what hung together on either side, by number.
#[must_use]
pub fn derive(quilt: &Quilt, before: Before, joined: &[[Vec<usize>; 2]], effort: Effort) -> Staged<Joins> {
    let mut findings = Vec::new();
    let mesh = Mesh::new(before.top);
    let manner = Manner::new(quilt);
    let (sewn_nodes, groups) = sewn::read(&mesh, before.top, joined, &mut findings);
    let leanings = leanings(&mesh, before.piecing, before.falls);
    let plan = |extents: &Extents| {
        let single = Pieces::new(&mesh, before.top, &[], extents);
        let pieces = if groups.is_empty() { None } else { Some(Pieces::new(&mesh, before.top, &groups, extents)) };
        let mut planned = Planned { left_out: Vec::new(), stuck: None };
        let found = planned.all(before.top, &single, pieces.as_ref().unwrap_or(&single), (&sewn_nodes, &groups), effort);
        (planned, found)
    };
    let (mut planned, mut found) = plan(&mesh.extents);
    let turning = found.is_empty() && quilt.sashing.is_some();
    if turning {
        (planned, found) = plan(&mesh.extents_without_halves(before.top));
    }
    let (mut orders, mut trees): (Vec<Order>, Vec<(Vec<Node>, Nesting)>) = (Vec::new(), Vec::new());
    for (kind, nodes, bound) in found {
        let nesting = nest(&mesh, &nodes, &leanings);
        orders.push(order(kind, &mesh, &manner, &nodes, &nesting, bound));
        trees.push((nodes, nesting));
    }
    let Planned { left_out, stuck } = planned;
    let (recommended, reason) = recommend(&orders);
    let wanted = quilt.joining.order.and_then(|kind| orders.iter().position(|order| order.kind == kind));
    let taken = wanted.unwrap_or(recommended);
    let steps = trees
        .get(taken)
        .map_or_else(Vec::new, |(nodes, nesting)| steps::steps(quilt, before, &mesh, &manner, (nodes, nesting), turning));
    let joins = Joins { manner, orders, left_out, recommended, reason, taken, steps };
    say::findings(quilt, before.top, &joins, stuck.as_ref(), &mut findings);
    Staged { result: joins, findings }
}

/// Orders as they are found.
struct Planned {
    left_out: Vec<(JoinOrder, String)>,
    stuck: Option<Stuck>,
}

impl Planned {
    /// Every order that can be had, with its joins, and the bound of all.
    fn all(
        &mut self,
        top: &Top,
        single: &Pieces,
        pieces: &Pieces,
        (sewn, groups): (&[Node], &[SewnGroup]),
        effort: Effort,
    ) -> Vec<(JoinOrder, Vec<Node>, u64)> {
        let mut found: Vec<(JoinOrder, Vec<Node>)> = Vec::new();
        let mut proven = None;
        if pieces.parts.is_empty() {
            return Vec::new();
        }
        for kind in JoinOrder::ALL {
            let mut tree = Tree { pieces, nodes: sewn.to_vec() };
            let all = pieces.all();
            let level = kind == JoinOrder::Rows;
            let done = match kind {
                JoinOrder::Rows | JoinOrder::Columns => {
                    let against = if groups.is_empty() { None } else { against_strips(single, &single.all(), level, groups) };
                    if let Some(group) = against {
                        let names: Vec<&str> =
                            groups[group].sections.iter().map(|&one| top.sections[one].name.as_str()).collect();
                        let reason = tr!(
                            "{names} hang together already and are neither part of one nor whole ones",
                            names = names.join(", ")
                        );
                        self.left_out.push((kind, reason));
                        continue;
                    }
                    tree.strips(&all, level, true)
                }
                JoinOrder::Halves => tree.halves(&all),
                JoinOrder::Best => match best::best(&mut tree, RECTANGLES * effort.0 as usize) {
                    Some(done) => {
                        proven = Some(best::burden(tree.nodes.iter().filter(|node| !node.sewn)));
                        done
                    }
                    None => match least(&found) {
                        // Beyond the budget: the best of the others stands, and what is proven is the plain bound.
                        Some(nodes) => {
                            tree.nodes = nodes;
                            Ok(Part::Section(0))
                        }
                        None => continue,
                    },
                },
            };
            match done {
                Ok(_) => found.push((kind, tree.nodes)),
                Err(stuck) => {
                    self.left_out.push((kind, tr!("not all of it can be joined by straight seams")));
                    self.stuck.get_or_insert(stuck);
                }
            }
        }
        let bound = proven.unwrap_or_else(|| best::bound(pieces));
        found.into_iter().map(|(kind, nodes)| (kind, nodes, bound)).collect()
    }
}

/// The joins of least burden among those found.
fn least(found: &[(JoinOrder, Vec<Node>)]) -> Option<Vec<Node>> {
    let burden = |nodes: &Vec<Node>| best::burden(nodes.iter().filter(|node| !node.sewn));
    found.iter().map(|(_, nodes)| nodes).min_by_key(|nodes| burden(nodes)).cloned()
}

fn order(kind: JoinOrder, mesh: &Mesh, manner: &Manner, nodes: &[Node], nesting: &Nesting, bound: u64) -> Order {
    let joins: Vec<Join> = nodes.iter().map(|node| join(mesh, node)).collect();
    let open = || nodes.iter().filter(|node| !node.sewn);
    let count = open().count();
    let length: f64 = open().map(|node| node.on[1] - node.on[0]).sum::<f64>() + 0.0;
    let longest = nodes.iter().map(|node| node.on[1] - node.on[0]).fold(0.0, f64::max);
    let burden = best::burden(open());
    let between = nodes.iter().filter(|node| node.between).count();
    let strips = matches!(kind, JoinOrder::Rows | JoinOrder::Columns);
    Order {
        kind,
        within_and_between: strips.then(|| [nodes.len() - between, between]),
        longest: Working::new(Rule::JoinLength, &tr!("longest seam"), term(&tr!("its length"), longest), Rounding::Exact),
        heaviest: manner.weight(joins.iter().map(|join| join.area).fold(0.0, f64::max)),
        mean_weight: manner.mean_weight(burden as f64 / 1e6, length),
        machine: Manner::length(&tr!("at the machine"), count, length),
        hand: Manner::length(&tr!("by hand"), count, length),
        hours: manner.hours(length, count),
        stacks: nesting.crossings.iter().filter(|crossed| crossed.nests == Some(false)).count(),
        burden,
        bound,
        joins,
    }
}

fn join(mesh: &Mesh, node: &Node) -> Join {
    let seam = node.on.map(|on| mesh.point(node.line, on));
    Join { parts: node.parts, seam, area: node.area as f64 / 1000.0, sewn: node.sewn }
}

/// The simplest order whose weight is about the least, and why.
fn recommend(orders: &[Order]) -> (usize, String) {
    let Some(least) = orders.iter().map(|order| order.burden).min() else { return (0, String::new()) };
    let good = |order: &Order| order.burden as f64 <= least as f64 * AS_GOOD;
    let at = orders.iter().position(good).unwrap_or(0);
    let weight = |order: &Order| format!("{} g", order.mean_weight.value);
    let name = order_name(orders[at].kind);
    if orders[at].joins.iter().all(|join| join.sewn) {
        return (at, tr!("Nothing is left to be joined."));
    }
    let others: Vec<String> = orders
        .iter()
        .filter(|order| order.kind != orders[at].kind)
        .map(|order| format!("{} {}", order_name(order.kind), weight(order)))
        .collect();
    let beside = if others.is_empty() { String::new() } else { format!(" ({})", others.join(", ")) };
    let simple = if orders[at].burden == least {
        tr!("no other is lighter")
    } else {
        tr!("simple, and no more than a tenth above the lightest")
    };
    (
        at,
        tr!(
            "Joined by {name}, {at} lie at the machine over what is sewn{beside}: {simple}.",
            name,
            at = weight(&orders[at]),
            beside,
            simple
        ),
    )
}
