//! What is drawn reads back as drawn; seams are repeated over the lines and turns of every shape; arcs go where they are asked to.

use super::*;
use crate::{Edit, Length, apply, read, starter_blocks};
use proptest::prelude::*;
use seamfall_geom::{Point, TOLERANCE};

/// A quilt with one block, `drawn`, that a test draws anew.
const QUILT: &str = r##"format = 1
name = "Trial"
measure = "inch"
[cloth.night]
colour = "#22304f"
[cloth.day]
colour = "#eee8dc"
[block.drawn]
shape = "square"
size = "12"
grid = 4
patches = { day = [[2, 2]] }
[block.plain]
shape = "square"
size = "12"
patches = { night = [[2, 2]] }
[setting]
layout = "straight"
columns = 1
rows = 1
pattern = [["plain"]]
"##;

fn quilt() -> Quilt {
    read(QUILT).expect("it reads")
}

fn start() -> (Quilt, Block, Drawing) {
    let quilt = quilt();
    let block = quilt.blocks[0].clone();
    let drawing = Drawing::of(&quilt, &block);
    (quilt, block, drawing)
}

fn shapes() -> [Shape; 6] {
    let side = Length::new(12.0);
    [
        Shape::Square { side },
        Shape::Rectangle { width: side, height: Length::new(18.0) },
        Shape::EquilateralTriangle { side },
        Shape::RightTriangle { leg: side },
        Shape::Diamond { side, angle_deg: 45.0 },
        Shape::Hexagon { side },
    ]
}

/// What acts make of the empty square of 4 by 4.
fn after(acts: &[DrawAct]) -> Drawing {
    let (quilt, mut block, mut drawing) = start();
    for act in acts {
        drawing = drawing.after(&block, act).unwrap_or_else(|error| panic!("{act:?}: {error}"));
        block = drawing.block(&quilt).unwrap_or_else(|error| panic!("{act:?}: {error}"));
    }
    drawing
}

fn line(from: [f64; 2], to: [f64; 2], repeat: &[&str]) -> DrawAct {
    DrawAct::Line { from, to, repeat: repeat.iter().map(|&key| key.to_owned()).collect() }
}

/// Orders of the symmetry groups of the shapes: D4, D2, D3, D1, D2, D6. Source: H. S. M. Coxeter, "Introduction to Geometry", 1961,
/// chapter 2. Each map has to take the outline to itself without changing a length.
#[test]
fn lines_and_turns_take_every_shape_to_itself() {
    for (shape, order) in shapes().into_iter().zip([8, 4, 6, 2, 4, 12]) {
        let keys: Vec<&str> = Repeat::of(shape).iter().map(|repeat| repeat.key).collect();
        let images = Repeat::images(shape, &keys);
        assert_eq!(images.len() + 1, order, "{shape:?}");
        let outline = shape.outline();
        let (a, b) = shape.sides();
        let (a, b) = (a.value(), b.value());
        let bare = Block { shape, ..file::bare_block() };
        for (origin, first, second) in images {
            let moved = |p: Point| {
                let at = bare.to_grid(p);
                origin + first * (at.u / a) + second * (at.v / b)
            };
            for corner in outline.corners() {
                let to = moved(corner);
                assert!(outline.corners().any(|other| (other - to).length() < TOLERANCE), "{shape:?}: {corner} to {to}");
            }
            let (p, q) = (Point::new(1.0, 2.0), Point::new(-3.0, 0.5));
            assert!(((moved(p) - moved(q)).length() - (p - q).length()).abs() < 1e-9, "{shape:?}");
        }
    }
}

