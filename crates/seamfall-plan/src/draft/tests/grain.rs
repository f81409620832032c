//! Straight grain, kinds of shape, and what shares a template.

use super::*;

const FOUR: &str = "shape = \"square\"\nsize = \"6\"\ngrid = 2\nseams = [[1, 0, 1, 2], [0, 1, 2, 1]]\npatches = { red = [[0.5, 0.5], [1.5, 1.5]], blue = [[0.5, 1.5], [1.5, 0.5]] }";

#[test]
fn four_squares_share_a_template_whatever_their_cloth() {
    let draft = clean(FOUR);
    assert_eq!(list(&draft), ["A 4 Square { side: 3.0 }"]);
    assert_eq!(draft.seams.len(), 4, "each stretch between two meetings once");
    let parts: Vec<_> = draft.patches.iter().map(|patch| patch.part.expect("all are marked").0).collect();
    assert_eq!(parts, [1, 0, 0, 1], "from the top down, then from the left");
    let cut = draft.templates[0].cut.as_ref().expect("it has room");
    assert_eq!(
        cut.corners().map(|corner| (corner.x, corner.y)).collect::<Vec<_>>(),
        [(3.5, 0.0), (3.5, 3.5), (0.0, 3.5), (0.0, 0.0)]
    );
}

/// A flying goose and its two sky triangles: the goose has its long side on the outside, the sky its legs.
#[test]
fn grain_lies_on_the_outside_of_the_block() {
    let draft = clean(
        "shape = \"rectangle\"\nsize = \"6 x 3\"\ngrid = [2, 1]\nseams = [[0, 0, 1, 1, 2, 0]]\npatches = { red = [[1, 0.5]], blue = [[0.2, 0.8], [1.8, 0.8]] }",
    );
    assert_eq!(list(&draft), ["A 1 QuarterSquare { long_side: 6.0 }", "B 2 HalfSquare { leg: 3.0 }"]);
    let grain: Vec<f64> = draft.patches.iter().map(|patch| patch.grain_deg).collect();
    assert!(grain.iter().all(|deg| deg % 90.0 == 0.0), "{grain:?}");
}

/// Half squares inside a block have their legs on the straight grain, and do not share with quarter squares of their size.
#[test]
fn inner_half_squares_keep_their_legs_on_the_grain() {
    // A square on its corner in the middle, parted both ways; four corners outside it.
    let draft = clean(
        "shape = \"square\"\nsize = \"8\"\ngrid = 2\nseams = [[1, 0, 2, 1, 1, 2, 0, 1, 1, 0], [0, 1, 2, 1], [1, 0, 1, 2]]\npatches = { red = [[0.2, 0.2], [1.8, 0.2], [1.8, 1.8], [0.2, 1.8]], blue = [[0.8, 0.8], [1.2, 0.8], [1.2, 1.2], [0.8, 1.2]] }",
    );
    assert_eq!(list(&draft), ["A 8 HalfSquare { leg: 4.0 }"]);
    // The same triangles, but with their long sides outside.
    let crossed = clean(
        "shape = \"square\"\nsize = \"8\"\ngrid = 2\nseams = [[0, 0, 2, 2], [0, 2, 2, 0]]\npatches = { red = [[1, 0.5], [1, 1.5]], blue = [[0.5, 1], [1.5, 1]] }",
    );
    assert_eq!(list(&crossed), ["A 4 QuarterSquare { long_side: 8.0 }"]);
}

#[test]
fn a_square_on_its_corner_has_grain_along_its_side() {
    let draft = clean(
        "shape = \"square\"\nsize = \"8\"\ngrid = 2\nseams = [[1, 0, 2, 1, 1, 2, 0, 1, 1, 0]]\npatches = { red = [[0.2, 0.2], [1.8, 0.2], [1.8, 1.8], [0.2, 1.8]], blue = [[1, 1]] }",
    );
    let middle = draft.patches.iter().find(|patch| patch.area > 20.0).expect("the middle is 32 sq in");
    assert_eq!(middle.grain_deg, 45.0);
    let template = &draft.templates[middle.template];
    let Kind::Square { side } = template.kind else { panic!("{:?}", template.kind) };
    near(side, 32_f64.sqrt(), 1e-9);
    near(template.cut.as_ref().expect("it has room").bounds().width(), side + 0.5, 1e-9);
}

