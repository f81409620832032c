//! The plan as JSON: its own types, so that what others read does not change when the inside does.
//!
//! In: a quilt and its plan. Out: one line of JSON, the same bytes for the same quilt on every machine, and its published schema.
//!
//! Lengths are in the document's unit, areas in its square. They are rounded to a millionth, which is the tolerance of the geometry;
//! coefficients of a matrix to a thousand-millionth, so that a point of the top is met as well. Axes: x to the right, y up.
//!
//! Names stay what they are as long as the quilt does: a block, a cloth and a frame have their key in the file; patch 3 of block
//! `star` is `star.p3`, its overlay 1 `star.o1`, its template A `star.A`; places (`C4`), strips (`B3.frame1.top`), sections
//! (`S3`) and pieces to cut (`c1`) have theirs in the plan.

mod block;
mod buying;
mod cutting;
mod finish;
mod fit;
mod join;
mod lap;
mod sewing;
mod sewn;
mod shape;
mod top;
mod truing;
mod ways;

pub use block::{BlockWire, KindWire, NotchWire, OverlayWire, PartWire, PatchWire, TemplateWire};
pub use buying::{CutOffWire, CutWire, LaidWire, OffcutWire, SheetWire, ThreadWire, ToBuyWire};
pub use cutting::{CutPieceWire, UseWire, WayWire, WorkingWire};
pub use finish::{AnswerWire, CautionWire, FigureWire, FinishWire, answer_json, answers_json};
pub use fit::{BedWire, CornerWire, FitWire, beds_json, found_json};
pub use join::{
    CrossSectionWire, CrossingWire, JoinOrderKind, JoinOrderWire, JoinSideWire, JoinsWire, LayerKindWire, LayerWire, LeftOutWire,
    PartOfJoinWire, SewnJoinWire, StepWire, TakenUpWire, WaitingWire,
};
pub use lap::{BagWire, EndWire, GapWire, LapWire, NeedlefulWire, PathWire, PatternWire, QuiltedSectionWire, StretchWire};
pub use sewing::{
    ArgumentWire, BendWire, CountWire, DesignWire, FallWire, JoinWire, MeetingWire, OrderWire, PressingWire, SeamWire,
    SewingWire, StackWire, StateWire, ThickestWire, UnitPieceWire, UnitWire,
};
pub use sewn::{PressedWire, ProgressWire, SewnStateWire, SewnWire};
pub use shape::{EdgeWire, SizeWire, TurnWire};
pub use top::{ChangedCornerWire, CutIntoWire, PlaceWire, SectionWire, StripKind, StripWire};
pub use truing::{EasedSeamWire, EasedWire, NewPlacesWire, RemedyWire, TrimmedSizeWire, TruedWire, TruingWire};
pub use ways::{CutForWire, FasterWayWire, MakingWayWire, MakingWire};

use crate::Plan;
use schemars::JsonSchema;
use seamfall_model::{Cloth, Finding, Grade, Measure, Print, Quilt, Value};
use serde::Serialize;
use shape::{length, outline, size};

/// A quilt worked out.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct PlanWire {
    /// Version of this format: 1.
    #[schemars(range(min = 1, max = 1))]
    pub format: u32,
    /// What the maker calls the quilt.
    pub name: String,
    /// Unit of all lengths.
    pub measure: MeasureWire,
    /// Seam allowance of the piecing.
    pub allowance: f64,
    /// The step to which cut sizes are rounded up.
    pub step: f64,
    /// Finished size of the top.
    pub size: SizeWire,
    /// How it fits its bed; nothing where none is named.
    pub fit: Option<FitWire>,
    /// Finished edge of the top, anticlockwise: a rectangle unless corners at the foot are changed.
    pub outline: Vec<EdgeWire>,
    /// The corners at the foot that are not square.
    pub corners: Vec<ChangedCornerWire>,
    /// Cloths, in the order of the file.
    pub cloths: Vec<ClothWire>,
    /// Blocks, in the order of the file.
    pub blocks: Vec<BlockWire>,
    /// Blocks in their places, row by row from the top.
    pub places: Vec<PlaceWire>,
    /// Frames, sashing, triangles and bands, each piece as it is sewn.
    pub strips: Vec<StripWire>,
    /// Lap sections, from the top down, then from the left.
    pub sections: Vec<SectionWire>,
    /// What has been sewn of it.
    pub sewn: SewnWire,
    /// How the size of the top and the counts came about.
    pub workings: Vec<WorkingWire>,
    /// How it is sewn and pressed.
    pub sewing: SewingWire,
    /// Units that can be made faster than patch by patch, and how they are made.
    pub making: Vec<MakingWire>,
    /// What to cut.
    pub cut: Vec<CutPieceWire>,
    /// What to buy.
    pub buy: Vec<ToBuyWire>,
    /// Thread for piecing.
    pub thread: ThreadWire,
    /// What all that has a price costs, in hundredths.
    pub price: Option<u64>,
    /// How it is quilted in the lap.
    pub lap: LapWire,
    /// What measured sections are trimmed to, and which goes where; nothing while none is measured.
    pub truing: Option<TruingWire>,
    /// In which order its sections are joined, and what is done at each join.
    pub join: JoinsWire,
    /// How its edge is finished.
    pub finish: FinishWire,
    /// What there is to say, stops first.
    pub findings: Vec<FindingWire>,
}

/// What there is to say about a quilt.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct FindingsWire {
    /// Version of this format: 1.
    pub format: u32,
    /// Stops first.
    pub findings: Vec<FindingWire>,
}

