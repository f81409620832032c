//! The check of one block: its shape, seams, patches, overlays and cloths, in a quilt file or by itself.

use super::check::{Check, shortened, shown};
use super::parse::parse;
use super::problems::{FileKind, Problems, suggestion};
use super::raw::*;
use super::starter;
use crate::*;
use seamfall_geom::TOLERANCE;
use std::ops::Range;

/// Coordinates beyond this are a slip: far outside every block, in grid steps and in units alike.
const FARTHEST: f64 = 1_000.0;

/// Reads the table of one block by itself, as it would stand in a quilt of this measure and with cloths of these keys.
///
/// # Errors
/// All problems that could be found.
pub(crate) fn read_block(key: &str, text: &str, measure: Measure, cloths: Vec<String>) -> Result<Block, FileError> {
    let raw: RawBlock = parse(FileKind::Block, text)?;
    let mut problems = Problems::of(FileKind::Block);
    let mut check = Check { problems: &mut problems, measure, cloths, blocks: Vec::new(), frames: Vec::new() };
    let block = block(&mut check, &At::made(key.to_owned()), &At::made(raw));
    if problems.is_empty() { Ok(block) } else { Err(problems.finish(text)) }
}

/// Checks a block of a quilt.
pub(super) fn block(check: &mut Check<'_>, key: &At<String>, raw: &At<RawBlock>) -> Block {
    let mut block = match &raw.starter {
        Some(starter) => taken(check, starter, raw),
        None => drawn(check, key, raw),
    };
    block.key = (**key).clone();
    if let Some(name) = &raw.name {
        block.name = check.name(name);
    } else if raw.starter.is_none() {
        block.name = (**key).clone();
    }
    block.frame = raw.frame.as_ref().map(|frame| check.frame_choice(frame));
    cloths(check, &mut block, key, raw);
    block
}

/// A block of the starter set, at the size that is wanted.
fn taken(check: &mut Check<'_>, key: &At<String>, raw: &At<RawBlock>) -> Block {
    let own = [
        ("shape", raw.shape.as_ref().map(At::span)),
        ("angle", raw.angle.as_ref().map(At::span)),
        ("grid", raw.grid.as_ref().map(At::span)),
        ("seams", raw.seams.as_ref().map(At::span)),
        ("patches", raw.patches.as_ref().map(At::span)),
        ("overlay", raw.overlay.as_ref().map(At::span)),
    ];
    for (name, span) in own {
        if let Some(span) = span {
            let reason = format!("a starter block brings its own `{name}`");
            check.problems.add(span, reason, "take it away, or take `starter` away and draw the block here".to_owned());
        }
    }
    let set = starter_blocks();
    let Some(design) = set.iter().find(|block| block.key == **key) else {
        let help = suggestion(key, set.iter().map(|block| block.key.as_str()))
            .unwrap_or_else(|| "the starter set lists what there is; any block can also be drawn in the file".to_owned());
        let reason = format!("the starter set has no block `{}`", shortened(key));
        check.problems.add(key.span(), reason, help);
        return stand_in();
    };
    let kind = kind_of(design.shape);
    let angle = if let Shape::Diamond { angle_deg, .. } = design.shape { Some(angle_deg) } else { None };
    match shape(check, kind, raw.size.as_ref(), angle, raw.span()) {
        Some(shape) => starter::sized(design, shape, check.measure).unwrap_or_else(|| {
            let reason = "this block has arcs, which stay round only in the proportions of the starter block";
            let span = raw.size.as_ref().map_or(raw.span(), At::span);
            check.problems.add(span, reason, "give width and height in its own proportions".to_owned());
            stand_in()
        }),
        None => stand_in(),
    }
}

