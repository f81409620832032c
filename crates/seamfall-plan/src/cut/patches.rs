//! Pieces of blocks: counted over all places, and cut in the way that suits their shape.

use super::list::{For, List, Size};
use super::rules::Table;
use super::{CutFor, Making, Material, Way, fussy, mirror};
use crate::draft::{Draft, Kind, Template};
use crate::set::Top;
use seamfall_geom::{Loop, TOLERANCE};
use seamfall_model::{BlockId, ClothId, Finished, Grain, Length, MakingWay, Quilt};
use std::collections::BTreeMap;
use tr::tr;

/// Adds the patches and overlays of all places to `list`: those of units made in a faster way as what is cut for these, all others
/// by their shape.
pub(super) fn add(list: &mut List, quilt: &Quilt, drafts: &[Draft], top: &Top, making: &Making) {
    let mut plain: BTreeMap<(BlockId, usize, bool, ClothId), usize> = BTreeMap::new();
    let mut fussy: BTreeMap<(usize, BlockId, usize, bool), usize> = BTreeMap::new();
    let mut of_units: BTreeMap<(usize, usize, For), usize> = BTreeMap::new();
    for look in &making.looks {
        for (number, patch) in drafts[look.block.0].patches.iter().enumerate() {
            // A patch without a part is a finding of the draft and has no cloth to be cut from.
            let Some(cloth) = look.cloths[number] else { continue };
            if let Some(motif) = quilt.motif(look.block, Some(number + 1), patch.part, cloth) {
                *fussy.entry((motif, look.block, patch.template, look.mirrored)).or_default() += look.places;
                continue;
            }
            let source = look.units[number].and_then(|unit| {
                let way = making.units[unit].faster()?;
                Some((unit, way.source(cloth, patch.area)?))
            });
            if let Some((unit, source)) = source {
                let what = For::Template { block: look.block, template: patch.template };
                *of_units.entry((unit, source, what)).or_default() += look.places;
            } else {
                *plain.entry((look.block, patch.template, look.mirrored, cloth)).or_default() += look.places;
            }
        }
    }
    for place in &top.places {
        for overlay in &drafts[place.block.0].overlays {
            let cloth = place.cloths[overlay.part.0];
            if let Some(motif) = quilt.motif(place.block, None, Some(overlay.part), cloth) {
                *fussy.entry((motif, place.block, overlay.template, place.pose.is_mirrored())).or_default() += 1;
                continue;
            }
            *plain.entry((place.block, overlay.template, place.pose.is_mirrored(), cloth)).or_default() += 1;
        }
    }
    add_units(list, making, of_units);
    add_plain(list, quilt, drafts, plain);
    add_fussy(list, quilt, drafts, fussy);
}

/// Pieces that show a motif, each by its template.
fn add_fussy(list: &mut List, quilt: &Quilt, drafts: &[Draft], counts: BTreeMap<(usize, BlockId, usize, bool), usize>) {
    let table = Table { allowance: quilt.allowance, step: quilt.step };
    for ((motif, block, template, mirrored), count) in counts {
        let (of, piece) = (&quilt.fussy[motif], &drafts[block.0].templates[template]);
        let reversed = mirrored && !mirror::is_symmetric(&piece.finished, &piece.holes);
        let size = fussy::size(piece, reversed, of, motif, table);
        list.add(Material::Cloth(of.cloth), &size, For::Template { block, template }, None, count);
    }
}

/// Adds squares and strips, `patches` of each kind of patch coming from them.
fn add_units(list: &mut List, making: &Making, patches: BTreeMap<(usize, usize, For), usize>) {
    for unit in &making.units {
        for (way, from) in unit.faster().into_iter().flat_map(|way| way.from.iter().map(move |from| (way, from))) {
            list.cut(Material::Cloth(from.cloth), &Size::of_unit(way.way, from), from.a_batch * way.batches.count());
        }
    }
    for ((unit, source, what), count) in patches {
        let Some(way) = making.units[unit].faster() else { continue };
        let from = &way.from[source];
        list.add(Material::Cloth(from.cloth), &Size::of_unit(way.way, from), what, None, count);
    }
}

/// Both sizes of a template, as it lies and reversed, are worked out once, whatever the number of its cloths.
fn add_plain(list: &mut List, quilt: &Quilt, drafts: &[Draft], counts: BTreeMap<(BlockId, usize, bool, ClothId), usize>) {
    let table = Table { allowance: quilt.allowance, step: quilt.step };
    let mut sizes: BTreeMap<(BlockId, usize, bool), Size> = BTreeMap::new();
    for ((block, template, mirrored, cloth), count) in counts {
        let size = sizes
            .entry((block, template, mirrored))
            .or_insert_with(|| size_of(&drafts[block.0].templates[template], mirrored, table));
        list.add(Material::Cloth(cloth), size, For::Template { block, template }, None, count);
    }
}

impl Size {
    fn of_unit(way: MakingWay, from: &CutFor) -> Self {
        Self { way: Way::Unit(way), width: from.width.clone(), length: from.length.clone(), grain: Grain::Across, motif: None }
    }
}

/// What is cut for a template.
fn size_of(template: &Template, mirrored: bool, table: Table) -> Size {
    let finished = |length: f64| Finished(Length::new(length));
    match template.kind {
        Kind::Square { side } => Size::square(Way::Rectangle, table.side(&tr!("side of the square"), finished(side))),
        Kind::Rectangle { long, short } => Size {
            way: Way::Rectangle,
            width: table.side(&tr!("width"), finished(short)),
            length: table.side(&tr!("length"), finished(long)),
            grain: Grain::Across,
            motif: None,
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
        width: side(&tr!("width of the template"), shape.width(), bounds.width()),
        length: side(&tr!("length of the template"), shape.height(), bounds.height()),
        grain: Grain::Across,
        motif: None,
    }
}
