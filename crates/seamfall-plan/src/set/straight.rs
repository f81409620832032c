//! Rows of blocks square to the edges, with sashing, fillers and bands.
//!
//! A straight setting has common columns; a setting in rows has its own in every row. Consecutive rows with the same columns are
//! one stack: within it the same vertical cuts serve all rows, so that sections may span several.

use super::builder::Builder;
use super::rings::{Ring, depths};
use super::{PieceKind, divide, footprint};
use seamfall_geom::{Loop, Point, Rect, TOLERANCE, Vec2};
use seamfall_model::{ClothId, Finding, Layout, Length, Quilt, Rounding, Rule, Spot, Term, Working, letters, place_name, term};
use tr::tr;

/// Sections of one height, side by side.
struct Slab {
    y: (f64, f64),
    /// Range across and number of the section.
    cells: Vec<((f64, f64), usize)>,
}

/// One row of blocks: where it lies, and where each of its places lies across.
struct Row {
    y: (f64, f64),
    columns: Vec<(f64, f64)>,
}

/// Widths and heights before anything has a place.
struct Sizes {
    heights: Vec<f64>,
    widths: Vec<Vec<f64>>,
    /// Width of every row without fillers and without sashing round the outside.
    row_widths: Vec<f64>,
}

pub(super) fn lay(builder: &mut Builder, rings: &[Ring], findings: &mut Vec<Finding>) -> Vec2 {
    let quilt = builder.quilt;
    let sash = quilt.sashing.as_ref().map_or(0.0, |sashing| sashing.width.value());
    let around = if quilt.sashing.as_ref().is_some_and(|sashing| sashing.around) { sash } else { 0.0 };
    let sizes = measure(quilt, sash, findings);
    let inner_width = sizes.row_widths.iter().copied().fold(0.0, f64::max);
    let bands: f64 = rings.iter().map(|ring| ring.width).sum();
    let rows_height: f64 = sizes.heights.iter().sum::<f64>() + sash * (sizes.heights.len() - 1) as f64;
    let size = Vec2::new(inner_width + 2.0 * (around + bands), rows_height + 2.0 * (around + bands));
    let rows = position(&sizes, inner_width, size.y - bands - around, bands + around, sash);
    check_fillers(quilt, &sizes, inner_width, findings);
    record_size(builder, &sizes, inner_width, sash, around, bands);

    let slabs = open_sections(builder, &rows, size, rings, around, sash);
    for (r, row) in rows.iter().enumerate() {
        for (n, column) in row.columns.iter().enumerate() {
            let middle = Point::new(f64::midpoint(column.0, column.1), f64::midpoint(row.y.0, row.y.1));
            let section = section_at(&slabs, middle);
            builder.lay_place(r, n, middle, 0.0, section);
        }
    }
    lay_fillers(builder, &slabs, &rows, bands + around, inner_width);
    if quilt.sashing.is_some() {
        lay_sashing(builder, &slabs, &rows, Rect::new(bands, bands, size.x - bands, size.y - bands), sash, around, findings);
    }
    let mut inner = Rect::new(bands, bands, size.x - bands, size.y - bands);
    for each in rings {
        for (name, kind, cloth, outline) in each.pieces(inner) {
            lay_divided(builder, &slabs, &name, kind, cloth, &outline);
        }
        inner = inner.inflate(each.width, each.width);
    }
    size
}

