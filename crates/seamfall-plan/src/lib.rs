//! The stages of the work and [`plan`], which runs them.
//!
//! In: a [`Quilt`] and its [`Ledger`]. Out: a [`Plan`], the same for the same two on every machine. Stages stand in the order of the work and
//! each reads only those before it: [`fit`], [`draft`], [`set`], [`sewn`], [`piece`], [`fall`], [`cut`], [`lap`],
//! [`truing`], [`join`], [`finish`] (which reads the top alone, so that its pieces are cut with the others). No stage reads a file, knows
//! a clock or draws.

pub mod answer;
pub mod begin;
pub mod caution;
pub mod costs;
pub mod cut;
pub mod draft;
pub mod fall;
pub mod finish;
pub mod fit;
pub mod join;
pub mod lap;
pub mod mats;
pub mod piece;
pub mod set;
pub mod sewn;
pub mod shuffle;
pub mod truing;
pub mod turning;
pub mod wire;
pub mod words;

use seamfall_cutting::Budget;
use seamfall_model::{Finding, Ledger, Quilt};

/// Sets the language of this crate's words; English unless said. Once, at the start of the program.
pub fn speak(language: impl tr::Translator + 'static) {
    tr::set_translator!(language);
}

/// Everything that follows from a quilt.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// How it fits its bed, where there is one.
    pub fit: Option<fit::Fit>,
    /// One draft a block, in the order of [`Quilt::blocks`].
    pub drafts: Vec<draft::Draft>,
    /// The top, block by block and strip by strip, in lap sections.
    pub top: set::Top,
    /// What has been sewn of it.
    pub sewn: sewn::Sewn,
    /// How everything can be sewn.
    pub piecing: piece::Piecing,
    /// To which side every seam falls, and the order that goes with it.
    pub falls: fall::Falls,
    /// What is sewn alike.
    pub units: piece::Units,
    /// How units are made, where there is a faster way than patch by patch.
    pub making: cut::Making,
    /// What to cut and what to buy.
    pub cutting: cut::Cutting,
    /// How it is quilted in the lap.
    pub lap: lap::LapWork,
    /// What measured sections are trimmed to, and which goes where.
    pub truing: truing::Truing,
    /// In which order its sections are joined, and what is done at each join.
    pub join: join::Joins,
    /// How its edge is finished.
    pub finish: finish::Finish,
    /// What is to be said, stops first, each once.
    pub findings: Vec<Finding>,
}

/// How much is searched. Counted in steps, so that the same effort gives the same plan on every machine.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Effort {
    /// For fewer stacks.
    pub falls: fall::Effort,
    /// For less cloth.
    pub cutting: Budget,
    /// For less easing.
    pub placing: truing::Effort,
}

impl Effort {
    /// What an edit waits for: cloth is cut in the plain strips of the handbook, with the bound beside it.
    pub const FIRST: Self = Self { falls: fall::Effort(1), cutting: Budget::FIRST, placing: truing::Effort::FIRST };
    /// The same with less time for falls, which are searched for on request: what the workroom shows after an edit of a large quilt turned at random.
    pub const EDIT: Self = Self { falls: fall::Effort::OF_AN_EDIT, ..Self::FIRST };
    /// What is printed and exported: up to a quarter of a second more for every cloth.
    pub const FULL: Self = Self { falls: fall::Effort(1), cutting: Budget::FULL, placing: truing::Effort::FULL };
}

/// What earlier runs have worked out and a later one need not. Give the same one to every run on a quilt that is being changed.
#[derive(Debug, Default)]
pub struct Memo {
    /// Orders of sewing.
    pub piecing: piece::Memo,
    /// Sections and gaps of the quilting.
    pub lap: lap::Memo,
}

/// Whether anybody still waits for what is worked out. Asked between stages, and within those that can take long; a no ends the work without a result,
/// and changes none. Who has said no once says it from then on.
pub type Wanted<'a> = &'a dyn Fn() -> bool;

/// Plans `quilt`, of which nothing has been sewn, as far as can be had at once.
#[must_use]
pub fn plan(quilt: &Quilt) -> Plan {
    plan_with(quilt, &Ledger::default(), Effort::FIRST)
}

/// Plans `quilt` around what has been sewn of it, searching as long as `effort` says.
#[must_use]
pub fn plan_with(quilt: &Quilt, ledger: &Ledger, effort: Effort) -> Plan {
    plan_again(quilt, ledger, effort, &mut Memo::default())
}

