//! The edge of the quilt: binding, bias, points, scallops and waves, ruffles, facings; what is sewn on last; and the cover.
//!
//! In: the quilt and its top. Out: the real edge with its length, every figure with its working, what is cut for it, and what to mind. It reads
//! the top alone, so that [`cut`](crate::cut) can cut what it asks for. The same answers can be had without a quilt, from the functions
//! of [`binding`], [`bias`], [`points`], [`scallops`], [`ruffle`], [`sleeve`] and [`cover`]. It draws nothing.

mod arcs;
pub mod bias;
pub mod binding;
mod cautions;
pub mod cover;
mod pieces;
pub mod points;
pub mod ruffle;
pub mod scallops;
mod shaped;
pub mod sides;
pub mod sleeve;
#[cfg(test)]
mod tests;

pub use crate::answer::{Answer, Figure, Impossible, Ruler};
pub use crate::caution::Caution;
pub use binding::Round;
pub use sides::RealSide;

use crate::Staged;
use crate::answer;
use crate::cut::EdgePiece;
use crate::set::Top;
use bias::BiasTube;
use pieces::Pieces;
use scallops::{Curve, CurvedEdge, Wish};
use seamfall_geom::Loop;
use seamfall_model::{Arcs, BindingOn, Cover, EdgeFinish, Finding, Length, Quilt, Spot};
use tr::tr;

/// How a quilt is finished.
#[derive(Debug, Clone, PartialEq)]
pub struct Finish {
    /// The edge, once round.
    pub round: Round,
    /// The sides of the top's outline, from its first corner on, anticlockwise: what lies between two corners.
    pub sides: Vec<RealSide>,
    /// The edge as it is cut, where it has scallops or waves.
    pub curved: Option<CurvedEdge>,
    /// The square that bias is cut from, if it is.
    pub bias: Option<BiasTube>,
    /// A prairie point, if they go round.
    pub point: Option<points::Point>,
    /// How many points stand along each of [`Finish::sides`], and how far apart, if they go round.
    pub points: Vec<points::Along>,
    /// Figures and steps, part by part.
    pub answers: Vec<Answer>,
    /// What is cut for it.
    pub pieces: Vec<EdgePiece>,
    /// What to take care of.
    pub cautions: Vec<Caution>,
}

impl Finish {
    /// The edge as it is cut and bound: that of the arcs, where it has any.
    #[must_use]
    pub fn edge<'a>(&'a self, top: &'a Top) -> &'a Loop {
        self.curved.as_ref().map_or(&top.outline, |edge| &edge.outline)
    }
}

/// Works out how the edge of `top` is finished.
#[must_use]
pub fn derive(quilt: &Quilt, top: &Top) -> Staged<Finish> {
    let ruler = Ruler::of(quilt);
    let mut findings = Vec::new();
    let mut finish = Finish {
        round: Round::of(&top.outline, ruler.allowance.0.value()),
        sides: sides::sides(&top.outline),
        curved: None,
        bias: None,
        point: None,
        points: Vec::new(),
        answers: Vec::new(),
        pieces: Vec::new(),
        cautions: cautions::of(quilt, top),
    };
    // Where the top could not be set there is no edge; that has been said.
    if top.size.x <= 0.0 || top.size.y <= 0.0 {
        return Staged { result: finish, findings };
    }
    let mut said = |spot: Spot, trouble: Impossible| findings.push(Finding::stop(spot, trouble.reason).help(trouble.nearest));
    if let Some((curve, arcs)) = curve(&quilt.finish.edge) {
        match curved(quilt, top, curve, arcs, ruler) {
            Ok((edge, answer)) => {
                finish.round = Round::of(&edge.outline, ruler.allowance.0.value());
                finish.curved = Some(edge);
                finish.answers.push(answer);
            }
            Err(trouble) => said(Spot::Edge, trouble),
        }
    }
    let changed = !top.corners.is_empty();
    let mut pieces = Pieces { quilt, ruler, size: top.size, changed, finish: &mut finish };
    for (spot, result) in
        [(Spot::Edge, pieces.edge()), (Spot::Edge, pieces.binding()), (Spot::Edge, pieces.last()), (Spot::Cover, pieces.cover())]
    {
        if let Err(trouble) = result {
            said(spot, trouble);
        }
    }
    findings.extend(what_disappoints(quilt, &finish));
    Staged { result: finish, findings }
}

fn curve(edge: &EdgeFinish) -> Option<(Curve, Arcs)> {
    match *edge {
        EdgeFinish::Scallops(arcs) => Some((Curve::Scallops, arcs)),
        EdgeFinish::Waves(arcs) => Some((Curve::Waves, arcs)),
        _ => None,
    }
}

fn curved(quilt: &Quilt, top: &Top, curve: Curve, arcs: Arcs, ruler: Ruler) -> Result<(CurvedEdge, Answer), Impossible> {
    let corner = arcs.corner.unwrap_or_else(|| Wish::usual_corner(curve, arcs.width, arcs.depth));
    let wish = Wish { curve, about: arcs.width, depth: arcs.depth, corner };
    let band = quilt.bands.last().map(|band| band.width);
    if let Some(band) = band {
        scallops::in_band(&wish, band, ruler)?;
    }
    let edge = scallops::round_edge(&top.outline, &wish, ruler)?;
    let answer = scallops::answer_of(&edge, &wish, ruler);
    Ok((edge, answer))
}

/// What can be sewn and will disappoint.
fn what_disappoints(quilt: &Quilt, finish: &Finish) -> Vec<Finding> {
    let mut findings = Vec::new();
    if let Some(binding) = quilt.binding.filter(|binding| binding.on == BindingOn::Straight && finish.round.curved) {
        let reason =
            tr!("a binding on the straight of {cloth} does not lie round a curve", cloth = quilt.cloths[binding.cloth.0].name);
        findings.push(
            Finding::warn(Spot::Edge, reason)
                .help(tr!("write `on = \"bias\"` under `[binding]`"))
                .set(&["binding", "on"], "bias"),
        );
    }
    let inch = quilt.measure.inch();
    if matches!(quilt.finish.edge, EdgeFinish::PrairiePoints { .. }) && quilt.lap.margin.value() < inch * (1.0 - 0.02) {
        let inch = Length::new(if inch == 1.0 { 1.0 } else { 2.5 }).shown_with_unit(quilt.step);
        let reason =
            tr!("with prairie points the back is turned under at the edge, and quilting stays {inch} away from it", inch);
        let help = tr!("set the `margin` of `[lap]` to {inch}", inch);
        findings.push(Finding::warn(Spot::Edge, reason).help(help).set(&["lap", "margin"], inch));
    }
    if let Some(cover) = quilt.finish.cover.filter(|cover| cover.ties.is_some()) {
        let longest = Cover::usual(quilt.measure, cover.lining).tie_length;
        if cover.tie_length > longest {
            let (long, most) = (cover.tie_length.shown_with_unit(quilt.step), longest.shown_with_unit(quilt.step));
            let reason = tr!("ties with ends of {long} are long ties, which have no place where small children sleep", long);
            let help = tr!("make `tie-length` {most} or less", most);
            findings.push(Finding::warn(Spot::Cover, reason).help(help).set(&["cover", "tie-length"], most));
        }
    }
    findings
}
