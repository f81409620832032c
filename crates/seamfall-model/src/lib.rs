//! What the maker decided and what can be said about it: the quilt file, lengths, ids, findings, workings.
//!
//! In: the text of a quilt file and of its ledger, edits. Out: a [`Quilt`] and a [`Ledger`] in which every reference and every size has
//! been checked, and the texts again, with the maker's comments kept. What is computed from a quilt lives in `seamfall-plan`.

mod bed;
mod beds;
pub mod class;
mod class_rule;
mod drawing;
mod edge_rule;
mod edit;
mod file;
mod finding;
mod finish;
mod fit_rule;
mod fussy;
mod grid;
mod joining;
mod ledger;
mod length;
pub mod lightness;
mod look;
mod look_rule;
mod materials;
mod quilt;
mod quilting;
mod sewing;
mod typed;
mod words;
mod working;

pub use bed::{Bed, CornerShape, PerCent};
pub use beds::{BEDS, StandardBed};
pub use class_rule::ClassRule;
pub use drawing::*;
pub use edge_rule::EdgeRule;
pub use edit::{
    ClassEdit, Edit, EditError, LedgerEdit, NewLook, NewSettings, Scalar, apply, apply_class, apply_ledger, apply_to,
};
pub use file::{
    FileError, FileKind, Problem, class_json_schema, json_schema, ledger_json_schema, new_class, read, read_class, read_ledger,
    starter_blocks, write, write_ledger,
};
pub use finding::{Cure, Finding, Grade, Spot};
pub use finish::*;
pub use fit_rule::FitRule;
pub use fussy::{Fussy, FussyOf};
pub use joining::*;
pub use ledger::*;
pub use length::{Allowance, Finished, Length, Measure, Step};
pub use look::{Figure, FigureKind, Look, Photo};
pub use look_rule::LookRule;
pub use materials::*;
pub use quilt::*;
pub use quilting::*;
pub use sewing::*;
pub use typed::{LengthError, parse_length};
pub use words::spoken;
pub use working::{Rounding, Rule, Term, Working, decimal, term};

/// Sets the language of this crate's words; English unless said. Once, at the start of the program.
pub fn speak(language: impl tr::Translator + 'static) {
    tr::set_translator!(language);
}

/// Limits on what a quilt file may hold. Beyond them it is refused, saying so.
pub mod limits {
    /// Bytes of a quilt file.
    pub const FILE_BYTES: usize = 2 * 1024 * 1024;
    /// Seams of one block.
    pub const SEAMS_A_BLOCK: usize = 2_000;
    /// Blocks drawn in one quilt.
    pub const BLOCKS: usize = 200;
    /// Cloths of one quilt.
    pub const CLOTHS: usize = 200;
    /// Frames of one quilt.
    pub const FRAMES: usize = 100;
    /// Parts of one block's colouring.
    pub const PARTS: usize = 100;
    /// Points in the patches of one block.
    pub const MARKS: usize = 5_000;
    /// Overlays of one block.
    pub const OVERLAYS: usize = 200;
    /// Rows or columns of a setting.
    pub const ROWS: usize = 100;
    /// Ways in which the copies of a block are pressed; beyond them each is by itself.
    pub const PRESSINGS: u8 = 4;
    /// Falls that are fixed.
    pub const FALLS: usize = 2_000;
    /// Sections in a ledger: a block each, in as many rows and columns as there may be.
    pub const SECTIONS: usize = ROWS * ROWS;
    /// Students of one class.
    pub const STUDENTS: usize = 60;
    /// Lessons of one class.
    pub const LESSONS: usize = 60;
    /// Tools and the like on the list of a class.
    pub const ITEMS: usize = 200;
    /// Days without a lesson.
    pub const DAYS_WITHOUT: usize = 200;
    /// Characters of a note.
    pub const NOTE_CHARS: usize = 2_000;
    /// Ways of making that are chosen.
    pub const WAYS: usize = 500;
    /// Pixels of a photograph, across or down.
    pub const PIXELS: u32 = 30_000;
    /// Least of a photograph that is left once its edges are cut off, in per cent of a side.
    pub const KEPT: f64 = 1.0;
    /// Characters of the name of a photograph's file.
    pub const PHOTO_NAME: usize = 100;
    /// Least and most from one stripe or dot to the next, in inches.
    pub const FIGURE_IN: (f64, f64) = (1.0 / 16.0, 60.0);
    /// Motifs that are chosen.
    pub const FUSSY: usize = 500;
    /// Sizes in which one cloth or the batting comes.
    pub const SUPPLIES: usize = 40;
    /// Of one such size.
    pub const OF_A_SUPPLY: u32 = 10_000;
    /// Practice pieces.
    pub const SAMPLES: u32 = 100;
    /// Most that cloth may shrink, in per cent.
    pub const SHRINKAGE: f64 = 25.0;
    /// Highest price of anything.
    pub const PRICE: f64 = 1_000_000.0;
    /// Longest spool, in inches: 1,000 yd.
    pub const SPOOL_IN: f64 = 36_000.0;
    /// Quilting designs.
    pub const QUILTING: usize = 200;
    /// Lines of one echo.
    pub const ECHOES: u32 = 100;
    /// Motifs side by side.
    pub const REPEATS: u32 = 200;
    /// Closest that quilting lines of one design lie, in inches.
    pub const SPACING_IN: f64 = 1.0 / 8.0;
    /// Bytes of the maker's own path.
    pub const PATH_BYTES: usize = 64 * 1024;
    /// Curves of the maker's own path become lines that leave them by no more than this, in inches: less than a thread is thick.
    pub const PATH_TOLERANCE_IN: f64 = 0.005;
    /// Lines of the maker's own path, once its curves are drawn.
    pub const PATH_LINES: usize = 5_000;
    /// Bands round the top.
    pub const BANDS: usize = 12;
    /// Strips of one frame.
    pub const STRIPS: usize = 6;
    /// Divisions of a drafting grid.
    pub const GRID: u32 = 240;
    /// Longest side of a quilt, in inches.
    pub const SIDE_IN: f64 = 240.0;
    /// Widest seam allowance, in inches.
    pub const SEAM_IN: f64 = 1.0;
    /// Sides of a mattress, in inches: from a child's to two beds side by side.
    pub const MATTRESS_IN: (f64, f64) = (12.0, 120.0);
    /// Height of a bed, in inches.
    pub const BED_HEIGHT_IN: (f64, f64) = (2.0, 72.0);
    /// Most cloth to tuck in, in inches.
    pub const TUCK_IN: f64 = 40.0;
    /// Shortest length that can be sewn, in inches.
    pub const SHORTEST_IN: f64 = 1.0 / 16.0;
}
