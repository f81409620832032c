//! What is to be cut: the cloth, the kinds of pieces, and how it may be cut.
//!
//! All lengths are whole ticks of one cutting grid, so that sums are exact. A kind stands for all its copies: nothing here or
//! in the search grows with their number. Built through [`Job::new`], which refuses what cannot be cut and says what to do.

use thiserror::Error;
use tr::tr;

/// Widest cloth, in ticks. The search keeps tables as long as the cloth is wide.
pub const WIDEST: u32 = 20_000;
/// Most copies of one kind, and most kinds of one list.
pub const MOST_COPIES: u32 = 100_000;
/// Most kinds in one list.
pub const MOST_KINDS: usize = 300;
/// Longest piece, in ticks.
pub const LONGEST: u32 = 2_000_000;

/// One kind of piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Kind {
    /// What the maker calls it.
    pub name: String,
    /// Across the cloth, from selvage to selvage.
    pub width: u32,
    /// Along the cloth.
    pub height: u32,
    /// How many are wanted.
    pub count: u32,
    /// Whether it may be turned by a quarter: no for a grain or a print that has a direction.
    pub turn: bool,
}

/// How often the cloth may be turned.
///
/// A limit of two means cross strips and sub-cuts; three to five turn the cloth once to three times more. In all of them a piece
/// may at last be trimmed along one side: that trim is not counted, as in the usual "two stages and a trim".
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Stages(u8);

impl Stages {
    /// Cross strips and sub-cuts.
    pub const TWO: Self = Self(2);
    /// As many as the engine knows.
    pub const FIVE: Self = Self(5);

    /// A limit of two to five.
    ///
    /// # Errors
    /// [`JobError::Stages`] for any other number.
    pub fn new(limit: u8) -> Result<Self, JobError> {
        if (2..=5).contains(&limit) { Ok(Self(limit)) } else { Err(JobError::Stages { limit }) }
    }

    /// The limit as a number.
    #[must_use]
    pub fn limit(self) -> u8 {
        self.0
    }
}

/// A list of pieces to be cut from cloth of one width and any length.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Job {
    width: u32,
    kerf: u32,
    stages: Stages,
    kinds: Vec<Kind>,
}

impl Job {
    /// A job that can be cut: every piece fits across the cloth, one way at least.
    ///
    /// `kerf` is what one cut takes away, nothing for a rotary cutter.
    ///
    /// # Errors
    /// The first thing that cannot be, with the piece and the remedy.
    pub fn new(width: u32, kerf: u32, stages: Stages, kinds: Vec<Kind>) -> Result<Self, JobError> {
        if width == 0 {
            return Err(JobError::NoWidth);
        }
        if width > WIDEST || kerf > WIDEST {
            return Err(JobError::TooFine { ticks: width.max(kerf) });
        }
        if kinds.is_empty() {
            return Err(JobError::NoPieces);
        }
        if kinds.len() > MOST_KINDS {
            return Err(JobError::TooManyKinds { kinds: kinds.len() });
        }
        for (place, kind) in kinds.iter().enumerate() {
            check_kind(kind)?;
            if kinds[..place].iter().any(|other| other.name == kind.name) {
                return Err(JobError::Twice { piece: kind.name.clone() });
            }
            check_width(kind, width)?;
        }
        Ok(Self { width, kerf, stages, kinds })
    }

    /// Usable width of the cloth.
    #[must_use]
    pub fn width(&self) -> u32 {
        self.width
    }

    /// What one cut takes away.
    #[must_use]
    pub fn kerf(&self) -> u32 {
        self.kerf
    }

    /// How often the cloth may be turned.
    #[must_use]
    pub fn stages(&self) -> Stages {
        self.stages
    }

    /// The kinds of pieces, in the order given.
    #[must_use]
    pub fn kinds(&self) -> &[Kind] {
        &self.kinds
    }

    /// The same pieces with another limit of stages.
    #[must_use]
    pub fn with_stages(mut self, stages: Stages) -> Self {
        self.stages = stages;
        self
    }
}

