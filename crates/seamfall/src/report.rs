//! The plan in plain words, for the terminal.

use seamfall_model::{Finding, Length, Quilt, Working};
use seamfall_plan::cut::Way;
use seamfall_plan::{Plan, words};
use std::fmt::Write;

/// Findings, one a line, the remedy below.
pub fn findings(findings: &[Finding]) -> String {
    let mut text = String::new();
    for finding in findings {
        line(&mut text, format_args!("{:<5} {}: {}", finding.grade.word(), finding.spot, finding.reason));
        if let Some(help) = &finding.help {
            line(&mut text, format_args!("      help: {help}"));
        }
    }
    if findings.is_empty() {
        line(&mut text, format_args!("nothing to say against it"));
    }
    text
}

/// Sizes, sections, cut list and what to buy.
pub fn plan(quilt: &Quilt, plan: &Plan) -> String {
    let mut text = String::new();
    let size = |x: f64| Length::new(x).shown(quilt.step);
    let unit = quilt.measure.sign();
    line(&mut text, format_args!("{}", quilt.name));
    line(&mut text, format_args!("  finished {} x {} {unit}", size(plan.top.size.x), size(plan.top.size.y)));
    for working in &plan.top.workings {
        line(&mut text, format_args!("  {}", working.line()));
    }
    line(&mut text, format_args!(""));
    line(&mut text, format_args!("What to buy"));
    for bought in &plan.cutting.cloths {
        let cloth = &quilt.cloths[bought.cloth.0];
        line(
            &mut text,
            format_args!("  {:<24} {:>10}  {} wide", cloth.name, bought.shown(quilt), cloth.width.shown_with_unit(quilt.step)),
        );
    }
    line(&mut text, format_args!(""));
    line(&mut text, format_args!("What to cut ({unit})"));
    let mut last = None;
    for piece in &plan.cutting.pieces {
        if last != Some(piece.cloth) {
            line(&mut text, format_args!("  {}", quilt.cloths[piece.cloth.0].name));
            last = Some(piece.cloth);
        }
        let shown = |working: &Working| working.length().shown(quilt.step);
        let (width, length) = (shown(&piece.width), shown(&piece.length));
        line(
            &mut text,
            format_args!(
                "    {:>4} {:<22} {:>7} x {:<7} {}",
                piece.cut,
                way(&piece.way),
                width,
                length,
                words::uses(quilt, plan, &piece.uses)
            ),
        );
    }
    if !plan.findings.is_empty() {
        line(&mut text, format_args!(""));
        text.push_str(&findings(&plan.findings));
    }
    text
}

fn way(way: &Way) -> &'static str {
    match way {
        Way::Rectangle => "",
        Way::HalfSquare => "cut once across",
        Way::QuarterSquare => "cut twice across",
        Way::Joined => "joined from strips",
        Way::Template { reversed: false, .. } => "by template",
        Way::Template { reversed: true, .. } => "by template, reversed",
        Way::Mitred => "with mitred ends",
    }
}

fn line(text: &mut String, what: std::fmt::Arguments) {
    writeln!(text, "{what}").expect("writing to a string cannot fail");
}

/// A first quilt file: small, complete and meant to be changed.
pub fn new_quilt(name: &str, cm: bool) -> String {
    let name = name.replace('\\', "\\\\").replace('"', "\\\"");
    let (measure, size, band) = if cm { ("cm", "30", "10") } else { ("inch", "12", "4") };
    format!(
        r##"# A quilt for Seamfall. Every key is described in docs/quilt-file.md.
format = 1
name = "{name}"
measure = "{measure}"

[cloth.light]
name = "Light"
colour = "#efe6d2"
value = "light"

[cloth.dark]
name = "Dark"
colour = "#2f4858"
value = "dark"

[block.first]
starter = "churn-dash"
size = "{size}"
cloths = {{ light = "light", dark = "dark" }}

[setting]
layout = "straight"
columns = 4
rows = 5
pattern = [["first"]]

[[band]]
width = "{band}"
cloth = "dark"
corners = "butted"
"##
    )
}
