//! Cloth bought together: the pieces of all students on one length of each cloth, beside what each would buy alone.
//!
//! In: the looks and who makes which. Out: a cut list of all pieces, equal ones counted together, and for every cloth that is bought together a
//! layout with its proven bound. The layouts of all students one after another are a layout too, so that what is bought together is
//! never longer than what all buy alone; the shorter of that and of what the engine finds is taken. Strips and rests that a longer strip is
//! joined from, and blocks of nested templates, stay what they are for each student, so that every kit is whole.

use crate::StudentPlan;
use crate::kits::{KitPiece, StripKits, strips};
use crate::looks::Look;
use seamfall_cutting::job::{Job, Kind};
use seamfall_cutting::layout::{Content, Layout, Panel, Strip};
use seamfall_cutting::{Budget, Cutting as Cut};
use seamfall_model::class::{Bringer, Class};
use seamfall_model::{ClassRule, ClothId, Finding, Length, Quilt, Rounding, Rule, Shrinkage, Spot, Term, Working, term};
use seamfall_plan::cut::{
    CutPiece, Cutting, KindOf, Laid, Material, Nest, OffTheBolt, Part, ToBuy, Use, price_of, rules, shown_length, ticks_per_unit,
};
use std::collections::BTreeMap;
use tr::tr;

/// Cloth for all.
#[derive(Debug, Clone, PartialEq)]
pub struct Pool {
    /// The teacher's quilt, with the cloths of the class behind its own.
    pub quilt: Quilt,
    /// All pieces, and what is bought of each material together; drawn and told like the cutting of any quilt.
    pub cutting: Cutting,
    /// One for each material that is used, cloths in their order, then the batting.
    pub materials: Vec<Pooled>,
}

/// A material and what the class needs of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Pooled {
    /// Which.
    pub of: Material,
    /// Who brings it.
    pub by: Bringer,
    /// Its number in [`Cutting::bought`] of the pool, where it is bought together.
    pub bought: Option<usize>,
    /// What each student who uses it would buy alone.
    pub alone: Vec<Alone>,
    /// All of that together, where it is bought by the length.
    pub all_alone: Option<Working>,
    /// The pieces of each student, where it is bought together.
    pub kits: Vec<KitPiece>,
    /// Whose pieces come off which strips, in the order of cutting.
    pub strips: Vec<StripKits>,
}

/// What a student would buy of a material by herself.
#[derive(Debug, Clone, PartialEq)]
pub struct Alone {
    /// The student.
    pub student: usize,
    /// As it is said: `1 7/8 yd`.
    pub shown: String,
    /// The length to buy, where it is one.
    pub length: Option<Working>,
    /// The length that is cut up, in ticks of the ruler.
    pub ticks: Option<u64>,
}

impl Pool {
    /// What is bought together of a material.
    #[must_use]
    pub fn together(&self, pooled: &Pooled) -> Option<&OffTheBolt> {
        match &self.cutting.bought[pooled.bought?].laid {
            Some(Laid::OffTheBolt(laid)) => Some(laid),
            _ => None,
        }
    }

    /// What is bought together and what all would buy alone, in the document's unit.
    #[must_use]
    pub fn saved(&self, pooled: &Pooled) -> Option<f64> {
        Some(pooled.all_alone.as_ref()?.value - self.together(pooled)?.length.value)
    }
}

/// A kind of rectangle that is cut for several students.
struct Shared {
    kind: Kind,
    of: KindOf,
    /// Student and count.
    shares: Vec<(usize, u32)>,
}

/// Rectangles of one material, while they are gathered.
#[derive(Default)]
struct Gathered {
    width: Option<u32>,
    kinds: Vec<Shared>,
    nests: Vec<Nest>,
    /// The layouts of all students, one after another.
    strips: Vec<Strip>,
    /// The longest bound among them: all together need no less.
    stages: Option<seamfall_cutting::job::Stages>,
}

