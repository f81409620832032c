//! The largest pairing of nodes along links, and among the largest the shortest.
//!
//! In: nodes, and links with lengths. Out: the links chosen, no two at one node; a bound of their length; nodes that show that no
//! more can be paired.
//!
//! J. Edmonds, "Maximum matching and a polyhedron with 0,1-vertices", 1965: trees of alternating links grow from all single nodes at
//! once, at the same pace; odd rings shrink into blossoms. The pace is kept as a time, and what happens next waits in a queue
//! ordered by time (Z. Galil, "Efficient algorithms for finding maximum matching in graphs", 1986); what waits is looked at anew when
//! its time has come. After two trees met, only these two are taken apart. Every node has a worth that grows while its blossom is
//! outer, and falls while it is inner: the worths, less those of blossoms, are the bound.
//!
//! Lengths are doubled inside, so that all times are whole.

use super::Link;
use crate::Budget;
use std::cmp::Reverse;
use std::collections::BinaryHeap;

const NONE: u32 = u32::MAX;

/// Steps of the budget for one event of the queue: found by measuring, about a nanosecond each.
const STEPS_AN_EVENT: u64 = 50;

/// A pairing.
pub(super) struct Pairing {
    /// Numbers of the links chosen, ascending.
    pub chosen: Vec<usize>,
    /// No pairing as large is shorter than this; 0 if the budget ended.
    pub bound: u64,
    /// Nodes whose removal leaves more odd parts than they are, by as many as nodes stay single.
    pub barrier: Vec<usize>,
}

/// The shortest of the largest pairings.
pub(super) fn shortest_largest(nodes: usize, links: &[Link], budget: &mut Budget) -> Pairing {
    let mut forest = Forest::new(nodes, links);
    let done = forest.grow_all(budget);
    let mut chosen: Vec<usize> = forest.mate.iter().filter(|&&half| half != NONE).map(|&half| half as usize / 2).collect();
    chosen.sort_unstable();
    chosen.dedup();
    if !done {
        return Pairing { chosen, bound: 0, barrier: Vec::new() };
    }
    let barrier = (0..nodes).filter(|&node| forest.label[forest.top[node] as usize] == Label::Inner).collect();
    Pairing { chosen, bound: forest.worth(), barrier }
}

/// What a blossom that is part of no other is to the trees. Single nodes are blossoms of one.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Label {
    /// In no tree: paired within.
    Out,
    /// An even number of links from its root.
    Outer,
    /// An odd number of links from its root.
    Inner,
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Event {
    /// A link may have become tight.
    Tight(u32),
    /// An inner blossom may have no worth left.
    Opens(u32),
}

/// All trees. Blossoms `0..nodes` are the nodes themselves. A half of link `e` is `2 e` from its first end, `2 e + 1` from its second.
struct Forest<'a> {
    nodes: usize,
    links: &'a [Link],
    /// Halves that start at each node: `halves[starts[v]..starts[v + 1]]`.
    starts: Vec<u32>,
    halves: Vec<u32>,
    /// Half of the chosen link at each node, from that node.
    mate: Vec<u32>,
    worth: Vec<i64>,
    top: Vec<u32>,
    // By blossom:
    label: Vec<Label>,
    since: Vec<i64>,
    root: Vec<u32>,
    /// For an inner blossom: the half by which its tree reached it.
    via: Vec<u32>,
    base: Vec<u32>,
    above: Vec<u32>,
    /// Blossoms of the ring, the one with the base first.
    ring: Vec<Vec<u32>>,
    /// Halves from each blossom of the ring to the next.
    ties: Vec<Vec<u32>>,
    free: Vec<u32>,
    /// Blossoms that were ever part of the tree of a root.
    members: Vec<Vec<u32>>,
    now: i64,
    queue: BinaryHeap<Reverse<(i64, Event)>>,
}