/// Whether a kind is a piece at all, whatever it is cut from.
pub(crate) fn check_kind(kind: &Kind) -> Result<(), JobError> {
    let piece = || kind.name.clone();
    if kind.width == 0 || kind.height == 0 {
        return Err(JobError::NoSize { piece: piece() });
    }
    if kind.width > LONGEST || kind.height > LONGEST {
        return Err(JobError::TooLong { piece: piece() });
    }
    if kind.count == 0 {
        return Err(JobError::NoneWanted { piece: piece() });
    }
    if kind.count > MOST_COPIES {
        return Err(JobError::TooMany { piece: piece(), count: kind.count });
    }
    Ok(())
}

fn check_width(kind: &Kind, width: u32) -> Result<(), JobError> {
    let piece = kind.name.clone();
    match (kind.width > width, kind.height > width) {
        (false, _) => Ok(()),
        (true, false) if kind.turn => Ok(()),
        (true, false) => Err(JobError::FitsTurned { piece }),
        (true, true) => Err(JobError::TooWide { piece }),
    }
}

/// Why a list cannot be cut.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum JobError {
    /// The cloth has no width.
    #[error("{}", tr!("the cloth has no width: give its usable width, between the selvages"))]
    NoWidth,
    /// The grid is finer than a cutting table.
    #[error(
        "{}", tr!("the width or the kerf is {ticks} steps of the cutting grid, more than {most}: round the sizes to a coarser grid, such as 1/16 in", ticks, most = WIDEST))]
    TooFine {
        /// Width in ticks.
        ticks: u32,
    },
    /// Nothing is wanted.
    #[error("{}", tr!("no pieces are listed: add at least one"))]
    NoPieces,
    /// More kinds than the tables hold.
    #[error("{}", tr!("{kinds} kinds of pieces are listed, more than {most}: divide the list by cloth or by section", kinds, most = MOST_KINDS))]
    TooManyKinds {
        /// How many there are.
        kinds: usize,
    },
    /// Two pieces of one name.
    #[error("{}", tr!("piece `{piece}` is listed twice: add the counts, or give one another name", piece))]
    Twice {
        /// Its name.
        piece: String,
    },
    /// A side of nothing.
    #[error("{}", tr!("piece `{piece}` has a side of 0: give its width and its height as cut", piece))]
    NoSize {
        /// Its name.
        piece: String,
    },
    /// A side out of any measure.
    #[error("{}", tr!("piece `{piece}` is longer than {most} steps of the cutting grid: check its unit, or join it from shorter pieces", piece, most = LONGEST))]
    TooLong {
        /// Its name.
        piece: String,
    },
    /// A demand of nothing.
    #[error("{}", tr!("of piece `{piece}` 0 are wanted: leave it out, or give a count of 1 or more", piece))]
    NoneWanted {
        /// Its name.
        piece: String,
    },
    /// A demand out of any measure.
    #[error("{}", tr!("of piece `{piece}` {count} are wanted, more than {most}: divide the list", piece, count, most = MOST_COPIES))]
    TooMany {
        /// Its name.
        piece: String,
        /// How many were asked for.
        count: u32,
    },
    /// Wider than the cloth, but not when turned.
    #[error("{}", tr!("piece `{piece}` is wider than the cloth: it fits turned, so allow the turn, or take wider cloth, or join it", piece))]
    FitsTurned {
        /// Its name.
        piece: String,
    },
    /// Wider than the cloth either way.
    #[error("{}", tr!("piece `{piece}` is wider than the cloth, and so it would be turned: take wider cloth, or join it from two pieces", piece))]
    TooWide {
        /// Its name.
        piece: String,
    },
    /// No sheet is large enough.
    #[error("{}", tr!("piece `{piece}` fits on none of the sheets: take a larger one, or join it from two pieces", piece))]
    NoSheet {
        /// Its name.
        piece: String,
    },
    /// The sheets there are do not suffice.
    #[error("{}", tr!("the sheets there are do not suffice for all the pieces: allow more of them, or a larger size"))]
    SheetsRunOut,
    /// No sheets at all.
    #[error("{}", tr!("no sheets are listed: give at least one size with its price"))]
    NoSheets,
    /// A sheet without a size.
    #[error("{}", tr!("sheet `{sheet}` has a side of 0 or more than {most} steps of the cutting grid: give its usable width and height", sheet, most = WIDEST))]
    SheetSize {
        /// Its name.
        sheet: String,
    },
    /// A stage limit that the engine does not know.
    #[error("{}", tr!("a limit of {limit} stages is not known: choose 2 (cross strips and sub-cuts) to 5", limit))]
    Stages {
        /// What was asked for.
        limit: u8,
    },
}