/// A block drawn in the file.
fn drawn(check: &mut Check<'_>, key: &At<String>, raw: &At<RawBlock>) -> Block {
    let Some(kind) = &raw.shape else {
        let help = "add `shape = \"square\"`, or take a block of the starter set: `starter = \"churn-dash\"`".to_owned();
        check.problems.add(raw.span(), format!("block `{}` has no shape", shortened(key)), help);
        return stand_in();
    };
    let angle = match (&raw.angle, **kind) {
        (Some(angle), RawShape::Diamond) if !(10.0..=90.0).contains(&**angle) => {
            let help = "45 and 60 are usual".to_owned();
            check.problems.add(angle.span(), "the sharp angle of a diamond lies between 10 and 90 degrees", help);
            Some(60.0)
        }
        (Some(angle), RawShape::Diamond) => Some(**angle),
        (Some(angle), _) => {
            check.problems.add(angle.span(), "only a diamond has an `angle`", "take it away".to_owned());
            None
        }
        (None, RawShape::Diamond) => {
            check.problems.add(kind.span(), "a diamond needs its `angle`", "add `angle = 60`".to_owned());
            Some(60.0)
        }
        (None, _) => None,
    };
    let shape = shape(check, **kind, raw.size.as_ref(), angle, raw.span());
    design(check, raw, shape.unwrap_or(stand_in().shape), **kind)
}

/// Grid, seams, patches and overlays of a block whose shape is known. Cloths are not looked at: every part has the first.
pub(super) fn design(check: &mut Check<'_>, raw: &RawBlock, shape: Shape, kind: RawShape) -> Block {
    let grid = raw.grid.as_ref().map(|grid| self::grid(check, grid, kind));
    let mut block = Block { shape, grid, ..stand_in() };
    if let Some(seams) = &raw.seams {
        block.seams = chain(check, &block, seams, "seams", limits::SEAMS_A_BLOCK);
    }
    let part_of = |parts: &mut Vec<Part>, name: &str| {
        PartId(parts.iter().position(|part| part.name == name).unwrap_or_else(|| {
            parts.push(Part { name: name.to_owned(), cloth: ClothId(0) });
            parts.len() - 1
        }))
    };
    if let Some(patches) = &raw.patches {
        check.keys(patches, "parts", limits::PARTS);
        let count: usize = patches.0.iter().map(|(_, points)| points.len()).sum();
        if count > limits::MARKS {
            check.too_many(patches.span(), count, "points in patches", limits::MARKS);
        }
        let points = patches.0.iter().flat_map(|(name, points)| points.iter().map(move |point| (name, point)));
        for (name, _) in patches.0.iter().take(limits::PARTS) {
            part_of(&mut block.parts, name);
        }
        for (name, point) in points.take(limits::MARKS) {
            let part = part_of(&mut block.parts, name);
            if let [u, v] = point[..] {
                block.marks.extend(self::point(check, point.span(), u, v).map(|at| Mark { at, part }));
            } else {
                check.problems.add(point.span(), "a point in a patch is two numbers", "write it like [1, 3]".to_owned());
            }
        }
    }
    if let Some(overlays) = &raw.overlay {
        if overlays.len() > limits::OVERLAYS {
            check.too_many(overlays.span(), overlays.len(), "overlays", limits::OVERLAYS);
        }
        for overlay in overlays.iter().take(limits::OVERLAYS) {
            check.key(&overlay.part);
            let part = part_of(&mut block.parts, &overlay.part);
            let turn_under = match &overlay.turn_under {
                Some(typed) => check.length(typed, "turn-under", (limits::SHORTEST_IN, limits::SEAM_IN)),
                None => usual_turn_under(check.measure),
            };
            let outline = chain(check, &block, &overlay.outline, "lines in this outline", limits::SEAMS_A_BLOCK);
            // Where a piece could not be read, the gap is not told as well.
            if outline.len() == overlay.outline.len() {
                closed(check, &block, &outline, overlay.outline.span());
            }
            block.overlays.push(Overlay { outline, part, turn_under });
        }
    }
    block
}

/// Allowance turned under unless said. Source: common practice.
pub(crate) fn usual_turn_under(measure: Measure) -> Length {
    Length::new(if measure == Measure::Inch { 0.1875 } else { 0.5 })
}

