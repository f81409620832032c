//! A mat of a cutting machine with its pieces, at true size: as DXF and as SVG.
//!
//! In: what the plan laid on a mat. Out: one file, its origin at the mat's lower left corner (in DXF; an SVG's y runs down). Both have the layers
//! CUT, SEW, NOTCH, LABEL and MAT: the machine is told to cut the first, and what of the others it draws is the maker's choice. A label names a
//! piece and lies the right way round for the side of the cloth that is up.

use crate::block::room;
use crate::cutter::{blank, line, point, polyline, put, written};
use crate::page::{Page, number};
use crate::text::{Anchor, Escaped, Label, Tone, width};
use dxf::entities::{EntityType, Text};
use seamfall_geom::{Loop, Point, Pose, Rect};
use seamfall_model::Quilt;
use seamfall_plan::Plan;
use seamfall_plan::draft::Template;
use seamfall_plan::mats::{ClothMats, Laid, Mat, MatPiece};
use std::fmt::Write;
use tr::tr;

/// Layers and their colours by the AutoCAD colour index.
const LAYERS: [(&str, u8); 5] = [("CUT", 7), ("SEW", 5), ("NOTCH", 1), ("LABEL", 8), ("MAT", 9)];

/// Sizes on the mat, in inches: strokes and the largest label.
const STROKE: f64 = 0.01;
const LABEL: f64 = 0.25;

/// A piece on the mat.
struct Piece<'a> {
    template: &'a Template,
    pose: Pose,
    label: String,
}

impl<'a> Piece<'a> {
    fn all(plan: &'a Plan, cloth: &'a ClothMats, laid: &'a Laid) -> impl Iterator<Item = Self> {
        laid.places.iter().map(|&(kind, pose)| {
            let of: &MatPiece = &cloth.pieces[kind];
            let template = of.of(plan);
            Self { template, pose, label: format!("{}{}", seamfall_model::letters(of.block.0), template.letter.to_lowercase()) }
        })
    }

    fn sewn(&self) -> impl Iterator<Item = &'a Loop> {
        std::iter::once(&self.template.finished).chain(&self.template.holes)
    }

    /// Where its label stands on the mat, and how large: as it fits.
    fn label(&self, inch: f64) -> (Point, f64) {
        let middle = self.template.finished.label_point();
        let space = room(self.sewn(), middle);
        (self.pose.apply(middle), (space * 1.2 / width(&self.label, 1.0)).min(space).min(LABEL * inch))
    }
}

/// One mat as DXF.
#[must_use]
pub fn mat_dxf(quilt: &Quilt, plan: &Plan, mat: &Mat, cloth: &ClothMats, laid: &Laid) -> String {
    let inch = quilt.measure.inch();
    let mut drawing = blank(quilt, &LAYERS);
    let edge = Loop::rect(Rect::new(0.0, 0.0, mat.width, mat.length));
    put(&mut drawing, "MAT", polyline(edge.edges(), Pose::IDENTITY));
    for piece in Piece::all(plan, cloth, laid) {
        if let Some(cut) = &piece.template.cut {
            put(&mut drawing, "CUT", polyline(cut.edges(), piece.pose));
        }
        for closed in piece.sewn() {
            put(&mut drawing, "SEW", polyline(closed.edges(), piece.pose));
        }
        for notch in &piece.template.notches {
            put(&mut drawing, "NOTCH", line(piece.pose.apply(notch.from), piece.pose.apply(notch.to)));
        }
        let (at, size) = piece.label(inch);
        let left = Point::new(at.x - width(&piece.label, size) / 2.0, at.y - size / 2.0);
        let text = Text { location: point(left), text_height: size, value: piece.label, ..Default::default() };
        put(&mut drawing, "LABEL", EntityType::Text(text));
    }
    written(&drawing)
}

/// One mat as SVG, a unit of its viewBox one of the document's.
#[must_use]
pub fn mat_svg(quilt: &Quilt, plan: &Plan, mat: &Mat, cloth: &ClothMats, laid: &Laid) -> String {
    let inch = quilt.measure.inch();
    let (wide, high, unit) = (number(mat.width), number(mat.length), quilt.measure.sign());
    let name = tr!("{cloth}, a mat of templates", cloth = quilt.cloths[cloth.cloth.0].name);
    let mut out = String::new();
    let _ = write!(
        out,
        r##"<svg xmlns="http://www.w3.org/2000/svg" width="{wide}{unit}" height="{high}{unit}" viewBox="0 0 {wide} {high}" role="img" aria-label="{name}" font-family="sans-serif"><title>{name}</title><g id="MAT" fill="none" stroke="#999" stroke-width="{stroke}"><path d="M0 0h{wide}v{high}h-{wide}z"/></g>"##,
        name = Escaped(&name),
        stroke = number(STROKE * inch),
    );
    let page = Page { left: 0.0, top: mat.length };
    let pieces: Vec<Piece> = Piece::all(plan, cloth, laid).collect();
    layer(&mut out, "CUT", "#000", inch, |out| {
        for piece in &pieces {
            path(out, page, piece.pose, &piece.template.cut.iter().collect::<Vec<_>>());
        }
    });
    layer(&mut out, "SEW", "#00f", inch, |out| {
        for piece in &pieces {
            path(out, page, piece.pose, &piece.sewn().collect::<Vec<_>>());
        }
    });
    layer(&mut out, "NOTCH", "#f00", inch, |out| {
        for (piece, notch) in pieces.iter().flat_map(|piece| piece.template.notches.iter().map(move |notch| (piece, notch))) {
            let (from, to) = (page.at(piece.pose.apply(notch.from)), page.at(piece.pose.apply(notch.to)));
            let _ = write!(out, r#"<path d="M{} {}L{} {}"/>"#, number(from.x), number(from.y), number(to.x), number(to.y));
        }
    });
    out.push_str(r#"<g id="LABEL">"#);
    for piece in &pieces {
        let (at, size) = piece.label(inch);
        Label { text: &piece.label, at: page.at(at), size, anchor: Anchor::Middle, bold: false, tone: Tone::Plain }
            .write(&mut out, "");
    }
    out.push_str("</g></svg>");
    out
}

fn layer(out: &mut String, name: &str, colour: &str, inch: f64, draw: impl FnOnce(&mut String)) {
    let _ = write!(out, r#"<g id="{name}" fill="none" stroke="{colour}" stroke-width="{}">"#, number(STROKE * inch));
    draw(out);
    out.push_str("</g>");
}

fn path(out: &mut String, page: Page, pose: Pose, loops: &[&Loop]) {
    out.push_str(r#"<path d=""#);
    page.loops(out, pose, loops.iter().copied());
    out.push_str(r#""/>"#);
}
