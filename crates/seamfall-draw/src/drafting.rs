//! The sheet on which a block is drawn: its patches, the drafting grid, every seam as drawn, and a sign where there is something to say.
//!
//! In: a block with its draft and the findings with their points. Out: one drawing, larger than the block by a rim to point at; seams carry
//! their numbers in `data-seam`, patches are `p1`, `p2`, ... Beside it, where points of the block lie on the sheet.

use crate::block::{BlockStyle, PatchLabels, block_svg};
use crate::ink::{Colours, Paint};
use crate::page::{Page, number, open};
use crate::text::Escaped;
use seamfall_geom::{Edge, Point, Pose, Vec2};
use seamfall_model::{Block, BlockId, Finding, Grade, GridPoint, Quilt, Repeat, Shape, Spot};
use seamfall_plan::draft::{Draft, course};
use std::fmt::Write;

/// Rim round the block, as a share of its longer side.
const RIM: f64 = 0.06;

/// Most lines of the grid one way: beyond them they would be one grey.
const LINES: u32 = 96;

/// Where points of a block lie on its sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SheetAxes {
    /// The origin of the grid.
    pub origin: Point,
    /// One step along the first axis; a unit where there is no grid.
    pub first: Vec2,
    /// One step along the second axis.
    pub second: Vec2,
}

impl SheetAxes {
    /// Those of a block.
    #[must_use]
    pub fn of(block: &Block) -> Self {
        let origin = on_sheet(block, GridPoint { u: 0.0, v: 0.0 });
        let step = |u, v| on_sheet(block, GridPoint { u, v }) - origin;
        Self { origin, first: step(1.0, 0.0), second: step(0.0, 1.0) }
    }
}

/// Where a point of the block lies on its sheet.
#[must_use]
pub fn on_sheet(block: &Block, point: GridPoint) -> Point {
    page(block).at(block.to_plane(point))
}

/// Where a point of the plane lies on the sheet of a block.
#[must_use]
pub fn plane_on_sheet(block: &Block, point: Point) -> Point {
    page(block).at(point)
}

fn page(block: &Block) -> Page {
    Page { left: 0.0, top: block.shape.outline().bounds().height() }
}

/// Where mirror lines and turns take the sheet: for each image but the first a matrix as SVG writes it.
#[must_use]
pub fn sheet_images(block: &Block, keys: &[&str]) -> Vec<[f64; 6]> {
    let (a, b) = block.shape.sides();
    let bare = Block { grid: None, ..block.clone() };
    let at = |u, v| on_sheet(&bare, GridPoint { u, v });
    let origin = at(0.0, 0.0);
    let (first, second) = (at(a.value(), 0.0) - origin, at(0.0, b.value()) - origin);
    let across = first.cross(second);
    let image = |(to, along, up): (Point, Vec2, Vec2)| {
        let flat = |v: Vec2| Vec2::new(v.x, -v.y);
        let (to, along, up) = (page(block).at(to), flat(along), flat(up));
        // The map that takes `first` to `along` and `second` to `up`: by its two columns.
        let column = |x: f64, y: f64| {
            let unit = Vec2::new(x, y);
            along * (unit.cross(second) / across) + up * (first.cross(unit) / across)
        };
        let (right, down) = (column(1.0, 0.0), column(0.0, 1.0));
        let moved = to - (right * origin.x + down * origin.y);
        [right.x, right.y, down.x, down.y, moved.x, moved.y]
    };
    Repeat::images(block.shape, keys).into_iter().map(image).collect()
}

