//! What holds for every draft.

use super::*;
use i_overlay::core::{fill_rule::FillRule, overlay_rule::OverlayRule};
use i_overlay::float::{single::SingleFloatOverlay, slice::FloatSlice};
use proptest::prelude::*;
use seamfall_geom::Pose;
use seamfall_model::{GridPoint, Length, Mark, Overlay, Seam, Shape, starter_blocks};

/// Areas add up, every patch is congruent with its template, and all are counted.
pub(super) fn check(draft: &Draft) {
    let whole = draft.outline.area();
    let sum: f64 = draft.patches.iter().map(|patch| patch.area).sum();
    assert!((sum - whole).abs() <= 1e-9 * whole, "patches {sum}, block {whole}");
    for patch in &draft.patches {
        let template = &draft.templates[patch.template];
        let area = template.finished.area() + template.holes.iter().map(Loop::area).sum::<f64>();
        assert!((area - patch.area).abs() <= 1e-4 * (1.0 + patch.outline.perimeter()), "template {area}, patch {}", patch.area);
        assert!((template.finished.perimeter() - patch.outline.perimeter()).abs() <= 1e-4 * patch.outline.edges().len() as f64);
        assert!((0.0..180.0).contains(&patch.grain_deg));
        assert!(
            patch.outline.contains(patch.label) && !patch.holes.iter().any(|hole| hole.contains(patch.label))
                || patch.area < 1e-3
        );
    }
    for (number, template) in draft.templates.iter().enumerate() {
        let patches = draft.patches.iter().filter(|patch| patch.template == number).count();
        let overlays = draft.overlays.iter().filter(|overlay| overlay.template == number).count();
        assert_eq!(template.count, patches + overlays, "template {}", template.letter);
        if let Some(cut) = &template.cut {
            assert!(cut.bounds().origin().to_vec2().hypot() < 1e-9, "the cut outline lies at the origin");
        }
    }
    let first: Vec<usize> = draft.patches.iter().map(|patch| patch.template).collect();
    let mut next = 0;
    for template in first {
        assert!(template <= next, "letters follow first use");
        next = next.max(template + 1);
    }
    for line in &draft.seams {
        assert!(line.left < draft.patches.len() && line.right < draft.patches.len() && line.left != line.right);
    }
}

/// Corners of a loop, arcs as sixteen chords.
fn flat(outline: &Loop) -> Vec<[f64; 2]> {
    let points = outline.edges().iter().flat_map(|edge| {
        let steps = if matches!(edge, Edge::Arc { .. }) { 16 } else { 1 };
        (0..steps).map(move |i| edge.at(f64::from(i) / f64::from(steps)))
    });
    points.map(|point| [point.x, point.y]).collect()
}

fn area(path: &[[f64; 2]]) -> f64 {
    (0..path.len()).map(|i| (path[i], path[(i + 1) % path.len()])).map(|(a, b)| (a[0] * b[1] - b[0] * a[1]) / 2.0).sum()
}

fn shapes_area(shapes: &[Vec<Vec<[f64; 2]>>]) -> f64 {
    shapes.iter().flatten().map(|path| area(path)).sum()
}

/// The starter blocks, with a quilt that lends them its unit and allowance.
fn starters() -> (Quilt, &'static [Block]) {
    let quilt = quilt("shape = \"square\"\nsize = \"12\"\npatches = { red = [[1, 1]] }");
    assert!(!starter_blocks().is_empty());
    (quilt, starter_blocks())
}

#[test]
fn starter_blocks_draft_with_nothing_to_mend() {
    let (quilt, blocks) = starters();
    for block in blocks {
        let staged = derive(&quilt, block);
        check(&staged.result);
        let wrong: Vec<_> = staged.findings.iter().filter(|finding| finding.grade != Grade::Note).collect();
        assert!(wrong.is_empty(), "{}: {wrong:#?}", block.key);
        assert!(staged.result.patches.iter().all(|patch| patch.part.is_some()), "{}", block.key);
        assert!(staged.result.templates.iter().all(|template| template.cut.is_some()), "{}", block.key);
    }
}

/// Patches neither overlap nor leave a gap: their union, found by an independent polygon library (`i_overlay`), is the block,
/// and no smaller than their sum.
#[test]
fn patches_tile_the_block_by_an_independent_library() {
    let (quilt, blocks) = starters();
    for block in blocks {
        let draft = derive(&quilt, block).result;
        let whole = draft.outline.area();
        let patches: Vec<Vec<Vec<[f64; 2]>>> =
            draft.patches.iter().map(|patch| [&patch.outline].into_iter().chain(&patch.holes).map(flat).collect()).collect();
        let sum = shapes_area(&patches);
        let mut union: Vec<Vec<Vec<[f64; 2]>>> = Vec::new();
        for patch in &patches {
            union = union.overlay_as::<i64>(patch, OverlayRule::Union, FillRule::NonZero);
        }
        near(shapes_area(&union), whole, 1e-9 * whole);
        near(sum, whole, 1e-9 * whole);
    }
}

