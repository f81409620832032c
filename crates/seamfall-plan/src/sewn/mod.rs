//! What has been sewn, in the numbers of the plan.
//!
//! In: the ledger and the top. Out: how far every section is, what hangs together, and the falls as pressed, for the stages to
//! work around; and what a change of the design does to it ([`wasted`]). Findings: sections that the top does not have (it was changed after they were sewn), joins that cannot have been, two
//! sections in one place, sizes far from the planned. Nothing is decided here, and the ledger is never corrected.

mod change;
#[cfg(test)]
mod tests;

pub use change::{Change, Waste, wasted};

use crate::Staged;
use crate::set::{Section, Top};
use seamfall_geom::{Edge, TOLERANCE};
use seamfall_model::{Finding, FixedFall, Ledger, Length, Measured, Quilt, SewnJoin, SewnSection, SewnState, Spot};
use std::collections::BTreeMap;
use tr::tr;

/// How far the work is.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sewn {
    /// For each section of the top what is known of it.
    pub sections: Vec<Progress>,
    /// What hangs together by now: every section is in one group, the groups and their members in ascending order.
    pub groups: Vec<Vec<usize>>,
    /// The joins that are sewn, in the order in which they were: the sections on either side.
    pub joins: Vec<[Vec<usize>; 2]>,
    /// Falls as pressed; they hold before those that the quilt file chooses.
    pub pressed: Vec<FixedFall>,
    /// Names in the ledger that the top does not have, each once.
    pub unknown: Vec<String>,
}

/// What is known of one section.
#[derive(Debug, Clone, PartialEq)]
pub struct Progress {
    /// How far it is; one that a join names is joined.
    pub state: SewnState,
    /// Number of the section whose place it takes: most often its own.
    pub at: usize,
    /// Its sides, raw edge to raw edge.
    pub measured: Option<Measured>,
    /// Who has it.
    pub with: Option<String>,
    /// What there is to say about it.
    pub note: Option<String>,
    /// The day of its last change.
    pub date: Option<String>,
}

impl Sewn {
    /// Whether nothing is cut, pressed or joined yet.
    #[must_use]
    pub fn is_nothing(&self) -> bool {
        self.pressed.is_empty() && self.sections.iter().all(|section| section.state == SewnState::Planned)
    }

    /// The joins that are sewn, each section by the place it takes.
    #[must_use]
    pub fn joined(&self) -> Vec<[Vec<usize>; 2]> {
        let place = |side: &Vec<usize>| side.iter().map(|&section| self.sections[section].at).collect();
        self.joins.iter().map(|join| join.each_ref().map(place)).collect()
    }

    /// Number of the group that a section hangs in.
    ///
    /// # Panics
    /// When there is no such section.
    #[must_use]
    pub fn group_of(&self, section: usize) -> usize {
        self.groups.iter().position(|group| group.contains(&section)).expect("every section is in a group")
    }
}

/// Finds what the ledger's words mean in this top.
#[must_use]
pub fn derive(quilt: &Quilt, ledger: &Ledger, top: &Top) -> Staged<Sewn> {
    let mut findings = Vec::new();
    let numbers: BTreeMap<&str, usize> = top.sections.iter().enumerate().map(|(i, section)| (section.name.as_str(), i)).collect();
    let nothing = |at| Progress { state: SewnState::Planned, at, measured: None, with: None, note: None, date: None };
    let mut sewn = Sewn {
        sections: (0..top.sections.len()).map(nothing).collect(),
        groups: (0..top.sections.len()).map(|section| vec![section]).collect(),
        pressed: ledger.falls.clone(),
        ..Sewn::default()
    };
    for written in &ledger.sections {
        let Some(&number) = numbers.get(written.name.as_str()) else {
            findings.push(unknown(written));
            sewn.unknown.push(written.name.clone());
            continue;
        };
        sewn.sections[number] = progress(written, number, &numbers, &mut sewn.unknown, &mut findings);
        findings.extend(far_off(quilt, written, &top.sections[number]));
    }
    for (number, join) in ledger.joins.iter().enumerate() {
        sewn.join(top, &numbers, (number, join), &mut findings);
    }
    sewn.unknown.sort_by_key(|name| (name.len(), name.clone()));
    sewn.unknown.dedup();
    sewn.crowded(top, &mut findings);
    sewn.alone(top, &mut findings);
    Staged { result: sewn, findings }
}

