//! A patch that shows a motif: drawn in its own coordinates, so that all copies refer to one pattern.

use crate::ink::Inks;
use crate::look::{Patterns, Pictures, Shades, Turn};
use crate::page::{Page, number};
use seamfall_geom::{Loop, Point, Pose};
use seamfall_model::{BlockId, ClothId, PartId, Quilt, decimal};
use seamfall_plan::draft::{Draft, OverlayShape, Patch, Template};
use std::fmt::Write;
use tr::tr;

/// A patch or a shape laid over, as far as motifs go.
#[derive(Clone, Copy)]
pub(crate) struct Shown<'a> {
    /// Its block.
    pub block: BlockId,
    /// Its number from 1; nothing for a shape laid over.
    pub patch: Option<usize>,
    /// Its part.
    pub part: Option<PartId>,
    /// Where up on its template points to, in degrees.
    pub up_deg: f64,
    /// The point of it to which the motif comes.
    pub middle: Point,
    /// Of a shape laid over its outline, in whose middle that is instead: it takes long to find and is seldom asked for.
    pub over: Option<&'a Loop>,
}

impl<'a> Shown<'a> {
    /// Patch number `i`, from 0, of a block.
    pub fn patch(block: BlockId, i: usize, patch: &Patch) -> Self {
        Self { block, patch: Some(i + 1), part: patch.part, up_deg: patch.up_deg, middle: patch.label, over: None }
    }

    /// A shape laid over; its template lies as it does.
    pub fn over(block: BlockId, shape: &'a OverlayShape) -> Self {
        let part = Some(shape.part);
        Self { block, patch: None, part, up_deg: 90.0, middle: Point::ORIGIN, over: Some(&shape.outline) }
    }

    /// The motif it shows in `cloth`.
    pub fn motif(&self, quilt: &Quilt, cloth: ClothId) -> Option<usize> {
        quilt.motif(self.block, self.patch, self.part, cloth)
    }

    /// Writes the attributes of its path, shape and all, moved by `pose` on `page`.
    pub fn write<'l>(
        &self,
        out: &mut String,
        inks: &mut Inks<'_>,
        (cloth, motif): (ClothId, usize),
        (page, pose): (Page, Pose),
        loops: impl IntoIterator<Item = &'l Loop>,
    ) {
        let (turn, at) = (Turn::of(self.up_deg, pose), pose.apply(self.over.map_or(self.middle, Loop::label_point)));
        // Turned back about its middle, the cloth stands as it does under the template.
        let own = pose.then(Pose::shift(-at.to_vec2())).then(Pose::turn_deg(-turn.deg()));
        out.push_str(&inks.motif(cloth, motif));
        out.push_str(r#" d=""#);
        Page { left: 0.0, top: 0.0 }.loops(out, own, loops);
        let on_page = page.at(at);
        let _ = write!(out, r#"" transform="translate({} {})"#, number(on_page.x), number(on_page.y));
        if turn != Turn::NONE {
            let _ = write!(out, "rotate({})", number(-turn.deg()));
        }
        out.push_str(r#""/>"#);
    }
}

/// The motif on which a template is laid: that of the first of its patches, in the block's own colouring, that shows one.
pub(crate) fn of_template(quilt: &Quilt, draft: &Draft, block: BlockId, template: usize) -> Option<usize> {
    let cloth = |part: Option<PartId>| Some(quilt.blocks.get(block.0)?.parts.get(part?.0)?.cloth);
    let patches = draft.patches.iter().enumerate().map(|(i, patch)| (patch.template, Some(i + 1), patch.part));
    let over = draft.overlays.iter().map(|shape| (shape.template, None, Some(shape.part)));
    let mut own = patches.chain(over).filter(|(of, ..)| *of == template);
    own.find_map(|(_, patch, part)| quilt.motif(block, patch, part, cloth(part)?))
}

/// What is said of a motif on its template.
pub(crate) fn words(quilt: &Quilt, motif: usize) -> String {
    let fussy = &quilt.fussy[motif];
    let [across, down] = fussy.at.map(|part| decimal(part, 1));
    tr!("cross on the motif of {cloth}: {across} % across, {down} % down", cloth = quilt.cloths[fussy.cloth.0].name, across, down)
}

/// The motif seen through the sewing line, and a cross where its middle lies.
pub(crate) fn window(
    out: &mut String,
    quilt: &Quilt,
    (piece, motif): (&Template, usize),
    (page, inch): (Page, f64),
    pictures: &Pictures,
) {
    let mut patterns = Patterns::new(quilt, pictures, "window-", Shades::Colours);
    let fill = patterns.motif(motif);
    patterns.write(out);
    let at = page.at(piece.middle);
    let _ = write!(out, r#"<path class="window" fill="{fill}" d=""#);
    let own = Pose::shift(-piece.middle.to_vec2());
    Page { left: 0.0, top: 0.0 }.loops(out, own, std::iter::once(&piece.finished).chain(&piece.holes));
    let _ = write!(out, r#"" transform="translate({} {})"/>"#, number(at.x), number(at.y));
    let arm = 0.15 * inch;
    for (width, colour) in [(0.05, "#fff"), (0.015, "#000")] {
        let _ = write!(
            out,
            r#"<path class="motif" d="M{} {}h{}M{} {}v{}" fill="none" stroke="{colour}" stroke-width="{}"/>"#,
            number(at.x - arm),
            number(at.y),
            number(2.0 * arm),
            number(at.x),
            number(at.y - arm),
            number(2.0 * arm),
            number(width * inch)
        );
    }
}