/// Points on the grid come out on the grid: counts by hand.
#[test]
fn a_seam_is_drawn_all_round() {
    for (repeat, seams) in
        [(&[][..], 1), (&["upright"], 2), (&["upright", "level"], 4), (&["quarter"], 4), (&["quarter", "rising"], 8)]
    {
        let drawing = after(&[line([0.0, 1.0], [1.0, 2.0], repeat)]);
        assert_eq!(drawing.seams.len(), seams, "{repeat:?}");
        for seam in &drawing.seams {
            let DrawnSeam::Line(numbers) = seam else { panic!("{seam:?}") };
            assert!(numbers.iter().all(|number| number.fract() == 0.0), "{numbers:?}");
        }
    }
    // A seam that is its own image is drawn once.
    assert_eq!(after(&[line([0.0, 0.0], [4.0, 4.0], &["half", "rising", "falling"])]).seams.len(), 1);
    assert_eq!(after(&[line([0.0, 0.0], [4.0, 4.0], &["half", "upright"])]).seams.len(), 2);
}

#[test]
fn what_is_repeated_is_taken_away_all_round() {
    let drawn = line([0.0, 1.0], [1.0, 2.0], &["quarter"]);
    let gone = DrawAct::Remove { seam: 3, repeat: vec!["quarter".to_owned()] };
    assert_eq!(after(&[line([0.0, 2.0], [4.0, 2.0], &[]), drawn.clone(), gone]).seams.len(), 1);
    let one = DrawAct::Remove { seam: 1, repeat: Vec::new() };
    assert_eq!(after(&[drawn, one]).seams.len(), 3);
}

/// Arcs through three points, from plane geometry: quarters, halves and three quarters of a circle about a point of the grid.
#[test]
fn arcs_go_through_the_third_point() {
    let root = 2.0_f64.sqrt();
    for (from, to, through, centre, long) in [
        ([2.0, 0.0], [0.0, 2.0], [root, root], [0.0, 0.0], false),
        ([0.0, 2.0], [2.0, 0.0], [root, root], [0.0, 0.0], false),
        ([2.0, 0.0], [0.0, 2.0], [2.0 - root, 2.0 - root], [2.0, 2.0], false),
        ([3.0, 2.0], [2.0, 3.0], [2.0 - 0.5 * root, 2.0 - 0.5 * root], [2.0, 2.0], true),
    ] {
        let drawing = after(&[DrawAct::Arc { from, to, through, repeat: Vec::new() }]);
        let expected = DrawnArc { arc: [from[0], from[1], to[0], to[1]], centre, long };
        assert_eq!(drawing.seams, [DrawnSeam::Arc(expected)]);
    }
    // Half a circle runs anticlockwise in the file: the ends change places for the half below.
    let half = |through| after(&[DrawAct::Arc { from: [0.0, 2.0], to: [4.0, 2.0], through, repeat: Vec::new() }]).seams;
    assert_eq!(half([2.0, 0.0]), [DrawnSeam::Arc(DrawnArc { arc: [0.0, 2.0, 4.0, 2.0], centre: [2.0, 2.0], long: false })]);
    assert_eq!(half([2.0, 4.0]), [DrawnSeam::Arc(DrawnArc { arc: [4.0, 2.0, 0.0, 2.0], centre: [2.0, 2.0], long: false })]);
}

/// In a mirror an arc bulges to the other side; counted by hand: four quarter circles about the corners, or one circle in two halves.
#[test]
fn arcs_are_repeated_too() {
    let root = 2.0_f64.sqrt();
    let corner = DrawAct::Arc {
        from: [2.0, 0.0],
        to: [0.0, 2.0],
        through: [root, root],
        repeat: vec!["quarter".to_owned(), "upright".to_owned()],
    };
    assert_eq!(after(&[corner]).seams.len(), 4);
    let half = DrawAct::Arc {
        from: [1.0, 2.0],
        to: [3.0, 2.0],
        through: [2.0, 1.0],
        repeat: vec!["level".to_owned(), "upright".to_owned()],
    };
    assert_eq!(after(&[half]).seams.len(), 2);
}