fn progress(
    written: &SewnSection,
    number: usize,
    numbers: &BTreeMap<&str, usize>,
    unknown: &mut Vec<String>,
    findings: &mut Vec<Finding>,
) -> Progress {
    let at = written.at.as_deref().map_or(Some(number), |name| numbers.get(name).copied());
    if at.is_none() {
        let name = written.at.clone().unwrap_or_default();
        findings.push(
            Finding::stop(
                Spot::Section(written.name.clone()),
                tr!("it is to take the place of {name}, which this quilt does not have", name),
            )
            .help(tr!("give it another place, or its own again")),
        );
        unknown.push(name);
    }
    Progress {
        state: written.state,
        at: at.unwrap_or(number),
        measured: written.measured,
        with: written.with.clone(),
        note: written.note.clone(),
        date: written.date.clone(),
    }
}

/// A section of which the ledger tells and the top does not: its cloth is cut, or it was only a note.
fn unknown(written: &SewnSection) -> Finding {
    let spot = Spot::Section(written.name.clone());
    if written.state == SewnState::Planned {
        return Finding::note(spot, tr!("the ledger names it, and this quilt does not have it"))
            .help(tr!("take it out of the ledger; nothing of it is cut"));
    }
    let reason = tr!(
        "it is {word} according to the ledger, and this quilt does not have it: the ledger belongs to an older form of the quilt",
        word = written.state.word()
    );
    Finding::stop(spot, reason).help(tr!(
        "undo the change of the design, or give its new number in the ledger; take it out of the ledger only if it is lost"
    ))
}

/// A size that no trimming explains: more than an inch, or 2.5 cm, from the planned one.
fn far_off(quilt: &Quilt, written: &SewnSection, section: &Section) -> Option<Finding> {
    let most = match quilt.measure {
        seamfall_model::Measure::Inch => 1.0,
        seamfall_model::Measure::Centimetre => 2.5,
    };
    let planned = planned_sides(quilt, section);
    let sides = written.measured?.sides();
    let side = (0..4).find(|&side| (sides[side] - planned[side]).value().abs() > most + TOLERANCE)?;
    let shown = |length: Length| length.shown_with_unit(quilt.step);
    let reason = tr!(
        "its {side} side measures {sides}, and {planned} is planned from raw edge to raw edge",
        side = ["lower", "right", "upper", "left"][side],
        sides = shown(sides[side]),
        planned = shown(planned[side])
    );
    let help = tr!("measure it again, from raw edge to raw edge; if that is its size, frame it anew or make it again");
    Some(Finding::warn(Spot::Section(written.name.clone()), reason).help(help))
}

/// Lower, right, upper and left side of a section from raw edge to raw edge, as planned.
#[must_use]
pub fn planned_sides(quilt: &Quilt, section: &Section) -> [Length; 4] {
    let [width, height] = [section.size.x, section.size.y].map(|side| Length::new(side) + quilt.allowance.0 * 2.0);
    [width, height, width, height]
}

