//! Sheets of several sizes and prices: the least price that holds all the pieces.
//!
//! In: sheets that can be had, and kinds of pieces. Out: which sheets, how many, and how each is cut, the first cut across or along;
//! beside it a price that nothing less can be. Checked sheet by sheet ([`check_sheets`]).

use crate::bound::sheets::two_stage;
use crate::check::{Fault, Verified, check_box};
use crate::job::{JobError, Kind, Stages, WIDEST, check_kind};
use crate::layout::{Layout, Panel, Placement, Strip};
use crate::search::{self, Budget};

/// A size of sheet that can be had.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Sheet {
    /// What the maker calls it.
    pub name: String,
    /// Usable width.
    pub width: u32,
    /// Usable height.
    pub height: u32,
    /// Price of one, in hundredths of the currency.
    pub price: u64,
    /// How many there are; without end when `None`.
    pub available: Option<u32>,
}

/// Which way the first cuts of a sheet may run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FirstCut {
    /// Across the width or along the height, whichever serves.
    Any,
    /// Across the width only, as on a machine that feeds the sheet.
    Across,
}

/// A list of pieces to be cut from sheets.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetJob {
    sheets: Vec<Sheet>,
    kerf: u32,
    stages: Stages,
    first_cut: FirstCut,
    kinds: Vec<Kind>,
}

impl SheetJob {
    /// A job that can be cut: every piece fits on some sheet.
    ///
    /// # Errors
    /// The first thing that cannot be, with the piece and the remedy.
    pub fn new(sheets: Vec<Sheet>, kerf: u32, stages: Stages, first_cut: FirstCut, kinds: Vec<Kind>) -> Result<Self, JobError> {
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
        Ok(Self { sheets, kerf, stages, first_cut, kinds })
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

    /// Which way the first cuts may run.
    #[must_use]
    pub fn first_cut(&self) -> FirstCut {
        self.first_cut
    }

    /// How often a sheet may be turned.
    #[must_use]
    pub fn stages(&self) -> Stages {
        self.stages
    }
}

/// A kind laid the other way: what is across is along.
pub(crate) fn turned_about(kind: &Kind) -> Kind {
    Kind { width: kind.height, height: kind.width, ..kind.clone() }
}

/// Equal sheets, cut in the same way.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct CutSheet {
    /// Its place in the list of sheets.
    pub sheet: usize,
    /// How many are cut so.
    pub times: u32,
    /// Whether the sheet is turned by a quarter before the first cut: then `strips` run along it, and every piece in them lies turned.
    pub turned: bool,
    /// The strips, one after the other.
    pub strips: Vec<Panel>,
}

/// Sheets for all the pieces.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetCutting {
    /// The sheets.
    pub sheets: Vec<CutSheet>,
    /// What they cost together, in hundredths.
    pub price: u64,
    /// No choice of sheets costs less.
    pub bound: u64,
}

/// The least price that is found within a budget.
///
/// # Errors
/// [`JobError::SheetsRunOut`] when the sheets there are do not hold all the pieces, as far as was found.
pub fn cut_sheets(job: &SheetJob, budget: Budget) -> Result<SheetCutting, JobError> {
    cut_sheets_while(job, budget, &|| true)
}

/// The same. Once nobody wants it any more (who has said no once says it from then on) what comes out is worth nothing.
///
/// # Errors
/// As [`cut_sheets`].
pub fn cut_sheets_while(job: &SheetJob, budget: Budget, wanted: &dyn Fn() -> bool) -> Result<SheetCutting, JobError> {
    let sheets = search::sheets::cut_sheets(job, budget, wanted).ok_or(JobError::SheetsRunOut)?;
    let price = sheets.iter().map(|sheet| u64::from(sheet.times) * job.sheets[sheet.sheet].price).sum();
    Ok(SheetCutting { sheets, price, bound: bound(job) })
}

/// A price that nothing can be below. For two stages a linear programme over the fillings of sheets, raised to a sum of prices; for more
/// stages the pieces' area at the best price for an area, and no less than the cheapest sheet.
#[must_use]
pub fn bound(job: &SheetJob) -> u64 {
    let area = by_area(job);
    if job.stages() == Stages::TWO { area.max(two_stage(job)) } else { area }
}

/// The area of all pieces, each with its kerf, at the least price for an area of sheet; and at least one sheet is bought.
fn by_area(job: &SheetJob) -> u64 {
    let area = |width: u32, height: u32| u128::from(width + job.kerf) * u128::from(height + job.kerf);
    let all: u128 = job.kinds.iter().map(|kind| area(kind.width, kind.height) * u128::from(kind.count)).sum();
    let least = job.sheets.iter().map(|sheet| (all * u128::from(sheet.price)).div_ceil(area(sheet.width, sheet.height))).min();
    let cheapest = job.sheets.iter().map(|sheet| sheet.price).min().unwrap_or(0);
    u64::try_from(least.unwrap_or(0)).unwrap_or(u64::MAX).max(cheapest)
}

impl CutSheet {
    /// Where the copies lie on one of these sheets.
    #[must_use]
    pub fn placements(&self, job: &SheetJob) -> Vec<Placement> {
        let placed = self.as_cut(job);
        if !self.turned {
            return placed;
        }
        let about = |place: Placement| Placement { x: place.y, y: place.x, width: place.height, height: place.width, ..place };
        placed.into_iter().map(about).collect()
    }

    /// Where they lie when the first cut runs across: on the turned sheet, if it was turned.
    fn as_cut(&self, job: &SheetJob) -> Vec<Placement> {
        let kinds: Vec<Kind> = if self.turned { job.kinds.iter().map(turned_about).collect() } else { job.kinds.clone() };
        let strips = self.strips.iter().map(|panel| Strip { times: 1, panel: panel.clone() }).collect();
        Layout::of(strips, job.kerf).placements_of(&kinds, job.kerf)
    }
}

/// Verifies all the sheets: each within its size and the limit of stages, and every piece there as often as it is wanted.
///
/// # Errors
/// The first [`Fault`] found.
pub fn check_sheets(job: &SheetJob, cutting: &SheetCutting) -> Result<Vec<Verified>, Fault> {
    let mut placed = vec![0_u64; job.kinds.len()];
    let mut verified = Vec::new();
    for sheet in &cutting.sheets {
        let size = &job.sheets[sheet.sheet];
        let placements = sheet.placements(job);
        placements.iter().for_each(|place| placed[place.kind] += u64::from(sheet.times));
        check_box(&job.kinds, job.kerf, [u64::from(size.width), u64::from(size.height)], &placements, false)?;
        // Stages are counted from the side of the first cut.
        let (kinds, cloth): (Vec<Kind>, _) = if sheet.turned {
            (job.kinds.iter().map(turned_about).collect(), [u64::from(size.height), u64::from(size.width)])
        } else {
            (job.kinds.clone(), [u64::from(size.width), u64::from(size.height)])
        };
        let stages = check_box(&kinds, job.kerf, cloth, &sheet.as_cut(job), false)?;
        if stages.stages > u32::from(job.stages.limit()) {
            return Err(Fault::TooManyStages { stages: stages.stages, limit: job.stages.limit() });
        }
        verified.push(stages);
    }
    for (kind, &placed) in job.kinds.iter().zip(&placed) {
        if placed != u64::from(kind.count) {
            return Err(Fault::Count { piece: kind.name.clone(), placed, wanted: kind.count });
        }
    }
    Ok(verified)
}
