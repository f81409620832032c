//! What to buy, what to cut and how every cloth is cut up, in words and drawings.

use crate::figures::{Figure, Figures};
use crate::words;
use seamfall_model::{Quilt, shown_money};
use seamfall_plan::Plan;
use seamfall_plan::cut::{CutLine, Laid, Material, ToBuy, Way, sheets};
use serde::Serialize;
use tr::tr;

/// A line of the shopping list.
#[derive(Debug, Serialize)]
pub struct Buy {
    /// Number of the cloth in the book, shown wherever its colour is.
    pub number: Option<usize>,
    pub name: String,
    /// Its colour, or the drawing of its hatching; nothing for batting and thread.
    pub colour: Option<String>,
    /// `dark; one way up`.
    pub about: String,
    /// Usable width, or the sizes it comes in.
    pub width: String,
    /// `1 7/8 yd`.
    pub buy: String,
    pub price: String,
    /// How that came about.
    pub workings: Vec<String>,
}

/// The shopping list.
#[derive(Debug, Serialize)]
pub struct Shopping {
    pub lines: Vec<Buy>,
    /// What everything that has a price costs.
    pub total: Option<String>,
    /// What is in the lengths: shrinkage and reserve, in words.
    pub holds: String,
    /// What is not in the list.
    pub lacks: Option<String>,
}

/// A cloth, or the batting, and how it is cut up.
#[derive(Debug, Serialize)]
pub struct CutUp {
    pub number: Option<usize>,
    pub name: String,
    pub colour: Option<String>,
    pub buy: String,
    pub width: String,
    pub pieces: Vec<Piece>,
    /// How good the layout is.
    pub proof: String,
    pub drawings: Vec<Drawing>,
    /// `6 7/8, 4 7/8, 2 1/2`.
    pub rulers: String,
    /// `2 of 6 × 14`.
    pub offcuts: Vec<String>,
}

/// A drawing of strips.
#[derive(Debug, Serialize)]
pub struct Drawing {
    pub figure: Figure,
    pub title: String,
    /// What is cut up: `42 × 124 1/2 in`.
    pub of: String,
    /// Its height by its width.
    pub shape: f64,
    /// Its cuts.
    pub lines: Vec<Line>,
}

/// A line of the cut list.
#[derive(Debug, Serialize)]
pub struct Piece {
    pub name: String,
    pub cut: String,
    pub way: String,
    pub size: String,
    pub exact: String,
    pub uses: String,
}

/// Equal cuts.
#[derive(Debug, Serialize)]
pub struct Line {
    pub number: String,
    pub depth: usize,
    pub ruler: String,
    pub times: u32,
    pub gives: String,
}

/// The shopping list.
pub fn shopping(quilt: &Quilt, plan: &Plan, figures: &mut Figures) -> Shopping {
    let mut lines: Vec<Buy> = plan.cutting.bought.iter().map(|bought| buy(quilt, bought, figures)).collect();
    let thread = &plan.cutting.thread;
    lines.push(Buy {
        number: None,
        name: tr!("Thread for piecing"),
        colour: None,
        about: tr!("needle and bobbin together"),
        width: quilt
            .thread
            .map_or_else(String::new, |kind| tr!("{spool} on a spool", spool = words::long(quilt, kind.spool.value()))),
        buy: words::thread(quilt, thread),
        price: thread.price.map_or_else(String::new, shown_money),
        workings: thread.workings().map(seamfall_model::Working::line).collect(),
    });
    let not_there = [
        (quilt.backing.is_none(), tr!("backing")),
        (quilt.batting.is_none(), tr!("batting")),
        (quilt.binding.is_none(), tr!("binding")),
    ];
    let mut lacks: Vec<String> = not_there.into_iter().filter(|(lacks, _)| *lacks).map(|(_, what)| what).collect();
    lacks.push(tr!("thread for quilting"));
    Shopping {
        lines,
        total: plan.cutting.price().map(shown_money),
        holds: words::holds(quilt),
        lacks: Some(tr!("Not in this list: {lacks}.", lacks = lacks.join(", "))),
    }
}

