//! Templates and quilting lines for machines, as DXF.
//!
//! One file of templates holds all templates of a block in a row, on the layers CUT, SEW, NOTCH, GRAIN and LABEL, at true size with the unit
//! in `$INSUNITS`. Outlines are closed LWPOLYLINEs whose arcs are bulges (AutoCAD 2000 DXF Reference, group code 42), so that
//! a cutter follows each in one go. The lines of a section lie on NOW, AFTER-JOIN, MARGIN and OUTLINE, each line of a design one
//! LWPOLYLINE, open unless it ends where it starts.

use crate::block::room;
use crate::section::from_front;
use crate::template::bounds;
use dxf::entities::{Entity, EntityType, Line, LwPolyline, Text};
use dxf::enums::{AcadVersion, Units};
use dxf::{Color, Drawing, LwPolylineVertex};
use seamfall_geom::{Edge, Point, Pose, TipTrim, Turn, Vec2, grow};
use seamfall_model::{Measure, Quilt};
use seamfall_plan::Plan;
use seamfall_plan::draft::Draft;

/// Layers and their colours by the AutoCAD colour index.
const LAYERS: [(&str, u8); 5] = [("CUT", 7), ("SEW", 5), ("NOTCH", 1), ("GRAIN", 3), ("LABEL", 8)];

/// Layers of quilting lines.
const LAP_LAYERS: [(&str, u8); 4] = [("NOW", 7), ("AFTER-JOIN", 5), ("MARGIN", 3), ("OUTLINE", 8)];

/// All templates of a block, for a cutting machine.
#[must_use]
pub fn template_dxf(quilt: &Quilt, draft: &Draft) -> String {
    let inch = quilt.measure.inch();
    let mut drawing = blank(quilt, &LAYERS);
    let mut left = 0.0;
    for piece in &draft.templates {
        let outline = bounds(piece);
        let pose = Pose::shift(Vec2::new(left - outline.x0, -outline.y0));
        left += outline.width() + inch;
        let mut add = |layer: &str, specific: EntityType| put(&mut drawing, layer, specific);
        if let Some(cut) = &piece.cut {
            add("CUT", polyline(cut.edges(), pose));
        }
        for closed in std::iter::once(&piece.finished).chain(&piece.holes) {
            add("SEW", polyline(closed.edges(), pose));
        }
        for notch in &piece.notches {
            add("NOTCH", line(pose.apply(notch.from), pose.apply(notch.to)));
        }
        let middle = piece.finished.label_point();
        let space = room(std::iter::once(&piece.finished).chain(&piece.holes), middle);
        let up = Vec2::new(0.0, space * 0.8);
        add("GRAIN", line(pose.apply(middle - up), pose.apply(middle + up)));
        let size = (space * 0.5).min(0.36 * inch);
        let at = pose.apply(middle) + Vec2::new(size * 0.2, -size / 2.0);
        add(
            "LABEL",
            EntityType::Text(Text { location: point(at), text_height: size, value: piece.letter.clone(), ..Default::default() }),
        );
    }
    written(&drawing)
}

/// The quilting lines of section `section` in its own coordinates, its lower left corner at the origin; `mirrored` for its back.
/// Nothing where there is no such section.
#[must_use]
pub fn section_dxf(quilt: &Quilt, plan: &Plan, section: usize, mirrored: bool) -> Option<String> {
    let pattern = &plan.lap.patterns[plan.lap.sections.get(section)?.pattern];
    let pose = from_front(pattern.outline.bounds().width(), mirrored);
    let mut drawing = blank(quilt, &LAP_LAYERS);
    put(&mut drawing, "OUTLINE", polyline(pattern.outline.edges(), pose));
    if let Ok(margin) = grow(&pattern.outline, -plan.lap.clear, TipTrim::Full) {
        put(&mut drawing, "MARGIN", polyline(margin.edges(), pose));
    }
    for line in &pattern.lines {
        put(&mut drawing, if line.now { "NOW" } else { "AFTER-JOIN" }, polyline(&line.edges, pose));
    }
    Some(written(&drawing))
}

