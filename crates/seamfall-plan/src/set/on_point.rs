//! Blocks on their corners, with side and corner triangles.
//!
//! The blocks lie in a lattice turned by 45 degrees, one cell a block and half a sash on each side of it. The edge of the body goes
//! through the corners of the outermost cells, which are the middles of the outermost cornerstones: it cuts cells into the side
//! triangles (half a block) and corner triangles (a quarter), and cornerstones in half; sashes it only touches. Cells and sections
//! are numbered along the lattice: `a` to the upper right, `b` to the upper left.

use super::builder::Builder;
use super::rings::{Ring, depths};
use super::{PieceKind, divide, footprint};
use seamfall_geom::{Loop, Point, Pose, Rect, TOLERANCE, Vec2};
use seamfall_model::{ClothId, Finding, Length, Rounding, Rule, Spot, Working, place_name, term};
use std::collections::BTreeMap;
use std::f64::consts::SQRT_2;
use tr::tr;

/// The lattice of a setting.
struct Lattice {
    /// Places in the longer rows, and number of those rows.
    columns: i32,
    rows: i32,
    /// Side of a block with its frame.
    block: f64,
    sash: f64,
    /// Lower left corner of the body.
    corner: Vec2,
}

impl Lattice {
    /// Half the diagonal of a cell, the step between the middles of cells across and up.
    fn half(&self) -> f64 {
        (self.block + self.sash) / SQRT_2
    }

    fn body(&self) -> Rect {
        let half = self.half();
        Rect::new(0.0, 0.0, f64::from(2 * self.columns) * half, f64::from(2 * self.rows) * half) + self.corner
    }

    /// Middle of a cell, or of a corner between cells at half numbers.
    fn middle(&self, a: f64, b: f64) -> Point {
        (Vec2::new((a - b) * self.half(), (a + b) * self.half()) + self.corner).to_point()
    }

    /// Middle of a cell in half diagonals from the body's lower left corner.
    fn steps(a: i32, b: i32) -> (i32, i32) {
        (a - b, a + b)
    }

    /// Whether some part of a cell lies in the body.
    fn holds(&self, a: i32, b: i32) -> bool {
        let (x, y) = Self::steps(a, b);
        (0..=2 * self.columns).contains(&x) && (0..=2 * self.rows).contains(&y)
    }

    /// All cells of which some part lies in the body, row by row from the top.
    fn cells(&self) -> Vec<(i32, i32)> {
        (0..=2 * self.rows)
            .rev()
            .flat_map(|y| (0..=2 * self.columns).filter(move |x| (x + y) % 2 == 0).map(move |x| ((x + y) / 2, (y - x) / 2)))
            .collect()
    }

    /// A rectangle about `(a, b)`, its sides along the lattice, where it lies in the body.
    fn piece(&self, a: f64, b: f64, along_a: f64, along_b: f64) -> Option<Loop> {
        let pose = Pose::turn_deg(45.0).then(Pose::shift(self.middle(a, b).to_vec2()));
        let turned = Loop::rect(Rect::from_center_size(Point::ORIGIN, (along_a, along_b))).moved(pose);
        divide::clip(&turned, &Loop::rect(self.body()))
    }
}

pub(super) fn lay(builder: &mut Builder, triangles: ClothId, rings: &[Ring], findings: &mut Vec<Finding>) -> Vec2 {
    let quilt = builder.quilt;
    let outside: f64 = rings.iter().map(|ring| ring.width).sum();
    let lattice = Lattice {
        columns: i32::try_from(quilt.setting.places[0].len()).expect("a quilt has at most 100 columns"),
        rows: i32::try_from(quilt.setting.places.len().div_ceil(2)).expect("a quilt has at most 100 rows"),
        block: check_blocks(builder, findings),
        sash: quilt.sashing.as_ref().map_or(0.0, |sashing| sashing.width.value()),
        corner: Vec2::new(outside, outside),
    };
    let body = lattice.body();
    let size = Vec2::new(body.x1 + outside, body.y1 + outside);
    record_size(builder, &lattice, rings);

    let sections = open_sections(builder, &lattice);
    for (r, row) in quilt.setting.places.iter().enumerate() {
        for n in 0..row.len() {
            let (a, b) = cell_of(&lattice, r, n);
            builder.lay_place(r, n, lattice.middle(f64::from(a), f64::from(b)), 45.0, sections.of(a, b));
        }
    }
    lay_triangles(builder, &lattice, &sections, triangles);
    lay_sashing(builder, &lattice, &sections);
    lay_rings(builder, &lattice, rings, size);
    size
}