fn buy(quilt: &Quilt, bought: &ToBuy, figures: &mut Figures) -> Buy {
    let cloth = bought.of.cloth().map(|id| &quilt.cloths[id.0]);
    let mut workings = match &bought.laid {
        Some(Laid::OffTheBolt(laid)) => vec![laid.needed.line(), laid.length.line()],
        _ => Vec::new(),
    };
    workings.push(words::proof(quilt, bought));
    if let Some(instead) = &bought.instead {
        workings.push(tr!("Bought the other way it would be {instead}.", instead));
    }
    Buy {
        number: bought.of.cloth().map(|id| id.0 + 1),
        name: bought.of.name(quilt),
        colour: bought.of.cloth().map(|id| figures.swatch(quilt, id)),
        about: cloth.map_or_else(String::new, |cloth| format!("{}; {}", cloth.value.said(), words::print(cloth.print))),
        width: width(quilt, bought),
        buy: bought.shown(quilt),
        price: bought.price.map_or_else(String::new, shown_money),
        workings,
    }
}

/// Usable width, or that it comes in sizes.
fn width(quilt: &Quilt, bought: &ToBuy) -> String {
    match bought.laid {
        Some(Laid::OutOfSizes(_)) => tr!("in sizes"),
        _ => bought.of.width(quilt).map_or_else(String::new, |width| width.shown_with_unit(quilt.step)),
    }
}

/// All that is cut, cloth by cloth.
pub fn cut_up(quilt: &Quilt, plan: &Plan, figures: &mut Figures) -> Vec<CutUp> {
    plan.cutting.bought.iter().map(|bought| one(quilt, plan, bought, figures)).collect()
}

fn one(quilt: &Quilt, plan: &Plan, bought: &ToBuy, figures: &mut Figures) -> CutUp {
    let sheets = sheets(quilt, &plan.cutting, bought);
    let colour = bought.of.cloth().map(|id| figures.swatch(quilt, id));
    let drawings = seamfall_draw::cloth_svgs(quilt, plan, bought, figures.paint).into_iter().map(|drawing| Drawing {
        shape: drawing.size[1] / drawing.size[0],
        figure: Figure { path: figures.cloth(drawing.svg), alt: tr!("How it is cut: {title}", title = drawing.title) },
        title: drawing.title,
        of: words::sheet(quilt, &sheets[drawing.sheet]),
        lines: lines(quilt, &sheets[drawing.sheet].lines[drawing.lines]),
    });
    CutUp {
        number: bought.of.cloth().map(|id| id.0 + 1),
        name: bought.of.name(quilt),
        colour,
        buy: bought.shown(quilt),
        width: match bought.laid {
            Some(Laid::OutOfSizes(_)) => width(quilt, bought),
            _ => tr!("{width} wide", width = width(quilt, bought)),
        },
        pieces: pieces(quilt, plan, bought.of),
        proof: words::proof(quilt, bought),
        drawings: drawings.collect(),
        rulers: words::rulers(quilt, &sheets),
        offcuts: words::offcuts(quilt, bought),
    }
}

fn lines(quilt: &Quilt, lines: &[CutLine]) -> Vec<Line> {
    let line = |line: &CutLine| Line {
        number: line.number.clone(),
        depth: line.depth,
        ruler: line.ruler.shown(quilt.step),
        times: line.times,
        gives: line.gives.clone(),
    };
    lines.iter().map(line).collect()
}

fn pieces(quilt: &Quilt, plan: &Plan, of: Material) -> Vec<Piece> {
    plan.cutting
        .pieces
        .iter()
        .filter(|piece| piece.of == of)
        .map(|piece| {
            let (cut, mut way) = words::way(quilt, piece, piece.needed);
            if piece.grain == seamfall_model::Grain::Along && !matches!(piece.way, Way::Joined { .. }) {
                way = [way.as_str(), &tr!("along the selvage")]
                    .iter()
                    .filter(|part| !part.is_empty())
                    .copied()
                    .collect::<Vec<_>>()
                    .join(", ");
            }
            Piece {
                name: piece.name.clone(),
                cut,
                way,
                size: words::cut_size(quilt, piece),
                exact: words::exact_size(piece),
                uses: words::uses(quilt, plan, &piece.uses),
            }
        })
        .collect()
}