/// The same patches as `i_overlay` gets by slicing the outline along the seams. It is given steps of the grid, where all
/// meetings are exact: a seam that ends a hair before another is a loose end to it. So blocks with other points are left out.
#[test]
fn straight_seams_slice_as_an_independent_library_does() {
    let eighths = |point: &GridPoint| (point.u * 8.0).fract() == 0.0 && (point.v * 8.0).fract() == 0.0;
    let lines = |block: &Block| -> Option<Vec<Vec<[f64; 2]>>> {
        block.grid?;
        let line = |seam: &Seam| match seam {
            Seam::Line(points) if points.iter().all(eighths) => Some(points.iter().map(|point| [point.u, point.v]).collect()),
            _ => None,
        };
        block.seams.iter().map(line).collect()
    };
    let (quilt, blocks) = starters();
    let mut compared = 0;
    for (block, lines) in blocks.iter().filter_map(|block| Some((block, lines(block)?))) {
        let draft = derive(&quilt, block).result;
        let corners = draft.outline.corners().map(|corner| block.to_grid(corner));
        let frame: Vec<[f64; 2]> = corners.map(|corner| [corner.u.round(), corner.v.round()]).collect();
        let step = draft.outline.area() / area(&frame);
        let sliced = frame.slice_by_as::<i64>(&lines, FillRule::EvenOdd);
        let mut theirs: Vec<f64> = sliced.iter().map(|shape| step * shape.iter().map(|path| area(path)).sum::<f64>()).collect();
        let mut ours: Vec<f64> = draft.patches.iter().map(|patch| patch.area).collect();
        theirs.sort_by(f64::total_cmp);
        ours.sort_by(f64::total_cmp);
        assert_eq!(ours.len(), theirs.len(), "{}", block.key);
        for (a, b) in ours.iter().zip(&theirs) {
            assert!((a - b).abs() <= 1e-9 * draft.outline.area(), "{}: {a} and {b}", block.key);
        }
        compared += 1;
    }
    assert!(2 * compared > blocks.len(), "most blocks are compared, not {compared}");
}

/// A square block turned a quarter to the left.
fn turned(block: &Block) -> Block {
    let (Shape::Square { side }, Some((n, _))) = (block.shape, block.grid) else { panic!("a square on a grid") };
    let _: Length = side;
    let at = |point: GridPoint| GridPoint { u: f64::from(n) - point.v, v: point.u };
    let seam = |seam: &Seam| match seam {
        Seam::Line(points) => Seam::Line(points.iter().copied().map(at).collect()),
        Seam::Arc(arc) => Seam::Arc(seamfall_model::Arc { from: at(arc.from), to: at(arc.to), centre: at(arc.centre), ..*arc }),
    };
    let overlay = |overlay: &Overlay| Overlay { outline: overlay.outline.iter().map(seam).collect(), ..overlay.clone() };
    Block {
        seams: block.seams.iter().map(seam).collect(),
        marks: block.marks.iter().map(|mark| Mark { at: at(mark.at), part: mark.part }).collect(),
        overlays: block.overlays.iter().map(overlay).collect(),
        ..block.clone()
    }
}

#[test]
fn turning_a_block_changes_no_template() {
    let (quilt, blocks) = starters();
    let square = |block: &&Block| matches!((block.shape, block.grid), (Shape::Square { .. }, Some((n, m))) if n == m);
    for block in blocks.iter().filter(square) {
        let sizes = |block: &Block| {
            let draft = derive(&quilt, block).result;
            let size = |template: &Template| (template.count, (template.finished.area() * 1e4).round() as i64);
            let mut sizes: Vec<_> = draft.templates.iter().map(size).collect();
            sizes.sort_unstable();
            sizes
        };
        let mut turning = block.clone();
        for _ in 0..3 {
            turning = turned(&turning);
            assert_eq!(sizes(block), sizes(&turning), "{}", block.key);
        }
    }
}

#[test]
fn points_on_a_grid_are_exact() {
    for (shape, n, m) in [("shape = \"square\"\nsize = \"9\"", 12, 12), ("shape = \"rectangle\"\nsize = \"9 x 21\"", 12, 28)] {
        let quilt = quilt(&format!("{shape}\ngrid = [{n}, {m}]\npatches = {{ red = [[1, 1]] }}"));
        let block = &quilt.blocks[0];
        for i in 0..=n {
            // Three quarters of an inch a step: exact in floating point, and so must the point be.
            let point = block.to_plane(GridPoint { u: f64::from(i), v: f64::from(m - i) });
            assert_eq!((point.x, point.y), (0.75 * f64::from(i), 0.75 * f64::from(m - i)));
        }
    }
}