/// Side of the blocks with their frames: all must share it.
fn check_blocks(builder: &Builder, findings: &mut Vec<Finding>) -> f64 {
    let quilt = builder.quilt;
    let sides: Vec<Vec<f64>> = quilt
        .setting
        .places
        .iter()
        .map(|row| {
            row.iter()
                .map(|place| {
                    let size = footprint::size(quilt, place);
                    f64::max(size.x, size.y)
                })
                .collect()
        })
        .collect();
    let side = sides.iter().flatten().copied().fold(0.0, f64::max);
    for (r, row) in sides.iter().enumerate() {
        for (n, own) in row.iter().enumerate() {
            if own + TOLERANCE < side {
                let show = |x: f64| Length::new(x).shown_with_unit(quilt.step);
                findings.push(
                    Finding::stop(
                        Spot::Place(place_name(r, n)),
                        tr!(
                            "its block and frame measure {own}, others {side}; on point all must be of one size",
                            own = show(*own),
                            side = show(side)
                        ),
                    )
                    .help(tr!("frame it, or put a block of that size here")),
                );
            }
        }
    }
    side
}

fn record_size(builder: &mut Builder, lattice: &Lattice, rings: &[Ring]) {
    let outside: f64 = rings.iter().map(|ring| ring.width).sum();
    let pitch = || {
        let block = term(&tr!("block with frame"), lattice.block);
        if lattice.sash > 0.0 { block + term(&tr!("sash"), lattice.sash) } else { block }
    };
    let diagonal = pitch() * SQRT_2;
    builder.workings.push(Working::new(Rule::Diagonal, &tr!("diagonal"), diagonal, Rounding::Exact));
    for (what, count, name) in [
        (tr!("width of the top"), lattice.columns, tr!("places across")),
        (tr!("height of the top"), lattice.rows, tr!("places down")),
    ] {
        let body = term(&name, f64::from(count)) * term(&tr!("diagonal"), pitch().value() * SQRT_2);
        let whole = if outside > 0.0 { body + term(&tr!("bands"), outside) * 2.0 } else { body };
        builder.workings.push(Working::new(Rule::TopSize, &what, whole, Rounding::Exact));
    }
    let (across, down) = (f64::from(lattice.columns), f64::from(lattice.rows));
    let sides = (term(&tr!("places across"), across) - 1.0) * 2.0 + (term(&tr!("places down"), down) - 1.0) * 2.0;
    builder.workings.push(Working::new(Rule::SettingTriangles, &tr!("side triangles"), sides, Rounding::Whole));
}

/// The cell of a place: longer rows from the top, shorter ones between them.
fn cell_of(lattice: &Lattice, row: usize, number: usize) -> (i32, i32) {
    let (row, number) = (i32::try_from(row).expect("few rows"), i32::try_from(number).expect("few places"));
    let y = 2 * lattice.rows - 1 - row;
    let x = 2 * number + 1 + row % 2;
    ((x + y) / 2, (y - x) / 2)
}

/// Square groups of cells.
struct Sections {
    group: i32,
    shift: (i32, i32),
    numbers: BTreeMap<(i32, i32), usize>,
}

impl Sections {
    fn key(group: i32, shift: (i32, i32), a: i32, b: i32) -> (i32, i32) {
        ((a + shift.0).div_euclid(group), (b + shift.1).div_euclid(group))
    }

    fn of(&self, a: i32, b: i32) -> usize {
        self.numbers[&Self::key(self.group, self.shift, a, b)]
    }
}

/// Groups cells into sections of as many as fit in the lap either way. Of all ways to begin the groups that with the fewest sections
/// is taken, then that whose smallest section holds most cells.
fn open_sections(builder: &mut Builder, lattice: &Lattice) -> Sections {
    let limit = builder.quilt.largest_section.value();
    let fits = ((limit + TOLERANCE) / (lattice.block + lattice.sash)).floor();
    let group = (fits.clamp(1.0, 100.0)) as i32;
    let cells = lattice.cells();
    let count = |shift: (i32, i32)| {
        let mut sizes: BTreeMap<(i32, i32), usize> = BTreeMap::new();
        for &(a, b) in &cells {
            *sizes.entry(Sections::key(group, shift, a, b)).or_default() += 1;
        }
        let smallest = sizes.values().copied().min().unwrap_or(0);
        (sizes.len(), std::cmp::Reverse(smallest), shift)
    };
    // More than a dozen beginnings each way look no better and take their time.
    let tries = group.min(12);
    let shift = (0..tries).flat_map(|da| (0..tries).map(move |db| (da, db))).map(count).min().expect("a group holds a cell").2;
    let mut numbers = BTreeMap::new();
    for &(a, b) in &cells {
        numbers.entry(Sections::key(group, shift, a, b)).or_insert_with(|| builder.open_section(45.0));
    }
    Sections { group, shift, numbers }
}