impl<'a> Forest<'a> {
    fn new(nodes: usize, links: &'a [Link]) -> Self {
        let ends: Vec<(u32, u32)> = links.iter().map(|link| (link.ends[0] as u32, link.ends[1] as u32)).collect();
        let (starts, halves) = incidence(nodes, &ends);
        let numbers: Vec<u32> = (0..nodes as u32).collect();
        let single = |node: usize| starts[node] == starts[node + 1];
        let label = (0..nodes).map(|node| if single(node) { Label::Out } else { Label::Outer }).collect();
        let mut queue = BinaryHeap::with_capacity(2 * links.len());
        queue.extend(links.iter().enumerate().map(|(e, link)| Reverse((i64::from(link.length), Event::Tight(e as u32)))));
        Self {
            nodes,
            links,
            starts,
            halves,
            mate: vec![NONE; nodes],
            worth: vec![0; nodes],
            top: numbers.clone(),
            label,
            since: vec![0; nodes],
            root: numbers.clone(),
            via: vec![NONE; nodes],
            base: numbers.clone(),
            above: vec![NONE; nodes],
            ring: vec![Vec::new(); nodes],
            ties: vec![Vec::new(); nodes],
            free: Vec::new(),
            members: numbers.iter().map(|&node| vec![node]).collect(),
            now: 0,
            queue,
        }
    }

    /// Grows until nothing can be paired any more; false if the budget ended.
    fn grow_all(&mut self, budget: &mut Budget) -> bool {
        while let Some(Reverse((time, event))) = self.queue.pop() {
            if !budget.spend(STEPS_AN_EVENT) {
                return false;
            }
            self.now = time;
            match event {
                Event::Tight(link) => self.tight(link),
                Event::Opens(blossom) => {
                    let there = self.above[blossom as usize] == NONE && !self.ring[blossom as usize].is_empty();
                    if there && self.label[blossom as usize] == Label::Inner && self.blossom_worth(blossom) == 0 {
                        self.open(blossom);
                    }
                }
            }
        }
        true
    }

    fn tail(&self, half: u32) -> u32 {
        self.links[half as usize / 2].ends[half as usize % 2] as u32
    }

    fn head(&self, half: u32) -> u32 {
        self.tail(half ^ 1)
    }

    fn label_at(&self, node: u32) -> Label {
        self.label[self.top[node as usize] as usize]
    }

    /// How far the worth of a blossom's nodes has moved since it was written down.
    fn moved(&self, blossom: u32) -> i64 {
        let since = self.now - self.since[blossom as usize];
        match self.label[blossom as usize] {
            Label::Out => 0,
            Label::Outer => since,
            Label::Inner => -since,
        }
    }

    fn node_worth(&self, node: u32) -> i64 {
        self.worth[node as usize] + self.moved(self.top[node as usize])
    }

    fn blossom_worth(&self, blossom: u32) -> i64 {
        self.worth[blossom as usize] + 2 * self.moved(blossom)
    }

    fn slack(&self, link: u32) -> i64 {
        let Link { ends: [a, b], length } = self.links[link as usize];
        2 * i64::from(length) - self.node_worth(a as u32) - self.node_worth(b as u32)
    }

    /// When a link between two blossoms becomes tight, as things are; never, where they do not come nearer.
    fn due(&self, link: u32) -> Option<i64> {
        let [a, b] = self.links[link as usize].ends;
        match (self.label_at(a as u32), self.label_at(b as u32)) {
            _ if self.top[a] == self.top[b] => None,
            (Label::Outer, Label::Outer) => Some(self.now + self.slack(link) / 2),
            (Label::Outer, Label::Out) | (Label::Out, Label::Outer) => Some(self.now + self.slack(link)),
            _ => None,
        }
    }

    fn tight(&mut self, link: u32) {
        let Some(due) = self.due(link) else { return };
        if due > self.now {
            self.queue.push(Reverse((due, Event::Tight(link))));
            return;
        }
        let half = if self.label_at(self.tail(2 * link)) == Label::Outer { 2 * link } else { 2 * link + 1 };
        let (a, b) = (self.top[self.tail(half) as usize], self.top[self.head(half) as usize]);
        if self.label[b as usize] == Label::Out {
            self.reach(half);
        } else if self.root[a as usize] == self.root[b as usize] {
            self.shrink(half);
        } else {
            self.pair(half);
        }
    }

