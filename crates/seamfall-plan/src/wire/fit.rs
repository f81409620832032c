//! The bed on the wire.

use super::cutting::WorkingWire;
use super::finish::{AnswerWire, CautionWire};
use super::shape::{EdgeWire, edges, length};
use super::{MeasureWire, text};
use crate::fit::{CornerHang, Fit, Found, Standing};
use schemars::JsonSchema;
use seamfall_model::{BEDS, Bed, Measure};
use serde::Serialize;

/// How the quilt fits its bed.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct FitWire {
    /// The bed.
    pub bed: BedWire,
    /// Figures, part by part.
    pub answers: Vec<AnswerWire>,
    /// Every shape of corner, that with the most cloth first; none where nothing hangs.
    pub corners: Vec<CornerWire>,
    /// What to take care of.
    pub cautions: Vec<CautionWire>,
}

/// A bed.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct BedWire {
    /// The name it is sold under.
    pub standard: Option<String>,
    /// Width of the mattress.
    pub width: f64,
    /// Length of the mattress.
    pub length: f64,
    /// Top of the mattress above the floor.
    pub height: f64,
    /// Drop that is wanted at the sides.
    pub sides: f64,
    /// Drop that is wanted at the foot.
    pub foot: f64,
    /// Cloth to tuck in at the pillows.
    pub tuck: f64,
    /// Whether it has posts at the foot.
    pub posts: bool,
}

/// How a corner hangs at its lowest.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CornerWire {
    /// `square`, `set-back`, `level`, `straight` or `notch`.
    pub shape: String,
    /// How far down the cloth reaches; nothing where the shape cannot be cut.
    pub hang: Option<f64>,
    /// How far beyond the floor; negative where it hangs free.
    pub beyond_floor: Option<f64>,
    /// Whether it drags on the floor.
    pub drags: bool,
    /// Its edge from the side round to the foot, from the corner of the mattress: right over the side, up over the foot.
    pub edge: Vec<EdgeWire>,
    /// Why it cannot be cut.
    pub trouble: Option<String>,
}

impl FitWire {
    pub(super) fn new(fit: &Fit) -> Self {
        Self {
            bed: BedWire::new(&fit.bed),
            answers: fit.answers.iter().map(AnswerWire::new).collect(),
            corners: fit.hang.iter().flat_map(|hang| &hang.corners).map(CornerWire::new).collect(),
            cautions: fit.cautions.iter().map(CautionWire::new).collect(),
        }
    }
}

impl BedWire {
    fn new(bed: &Bed) -> Self {
        let [width, size, height, sides, foot, tuck] =
            [bed.width, bed.length, bed.height, bed.sides, bed.foot, bed.tuck].map(|side| length(side.value()));
        let standard = bed.standard.map(|standard| standard.key.to_owned());
        Self { standard, width, length: size, height, sides, foot, tuck, posts: bed.posts }
    }
}

impl CornerWire {
    fn new(corner: &CornerHang) -> Self {
        let cut = corner.cut.as_ref();
        Self {
            shape: corner.shape.word().to_owned(),
            hang: cut.ok().map(|cut| length(cut.hang.value)),
            beyond_floor: corner.beyond_floor.as_ref().map(|floor| length(floor.value)),
            drags: corner.drags,
            edge: cut.map_or_else(|_| Vec::new(), |cut| edges(&cut.edge)),
            trouble: cut.err().map(|trouble| trouble.reason.clone()),
        }
    }
}

/// Settings that were found for a size.
#[derive(Serialize)]
struct FoundWire {
    format: u32,
    measure: MeasureWire,
    settings: u64,
    within: u64,
    tolerance: f64,
    best: Vec<CandidateWire>,
}

#[derive(Serialize)]
struct CandidateWire {
    standing: &'static str,
    columns: u32,
    rows: u32,
    blocks: u32,
    block: [f64; 2],
    frame: f64,
    sashing: f64,
    bands: Vec<f64>,
    size: [f64; 2],
    reason: String,
    workings: Vec<WorkingWire>,
}

/// What the search found, as one line of JSON.
#[must_use]
pub fn found_json(measure: Measure, found: &Found) -> String {
    let best = found.best.iter().map(|one| CandidateWire {
        standing: if one.standing == Standing::OnPoint { "on-point" } else { "straight" },
        columns: one.columns,
        rows: one.rows,
        blocks: one.blocks,
        block: [length(one.block.x), length(one.block.y)],
        frame: length(one.frame),
        sashing: length(one.sashing),
        bands: one.bands.iter().map(|width| length(*width)).collect(),
        size: [length(one.size.x), length(one.size.y)],
        reason: one.reason.clone(),
        workings: one.workings.iter().map(WorkingWire::new).collect(),
    });
    text(&FoundWire {
        format: 1,
        measure: MeasureWire::new(measure),
        settings: found.settings,
        within: found.within,
        tolerance: length(found.tolerance),
        best: best.collect(),
    })
}

/// Standard beds, as one line of JSON.
#[must_use]
pub fn beds_json(measure: Measure) -> String {
    #[derive(Serialize)]
    struct One {
        name: &'static str,
        width: f64,
        length: f64,
        source: &'static str,
    }
    #[derive(Serialize)]
    struct Beds {
        format: u32,
        measure: MeasureWire,
        beds: Vec<One>,
    }
    let beds = BEDS.iter().map(|bed| {
        let [wide, long] = bed.mattress(measure);
        One { name: bed.key, width: length(wide.value()), length: length(long.value()), source: bed.source }
    });
    text(&Beds { format: 1, measure: MeasureWire::new(measure), beds: beds.collect() })
}