/// Every shape's corners lie on its grid where [`Shape`] says, bounds at the origin, and the grid leads back.
#[test]
fn corners_lie_on_the_grid() {
    let six = [(2, 0), (4, 0), (4, 2), (2, 4), (0, 4), (0, 2)];
    for (shape, corners) in [
        ("shape = \"square\"\nsize = \"6\"\ngrid = 2", &[(0, 0), (2, 0), (2, 2), (0, 2)][..]),
        ("shape = \"triangle\"\nsize = \"6\"\ngrid = 2", &[(0, 0), (2, 0), (0, 2)]),
        ("shape = \"right-triangle\"\nsize = \"6\"\ngrid = 2", &[(0, 0), (2, 0), (0, 2)]),
        ("shape = \"diamond\"\nsize = \"6\"\nangle = 45\ngrid = 2", &[(0, 0), (2, 0), (2, 2), (0, 2)]),
        ("shape = \"hexagon\"\nsize = \"6\"\ngrid = 2", &six),
    ] {
        let quilt = quilt(&format!("{shape}\npatches = {{ red = [[0.7, 0.7]] }}"));
        let block = &quilt.blocks[0];
        let found = block.shape.outline();
        assert!(found.bounds().origin().to_vec2().hypot() < 1e-12, "{shape}");
        assert_eq!(found.edges().len(), corners.len());
        for (corner, (u, v)) in found.corners().zip(corners) {
            let point = GridPoint { u: f64::from(*u), v: f64::from(*v) };
            near((block.to_plane(point) - corner).hypot(), 0.0, 1e-12);
            let back = block.to_grid(corner);
            near((back.u - point.u).abs() + (back.v - point.v).abs(), 0.0, 1e-12);
        }
    }
}

fn any_shape() -> impl Strategy<Value = Shape> {
    let side = Length::new(12.0);
    prop_oneof![
        Just(Shape::Square { side }),
        Just(Shape::Rectangle { width: side, height: Length::new(9.0) }),
        Just(Shape::EquilateralTriangle { side }),
        Just(Shape::RightTriangle { leg: side }),
        Just(Shape::Diamond { side, angle_deg: 45.0 }),
        Just(Shape::Hexagon { side }),
    ]
}

fn any_seam() -> impl Strategy<Value = Seam> {
    // On the grid and off it: both meet edges, corners and one another.
    let number = || prop_oneof![(-1..14_i32).prop_map(f64::from), -1.0..14.0];
    let point = move || (number(), number()).prop_map(|(u, v)| GridPoint { u, v });
    prop_oneof![
        prop::collection::vec(point(), 2..5).prop_map(Seam::Line),
        (point(), point(), point(), any::<bool>()).prop_map(|(from, to, centre, long_way)| Seam::Arc(seamfall_model::Arc {
            from,
            to,
            centre,
            long_way
        })),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn random_seams_draft_lawfully(shape in any_shape(), seams in prop::collection::vec(any_seam(), 0..10)) {
        let quilt = quilt("shape = \"square\"\nsize = \"12\"\ngrid = 12\npatches = { red = [[1, 1]] }");
        let overlays = vec![Overlay { outline: seams.clone(), part: PartId(0), turn_under: Length::new(0.1875) }];
        let block = Block { shape, seams, overlays, ..quilt.blocks[0].clone() };
        let first = derive(&quilt, &block);
        check(&first.result);
        prop_assert_eq!(&first, &derive(&quilt, &block));
    }

    #[test]
    fn the_same_shape_turned_has_one_template(angle in 0.0..360.0_f64, corners in 3..9_usize, seed in 0.2..1.0_f64) {
        let points: Vec<Point> = (0..corners)
            .map(|i| {
                let (sin, cos) = libm::sincos(std::f64::consts::TAU * i as f64 / corners as f64);
                // Some corner stands out from the round, so that the shape has no mirror image of its own.
                let radius = 2.0 + seed * (i % 3) as f64 / (1.0 + i as f64);
                Point::new(radius * cos, radius * sin)
            })
            .collect();
        let outline = Loop::polygon(&points);
        let mut other = points.clone();
        other.rotate_left(1);
        let moved = Loop::polygon(&other).moved(Pose::turn_deg(angle).then(Pose::shift(Vec2::new(5.0, -3.0))));
        prop_assert_eq!(super::super::shape::lie(&outline, &[]).key, super::super::shape::lie(&moved, &[]).key);
    }
}
