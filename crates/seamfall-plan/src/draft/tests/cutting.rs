//! Cut outlines held against published charts and exact geometry.

use super::*;
use seamfall_geom::{TipTrim, grow};

/// The only template of a block's kind.
fn template(draft: &Draft, wanted: impl Fn(Kind) -> bool) -> &Template {
    draft.templates.iter().find(|template| wanted(template.kind)).expect("the block has such a patch")
}

/// Cut outline with its tips run out in full.
fn full(template: &Template) -> Loop {
    grow(&template.finished, 0.25, TipTrim::Full).expect("straight shapes have room")
}

fn longest(outline: &Loop) -> f64 {
    outline.edges().iter().map(Edge::length).fold(0.0, f64::max)
}

fn shortest(outline: &Loop) -> f64 {
    outline.edges().iter().map(Edge::length).fold(f64::INFINITY, f64::min)
}

const CROSSED: &str = "shape = \"square\"\nsize = \"8\"\ngrid = 2\nseams = [[0, 0, 2, 2], [0, 2, 2, 0]]\npatches = { red = [[1, 0.5], [1, 1.5]], blue = [[0.5, 1], [1.5, 1]] }";
const HALVED: &str =
    "shape = \"square\"\nsize = \"3\"\ngrid = 1\nseams = [[0, 0, 1, 1]]\npatches = { red = [[0.2, 0.8]], blue = [[0.8, 0.2]] }";

/// Source: check value cutting.exact.hst_allowance (derived: s (2 + √2) is 0.853553 at 1/4 in).
#[test]
fn a_half_square_is_cut_its_side_and_0_853553() {
    let draft = clean(HALVED);
    assert_eq!(list(&draft), ["A 2 HalfSquare { leg: 3.0 }"]);
    near(shortest(&full(&draft.templates[0])), 3.853_553, 5e-7);
    // With trimmed tips it is as wide as a square of the same finished size is cut.
    let cut = draft.templates[0].cut.as_ref().expect("it has room");
    near(cut.bounds().width(), 3.5, 1e-9);
    near(cut.bounds().height(), 3.5, 1e-9);
}

/// Source: check value cutting.exact.qst_allowance (derived: s (2 + 2√2) is 1.207107 at 1/4 in).
#[test]
fn a_quarter_square_is_cut_its_long_side_and_1_207107() {
    let draft = clean(CROSSED);
    assert_eq!(list(&draft), ["A 4 QuarterSquare { long_side: 8.0 }"]);
    near(longest(&full(&draft.templates[0])), 9.207_107, 5e-7);
}

/// Source: check value cutting.exact.hst_metric (derived: 25.606602 and 36.213203 mm at 7.5 mm).
#[test]
fn metric_triangles_have_the_metric_allowance() {
    for (block, add, measured) in [(HALVED, 2.560_660_2, shortest as fn(&Loop) -> f64), (CROSSED, 3.621_320_3, longest)] {
        let quilt = quilt_in("cm", &block.replace("\"3\"", "\"8\""));
        let draft = derive(&quilt, &quilt.blocks[0]).result;
        let cut = grow(&draft.templates[0].finished, quilt.allowance.0.value(), TipTrim::Full).expect("it has room");
        near(measured(&cut), 8.0 + add, 5e-8);
    }
}

/// Source: check values cutting.tri60.add ("How to Cut Equilateral Triangles", Mythic Seam; "Triangle tips and inspiration",
/// Blotch and Thrum: the height grows by 3 seams) and cutting.tri60.side_loss (derived: the side by 2√3 seams, 0.866025 in).
#[test]
fn a_60_degree_triangle_is_cut_three_seams_higher() {
    let draft = clean("shape = \"triangle\"\nsize = \"4\"\npatches = { red = [[1, 1]] }");
    let Kind::Equilateral { height } = draft.templates[0].kind else { panic!("{:?}", draft.templates[0].kind) };
    near(height, 3.464_102, 5e-7);
    let cut = full(&draft.templates[0]);
    near(cut.area() * 2.0 / longest(&cut), height + 0.75, 1e-9);
    near(longest(&cut), 4.0 + 0.866_025, 5e-7);
    // Source: check value cutting.tri60.side (Mythic Seam: a height of 4.25 in has a side of 4.91 in).
    let quilt = quilt("shape = \"triangle\"\nsize = \"4.91\"\npatches = { red = [[1, 1]] }");
    near(derive(&quilt, &quilt.blocks[0]).result.size.y, 4.25, 0.005);
}