/// Sizes of rows and columns; places that do not fill theirs are findings.
fn measure(quilt: &Quilt, sash: f64, findings: &mut Vec<Finding>) -> Sizes {
    let places = &quilt.setting.places;
    let footprints: Vec<Vec<Vec2>> =
        places.iter().map(|row| row.iter().map(|place| footprint::size(quilt, place)).collect()).collect();
    let heights: Vec<f64> = footprints.iter().map(|row| row.iter().map(|size| size.y).fold(0.0, f64::max)).collect();
    let common = quilt.setting.layout == Layout::Straight;
    let columns = footprints.iter().map(Vec::len).max().unwrap_or(0);
    let column_widths: Vec<f64> =
        (0..columns).map(|n| footprints.iter().filter_map(|row| row.get(n)).map(|size| size.x).fold(0.0, f64::max)).collect();
    let widths: Vec<Vec<f64>> = footprints
        .iter()
        .map(|row| row.iter().enumerate().map(|(n, size)| if common { column_widths[n] } else { size.x }).collect())
        .collect();
    let show = |x: f64| Length::new(x).shown_with_unit(quilt.step);
    for (r, row) in footprints.iter().enumerate() {
        for (n, size) in row.iter().enumerate() {
            for (own, room, of) in [(size.y, heights[r], tr!("row")), (size.x, widths[r][n], tr!("column"))] {
                if own + TOLERANCE < room {
                    findings.push(
                        Finding::stop(
                            Spot::Place(place_name(r, n)),
                            tr!(
                                "its block and frame take {own}, but its {of} takes {room}",
                                own = show(own),
                                of,
                                room = show(room)
                            ),
                        )
                        .help(tr!("turn it, frame it, or put a block of that size here")),
                    );
                }
            }
        }
    }
    let row_widths = widths.iter().map(|row| row.iter().sum::<f64>() + sash * (row.len().saturating_sub(1)) as f64).collect();
    Sizes { heights, widths, row_widths }
}

/// Where rows and places lie: rows from the top down, each centred in the width.
fn position(sizes: &Sizes, inner_width: f64, top: f64, left: f64, sash: f64) -> Vec<Row> {
    let mut y1 = top;
    sizes
        .heights
        .iter()
        .zip(&sizes.widths)
        .zip(&sizes.row_widths)
        .map(|((height, widths), row_width)| {
            let y = (y1 - height, y1);
            y1 -= height + sash;
            let mut x = left + (inner_width - row_width) / 2.0;
            let columns = widths
                .iter()
                .map(|width| {
                    let column = (x, x + width);
                    x += width + sash;
                    column
                })
                .collect();
            Row { y, columns }
        })
        .collect()
}

/// Rows shorter than the longest need a filler, and one that can be sewn.
fn check_fillers(quilt: &Quilt, sizes: &Sizes, inner_width: f64, findings: &mut Vec<Finding>) {
    let Layout::Rows { filler } = quilt.setting.layout else { return };
    let show = |x: f64| Length::new(x).shown_with_unit(quilt.step);
    for (r, width) in sizes.row_widths.iter().enumerate() {
        let gap = (inner_width - width) / 2.0;
        if gap < TOLERANCE {
            continue;
        }
        if filler.is_none() {
            findings.push(
                Finding::stop(
                    Spot::Row(r + 1),
                    tr!(
                        "it is {width} long, the longest row {inner_width}",
                        width = show(*width),
                        inner_width = show(inner_width)
                    ),
                )
                .help(tr!("name a cloth for `filler` in the setting, or change its blocks"))
                .set(&["setting", "filler"], quilt.cloths.first().map_or("", |cloth| &cloth.key)),
            );
        } else if gap < 0.5 * quilt.measure.inch() {
            findings.push(
                Finding::warn(Spot::Row(r + 1), tr!("its fillers are only {gap} wide", gap = show(gap)))
                    .help(tr!("take a wider sash or other blocks, so that the row comes out even or by more")),
            );
        }
    }
}

/// Width and height, from the counts and sizes that made them.
fn record_size(builder: &mut Builder, sizes: &Sizes, inner_width: f64, sash: f64, around: f64, bands: f64) {
    let longest = sizes.row_widths.iter().position(|&w| (w - inner_width).abs() < TOLERANCE).unwrap_or(0);
    let sum = |what: &str, each: &[f64]| -> Term {
        let even = each.iter().all(|size| (size - each[0]).abs() < TOLERANCE);
        let (number, total) = (each.len() as f64, each.iter().sum::<f64>());
        let blocks = if even {
            term(what, number) * term(&tr!("block with frame"), each[0])
        } else {
            term(&tr!("all {what}", what), total)
        };
        let gaps =
            if sash > 0.0 { blocks + term(&tr!("sashes between"), number - 1.0) * term(&tr!("sash"), sash) } else { blocks };
        let outer = if around > 0.0 { gaps + term(&tr!("outer sash"), around) * 2.0 } else { gaps };
        if bands > 0.0 { outer + term(&tr!("bands"), bands) * 2.0 } else { outer }
    };
    let width = sum(&tr!("columns"), &sizes.widths[longest]);
    let height = sum(&tr!("rows"), &sizes.heights);
    builder.workings.push(Working::new(Rule::TopSize, &tr!("width of the top"), width, Rounding::Exact));
    builder.workings.push(Working::new(Rule::TopSize, &tr!("height of the top"), height, Rounding::Exact));
}

