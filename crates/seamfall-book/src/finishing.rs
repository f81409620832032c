//! The end of the work: the edge, what is sewn on last, and the cover.
//!
//! In: the plan. Out: figures as they are said, steps, drawings, and the full-size template of a curved edge as a piece for the sheets.

use crate::figures::{Figure, Figures};
use crate::sheets::Piece;
use seamfall_model::Quilt;
use seamfall_plan::Plan;
use seamfall_plan::finish::{Answer, Ruler};
use seamfall_plan::words::around;
use serde::Serialize;
use tr::tr;

/// The chapter.
#[derive(Debug, Serialize)]
pub struct Finishing {
    edge: String,
    parts: Vec<Part>,
    /// How the corners at the foot are trimmed, each with its name.
    corners: Vec<(String, String)>,
    /// Whether there are templates among the sheets.
    template: bool,
}

/// One answer of the plan, figures and steps.
#[derive(Debug, Serialize)]
pub struct Part {
    title: String,
    figures: Vec<(String, String)>,
    figure: Option<Figure>,
    steps: Vec<String>,
    notes: Vec<String>,
}

/// The chapter.
pub fn finishing(quilt: &Quilt, plan: &Plan, figures: &mut Figures) -> Finishing {
    Finishing {
        edge: tr!("Once round it is {finish}.", finish = around(quilt, &plan.finish.round)),
        parts: plan.finish.answers.iter().map(|answer| part(quilt, plan, answer, figures)).collect(),
        corners: plan.top.corners.iter().map(|corner| (corner.name(), corner.trimming(quilt, &plan.top))).collect(),
        template: plan.finish.curved.is_some() || !plan.top.corners.is_empty(),
    }
}

pub fn part(quilt: &Quilt, plan: &Plan, answer: &Answer, figures: &mut Figures) -> Part {
    let ruler = Ruler::of(quilt);
    let said = answer.each_once().into_iter().map(|(figure, sides)| {
        let what = figure.working.what.clone();
        let what = if sides > 1 { tr!("{what} (on each of {sides} sides)", what, sides) } else { what };
        (what, figure.shown(ruler))
    });
    Part {
        title: answer.title(),
        figures: said.collect(),
        figure: figures
            .finish_steps(quilt, plan, answer.question)
            .map(|path| Figure { path, alt: tr!("{title}, step by step", title = answer.title()) }),
        steps: answer.steps.clone(),
        notes: answer.notes.clone(),
    }
}

/// Templates of a curved edge and of changed corners, for the sheets.
pub fn templates(quilt: &Quilt, plan: &Plan, figures: &mut Figures) -> Vec<Piece> {
    let mut all = Vec::new();
    let mut add = |name: String, what: String, drawn: Option<(String, (f64, f64))>| {
        let Some((figure, (width, height))) = drawn else { return };
        all.push(Piece {
            figure,
            alt: tr!("Template, full size: {what}", what),
            name,
            caption: what,
            width,
            height,
            inked: None,
        });
    };
    add(tr!("edge"), tr!("the edge and its corner"), figures.edge_template(quilt, plan));
    for (at, corner) in plan.top.corners.iter().enumerate() {
        let what = tr!("{corner} corner of the quilt", corner = corner.name());
        add(tr!("corner {at}", at = at + 1), what, figures.corner_template(quilt, plan, at));
    }
    all
}
