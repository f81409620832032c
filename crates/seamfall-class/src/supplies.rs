//! What is brought: cloth, batting, thread and tools, by whom, for each student and for the class.
//!
//! In: looks, the pool, and the list of the class. Out: one line for each thing, with the work it is for.

use crate::StudentPlan;
use crate::looks::Look;
use crate::pool::{Pool, Pooled};
use seamfall_model::class::{Bringer, Class, Item, Work};
use seamfall_model::{ClassRule, Rounding, Rule, Working, decimal, shown_money, term};
use seamfall_plan::cut::{Material, shown_length};
use seamfall_plan::words;
use tr::tr;

/// Something that is brought.
#[derive(Debug, Clone, PartialEq)]
pub struct Supply {
    /// What.
    pub what: String,
    /// Who brings it.
    pub by: Bringer,
    /// The number of its entry in [`Class::items`], where it is one.
    pub item: Option<usize>,
    /// What each student needs, in the order of the class; nothing where she needs none.
    pub each: Vec<Option<String>>,
    /// What the class needs.
    pub all: String,
    /// What is to be said of it: what is saved, what it costs.
    pub note: Option<String>,
    /// Work that it is for; all of it where nothing is said.
    pub work: Vec<Work>,
    /// How the numbers came about.
    pub workings: Vec<Working>,
}

/// All that is brought, cloth first.
pub(crate) fn supplies(class: &Class, looks: &[Look], students: &[StudentPlan], pool: &Pool) -> Vec<Supply> {
    let mut all: Vec<Supply> = pool.materials.iter().map(|pooled| material(class, students.len(), pool, pooled)).collect();
    all.extend(thread(class, looks, students));
    all.extend(class.items.iter().enumerate().map(|(number, item)| tool(number, item, students.len())));
    all
}

fn material(class: &Class, students: usize, pool: &Pool, pooled: &Pooled) -> Supply {
    let quilt = &pool.quilt;
    let mut each = vec![None; students];
    pooled.alone.iter().for_each(|alone| each[alone.student] = Some(alone.shown.clone()));
    let together = pool.together(pooled);
    let alone = pooled.all_alone.as_ref().map(|all| shown_length(all, quilt.measure));
    let (whole, note) = match (together, &alone) {
        (Some(laid), Some(alone)) => {
            let price = pooled.bought.and_then(|bought| pool.cutting.bought[bought].price);
            let saved = pool.saved(pooled).unwrap_or(0.0);
            let note = if saved > 0.0 {
                let saved = Working { value: saved, ..laid.length.clone() };
                tr!("each alone would buy {alone} in all, {saved} more", alone, saved = shown_length(&saved, quilt.measure))
            } else {
                tr!("each alone would buy {alone} in all", alone)
            };
            let note = match price {
                Some(price) => tr!("{note}; it costs {price}", note, price = shown_money(price)),
                None => note,
            };
            (shown_length(&laid.length, quilt.measure), Some(note))
        }
        (None, Some(alone)) => (alone.clone(), None),
        _ => (sizes(pooled), None),
    };
    let mut workings: Vec<Working> = together.map(|laid| vec![laid.needed.clone(), laid.length.clone()]).unwrap_or_default();
    workings.extend(pooled.all_alone.clone());
    let work = match pooled.of {
        Material::Batting => vec![Work::Layer],
        Material::Cloth(_) if class.kits && pooled.by != Bringer::Student => vec![Work::Piece],
        Material::Cloth(_) => vec![Work::Cut, Work::Piece],
    };
    Supply { what: pooled.of.name(quilt), by: pooled.by, item: None, each, all: whole, note, work, workings }
}

/// Packages of all: `12 of 1 × crib`.
fn sizes(pooled: &Pooled) -> String {
    let mut counts: Vec<(&str, usize)> = Vec::new();
    for alone in &pooled.alone {
        match counts.iter_mut().find(|(shown, _)| *shown == alone.shown) {
            Some((_, count)) => *count += 1,
            None => counts.push((&alone.shown, 1)),
        }
    }
    counts.iter().map(|(shown, count)| tr!("{count} of {shown}", count, shown)).collect::<Vec<_>>().join(", ")
}

fn thread(class: &Class, looks: &[Look], students: &[StudentPlan]) -> Vec<Supply> {
    let own: Vec<&Look> = students.iter().map(|student| &looks[student.look]).collect();
    let quilt = &looks[0].quilt;
    let piecing = own.iter().map(|look| Some(words::thread(&look.quilt, &look.plan.cutting.thread))).collect();
    let spools: usize = own.iter().filter_map(|look| look.plan.cutting.thread.spools.as_ref()).map(Working::count).sum();
    let length: f64 = own.iter().map(|look| look.plan.cutting.thread.thread.value).sum();
    let piecing_all = match spools {
        0 => words::long(quilt, length),
        spools => tr!("1 spool" | "{n} spools" % spools),
    };
    let quilting: Vec<f64> = own.iter().map(|look| look.plan.lap.totals.thread).collect();
    let supply = |what: &str, each, all, work| Supply {
        what: what.to_owned(),
        by: class.brings.thread,
        item: None,
        each,
        all,
        note: None,
        work,
        workings: Vec::new(),
    };
    let mut all = vec![supply(&tr!("Thread for piecing"), piecing, piecing_all, vec![Work::Piece])];
    if quilting.iter().any(|length| *length > 0.0) {
        let each = quilting.iter().map(|length| (*length > 0.0).then(|| words::long(quilt, *length))).collect();
        let whole = words::long(quilt, quilting.iter().sum());
        all.push(supply(&tr!("Thread for quilting"), each, whole, vec![Work::Quilt, Work::Join]));
    }
    all
}

fn tool(number: usize, item: &Item, students: usize) -> Supply {
    let count = u32::try_from(students).unwrap_or(u32::MAX);
    let mut numbers = term(&tr!("how many"), f64::from(item.count));
    let among = item.among.or((item.by == Bringer::Student).then_some(1));
    if let Some(among) = among {
        numbers = numbers * (term(&tr!("students"), f64::from(count)) / term(&tr!("among"), f64::from(among))).ceil();
    } else if count == 0 {
        numbers = term(&tr!("how many"), 0.0);
    }
    let all = Working::new(Rule::Class(ClassRule::Items), &tr!("in all"), numbers, Rounding::Whole);
    let each = match (item.by, item.among) {
        (Bringer::Student, None | Some(1)) => vec![Some(item.count.to_string()); students],
        _ => vec![None; students],
    };
    let note =
        item.among.filter(|among| *among > 1).map(|among| tr!("{item} for every {among} students", item = item.count, among));
    Supply {
        what: item.name.clone(),
        by: item.by,
        item: Some(number),
        each,
        all: decimal(all.value, 0),
        note,
        work: item.work.clone(),
        workings: vec![all],
    }
}

impl Supply {
    /// Whether it is wanted for some of `work`.
    #[must_use]
    pub fn is_for(&self, work: &[Work]) -> bool {
        self.work.is_empty() || self.work.iter().any(|one| work.contains(one))
    }

    /// Whether a student must know of it for such work: the teacher's own list is not hers.
    #[must_use]
    pub fn is_told(&self, work: &[Work]) -> bool {
        self.by != Bringer::Teacher && self.is_for(work)
    }

    /// What one of the class brings: her own, or nothing to say where it is shared or the teacher's.
    #[must_use]
    pub fn of(&self, student: usize) -> Option<&str> {
        self.each.get(student)?.as_deref()
    }
}
