//! What a quilter relies on when she presses.

use super::*;
use crate::{draft, piece, set};

#[test]
fn look() {
    for (name, quilt) in [
        ("lamplight", seamfall_testkit::lamplight()),
        ("hill", seamfall_testkit::hill_farm()),
        ("tide", seamfall_testkit::tide_pool()),
        ("rows", seamfall_testkit::market_rows()),
        ("king", seamfall_testkit::king_200()),
    ] {
        let drafts: Vec<draft::Draft> = quilt.blocks.iter().map(|block| draft::derive(&quilt, block).result).collect();
        let top = set::derive(&quilt).result;
        let piecing = piece::derive(&quilt, &drafts, &top).result;
        let start = std::time::Instant::now();
        let staged = derive(&quilt, &top, &piecing);
        println!(
            "{name} {:?} seams {}",
            start.elapsed(),
            staged.result.pressings.iter().flatten().map(|p| p.places * p.falls.len()).sum::<usize>()
        );
        for c in &staged.result.counts {
            println!("  {c:?}");
        }
        println!(
            "  meetings {} thickest {:?} orders {:?} top {}",
            staged.result.meetings.len(),
            staged.result.thickest,
            staged.result.orders,
            staged.result.top_order
        );
        for f in &staged.findings {
            println!("  {f:?}");
        }
        for s in staged.result.stacks.iter().take(5) {
            println!("  {s:?}");
        }
    }
}
