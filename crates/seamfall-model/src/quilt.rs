//! A quilt as its maker decided it, every reference and size checked.

use crate::{
    Allowance, Backing, Batting, Bed, Binding, ChosenWay, CornerShape, Finishing, FixedFall, Fussy, Grain, Joining, Lap, Length,
    Look, Measure, Pressings, Price, Quilting, Sample, Shrinkage, Step, Supply, Thread,
};
use tr::tr;

/// A whole quilt file. Made by [`read`](crate::read).
#[derive(Debug, Clone, PartialEq)]
pub struct Quilt {
    /// What the maker calls it.
    pub name: String,
    /// Its unit.
    pub measure: Measure,
    /// Seam allowance of all piecing.
    pub allowance: Allowance,
    /// The step to which lengths are shown and cut sizes rounded up.
    pub step: Step,
    /// The bed that is to be covered.
    pub bed: Option<Bed>,
    /// How the cloth ends at the two corners of the foot.
    pub corners: CornerShape,
    /// Cloths, in the order of the file.
    pub cloths: Vec<Cloth>,
    /// Blocks, in the order of the file.
    pub blocks: Vec<Block>,
    /// Frames, in the order of the file.
    pub frames: Vec<Frame>,
    /// How blocks are put together.
    pub setting: Setting,
    /// Strips between the blocks.
    pub sashing: Option<Sashing>,
    /// Borders round the whole top, the innermost first.
    pub bands: Vec<Band>,
    /// Longest side of a lap section.
    pub largest_section: Length,
    /// In how many ways the copies of one block may be pressed; the plan's choice unless said.
    pub pressings: Option<Pressings>,
    /// Seams that fall as the maker wants it, in the order of the file; no pair of pieces twice.
    pub falls: Vec<FixedFall>,
    /// Units that are made as the maker wants it, in the order of the file; no patch twice.
    pub ways: Vec<ChosenWay>,
    /// Motifs cut for patches, in the order of the file; no patch twice in one cloth.
    pub fussy: Vec<Fussy>,
    /// Bought of every cloth on top of what is needed.
    pub reserve: Length,
    /// How often at most the cloth is turned while it is cut up, counted as cuts: 2 for strips and sub-cuts, up to 5.
    pub cutting_stages: u8,
    /// The strip round the edge.
    pub binding: Option<Binding>,
    /// The back.
    pub backing: Option<Backing>,
    /// The middle layer.
    pub batting: Option<Batting>,
    /// Pieces to practise on.
    pub sample: Option<Sample>,
    /// The thread for piecing.
    pub thread: Option<Thread>,
    /// How the quilting is done.
    pub lap: Lap,
    /// Quilting designs, in the order of the file.
    pub quilting: Vec<Quilting>,
    /// How sections are joined.
    pub joining: Joining,
    /// How the edge is finished, what is sewn on last, and the cover.
    pub finish: Finishing,
}

macro_rules! index {
    ($(#[$doc:meta] $name:ident),*) => {$(
        #[$doc]
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub usize);
    )*};
}
index! {
    /// A cloth, by its number in [`Quilt::cloths`].
    ClothId,
    /// A block, by its number in [`Quilt::blocks`].
    BlockId,
    /// A frame, by its number in [`Quilt::frames`].
    FrameId,
    /// A part of a block's colouring, by its number in [`Block::parts`].
    PartId
}

/// A cloth to cut from.
#[derive(Debug, Clone, PartialEq)]
pub struct Cloth {
    /// Its name in the file.
    pub key: String,
    /// What the maker calls it.
    pub name: String,
    /// How it looks on the screen.
    pub colour: Colour,
    /// How light it is.
    pub value: Value,
    /// How it looks where it is more than one colour.
    pub look: Option<Look>,
    /// Which way its print runs.
    pub print: Print,
    /// Usable width, after selvages and after the wash where it is washed first.
    pub width: Length,
    /// What it loses of its length in the wash before it is cut.
    pub shrinkage: Shrinkage,
    /// What a yard or a metre costs.
    pub price: Option<Price>,
    /// The sizes in which it comes, where it is not cut off the bolt.
    pub from: Vec<Supply>,
}

impl Cloth {
    /// Across what a strip can be cut in one piece: the usable width, or that of the widest size it comes in.
    #[must_use]
    pub fn across(&self) -> Length {
        Supply::widest(&self.from).unwrap_or(self.width)
    }
}

