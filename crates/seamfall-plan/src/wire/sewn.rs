//! What has been sewn.

use super::shape::length;
use crate::Plan;
use schemars::JsonSchema;
use seamfall_model::{FixedFall, SewnState};
use serde::Serialize;

/// What has been sewn, as the ledger says.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct SewnWire {
    /// How far each section is.
    pub sections: Vec<ProgressWire>,
    /// Sections that hang together, each group of two or more.
    pub groups: Vec<Vec<String>>,
    /// Joins that are sewn, in the order in which they were: sections on either side.
    pub joins: Vec<[Vec<String>; 2]>,
    /// Seams as they were pressed.
    pub pressed: Vec<PressedWire>,
    /// Names in the ledger that the quilt does not have.
    pub unknown: Vec<String>,
}

/// How far a section is.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ProgressWire {
    /// `S3`.
    pub name: String,
    /// How far it is.
    pub state: SewnStateWire,
    /// The section whose place it takes; most often its own.
    pub at: String,
    /// Bottom, right, top, left, from raw edge to raw edge.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub measured: Option<[f64; 4]>,
    /// Who has it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub with: Option<String>,
    /// What there is to say about it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
    /// The day of its last change.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub date: Option<String>,
}

/// How far a section is; each has been through those before it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum SewnStateWire {
    /// Nothing is done yet.
    Planned,
    /// Its pieces are cut.
    Cut,
    /// Its blocks are pieced.
    Pieced,
    /// Its blocks are framed, and its strips are sewn on.
    Framed,
    /// It lies on its batting and backing.
    Layered,
    /// It is quilted.
    Quilted,
    /// It is trimmed to size.
    Trimmed,
    /// It is joined to another.
    Joined,
}

/// A seam as it was pressed.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct PressedWire {
    /// The two pieces it lies between.
    pub between: [String; 2],
    /// The one it was pressed to, or `open`.
    pub to: String,
}

impl SewnWire {
    pub(super) fn new(plan: &Plan) -> Self {
        let name = |section: &usize| plan.top.sections[*section].name.clone();
        let names = |sections: &Vec<usize>| sections.iter().map(name).collect::<Vec<_>>();
        let sections = plan.sewn.sections.iter().enumerate().map(|(number, section)| ProgressWire {
            name: name(&number),
            state: state(section.state),
            at: name(&section.at),
            measured: section.measured.map(|measured| measured.sides().map(|side| length(side.value()))),
            with: section.with.clone(),
            note: section.note.clone(),
            date: section.date.clone(),
        });
        let pressed = |fall: &FixedFall| PressedWire { between: fall.between.clone(), to: fall.word().to_owned() };
        Self {
            sections: sections.collect(),
            groups: plan.sewn.groups.iter().filter(|group| group.len() > 1).map(names).collect(),
            joins: plan.sewn.joins.iter().map(|join| join.each_ref().map(names)).collect(),
            pressed: plan.sewn.pressed.iter().map(pressed).collect(),
            unknown: plan.sewn.unknown.clone(),
        }
    }
}

fn state(state: SewnState) -> SewnStateWire {
    match state {
        SewnState::Planned => SewnStateWire::Planned,
        SewnState::Cut => SewnStateWire::Cut,
        SewnState::Pieced => SewnStateWire::Pieced,
        SewnState::Framed => SewnStateWire::Framed,
        SewnState::Layered => SewnStateWire::Layered,
        SewnState::Quilted => SewnStateWire::Quilted,
        SewnState::Trimmed => SewnStateWire::Trimmed,
        SewnState::Joined => SewnStateWire::Joined,
    }
}