#[test]
fn ends_and_bulges_are_moved() {
    let root = 2.0_f64.sqrt();
    let arc = DrawAct::Arc { from: [2.0, 0.0], to: [0.0, 2.0], through: [root, root], repeat: Vec::new() };
    // A quarter circle of half the size stays one.
    let smaller = after(&[
        arc.clone(),
        DrawAct::Move { seam: 1, by: [1.0, 1.0] },
        DrawAct::MovePoint { seam: 1, point: 0, to: [4.0, 0.0] },
    ]);
    let DrawnSeam::Arc(moved) = &smaller.seams[0] else { panic!("{smaller:?}") };
    assert_eq!((moved.arc, moved.long), ([4.0, 0.0, 1.0, 3.0], false));
    assert_eq!(moved.centre, [1.0, 0.0]);
    let flatter = after(&[arc, DrawAct::MovePoint { seam: 1, point: 2, to: [2.0 - root, 2.0 - root] }]);
    assert_eq!(flatter.seams, [DrawnSeam::Arc(DrawnArc { arc: [2.0, 0.0, 0.0, 2.0], centre: [2.0, 2.0], long: false })]);
    let line = after(&[line([0.0, 0.0], [2.0, 2.0], &[]), DrawAct::MovePoint { seam: 1, point: 1, to: [4.0, 2.0] }]);
    assert_eq!(line.seams, [DrawnSeam::Line(vec![0.0, 0.0, 4.0, 2.0])]);
}

/// Of the arcs between two neighbouring corners of a grid of 2 that bulge within the square: the halves and quarters. By hand.
#[test]
fn usual_arcs_are_halves_and_those_about_the_grid() {
    let (_, block, _) = start();
    let at = |u, v| GridPoint { u, v };
    let arcs = usual_arcs(&block, at(2.0, 0.0), at(0.0, 2.0));
    let quarter = arcs.iter().filter(|arc| (arc.sweep_deg - 90.0).abs() < 1e-6).map(|arc| arc.centre).collect::<Vec<_>>();
    assert_eq!(quarter, [at(2.0, 2.0), at(0.0, 0.0)]);
    assert!(arcs.iter().any(|arc| (arc.sweep_deg - 180.0).abs() < 1e-6 && arc.centre == at(1.0, 1.0)));
    assert!(usual_arcs(&block, at(1.0, 1.0), at(1.0, 1.0)).is_empty());
    for arc in arcs {
        let [centre, through, end] = [arc.centre, arc.through, at(2.0, 0.0)].map(|p| block.to_plane(p));
        assert!(((through - centre).length() - (end - centre).length()).abs() < 1e-9);
    }
}

#[test]
fn another_grid_leaves_the_drawing_where_it_is() {
    let (quilt, _, _) = start();
    let drawing = after(&[line([0.0, 1.0], [4.0, 3.0], &[])]);
    let before = drawing.block(&quilt).expect("it is one");
    let finer = drawing.after(&before, &DrawAct::Grid { grid: [8, 8] }).expect("it has a grid");
    let block = finer.block(&quilt).expect("it is one");
    let finer = finer.follow(&before, &block);
    assert_eq!(finer.seams, [DrawnSeam::Line(vec![0.0, 2.0, 8.0, 6.0])]);
    assert_eq!(finer.parts[0].points, [[4.0, 4.0]]);
}

