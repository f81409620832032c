//! A class of students who each make the quilt: hours, dates, cloth bought together, kits, supplies, handouts.
//!
//! In: a quilt and a [`Class`]. Out: a [`ClassPlan`], the same for the same two on every machine. In the order of work: `looks` plans each
//! different quilt once, `hours` reckons its work, `schedule` works back from the last day, `remedy` says what would do where it cannot be
//! met, `pool` lays the pieces of all on one length of each cloth, `kits` says whose piece comes off which strip, `supplies` lists what is brought
//! by whom, `handout` gathers what belongs to a lesson. All days stand in the class: no clock is read. It draws nothing; `wire` is its JSON.

mod handout;
mod hours;
mod kits;
mod looks;
mod pool;
mod remedy;
mod schedule;
mod supplies;
#[cfg(test)]
mod tests;
mod wire;
pub mod words;

pub use handout::{Drawing, Handout, HomeWork, Step};
pub use hours::Hours;
pub use kits::{Given, KitPiece, StripKits};
pub use looks::Look;
pub use pool::{Alone, Pool, Pooled};
pub use remedy::Remedy;
pub use schedule::{LessonDay, Part, Timetable};
pub use supplies::Supply;
pub use wire::{json_schema, to_json};

use seamfall_cutting::Budget;
use seamfall_model::class::Class;
use seamfall_model::{Finding, Quilt, Spot};
use seamfall_plan::Wanted;
use tr::tr;

/// Sets the language of this crate's words; English unless said. Once, at the start of the program.
pub fn speak(language: impl tr::Translator + 'static) {
    tr::set_translator!(language);
}

/// Everything that follows from a class.
#[derive(Debug, Clone, PartialEq)]
pub struct ClassPlan {
    /// The different quilts that are made; the first is the quilt as the teacher plans it.
    pub looks: Vec<Look>,
    /// One a student, in the order of the class.
    pub students: Vec<StudentPlan>,
    /// When what is done.
    pub timetable: Timetable,
    /// Cloth bought together, and the kits cut from it.
    pub pool: Pool,
    /// What is brought, by whom, how much.
    pub supplies: Vec<Supply>,
    /// One a lesson.
    pub handouts: Vec<Handout>,
    /// What is to be said, stops first, each once.
    pub findings: Vec<Finding>,
}

/// A student's quilt.
#[derive(Debug, Clone, PartialEq)]
pub struct StudentPlan {
    /// Number of her quilt in [`ClassPlan::looks`].
    pub look: usize,
    /// What it takes her.
    pub hours: Hours,
}

impl ClassPlan {
    /// The look of a student's quilt.
    #[must_use]
    pub fn look(&self, student: usize) -> &Look {
        &self.looks[self.students[student].look]
    }

    /// The quilt as the teacher plans it.
    #[must_use]
    pub fn teachers(&self) -> &Look {
        &self.looks[0]
    }
}

/// Plans a class of `quilt`, searching each cloth as long as `budget` says.
#[must_use]
pub fn class(quilt: &Quilt, class: &Class, budget: Budget) -> ClassPlan {
    class_while(quilt, class, budget, &|| true).expect("it is wanted")
}

/// The same; nothing once nobody wants it any more, which every plan of a student's quilt asks.
pub fn class_while(quilt: &Quilt, class: &Class, budget: Budget, wanted: Wanted) -> Option<ClassPlan> {
    let mut findings = Vec::new();
    let (looks, of) = looks::looks(quilt, class, budget, &mut findings, wanted)?;
    let students: Vec<StudentPlan> = class
        .students
        .iter()
        .zip(of)
        .map(|(student, look)| StudentPlan { look, hours: hours::hours(class, student, &looks[look]) })
        .collect();
    let mut timetable = schedule::timetable(class, &students, &mut findings);
    timetable.remedies = remedy::remedies(class, &looks, &students, &timetable, wanted)?;
    schedule::say(class, &timetable, &mut findings);
    let pool = pool::pool(quilt, class, &looks, &students, budget, &mut findings);
    wanted().then_some(())?;
    let supplies = supplies::supplies(class, &looks, &students, &pool);
    let handouts = handout::handouts(class, &looks, &students, &timetable);
    if class.students.is_empty() {
        findings.push(Finding::note(Spot::Quilt, tr!("no student is on the list yet")).help(tr!("add the first one")));
    }
    hours::say(class, &mut findings);
    findings.sort();
    findings.dedup();
    Some(ClassPlan { looks, students, timetable, pool, supplies, handouts, findings })
}
