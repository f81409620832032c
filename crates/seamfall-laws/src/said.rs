//! What is said: a grade, a place, a reason and a remedy, each finding once, the gravest first.

use seamfall_model::{Finding, Grade};
use seamfall_plan::Plan;

pub fn hold(plan: &Plan) {
    for finding in &plan.findings {
        assert!(!finding.reason.trim().is_empty(), "a finding without a reason: {finding:?}");
        let mended = finding.help.as_deref().is_some_and(|help| !help.trim().is_empty());
        assert!(finding.grade == Grade::Note || mended, "nothing is said of how to mend it: {finding:?}");
    }
    let ordered = |pair: &[Finding]| pair[0] < pair[1];
    assert!(plan.findings.windows(2).all(ordered), "findings stand in order, each once: {:?}", plan.findings);
}
