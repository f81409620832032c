//! What has been sewn so far, as the maker wrote it down.
//!
//! The ledger never changes a decision, it constrains the plan. Sections are named as the plan names them: `S1`, `S2`, ...

use crate::{FixedFall, Length};
use tr::tr;

/// A whole ledger. The empty one says that nothing has been sewn.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Ledger {
    /// Sections of which something is known, in the order of the file; none twice.
    pub sections: Vec<SewnSection>,
    /// Seams as they were in fact pressed; no pair of pieces twice.
    pub falls: Vec<FixedFall>,
    /// Joins that are sewn, in the order in which they were.
    pub joins: Vec<SewnJoin>,
}

/// What is known of one section.
#[derive(Debug, Clone, PartialEq)]
pub struct SewnSection {
    /// Its name, that of the place it was made for.
    pub name: String,
    /// How far it is.
    pub state: SewnState,
    /// Its sides as measured, raw edge to raw edge.
    pub measured: Option<Measured>,
    /// The section whose place it takes, where that is not its own.
    pub at: Option<String>,
    /// Who has it.
    pub with: Option<String>,
    /// What there is to say about it.
    pub note: Option<String>,
    /// The day of the last change, `2026-03-07`, as whoever wrote it says.
    pub date: Option<String>,
}

/// How far a section is; each has been through those before it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum SewnState {
    /// Nothing is done yet.
    #[default]
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

impl SewnState {
    /// All of them, in the order of the work.
    pub const ALL: [Self; 8] =
        [Self::Planned, Self::Cut, Self::Pieced, Self::Framed, Self::Layered, Self::Quilted, Self::Trimmed, Self::Joined];

    /// Its word in the file: `planned`, `cut`, `pieced`, `framed`, `layered`, `quilted`, `trimmed`, `joined`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Planned => "planned",
            Self::Cut => "cut",
            Self::Pieced => "pieced",
            Self::Framed => "framed",
            Self::Layered => "layered",
            Self::Quilted => "quilted",
            Self::Trimmed => "trimmed",
            Self::Joined => "joined",
        }
    }

    /// As it is said.
    #[must_use]
    pub fn said(self) -> String {
        match self {
            Self::Planned => tr!("planned"),
            Self::Cut => tr!("section" => "cut"),
            Self::Pieced => tr!("pieced"),
            Self::Framed => tr!("framed"),
            Self::Layered => tr!("layered"),
            Self::Quilted => tr!("quilted"),
            Self::Trimmed => tr!("trimmed"),
            Self::Joined => tr!("joined"),
        }
    }
}

/// The sides of a section as measured, raw edge to raw edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Measured {
    /// All sides alike.
    One(Length),
    /// Its width and its height.
    Two([Length; 2]),
    /// Bottom, right, top, left.
    Four([Length; 4]),
}

impl Measured {
    /// Bottom, right, top, left.
    #[must_use]
    pub fn sides(self) -> [Length; 4] {
        match self {
            Self::One(all) => [all; 4],
            Self::Two([width, height]) => [width, height, width, height],
            Self::Four(sides) => sides,
        }
    }
}

/// A join that is sewn: all sections on its one side are now one with those on its other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SewnJoin {
    /// Names of the sections that hung together on either side before it was sewn; each at least one.
    pub between: [Vec<String>; 2],
    /// The day, as whoever wrote it says.
    pub date: Option<String>,
}