/// Source: check values cutting.diamond45.strip ("Rotary cutting part 7", Chris and Barbara Quilts: the strip is 2 seams wider
/// than the diamond) and cutting.diamond60.strip (derived: 3 in on a side is 2.598076 wide, strip 3.098076, length 3.57735).
#[test]
fn diamonds_come_from_strips_two_seams_wider() {
    for (size, angle, width) in [("3", 60.0, 2.598_076), ("4", 45.0, 2.828_427)] {
        let draft = clean(&format!("shape = \"diamond\"\nsize = \"{size}\"\nangle = {angle}\npatches = {{ red = [[1, 1]] }}"));
        let template = &draft.templates[0];
        let Kind::Diamond { width: found, angle_deg, .. } = template.kind else { panic!("{:?}", template.kind) };
        near(found, width, 5e-7);
        near(angle_deg, angle, 1e-9);
        let cut = full(template);
        near(cut.area() / longest(&cut), width + 0.5, 5e-7);
        if size == "3" {
            near(longest(&cut), 3.577_35, 5e-7);
        }
        // Grain runs along a side: the strip stands upright, and with it two sides of the diamond.
        near(template.cut.as_ref().expect("it has room").bounds().width(), width + 0.5, 5e-7);
    }
}

/// Source: check values cutting.star8.factor ("Formulas for Quilters", Karen Combs Studio: block = side × 3.41) and
/// cutting.star8.diamond (derived: 14 in has diamonds of 4.100505 in, 2.899495 wide, from strips of 3.399495).
#[test]
fn an_eight_pointed_star_has_one_diamond() {
    let side = 14.0 / (2.0 + 2_f64.sqrt());
    let (a, b) = (side, 14.0 - side);
    let short = side / 2_f64.sqrt();
    let (m, o) = (7.0, 7.0 - short);
    let p = 7.0 + short;
    let seams = [
        // From the middle to the inner points of the star, and from these to the eight tips on the edge.
        [m, m, m, 7.0 - side],
        [m, m, m, 7.0 + side],
        [m, m, 7.0 - side, m],
        [m, m, 7.0 + side, m],
        [m, m, o, o],
        [m, m, p, o],
        [m, m, o, p],
        [m, m, p, p],
    ];
    let mut seams: Vec<String> = seams.iter().map(|seam| format!("{seam:?}")).collect();
    for (inner, tips) in [
        ((m, 7.0 - side), [(a, 0.0), (b, 0.0)]),
        ((m, 7.0 + side), [(a, 14.0), (b, 14.0)]),
        ((7.0 - side, m), [(0.0, a), (0.0, b)]),
        ((7.0 + side, m), [(14.0, a), (14.0, b)]),
        ((o, o), [(a, 0.0), (0.0, a)]),
        ((p, o), [(b, 0.0), (14.0, a)]),
        ((o, p), [(a, 14.0), (0.0, b)]),
        ((p, p), [(b, 14.0), (14.0, b)]),
    ] {
        seams.extend(tips.iter().map(|tip| format!("[{}, {}, {}, {}]", inner.0, inner.1, tip.0, tip.1)));
    }
    let staged =
        draft(&format!("shape = \"square\"\nsize = \"14\"\nseams = [{}]\npatches = {{ red = [[1, 1]] }}", seams.join(", ")));
    let draft = staged.result;
    assert_eq!(draft.patches.len(), 16);
    let diamond = template(&draft, |kind| matches!(kind, Kind::Diamond { .. }));
    let Kind::Diamond { side, width, angle_deg } = diamond.kind else { unreachable!("asked for above") };
    assert_eq!(diamond.count, 8);
    near(side, 4.100_505, 5e-7);
    near(width, 2.899_495, 5e-7);
    near(angle_deg, 45.0, 1e-6);
    let cut = full(diamond);
    near(cut.area() / longest(&cut), 3.399_495, 5e-7);
    near(14.0 / side, 3.41, 0.005);
    assert_eq!(draft.templates.len(), 3, "diamonds, corner squares, side triangles: {:?}", list(&draft));
    assert!(draft.templates.iter().any(|template| matches!(template.kind, Kind::QuarterSquare { .. }) && template.count == 4));
}

