//! What is joined already.
//!
//! In: the joins that are sewn, as groups of sections. Out: their nodes, which begin every order, and the groups that hang together now.
//! What cannot be so is said and left out.

use super::Part;
use super::mesh::{Mesh, SAME};
use super::orders::Node;
use super::pieces::thousandths;
use crate::set::Top;
use seamfall_model::{Finding, Spot};
use tr::tr;

/// Sections that hang together.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct SewnGroup {
    /// The last join that made it so.
    pub part: Part,
    /// Its sections, in order.
    pub sections: Vec<usize>,
}

pub(super) fn read(
    mesh: &Mesh,
    top: &Top,
    joined: &[[Vec<usize>; 2]],
    findings: &mut Vec<Finding>,
) -> (Vec<Node>, Vec<SewnGroup>) {
    let (mut nodes, mut groups): (Vec<Node>, Vec<SewnGroup>) = (Vec::new(), Vec::new());
    for (number, sides) in joined.iter().enumerate() {
        let mut refuse = |reason: String| {
            let help = tr!("write the joins in the order in which they were sewn, each with what hung together on either side");
            findings.push(
                Finding::warn(Spot::Joins, tr!("sewn join {number} is left out: {reason}", number = number + 1, reason))
                    .help(help),
            );
        };
        let [Some(a), Some(b)] = [group(top, &groups, &sides[0]), group(top, &groups, &sides[1])] else {
            refuse(tr!("what it names on one side does not hang together"));
            continue;
        };
        if a.sections == b.sections {
            refuse(tr!("its two sides hang together already"));
            continue;
        }
        let Some((line, on, flipped, straight)) = between(mesh, &a, &b) else {
            refuse(tr!("its two sides do not touch"));
            continue;
        };
        if !straight {
            let name = |section: usize| top.sections[section].name.as_str();
            let text = tr!(
                "sewn join {number} between {sections} and {b} goes round a corner, which was set in",
                number = number + 1,
                sections = name(a.sections[0]),
                b = name(b.sections[0])
            );
            findings.push(Finding::note(Spot::Joins, text));
        }
        let parts = if flipped { [b.part, a.part] } else { [a.part, b.part] };
        groups.retain(|group| group.sections != a.sections && group.sections != b.sections);
        let mut sections = [a.sections, b.sections].concat();
        sections.sort_unstable();
        let area = sections.iter().map(|&one| thousandths(top.sections[one].outline.area())).sum();
        nodes.push(Node { parts, line, on, area, sewn: true, between: false });
        groups.push(SewnGroup { part: Part::Join(nodes.len() - 1), sections });
    }
    (nodes, groups)
}

/// The group of which `named` are some; nothing where they do not hang together.
fn group(top: &Top, groups: &[SewnGroup], named: &[usize]) -> Option<SewnGroup> {
    let first = *named.first().filter(|_| named.iter().all(|&one| one < top.sections.len()))?;
    let alone = SewnGroup { part: Part::Section(first), sections: vec![first] };
    let group = groups.iter().find(|group| group.sections.contains(&first)).cloned().unwrap_or(alone);
    named.iter().all(|one| group.sections.contains(one)).then_some(group)
}

/// The longest straight seam between two groups: its line, where it begins and ends, whether the second lies to its left, and whether it is
/// all there is.
fn between(mesh: &Mesh, a: &SewnGroup, b: &SewnGroup) -> Option<(usize, [f64; 2], bool, bool)> {
    let mut runs: Vec<(usize, [f64; 2], bool)> = Vec::new();
    for (line, one) in mesh.lines.iter().enumerate() {
        for contact in &one.contacts {
            let flipped = match (contact.left, contact.right) {
                (l, r) if a.sections.contains(&l) && b.sections.contains(&r) => false,
                (l, r) if b.sections.contains(&l) && a.sections.contains(&r) => true,
                _ => continue,
            };
            match runs.last_mut() {
                Some((known, on, same)) if *known == line && *same == flipped && contact.on[0] - on[1] < SAME => {
                    on[1] = contact.on[1]
                }
                _ => runs.push((line, contact.on, flipped)),
            }
        }
    }
    let straight = runs.len() == 1;
    let (line, on, flipped) = runs.into_iter().max_by(|x, y| (x.1[1] - x.1[0]).total_cmp(&(y.1[1] - y.1[0])))?;
    Some((line, on, flipped, straight))
}
