//! What a quilt takes a student, kind by kind of work.
//!
//! In: the plan of her quilt, and paces. Out: hours with their workings. Quilting and joining are reckoned by the plan, at the pace of the quilt
//! file; cutting, piecing, layering and the edge at that of the class, or a usual one, which is then said.

use crate::looks::Look;
use seamfall_model::class::{Bringer, Class, Pace, Student, Work};
use seamfall_model::{ClassRule, ClothId, Finding, Quilt, Rounding, Rule, Spot, Term, Working, term};
use seamfall_plan::Plan;
use seamfall_plan::cut::Material;
use tr::tr;

/// Hours of a quilt.
#[derive(Debug, Clone, PartialEq)]
pub struct Hours {
    /// One for each of [`Work::ALL`], in that order.
    pub each: [Working; 6],
    /// All of them.
    pub all: Working,
    /// What the teacher takes to cut its kit, where she does.
    pub kit: Option<Working>,
}

impl Hours {
    /// Hours of one kind of work.
    #[must_use]
    pub fn of(&self, work: Work) -> f64 {
        self.each[work as usize].value
    }

    /// Hours of all that comes before `work`.
    #[must_use]
    pub fn before(&self, work: Work) -> f64 {
        self.each[..work as usize].iter().map(|hours| hours.value).sum()
    }
}

fn exact(rule: ClassRule, what: &str, hours: Term) -> Working {
    Working::new(Rule::Class(rule), what, hours, Rounding::Exact)
}

/// What `look` takes `student`.
pub(crate) fn hours(class: &Class, student: &Student, look: &Look) -> Hours {
    let times = student.times.or(class.pace.times).unwrap_or(1.0);
    of_plan(class, times, &look.quilt, &look.plan, &look.cloths)
}

/// What a plan takes somebody who takes so many times as long as its maker.
pub(crate) fn of_plan(class: &Class, times: f64, quilt: &Quilt, plan: &Plan, cloths: &[ClothId]) -> Hours {
    let pace = &class.pace;
    let slower = |hours: Term| if times == 1.0 { hours } else { hours * term(&tr!("times as long"), times) };
    let foot = 12.0 * quilt.measure.inch();
    let by = |of: Material| of.cloth().map_or(class.brings.batting, |cloth| class.brings.of(cloths[cloth.0]));
    let in_kit = |of: Material| class.kits && by(of) != Bringer::Student;
    let cutting = |kit: bool| {
        let pieces: usize = plan.cutting.pieces.iter().filter(|piece| in_kit(piece.of) == kit).map(|piece| piece.cut).sum();
        term(&tr!("pieces"), pieces as f64) * term(&tr!("minutes a piece"), pace.cut.unwrap_or(Pace::USUAL_CUT)) / 60.0
    };
    let feet = plan.cutting.thread.seams.value / foot;
    let piecing = term(&tr!("feet of seam"), feet) * term(&tr!("minutes a foot"), pace.piece.unwrap_or(Pace::USUAL_PIECE)) / 60.0;
    let sections = term(&tr!("sections"), plan.top.sections.len() as f64);
    let layering = sections * term(&tr!("minutes a section"), pace.layer.unwrap_or(Pace::USUAL_LAYER)) / 60.0;
    let joins = plan.join.order().map_or(0.0, |order| order.hours.value);
    let joining = term(&tr!("joins"), joins) + term(&tr!("quilting after them"), plan.lap.totals.hours_after.value);
    let each = [
        if plan.cutting.pieces.iter().all(|piece| in_kit(piece.of)) {
            exact(ClassRule::Cutting, &tr!("hours of cutting, done by the teacher"), term(&tr!("hours"), 0.0))
        } else {
            exact(ClassRule::Cutting, &tr!("hours of cutting"), slower(cutting(false)))
        },
        exact(ClassRule::Piecing, &tr!("hours of piecing"), slower(piecing)),
        exact(ClassRule::Layering, &tr!("hours of layering"), slower(layering)),
        exact(
            ClassRule::Quilting,
            &tr!("hours of quilting"),
            slower(term(&tr!("quilting before the joins"), plan.lap.totals.hours.value)),
        ),
        exact(ClassRule::Joining, &tr!("hours of joining"), slower(joining)),
        exact(ClassRule::Edge, &tr!("hours of finishing the edge"), slower(edge(pace, plan, foot))),
    ];
    let all = each.iter().zip(Work::ALL).map(|(hours, work)| term(&work.said(), hours.value)).reduce(|sum, one| sum + one);
    let all = exact(ClassRule::All, &tr!("hours in all"), all.expect("there is work"));
    let kit = class.kits.then(|| exact(ClassRule::Cutting, &tr!("hours of cutting the kit"), cutting(true)));
    Hours { each, all, kit }
}

/// Where the class says no pace for the edge and the plan sews a binding down, as the plan reckons it.
fn edge(pace: &Pace, plan: &Plan, foot: f64) -> Term {
    let sewn_down = plan.finish.answers.iter().find_map(|answer| answer.figure("sewing-down"));
    match (pace.edge, sewn_down) {
        (None, Some(hours)) => term(&tr!("sewing down"), hours.value),
        (minutes, _) => {
            let feet = term(&tr!("feet of edge"), plan.finish.round.length / foot);
            feet * term(&tr!("minutes a foot"), minutes.unwrap_or(Pace::USUAL_EDGE)) / 60.0
        }
    }
}

/// Which paces are only the usual ones.
pub(crate) fn say(class: &Class, findings: &mut Vec<Finding>) {
    let pace = &class.pace;
    let usual = [
        (pace.cut, tr!("half a minute to cut a piece")),
        (pace.piece, tr!("5 minutes to sew and press a foot of seam")),
        (pace.layer, tr!("20 minutes to layer and trim a section")),
    ];
    let taken: Vec<&str> = usual.iter().filter(|(said, _)| said.is_none()).map(|(_, words)| words.as_str()).collect();
    if !taken.is_empty() {
        let reason = tr!("hours rest on paces that nobody has measured: {taken}", taken = taken.join(", "));
        let help = tr!("let the students time themselves in the first lesson, and write that down as the paces of the class");
        findings.push(Finding::note(Spot::Quilt, reason).help(help));
    }
}
