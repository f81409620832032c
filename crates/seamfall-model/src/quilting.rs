//! What the maker decided about quilting: how she works, and which design goes where.

use crate::{BlockId, FrameId, Length, Measure, Quilt};
use tr::tr;

/// How the quilting is done in the lap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lap {
    /// The free margin: no stitch nearer to the trimmed edge than this before sections are joined.
    pub margin: Length,
    /// How far the needle travels unseen between two lines; nothing for never.
    pub reach: Length,
    /// Thread in the needle.
    pub needleful: Length,
    /// Thread left at either end of a needleful, for the knot or to hang.
    pub tail: Length,
    /// Stitches on the top to an inch.
    pub stitches_an_inch: f64,
    /// Minutes that a foot of quilting takes.
    pub minutes_a_foot: f64,
    /// Hours a week for quilting.
    pub hours_a_week: f64,
    /// How thick the layers are where the needle goes through.
    pub thickness: Length,
    /// Farthest apart two lines may be, as the batting allows.
    pub largest_gap: Length,
}

impl Lap {
    /// How it is done where the file says nothing. Sources: the margin of 1/2 in to 1 in is `lap.margin.range`, 18 in of thread
    /// `lap.thread.quilting_18` of the check values; tails of 3 in at either end are `lap.use.spool_shackelford` (6 in lost of every 36);
    /// a thickness of 0.1 in and 8 stitches an inch are those of `lap.use.running_exact`. The needle's reach, the pace and the gap are
    /// common practice: a needle is little over an inch long, and cotton batting is quilted every 4 in.
    #[must_use]
    pub fn usual(measure: Measure) -> Self {
        let [margin, reach, needleful, tail, thickness, largest_gap] = match measure {
            Measure::Inch => [0.75, 1.0, 18.0, 3.0, 0.1, 4.0],
            Measure::Centimetre => [2.0, 2.5, 45.0, 7.5, 0.25, 10.0],
        }
        .map(Length::new);
        Self {
            margin,
            reach,
            needleful,
            tail,
            stitches_an_inch: 8.0,
            minutes_a_foot: 6.0,
            hours_a_week: 7.0,
            thickness,
            largest_gap,
        }
    }
}

/// A quilting design and where it goes.
#[derive(Debug, Clone, PartialEq)]
pub struct Quilting {
    /// Where.
    pub on: QuiltedOn,
    /// What.
    pub design: QuiltingDesign,
}

/// What a quilting design is laid on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum QuiltedOn {
    /// Every copy of a block.
    Block(BlockId),
    /// Every copy of a frame.
    Frame(FrameId),
    /// All sashing, piece by piece.
    Sashing,
    /// A band, from the innermost, 0.
    Band(usize),
    /// The whole quilt, across the joins.
    Quilt,
}

impl QuiltedOn {
    /// What it is called in the file: the key of a block or frame, `sashing`, `band 1`, `quilt`.
    #[must_use]
    pub fn key(self, quilt: &Quilt) -> String {
        let block = |key: &str| quilt.blocks.iter().any(|block| block.key == key);
        let frame = |key: &str| quilt.frames.iter().any(|frame| frame.key == key);
        match self {
            Self::Block(id) if frame(&quilt.blocks[id.0].key) => format!("block {}", quilt.blocks[id.0].key),
            Self::Block(id) => quilt.blocks[id.0].key.clone(),
            Self::Frame(id) if block(&quilt.frames[id.0].key) => format!("frame {}", quilt.frames[id.0].key),
            Self::Frame(id) => quilt.frames[id.0].key.clone(),
            Self::Sashing => "sashing".to_owned(),
            Self::Band(band) => format!("band {}", band + 1),
            Self::Quilt => "quilt".to_owned(),
        }
    }

    /// What it is called to a person.
    #[must_use]
    pub fn name(self, quilt: &Quilt) -> String {
        match self {
            Self::Block(id) => quilt.blocks[id.0].name.clone(),
            Self::Frame(id) => tr!("frame {frame}", frame = quilt.frames[id.0].key),
            Self::Quilt => tr!("the whole quilt"),
            Self::Sashing => tr!("sashing"),
            Self::Band(band) => tr!("band {band}", band = band + 1),
        }
    }