fn lay_triangles(builder: &mut Builder, lattice: &Lattice, sections: &Sections, cloth: ClothId) {
    let (mut side, mut corner) = (0, 0);
    for (a, b) in lattice.cells() {
        let (x, y) = Lattice::steps(a, b);
        let outer = usize::from(x == 0 || x == 2 * lattice.columns) + usize::from(y == 0 || y == 2 * lattice.rows);
        if outer == 0 {
            continue;
        }
        let outline =
            lattice.piece(f64::from(a), f64::from(b), lattice.block, lattice.block).expect("half a block lies in the body");
        let (kind, name) = if outer == 1 {
            side += 1;
            (PieceKind::SideTriangle, format!("side.{side}"))
        } else {
            corner += 1;
            (PieceKind::CornerTriangle, format!("corner.{corner}"))
        };
        builder.lay(name, kind, cloth, outline, sections.of(a, b));
    }
}

/// Sashes on the edges between cells and squares on their corners; or strips that run through along `a`.
///
/// A sash belongs to the cell before it, so that sections end along straight seams; at the lower edge, where there is no such cell,
/// a cornerstone goes with the cell beside it.
fn lay_sashing(builder: &mut Builder, lattice: &Lattice, sections: &Sections) {
    let Some(sashing) = builder.quilt.sashing.clone() else { return };
    let (cloth, sash, block) = (sashing.cloth, lattice.sash, lattice.block);
    let (mut n_a, mut n_b, mut squares) = (0, 0, 0);
    for (a, b) in lattice.cells() {
        let (at_a, at_b) = (f64::from(a), f64::from(b));
        // Between this cell and the next along `a`: it runs along `b`.
        if lattice.holds(a + 1, b)
            && let Some(outline) = lattice.piece(at_a + 0.5, at_b, sash, block)
        {
            n_a += 1;
            builder.lay(format!("sash.left.{n_a}"), PieceKind::Sash, cloth, outline, sections.of(a, b));
        }
        if sashing.cornerstones.is_some()
            && lattice.holds(a, b + 1)
            && let Some(outline) = lattice.piece(at_a, at_b + 0.5, block, sash)
        {
            n_b += 1;
            builder.lay(format!("sash.right.{n_b}"), PieceKind::Sash, cloth, outline, sections.of(a, b));
        }
    }
    if let Some(square) = sashing.cornerstones {
        for (a, b) in corners_of_cells(lattice) {
            let Some(outline) = lattice.piece(f64::from(a) + 0.5, f64::from(b) + 0.5, sash, sash) else { continue };
            let (ca, cb) = [(a, b), (a, b + 1), (a + 1, b), (a + 1, b + 1)]
                .into_iter()
                .find(|&(a, b)| lattice.holds(a, b))
                .expect("a corner in the body belongs to a cell in it");
            squares += 1;
            builder.lay(format!("cornerstone.{squares}"), PieceKind::Cornerstone, square, outline, sections.of(ca, cb));
        }
    } else {
        lay_through_strips(builder, lattice, sections, cloth);
    }
}

