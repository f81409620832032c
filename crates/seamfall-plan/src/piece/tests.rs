//! What a quilter relies on when she sews.

use super::*;
use crate::{draft, set};

fn piecing(quilt: &Quilt) -> Staged<Piecing> {
    let drafts: Vec<Draft> = quilt.blocks.iter().map(|block| draft::derive(quilt, block).result).collect();
    derive(quilt, &drafts, &set::derive(quilt).result)
}

#[test]
fn look() {
    let shell = seamfall_testkit::tide_pool();
    for block in seamfall_model::starter_blocks() {
        let draft = draft::derive(&shell, block).result;
        let orders = block_orders(&draft);
        let o = &orders[0];
        let kinds = |k| o.joins.iter().flat_map(|j| &j.bends).filter(|b| b.kind == k).count();
        println!(
            "{:30} patches {:3} orders {} seams {:3} bends {} bound {} partial {} set-in {} stuck {} meetings {}",
            block.key,
            draft.patches.len(),
            orders.len(),
            o.seams.len(),
            o.bends,
            o.bends_bound,
            kinds(BendKind::Partial),
            kinds(BendKind::SetIn),
            o.stuck.len(),
            o.points.iter().filter(|p| p.meeting().is_some()).count()
        );
    }
}
