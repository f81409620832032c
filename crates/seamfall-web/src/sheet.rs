//! A block while it is drawn: what the sheet shows after each thing that is done.
//!
//! In: a quilt, a drawing, and what is done to it. Out: the drawing after it, its patches, what there is to say about it and where, its
//! templates, and the points that a pointer is drawn to. Nothing is kept here: the page holds the drawing until it is saved.

use crate::trouble::Trouble;
use crate::view::drawing as view;
use seamfall_draw::{SheetAxes, drafting_svg, on_sheet, plane_on_sheet, sheet_images};
use seamfall_geom::{Edge, Point};
use seamfall_model::{Block, ClothId, DrawAct, Drawing, FrameChoice, GridPoint, Quilt, Repeat, Seam, point_images, usual_arcs};
use seamfall_plan::draft::{Draft, carried, derive_placed, painted, rest_painted};
use serde::{Deserialize, Serialize};
use tr::tr;

/// Points a pointer is drawn to, at most: more lie closer than it can tell.
const POINTS: usize = 3_000;

/// What the page asks.
#[derive(Debug, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Asked {
    /// The drawing as it is shown.
    pub drawing: Drawing,
    /// What is done to its seams, shape, size or grid.
    #[serde(default)]
    pub act: Option<DrawAct>,
    /// A cloth that is painted onto it.
    #[serde(default)]
    pub paint: Option<Brush>,
    /// Lines and turns that are switched on.
    #[serde(default)]
    pub repeat: Vec<String>,
}

/// A cloth that is painted onto patches.
#[derive(Debug, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Brush {
    /// Key of the cloth.
    cloth: String,
    /// A point of the patch; without one all patches that have no cloth are painted.
    #[serde(default)]
    at: Option<[f64; 2]>,
}

/// What the page shows then.
#[derive(Debug, Serialize, schemars::JsonSchema)]
pub struct Sheet {
    /// The drawing.
    drawing: Drawing,
    /// The sheet.
    svg: String,
    /// The origin of the grid on the sheet, and a step along each axis.
    axes: [[f64; 2]; 3],
    /// Corners of the block on the sheet.
    frame: Vec<[f64; 2]>,
    /// How far the cursor goes along each axis.
    reach: [f64; 2],
    /// Points a pointer is drawn to.
    points: Vec<Spot>,
    /// Seams, in their order.
    seams: Vec<SeamSeen>,
    /// Patches, in their order.
    patches: Vec<Spot>,
    /// Where the lines and turns that are switched on take what is drawn, as matrices of the sheet.
    images: Vec<[f64; 6]>,
    /// What there is to say, as HTML.
    findings: String,
    /// The templates, as HTML.
    templates: String,
    /// The settings of shape, size and grid, as HTML.
    settings: String,
    /// In one sentence what was done and what came of it.
    said: String,
}

/// A point of the sheet.
#[derive(Debug, Serialize, schemars::JsonSchema)]
struct Spot {
    /// On the sheet.
    at: [f64; 2],
    /// In the block.
    grid: [f64; 2],
    /// What is there.
    what: String,
}

/// A seam as it can be taken hold of.
#[derive(Debug, Serialize, schemars::JsonSchema)]
struct SeamSeen {
    /// In words.
    what: String,
    /// Its points, by which it is moved; of an arc its two ends and the top of its bulge.
    holds: Vec<Spot>,
}

/// An arc that is usual between two points.
#[derive(Debug, Serialize, schemars::JsonSchema)]
pub struct ArcSeen {
    /// Its farthest point, on the sheet.
    at: [f64; 2],
    /// The same in the block.
    grid: [f64; 2],
    /// In words.
    what: String,
}

/// Does what is asked, and shows what comes of it.
pub fn shown(quilt: &Quilt, asked: &Asked) -> Result<Sheet, Trouble> {
    let before = asked.drawing.block(quilt).map_err(unusable)?;
    let (after, done) = match (&asked.act, &asked.paint) {
        (Some(act), _) => (acted(quilt, &asked.drawing, &before, act)?, said(act)),
        (None, Some(brush)) => brushed(quilt, &before, brush, &asked.repeat)?,
        (None, None) => (before, String::new()),
    };
    Ok(sheet(quilt, asked, after, &done))
}

/// What is wrong with a drawing, in the words of its first problem: its places are those of a text that nobody sees.
pub fn unusable(error: seamfall_model::FileError) -> Trouble {
    seamfall_model::EditError::WouldBreak(error).into()
}

fn acted(quilt: &Quilt, drawing: &Drawing, before: &Block, act: &DrawAct) -> Result<Block, Trouble> {
    let changed = drawing.after(before, act)?;
    let block = changed.block(quilt).map_err(unusable)?;
    let block = changed.follow(before, &block).block(quilt).map_err(unusable)?;
    Ok(carried(quilt, before, &block))
}