/// Opens the sections: fewest groups of rows, and fewest groups of columns within each stack.
fn open_sections(builder: &mut Builder, rows: &[Row], size: Vec2, rings: &[Ring], around: f64, sash: f64) -> Vec<Slab> {
    let limit = builder.quilt.largest_section.value();
    let outside = depths(rings, limit);
    let mut slabs = Vec::new();
    let mut first = 0;
    while first < rows.len() {
        let same = |row: &&Row| {
            row.columns.len() == rows[first].columns.len()
                && row
                    .columns
                    .iter()
                    .zip(&rows[first].columns)
                    .all(|(a, b)| (a.0 - b.0).abs() < TOLERANCE && (a.1 - b.1).abs() < TOLERANCE)
        };
        let end = first + rows[first..].iter().take_while(same).count();

        let mut heights: Vec<f64> = (first..end).map(|r| rows[r].y.1 - rows[r].y.0 + sash).collect();
        let mut top = rows[first].y.1;
        if end == rows.len() {
            *heights.last_mut().expect("a stack has a row") += around - sash;
            heights.extend(outside.iter().rev());
        }
        if first == 0 {
            heights[0] += around;
            heights.splice(0..0, outside.iter().copied());
            top = size.y;
        }
        let down = divide::cuts(&heights, limit, top, -1.0);
        let across = divide::cuts(&widths_of(&rows[first], size.x, &outside, around, sash), limit, 0.0, 1.0);
        for y in down.windows(2) {
            let cells = across.windows(2).map(|x| ((x[0], x[1]), builder.open_section(0.0))).collect();
            slabs.push(Slab { y: (y[1], y[0]), cells });
        }
        first = end;
    }
    slabs
}

/// Indivisible widths of a row from the left: bands, filler, each block with the sash to its right, filler, bands.
fn widths_of(row: &Row, width: f64, outside: &[f64], around: f64, sash: f64) -> Vec<f64> {
    let bands: f64 = outside.iter().sum();
    let (left, right) = (row.columns[0].0, row.columns[row.columns.len() - 1].1);
    let filler = (left - bands - around).max(0.0);
    let mut widths: Vec<f64> = row.columns.iter().map(|column| column.1 - column.0 + sash).collect();
    *widths.last_mut().expect("a row has a place") -= sash;
    if filler > TOLERANCE {
        widths.insert(0, filler + around);
        widths.push(width - bands - right);
    } else {
        widths[0] += around;
        *widths.last_mut().expect("a row has a place") += around;
    }
    widths.splice(0..0, outside.iter().copied());
    widths.extend(outside.iter().rev());
    widths
}

fn section_at(slabs: &[Slab], point: Point) -> usize {
    slabs
        .iter()
        .filter(|slab| slab.y.0 < point.y && point.y < slab.y.1)
        .flat_map(|slab| &slab.cells)
        .find(|(x, _)| x.0 < point.x && point.x < x.1)
        .map(|(_, section)| *section)
        .expect("sections cover the top, and a block's middle lies on none of their edges")
}

/// Lays a piece, cut where sections end.
fn lay_divided(builder: &mut Builder, slabs: &[Slab], name: &str, kind: PieceKind, cloth: ClothId, outline: &Loop) {
    let bounds = outline.bounds();
    let parts: Vec<(Loop, usize)> = slabs
        .iter()
        .filter(|slab| slab.y.0 < bounds.y1 && bounds.y0 < slab.y.1)
        .flat_map(|slab| slab.cells.iter().map(move |(x, section)| (Rect::new(x.0, slab.y.0, x.1, slab.y.1), *section)))
        .filter(|(cell, _)| cell.x0 < bounds.x1 && bounds.x0 < cell.x1)
        .filter_map(|(cell, section)| divide::clip(outline, &Loop::rect(cell)).map(|part| (part, section)))
        .collect();
    builder.lay_parts(name, kind, cloth, parts);
}

