//! Sheets of several sizes and prices: the least price that holds all the pieces.

use crate::job::{JobError, Kind, Stages, WIDEST, check_kind};

/// A size of sheet that can be had.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// What the maker calls it.
    pub name: String,
    /// Usable width.
    pub width: u32,
    /// Usable height.
    pub height: u32,
    /// Price of one.
    pub price: f64,
    /// How many there are; without end when `None`.
    pub available: Option<u32>,
}

/// A list of pieces to be cut from sheets.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetJob {
    sheets: Vec<Sheet>,
    kerf: u32,
    stages: Stages,
    kinds: Vec<Kind>,
}

impl SheetJob {
    /// A job that can be cut: every piece fits on some sheet.
    ///
    /// # Errors
    /// The first thing that cannot be, with the piece and the remedy.
    pub fn new(sheets: Vec<Sheet>, kerf: u32, stages: Stages, kinds: Vec<Kind>) -> Result<Self, JobError> {
        if sheets.is_empty() {
            return Err(JobError::NoSheets);
        }
        if kinds.is_empty() {
            return Err(JobError::NoPieces);
        }
        if let Some(bad) =
            sheets.iter().find(|sheet| sheet.width == 0 || sheet.height == 0 || sheet.width > WIDEST || sheet.height > WIDEST)
        {
            return Err(JobError::SheetSize { sheet: bad.name.clone() });
        }
        for (place, kind) in kinds.iter().enumerate() {
            check_kind(kind)?;
            if kinds[..place].iter().any(|other| other.name == kind.name) {
                return Err(JobError::Twice { piece: kind.name.clone() });
            }
            let fits = |sheet: &Sheet| {
                (kind.width <= sheet.width && kind.height <= sheet.height)
                    || (kind.turn && kind.height <= sheet.width && kind.width <= sheet.height)
            };
            if !sheets.iter().any(fits) {
                return Err(JobError::NoSheet { piece: kind.name.clone() });
            }
        }
        Ok(Self { sheets, kerf, stages, kinds })
    }

    /// The sizes that can be had.
    #[must_use]
    pub fn sheets(&self) -> &[Sheet] {
        &self.sheets
    }

    /// The kinds of pieces, in the order given.
    #[must_use]
    pub fn kinds(&self) -> &[Kind] {
        &self.kinds
    }

    /// What one cut takes away.
    #[must_use]
    pub fn kerf(&self) -> u32 {
        self.kerf
    }

    /// How often a sheet may be turned.
    #[must_use]
    pub fn stages(&self) -> Stages {
        self.stages
    }
}
