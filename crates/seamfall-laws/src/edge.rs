//! The edge: its length is that of the real edge, curves along the curve, and its sides are all of it.

use crate::near;
use seamfall_plan::Plan;

pub fn hold(plan: &Plan) {
    let finish = &plan.finish;
    if plan.top.size.x <= 0.0 || plan.top.size.y <= 0.0 {
        return;
    }
    near("the edge is as long as it is", finish.round.length, finish.edge(&plan.top).perimeter());
    near("sides are the whole edge", finish.sides.iter().map(|side| side.length).sum(), plan.top.outline.perimeter());
    if let Some(point) = &finish.point {
        assert_eq!(finish.points.len(), finish.sides.len(), "points stand along every side");
        for (side, along) in finish.sides.iter().zip(&finish.points) {
            let (count, base) = (along.count.value, point.base.value);
            near(
                "points come out whole, their ends flush with the side",
                (count - 1.0) * along.spacing.value + base,
                side.length,
            );
        }
    }
}