/// Units a quilt is made in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum MeasureWire {
    /// Inches.
    Inch,
    /// Centimetres.
    Centimetre,
}

impl MeasureWire {
    fn new(measure: Measure) -> Self {
        match measure {
            Measure::Inch => Self::Inch,
            Measure::Centimetre => Self::Centimetre,
        }
    }
}

/// A cloth.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ClothWire {
    /// Its name in the file.
    pub key: String,
    /// What the maker calls it.
    pub name: String,
    /// `#rrggbb`.
    pub colour: String,
    /// How light it is.
    pub value: ValueWire,
    /// Which way its print runs.
    pub print: PrintWire,
    /// Usable width.
    pub width: f64,
}

/// How light a cloth is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum ValueWire {
    /// Light.
    Light,
    /// Medium.
    Medium,
    /// Dark.
    Dark,
}

/// How a print restricts turning.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PrintWire {
    /// May be turned at will.
    None,
    /// Half turns only.
    TwoWay,
    /// One way up.
    OneWay,
}

/// Something the maker should know.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct FindingWire {
    /// How much it matters.
    pub grade: GradeWire,
    /// What it is about, in words: `block star, seam 3`.
    pub spot: String,
    /// Why.
    pub reason: String,
    /// What to do about it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub help: Option<String>,
}

/// How much a finding matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum GradeWire {
    /// Cannot be sewn, or would be lost.
    Stop,
    /// Can be sewn, but will disappoint.
    Warn,
    /// Worth knowing.
    Note,
}

/// The plan of `quilt` as one line of JSON.
#[must_use]
pub fn to_json(quilt: &Quilt, plan: &Plan) -> String {
    text(&PlanWire::new(quilt, plan))
}

/// What there is to say, as one line of JSON.
#[must_use]
pub fn findings_json(plan: &Plan) -> String {
    text(&FindingsWire { format: 1, findings: plan.findings.iter().map(FindingWire::new).collect() })
}

/// JSON Schema of [`to_json`].
#[must_use]
pub fn json_schema() -> String {
    let schema = schemars::schema_for!(PlanWire);
    serde_json::to_string_pretty(&schema).expect("a schema is plain JSON")
}

fn text(value: &impl Serialize) -> String {
    serde_json::to_string(value).expect("the wire types have text keys and finite numbers only")
}

impl PlanWire {
    /// `plan` in the words of this format.
    #[must_use]
    pub fn new(quilt: &Quilt, plan: &Plan) -> Self {
        let blocks = quilt.blocks.iter().zip(&plan.drafts);
        Self {
            format: 1,
            name: quilt.name.clone(),
            measure: MeasureWire::new(quilt.measure),
            allowance: length(quilt.allowance.0.value()),
            step: length(quilt.step.size()),
            size: size(plan.top.size),
            fit: plan.fit.as_ref().map(FitWire::new),
            outline: outline(&plan.top.outline),
            corners: plan.top.corners.iter().map(|corner| ChangedCornerWire::new(quilt, &plan.top, corner)).collect(),
            cloths: quilt.cloths.iter().map(ClothWire::new).collect(),
            blocks: blocks.map(|(block, draft)| BlockWire::new(quilt, block, draft)).collect(),
            places: plan.top.places.iter().map(|place| PlaceWire::new(quilt, &plan.top, place)).collect(),
            strips: plan.top.strips.iter().map(|strip| StripWire::new(quilt, &plan.top, strip)).collect(),
            sections: plan.top.sections.iter().map(|section| SectionWire::new(&plan.top, section)).collect(),
            sewn: SewnWire::new(plan),
            workings: plan.top.workings.iter().map(WorkingWire::new).collect(),
            sewing: SewingWire::new(quilt, plan),
            making: plan
                .making
                .units
                .iter()
                .enumerate()
                .map(|(number, unit)| MakingWire::new(quilt, plan, number, unit))
                .collect(),
            cut: plan.cutting.pieces.iter().map(|piece| CutPieceWire::new(quilt, plan, piece)).collect(),
            buy: plan.cutting.bought.iter().map(|bought| ToBuyWire::new(quilt, &plan.cutting, bought)).collect(),
            thread: ThreadWire::new(&plan.cutting.thread),
            price: plan.cutting.price(),
            lap: LapWire::new(plan),
            truing: TruingWire::new(plan),
            join: JoinsWire::new(quilt, plan),
            finish: FinishWire::new(&plan.finish),
            findings: plan.findings.iter().map(FindingWire::new).collect(),
        }
    }
}

impl ClothWire {
    fn new(cloth: &Cloth) -> Self {
        Self {
            key: cloth.key.clone(),
            name: cloth.name.clone(),
            colour: cloth.colour.hex(),
            value: match cloth.value {
                Value::Light => ValueWire::Light,
                Value::Medium => ValueWire::Medium,
                Value::Dark => ValueWire::Dark,
            },
            print: match cloth.print {
                Print::None => PrintWire::None,
                Print::TwoWay => PrintWire::TwoWay,
                Print::OneWay => PrintWire::OneWay,
            },
            width: length(cloth.width.value()),
        }
    }
}

impl FindingWire {
    fn new(finding: &Finding) -> Self {
        Self {
            grade: match finding.grade {
                Grade::Stop => GradeWire::Stop,
                Grade::Warn => GradeWire::Warn,
                Grade::Note => GradeWire::Note,
            },
            spot: finding.spot.to_string(),
            reason: finding.reason.clone(),
            help: finding.help.clone(),
        }
    }
}
