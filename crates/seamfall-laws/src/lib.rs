//! What every plan keeps to, whatever the quilt: the laws of the trade, stage by stage.
//!
//! In: a quilt and a plan of it. Out: nothing, or a panic that names the law that is broken and where. Each law is reckoned anew from its definition and
//! from what the plan says, never by the code that made the plan. Tests give it quilts of all kinds, and a fuzzer whatever it makes up. `docs/laws.md`
//! lists them with the laws that are held elsewhere.

mod blocks;
mod cloth;
mod edge;
mod falls;
mod joins;
mod lap;
mod said;
mod sewing;
mod top;

pub use cloth::{are_few, length_holds, sheets_hold};

use seamfall_geom::Loop;
use seamfall_model::{Grade, Quilt};
use seamfall_plan::Plan;

/// Panics where `plan`, which is one of `quilt`, breaks a law.
pub fn hold(quilt: &Quilt, plan: &Plan) {
    said::hold(plan);
    blocks::hold(plan);
    top::hold(quilt, plan);
    sewing::hold(plan);
    falls::hold(quilt, plan);
    cloth::hold(quilt, plan);
    lap::hold(quilt, plan);
    joins::hold(plan);
    edge::hold(plan);
}

/// Whether something stops the work: then the top may have gaps, which is what is said.
fn is_stopped(plan: &Plan) -> bool {
    plan.findings.iter().any(|finding| finding.grade == Grade::Stop)
}

/// Lengths and areas that are sums of many parts agree to this share of themselves, and to this much besides.
const NEAR: f64 = 1e-6;

#[track_caller]
fn near(law: &str, a: f64, b: f64) {
    assert!((a - b).abs() <= NEAR * (1.0 + a.abs().max(b.abs())), "{law}: {a} and {b}");
}

fn area(outlines: &[&Loop]) -> f64 {
    outlines.iter().map(|outline| outline.area()).sum()
}