/// A drawing with its unit and its layers.
pub(crate) fn blank(quilt: &Quilt, layers: &[(&str, u8)]) -> Drawing {
    let mut drawing = Drawing::new();
    drawing.header.version = AcadVersion::R2000;
    drawing.header.default_drawing_units = match quilt.measure {
        Measure::Inch => Units::Inches,
        Measure::Centimetre => Units::Centimeters,
    };
    for &(name, colour) in layers {
        drawing.add_layer(dxf::tables::Layer { name: name.to_owned(), color: Color::from_index(colour), ..Default::default() });
    }
    drawing
}

pub(crate) fn put(drawing: &mut Drawing, layer: &str, specific: EntityType) {
    let mut entity = Entity::new(specific);
    layer.clone_into(&mut entity.common.layer);
    drawing.add_entity(entity);
}

pub(crate) fn written(drawing: &Drawing) -> String {
    let mut bytes = Vec::new();
    drawing.save(&mut bytes).expect("writing to memory does not fail, and every entity is known to R2000");
    timeless(&String::from_utf8_lossy(&bytes))
}

/// Without the header variables that tell when, and as which unique drawing, a file was made: the same plan gives the same file.
fn timeless(dxf: &str) -> String {
    const LEFT_OUT: [&str; 6] = ["$TDCREATE", "$TDUCREATE", "$TDUPDATE", "$TDUUPDATE", "$FINGERPRINTGUID", "$VERSIONGUID"];
    let lines: Vec<_> = dxf.lines().collect();
    let mut out = String::with_capacity(dxf.len());
    // A variable is two pairs of lines: code 9 and its name, the code of its value and the value.
    let mut rest = lines.chunks(2).peekable();
    while let Some(pair) = rest.next() {
        if pair[0].trim() == "9" && pair.get(1).is_some_and(|name| LEFT_OUT.contains(name)) {
            rest.next();
            continue;
        }
        for line in pair {
            out.push_str(line);
            out.push_str("\r\n");
        }
    }
    out
}

/// Edges that follow one another; closed where they end at their start.
pub(crate) fn polyline(edges: &[Edge], pose: Pose) -> EntityType {
    let (Some(first), Some(last)) = (edges.first(), edges.last()) else { return EntityType::LwPolyline(LwPolyline::default()) };
    let closed = (first.from() - last.to()).hypot2() < 1e-12;
    // A bulge holds less than a whole turn.
    let parts = edges.iter().flat_map(|edge| halves(edge.moved(pose)));
    let mut vertices: Vec<LwPolylineVertex> = parts
        .map(|edge| {
            let at = edge.from();
            LwPolylineVertex { x: at.x, y: at.y, bulge: bulge(&edge), ..Default::default() }
        })
        .collect();
    if !closed {
        let end = pose.apply(last.to());
        vertices.push(LwPolylineVertex { x: end.x, y: end.y, ..Default::default() });
    }
    let mut line = LwPolyline { vertices, ..Default::default() };
    line.set_is_closed(closed);
    EntityType::LwPolyline(line)
}

/// An arc of more than half a turn as two, any other edge as it is.
fn halves(edge: Edge) -> Vec<Edge> {
    match edge {
        Edge::Arc { from, to, centre, turn } if edge.sweep().is_some_and(|angle| angle > std::f64::consts::PI + 1e-9) => {
            let middle = edge.at(0.5);
            vec![Edge::Arc { from, to: middle, centre, turn }, Edge::Arc { from: middle, to, centre, turn }]
        }
        _ => vec![edge],
    }
}

/// Tangent of a quarter of the angle swept, positive anticlockwise: twice the height of the arc over its chord.
fn bulge(edge: &Edge) -> f64 {
    let Edge::Arc { from, to, turn, .. } = *edge else { return 0.0 };
    let height = (edge.at(0.5) - from.midpoint(to)).hypot2().sqrt();
    let bulge = 2.0 * height / (to - from).hypot2().sqrt();
    if turn == Turn::Left { bulge } else { -bulge }
}

pub(crate) fn line(from: Point, to: Point) -> EntityType {
    EntityType::Line(Line { p1: point(from), p2: point(to), ..Default::default() })
}

pub(crate) fn point(at: Point) -> dxf::Point {
    dxf::Point::new(at.x, at.y, 0.0)
}