#[test]
fn what_cannot_be_drawn_is_said() {
    let (quilt, block, drawing) = start();
    let act = |act: &DrawAct| {
        let after = drawing.after(&block, act).map_err(|error| error.to_string())?;
        after.block(&quilt).map(|_| String::new()).map_err(|error| error.problems[0].reason.clone())
    };
    let said = |one: DrawAct| act(&one).expect_err("it cannot be drawn");
    insta::assert_snapshot!(said(DrawAct::Remove { seam: 0, repeat: Vec::new() }), @"there is no seam 0; the block has 0");
    insta::assert_snapshot!(said(line([0.0, 0.0], [1.0, 1.0], &["third"])), @"this shape cannot be repeated by `third`; it can by upright, level, rising, falling, half, quarter");
    insta::assert_snapshot!(said(line([1.0, 1.0], [1.0, 1.0], &[])), @"seam 1 has two points in one place");
    insta::assert_snapshot!(said(DrawAct::Arc { from: [0.0, 0.0], to: [2.0, 2.0], through: [1.0, 1.0], repeat: Vec::new() }), @"the third point lies on the line of the two ends, so it makes no arc");
    insta::assert_snapshot!(said(line([1.0, 1.0], [4000.0, 1.0], &[])), @"4000 lies outside every block");
    insta::assert_snapshot!(said(DrawAct::Size { size: "0".to_owned() }), @"`size` is 0 in, less than the least that can be sewn, 1/16 in");
    insta::assert_snapshot!(said(DrawAct::Size { size: "twelve".to_owned() }), @"`size`: `twelve` is not a length");
    insta::assert_snapshot!(said(DrawAct::Shape { shape: "circle".to_owned() }), @"`shape` cannot be `circle`");
    insta::assert_snapshot!(said(DrawAct::Grid { grid: [241, 241] }), @"a grid has 1 to 240 divisions");
    let json = |text: &str| serde_json::from_str::<Drawing>(text).expect_err("it is none").to_string();
    insta::assert_snapshot!(json(r#"{"name":"A","shape":"square","size":"6","seams":[7]}"#), @"a seam is like [x, y, x, y] or {arc: [x, y, x, y], centre: [x, y], long: false} at line 1 column 51");
    insta::assert_snapshot!(json(r#"{"name":"A","shape":"square","size":"6","colour":1}"#), @"unknown field `colour`, expected one of `name`, `shape`, `size`, `angle`, `grid`, `seams`, `parts`, `overlay` at line 1 column 48");
}

/// Source of the limit: `limits::SEAMS_A_BLOCK` and `limits::MARKS`, as docs/quilt-file.md has them.
#[test]
fn more_than_can_be_planned_is_refused() {
    let (quilt, _, mut drawing) = start();
    drawing.seams = (0..2_001).map(|i| DrawnSeam::Line(vec![0.0, f64::from(i) / 600.0, 4.0, f64::from(i) / 600.0])).collect();
    let error = drawing.block(&quilt).expect_err("there are too many");
    assert_eq!(error.problems[0].reason, "there are 2001 seams, more than the 2000 that can be planned");
    drawing.seams.truncate(2_000);
    assert_eq!(drawing.block(&quilt).map(|block| block.seams.len()), Ok(2_000));
    drawing.parts[0].points = vec![[1.0, 1.0]; 5_001];
    let error = drawing.block(&quilt).expect_err("there are too many");
    assert_eq!(error.problems[0].reason, "there are 5001 points in patches, more than the 5000 that can be planned");
}

/// Every starter block as a file of its own reads back as the same drawing, and is taken at the size at which it is.
#[test]
fn a_block_reads_back_from_its_own_file() {
    for design in starter_blocks() {
        let text = write_own_block(design, Measure::Inch);
        let (block, measure) = read_own_block(&text).unwrap_or_else(|error| panic!("{}: {error:?}\n{text}", design.key));
        let as_is = Block { starter: None, key: "block".to_owned(), ..design.clone() };
        assert_eq!((block.clone(), measure), (as_is, Measure::Inch), "{text}");
        assert_eq!(write_own_block(&block, measure), text);
        let taken =
            Drawing::taken(&block, measure, &quilt()).block(&quilt()).unwrap_or_else(|error| panic!("{}: {error:?}", design.key));
        assert_eq!(
            (&taken.seams, &taken.overlays, taken.shape),
            (&design.seams, &design.overlays, design.shape),
            "{}",
            design.key
        );
    }
}

#[test]
fn what_a_block_file_cannot_hold_is_said() {
    let error = |text: &str| {
        read_own_block(text)
            .expect_err("it is none")
            .problems
            .into_iter()
            .map(|p| format!("{}:{} {}", p.line, p.column, p.reason))
            .collect::<Vec<_>>()
            .join("\n")
    };
    let good = write_own_block(&starter_blocks()[0], Measure::Inch);
    insta::assert_snapshot!(error(&good.replace("format = 1", "format = 2")), @"1:10 format 2 is not known to this version, which reads format 1");
    insta::assert_snapshot!(error(&good.replace("shape =", "cloths = { a = \"b\" }\nshape =")), @"6:10 a block by itself has no `cloths`");
    insta::assert_snapshot!(error(&good.replace("shape =", "colour =")), @"6:1 `colour` is not a key of a block");
    insta::assert_snapshot!(error("format = 1\n"), @"1:1 the block needs the key `measure`");
}

fn any_point() -> impl Strategy<Value = [f64; 2]> {
    let number = || prop_oneof![(0..=12_i32).prop_map(|n| f64::from(n) / 2.0), 0.0..4.0_f64];
    [number(), number()].prop_map(|pair| pair)
}

fn any_act() -> impl Strategy<Value = DrawAct> {
    let repeat = || {
        prop::collection::vec(
            prop::sample::select(vec!["upright", "rising", "half", "quarter", "sixth"]).prop_map(str::to_owned),
            0..3,
        )
    };
    prop_oneof![
        4 => (any_point(), any_point(), repeat()).prop_map(|(from, to, repeat)| DrawAct::Line { from, to, repeat }),
        4 => (any_point(), any_point(), any_point(), repeat()).prop_map(|(from, to, through, repeat)| DrawAct::Arc { from, to, through, repeat }),
        1 => (0..5_usize, repeat()).prop_map(|(seam, repeat)| DrawAct::Remove { seam, repeat }),
        2 => (0..5_usize, 0..3_usize, any_point()).prop_map(|(seam, point, to)| DrawAct::MovePoint { seam, point, to }),
        1 => (0..5_usize, any_point()).prop_map(|(seam, by)| DrawAct::Move { seam, by }),
        1 => prop::sample::select(vec!["rectangle", "triangle", "right-triangle", "diamond", "hexagon", "square"]).prop_map(|shape| DrawAct::Shape { shape: shape.to_owned() }),
        1 => prop::sample::select(vec!["9", "9 1/2", "8 x 12", "30 cm"]).prop_map(|size| DrawAct::Size { size: size.to_owned() }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    /// What is drawn and saved reads back as drawn, under the key of an old block and of a new one, and saving it again changes nothing.
    #[test]
    fn what_is_drawn_and_saved_reads_back_as_drawn(acts in prop::collection::vec(any_act(), 1..12)) {
        let (quilt, mut block, mut drawing) = start();
        for act in &acts {
            if let Ok(after) = drawing.after(&block, act) && let Ok(made) = after.block(&quilt) {
                (drawing, block) = (after, made);
            }
        }
        for key in ["drawn", "another"] {
            let edit = Edit::Draw { block: key.to_owned(), drawing: Box::new(drawing.clone()) };
            let text = apply(QUILT, &edit).expect("it can be saved");
            let read = read(&text).expect("it reads");
            let saved = read.blocks.iter().find(|block| block.key == key).expect("it is there");
            prop_assert_eq!(saved, &Block { key: key.to_owned(), ..block.clone() });
            // The size may be typed otherwise.
            let again = Drawing::of(&read, saved);
            prop_assert_eq!(&again.seams, &drawing.seams);
            prop_assert_eq!(&again.parts, &drawing.parts);
            prop_assert_eq!(again.block(&read).map(|block| block.shape), Ok(block.shape));
            let edit = Edit::Draw { block: key.to_owned(), drawing: Box::new(drawing.clone()) };
            prop_assert_eq!(apply(&text, &edit).expect("it can be saved again"), text);
        }
    }
}
