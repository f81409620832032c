//! A facing behind an edge that is no rectangle.
//!
//! In: the real sides. Out: a strip for every straight stretch, equal ones together, and for every bend the piece of cloth that its shape is cut
//! from: as wide behind the edge as the strips, by the template of the corner.

use super::RealSide;
use super::answer::{Answer, Impossible, Ruler, more_than_nothing};
use seamfall_geom::{Edge, TOLERANCE, Turn};
use seamfall_model::{EdgeRule, Length, Working, term};
use tr::tr;

/// Pieces of a facing.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct ShapedFacing {
    /// Width of all strips.
    pub width: Working,
    /// Strips along straight stretches.
    pub strips: Vec<Strips>,
    /// Pieces for bends.
    pub bent: Vec<Bent>,
}

/// Strips of one length.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Strips {
    pub count: usize,
    pub length: Working,
}

/// Pieces of one size from which the facing of a bend is cut.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Bent {
    pub count: usize,
    pub size: [Working; 2],
}

/// A facing `depth` deep behind `sides`.
pub(super) fn facing(sides: &[RealSide], depth: Length, ruler: Ruler) -> Result<ShapedFacing, Impossible> {
    more_than_nothing(ruler, &tr!("the depth"), depth)?;
    let (mut strips, mut bent): (Vec<Strips>, Vec<Bent>) = (Vec::new(), Vec::new());
    for edge in sides.iter().flat_map(|side| &side.edges) {
        let Edge::Arc { turn, .. } = edge else {
            let length = term(&tr!("side"), edge.length()) + ruler.seam() * 2.0;
            let length = ruler.cut(EdgeRule::Facing, &tr!("length of the strip"), length);
            match strips.iter_mut().find(|known| (known.length.exact - length.exact).abs() < TOLERANCE) {
                Some(known) => known.count += 1,
                None => strips.push(Strips { count: 1, length }),
            }
            continue;
        };
        let radius = edge.radius().unwrap_or(0.0);
        if *turn == Turn::Left && depth.value() >= radius {
            let most = radius - ruler.step.size();
            let reason = tr!(
                "a facing {depth} deep has no room round a bend of {radius}",
                depth = ruler.shown(depth),
                radius = ruler.shown(Length::new(radius))
            );
            return Err(Impossible::new(reason, tr!("make it {most} or less", most = ruler.shown(Length::new(most))), most));
        }
        let seam = ruler.allowance.0.value();
        // Outward of the edge an allowance, inward the depth and what is turned under; at either end an allowance besides.
        let outward = if *turn == Turn::Left { 1.0 } else { -1.0 };
        let bounds = [outward * seam, -outward * (depth.value() + seam)]
            .map(|off| widened(edge, (radius + off).max(0.0) / radius).bounds())
            .into_iter()
            .fold(edge.bounds(), |all, one| all.union(one));
        let side = |what: &str, across: f64| ruler.cut(EdgeRule::Facing, what, term(&tr!("bend"), across) + ruler.seam() * 2.0);
        let size = [
            side(&tr!("width of the piece for a bend"), bounds.width()),
            side(&tr!("height of the piece for a bend"), bounds.height()),
        ];
        let is_like = |known: &&mut Bent| (0..2).all(|i| (known.size[i].exact - size[i].exact).abs() < TOLERANCE);
        match bent.iter_mut().find(is_like) {
            Some(known) => known.count += 1,
            None => bent.push(Bent { count: 1, size }),
        }
    }
    let width = ruler.cut(EdgeRule::Facing, &tr!("width of the strip"), term(&tr!("depth"), depth.value()) + ruler.seam() * 2.0);
    Ok(ShapedFacing { width, strips, bent })
}

/// An arc about the same centre, `scale` times as far from it.
fn widened(edge: &Edge, scale: f64) -> Edge {
    let Edge::Arc { from, to, centre, turn } = *edge else { return *edge };
    Edge::Arc { from: centre + (from - centre) * scale, to: centre + (to - centre) * scale, centre, turn }
}

impl ShapedFacing {
    /// The answer, with the way to sew it.
    pub fn answer(&self) -> Answer {
        let mut figures = vec![("width", &self.width)];
        figures.extend(self.strips.iter().map(|strip| ("strip", &strip.length)));
        figures.extend(self.bent.iter().flat_map(|piece| piece.size.iter().map(|size| ("bend", size))));
        let answer = Answer::new("facing", figures).steps([
            tr!("Turn under an allowance along one long side of every strip and press."),
            tr!("Sew the strips on, right sides together, clip inside corners to the seam and trim outside ones; turn them to the back."),
            tr!("Let the front roll over the edge a little and slip-stitch the strips down, one end over the other."),
        ]);
        if self.bent.is_empty() {
            return answer;
        }
        answer.steps([tr!(
            "Cut the piece for a bend by the template of the corner, as deep as the strips, and clip its seam all along."
        )])
    }
}