#[test]
fn mirrored_shapes_have_templates_of_their_own() {
    // Two parallelograms leaning towards each other over a triangle.
    let draft = clean(
        "shape = \"rectangle\"\nsize = \"12 x 3\"\ngrid = [4, 1]\nseams = [[1, 0, 2, 1], [3, 0, 2, 1], [0, 0, 1, 1], [4, 0, 3, 1]]\npatches = { red = [[0.2, 0.8], [3.8, 0.8], [2, 0.4]], blue = [[1, 0.5], [3, 0.5]] }",
    );
    let straight: Vec<usize> =
        draft.templates.iter().filter(|template| template.kind == Kind::Straight).map(|template| template.count).collect();
    assert_eq!(straight, [1, 1]);
}

#[test]
fn meetings_along_a_side_make_no_corner() {
    let draft = clean(
        "shape = \"square\"\nsize = \"6\"\ngrid = 6\nseams = [[0, 3, 6, 3], [2, 0, 2, 3], [4, 0, 4, 3]]\npatches = { red = [[3, 4]], blue = [[1, 1], [3, 1], [5, 1]] }",
    );
    assert_eq!(list(&draft), ["A 1 Rectangle { long: 6.0, short: 3.0 }", "B 3 Rectangle { long: 3.0, short: 2.0 }"]);
    assert_eq!(draft.patches[0].outline.edges().len(), 4);
}

#[test]
fn overlays_have_templates_behind_the_patches() {
    let petal = |u: f64, v: f64| {
        format!(
            "{{ part = \"blue\", turn-under = \"1/4\", outline = [[{u}, {v}, {}, {v}], {{ arc = [{}, {v}, {u}, {v}], centre = [{}, {v}] }}] }}",
            u + 2.0,
            u + 2.0,
            u + 1.0
        )
    };
    let draft = clean(&format!(
        "shape = \"square\"\nsize = \"8\"\ngrid = 8\npatches = {{ red = [[4, 4]] }}\noverlay = [{}, {}]",
        petal(1.0, 1.0),
        petal(5.0, 5.0)
    ));
    assert_eq!(list(&draft), ["A 1 Square { side: 8.0 }", "B 2 Overlay"]);
    let template = &draft.templates[1];
    // Half a circle of 1 in: its flat side and its arc each move out 1/4 in.
    near(template.finished.area(), std::f64::consts::FRAC_PI_2, 1e-9);
    let bounds = template.cut.as_ref().expect("it has room").bounds();
    near(bounds.height(), 1.5, 1e-9);
    assert_eq!(draft.overlays.iter().map(|overlay| overlay.template).collect::<Vec<_>>(), [1, 1]);
}

#[test]
fn letters_go_on_after_z() {
    // Strips of thirty widths, each its own template.
    let mut at = 0;
    let mut seams = Vec::new();
    let mut marks = Vec::new();
    for width in 1..=15 {
        marks.push(format!("[{}, 1]", f64::from(at) + 0.5));
        at += width;
        if width < 15 {
            seams.push(format!("[{at}, 0, {at}, 120]"));
        }
    }
    seams.push("[0, 40, 120, 40]".to_owned());
    let marks: Vec<String> = marks.iter().flat_map(|mark| [mark.clone(), mark.replace(", 1]", ", 60]")]).collect();
    let draft = clean(&format!(
        "shape = \"square\"\nsize = \"120\"\ngrid = 120\nseams = [{}]\npatches = {{ red = [{}] }}",
        seams.join(", "),
        marks.join(", ")
    ));
    assert_eq!(draft.templates.len(), 30);
    assert_eq!(draft.templates[29].letter, "AD");
}

/// Three diamonds in a hexagon have two outer sides each; the grain goes along the one that lets them share a template.
#[test]
fn of_two_outer_sides_that_one_counts_which_saves_a_template() {
    let draft = clean(
        "shape = \"hexagon\"\nsize = \"6\"\ngrid = 1\nseams = [[1, 1, 1, 0], [1, 1, 2, 1], [1, 1, 0, 2]]\npatches = { red = [[0.8, 0.8]], blue = [[1.5, 0.5], [1, 1.5]] }",
    );
    let [template] = &draft.templates[..] else { panic!("{:?}", list(&draft)) };
    assert_eq!(template.count, 3);
    assert!(matches!(template.kind, Kind::Diamond { .. }));
}