/// Strips between rows of cells along `a`, cut where sections end.
fn lay_through_strips(builder: &mut Builder, lattice: &Lattice, sections: &Sections, cloth: ClothId) {
    // The cells along every strip above row `b`, each with the section that the strip goes with beside it.
    let mut owners: BTreeMap<(i32, i32), usize> = BTreeMap::new();
    for (a, b) in lattice.cells().into_iter().chain(below(lattice)) {
        owners.insert((b, a), if lattice.holds(a, b) { sections.of(a, b) } else { sections.of(a, b + 1) });
    }
    // A section may come back further along, where the strip runs out of the body on both sides: that is a run of its own.
    let mut runs: Vec<((i32, usize), (i32, i32))> = Vec::new();
    for ((b, a), owner) in owners {
        match runs.last_mut() {
            Some((key, (_, last))) if *key == (b, owner) && *last + 1 == a => *last = a,
            _ => runs.push(((b, owner), (a, a))),
        }
    }
    let pitch = lattice.block + lattice.sash;
    let mut count = 0;
    for ((b, section), (first, last)) in runs {
        // From half a sash before the first block to the end of the sash behind the last: where the sections themselves end.
        let (from, to) =
            (f64::from(first) * pitch - lattice.block / 2.0, f64::from(last) * pitch + lattice.block / 2.0 + lattice.sash);
        let Some(outline) = lattice.piece(f64::midpoint(from, to) / pitch, f64::from(b) + 0.5, to - from, lattice.sash) else {
            continue;
        };
        count += 1;
        builder.lay(format!("sash.through.{count}"), PieceKind::Sash, cloth, outline, section);
    }
}

/// Cells just outside the body whose upper corner or edge still touches a cell in it.
fn below(lattice: &Lattice) -> Vec<(i32, i32)> {
    let mut cells: Vec<(i32, i32)> =
        lattice.cells().into_iter().map(|(a, b)| (a, b - 1)).filter(|&(a, b)| !lattice.holds(a, b)).collect();
    cells.sort_unstable();
    cells.dedup();
    cells
}

/// Corners between cells, each by the cell before it both ways, row by row from the top.
fn corners_of_cells(lattice: &Lattice) -> Vec<(i32, i32)> {
    // The corner above cell (a, b) lies one half diagonal above its middle.
    (0..=2 * lattice.rows)
        .rev()
        .flat_map(|y| (0..=2 * lattice.columns).filter(move |x| (x + y) % 2 == 1).map(move |x| (x, y)))
        .map(|(x, y)| ((x + y - 1) / 2, (y - 1 - x).div_euclid(2)))
        .collect()
}

/// Rings round the body, cut into sections at the corners and middles of the cells along the edge.
fn lay_rings(builder: &mut Builder, lattice: &Lattice, rings: &[Ring], size: Vec2) {
    if rings.is_empty() {
        return;
    }
    let limit = builder.quilt.largest_section.value();
    let thick = depths(rings, limit);
    let cells = ring_cells(lattice, size, &thick, limit);
    let cells: Vec<(Loop, usize)> = cells.into_iter().map(|rect| (Loop::rect(rect), builder.open_section(0.0))).collect();
    let mut inner = lattice.body();
    for each in rings {
        for (name, kind, cloth, outline) in each.pieces(inner) {
            let parts =
                cells.iter().filter_map(|(cell, section)| divide::clip(&outline, cell).map(|part| (part, *section))).collect();
            builder.lay_parts(&name, kind, cloth, parts);
        }
        inner = inner.inflate(each.width, each.width);
    }
}

/// The rectangles into which the area of the rings is cut: top and bottom over the whole width, the sides between them.
fn ring_cells(lattice: &Lattice, size: Vec2, thick: &[f64], limit: f64) -> Vec<Rect> {
    let step = if 2.0 * lattice.half() > limit + TOLERANCE { lattice.half() } else { 2.0 * lattice.half() };
    let edge = |length: f64, start: f64, ends: &[f64]| -> Vec<(f64, f64)> {
        let pieces = (length / step).round() as usize;
        let items: Vec<f64> = ends
            .iter()
            .copied()
            .chain(std::iter::repeat_n(length / pieces as f64, pieces))
            .chain(ends.iter().rev().copied())
            .collect();
        divide::cuts(&items, limit, start, 1.0).windows(2).map(|pair| (pair[0], pair[1])).collect()
    };
    let body = lattice.body();
    let level = edge(body.width(), 0.0, thick);
    let upright = edge(body.height(), body.y0, &[]);
    let mut cells = Vec::new();
    let mut depth = 0.0;
    for width in thick {
        let (near, far) = (depth, depth + width);
        for &(x0, x1) in &level {
            cells.push(Rect::new(x0, near, x1, far));
            cells.push(Rect::new(x0, size.y - far, x1, size.y - near));
        }
        for &(y0, y1) in &upright {
            cells.push(Rect::new(near, y0, far, y1));
            cells.push(Rect::new(size.x - far, y0, size.x - near, y1));
        }
        depth = far;
    }
    cells
}