    /// Everything of the quilt that designs can be laid on.
    #[must_use]
    pub fn all(quilt: &Quilt) -> Vec<Self> {
        let blocks = (0..quilt.blocks.len()).map(|id| Self::Block(BlockId(id)));
        let frames = (0..quilt.frames.len()).map(|id| Self::Frame(FrameId(id)));
        let sashing = quilt.sashing.iter().map(|_| Self::Sashing);
        let bands = (0..quilt.bands.len()).map(Self::Band);
        blocks.chain(frames).chain(sashing).chain(bands).chain([Self::Quilt]).collect()
    }
}

/// A quilting design.
#[derive(Debug, Clone, PartialEq)]
pub enum QuiltingDesign {
    /// Along every seam.
    InTheDitch,
    /// Along the mitred seams of a frame or a band.
    Mitres,
    /// Inside every patch, so far from its seams.
    Outline {
        /// From the seams.
        distance: Length,
    },
    /// Round shapes laid over, outward; else inside the outline, inward; one after another.
    Echo {
        /// From one line to the next.
        distance: Length,
        /// How many.
        count: u32,
    },
    /// Straight lines side by side.
    Parallel {
        /// From level, to the left, in degrees.
        angle_deg: f64,
        /// From one line to the next.
        spacing: Length,
    },
    /// Straight lines both ways, at right angles.
    Crossed {
        /// From level, to the left, in degrees.
        angle_deg: f64,
        /// From one line to the next.
        spacing: Length,
    },
    /// A motif, once or in a row.
    Motif {
        /// Which.
        motif: Motif,
        /// Its width (along the strip) and its height; what there is room for unless said.
        size: Option<[Length; 2]>,
        /// How many side by side, along a strip or both ways on a block; as many as fit unless said.
        repeats: Option<u32>,
    },
    /// One curve that wanders over everything.
    Stippling {
        /// Between neighbouring stretches.
        spacing: Length,
    },
    /// The maker's own drawing.
    Path {
        /// Path data of SVG.
        data: String,
        /// The box it is fitted into.
        size: [Length; 2],
        /// How many side by side.
        repeats: Option<u32>,
    },
}

/// Motifs that are drawn to size.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Motif {
    /// An oval of four arcs.
    Oval,
    /// A circle.
    Circle,
    /// Two arcs that meet in points, with a vein.
    Leaf,
    /// Two strands that cross; round a frame or a band it turns the corners.
    Cable,
    /// Quarter circles about a corner.
    Fan,
    /// A spine with lobes on both sides.
    Feather,
    /// A grid of arcs: on every side of its squares two that bulge both ways.
    Arcs,
}

impl Motif {
    /// Every one, in the order of the page.
    pub const ALL: [Self; 7] = [Self::Oval, Self::Circle, Self::Leaf, Self::Cable, Self::Fan, Self::Feather, Self::Arcs];

    /// As it is said.
    #[must_use]
    pub fn said(self) -> String {
        match self {
            Self::Oval => tr!("oval"),
            Self::Circle => tr!("circle"),
            Self::Leaf => tr!("leaf"),
            Self::Cable => tr!("cable"),
            Self::Fan => tr!("fan"),
            Self::Feather => tr!("feather"),
            Self::Arcs => tr!("arcs"),
        }
    }

    /// Its word in the file.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Oval => "oval",
            Self::Circle => "circle",
            Self::Leaf => "leaf",
            Self::Cable => "cable",
            Self::Fan => "fan",
            Self::Feather => "feather",
            Self::Arcs => "arcs",
        }
    }
}

impl QuiltingDesign {
    /// Its word in the file.
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self {
            Self::InTheDitch => "in-the-ditch",
            Self::Mitres => "mitres",
            Self::Outline { .. } => "outline",
            Self::Echo { .. } => "echo",
            Self::Parallel { .. } => "parallel",
            Self::Crossed { .. } => "crossed",
            Self::Motif { motif, .. } => motif.word(),
            Self::Stippling { .. } => "stippling",
            Self::Path { .. } => "path",
        }
    }
}