/// Gives the parts of a block their cloths.
fn cloths(check: &mut Check<'_>, block: &mut Block, key: &At<String>, raw: &At<RawBlock>) {
    let said = raw.cloths.as_ref().map_or(&[][..], |cloths| &cloths.0[..]);
    for (part, cloth) in said {
        let names = || block.parts.iter().map(|part| part.name.as_str());
        if !names().any(|name| name == **part) {
            let reason = format!("block `{}` has no part `{}`", block.key, shortened(part));
            check.problems.add(part.span(), reason, suggestion(part, names()));
            check.cloth_id(cloth);
        }
    }
    for part in &mut block.parts {
        if let Some((_, cloth)) = said.iter().find(|(name, _)| **name == part.name) {
            part.cloth = check.cloth_id(cloth);
        } else if let Some(same) = check.cloths.iter().position(|cloth| *cloth == part.name) {
            part.cloth = ClothId(same);
        } else {
            let reason = format!("part `{}` of block `{}` has no cloth", part.name, block.key);
            let help = format!("add `{} = \"CLOTH\"` to its `cloths`", part.name);
            let first = raw.patches.as_ref().and_then(|patches| patches.0.iter().find(|(name, _)| **name == part.name));
            let later = || raw.overlay.as_ref().and_then(|list| list.iter().find(|one| *one.part == part.name));
            let span = first.map(|(name, _)| name.span()).or_else(|| Some(later()?.part.span()));
            let span = span.or_else(|| raw.starter.as_ref().map(At::span)).unwrap_or(key.span());
            check.problems.add(span, reason, help);
        }
    }
}

/// The shape at its typed size; nothing when there is no size that could be read.
fn shape(
    check: &mut Check<'_>,
    kind: RawShape,
    size: Option<&At<Typed>>,
    angle: Option<f64>,
    whole: Range<usize>,
) -> Option<Shape> {
    let two = kind == RawShape::Rectangle;
    let Some(size) = size else {
        let help = if two { "add `size = \"9 x 12\"`" } else { "add `size = \"12\"`" };
        check.problems.add(whole, "the block has no `size`", help.to_owned());
        return None;
    };
    let bounds = (limits::SHORTEST_IN, limits::SIDE_IN);
    let text = if let Typed::Text(text) = &**size { text.as_str() } else { "" };
    let sides = text.split_once(['x', '×', 'X']);
    match (two, sides) {
        (true, Some((width, height))) => {
            let mut side = |text: &str| match parse_length(text, check.measure) {
                Ok(length) => {
                    check.between(length, size.span(), "size", bounds);
                    Some(length)
                }
                Err(error) => {
                    check.not_a_length(&error, size.span(), "size");
                    None
                }
            };
            let (width, height) = (side(width), side(height));
            Some(Shape::Rectangle { width: width?, height: height? })
        }
        (true, None) => {
            check.problems.add(size.span(), "a rectangle needs width and height", "write it like \"9 x 12\"".to_owned());
            None
        }
        (false, Some(_)) => {
            let reason = "only a rectangle has two sizes";
            check.problems.add(size.span(), reason, "give the side alone, or make the shape a rectangle".to_owned());
            None
        }
        (false, None) => {
            let side = check.length(size, "size", bounds);
            Some(match kind {
                RawShape::Square | RawShape::Rectangle => Shape::Square { side },
                RawShape::Triangle => Shape::EquilateralTriangle { side },
                RawShape::RightTriangle => Shape::RightTriangle { leg: side },
                RawShape::Diamond => Shape::Diamond { side, angle_deg: angle.unwrap_or(60.0) },
                RawShape::Hexagon => Shape::Hexagon { side },
            })
        }
    }
}

fn grid(check: &mut Check<'_>, raw: &At<RawGrid>, kind: RawShape) -> (u32, u32) {
    let (n, m) = match **raw {
        RawGrid::Both(n) => (n, n),
        RawGrid::Each([n, m]) => (n, m),
    };
    if !(1..=limits::GRID).contains(&n) || !(1..=limits::GRID).contains(&m) {
        let reason = format!("a grid has 1 to {} divisions", limits::GRID);
        check.problems.add(raw.span(), reason, "4 or 6 are usual; without a grid points are lengths".to_owned());
        return (1, 1);
    }
    if kind == RawShape::Rectangle && matches!(**raw, RawGrid::Both(_)) {
        let reason = "the grid of a rectangle has two numbers";
        check.problems.add(raw.span(), reason, format!("write it like [{n}, {n}]: across and up"));
    }
    if n != m && matches!(kind, RawShape::Triangle | RawShape::Hexagon) {
        let reason = "a triangle or hexagon is divided the same way on every side";
        check.problems.add(raw.span(), reason, format!("write one number: {n}"));
    }
    (n, m)
}

