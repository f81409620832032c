//! The check of one block: its shape, seams, patches, overlays and cloths, in a quilt file or by itself.

use super::check::{Check, shortened, shown};
use super::parse::parse;
use super::problems::{FileKind, Problems, suggestion};
use super::raw::*;
use super::starter;
use crate::*;
use seamfall_geom::TOLERANCE;
use std::ops::Range;
use tr::tr;

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
            let reason = tr!("a starter block brings its own `{name}`", name);
            check.problems.add(span, reason, tr!("take it away, or take `starter` away and draw the block here"));
        }
    }
    let set = starter_blocks();
    let Some(design) = set.iter().find(|block| block.key == **key) else {
        let help = suggestion(key, set.iter().map(|block| block.key.as_str()))
            .unwrap_or_else(|| tr!("the starter set lists what there is; any block can also be drawn in the file"));
        let reason = tr!("the starter set has no block `{written}`", written = shortened(key));
        check.problems.add(key.span(), reason, help);
        return stand_in();
    };
    let kind = kind_of(design.shape);
    let angle = if let Shape::Diamond { angle_deg, .. } = design.shape { Some(angle_deg) } else { None };
    match shape(check, kind, raw.size.as_ref(), angle, raw.span()) {
        Some(shape) => starter::sized(design, shape, check.measure).unwrap_or_else(|| {
            let reason = tr!("this block has arcs, which stay round only in the proportions of the starter block");
            let span = raw.size.as_ref().map_or(raw.span(), At::span);
            check.problems.add(span, reason, tr!("give width and height in its own proportions"));
            stand_in()
        }),
        None => stand_in(),
    }
}