/// Gathers and lays out everything.
pub(crate) fn pool(
    quilt: &Quilt,
    class: &Class,
    looks: &[Look],
    students: &[StudentPlan],
    budget: Budget,
    findings: &mut Vec<Finding>,
) -> Pool {
    let mut all = looks[0].quilt.clone();
    all.cloths.extend(class.cloths.iter().cloned().map(|mut cloth| {
        cloth.from.clear();
        cloth
    }));
    let (pieces, numbers) = pieces(looks, students);
    let mut pool =
        Pool { quilt: all, cutting: Cutting { pieces, bought: Vec::new(), thread: thread(looks) }, materials: Vec::new() };
    let cloths = (0..pool.quilt.cloths.len()).map(|id| Material::Cloth(ClothId(id)));
    let mut alone_known = BTreeMap::new();
    for of in cloths.chain([Material::Batting]) {
        let by = of.cloth().map_or(class.brings.batting, |cloth| class.brings.of(cloth));
        let alone = alone(of, looks, students, &numbers, budget, &pool.quilt, &mut alone_known);
        if alone.is_empty() {
            continue;
        }
        let all_alone =
            alone.iter().map(|one| Some(term(&tr!("each"), one.length.as_ref()?.value))).collect::<Option<Vec<Term>>>();
        let all_alone = all_alone.map(|each| {
            let sum = term(&tr!("all, each alone"), each.iter().map(Term::value).sum());
            Working::new(Rule::Class(ClassRule::Alone), &tr!("length that all would buy alone"), sum, Rounding::Exact)
        });
        let mut pooled = Pooled { of, by, bought: None, alone, all_alone, kits: Vec::new(), strips: Vec::new() };
        if by != Bringer::Student {
            let each: Vec<usize> = (0..students.len()).collect();
            let gathered = gather(of, looks, students, &numbers, &each);
            together(&mut pool, &mut pooled, gathered, budget, findings);
        }
        pool.materials.push(pooled);
    }
    debug_assert_eq!(quilt.cloths.len() + class.cloths.len(), pool.quilt.cloths.len());
    pool
}

/// The thread of the teacher's quilt stands in for that of the class, which is told student by student.
fn thread(looks: &[Look]) -> seamfall_plan::cut::ThreadToBuy {
    looks[0].plan.cutting.thread.clone()
}

/// The material of a piece of a look, as the class counts cloths.
fn material(look: &Look, of: Material) -> Material {
    of.cloth().map_or(of, |cloth| Material::Cloth(look.cloths[cloth.0]))
}

/// All pieces, equal ones counted together, by material, then the largest first; and which of them each piece of each look is.
fn pieces(looks: &[Look], students: &[StudentPlan]) -> (Vec<CutPiece>, Vec<Vec<usize>>) {
    let mut all: Vec<CutPiece> = Vec::new();
    let mut numbers: Vec<Vec<usize>> = Vec::new();
    for (number, look) in looks.iter().enumerate() {
        let makers = students.iter().filter(|student| student.look == number).count();
        let mut own = Vec::new();
        for piece in &look.plan.cutting.pieces {
            let of = material(look, piece.of);
            let alike = |other: &CutPiece| {
                // A ten-thousandth, far below any step.
                let near = |a: &Working, b: &Working| (a.value - b.value).abs() < 1e-4;
                let sizes = near(&other.width, &piece.width) && near(&other.length, &piece.length);
                other.of == of && other.grain == piece.grain && sizes && other.way == piece.way && other.motif == piece.motif
            };
            let at = all.iter().position(alike).unwrap_or_else(|| {
                all.push(CutPiece { of, needed: 0, cut: 0, uses: Vec::new(), ..piece.clone() });
                all.len() - 1
            });
            all[at].needed += piece.needed * makers;
            all[at].cut += piece.cut * makers;
            if makers > 0 {
                add_uses(&mut all[at].uses, &piece.uses, makers);
            }
            own.push(at);
        }
        numbers.push(own);
    }
    let mut order: Vec<usize> = (0..all.len()).collect();
    let sides = |piece: &CutPiece| {
        let [a, b] = [piece.width.value, piece.length.value];
        [a.min(b), a.max(b)]
    };
    order.sort_by(|&a, &b| {
        let ([aw, al], [bw, bl]) = (sides(&all[a]), sides(&all[b]));
        all[a].of.cmp(&all[b].of).then(bw.total_cmp(&aw)).then(bl.total_cmp(&al)).then(a.cmp(&b))
    });
    let mut place = vec![0; all.len()];
    order.iter().enumerate().for_each(|(new, old)| place[*old] = new);
    numbers.iter_mut().flatten().for_each(|number| *number = place[*number]);
    let named = |(new, old): (usize, &usize)| CutPiece { name: format!("c{}", new + 1), ..all[*old].clone() };
    (order.iter().enumerate().map(named).collect(), numbers)
}

