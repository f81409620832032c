//! The stage as a whole, on blocks written as a maker would write them.

use super::*;
use seamfall_model::{Grade, read, starter_blocks};

/// A block with the given lines, alone in a quilt.
fn quilt(block: &str) -> Quilt {
    let text = format!(
        r##"
format = 1
name = "Test"
measure = "inch"
[cloth.red]
colour = "#aa3333"
[cloth.blue]
colour = "#3333aa"
[block.b]
{block}
"##
    );
    read(&text).unwrap_or_else(|error| panic!("{error:#?}\n{text}"))
}

fn draft(block: &str) -> Staged<Draft> {
    let quilt = quilt(block);
    let staged = derive(&quilt, &quilt.blocks[0]);
    check_laws(&staged.result);
    staged
}

/// Laws of every draft, whatever its seams.
fn check_laws(draft: &Draft) {
    let whole = draft.outline.area();
    let sum: f64 = draft.patches.iter().map(|patch| patch.area).sum();
    assert!((sum - whole).abs() <= 1e-9 * whole, "patches {sum}, block {whole}");
    for patch in &draft.patches {
        let template = &draft.templates[patch.template];
        let area = template.finished.area() + template.holes.iter().map(Loop::area).sum::<f64>();
        assert!((area - patch.area).abs() <= 1e-4 * (1.0 + patch.outline.perimeter()), "template {area}, patch {}", patch.area);
        assert!((0.0..180.0).contains(&patch.grain_deg));
    }
    let cut: usize = draft.templates.iter().map(|template| template.count).sum();
    assert_eq!(cut, draft.patches.len() + draft.overlays.len());
}

#[test]
fn every_starter_block_drafts_without_a_stop() {
    let quilt = quilt("shape = \"square\"\nsize = \"12\"\npatches = { red = [[1, 1]] }");
    for block in starter_blocks() {
        let staged = derive(&quilt, block);
        check_laws(&staged.result);
        let stops: Vec<_> = staged.findings.iter().filter(|finding| finding.grade != Grade::Note).collect();
        assert!(stops.is_empty(), "{}: {stops:#?}", block.key);
        assert!(staged.result.patches.iter().all(|patch| patch.part.is_some()), "{}", block.key);
    }
}