    /// Nodes of a blossom.
    fn nodes_of(&self, blossom: u32) -> Vec<u32> {
        let (mut nodes, mut rest) = (Vec::new(), vec![blossom]);
        while let Some(blossom) = rest.pop() {
            if (blossom as usize) < self.nodes {
                nodes.push(blossom);
            }
            rest.extend(&self.ring[blossom as usize]);
        }
        nodes
    }

    /// Writes down the worths of a blossom and gives it another label.
    fn relabel(&mut self, blossom: u32, label: Label, root: u32) {
        let nodes = self.nodes_of(blossom);
        let moved = self.moved(blossom);
        for &node in &nodes {
            self.worth[node as usize] += moved;
        }
        if blossom as usize >= self.nodes {
            self.worth[blossom as usize] += 2 * moved;
        }
        self.since[blossom as usize] = self.now;
        self.label[blossom as usize] = label;
        self.root[blossom as usize] = root;
        match label {
            Label::Inner if blossom as usize >= self.nodes => {
                let left = self.worth[blossom as usize];
                self.queue.push(Reverse((self.now + left / 2, Event::Opens(blossom))));
            }
            Label::Inner => {}
            Label::Outer | Label::Out => self.look_round(&nodes),
        }
        if label != Label::Out {
            self.members[root as usize].push(blossom);
        }
    }

    /// Puts the links at `nodes` into the queue.
    fn look_round(&mut self, nodes: &[u32]) {
        for &node in nodes {
            for at in self.starts[node as usize]..self.starts[node as usize + 1] {
                let link = self.halves[at as usize] / 2;
                if let Some(due) = self.due(link) {
                    self.queue.push(Reverse((due, Event::Tight(link))));
                }
            }
        }
    }

    /// A tree reaches a blossom that is in none: it becomes inner, its partner outer.
    fn reach(&mut self, half: u32) {
        let root = self.root[self.top[self.tail(half) as usize] as usize];
        let inner = self.top[self.head(half) as usize];
        self.relabel(inner, Label::Inner, root);
        self.via[inner as usize] = half;
        let partner = self.head(self.mate[self.base[inner as usize] as usize]);
        self.relabel(self.top[partner as usize], Label::Outer, root);
    }

    /// From an outer blossom two links up its tree: the half to its inner partner, and the half from there on; nothing at a root.
    fn up(&self, outer: u32) -> Option<[u32; 2]> {
        let to_inner = self.mate[self.base[outer as usize] as usize];
        (to_inner != NONE).then(|| [to_inner, self.via[self.top[self.head(to_inner) as usize] as usize] ^ 1])
    }

    /// Two outer blossoms of one tree meet: the ring becomes one outer blossom.
    fn shrink(&mut self, half: u32) {
        let climb = |from: u32| {
            let mut chain = vec![from];
            let mut at = from;
            while let Some([_, onward]) = self.up(at) {
                at = self.top[self.head(onward) as usize];
                chain.push(at);
            }
            chain
        };
        let (mut left, mut right) = (climb(self.top[self.tail(half) as usize]), climb(self.top[self.head(half) as usize]));
        // From the root down both chains are the same as far as the blossom in which they part.
        let mut common = NONE;
        while let (Some(&a), Some(&b)) = (left.last(), right.last()) {
            if a != b {
                break;
            }
            common = a;
            left.pop();
            right.pop();
        }
        let (mut ring, mut ties) = (vec![common], Vec::new());
        for &outer in left.iter().rev() {
            let [to_inner, onward] = self.up(outer).expect("it lies below the common blossom");
            ties.extend([onward ^ 1, to_inner ^ 1]);
            ring.extend([self.top[self.head(to_inner) as usize], outer]);
        }
        ties.push(half);
        for &outer in &right {
            let [to_inner, onward] = self.up(outer).expect("it lies below the common blossom");
            ties.extend([to_inner, onward]);
            ring.extend([outer, self.top[self.head(to_inner) as usize]]);
        }
        self.close(common, ring, ties);
    }