fn add_uses(all: &mut Vec<Use>, more: &[Use], times: usize) {
    for one in more {
        let mut one = one.clone();
        let (Use::Template { count, .. } | Use::Top { count, .. } | Use::Besides { count, .. }) = &mut one;
        *count *= times;
        let own = *count;
        let same = all.iter_mut().find_map(|other| match (other, &one) {
            (Use::Template { block, template, count }, Use::Template { block: b, template: t, .. })
                if (&*block, &*template) == (b, t) =>
            {
                Some(count)
            }
            (Use::Top { what, count, .. }, Use::Top { what: w, .. })
            | (Use::Besides { what, count }, Use::Besides { what: w, .. })
                if what == w =>
            {
                Some(count)
            }
            _ => None,
        });
        match same {
            Some(count) => *count += own,
            None => all.push(one),
        }
    }
}

/// Rectangles of a material that some students need, equal ones together.
fn gather(of: Material, looks: &[Look], students: &[StudentPlan], numbers: &[Vec<usize>], some: &[usize]) -> Gathered {
    let mut all = Gathered::default();
    for &student in some {
        let look = &looks[students[student].look];
        let own = look.plan.cutting.bought.iter().filter(|bought| material(look, bought.of) == of);
        for bought in own {
            let Some(Laid::OffTheBolt(laid)) = &bought.laid else { continue };
            all.width = Some(laid.job.width());
            all.stages = Some(laid.job.stages());
            let map: Vec<usize> = laid
                .job
                .kinds()
                .iter()
                .zip(&bought.kinds)
                .map(|(kind, kind_of)| {
                    let piece = numbers[students[student].look][kind_of.piece];
                    all.add(student, kind, KindOf { piece, part: kind_of.part }, bought)
                })
                .collect();
            let strips = laid.cutting.layout.strips.iter();
            all.strips.extend(strips.map(|strip| Strip { times: strip.times, panel: renumbered(&strip.panel, &map) }));
        }
    }
    all
}

impl Gathered {
    /// Adds what a student needs of a kind; gives its number.
    fn add(&mut self, student: usize, kind: &Kind, mut of: KindOf, bought: &ToBuy) -> usize {
        if let Part::Nest(number) = of.part {
            let nest = &bought.nests[number];
            let known = self.nests.iter().position(|other| other == nest).unwrap_or_else(|| {
                self.nests.push(nest.clone());
                self.nests.len() - 1
            });
            of.part = Part::Nest(known);
        }
        let alike = |other: &Shared| {
            let size = |kind: &Kind| (kind.width, kind.height, kind.turn);
            other.of == of && size(&other.kind) == size(kind)
        };
        let at = self.kinds.iter().position(alike).unwrap_or_else(|| {
            let name = format!("{}", self.kinds.len() + 1);
            self.kinds.push(Shared { kind: Kind { name, count: 0, ..kind.clone() }, of, shares: Vec::new() });
            self.kinds.len() - 1
        });
        let shared = &mut self.kinds[at];
        shared.kind.count += kind.count;
        match shared.shares.last_mut() {
            Some((last, count)) if *last == student => *count += kind.count,
            _ => shared.shares.push((student, kind.count)),
        }
        at
    }
}

fn renumbered(panel: &Panel, map: &[usize]) -> Panel {
    let each = |panels: &[Panel]| panels.iter().map(|panel| renumbered(panel, map)).collect();
    let content = match &panel.content {
        Content::Piece { kind, turned } => Content::Piece { kind: map[*kind], turned: *turned },
        Content::Across(panels) => Content::Across(each(panels)),
        Content::Along(panels) => Content::Along(each(panels)),
    };
    Panel { width: panel.width, height: panel.height, content }
}

/// The layouts of several one after another: equal strips together, the highest first.
fn one_after_another(strips: &[Strip]) -> Layout {
    let mut all: Vec<Strip> = Vec::new();
    for strip in strips {
        match all.iter_mut().find(|other| other.panel == strip.panel) {
            Some(other) => other.times += strip.times,
            None => all.push(strip.clone()),
        }
    }
    all.sort_by_key(|strip| std::cmp::Reverse(strip.panel.height));
    Layout::of(all, 0)
}

/// The shorter of what is found and of what all have one after another.
fn laid_out(gathered: &Gathered, budget: Budget) -> Option<Result<(Job, Cut), String>> {
    let (width, stages) = (gathered.width?, gathered.stages?);
    let kinds = gathered.kinds.iter().map(|shared| shared.kind.clone()).collect();
    let job = match Job::new(width, 0, stages, kinds) {
        Ok(job) => job,
        Err(error) => return Some(Err(error.to_string())),
    };
    let mut cut = seamfall_cutting::cut(&job, budget);
    let apart = one_after_another(&gathered.strips);
    if apart.length < cut.layout.length {
        cut.layout = apart;
    }
    Some(Ok((job, cut)))
}

