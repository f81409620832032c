//! Pieces of blocks: counted over all places, and cut in the way that suits their shape.

use super::list::{For, List, Size};
use super::rules::Table;
use super::{Way, mirror};
use crate::draft::{Draft, Kind, Template};
use crate::set::Top;
use seamfall_geom::{Loop, TOLERANCE};
use seamfall_model::{BlockId, ClothId, Finished, Length, Quilt};
use std::collections::BTreeMap;

/// Adds the patches and overlays of all places to `list`.
///
/// Places are counted first by block, mirror and colouring, then patches once for each of these: a large quilt has few.
pub(super) fn add(list: &mut List, quilt: &Quilt, drafts: &[Draft], top: &Top) {
    let table = Table { allowance: quilt.allowance, step: quilt.step };
    let mut looks: BTreeMap<(BlockId, bool, &[ClothId]), usize> = BTreeMap::new();
    for place in &top.places {
        *looks.entry((place.block, place.pose.is_mirrored(), &place.cloths)).or_default() += 1;
    }
    let mut counts: BTreeMap<(BlockId, usize, bool, ClothId), usize> = BTreeMap::new();
    for ((block, mirrored, cloths), places) in looks {
        let draft = &drafts[block.0];
        // A patch without a part is a finding of the draft and has no cloth to be cut from.
        let patches = draft.patches.iter().filter_map(|patch| Some((patch.template, patch.part?)));
        let overlays = draft.overlays.iter().map(|overlay| (overlay.template, overlay.part));
        for (template, part) in patches.chain(overlays) {
            *counts.entry((block, template, mirrored, cloths[part.0])).or_default() += places;
        }
    }
    // Both sizes of a template, as it lies and reversed, are worked out once, whatever the number of its cloths.
    let mut sizes: BTreeMap<(BlockId, usize, bool), Size> = BTreeMap::new();
    for ((block, template, mirrored, cloth), count) in counts {
        let size = sizes
            .entry((block, template, mirrored))
            .or_insert_with(|| size_of(&drafts[block.0].templates[template], mirrored, table));
        list.add(cloth, size, For::Template { block, template }, None, count);
    }
}

/// What is cut for a template.
fn size_of(template: &Template, mirrored: bool, table: Table) -> Size {
    let finished = |length: f64| Finished(Length::new(length));
    match template.kind {
        Kind::Square { side } => Size::square(Way::Rectangle, table.side("side of the square", finished(side))),
        Kind::Rectangle { long, short } => Size {
            way: Way::Rectangle,
            width: table.side("width", finished(short)),
            length: table.side("length", finished(long)),
        },
        Kind::HalfSquare { leg } => Size::square(Way::HalfSquare, table.half_square(finished(leg))),
        Kind::QuarterSquare { long_side } => Size::square(Way::QuarterSquare, table.quarter_square(finished(long_side))),
        _ => by_template(template, mirrored, table),
    }
}

/// A piece cut by its template out of a strip. Where the allowance does not fit, which is a finding of the draft, its finished
/// outline stands in, an allowance round its bounds.
fn by_template(template: &Template, mirrored: bool, table: Table) -> Size {
    let shape = template.finished.bounds();
    let bounds =
        template.cut.as_ref().map_or_else(|| shape.inflate(table.allowance.0.value(), table.allowance.0.value()), Loop::bounds);
    // The usual strip of a shape, and the finished size between its edges. It replaces that side of the bounds which lies along it.
    let strip = match template.kind {
        Kind::Equilateral { height } => Some((height, table.equilateral_strip(Finished(Length::new(height))))),
        Kind::Diamond { width, .. } => Some((width, table.parallel_strip(Finished(Length::new(width))))),
        Kind::Hexagon { flats, .. } => Some((flats, table.parallel_strip(Finished(Length::new(flats))))),
        _ => None,
    };
    let side = |what, finished: f64, cut: f64| match &strip {
        Some((between, strip)) if (finished - between).abs() <= TOLERANCE => strip.clone(),
        _ => table.template(what, Length::new(cut)),
    };
    let own_image = matches!(template.kind, Kind::Equilateral { .. } | Kind::Diamond { .. } | Kind::Hexagon { .. });
    Size {
        way: Way::Template {
            outline: template.cut.as_ref().unwrap_or(&template.finished).clone(),
            reversed: mirrored && !own_image && !mirror::is_symmetric(&template.finished, &template.holes),
        },
        width: side("width of the template", shape.width(), bounds.width()),
        length: side("length of the template", shape.height(), bounds.height()),
    }
}