/// A block drawn in the file.
fn drawn(check: &mut Check<'_>, key: &At<String>, raw: &At<RawBlock>) -> Block {
    let Some(kind) = &raw.shape else {
        let help = tr!("add `shape = \"square\"`, or take a block of the starter set: `starter = \"churn-dash\"`");
        check.problems.add(raw.span(), tr!("block `{written}` has no shape", written = shortened(key)), help);
        return stand_in();
    };
    let angle = match (&raw.angle, **kind) {
        (Some(angle), RawShape::Diamond) if !(10.0..=90.0).contains(&**angle) => {
            let help = tr!("45 and 60 are usual");
            check.problems.add(angle.span(), tr!("the sharp angle of a diamond lies between 10 and 90 degrees"), help);
            Some(60.0)
        }
        (Some(angle), RawShape::Diamond) => Some(**angle),
        (Some(angle), _) => {
            check.problems.add(angle.span(), tr!("only a diamond has an `angle`"), tr!("take it away"));
            None
        }
        (None, RawShape::Diamond) => {
            check.problems.add(kind.span(), tr!("a diamond needs its `angle`"), tr!("add `angle = 60`"));
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
        block.seams = chain(check, &block, seams, &tr!("seams"), limits::SEAMS_A_BLOCK);
    }
    let part_of = |parts: &mut Vec<Part>, name: &str| {
        PartId(parts.iter().position(|part| part.name == name).unwrap_or_else(|| {
            parts.push(Part { name: name.to_owned(), cloth: ClothId(0) });
            parts.len() - 1
        }))
    };
    if let Some(patches) = &raw.patches {
        check.keys(patches, &tr!("parts"), limits::PARTS);
        let count: usize = patches.0.iter().map(|(_, points)| points.len()).sum();
        if count > limits::MARKS {
            check.too_many(patches.span(), count, &tr!("points in patches"), limits::MARKS);
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
                check.problems.add(point.span(), tr!("a point in a patch is two numbers"), tr!("write it like [1, 3]"));
            }
        }
    }
    if let Some(overlays) = &raw.overlay {
        if overlays.len() > limits::OVERLAYS {
            check.too_many(overlays.span(), overlays.len(), &tr!("overlays"), limits::OVERLAYS);
        }
        for overlay in overlays.iter().take(limits::OVERLAYS) {
            check.key(&overlay.part);
            let part = part_of(&mut block.parts, &overlay.part);
            let turn_under = match &overlay.turn_under {
                Some(typed) => check.length(typed, "turn-under", (limits::SHORTEST_IN, limits::SEAM_IN)),
                None => usual_turn_under(check.measure),
            };
            let outline = chain(check, &block, &overlay.outline, &tr!("lines in this outline"), limits::SEAMS_A_BLOCK);
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
            let reason = tr!("block `{block}` has no part `{part}`", block = block.key, part = shortened(part));
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
            let reason = tr!("part `{part}` of block `{block}` has no cloth", part = part.name, block = block.key);
            let help = tr!("add `{part} = \"CLOTH\"` to its `cloths`", part = part.name);
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
        let help = if two { tr!("add `size = \"9 x 12\"`") } else { tr!("add `size = \"12\"`") };
        check.problems.add(whole, tr!("the block has no `size`"), help.to_owned());
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
            check.problems.add(size.span(), tr!("a rectangle needs width and height"), tr!("write it like \"9 x 12\""));
            None
        }
        (false, Some(_)) => {
            let reason = tr!("only a rectangle has two sizes");
            check.problems.add(size.span(), reason, tr!("give the side alone, or make the shape a rectangle"));
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
        let reason = tr!("a grid has 1 to {most} divisions", most = limits::GRID);
        check.problems.add(raw.span(), reason, tr!("4 or 6 are usual; without a grid points are lengths"));
        return (1, 1);
    }
    if kind == RawShape::Rectangle && matches!(**raw, RawGrid::Both(_)) {
        let reason = tr!("the grid of a rectangle has two numbers");
        check.problems.add(raw.span(), reason, tr!("write it like [{number}, {number}]: across and up", number = n));
    }
    if n != m && matches!(kind, RawShape::Triangle | RawShape::Hexagon) {
        let reason = tr!("a triangle or hexagon is divided the same way on every side");
        check.problems.add(raw.span(), reason, tr!("write one number: {number}", number = n));
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
    let reason = tr!("{bad} lies outside every block", bad);
    check.problems.add(span, reason, tr!("numbers of a point lie between -{most} and {most}", most = FARTHEST));
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
                let reason = tr!(
                    "seam {number} has {numbers} numbers, but two points or more need an even count",
                    number,
                    numbers = numbers.len()
                );
                check.problems.add(span, reason, tr!("write it like [0, 2, 2, 4]: from 0, 2 to 2, 4"));
                return None;
            }
            let points = numbers.chunks_exact(2).map(|p| point(check, span.clone(), p[0], p[1]));
            let points = points.collect::<Option<Vec<_>>>()?;
            if points.windows(2).any(|p| block.to_plane(p[0]).distance_squared(block.to_plane(p[1])) <= TOLERANCE * TOLERANCE) {
                let reason = tr!("seam {number} has two points in one place", number);
                check.problems.add(span, reason, tr!("take one of them away"));
            }
            Some(Seam::Line(points))
        }
        RawSeam::Arc(arc) => {
            let ([a, b, c, d], [u, v]) = (&arc.arc[..], &arc.centre[..]) else {
                let reason = tr!("seam {number}: an arc has four numbers and its centre two", number);
                check.problems.add(span, reason, tr!("write it like {arc}", arc = "{ arc = [2, 0, 0, 2], centre = [0, 0] }"));
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
        let help = tr!("draw a full circle as two halves");
        check.problems.add(span, tr!("seam {number}: the arc ends where it starts", number), help);
    } else if first <= TOLERANCE || (first - second).abs() > ROUND * first.max(second).max(1.0) {
        let far = |length: f64| shown(Length::new(length), check.measure);
        let reason = tr!(
            "seam {number}: the ends of the arc are not equally far from its centre, {far} and {second}",
            number,
            far = far(first),
            second = far(second)
        );
        check.problems.add(span, reason, tr!("move the centre, or one of the ends"));
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
        check.problems.add(span, tr!("the outline is empty"), tr!("give it lines or arcs that go all the way round"));
        return;
    }
    for (i, seam) in outline.iter().enumerate() {
        let next = (i + 1) % outline.len();
        let (end, start) = (ends(seam).1, ends(&outline[next]).0);
        if (block.to_plane(end) - block.to_plane(start)).length() > TOLERANCE {
            let reason =
                tr!("the outline is not closed: piece {i} ends where piece {next} does not start", i = i + 1, next = next + 1);
            check.problems.add(span, reason, tr!("let each piece start where the one before ends"));
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
        let reason = tr!("format {value} is not known to this version, which reads format 1", value = *raw.format);
        problems.add(raw.format.span(), reason, tr!("write `format = 1`, or use a newer version"));
    }
    for (name, span) in [
        ("starter", raw.block.starter.as_ref().map(At::span)),
        ("cloths", raw.block.cloths.as_ref().map(|cloths| cloths.span())),
        ("frame", raw.block.frame.as_ref().map(At::span)),
    ] {
        if let Some(span) = span {
            let help = tr!("take it away: a block's own file says what is drawn, and the quilt that takes it has the rest");
            problems.add(span, tr!("a block by itself has no `{name}`", name), help);
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
