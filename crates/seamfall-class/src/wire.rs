//! The plan of a class as JSON: its own types, so that what others read does not change when the inside does.
//!
//! In: a class and its plan. Out: one line of JSON, the same bytes for the same class on every machine, and its published schema. Lengths
//! are in the unit of the quilt, hours in hours.

use crate::ClassPlan;
use crate::pool::Pooled;
use crate::schedule::LessonDay;
use schemars::JsonSchema;
use seamfall_model::class::{Class, Work};
use seamfall_model::{Finding, Working};
use seamfall_plan::cut::{Part, kind_name};
use serde::Serialize;

/// The plan of a class.
#[derive(Debug, Serialize, JsonSchema)]
pub struct ClassWire {
    name: String,
    quilt: String,
    students: Vec<StudentWire>,
    lessons: Vec<LessonWire>,
    /// The day on which the first work is begun.
    begin: String,
    /// The day on which all is done.
    last_day: String,
    /// When the teacher begins to cut kits, and how long that takes.
    kits: Option<KitsWire>,
    /// Days by which the first lesson would be too early, where the last day cannot be met.
    short_days: Option<i64>,
    /// What would do then.
    remedies: Vec<String>,
    materials: Vec<MaterialWire>,
    pieces: Vec<PieceWire>,
    supplies: Vec<SupplyWire>,
    findings: Vec<FindingWire>,
}

/// When kits are cut.
#[derive(Debug, Serialize, JsonSchema)]
pub struct KitsWire {
    begin: String,
    hours: f64,
}

/// A student.
#[derive(Debug, Serialize, JsonSchema)]
pub struct StudentWire {
    name: String,
    rows: usize,
    columns: usize,
    width: f64,
    height: f64,
    hours: Vec<WorkWire>,
    all: f64,
}

/// Hours of one kind of work.
#[derive(Debug, Serialize, JsonSchema)]
pub struct WorkWire {
    work: &'static str,
    hours: f64,
    /// How they came about, in one line.
    working: String,
}

/// A lesson.
#[derive(Debug, Serialize, JsonSchema)]
pub struct LessonWire {
    title: String,
    day: String,
    hours: f64,
    work: Vec<&'static str>,
    steps: Vec<String>,
    home: Vec<HomeWire>,
    cautions: Vec<String>,
}

/// What a student does about a lesson.
#[derive(Debug, Serialize, JsonSchema)]
pub struct HomeWire {
    student: usize,
    /// Hours that must be done before the lesson.
    before: f64,
    in_lesson: f64,
    at_home: f64,
    /// How far she is before the next.
    reached: String,
}

/// A piece that is cut, equal ones of all students together.
#[derive(Debug, Serialize, JsonSchema)]
pub struct PieceWire {
    name: String,
    of: String,
    cut: usize,
    width: f64,
    length: f64,
}

/// A material.
#[derive(Debug, Serialize, JsonSchema)]
pub struct MaterialWire {
    of: String,
    by: &'static str,
    /// Length that is bought together, with its layout's length and the length that no layout is shorter than.
    together: Option<TogetherWire>,
    /// What all would buy alone.
    alone: Option<f64>,
    each: Vec<EachWire>,
    kits: Vec<KitWire>,
    strips: Vec<StripWire>,
}

/// A length for all.
#[derive(Debug, Serialize, JsonSchema)]
pub struct TogetherWire {
    shown: String,
    buy: f64,
    needed: f64,
    bound: f64,
    working: String,
    price: Option<u64>,
}

/// What a student would buy alone.
#[derive(Debug, Serialize, JsonSchema)]
pub struct EachWire {
    student: usize,
    shown: String,
}

/// Pieces of a kit.
#[derive(Debug, Serialize, JsonSchema)]
pub struct KitWire {
    student: usize,
    piece: String,
    /// `whole`, `strip`, `rest` or `block` of several.
    part: &'static str,
    count: u32,
}

/// Equal strips and whose pieces they give.
#[derive(Debug, Serialize, JsonSchema)]
pub struct StripWire {
    line: usize,
    from: u32,
    to: u32,
    gives: Vec<GivenWire>,
}

/// Pieces off a strip for a student.
#[derive(Debug, Serialize, JsonSchema)]
pub struct GivenWire {
    student: usize,
    piece: String,
    count: u32,
}

/// Something that is brought.
#[derive(Debug, Serialize, JsonSchema)]
pub struct SupplyWire {
    what: String,
    by: &'static str,
    each: Vec<Option<String>>,
    all: String,
    note: Option<String>,
    work: Vec<&'static str>,
}

/// Something to be said.
#[derive(Debug, Serialize, JsonSchema)]
pub struct FindingWire {
    grade: &'static str,
    about: String,
    reason: String,
    help: Option<String>,
}

/// The plan of a class as one line of JSON.
///
/// # Panics
/// Never: it is made of texts and finite numbers.
#[must_use]
pub fn to_json(class: &Class, plan: &ClassPlan) -> String {
    serde_json::to_string(&wire(class, plan)).expect("it is made of texts and finite numbers")
}

/// JSON Schema of the plan of a class.
///
/// # Panics
/// Never: a schema is plain JSON.
#[must_use]
pub fn json_schema() -> String {
    serde_json::to_string_pretty(&schemars::schema_for!(ClassWire)).expect("a schema is plain JSON") + "\n"
}