    fn close(&mut self, common: u32, ring: Vec<u32>, ties: Vec<u32>) {
        let new = self.free.pop().unwrap_or_else(|| {
            self.label.push(Label::Out);
            self.since.push(0);
            self.root.push(0);
            self.via.push(NONE);
            self.base.push(0);
            self.above.push(NONE);
            self.ring.push(Vec::new());
            self.ties.push(Vec::new());
            self.worth.push(0);
            self.label.len() as u32 - 1
        });
        let root = self.root[common as usize];
        let mut fresh = Vec::new();
        for &part in &ring {
            let nodes = self.nodes_of(part);
            let moved = self.moved(part);
            for &node in &nodes {
                self.worth[node as usize] += moved;
                self.top[node as usize] = new;
            }
            if part as usize >= self.nodes {
                self.worth[part as usize] += 2 * moved;
            }
            self.since[part as usize] = self.now;
            self.above[part as usize] = new;
            if self.label[part as usize] == Label::Inner {
                fresh.extend(nodes);
            }
            self.label[part as usize] = Label::Out;
        }
        let n = new as usize;
        (self.worth[n], self.label[n], self.since[n], self.root[n]) = (0, Label::Outer, self.now, root);
        (self.base[n], self.above[n], self.ring[n], self.ties[n]) = (self.base[common as usize], NONE, ring, ties);
        self.members[root as usize].push(new);
        self.look_round(&fresh);
    }

    /// The child of `blossom` that holds `node`, by its place in the ring.
    fn place(&self, blossom: u32, node: u32) -> usize {
        let mut child = node;
        while self.above[child as usize] != blossom {
            child = self.above[child as usize];
        }
        self.ring[blossom as usize].iter().position(|&part| part == child).expect("a child is in its ring")
    }

    /// An inner blossom of no worth is taken apart: the way through it stays in the tree, the rest is out of it.
    fn open(&mut self, blossom: u32) {
        let (root, via) = (self.root[blossom as usize], self.via[blossom as usize]);
        let moved = self.moved(blossom);
        for node in self.nodes_of(blossom) {
            self.worth[node as usize] += moved;
        }
        let entry = self.place(blossom, self.head(via));
        let (ring, ties) = (std::mem::take(&mut self.ring[blossom as usize]), std::mem::take(&mut self.ties[blossom as usize]));
        for &part in &ring {
            self.above[part as usize] = NONE;
            (self.label[part as usize], self.since[part as usize]) = (Label::Out, self.now);
            for node in self.nodes_of(part) {
                self.top[node as usize] = part;
            }
        }
        self.label[blossom as usize] = Label::Out;
        self.free.push(blossom);
        // Halves along the even side of the ring, from the entry to the base.
        let n = ring.len();
        let along: Vec<(usize, u32)> = if entry % 2 == 1 {
            (entry..n).map(|i| ((i + 1) % n, ties[i])).collect()
        } else {
            (0..entry).rev().map(|i| (i, ties[i] ^ 1)).collect()
        };
        let mut labels = vec![Label::Out; n];
        labels[entry] = Label::Inner;
        self.via[ring[entry] as usize] = via;
        for (k, &(i, half)) in along.iter().enumerate() {
            labels[i] = if k % 2 == 0 { Label::Outer } else { Label::Inner };
            self.via[ring[i] as usize] = half;
        }
        // Inner ones first, so that an outer one looks round at things as they will be.
        for wanted in [Label::Inner, Label::Outer, Label::Out] {
            for (&part, _) in ring.iter().zip(&labels).filter(|(_, label)| **label == wanted) {
                self.relabel(part, wanted, root);
            }
        }
    }

