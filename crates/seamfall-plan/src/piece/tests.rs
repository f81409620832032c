//! What a quilter relies on when she sews.

use super::*;
use crate::{draft, set};

fn piecing(quilt: &Quilt) -> Staged<Piecing> {
    let drafts: Vec<Draft> = quilt.blocks.iter().map(|block| draft::derive(quilt, block).result).collect();
    derive(quilt, &drafts, &set::derive(quilt).result)
}

#[test]
fn look() {
    for (name, quilt) in [
        ("lamplight", seamfall_testkit::lamplight()),
        ("hill", seamfall_testkit::hill_farm()),
        ("tide", seamfall_testkit::tide_pool()),
        ("rows", seamfall_testkit::market_rows()),
        ("king", seamfall_testkit::king_200()),
    ] {
        let start = std::time::Instant::now();
        let staged = piecing(&quilt);
        println!("{name} {:?}", start.elapsed());
        for d in &staged.result.designs {
            println!(
                "  {} orders {} rim {} seams {:?} bends {:?} stuck {:?}",
                d.name,
                d.orders.len(),
                d.rim.len(),
                d.orders.iter().map(|o| o.seams.len()).collect::<Vec<_>>(),
                d.orders.iter().map(|o| (o.bends, o.bends_bound)).collect::<Vec<_>>(),
                d.orders[0].stuck
            );
            for o in &d.orders {
                println!("     meetings {}", o.points.iter().filter(|p| p.meeting().is_some()).count());
            }
        }
        for o in &staged.result.top {
            println!(
                "  top joins {} seams {} meetings {} whole {:?} bends {} stuck {}",
                o.joins.len(),
                o.seams.len(),
                o.points.iter().filter(|p| p.meeting().is_some()).count(),
                o.whole,
                o.bends,
                o.stuck.len()
            );
        }
        for f in &staged.findings {
            println!("  {f:?}");
        }
    }
}