/// A point; nothing when its numbers are beyond reason.
fn point(check: &mut Check<'_>, span: Range<usize>, u: f64, v: f64) -> Option<GridPoint> {
    if u.abs() <= FARTHEST && v.abs() <= FARTHEST {
        // Adding nothing turns -0 into 0.
        return Some(GridPoint { u: u + 0.0, v: v + 0.0 });
    }
    let bad = if u.abs() <= FARTHEST { v } else { u };
    let reason = format!("{bad} lies outside every block");
    check.problems.add(span, reason, format!("numbers of a point lie between -{FARTHEST} and {FARTHEST}"));
    None
}

/// Seams, or the lines and arcs of an outline, each checked by itself.
fn chain(check: &mut Check<'_>, block: &Block, raw: &At<Vec<At<RawSeam>>>, what: &str, most: usize) -> Vec<Seam> {
    let pieces = |seam: &RawSeam| if let RawSeam::Line(numbers) = seam { (numbers.len() / 2).max(2) - 1 } else { 1 };
    let count: usize = raw.iter().map(|seam| pieces(seam)).sum();
    if count > most {
        check.too_many(raw.span(), count, what, most);
        return Vec::new();
    }
    raw.iter().enumerate().filter_map(|(i, seam)| self::seam(check, block, seam, i + 1)).collect()
}

/// One seam; nothing when it is none.
fn seam(check: &mut Check<'_>, block: &Block, raw: &At<RawSeam>, number: usize) -> Option<Seam> {
    let span = raw.span();
    match &**raw {
        RawSeam::Line(numbers) => {
            if numbers.len() < 4 || numbers.len() % 2 == 1 {
                let reason = format!("seam {number} has {} numbers, but two points or more need an even count", numbers.len());
                check.problems.add(span, reason, "write it like [0, 2, 2, 4]: from 0, 2 to 2, 4".to_owned());
                return None;
            }
            let points = numbers.chunks_exact(2).map(|p| point(check, span.clone(), p[0], p[1]));
            let points = points.collect::<Option<Vec<_>>>()?;
            if points.windows(2).any(|p| block.to_plane(p[0]).distance_squared(block.to_plane(p[1])) <= TOLERANCE * TOLERANCE) {
                let reason = format!("seam {number} has two points in one place");
                check.problems.add(span, reason, "take one of them away".to_owned());
            }
            Some(Seam::Line(points))
        }
        RawSeam::Arc(arc) => {
            let ([a, b, c, d], [u, v]) = (&arc.arc[..], &arc.centre[..]) else {
                let reason = format!("seam {number}: an arc has four numbers and its centre two");
                check.problems.add(span, reason, "write it like { arc = [2, 0, 0, 2], centre = [0, 0] }".to_owned());
                return None;
            };
            let mut at = |u: f64, v: f64| point(check, span.clone(), u, v);
            let made = Arc { from: at(*a, *b)?, to: at(*c, *d)?, centre: at(*u, *v)?, long_way: arc.long };
            round(check, block, &made, number, span);
            Some(Seam::Arc(made))
        }
    }
}

/// Whether an arc is one: its ends equally far from the centre, and not in one place.
fn round(check: &mut Check<'_>, block: &Block, arc: &Arc, number: usize, span: Range<usize>) {
    let (from, to, centre) = (block.to_plane(arc.from), block.to_plane(arc.to), block.to_plane(arc.centre));
    let (first, second) = ((from - centre).length(), (to - centre).length());
    if (from - to).length() <= TOLERANCE {
        let help = "draw a full circle as two halves".to_owned();
        check.problems.add(span, format!("seam {number}: the arc ends where it starts"), help);
    } else if first <= TOLERANCE || (first - second).abs() > ROUND * first.max(second).max(1.0) {
        let far = |length: f64| shown(Length::new(length), check.measure);
        let reason =
            format!("seam {number}: the ends of the arc are not equally far from its centre, {} and {}", far(first), far(second));
        check.problems.add(span, reason, "move the centre, or one of the ends".to_owned());
    }
}