/// Red, green and blue.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Colour(pub u8, pub u8, pub u8);

impl Colour {
    /// `#rrggbb`.
    #[must_use]
    pub fn hex(self) -> String {
        format!("#{:02x}{:02x}{:02x}", self.0, self.1, self.2)
    }
}

/// Value: how light or dark a cloth is. Ordered from light to dark.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Value {
    /// Light.
    Light,
    /// Medium.
    Medium,
    /// Dark.
    Dark,
}

impl Value {
    /// Its word in the file: `light`, `medium`, `dark`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Light => "light",
            Self::Medium => "medium",
            Self::Dark => "dark",
        }
    }

    /// As it is said.
    #[must_use]
    pub fn said(self) -> String {
        match self {
            Self::Light => tr!("light"),
            Self::Medium => tr!("medium"),
            Self::Dark => tr!("dark"),
        }
    }
}

/// How a print restricts turning.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Print {
    /// No direction: may be turned at will.
    None,
    /// Stripes and the like: half turns only.
    TwoWay,
    /// One way up.
    OneWay,
}

impl Print {
    /// Its word in the file: `none`, `two-way`, `one-way`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::None => "none",
            Self::TwoWay => "two-way",
            Self::OneWay => "one-way",
        }
    }
}

/// A block: a frame shape and seam lines. Its patches are found by the plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Block {
    /// Its name in the file.
    pub key: String,
    /// What the maker calls it.
    pub name: String,
    /// The starter block it was taken from.
    pub starter: Option<String>,
    /// Its finished outline.
    pub shape: Shape,
    /// Drafting grid: divisions along the first and the second axis. Without one, points are lengths.
    pub grid: Option<(u32, u32)>,
    /// Seams, in the order of the file.
    pub seams: Vec<Seam>,
    /// Which part the patch under each point belongs to.
    pub marks: Vec<Mark>,
    /// Shapes laid over the patches, the lowest first.
    pub overlays: Vec<Overlay>,
    /// Parts of the colouring with their cloths, in order of first use.
    pub parts: Vec<Part>,
    /// Its own frame, where it does not take the setting's.
    pub frame: Option<FrameChoice>,
}

/// The finished outline of a block, lengths in the document's unit.
///
/// Axes of its drafting grid: across and up from the lower left corner; the second axis of a triangle and of a hexagon leans
/// at 60 degrees, that of a diamond at its own angle. A hexagon lies on a flat side, its grid's origin half a side to the left of
/// its leftmost corner, so that with n divisions to a side its corners are (n,0) (2n,0) (2n,n) (n,2n) (0,2n) (0,n).
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shape {
    /// A square.
    Square {
        /// Side.
        side: Length,
    },
    /// A rectangle.
    Rectangle {
        /// Across.
        width: Length,
        /// Up.
        height: Length,
    },
    /// An equilateral triangle on its base.
    EquilateralTriangle {
        /// Side.
        side: Length,
    },
    /// Half a square: right angle at the lower left.
    RightTriangle {
        /// Short side.
        leg: Length,
    },
    /// A diamond on one side, leaning to the right.
    Diamond {
        /// Side.
        side: Length,
        /// Its sharp angle, in degrees.
        angle_deg: f64,
    },
    /// A regular hexagon on a flat side.
    Hexagon {
        /// Side.
        side: Length,
    },
}

/// A point of a block: in grid steps where the block has a grid, else in the document's unit, along the axes of [`Shape`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GridPoint {
    /// Along the first axis.
    pub u: f64,
    /// Along the second axis.
    pub v: f64,
}

/// A seam as drawn.
#[derive(Debug, Clone, PartialEq)]
pub enum Seam {
    /// A straight seam, or several end to end; at least two points.
    Line(Vec<GridPoint>),
    /// A circular arc.
    Arc(Arc),
}

/// A circular arc as drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arc {
    /// Where it starts.
    pub from: GridPoint,
    /// Where it ends.
    pub to: GridPoint,
    /// Its centre, as far from both ends.
    pub centre: GridPoint,
    /// Whether the longer way round is meant; the shorter by default.
    pub long_way: bool,
}

/// A part named for the patch under a point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mark {
    /// A point inside the patch.
    pub at: GridPoint,
    /// Its part.
    pub part: PartId,
}

