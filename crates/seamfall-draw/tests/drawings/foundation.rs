//! Foundations: mirrored, and at true size.

use crate::parsed;
use seamfall_draw::foundation_svg;
use seamfall_model::BlockId;
use seamfall_plan::piece::foundation;

/// A block 6 in wide and 4 in high of two patches, the left one 2 in wide.
const BLOCK: &str = r##"
format = 1
name = "Two"
measure = "inch"
[cloth.red]
colour = "#aa3333"
[cloth.white]
colour = "#ffffff"
[block.two]
shape = "rectangle"
size = "6 x 4"
seams = [[2, 0, 2, 4]]
patches = { red = [[1, 1]], white = [[4, 1]] }
[setting]
layout = "straight"
columns = 1
rows = 1
pattern = [["two"]]
"##;

/// Cloths are numbered as in the file: red is 1 and lies to the left, so that it is printed to the right; but not for a block that is
/// sewn as its mirror image. The paper is the block, 1/4 in of allowance and 0.02 in of rim on every side.
#[test]
fn a_foundation_is_printed_mirrored_and_at_its_true_size() {
    let quilt = seamfall_model::read(BLOCK).expect("the sample reads");
    let plan = seamfall_plan::plan(&quilt);
    let found = foundation(&plan.drafts[0]).expect("two rectangles have an order");
    assert_eq!(found.sections.len(), 1);
    for (mirrored, red_is_left) in [(false, false), (true, true)] {
        let drawing = foundation_svg(&quilt, &plan.drafts[0], (BlockId(0), mirrored), &found, 0).expect("it has a section");
        assert!((drawing.width - 6.54).abs() < 1e-4 && (drawing.height - 4.54).abs() < 1e-4, "{drawing:?}");
        let tree = parsed(&drawing.svg);
        let across = |text: &str| {
            let label = tree.descendants().find(|node| node.has_tag_name("text") && node.text() == Some(text));
            label.and_then(|label| label.attribute("x")?.parse::<f64>().ok()).expect("patches have labels")
        };
        assert_eq!(across("cloth 1") < across("cloth 2"), red_is_left);
        let step = |number: usize| plan.drafts[0].patches[found.sections[0].steps[number].patch].part.expect("it has a cloth").0;
        for number in [0, 1] {
            let cloth = quilt.blocks[0].parts[step(number)].cloth.0 + 1;
            assert!((across(&format!("A{}", number + 1)) - across(&format!("cloth {cloth}"))).abs() < 1e-3);
        }
    }
    assert!(foundation_svg(&quilt, &plan.drafts[0], (BlockId(0), false), &found, 1).is_none());
}