impl Sewn {
    /// Takes a join in. What was joined before hangs together: a side may name all of it, or any part of it.
    fn join(
        &mut self,
        top: &Top,
        numbers: &BTreeMap<&str, usize>,
        (number, join): (usize, &SewnJoin),
        findings: &mut Vec<Finding>,
    ) {
        let said =
            |sides: &[Vec<String>; 2]| tr!("{first} to {second}", first = sides[0].join(", "), second = sides[1].join(", "));
        let stop = |reason: String, help: &str| {
            Finding::stop(
                Spot::Quilt,
                tr!(
                    "join {number} of the ledger, {between}: {reason}",
                    number = number + 1,
                    between = said(&join.between),
                    reason
                ),
            )
            .help(help)
        };
        let lost: Vec<&String> = join.between.iter().flatten().filter(|name| !numbers.contains_key(name.as_str())).collect();
        if let Some(first) = lost.first() {
            findings.push(stop(
                tr!("this quilt does not have {first}", first),
                &tr!("the ledger belongs to an older form of the quilt: undo the change of the design, or give the new number in the ledger"),
            ));
            self.unknown.extend(lost.into_iter().cloned());
            return;
        }
        let sides = join.between.each_ref().map(|side| side.iter().map(|name| numbers[name.as_str()]).collect::<Vec<_>>());
        let groups = sides.each_ref().map(|side| side.iter().map(|&section| self.group_of(section)).collect::<Vec<_>>());
        for (side, groups) in join.between.iter().zip(&groups) {
            if groups.iter().any(|group| *group != groups[0]) {
                findings.push(stop(
                    tr!("no earlier join has made one of {side}", side = side.join(", ")),
                    &tr!("write the joins in the order in which they were sewn, each with all that hung together"),
                ));
                return;
            }
        }
        let [first, second] = [groups[0][0], groups[1][0]];
        if first == second {
            findings.push(stop(tr!("both sides hang together already"), &tr!("take one of the two joins out of the ledger")));
            return;
        }
        let touching = |a: usize, b: usize| touch(top, self.sections[a].at, self.sections[b].at);
        if !self.groups[first].iter().any(|&a| self.groups[second].iter().any(|&b| touching(a, b))) {
            findings.push(stop(
                tr!("they do not lie side by side"),
                &tr!("name the sections as the drawing does; one that took another's place needs its `at`"),
            ));
            return;
        }
        let joined = self.groups.remove(first.max(second));
        self.groups[first.min(second)].extend(joined);
        self.groups[first.min(second)].sort_unstable();
        sides.iter().flatten().for_each(|&section| self.sections[section].state = SewnState::Joined);
        self.joins.push(sides);
    }

    /// Two sections in one place.
    fn crowded(&self, top: &Top, findings: &mut Vec<Finding>) {
        for place in 0..self.sections.len() {
            let here: Vec<&str> = (0..self.sections.len())
                .filter(|&i| self.sections[i].at == place)
                .map(|i| top.sections[i].name.as_str())
                .collect();
            if here.len() > 1 {
                let reason = tr!(
                    "{here} are to stand in the one place of {place}",
                    here = here.join(" and "),
                    place = top.sections[place].name
                );
                let help = tr!("give each a place of its own; two that change places name each other in `at`");
                findings.push(Finding::stop(Spot::Section(here[0].to_owned()), reason).help(help));
            }
        }
    }

    /// Sections that are joined to nobody knows what.
    fn alone(&self, top: &Top, findings: &mut Vec<Finding>) {
        for group in self.groups.iter().filter(|group| group.len() == 1 && self.sections[group[0]].state == SewnState::Joined) {
            let name = &top.sections[group[0]].name;
            findings.push(
                Finding::warn(Spot::Section(name.clone()), tr!("it is said to be joined, and no join of the ledger names it"))
                    .help(tr!("write the join, or set it back to `trimmed`")),
            );
        }
    }
}

/// Whether two sections have a stretch of seam in common.
fn touch(top: &Top, a: usize, b: usize) -> bool {
    let (a, b) = (&top.sections[a].outline, &top.sections[b].outline);
    a.edges().iter().any(|a| b.edges().iter().any(|b| shared(a, b) > TOLERANCE))
}

/// How far two straight edges lie on each other.
fn shared(a: &Edge, b: &Edge) -> f64 {
    let along = a.to() - a.from();
    let length = along.hypot2().sqrt();
    let seen = |point: seamfall_geom::Point| {
        let from = point - a.from();
        (along.dot(from) / length, along.cross(from) / length)
    };
    let ((first, off), (last, off_too)) = (seen(b.from()), seen(b.to()));
    // Corners of sections side by side differ by their rounding only.
    if off.abs().max(off_too.abs()) > 1e-5 { 0.0 } else { first.max(last).min(length) - first.min(last).max(0.0) }
}
