//! The finish on the wire; and the answer to a single question about an edge, which needs no quilt.

use super::cutting::WorkingWire;
use super::shape::{EdgeWire, length, outline};
use super::{MeasureWire, text};
use crate::caution::Caution;
use crate::finish::{Answer, Finish};
use schemars::JsonSchema;
use seamfall_model::Measure;
use serde::Serialize;

/// How the edge is finished.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct FinishWire {
    /// Length of the edge once round, curves along the curve.
    pub edge: f64,
    /// Corners that stand out, and that stand in.
    pub corners: [usize; 2],
    /// The edge as it is cut, where it is curved.
    pub outline: Option<Vec<EdgeWire>>,
    /// Figures and steps, part by part.
    pub answers: Vec<AnswerWire>,
    /// What to take care of.
    pub cautions: Vec<CautionWire>,
}

/// The answer to one question.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct AnswerWire {
    /// Of a bed `size`, `drops`, and corners by their shape. Of an edge `binding`, `bias`, `points`, `scallops`, `waves`, `ruffle`, `piping`, `sleeve`, `facing`, `enlarge` or `cover`.
    pub question: String,
    /// Figures, in the order they are told; a name may come up once a side.
    pub figures: Vec<FigureWire>,
    /// What to do, in order.
    pub steps: Vec<String>,
    /// What to mind.
    pub notes: Vec<String>,
}

/// One figure.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct FigureWire {
    /// Its stable name: `length`.
    pub name: String,
    /// How it came about.
    #[serde(flatten)]
    pub working: WorkingWire,
}

/// Something to take care of.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct CautionWire {
    /// What it is about.
    pub title: String,
    /// In plain words.
    pub words: String,
    /// Who says so.
    pub source: String,
}

/// The answer to a question that was asked without a quilt.
#[derive(Serialize)]
struct AloneWire {
    format: u32,
    measure: MeasureWire,
    #[serde(flatten)]
    answer: AnswerWire,
}

/// The answers to one question that has several.
#[derive(Serialize)]
struct SeveralWire {
    format: u32,
    measure: MeasureWire,
    answers: Vec<AnswerWire>,
}

/// `answers` as one line of JSON.
#[must_use]
pub fn answers_json(measure: Measure, answers: &[Answer]) -> String {
    let answers = answers.iter().map(AnswerWire::new).collect();
    text(&SeveralWire { format: 1, measure: MeasureWire::new(measure), answers })
}

/// `answer` as one line of JSON.
#[must_use]
pub fn answer_json(measure: Measure, answer: &Answer) -> String {
    text(&AloneWire { format: 1, measure: MeasureWire::new(measure), answer: AnswerWire::new(answer) })
}

impl FinishWire {
    pub(super) fn new(finish: &Finish) -> Self {
        Self {
            edge: length(finish.round.length),
            corners: [finish.round.outside, finish.round.inside],
            outline: finish.curved.as_ref().map(|edge| outline(&edge.outline)),
            answers: finish.answers.iter().map(AnswerWire::new).collect(),
            cautions: finish.cautions.iter().map(CautionWire::new).collect(),
        }
    }
}

impl CautionWire {
    pub(super) fn new(caution: &Caution) -> Self {
        Self { title: caution.title(), words: caution.words(), source: caution.source() }
    }
}

impl AnswerWire {
    pub(super) fn new(answer: &Answer) -> Self {
        Self {
            question: answer.question.to_owned(),
            figures: answer
                .figures
                .iter()
                .map(|figure| FigureWire { name: figure.name.to_owned(), working: WorkingWire::new(&figure.working) })
                .collect(),
            steps: answer.steps.clone(),
            notes: answer.notes.clone(),
        }
    }
}