/// The same; what `memo` knows from a run before is not worked out again. The plan is the same with any memo.
#[must_use]
pub fn plan_again(quilt: &Quilt, ledger: &Ledger, effort: Effort, memo: &mut Memo) -> Plan {
    plan_while(quilt, ledger, effort, memo, &|| true).expect("it is wanted")
}

/// The same; nothing once nobody wants it any more. What `memo` has learnt until then it keeps.
pub fn plan_while(quilt: &Quilt, ledger: &Ledger, effort: Effort, memo: &mut Memo, wanted: Wanted) -> Option<Plan> {
    let on = || wanted().then_some(());
    let mut findings = Vec::new();
    let drafts = draft::derive_all(quilt, wanted)?;
    let drafts: Vec<_> = drafts.into_iter().map(|draft| draft.into_parts(&mut findings)).collect();
    let top = set::derive(quilt).into_parts(&mut findings);
    on()?;
    let fit = fit::derive(quilt, pieced(&top)).into_parts(&mut findings);
    let sewn = sewn::derive(quilt, ledger, &top).into_parts(&mut findings);
    let piecing = piece::derive_while(quilt, &drafts, &top, &mut memo.piecing, wanted)?.into_parts(&mut findings);
    let falls = fall::derive_while(quilt, &sewn.pressed, &top, &piecing, effort.falls, wanted)?.into_parts(&mut findings);
    let units = piece::units(&drafts, &top, &piecing, &falls.orders);
    on()?;
    let making = cut::making(quilt, &piecing, &falls.orders, &units).into_parts(&mut findings);
    let finish = finish::derive(quilt, &top).into_parts(&mut findings);
    let cutting = cut::derive_while(quilt, &drafts, &top, &making, &finish.pieces, effort.cutting, wanted)?;
    let cutting = cutting.into_parts(&mut findings);
    let lap = lap::derive_while(quilt, &drafts, &top, &mut memo.lap, wanted)?.into_parts(&mut findings);
    let measured = truing::Before { drafts: &drafts, top: &top, sewn: &sewn, falls: &falls, lap: &lap };
    let truing = truing::derive(quilt, measured, effort.placing).into_parts(&mut findings);
    on()?;
    let before = join::Before { drafts: &drafts, top: &top, piecing: &piecing, falls: &falls, lap: &lap };
    let join = join::derive(quilt, before, &sewn.joined(), effort.falls).into_parts(&mut findings);
    findings.sort();
    findings.dedup();
    Some(Plan { fit, drafts, top, sewn, piecing, falls, units, making, cutting, lap, truing, join, finish, findings })
}

/// What a section is made of, whatever has been sewn: what a change of the design is asked about before it is made.
#[derive(Debug, Clone, PartialEq)]
pub struct Designed {
    /// As in [`Plan::drafts`].
    pub drafts: Vec<draft::Draft>,
    /// As in [`Plan::top`].
    pub top: set::Top,
    /// As in [`Plan::lap`].
    pub lap: lap::LapWork,
}

/// The stages that [`sewn::wasted`] looks at, with what `memo` knows; nothing once nobody wants them any more. A plan that follows has their quilting from
/// `memo`.
pub fn designed_while(quilt: &Quilt, memo: &mut Memo, wanted: Wanted) -> Option<Designed> {
    let drafts: Vec<_> = draft::derive_all(quilt, wanted)?.into_iter().map(|draft| draft.result).collect();
    let top = set::derive(quilt).result;
    let lap = lap::derive_while(quilt, &drafts, &top, &mut memo.lap, wanted)?.result;
    Some(Designed { drafts, top, lap })
}

/// A top as it is hung over a bed.
fn pieced(top: &set::Top) -> fit::Pieced {
    let lowest = top.places.iter().map(|place| place.row).max();
    let corner = top.places.iter().find(|place| Some(place.row) == lowest);
    fit::Pieced { size: top.size, corner_block: corner.map(|place| place.outline.bounds()) }
}

/// What a stage found out, and what there is to say about it.
#[derive(Debug, Clone, PartialEq)]
pub struct Staged<T> {
    /// The result; whatever could be had.
    pub result: T,
    /// What is to be said.
    pub findings: Vec<Finding>,
}

impl<T> Staged<T> {
    /// The result alone, its findings added to `all`.
    pub fn into_parts(self, all: &mut Vec<Finding>) -> T {
        all.extend(self.findings);
        self.result
    }
}