fn brushed(quilt: &Quilt, before: &Block, brush: &Brush, repeat: &[String]) -> Result<(Block, String), Trouble> {
    let cloth = quilt.cloths.iter().position(|cloth| cloth.key == brush.cloth);
    let cloth = cloth.ok_or_else(|| Trouble::unusable(tr!("there is no cloth `{key}`", key = view::short(&brush.cloth))))?;
    let name = &quilt.cloths[cloth].name;
    let Some([u, v]) = brush.at else {
        return Ok((rest_painted(quilt, before, ClothId(cloth)), tr!("All patches without a cloth are {name} now", name)));
    };
    let points = point_images(before, GridPoint { u, v }, repeat)?;
    let after = painted(quilt, before, &points, ClothId(cloth));
    let after = after.ok_or_else(|| Trouble::unusable(tr!("there is no patch at this point; point at the inside of one")))?;
    Ok((after, tr!("Painted with {name}", name)))
}

fn sheet(quilt: &Quilt, asked: &Asked, after: Block, done: &str) -> Sheet {
    // The page's own words stay as they are typed; all else is as it reads back.
    let mut drawing = Drawing::of(quilt, &after);
    drawing.name.clone_from(&asked.drawing.name);
    let alone = alone(quilt, after);
    let block = &alone.blocks[0];
    let (draft, findings) = derive_placed(&alone, block);
    let xy = |point: Point| [point.x, point.y];
    let axes = SheetAxes::of(block);
    let keys: Vec<&str> =
        Repeat::of(block.shape).iter().map(|each| each.key).filter(|key| asked.repeat.iter().any(|on| on == key)).collect();
    let (a, b) = block.shape.sides();
    let twice = if matches!(block.shape, seamfall_model::Shape::Hexagon { .. }) { 2.0 } else { 1.0 };
    let (n, m) = block.grid.map_or((a.value(), b.value()), |(n, m)| (f64::from(n), f64::from(m)));
    Sheet {
        svg: drafting_svg(&alone, &draft, &findings),
        axes: [xy(axes.origin), [axes.first.x, axes.first.y], [axes.second.x, axes.second.y]],
        frame: draft.outline.corners().map(|corner| xy(plane_on_sheet(block, corner))).collect(),
        reach: [n * twice, m * twice],
        points: points(block, &draft),
        seams: block.seams.iter().enumerate().map(|(i, seam)| seam_seen(block, i, seam)).collect(),
        patches: draft.patches.iter().enumerate().map(|(i, _)| patch_seen(&alone, &draft, i)).collect(),
        images: sheet_images(block, &keys),
        findings: view::findings(block, &findings).into_string(),
        templates: view::templates(&alone, &draft).into_string(),
        settings: view::settings(quilt, &drawing).into_string(),
        said: summary(done, &draft, &findings),
        drawing,
    }
}

/// A quilt with nothing but this block and the cloths: what drawings of a block need.
pub fn alone(quilt: &Quilt, mut block: Block) -> Quilt {
    block.frame = Some(FrameChoice::Bare);
    let mut alone = quilt.clone();
    alone.blocks = vec![block];
    alone.setting.places.clear();
    alone
}

/// `A straight seam. 4 patches, 1 thing to mend.`
fn summary(done: &str, draft: &Draft, findings: &[(seamfall_model::Finding, Option<Point>)]) -> String {
    let patches = tr!("1 patch" | "{n} patches" % draft.patches.len());
    let stops = findings.iter().filter(|(finding, _)| finding.grade == seamfall_model::Grade::Stop).count();
    let there = match stops {
        0 => tr!("{patches}.", patches),
        stops => tr!("{patches}, {things}.", patches, things = tr!("1 thing to mend" | "{n} things to mend" % stops)),
    };
    if done.is_empty() { there } else { format!("{done}. {there}") }
}

fn said(act: &DrawAct) -> String {
    match act {
        DrawAct::Line { .. } => tr!("Straight seam drawn"),
        DrawAct::Arc { .. } => tr!("Arc drawn"),
        DrawAct::Remove { seam, .. } => tr!("Seam {seam} taken away", seam),
        DrawAct::MovePoint { seam, .. } | DrawAct::Move { seam, .. } => tr!("Seam {seam} moved", seam),
        DrawAct::Clear => tr!("All seams taken away"),
        DrawAct::Shape { shape } => tr!("The block is a {shape} now", shape = view::shape(shape)),
        DrawAct::Size { size } => tr!("Finished size {size}", size),
        DrawAct::Angle { angle } => tr!("Sharp angle {angle}°", angle),
        DrawAct::Grid { grid: [n, m] } if n == m => tr!("Grid of {number}", number = n),
        DrawAct::Grid { grid: [n, m] } => tr!("Grid of {across} by {up}", across = n, up = m),
    }
}

