//! The steps of the order that is taken.

use super::beside::{Beside, darker};
use super::layers;
use super::mesh::Mesh;
use super::nest::Nesting;
use super::orders::Node;
use super::{Before, Crossing, Manner, Step, join};
use seamfall_model::Quilt;

pub(super) fn steps(
    quilt: &Quilt,
    before: Before,
    mesh: &Mesh,
    manner: &Manner,
    (nodes, nesting): (&[Node], &Nesting),
) -> Vec<Step> {
    let known = layers::known(before.falls);
    let mut crossings: Vec<Vec<Crossing>> = vec![Vec::new(); nodes.len()];
    for crossed in &nesting.crossings {
        crossings[crossed.by].push(layers::crossing(crossed, nesting, &known, manner));
    }
    // An end is left free where the later join is too thick.
    let mut free = vec![[false; 2]; nodes.len()];
    for crossed in nesting.crossings.iter() {
        let thick = crossings[crossed.by].iter().any(|one| one.at == crossed.at && one.balks);
        for (earlier, starts) in crossed.ends.into_iter().flatten() {
            free[earlier][usize::from(!starts)] = thick;
        }
    }
    let beside = Beside::new(mesh, nodes, before.top.sections.len());
    let fronts = beside.fronts(before.drafts, before.top, nodes.len());
    let follow = beside.follow(before.lap, nodes.len());
    let backing = quilt.backing.map(|backing| backing.cloth);
    let each = nodes.iter().zip(crossings).zip(follow).enumerate();
    each.map(|(number, ((node, crossings), (hanging, waiting)))| Step {
        join: join(mesh, node),
        falls_to: usize::from(!nesting.left[number]),
        as_the_top: nesting.agrees[number],
        ends: nesting.ends[number],
        free: free[number],
        crossings,
        front_thread: darker(quilt, fronts[number]),
        back_thread: backing,
        hanging,
        waiting,
    })
    .collect()
}