/// A shape laid over the patches and sewn down (appliqué).
#[derive(Debug, Clone, PartialEq)]
pub struct Overlay {
    /// Its outline, a closed chain of lines and arcs.
    pub outline: Vec<Seam>,
    /// Its part.
    pub part: PartId,
    /// Allowance that is turned under.
    pub turn_under: Length,
}

/// A part of a block's colouring.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Its name in the block.
    pub name: String,
    /// The cloth it is cut from, unless a place says otherwise.
    pub cloth: ClothId,
}

/// Which frame a block or a place takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FrameChoice {
    /// None at all.
    Bare,
    /// This one.
    Framed(FrameId),
}

/// A border round one block.
#[derive(Debug, Clone, PartialEq)]
pub struct Frame {
    /// Its name in the file.
    pub key: String,
    /// How its corners are sewn.
    pub corners: Corners,
    /// Strips from the block outward.
    pub strips: Vec<Strip>,
}

/// A strip of a frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strip {
    /// Finished width.
    pub width: Length,
    /// Its cloth.
    pub cloth: ClothId,
}

/// How strips meet at a corner.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Corners {
    /// On the diagonal.
    Mitred,
    /// One strip runs through: the sides first, then top and bottom over their ends.
    Butted,
    /// A square of this cloth in each corner.
    Squares(ClothId),
}

/// How blocks are put together.
#[derive(Debug, Clone, PartialEq)]
pub struct Setting {
    /// The kind of layout.
    pub layout: Layout,
    /// Rows from the top, places from the left. For [`Layout::OnPoint`] full rows and the rows between them alternate.
    pub places: Vec<Vec<Place>>,
}

/// Kinds of layout.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Layout {
    /// Rows and columns, square to the edges; blocks of one row share a height, those of one column a width.
    Straight,
    /// Blocks on their corners; all of one size. Rows alternate between `n` and `n - 1` places.
    OnPoint {
        /// Cloth of the side and corner triangles.
        triangles: ClothId,
    },
    /// Rows of different blocks; each row has its own height and its own widths.
    Rows {
        /// Cloth of the strips that fill up rows shorter than the longest; without it such a row is a finding.
        filler: Option<ClothId>,
    },
}

/// One place of the setting.
#[derive(Debug, Clone, PartialEq)]
pub struct Place {
    /// The block that stands there.
    pub block: BlockId,
    /// Quarter turns to the left, 0 to 3.
    pub turns: u8,
    /// Whether it is mirrored, before it is turned.
    pub mirrored: bool,
    /// Cloths exchanged here: instead of the first the second.
    pub swaps: Vec<(ClothId, ClothId)>,
    /// Its own frame, where it does not take its block's or the setting's; resolved, so that it is what is sewn.
    pub frame: FrameChoice,
}

impl Place {
    /// The cloth of a block's part here.
    #[must_use]
    pub fn cloth(&self, block: &Block, part: PartId) -> ClothId {
        let usual = block.parts[part.0].cloth;
        self.swaps.iter().find(|(from, _)| *from == usual).map_or(usual, |(_, to)| *to)
    }
}

/// Strips between the blocks.
#[derive(Debug, Clone, PartialEq)]
pub struct Sashing {
    /// Finished width.
    pub width: Length,
    /// Its cloth.
    pub cloth: ClothId,
    /// Cloth of the squares at the crossings; without it the strips between rows run through.
    pub cornerstones: Option<ClothId>,
    /// Whether it also runs round the outside.
    pub around: bool,
    /// How its strips lie on the cloth.
    pub grain: Grain,
}

/// A border round the whole top.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// Finished width.
    pub width: Length,
    /// Its cloth.
    pub cloth: ClothId,
    /// How its corners are sewn.
    pub corners: Corners,
    /// How its strips lie on the cloth.
    pub grain: Grain,
}

/// The name of a place: its row as letters from the top (A to Z, then AA), its number in the row from the left.
#[must_use]
pub fn place_name(row: usize, number: usize) -> String {
    format!("{}{}", letters(row), number + 1)
}

/// A number from 0 as people letter things: `A` to `Z`, then `AA`.
#[must_use]
pub fn letters(number: usize) -> String {
    let mut letters = String::new();
    let mut rest = number + 1;
    while rest > 0 {
        let digit = u8::try_from((rest - 1) % 26).expect("a rest of 26 fits");
        letters.insert(0, char::from(b'A' + digit));
        rest = (rest - 1) / 26;
    }
    letters
}
