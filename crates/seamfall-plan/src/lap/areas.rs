//! What quilting designs are laid on: blocks, frames, sashing, bands, the whole quilt.
//!
//! In: the quilt, its drafts and its top. Out: for what a design is laid on, its areas, each once in its own coordinates, with the
//! poses that bring it to every place where it lies. Equal frames and equal strips are one area.

use crate::draft::Draft;
use crate::set::{PieceKind, Top, TopPiece};
use seamfall_geom::{Edge, Loop, Point, Pose, Rect, Vec2, node};
use seamfall_model::{Corners, Layout, Quilt, QuiltedOn};
use std::collections::BTreeMap;

/// An area in its own coordinates.
#[derive(Debug, Clone)]
pub(super) struct Area {
    pub outline: Loop,
    pub shape: AreaShape,
    /// Every seam in it, each stretch once.
    pub seams: Vec<Edge>,
    /// Its mitred seams, from the inner corner outward.
    pub mitres: Vec<Edge>,
    /// What is sewn together in it: the outline and the holes of each patch or strip.
    pub patches: Vec<Vec<Loop>>,
    /// What is laid over.
    pub overlays: Vec<Loop>,
}

/// How an area is filled.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum AreaShape {
    /// As a whole.
    Block,
    /// Along its length, which is level.
    Strip,
    /// Round the rectangle inside it.
    Ring(Rect),
}

/// Where an area lies.
#[derive(Debug, Clone, Copy)]
pub(super) struct At {
    pub pose: Pose,
    /// Its section; none where it runs across several.
    pub section: Option<usize>,
}

/// Areas, each with its places.
pub(super) type Areas = Vec<(Area, Vec<At>)>;

/// The areas of `on`.
pub(super) fn areas(quilt: &Quilt, drafts: &[Draft], top: &Top, on: QuiltedOn) -> Areas {
    match on {
        QuiltedOn::Block(block) => {
            let places = top.places.iter().filter(|place| place.block == block);
            let at: Vec<At> = places.map(|place| At { pose: place.pose, section: Some(place.section) }).collect();
            vec![(of_block(&drafts[block.0]), at)]
        }
        QuiltedOn::Frame(frame) => frames(quilt, top, frame),
        QuiltedOn::Sashing => sashes(top),
        QuiltedOn::Band(band) => vec![(of_band(quilt, top, band), vec![At { pose: Pose::IDENTITY, section: None }])],
        QuiltedOn::Quilt => vec![(of_quilt(drafts, top), vec![At { pose: Pose::IDENTITY, section: None }])],
    }
}

fn of_block(draft: &Draft) -> Area {
    let overlays: Vec<Loop> = draft.overlays.iter().map(|overlay| overlay.outline.clone()).collect();
    let over = overlays.iter().flat_map(|overlay| overlay.edges().to_vec());
    Area {
        outline: draft.outline.clone(),
        shape: AreaShape::Block,
        seams: draft.seams.iter().map(|seam| seam.edge).chain(over).collect(),
        mitres: Vec::new(),
        patches: patches(draft, Pose::IDENTITY),
        overlays,
    }
}

fn patches(draft: &Draft, pose: Pose) -> Vec<Vec<Loop>> {
    let of =
        |patch: &crate::draft::Patch| std::iter::once(&patch.outline).chain(&patch.holes).map(|one| one.moved(pose)).collect();
    draft.patches.iter().map(of).collect()
}

/// A name for a shape, to a millionth.
pub(super) fn name_of(outline: &Loop) -> Vec<i64> {
    let micro = |x: f64| (x * 1e6).round() as i64;
    outline.corners().flat_map(|p| [micro(p.x), micro(p.y)]).collect()
}

fn frames(quilt: &Quilt, top: &Top, frame: seamfall_model::FrameId) -> Areas {
    let tilt = if matches!(quilt.setting.layout, Layout::OnPoint { .. }) { 45.0 } else { 0.0 };
    let mut strips: BTreeMap<usize, Vec<&TopPiece>> = BTreeMap::new();
    for strip in &top.strips {
        if let PieceKind::Frame { place, .. } | PieceKind::FrameSquare { place, .. } = strip.kind {
            strips.entry(place).or_default().push(strip);
        }
    }
    let width: f64 = quilt.frames[frame.0].strips.iter().map(|strip| strip.width.value()).sum();
    let mitred = quilt.frames[frame.0].corners == Corners::Mitred;
    let mut found: Vec<(Vec<i64>, Area, Vec<At>)> = Vec::new();
    for (number, place) in top.places.iter().enumerate().filter(|(_, place)| place.frame == Some(frame)) {
        let middle = place.outline.bounds().center();
        let cell = Pose::turn_deg(tilt).then(Pose::shift(middle.to_vec2()));
        let inner = place.outline.moved(cell.inverse()).bounds();
        let (name, at) = (name_of(&Loop::rect(inner)), At { pose: cell, section: Some(place.section) });
        if let Some((_, _, places)) = found.iter_mut().find(|(known, _, _)| *known == name) {
            places.push(at);
            continue;
        }
        let pieces = strips.get(&number).into_iter().flatten().map(|strip| strip.outline.moved(cell.inverse())).collect();
        found.push((name, ring(inner, width, mitred, pieces), vec![at]));
    }
    found.into_iter().map(|(_, area, at)| (area, at)).collect()
}