fn off_the_bolt(quilt: &Quilt, of: Material, job: Job, cutting: Cut) -> OffTheBolt {
    let length = |ticks: f64| Length::new(ticks / f64::from(ticks_per_unit(quilt.step)));
    let strips = cutting.layout.strips.iter().map(|strip| (f64::from(strip.times), length(strip.panel.height.into())));
    let needed = rules::length_needed(strips);
    let shrinkage = of.cloth().map_or(Shrinkage(0), |cloth| quilt.cloths[cloth.0].shrinkage);
    let buy = |what: &str, needed: f64| rules::length_to_buy(what, needed, shrinkage, quilt.reserve, quilt.measure);
    let bought = buy(&tr!("length to buy"), needed.value);
    let least = buy(&tr!("least to buy"), length(cutting.bound.length as f64).value());
    OffTheBolt { job, cutting, needed, length: bought, least }
}

/// Lays out what is bought together of one material.
fn together(pool: &mut Pool, pooled: &mut Pooled, gathered: Gathered, budget: Budget, findings: &mut Vec<Finding>) {
    let (quilt, of) = (&pool.quilt, pooled.of);
    let (job, cut) = match laid_out(&gathered, budget) {
        None => return,
        Some(Ok(laid)) => laid,
        Some(Err(why)) => {
            let reason = tr!("the pieces of all cannot be laid out on one length: {why}", why);
            let help = tr!("let each student buy her own of it, or divide the class in two");
            findings.push(Finding::stop(spot(quilt, of), reason).help(help));
            return;
        }
    };
    pooled.strips = strips(&cut.layout, &gathered.kinds.iter().map(|shared| shared.shares.clone()).collect::<Vec<_>>());
    let kit = |(number, shared): (usize, &Shared)| {
        shared
            .shares
            .iter()
            .map(move |&(student, count)| KitPiece { student, kind: number, of: shared.of, count })
            .collect::<Vec<_>>()
    };
    pooled.kits = gathered.kinds.iter().enumerate().flat_map(kit).collect();
    pooled.kits.sort_by_key(|piece| (piece.student, piece.of.piece, piece.kind));
    let laid = off_the_bolt(quilt, of, job, cut);
    let price = match of {
        Material::Cloth(cloth) => quilt.cloths[cloth.0].price,
        Material::Batting => quilt.batting.as_ref().and_then(|batting| batting.roll).and_then(|roll| roll.price),
    };
    let price = price.map(|price| price_of(&laid.length, price, quilt.measure));
    let is_first = budget == Budget::FIRST && !laid.is_least();
    pooled.bought = Some(pool.cutting.bought.len());
    pool.cutting.bought.push(ToBuy {
        of,
        kinds: gathered.kinds.iter().map(|shared| shared.of).collect(),
        nests: gathered.nests,
        is_first,
        laid: Some(Laid::OffTheBolt(Box::new(laid))),
        price,
        instead: None,
    });
}

fn spot(quilt: &Quilt, of: Material) -> Spot {
    match of {
        Material::Cloth(cloth) => Spot::Cloth(quilt.cloths[cloth.0].key.clone()),
        Material::Batting => Spot::Batting,
    }
}

/// What each student who uses a material would buy of it alone.
fn alone(
    of: Material,
    looks: &[Look],
    students: &[StudentPlan],
    numbers: &[Vec<usize>],
    budget: Budget,
    quilt: &Quilt,
    known: &mut BTreeMap<(Material, usize), Option<Alone>>,
) -> Vec<Alone> {
    let one = |student: usize| -> Option<Alone> {
        let look = &looks[students[student].look];
        let own: Vec<&ToBuy> = look.plan.cutting.bought.iter().filter(|bought| material(look, bought.of) == of).collect();
        let off = |laid: &OffTheBolt| Alone {
            student,
            shown: shown_length(&laid.length, quilt.measure),
            length: Some(laid.length.clone()),
            ticks: Some(laid.cutting.layout.length),
        };
        match own[..] {
            [] => None,
            [only] => Some(match &only.laid {
                Some(Laid::OffTheBolt(laid)) => off(laid),
                _ => Alone { student, shown: only.shown(&look.quilt), length: None, ticks: None },
            }),
            // Two cloths of the quilt are one of hers.
            _ => {
                let gathered = gather(of, looks, students, numbers, &[student]);
                let laid = laid_out(&gathered, budget)?.ok();
                laid.map(|(job, cut)| off(&off_the_bolt(quilt, of, job, cut)))
            }
        }
    };
    (0..students.len())
        .filter_map(|student| {
            let found = known.entry((of, students[student].look)).or_insert_with(|| one(student)).clone()?;
            Some(Alone { student, ..found })
        })
        .collect()
}