    /// Two trees meet: along the way from root to root links change places, and both trees are taken apart.
    fn pair(&mut self, half: u32) {
        let roots = [self.tail(half), self.head(half)].map(|node| self.root[self.top[node as usize] as usize]);
        self.flip(half);
        self.flip(half ^ 1);
        let mut freed = Vec::new();
        for root in roots {
            for blossom in std::mem::take(&mut self.members[root as usize]) {
                let b = blossom as usize;
                if self.above[b] == NONE && self.label[b] != Label::Out && self.root[b] == root {
                    freed.push(blossom);
                }
            }
        }
        for blossom in freed {
            // A slot used twice stands in the list twice.
            if self.label[blossom as usize] != Label::Out {
                self.relabel(blossom, Label::Out, blossom);
            }
        }
    }

    /// Pairs the tail of `half` with its head, and changes links from there to the root.
    fn flip(&mut self, half: u32) {
        let mut half = half;
        loop {
            let node = self.tail(half);
            let outer = self.top[node as usize];
            let up = self.up(outer);
            self.rebase(outer, node);
            self.mate[node as usize] = half;
            let Some([_, onward]) = up else { return };
            let node = self.tail(onward);
            self.rebase(self.top[node as usize], node);
            self.mate[node as usize] = onward;
            half = onward ^ 1;
        }
    }

    /// Pairs the nodes of a blossom so that `node` is left over: its new base.
    fn rebase(&mut self, blossom: u32, node: u32) {
        let mut rest = vec![(blossom, node)];
        while let Some((blossom, node)) = rest.pop() {
            if (blossom as usize) < self.nodes {
                continue;
            }
            let at = self.place(blossom, node);
            let n = self.ring[blossom as usize].len();
            rest.push((self.ring[blossom as usize][at], node));
            let pairs: Vec<usize> = if at % 2 == 1 { (at + 1..n).step_by(2).collect() } else { (0..at).step_by(2).collect() };
            for i in pairs {
                let half = self.ties[blossom as usize][i];
                let (a, b) = (self.tail(half), self.head(half));
                let next = (i + 1) % n;
                rest.push((self.ring[blossom as usize][i], a));
                rest.push((self.ring[blossom as usize][next], b));
                self.mate[a as usize] = half;
                self.mate[b as usize] = half ^ 1;
            }
            self.ring[blossom as usize].rotate_left(at);
            self.ties[blossom as usize].rotate_left(at);
            self.base[blossom as usize] = node;
        }
    }

    /// What the worths come to: no largest pairing is shorter.
    fn worth(&self) -> u64 {
        let nodes: i64 = (0..self.nodes as u32).map(|node| self.node_worth(node)).sum();
        let blossoms: i64 = (self.nodes..self.ring.len())
            .filter(|&blossom| !self.ring[blossom].is_empty())
            .map(|blossom| {
                let worth = if self.above[blossom] == NONE { self.blossom_worth(blossom as u32) } else { self.worth[blossom] };
                worth * (self.nodes_of(blossom as u32).len() as i64 / 2)
            })
            .sum();
        // Single nodes at the end are worth `now` each, and no pairing leaves fewer of them or cheaper ones.
        let single =
            self.mate.iter().enumerate().filter(|(_, half)| **half == NONE).map(|(node, _)| self.node_worth(node as u32));
        u64::try_from(nodes - blossoms - single.sum::<i64>()).unwrap_or(0).div_ceil(2)
    }
}

/// For every node the halves that start there: items `starts[v]..starts[v + 1]` of the second list.
pub(super) fn incidence(nodes: usize, ends: &[(u32, u32)]) -> (Vec<u32>, Vec<u32>) {
    let mut starts = vec![0u32; nodes + 2];
    for &(a, b) in ends {
        starts[a as usize + 2] += 1;
        starts[b as usize + 2] += 1;
    }
    for node in 2..starts.len() {
        starts[node] += starts[node - 1];
    }
    let mut halves = vec![0; 2 * ends.len()];
    for (link, &(a, b)) in ends.iter().enumerate() {
        for (side, end) in [a, b].into_iter().enumerate() {
            let slot = &mut starts[end as usize + 1];
            halves[*slot as usize] = (2 * link + side) as u32;
            *slot += 1;
        }
    }
    starts.pop();
    (starts, halves)
}