fn of_band(quilt: &Quilt, top: &Top, band: usize) -> Area {
    let outside: f64 = quilt.bands[band + 1..].iter().map(|band| band.width.value()).sum();
    let width = quilt.bands[band].width.value();
    let outer = Rect::new(0.0, 0.0, top.size.x, top.size.y).inset(-outside);
    let is_part = |strip: &&TopPiece| match strip.kind {
        PieceKind::Band { band: of, .. } | PieceKind::BandSquare { band: of } => of == band,
        _ => false,
    };
    let pieces = top.strips.iter().filter(is_part).map(|strip| strip.outline.clone()).collect();
    ring(outer.inset(-width), width, quilt.bands[band].corners == Corners::Mitred, pieces)
}

/// The strips round `inner`.
fn ring(inner: Rect, width: f64, mitred: bool, pieces: Vec<Loop>) -> Area {
    let outer = inner.inflate(width, width);
    let outline = Loop::rect(outer);
    let sides: Vec<Edge> = pieces.iter().flat_map(|piece| piece.edges().to_vec()).collect();
    let inside = |edge: &Edge| outline.edges().iter().all(|side| side.distance_to(edge.at(0.5)) > 1e-6);
    let seams = node(&sides).edges.into_iter().map(|edge| edge.edge).filter(inside).collect();
    let corners = |rect: Rect| Loop::rect(rect).corners().collect::<Vec<_>>();
    let mitre = |(from, to): (Point, Point)| Edge::Line { from, to };
    let mitres = if mitred { corners(inner).into_iter().zip(corners(outer)).map(mitre).collect() } else { Vec::new() };
    Area {
        outline,
        shape: AreaShape::Ring(inner),
        seams,
        mitres,
        patches: pieces.into_iter().map(|piece| vec![piece]).collect(),
        overlays: Vec::new(),
    }
}

/// Strips of sashing, laid level, equal ones together.
fn sashes(top: &Top) -> Areas {
    let mut found: Vec<(Vec<i64>, Area, Vec<At>)> = Vec::new();
    for strip in top.strips.iter().filter(|strip| strip.kind == PieceKind::Sash) {
        let Some(longest) = strip.outline.edges().iter().reduce(|a, b| if b.length() > a.length() + 1e-6 { b } else { a }) else {
            continue;
        };
        let way = longest.direction_from();
        let pose = Pose::turn_deg(libm::atan2(way.y, way.x).to_degrees()).then(Pose::shift(longest.from().to_vec2()));
        let outline = strip.outline.moved(pose.inverse());
        let (name, at) = (name_of(&outline), At { pose, section: Some(strip.section) });
        if let Some((_, _, places)) = found.iter_mut().find(|(known, _, _)| *known == name) {
            places.push(at);
            continue;
        }
        let area = Area {
            seams: outline.edges().to_vec(),
            patches: vec![vec![outline.clone()]],
            outline,
            shape: AreaShape::Strip,
            mitres: Vec::new(),
            overlays: Vec::new(),
        };
        found.push((name, area, vec![at]));
    }
    found.into_iter().map(|(_, area, at)| (area, at)).collect()
}

fn of_quilt(drafts: &[Draft], top: &Top) -> Area {
    let outline = Loop::rect(Rect::new(0.0, 0.0, top.size.x, top.size.y));
    let outlines = top.places.iter().map(|place| &place.outline).chain(top.strips.iter().map(|strip| &strip.outline));
    let sides: Vec<Edge> = outlines.flat_map(|one| one.edges().to_vec()).collect();
    let inside = |edge: &Edge| outline.edges().iter().all(|side| side.distance_to(edge.at(0.5)) > 1e-6);
    let mut seams: Vec<Edge> = node(&sides).edges.into_iter().map(|edge| edge.edge).filter(inside).collect();
    let mut all = Vec::new();
    for place in &top.places {
        let draft = &drafts[place.block.0];
        seams.extend(draft.seams.iter().map(|seam| seam.edge.moved(place.pose)));
        all.extend(patches(draft, place.pose));
    }
    all.extend(top.strips.iter().map(|strip| vec![strip.outline.clone()]));
    Area { outline, shape: AreaShape::Block, seams, mitres: Vec::new(), patches: all, overlays: Vec::new() }
}

impl Area {
    /// The rows along which motifs stand in a strip or a ring: where the row's own coordinates lie, its length, its width. Level,
    /// about the middle.
    pub fn rows(&self) -> Vec<(Pose, f64, f64)> {
        match self.shape {
            AreaShape::Block => Vec::new(),
            AreaShape::Strip => {
                let bounds = self.outline.bounds();
                vec![(Pose::shift(bounds.center().to_vec2()), bounds.width(), bounds.height())]
            }
            AreaShape::Ring(inner) => {
                let width = (self.outline.bounds().width() - inner.width()) / 2.0;
                let row = |turns: f64, length: f64, off: f64| {
                    let middle = Pose::shift(Vec2::new(0.0, -off - width / 2.0));
                    (middle.then(Pose::turn_deg(90.0 * turns)).then(Pose::shift(inner.center().to_vec2())), length, width)
                };
                let (w, h) = (inner.width(), inner.height());
                vec![row(0.0, w, h / 2.0), row(1.0, h, w / 2.0), row(2.0, w, h / 2.0), row(3.0, h, w / 2.0)]
            }
        }
    }
}