/// Source: check value cutting.hex.cut (derived: 2 in finished is cut 2.288675 on a side, 3.964102 between flats).
#[test]
fn a_two_inch_hexagon_is_cut_3_964102_between_flats() {
    let draft = clean("shape = \"hexagon\"\nsize = \"2\"\ngrid = 1\npatches = { red = [[1, 1]] }");
    let template = &draft.templates[0];
    let Kind::Hexagon { side, flats } = template.kind else { panic!("{:?}", template.kind) };
    near(side, 2.0, 1e-9);
    near(flats, 3.464_102, 5e-7);
    let cut = template.cut.as_ref().expect("it has room");
    near(cut.edges()[0].length(), 2.288_675, 5e-7);
    near(cut.bounds().width(), 3.964_102, 5e-7);
    assert_eq!(cut.edges().len(), 6, "no corner is sharp");
}

/// Source: check values cutting.dp.areas (derived: 4 in unit with a 3 in arc: 7.068583 and 8.931417 sq in, seam 4.712389 in) and
/// cutting.dp.creative ("Drunkard's Path instructions", Creative Curves: background 4 1/2 in, quarter circle 3 1/2 in).
#[test]
fn a_quarter_circle_is_cut_as_the_charts_say() {
    let draft = clean(
        "shape = \"square\"\nsize = \"4\"\ngrid = 4\nseams = [{ arc = [3, 0, 0, 3], centre = [0, 0] }]\npatches = { red = [[1, 1]], blue = [[3.5, 3.5]] }",
    );
    let (ell, pie) = (&draft.patches[0], &draft.patches[1]);
    near(ell.area, 8.931_417, 5e-7);
    near(pie.area, 7.068_583, 5e-7);
    near(draft.seams[0].edge.length(), 4.712_389, 5e-7);
    let size = |patch: &Patch| draft.templates[patch.template].cut.as_ref().expect("it has room").bounds().size();
    near(size(ell).width, 4.5, 1e-9);
    near(size(ell).height, 4.5, 1e-9);
    near(size(pie).width, 3.5, 1e-9);
    near(size(pie).height, 3.5, 1e-9);
    for template in &draft.templates {
        assert_eq!((template.kind, template.notches.len()), (Kind::Curved, 1));
        let notch = template.notches[0];
        near((notch.to - notch.from).hypot(), 0.25, 1e-9);
        assert!(!template.finished.contains(notch.to), "a notch points away from the patch");
        let cut = template.cut.as_ref().expect("it has room");
        near(cut.edges().iter().map(|edge| (edge.nearest(notch.to) - notch.to).hypot()).fold(9.0, f64::min), 0.0, 1e-9);
    }
}

/// An arc longer than 6 in has its quarters marked, and both sides of a seam the same number of marks.
#[test]
fn long_arcs_have_quarter_marks() {
    let draft = clean(
        "shape = \"square\"\nsize = \"8\"\ngrid = 4\nseams = [{ arc = [3, 0, 0, 3], centre = [0, 0] }]\npatches = { red = [[1, 1]], blue = [[3.5, 3.5]] }",
    );
    assert_eq!(draft.templates.iter().map(|template| template.notches.len()).collect::<Vec<_>>(), [3, 3]);
}

/// Where a seam meets an arc from one side, the patch on the other side has a mark there.
#[test]
fn marks_stand_where_a_seam_meets_an_arc() {
    let draft = clean(
        "shape = \"square\"\nsize = \"5\"\ngrid = 5\nseams = [{ arc = [5, 0, 0, 5], centre = [0, 0] }, [0, 0, 3.5355339059, 3.5355339059]]\npatches = { red = [[1, 2], [2, 1]], blue = [[4.8, 4.8]] }",
    );
    let of = |patch: &Patch| draft.templates[patch.template].notches.len();
    let marks: Vec<usize> = draft.patches.iter().map(of).collect();
    assert_eq!(marks, [3, 1, 1]);
}
