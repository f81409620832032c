//! Where every piece lies: strips with a count each, told as the cuts that make them.
//!
//! A strip is a panel of the cloth's width; a panel is one piece, or panels side by side, or panels one above the other. Equal
//! strips are told once. The place of every copy is written out only when asked for ([`Layout::placements`]).

use crate::job::{Job, Kind};

/// What a panel is made of.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Content {
    /// One piece; what is left of the panel is trimmed off.
    Piece {
        /// Its place in the list of kinds.
        kind: usize,
        /// Turned by a quarter.
        turned: bool,
    },
    /// Side by side across the cloth, from the left.
    Across(Vec<Panel>),
    /// One after the other along the cloth, from the bottom.
    Along(Vec<Panel>),
}

/// A rectangle of cloth and how it is cut. `width` and `height` are what its content needs.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Panel {
    /// Across the cloth.
    pub width: u32,
    /// Along the cloth.
    pub height: u32,
    /// What comes out of it.
    pub content: Content,
}

/// Equal cross strips, one after the other.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Strip {
    /// How many of them are cut.
    pub times: u32,
    /// How one of them is cut.
    pub panel: Panel,
}

/// A whole layout. Strips come in the order of cutting.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Layout {
    /// Length of cloth that is used up.
    pub length: u64,
    /// The strips.
    pub strips: Vec<Strip>,
}

/// Where one copy lies. `x` runs across the cloth, `y` along it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Placement {
    /// Its place in the list of kinds.
    pub kind: usize,
    /// Left edge.
    pub x: u64,
    /// Lower edge.
    pub y: u64,
    /// Width as placed.
    pub width: u32,
    /// Height as placed.
    pub height: u32,
    /// Turned by a quarter.
    pub turned: bool,
}

impl Layout {
    /// A layout of these strips, one after the other with a kerf between.
    #[must_use]
    pub fn of(strips: Vec<Strip>, kerf: u32) -> Self {
        let sum: u64 = strips.iter().map(|strip| u64::from(strip.times) * u64::from(strip.panel.height + kerf)).sum();
        Self { length: sum.saturating_sub(u64::from(kerf)), strips }
    }

    /// Every copy with its place, strip by strip.
    #[must_use]
    pub fn placements(&self, job: &Job) -> Vec<Placement> {
        self.placements_of(job.kinds(), job.kerf())
    }

    pub(crate) fn placements_of(&self, kinds: &[Kind], kerf: u32) -> Vec<Placement> {
        let mut placed = Vec::new();
        let mut y = 0;
        for strip in &self.strips {
            for _ in 0..strip.times {
                place(&strip.panel, kinds, kerf, [0, y], &mut placed);
                y += u64::from(strip.panel.height + kerf);
            }
        }
        placed
    }

    /// How many cross strips are cut.
    #[must_use]
    pub fn strips_cut(&self) -> u32 {
        self.strips.iter().map(|strip| strip.times).sum()
    }

    /// How many ruler settings the cross cuts need: different heights of strips.
    #[must_use]
    pub fn strip_widths(&self) -> usize {
        let mut heights: Vec<u32> = self.strips.iter().map(|strip| strip.panel.height).collect();
        heights.sort_unstable();
        heights.dedup();
        heights.len()
    }
}

fn place(panel: &Panel, kinds: &[Kind], kerf: u32, [x, y]: [u64; 2], placed: &mut Vec<Placement>) {
    match &panel.content {
        Content::Piece { kind, turned } => {
            let piece = &kinds[*kind];
            let (width, height) = if *turned { (piece.height, piece.width) } else { (piece.width, piece.height) };
            placed.push(Placement { kind: *kind, x, y, width, height, turned: *turned });
        }
        Content::Across(panels) => {
            let mut x = x;
            for part in panels {
                place(part, kinds, kerf, [x, y], placed);
                x += u64::from(part.width + kerf);
            }
        }
        Content::Along(panels) => {
            let mut y = y;
            for part in panels {
                place(part, kinds, kerf, [x, y], placed);
                y += u64::from(part.height + kerf);
            }
        }
    }
}
