//! The steps of the order that is taken.

use super::beside::{Beside, darker};
use super::layers;
use super::mesh::Mesh;
use super::nest::Nesting;
use super::orders::Node;
use super::{Before, Crossing, Manner, Part, Step, join};
use seamfall_geom::Point;
use seamfall_model::Quilt;

/// `turning` where joins may turn a corner.
pub(super) fn steps(
    quilt: &Quilt,
    before: Before,
    mesh: &Mesh,
    manner: &Manner,
    (nodes, nesting): (&[Node], &Nesting),
    turning: bool,
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
    let corners = if turning { corners(mesh, nodes, before.top.sections.len()) } else { vec![None; nodes.len()] };
    let backing = quilt.backing.map(|backing| backing.cloth);
    let each = nodes.iter().zip(crossings).zip(follow).enumerate();
    each.map(|(number, ((node, crossings), (hanging, waiting)))| Step {
        join: join(mesh, node),
        falls_to: usize::from(!nesting.left[number]),
        as_the_top: nesting.agrees[number],
        ends: nesting.ends[number],
        free: free[number],
        crossings,
        set_in: corners[number],
        front_thread: darker(quilt, fronts[number]),
        back_thread: backing,
        hanging,
        waiting,
    })
    .collect()
}

/// For each join a corner at which it turns away from its own line.
fn corners(mesh: &Mesh, nodes: &[Node], sections: usize) -> Vec<Option<Point>> {
    // The join at which two sections come together is the first that holds both: follow what hangs together, join by join.
    let mut corners = vec![None; nodes.len()];
    let mut group: Vec<usize> = (0..sections).collect();
    let mut groups: Vec<Vec<usize>> = (0..sections).map(|section| vec![section]).collect();
    let mut of_join = vec![0; nodes.len()];
    for (number, node) in nodes.iter().enumerate() {
        let [left, right] = node.parts.map(|part| match part {
            Part::Section(section) => group[section],
            Part::Join(join) => group[of_join[join]],
        });
        for (line, one) in mesh.lines.iter().enumerate().filter(|(line, _)| *line != node.line) {
            let turned = one.contacts.iter().find(|contact| {
                let sides = [group[contact.left], group[contact.right]];
                sides == [left, right] || sides == [right, left]
            });
            if let Some(contact) = turned {
                let ends = contact.on.map(|on| mesh.point(line, on));
                let seam = node.on.map(|on| mesh.point(node.line, on));
                let near = |at: &Point| seam.iter().map(|end| (*end - *at).hypot2()).fold(f64::INFINITY, f64::min);
                corners[number] = ends.into_iter().min_by(|a, b| near(a).total_cmp(&near(b)));
            }
        }
        let moved = std::mem::take(&mut groups[right]);
        moved.iter().for_each(|&section| group[section] = left);
        groups[left].extend(moved);
        of_join[number] = groups[left][0];
    }
    corners
}
