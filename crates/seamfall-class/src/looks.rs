//! The different quilts that a class makes, each planned once.
//!
//! In: the quilt and the class. Out: looks, the teacher's own first, and which of them each student makes. A student's size is reached as the
//! workroom reaches it, by rows and columns; her cloths take the places of the quilt's. Cloth is bought off the bolt by a class, and batting off
//! the roll where there is one, whatever sizes the teacher has at home.

use seamfall_cutting::Budget;
use seamfall_model::class::{Class, Student, StudentSize};
use seamfall_model::{Bed, ClothId, Edit, Finding, Grade, Layout, Ledger, Quilt, Spot, StandardBed, apply, read, write};
use seamfall_plan::answer::Ruler;
use seamfall_plan::{Effort, Memo, Plan, Wanted, fall, fit, plan_while, set, truing};
use tr::tr;

/// A quilt that somebody in the class makes.
#[derive(Debug, Clone, PartialEq)]
pub struct Look {
    /// The quilt, with the cloths that are used.
    pub quilt: Quilt,
    /// Which cloth each of its cloths is: numbers go on from those of the quilt to those of the class.
    pub cloths: Vec<ClothId>,
    /// Its plan.
    pub plan: Plan,
    /// Rows and columns.
    pub blocks: [usize; 2],
}

/// What tells looks apart.
type Key = (Option<[usize; 2]>, Vec<ClothId>);

/// All looks, and that of each student; nothing once nobody wants them any more.
pub(crate) fn looks(
    quilt: &Quilt,
    class: &Class,
    budget: Budget,
    findings: &mut Vec<Finding>,
    wanted: Wanted,
) -> Option<(Vec<Look>, Vec<usize>)> {
    let own = off_the_bolt(quilt, findings);
    let mut keys: Vec<Key> = vec![(None, (0..quilt.cloths.len()).map(ClothId).collect())];
    let mut of = Vec::new();
    for student in &class.students {
        let key = (size(quilt, student, findings), cloths(quilt, student));
        let found = keys.iter().position(|other| *other == key);
        of.push(found.unwrap_or(keys.len()));
        if found.is_none() {
            keys.push(key);
        }
    }
    let looks: Vec<Look> = keys.into_iter().map(|key| look(&own, class, key, budget, wanted)).collect::<Option<_>>()?;
    for (student, &look) in class.students.iter().zip(&of) {
        let stops = looks[look].plan.findings.iter().filter(|finding| finding.grade == Grade::Stop);
        for stop in stops {
            let mut finding = stop.clone();
            finding.reason = format!("{}: {}: {}", student.name, stop.spot, stop.reason);
            finding.spot = Spot::Quilt;
            findings.push(finding);
        }
    }
    Some((looks, of))
}

/// The quilt with every cloth off the bolt, and batting off the roll where there is one.
fn off_the_bolt(quilt: &Quilt, findings: &mut Vec<Finding>) -> Quilt {
    let mut quilt = quilt.clone();
    for cloth in quilt.cloths.iter_mut().filter(|cloth| !cloth.from.is_empty()) {
        cloth.from.clear();
        findings.push(Finding::note(
            Spot::Cloth(cloth.key.clone()),
            tr!("it comes in sizes in the quilt file; for a class it is reckoned off the bolt"),
        ));
    }
    if let Some(batting) = quilt.batting.as_mut().filter(|batting| batting.roll.is_some()) {
        batting.packages.clear();
    }
    quilt
}

fn cloths(quilt: &Quilt, student: &Student) -> Vec<ClothId> {
    let swapped = |cloth: ClothId| student.swaps.iter().find(|(from, _)| *from == cloth).map_or(cloth, |(_, to)| *to);
    (0..quilt.cloths.len()).map(ClothId).map(swapped).collect()
}

/// Rows and columns of a student's quilt, where they are not those of the quilt.
fn size(quilt: &Quilt, student: &Student, findings: &mut Vec<Finding>) -> Option<[usize; 2]> {
    let now = blocks(quilt);
    let wanted = match student.size {
        StudentSize::AsPlanned => now,
        StudentSize::Blocks { rows, columns } => [rows.unwrap_or(now[0]), columns.unwrap_or(now[1])],
        StudentSize::Covers(bed) => covering(quilt, bed).unwrap_or_else(|| {
            let reason = tr!("{student}: no number of rows and columns covers {bed}", student = student.name, bed = bed.key);
            findings.push(Finding::stop(Spot::Quilt, reason).help(tr!("give rows and columns instead")));
            now
        }),
    };
    (wanted != now).then_some(wanted)
}