/// To a millionth, as lengths go in the plan.
fn number(value: f64) -> f64 {
    (value * 1e6).round() / 1e6 + 0.0
}

fn wire(class: &Class, plan: &ClassPlan) -> ClassWire {
    let timetable = &plan.timetable;
    ClassWire {
        name: class.name.clone(),
        quilt: plan.pool.quilt.name.clone(),
        students: (0..plan.students.len()).map(|student| student_wire(class, plan, student)).collect(),
        lessons: timetable.lessons.iter().enumerate().map(|(lesson, on)| lesson_wire(plan, lesson, on)).collect(),
        begin: timetable.begin.to_string(),
        last_day: class.schedule.last_day.to_string(),
        kits: timetable.kits.map(|(day, hours)| KitsWire { begin: day.to_string(), hours: number(hours) }),
        short_days: timetable.short,
        remedies: timetable.remedies.iter().map(crate::Remedy::said).collect(),
        materials: plan.pool.materials.iter().map(|pooled| material(plan, pooled)).collect(),
        pieces: plan
            .pool
            .cutting
            .pieces
            .iter()
            .map(|piece| PieceWire {
                name: piece.name.clone(),
                of: piece.of.key(&plan.pool.quilt).to_owned(),
                cut: piece.cut,
                width: number(piece.width.value),
                length: number(piece.length.value),
            })
            .collect(),
        supplies: plan
            .supplies
            .iter()
            .map(|supply| SupplyWire {
                what: supply.what.clone(),
                by: supply.by.word(),
                each: supply.each.clone(),
                all: supply.all.clone(),
                note: supply.note.clone(),
                work: supply.work.iter().map(|work| work.word()).collect(),
            })
            .collect(),
        findings: plan.findings.iter().map(finding).collect(),
    }
}

fn finding(finding: &Finding) -> FindingWire {
    FindingWire {
        grade: finding.grade.word(),
        about: finding.spot.to_string(),
        reason: finding.reason.clone(),
        help: finding.help.clone(),
    }
}

fn student_wire(class: &Class, plan: &ClassPlan, student: usize) -> StudentWire {
    let (look, hours) = (plan.look(student), &plan.students[student].hours);
    let work =
        |(working, work): (&Working, Work)| WorkWire { work: work.word(), hours: number(working.value), working: working.line() };
    StudentWire {
        name: class.students[student].name.clone(),
        rows: look.blocks[0],
        columns: look.blocks[1],
        width: number(look.plan.top.size.x),
        height: number(look.plan.top.size.y),
        hours: hours.each.iter().zip(Work::ALL).map(work).collect(),
        all: number(hours.all.value),
    }
}

fn lesson_wire(plan: &ClassPlan, lesson: usize, on: &LessonDay) -> LessonWire {
    let handout = &plan.handouts[lesson];
    LessonWire {
        title: handout.title.clone(),
        day: on.day.to_string(),
        hours: handout.hours,
        work: handout.work.iter().map(|work| work.word()).collect(),
        steps: handout.steps.iter().map(|step| step.text.clone()).collect(),
        home: handout
            .home
            .iter()
            .zip(&on.parts)
            .map(|(home, part)| HomeWire {
                student: home.student,
                before: number(part.before.value),
                in_lesson: number(part.in_lesson),
                at_home: number(part.at_home),
                reached: home.reached.clone(),
            })
            .collect(),
        cautions: handout.cautions.iter().map(|caution| format!("{}: {}", caution.title(), caution.words())).collect(),
    }
}

fn material(plan: &ClassPlan, pooled: &Pooled) -> MaterialWire {
    let pool = &plan.pool;
    let bought = pooled.bought.map(|bought| &pool.cutting.bought[bought]);
    let name = |kind: usize| bought.map_or_else(String::new, |bought| kind_name(&pool.cutting, bought, bought.kinds[kind]));
    let ticks = f64::from(seamfall_plan::cut::ticks_per_unit(pool.quilt.step));
    MaterialWire {
        of: pooled.of.key(&pool.quilt).to_owned(),
        by: pooled.by.word(),
        together: pool.together(pooled).map(|laid| TogetherWire {
            shown: bought.map_or_else(String::new, |bought| bought.shown(&pool.quilt)),
            buy: number(laid.length.value),
            needed: number(laid.needed.value),
            bound: number(laid.cutting.bound.length as f64 / ticks),
            working: laid.length.line(),
            price: bought.and_then(|bought| bought.price),
        }),
        alone: pooled.all_alone.as_ref().map(|all| number(all.value)),
        each: pooled.alone.iter().map(|one| EachWire { student: one.student, shown: one.shown.clone() }).collect(),
        kits: pooled
            .kits
            .iter()
            .map(|piece| KitWire {
                student: piece.student,
                piece: pool.cutting.pieces[piece.of.piece].name.clone(),
                part: match piece.of.part {
                    Part::Whole => "whole",
                    Part::Strip => "strip",
                    Part::Rest => "rest",
                    Part::Motifs => "motifs",
                    Part::Nest(_) => "block",
                },
                count: piece.count,
            })
            .collect(),
        strips: pooled
            .strips
            .iter()
            .map(|strips| StripWire {
                line: strips.line + 1,
                from: strips.from,
                to: strips.to,
                gives: strips
                    .gives
                    .iter()
                    .map(|given| GivenWire { student: given.student, piece: name(given.kind), count: given.count })
                    .collect(),
            })
            .collect(),
    }
}