fn lay_fillers(builder: &mut Builder, slabs: &[Slab], rows: &[Row], left: f64, inner_width: f64) {
    let Layout::Rows { filler: Some(cloth) } = builder.quilt.setting.layout else { return };
    for (r, row) in rows.iter().enumerate() {
        let (x0, x1) = (row.columns[0].0, row.columns[row.columns.len() - 1].1);
        if x0 - left < TOLERANCE {
            continue;
        }
        let letter = letters(r);
        for (side, range) in [("left", (left, x0)), ("right", (x1, left + inner_width))] {
            let outline = Loop::rect(Rect::new(range.0, row.y.0, range.1, row.y.1));
            lay_divided(builder, slabs, &format!("filler.{side}.{letter}"), PieceKind::Filler, cloth, &outline);
        }
    }
}

/// Sashes between and below the blocks, and round the outside; squares where they cross.
fn lay_sashing(
    builder: &mut Builder,
    slabs: &[Slab],
    rows: &[Row],
    body: Rect,
    sash: f64,
    around: f64,
    findings: &mut Vec<Finding>,
) {
    let Some(sashing) = &builder.quilt.sashing else { return };
    let common = builder.quilt.setting.layout == Layout::Straight;
    let cornerstones = sashing.cornerstones.filter(|_| common);
    if sashing.cornerstones.is_some() && !common {
        findings.push(
            Finding::warn(
                Spot::Sashing,
                tr!("cornerstones need columns that line up from row to row; here the strips between rows run through"),
            )
            .help(tr!("take `cornerstones` out of the sashing, or use a straight setting"))
            .remove(&["sashing", "cornerstones"]),
        );
    }
    let cloth = sashing.cloth;
    for (r, row) in rows.iter().enumerate() {
        let mut upright = |name: String, x0: f64| {
            let outline = Loop::rect(Rect::new(x0, row.y.0, x0 + sash, row.y.1));
            lay_divided(builder, slabs, &name, PieceKind::Sash, cloth, &outline);
        };
        if around > 0.0 {
            upright(format!("sash.left.{}", place_name(r, 0)), body.x0);
        }
        for (n, column) in row.columns.iter().enumerate().take(row.columns.len() - 1) {
            upright(format!("sash.right.{}", place_name(r, n)), column.1);
        }
        if around > 0.0 {
            upright(format!("sash.right.{}", place_name(r, row.columns.len() - 1)), body.x1 - sash);
        }
    }
    // Level strips: below every row that has another below it, and the outermost two.
    let mut levels: Vec<(String, usize, f64)> =
        rows.iter().enumerate().map(|(r, row)| ("below".to_owned(), r, row.y.0 - sash)).collect();
    if around > 0.0 {
        levels.insert(0, ("above".to_owned(), 0, body.y1 - sash));
    } else {
        levels.pop();
    }
    for (word, r, y0) in levels {
        let level = |x0: f64, x1: f64| Loop::rect(Rect::new(x0, y0, x1, y0 + sash));
        let Some(square) = cornerstones else {
            lay_divided(builder, slabs, &format!("sash.{word}.{}", letters(r)), PieceKind::Sash, cloth, &level(body.x0, body.x1));
            continue;
        };
        if around > 0.0 {
            lay_divided(
                builder,
                slabs,
                &format!("cornerstone.{word}.{}.0", letters(r)),
                PieceKind::Cornerstone,
                square,
                &level(body.x0, body.x0 + sash),
            );
        }
        for (n, column) in rows[r].columns.iter().enumerate() {
            let name = place_name(r, n);
            lay_divided(builder, slabs, &format!("sash.{word}.{name}"), PieceKind::Sash, cloth, &level(column.0, column.1));
            if n + 1 < rows[r].columns.len() || around > 0.0 {
                let outline = level(column.1, column.1 + sash);
                lay_divided(builder, slabs, &format!("cornerstone.{word}.{name}"), PieceKind::Cornerstone, square, &outline);
            }
        }
    }
}