/// Rows and columns of a quilt, as an edit sets them.
pub(crate) fn blocks(quilt: &Quilt) -> [usize; 2] {
    let places = &quilt.setting.places;
    let columns = places.iter().map(Vec::len).max().unwrap_or(0);
    match quilt.setting.layout {
        Layout::OnPoint { .. } => [places.len().div_ceil(2), columns],
        _ => [places.len(), columns],
    }
}

/// A quilt with other rows and columns. Nothing where it cannot have them.
pub(crate) fn resized(quilt: &Quilt, [rows, columns]: [usize; 2]) -> Option<Quilt> {
    let text = apply(&write(quilt), &Edit::Resize { rows, columns }).ok()?;
    read(&text).ok()
}

/// The fewest rows and columns that reach at least the least size to piece for a bed.
fn covering(quilt: &Quilt, standard: &'static StandardBed) -> Option<[usize; 2]> {
    let ruler = Ruler::of(quilt);
    let bed = Bed { standard: Some(standard), ..Bed::standard(quilt.measure, standard) };
    let bed = quilt.bed.map_or(bed, |own| Bed { standard: bed.standard, width: bed.width, length: bed.length, ..own });
    let wanted = fit::wanted(&bed, ruler);
    let (width, length) = (wanted.pieced_width[0].value, wanted.pieced_length[0].value);
    let top = |blocks: [usize; 2]| -> Option<[f64; 2]> {
        let size = set::derive(&resized(quilt, blocks)?).result.size;
        (size.x > 0.0).then_some([size.x, size.y])
    };
    let least = |along: usize, wanted: f64, other: usize| -> Option<usize> {
        // Blocks that are as large as the mean of those there are, then one by one.
        let of = |count: usize| top(if along == 0 { [other, count] } else { [count, other] }).map(|size| size[along]);
        let [rows, columns] = blocks(quilt);
        let now = if along == 0 { columns } else { rows };
        let guess = (wanted * now as f64 / of(now)?).ceil();
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "it is between 1 and 100")]
        let mut count = guess.clamp(1.0, 100.0) as usize;
        // A millionth of an inch, which is the tolerance of the geometry.
        let covers = |count: usize| of(count).is_some_and(|size| size + 1e-6 >= wanted);
        while count > 1 && covers(count - 1) {
            count -= 1;
        }
        while !covers(count) {
            count = (count < 100).then_some(count + 1)?;
        }
        Some(count)
    };
    let [rows, columns] = blocks(quilt);
    Some([least(1, length, columns)?, least(0, width, rows)?])
}

fn look(own: &Quilt, class: &Class, (size, cloths): Key, budget: Budget, wanted: Wanted) -> Option<Look> {
    let mut quilt = size.and_then(|size| resized(own, size)).unwrap_or_else(|| own.clone());
    for (at, id) in cloths.iter().enumerate() {
        if id.0 != at {
            let key = quilt.cloths[at].key.clone();
            quilt.cloths[at] = class.cloth(own, *id).clone();
            quilt.cloths[at].from.clear();
            // Two cloths of one key would be one in a drawing.
            if quilt.cloths.iter().filter(|cloth| cloth.key == quilt.cloths[at].key).count() > 1 {
                quilt.cloths[at].key = key;
            }
        }
    }
    let plan = planned(&quilt, budget, wanted)?;
    Some(Look { blocks: blocks(&quilt), quilt, cloths, plan })
}

/// A quilt of which nothing is sewn, planned as far as a class needs it; nothing once nobody wants it any more.
pub(crate) fn planned(quilt: &Quilt, budget: Budget, wanted: Wanted) -> Option<Plan> {
    let effort = Effort { falls: fall::Effort(1), cutting: budget, placing: truing::Effort::FIRST };
    plan_while(quilt, &Ledger::default(), effort, &mut Memo::default(), wanted)
}
