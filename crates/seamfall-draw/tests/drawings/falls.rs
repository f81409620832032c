//! The layer of falls shows what the plan says, whichever way a block lies.

use seamfall_draw::{Colours, FallSign, QuiltStyle, quilt_drawing};
use seamfall_geom::{Loop, Point};
use seamfall_model::{Edit, Quilt, apply, read};
use seamfall_plan::fall::{Fall, SeamRef, seam};
use seamfall_plan::{Plan, plan};

const STYLE: QuiltStyle = QuiltStyle {
    paint: seamfall_draw::Paint::Cloths,
    colours: Colours::Classes,
    sections: false,
    falls: true,
    quilting: false,
    names: false,
    ids: true,
};

/// Shapes of the path of an element, back in the plan's coordinates. Only what closed polygons are written with: SVG 2, section 9.3.
fn shapes(quilt: &Quilt, plan: &Plan, id: &str) -> Vec<Vec<Point>> {
    let drawing = quilt_drawing(quilt, plan, &STYLE);
    let at = &drawing.elements.iter().find(|each| each.id == id).expect("it is an element").at;
    let svg = &drawing.svg[at.clone()];
    let data = svg.split(r#" d=""#).nth(1).and_then(|rest| rest.split('"').next()).expect("it has data");
    let (mut all, mut at): (Vec<Vec<Point>>, _) = (Vec::new(), Point::ZERO);
    for command in data.split_inclusive(char::is_alphabetic).collect::<Vec<_>>().windows(2) {
        let letter = command[0].chars().last().expect("it ends in a letter");
        let numbers = numbers(command[1].trim_end_matches(char::is_alphabetic));
        match letter {
            'M' => {
                at = Point::new(numbers[0], numbers[1]);
                all.push(vec![at]);
            }
            'h' | 'v' | 'l' => {
                for step in numbers.chunks(if letter == 'l' { 2 } else { 1 }) {
                    let (dx, dy) = match letter {
                        'h' => (step[0], 0.0),
                        'v' => (0.0, step[0]),
                        _ => (step[0], step[1]),
                    };
                    at = Point::new(at.x + dx, at.y + dy);
                    all.last_mut().expect("a shape was begun").push(at);
                }
            }
            'z' => {}
            other => panic!("{other} in {data}"),
        }
    }
    let up = |point: &Point| Point::new(point.x, plan.top.size.y - point.y);
    all.iter().map(|shape| shape.iter().map(up).collect()).collect()
}

/// `1-.5.25` is not written by us: a point is always after a minus, a blank or a digit.
fn numbers(text: &str) -> Vec<f64> {
    text.replace('-', " -").split_whitespace().map(|number| number.parse().expect("a number")).collect()
}

fn middle(shape: &[Point]) -> Point {
    let sum = shape.iter().fold(Point::ZERO, |sum, p| Point::new(sum.x + p.x, sum.y + p.y));
    let count = shape.len() as f64;
    Point::new(sum.x / count, sum.y / count)
}

/// Outline of a piece of what a place holds.
fn outline(plan: &Plan, place: usize, piece: usize) -> Loop {
    let (held, placed) = (&plan.piecing.holds[place], &plan.top.places[place]);
    let patches = &plan.drafts[placed.block.0].patches;
    match piece.checked_sub(patches.len()) {
        None => patches[piece].outline.moved(placed.pose),
        Some(strip) => plan.top.strips[held.frame_strips[strip]].outline.clone(),
    }
}

/// Whatever a block's turn and mirror: the sign lies on the piece that the seam falls to.
#[test]
fn a_sign_lies_on_the_piece_to_which_its_seam_falls() {
    let mut seen = 0;
    for quilt in [seamfall_testkit::lamplight(), seamfall_testkit::hill_farm(), seamfall_testkit::market_rows()] {
        let plan = plan(&quilt);
        for (number, place) in plan.top.places.iter().enumerate().step_by(7) {
            let falls = &plan.falls.pressing(&plan.piecing, number).falls;
            let shapes = shapes(&quilt, &plan, &format!("{}.falls", place.name));
            assert_eq!(shapes.len(), falls.len(), "{}: a triangle a seam", place.name);
            for (number_of_seam, (fall, shape)) in falls.iter().zip(&shapes).enumerate() {
                assert_eq!(shape.len(), 3);
                let beside = &seam(&plan, SeamRef::Place { place: number, seam: number_of_seam }).course;
                let pieces = beside.iter().map(|each| if *fall == Fall::Left { each.left } else { each.right });
                let lies = pieces.map(|piece| outline(&plan, number, piece)).any(|piece| piece.contains(middle(shape)));
                assert!(lies, "{} in {}, seam {number_of_seam}: {shape:?}", quilt.name, place.name);
                seen += 1;
            }
        }
    }
    assert!(seen > 100, "{seen}");
}

const FOUR: &str = r##"
format = 1
name = "Four"
measure = "inch"
cloth.day = { name = "Day", colour = "#f0e0c0" }
cloth.night = { name = "Night", colour = "#203050", value = "dark" }
[block.pair]
name = "Pair"
shape = "square"
size = "6"
grid = 2
seams = [[1, 0, 1, 2]]
patches = { day = [[0.5, 0.5]], night = [[1.5, 0.5]] }
cloths = { day = "day", night = "night" }
[setting]
layout = "straight"
rows = 1
columns = 2
pattern = [["pair"]]
"##;

/// Open is an outline of four corners with a hole in it, set by hand has a bar of four more.
#[test]
fn open_seams_and_those_set_by_hand_have_signs_of_their_own() {
    let with = |edit: &Edit| {
        let quilt = read(&apply(FOUR, edit).expect("it can be made")).expect("it is a quilt");
        let plan = plan(&quilt);
        let corners = |id: &str| shapes(&quilt, &plan, id).iter().map(Vec::len).collect::<Vec<_>>();
        (corners("A1.falls"), corners("A2.falls"))
    };
    let fall = |first: &str, second: &str, to: &str| Edit::Fall {
        between: [first.to_owned(), second.to_owned()],
        to: Some(to.to_owned()),
    };
    assert_eq!(with(&fall("A1.p1", "A1.p2", "A1.p1")), (vec![3, 4], vec![3]));
    assert_eq!(with(&fall("pair.p2", "pair.p1", "pair.p2")), (vec![3, 4], vec![3, 4]));
    assert_eq!(with(&fall("pair.p1", "pair.p2", "open")), (vec![4, 4, 4], vec![4, 4, 4]));
}

/// A stack is a pile of three; where both seams of a meeting are set to fall alike there is one.
#[test]
fn every_stack_has_its_sign() {
    let two = FOUR.replace("rows = 1", "rows = 2");
    let quilt = read(&two).expect("it is a quilt");
    assert_eq!(shapes(&quilt, &plan(&quilt), "stacks").len(), 0, "by themselves they nest");
    let mut text = two;
    for (place, to) in [("A1", "A1.p1"), ("B1", "B1.p1")] {
        let between = [format!("{place}.p1"), format!("{place}.p2")];
        text = apply(&text, &Edit::Fall { between, to: Some(to.to_owned()) }).expect("it can be made");
    }
    let quilt = read(&text).expect("it is a quilt");
    let plan = plan(&quilt);
    let signs = shapes(&quilt, &plan, "stacks");
    assert_eq!(signs.len(), 3, "one stack");
    // Blocks of 6 in two rows: the seams meet in the middle of the first, between the rows.
    assert!((middle(&signs[1]) - Point::new(3.0, 6.0)).hypot2() < 1e-6, "{signs:?}");
}

#[test]
fn the_legend_has_a_picture_of_every_sign() {
    let pictures: Vec<String> = FallSign::ALL.iter().map(|sign| sign.svg()).collect();
    for (i, picture) in pictures.iter().enumerate() {
        roxmltree::Document::parse(picture).expect("it is well-formed");
        assert!(!pictures[..i].contains(picture), "no two are alike");
    }
}