/// The sheet for the first block of `quilt`, of which `draft` is the draft.
#[must_use]
pub fn drafting_svg(quilt: &Quilt, draft: &Draft, findings: &[(Finding, Option<Point>)]) -> String {
    let mut out = String::new();
    let Some(block) = quilt.blocks.first() else { return out };
    let (width, height) = (draft.size.x, draft.size.y);
    let long = width.max(height);
    let rim = long * RIM;
    open(&mut out, (-rim, -rim, width + 2.0 * rim, height + 2.0 * rim), &block.name);
    let s = number(long / 40.0);
    let _ = write!(
        out,
        r##"<defs><pattern id="bare" width="{s}" height="{s}" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="{s}" height="{s}" fill="#fffdf8"/><path d="M0 0v{s}" stroke="#b9ad98" stroke-width="{}"/></pattern></defs>"##,
        number(long / 200.0)
    );
    let style = BlockStyle {
        paint: Paint::Cloths,
        colours: Colours::Classes,
        labels: PatchLabels::LettersAndCloths,
        grain: false,
        ids: true,
    };
    // The block's own drawing has a rim of a hundred-and-twentieth.
    let own = long / 120.0;
    let (x, wide, high) = (number(-own), number(width + 2.0 * own), number(height + 2.0 * own));
    let inner = block_svg(quilt, draft, BlockId(0), &style);
    out.push_str(&inner.replacen("<svg ", &format!(r#"<svg x="{x}" y="{x}" width="{wide}" height="{high}" "#), 1));
    let page = page(block);
    grid(&mut out, block, page, draft);
    axes(&mut out, block, page);
    seams(&mut out, block, page);
    signs(&mut out, findings, page, long);
    out.push_str("</svg>");
    out
}

fn grid(out: &mut String, block: &Block, page: Page, draft: &Draft) {
    out.push_str(r#"<clipPath id="sheet-clip"><path d=""#);
    page.loops(out, Pose::IDENTITY, [&draft.outline]);
    out.push_str(r#""/></clipPath><path class="grid" clip-path="url(#sheet-clip)" d=""#);
    let (a, b) = block.shape.sides();
    let whole = |length: f64| {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a block is far smaller than a thousand units"
        )]
        let units = length.clamp(1.0, 1_000.0).ceil() as u32;
        units
    };
    let (n, m) = block.grid.unwrap_or((whole(a.value()), whole(b.value())));
    let twice = if matches!(block.shape, Shape::Hexagon { .. }) { 2 } else { 1 };
    let (n, m) = (n * twice, m * twice);
    if n.max(m) <= LINES {
        let mut line = |from: (u32, u32), to: (u32, u32)| {
            let at = |(u, v): (u32, u32)| page.at(block.to_plane(GridPoint { u: f64::from(u), v: f64::from(v) }));
            let (from, to) = (at(from), at(to));
            let _ = write!(out, "M{} {}L{} {}", number(from.x), number(from.y), number(to.x), number(to.y));
        };
        (1..n).for_each(|u| line((u, 0), (u, m)));
        (1..m).for_each(|v| line((0, v), (n, v)));
        if matches!(block.shape, Shape::Hexagon { .. } | Shape::EquilateralTriangle { .. }) {
            (1..n).for_each(|u| line((u, 0), (0, u)));
            (1..n).for_each(|u| line((n, u), (u, n)));
        }
    }
    out.push_str(r#""/>"#);
}

/// Mirror lines, each shown while it is switched on.
fn axes(out: &mut String, block: &Block, page: Page) {
    let (a, b) = block.shape.sides();
    let bare = Block { grid: None, ..block.clone() };
    for repeat in Repeat::of(block.shape) {
        let Some([u, v, to_u, to_v]) = repeat.line else { continue };
        let at = |u: f64, v: f64| page.at(bare.to_plane(GridPoint { u: u * a.value(), v: v * b.value() }));
        let (from, to) = (at(u, v), at(to_u, to_v));
        let _ = write!(
            out,
            r#"<path class="axis" data-axis="{}" d="M{} {}L{} {}"/>"#,
            repeat.key,
            number(from.x),
            number(from.y),
            number(to.x),
            number(to.y)
        );
    }
}

fn seams(out: &mut String, block: &Block, page: Page) {
    let courses: Vec<Vec<Edge>> = block.seams.iter().map(|seam| course(block, seam)).collect();
    for class in ["under", "seam", "grip"] {
        let _ = write!(out, r#"<g class="{class}s">"#);
        for (i, edges) in courses.iter().enumerate() {
            let _ = write!(out, r#"<path class="{class}" data-seam="{}" d=""#, i + 1);
            page.chain(out, Pose::IDENTITY, edges, false);
            out.push_str(r#""/>"#);
        }
        out.push_str("</g>");
    }
}

/// A sign at the point of every finding that has one: its shape says its grade.
fn signs(out: &mut String, findings: &[(Finding, Option<Point>)], page: Page, long: f64) {
    let r = long / 45.0;
    out.push_str(r#"<g class="signs">"#);
    for (i, (finding, at)) in findings.iter().enumerate() {
        let Some(at) = at.map(|at| page.at(at)) else { continue };
        // Above the letter in the middle of a patch; beside a point that is worth seeing.
        let at =
            if matches!(finding.spot, Spot::Patch { .. }) { at - Vec2::new(0.0, r * 2.2) } else { at + Vec2::new(r, -r) * 0.9 };
        let _ = write!(
            out,
            r#"<g class="sign {}" data-finding="{i}"><title>{}</title>"#,
            finding.grade.word(),
            Escaped(&finding.reason)
        );
        let (x, y, size) = (number(at.x), number(at.y), number(r));
        let mark = match finding.grade {
            Grade::Stop => "×",
            Grade::Warn => "!",
            Grade::Note => "i",
        };
        let _ = write!(
            out,
            r#"<circle cx="{x}" cy="{y}" r="{size}"/><text x="{x}" y="{}" font-size="{}" text-anchor="middle" font-weight="bold">{mark}</text></g>"#,
            number(at.y + r * 0.52),
            number(r * 1.5)
        );
    }
    out.push_str("</g>");
}

#[cfg(test)]
mod tests {
    use super::*;
    use seamfall_model::read;
    use seamfall_plan::draft::derive_placed;

    fn quilt(shape: &str) -> Quilt {
        let text = format!(
            "format = 1\nname = \"T\"\nmeasure = \"inch\"\n[cloth.red]\ncolour = \"#aa3333\"\n[block.b]\n{shape}\n[block.o]\nshape = \"square\"\nsize = \"6\"\n\
             patches = {{ red = [[1, 1]] }}\n[setting]\nlayout = \"straight\"\ncolumns = 1\nrows = 1\npattern = [[\"o\"]]\n"
        );
        read(&text).expect("it reads")
    }

    /// The sheet's y runs down; a triangle's second axis leans at 60 degrees: plane geometry.
    #[test]
    fn axes_lie_as_the_shape_has_them() {
        let square = quilt("shape = \"square\"\nsize = \"12\"\ngrid = 4");
        let axes = SheetAxes::of(&square.blocks[0]);
        assert_eq!((axes.origin, axes.first, axes.second), (Point::new(0.0, 12.0), Vec2::new(3.0, 0.0), Vec2::new(0.0, -3.0)));
        let triangle = quilt("shape = \"triangle\"\nsize = \"12\"\ngrid = 4");
        let axes = SheetAxes::of(&triangle.blocks[0]);
        assert!((axes.second - Vec2::new(1.5, -1.5 * 3.0_f64.sqrt())).length() < 1e-9);
    }

    /// A mirror line stays where it is, and its image of a point is as far from it on the other side.
    #[test]
    fn images_on_the_sheet_are_those_of_the_block() {
        for (shape, key) in [("square", "upright"), ("hexagon", "upright"), ("triangle", "upright")] {
            let quilt = quilt(&format!("shape = \"{shape}\"\nsize = \"12\"\ngrid = 4"));
            let block = &quilt.blocks[0];
            let images = sheet_images(block, &[key]);
            let [[a, b, c, d, e, f]] = images[..] else { panic!("{images:?}") };
            let middle = block.shape.outline().bounds().width() / 2.0;
            for point in [Point::new(1.0, 2.0), Point::new(5.0, 7.5)] {
                let image = Point::new(a * point.x + c * point.y + e, b * point.x + d * point.y + f);
                assert!((image - Point::new(2.0 * middle - point.x, point.y)).length() < 1e-9, "{shape}: {image}");
            }
        }
    }

    #[test]
    fn every_seam_and_every_finding_is_on_the_sheet() {
        let quilt = quilt(
            "shape = \"square\"\nsize = \"12\"\ngrid = 4\nseams = [[0, 2, 4, 2], [2, 2, 2, 3], { arc = [2, 0, 0, 2], centre = [0, 0] }]\npatches = { red = [[3, 1]] }",
        );
        let (draft, findings) = derive_placed(&quilt, &quilt.blocks[0]);
        let svg = drafting_svg(&quilt, &draft, &findings);
        for seam in 1..=3 {
            assert_eq!(svg.matches(&format!(r#"data-seam="{seam}""#)).count(), 3, "line, its ground and what is gripped");
        }
        assert_eq!(
            svg.matches(r#"class="sign stop""#).count(),
            findings.iter().filter(|(f, at)| f.grade == Grade::Stop && at.is_some()).count()
        );
        assert!(svg.contains(r#"id="p3""#) && svg.contains(r#"class="cx""#) && !svg.contains("style="));
    }
}