/// Share of its size by which an arc may miss, so that centres can be written with six decimals.
const ROUND: f64 = 1e-6;

/// Whether an outline closes, each line or arc starting where the one before ends.
fn closed(check: &mut Check<'_>, block: &Block, outline: &[Seam], span: Range<usize>) {
    let ends = |seam: &Seam| match seam {
        Seam::Line(points) => (points[0], points[points.len() - 1]),
        Seam::Arc(arc) => (arc.from, arc.to),
    };
    if outline.is_empty() {
        check.problems.add(span, "the outline is empty", "give it lines or arcs that go all the way round".to_owned());
        return;
    }
    for (i, seam) in outline.iter().enumerate() {
        let next = (i + 1) % outline.len();
        let (end, start) = (ends(seam).1, ends(&outline[next]).0);
        if (block.to_plane(end) - block.to_plane(start)).length() > TOLERANCE {
            let reason = format!("the outline is not closed: piece {} ends where piece {} does not start", i + 1, next + 1);
            check.problems.add(span, reason, "let each piece start where the one before ends".to_owned());
            return;
        }
    }
}

pub(super) fn kind_of(shape: Shape) -> RawShape {
    match shape {
        Shape::Square { .. } => RawShape::Square,
        Shape::Rectangle { .. } => RawShape::Rectangle,
        Shape::EquilateralTriangle { .. } => RawShape::Triangle,
        Shape::RightTriangle { .. } => RawShape::RightTriangle,
        Shape::Diamond { .. } => RawShape::Diamond,
        Shape::Hexagon { .. } => RawShape::Hexagon,
    }
}

/// An empty square, 12 units in a side.
pub(crate) fn stand_in() -> Block {
    Block {
        key: String::new(),
        name: String::new(),
        starter: None,
        shape: Shape::Square { side: Length::new(12.0) },
        grid: None,
        seams: Vec::new(),
        marks: Vec::new(),
        overlays: Vec::new(),
        parts: Vec::new(),
        frame: None,
    }
}

/// Reads the text of a block's own file; its cloths are its parts, each under its name.
///
/// # Errors
/// All problems that could be found, with their places.
pub(crate) fn read_own(text: &str) -> Result<(Block, Measure), FileError> {
    let raw: RawBlockFile = parse(FileKind::Block, text)?;
    let mut problems = Problems::of(FileKind::Block);
    if *raw.format != 1 {
        let reason = format!("format {} is not known to this version, which reads format 1", *raw.format);
        problems.add(raw.format.span(), reason, "write `format = 1`, or use a newer version".to_owned());
    }
    for (name, span) in [
        ("starter", raw.block.starter.as_ref().map(At::span)),
        ("cloths", raw.block.cloths.as_ref().map(|cloths| cloths.span())),
        ("frame", raw.block.frame.as_ref().map(At::span)),
    ] {
        if let Some(span) = span {
            let help = "take it away: a block's own file says what is drawn, and the quilt that takes it has the rest".to_owned();
            problems.add(span, format!("a block by itself has no `{name}`"), help);
        }
    }
    if !problems.is_empty() {
        return Err(problems.finish(text));
    }
    let measure = if matches!(raw.measure, RawMeasure::Inch) { Measure::Inch } else { Measure::Centimetre };
    let cloths = part_names(&raw.block);
    let mut check = Check { problems: &mut problems, measure, cloths, blocks: Vec::new(), frames: Vec::new() };
    let block = block(&mut check, &At::made("block".to_owned()), &raw.block);
    if problems.is_empty() { Ok((block, measure)) } else { Err(problems.finish(text)) }
}

/// Names of the parts of a block, in the order in which they are said first.
fn part_names(raw: &RawBlock) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    let patches = raw.patches.iter().flat_map(|patches| patches.0.iter().map(|(name, _)| &**name));
    let overlays = raw.overlay.iter().flat_map(|list| list.iter().map(|one| &*one.part));
    for name in patches.chain(overlays) {
        if !names.contains(name) {
            names.push(name.clone());
        }
    }
    names
}