/// Corners, middles of edges, ends and crossings of seams; each place once.
fn points(block: &Block, draft: &Draft) -> Vec<Spot> {
    let mut points: Vec<(Point, String)> = Vec::new();
    points.extend(draft.outline.corners().map(|corner| (corner, tr!("corner"))));
    points.extend(draft.outline.edges().iter().map(|edge| (edge.at(0.5), tr!("middle of an edge"))));
    for seam in &block.seams {
        let ends = match seam {
            Seam::Line(points) => points.clone(),
            Seam::Arc(arc) => vec![arc.from, arc.to],
        };
        points.extend(ends.into_iter().map(|end| (block.to_plane(end), tr!("end of a seam"))));
    }
    let stretches = || draft.seams.iter().map(|line| &line.edge);
    points.extend(stretches().flat_map(|edge: &Edge| [edge.from(), edge.to()]).map(|point| (point, tr!("crossing"))));
    points.extend(stretches().map(|edge| (edge.at(0.5), tr!("middle of a seam"))));
    // Sorted so that one place stands once, under the first of its names.
    let mut seen = std::collections::BTreeSet::new();
    #[expect(clippy::cast_possible_truncation, reason = "a block is far smaller than 2^63 ten-thousandths")]
    points.retain(|(point, _)| seen.insert([(point.x * 1e4).round() as i64, (point.y * 1e4).round() as i64]));
    points.truncate(POINTS);
    points.into_iter().map(|(point, what)| spot(block, point, what)).collect()
}

fn spot(block: &Block, point: Point, what: String) -> Spot {
    let (at, grid) = (plane_on_sheet(block, point), block.to_grid(point));
    // As it would be written, so that what is drawn to it meets it.
    let round = |value: f64| (value * 1e9).round() / 1e9 + 0.0;
    Spot { at: [at.x, at.y], grid: [round(grid.u), round(grid.v)], what }
}

fn seam_seen(block: &Block, number: usize, seam: &Seam) -> SeamSeen {
    let named = |point: GridPoint| view::point([point.u, point.v]);
    let hold = |point: GridPoint| spot(block, block.to_plane(point), tr!("end"));
    match seam {
        Seam::Line(points) => SeamSeen {
            what: tr!(
                "Seam {number}, straight, from {first} to {last}",
                number = number + 1,
                first = named(points[0]),
                last = named(points[points.len() - 1])
            ),
            holds: points.iter().map(|point| hold(*point)).collect(),
        },
        Seam::Arc(arc) => {
            let top =
                seamfall_plan::draft::course(block, seam).first().map_or_else(|| block.to_plane(arc.from), |edge| edge.at(0.5));
            SeamSeen {
                what: tr!(
                    "Seam {number}, an arc, from {first} to {last}",
                    number = number + 1,
                    first = named(arc.from),
                    last = named(arc.to)
                ),
                holds: vec![hold(arc.from), hold(arc.to), spot(block, top, tr!("top of the bulge"))],
            }
        }
    }
}

fn patch_seen(quilt: &Quilt, draft: &Draft, number: usize) -> Spot {
    let (block, patch) = (&quilt.blocks[0], &draft.patches[number]);
    let cloth = patch.part.map(|part| quilt.cloths[block.parts[part.0].cloth.0].name.clone());
    let letter = &draft.templates[patch.template].letter;
    spot(
        block,
        patch.label,
        tr!(
            "Patch {number}, template {letter}, {cloth}",
            number = number + 1,
            letter,
            cloth = cloth.unwrap_or_else(|| tr!("no cloth yet"))
        ),
    )
}

/// The arcs that are usual between two points.
pub fn arcs(quilt: &Quilt, drawing: &Drawing, [u, v, to_u, to_v]: [f64; 4]) -> Result<Vec<ArcSeen>, Trouble> {
    let block = drawing.block(quilt).map_err(unusable)?;
    let arcs = usual_arcs(&block, GridPoint { u, v }, GridPoint { u: to_u, v: to_v });
    let seen = arcs.into_iter().map(|arc| {
        let at = on_sheet(&block, arc.through);
        let share = match arc.sweep_deg {
            sweep if (sweep - 90.0).abs() < 1e-6 => tr!("A quarter of a circle"),
            sweep if (sweep - 180.0).abs() < 1e-6 => tr!("Half a circle"),
            sweep => tr!("{sweep}° of a circle", sweep = format!("{:.0}", sweep)),
        };
        let what = tr!("{share} about {point}", share, point = view::point([arc.centre.u, arc.centre.v]));
        ArcSeen { at: [at.x, at.y], grid: [arc.through.u, arc.through.v], what }
    });
    Ok(seen.collect())
}
