//! The stage as a whole, on blocks written as a maker would write them.

mod carry;
mod cutting;
mod findings;
mod grain;
mod laws;

use super::*;
use seamfall_model::{Finding, Grade, Spot, read};

/// A quilt with a block of the given lines as its first; cloths `red` and `blue`, allowance 1/4 in.
fn quilt(block: &str) -> Quilt {
    quilt_in("inch", block)
}

fn quilt_in(measure: &str, block: &str) -> Quilt {
    let text = format!(
        r##"
format = 1
name = "Test"
measure = "{measure}"
[cloth.red]
colour = "#aa3333"
[cloth.blue]
colour = "#3333aa"
[setting]
layout = "straight"
columns = 1
rows = 1
pattern = [["other"]]
[block.b]
{block}
[block.other]
shape = "square"
size = "6"
patches = {{ red = [[1, 1]] }}
"##
    );
    read(&text).unwrap_or_else(|error| panic!("{error:#?}\n{text}"))
}

/// Drafts a block, and holds it against the laws of every draft.
fn draft(block: &str) -> Staged<Draft> {
    let quilt = quilt(block);
    let staged = derive(&quilt, &quilt.blocks[0]);
    laws::check(&staged.result);
    staged
}

/// Drafts a block about which there is nothing to say.
fn clean(block: &str) -> Draft {
    let staged = draft(block);
    assert_eq!(staged.findings, [], "{block}");
    staged.result
}

/// Templates as `A 4 HalfSquare { leg: 3.0 }`.
fn list(draft: &Draft) -> Vec<String> {
    draft.templates.iter().map(|template| format!("{} {} {:?}", template.letter, template.count, template.kind)).collect()
}

#[track_caller]
fn near(a: f64, b: f64, within: f64) {
    assert!((a - b).abs() <= within, "{a} is not {b}");
}
