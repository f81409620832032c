//! What a quilter relies on when she presses.

use super::*;
use crate::piece::{self, Piecing, TopRef};
use crate::{draft, set};
use seamfall_geom::Vec2;
use seamfall_model::{FallTo, Grade, Place, read};

/// A quilt worked out as far as its falls.
struct Pressed {
    quilt: Quilt,
    top: Top,
    piecing: Piecing,
    falls: Falls,
    findings: Vec<Finding>,
}

fn press(quilt: Quilt) -> Pressed {
    press_with(quilt, |_| {})
}

/// The same with the orders restricted.
fn press_with(quilt: Quilt, restrict: impl Fn(&mut Piecing)) -> Pressed {
    press_around(quilt, &[], restrict)
}

/// The same around what is pressed already.
fn press_around(quilt: Quilt, pressed: &[FixedFall], restrict: impl Fn(&mut Piecing)) -> Pressed {
    let drafts: Vec<draft::Draft> = quilt.blocks.iter().map(|block| draft::derive(&quilt, block).result).collect();
    let top = set::derive(&quilt).result;
    let mut piecing = piece::derive(&quilt, &drafts, &top).result;
    restrict(&mut piecing);
    let staged = derive(&quilt, pressed, &top, &piecing, Effort::default());
    check(&top, &piecing, &staged.result);
    Pressed { quilt, top, piecing, falls: staged.result, findings: staged.findings }
}

/// A quilt of the blocks given, in rows.
fn quilt(blocks: &str, rows: &[&str], rest: &str) -> Quilt {
    let pattern: Vec<String> = rows.iter().map(|row| format!("{:?}", row.split_whitespace().collect::<Vec<_>>())).collect();
    let columns = rows[0].split_whitespace().count();
    let text = format!(
        r##"
format = 1
name = "Test"
measure = "inch"
largest-section = "14"
[cloth.light]
colour = "#f0eadc"
[cloth.dark]
colour = "#22304f"
{blocks}
[frame.mitred]
corners = "mitred"
strips = [{{ width = "1", cloth = "dark" }}]
[setting]
layout = "straight"
columns = {columns}
rows = {}
pattern = [{}]
{rest}
"##,
        rows.len(),
        pattern.join(", ")
    );
    read(&text).unwrap_or_else(|error| panic!("{error:?}\n{text}"))
}

const PLAIN: &str = r#"
[block.plain]
shape = "square"
size = "10"
patches = { light = [[5, 5]] }
"#;

fn starter(key: &str) -> String {
    let block = seamfall_model::starter_blocks().iter().find(|block| block.key == key).expect("a starter block");
    let cloths: Vec<String> =
        block.parts.iter().enumerate().map(|(i, part)| format!("{} = {:?}", part.name, ["light", "dark"][i % 2])).collect();
    format!("[block.{key}]\nstarter = {key:?}\nsize = \"12\"\ncloths = {{ {} }}\n", cloths.join(", "))
}

/// Every meeting seen as it lies in the quilt: at its point both seams' falls, as vectors, are projected on the seam they meet in;
/// opposite ways is a nest (falls.md 5). It knows nothing of senses, mirrors and turns.
fn check(top: &Top, piecing: &Piecing, falls: &Falls) {
    let course = |of: SeamRef| -> (Vec<seamfall_geom::Edge>, Fall, bool) {
        match of {
            SeamRef::Top { seam } => (piecing.top[falls.top_order].seams[seam].edges(), falls.top[seam], false),
            SeamRef::Place { place, seam } => {
                let design = piecing.holds[place].design;
                let pose = top.places[place].pose;
                let edges = falls.sewing(piecing, design).seams[seam].edges();
                let moved = edges.iter().map(|edge| edge.moved(pose)).collect();
                (moved, falls.pressing(piecing, place).falls[seam], pose.is_mirrored())
            }
        }
    };
    // Which way it falls beside a point, or nothing where it is open.
    let falls_to = |of: SeamRef, at: Point| -> Option<Vec2> {
        let (edges, fall, mirrored) = course(of);
        let away = |edge: &seamfall_geom::Edge| (edge.nearest(at) - at).hypot2();
        let edge = edges.iter().min_by(|a, b| away(a).total_cmp(&away(b))).expect("a seam has a course");
        let along =
            if (edge.from() - at).hypot2() < (edge.to() - at).hypot2() { edge.direction_from() } else { edge.direction_to() };
        let left = Vec2::new(-along.y, along.x);
        match (fall, mirrored) {
            (Fall::Open, _) => None,
            (Fall::Left, false) | (Fall::Right, true) => Some(left),
            _ => Some(-left),
        }
    };
    let along = |of: SeamRef, at: Point| -> Vec2 {
        let (edges, ..) = course(of);
        let away = |edge: &seamfall_geom::Edge| (edge.nearest(at) - at).hypot2();
        let edge = edges.iter().min_by(|a, b| away(a).total_cmp(&away(b))).expect("a seam has a course");
        if (edge.from() - at).hypot2() < (edge.to() - at).hypot2() { edge.direction_from() } else { edge.direction_to() }
    };
    let mut stacked = 0;
    for meeting in &falls.meetings {
        let seam = along(meeting.seam, meeting.at);
        let state = match (falls_to(meeting.left, meeting.at), falls_to(meeting.right, meeting.at)) {
            (Some(a), Some(b)) if a.dot(seam).abs() < 1e-6 || b.dot(seam).abs() < 1e-6 => {
                panic!("a seam meets itself at {:?}", meeting.at)
            }
            (Some(a), Some(b)) if (a.dot(seam) > 0.0) != (b.dot(seam) > 0.0) => State::Nests,
            (Some(_), Some(_)) => State::Stacks,
            _ => State::Flat,
        };
        assert_eq!(state, meeting.state, "at {:?}", meeting.at);
        stacked += usize::from(state == State::Stacks);
    }
    assert_eq!((stacked, falls.stacks.len()), (falls.count().stacks, stacked));
    let weight: u64 =
        falls.meetings.iter().filter(|meeting| meeting.state == State::Stacks).map(|meeting| u64::from(meeting.weight)).sum();
    assert_eq!(weight, falls.count().weight);
    assert!(falls.count().bound <= weight);
    for pair in falls.counts.windows(2) {
        assert!(pair[1].weight <= pair[0].weight, "more pressings never cost more");
        assert!(
            pair[0].bound >= pair[1].bound || pair[0].pressings == Pressings::Shared(1) || pair[1].pressings == Pressings::Own
        );
    }
}

fn stacks_by_pressings(pressed: &Pressed) -> Vec<usize> {
    pressed.falls.counts.iter().map(|count| count.stacks).collect()
}

#[test]
fn demo_quilts_are_pressed_and_proven() {
    for (name, text) in seamfall_testkit::SAMPLES {
        let pressed = press(read(text).expect("samples read"));
        let one = &pressed.falls.counts[0];
        assert!(one.is_proven(), "{name}: {one:?}");
        assert!(pressed.falls.count().is_proven(), "{name}: {:?}", pressed.falls.count());
        assert_eq!(pressed.falls.count().stacks, 0, "{name}");
    }
}

/// Source: common practice (frames whose corner seams all turn the same way nest with every neighbour).
#[test]
fn mitred_frames_all_clockwise_nest_with_every_neighbour() {
    for rows in 2..=4 {
        let row = ["plain"; 5].join(" ");
        let rows: Vec<&str> = vec![row.as_str(); rows];
        let free = press(quilt(PLAIN, &rows, ""));
        assert_eq!(free.falls.counts[0].stacks, 0);
        let framed = quilt(&format!("{PLAIN}frame = \"mitred\"\n"), &rows, "");
        let pressed = press(framed);
        assert_eq!((pressed.falls.counts[0].stacks, pressed.falls.count().bound), (0, 0), "one pressing will do");
        // All mitres the same way round the block, in every place alike: neighbours in a row tie its upper and its lower two, the
        // ends of a long join the upper to the lower.
        let mut clockwise = Vec::new();
        let sewing = pressed.falls.sewing(&pressed.piecing, 0);
        for (seam, fall) in sewing.seams.iter().zip(&pressed.falls.pressings[0][0].falls) {
            let outward = |p: Point| (p - Point::new(5.0, 5.0)).hypot2();
            let mitre = (seam.from() - seam.to()).x.abs() > 0.1 && (seam.from() - seam.to()).y.abs() > 0.1;
            if mitre {
                clockwise.push((outward(seam.to()) > outward(seam.from())) == (*fall == Fall::Right));
            }
        }
        assert_eq!(clockwise.len(), 4);
        assert!(clockwise.iter().all(|way| *way == clockwise[0]), "{clockwise:?}");
    }
}

/// Row joins all to the right: each long join stacks at every inner crossing. Turned about from row to row it nests at each.
/// Source: common practice.
#[test]
fn row_joins_that_alternate_nest_along_every_long_join() {
    let rows = ["plain plain plain plain"; 3];
    let word = |row: char, to_right: bool| -> String {
        let one = |k: usize| {
            let to = if to_right { k + 1 } else { k };
            format!("[[fall]]\nbetween = [\"{row}{k}\", \"{row}{}\"]\nto = \"{row}{to}\"\n", k + 1)
        };
        (1..4).map(one).collect()
    };
    let rows_first = |piecing: &mut Piecing| {
        let long = |order: &piece::Sewing| order.seams.last().is_some_and(|seam| (seam.from().y - seam.to().y).abs() < 1e-9);
        piecing.top.retain(long);
        assert_eq!(piecing.top.len(), 1);
    };
    let all_right: String = ['A', 'B', 'C'].map(|row| word(row, true)).concat();
    let stacked = press_with(quilt(PLAIN, &rows, &all_right), rows_first);
    assert_eq!(stacked.falls.count().stacks, 2 * 3);
    assert!(stacked.falls.stacks.iter().all(|stack| stack.reason.contains("set by hand")));
    let turned: String = [('A', true), ('B', false), ('C', true)].map(|(row, right)| word(row, right)).concat();
    assert_eq!(press_with(quilt(PLAIN, &rows, &turned), rows_first).falls.count().stacks, 0);
    // Columns first, the same words are long seams that nothing contradicts.
    assert_eq!(press(quilt(PLAIN, &rows, &all_right)).falls.count().stacks, 0);
}

/// A block of wedges round its middle, with a ring of seams round it that meet at every wedge seam.
fn web(corners: &[[f64; 2]]) -> String {
    let middle = [6.1, 5.9];
    let half = |p: [f64; 2]| [(p[0] + middle[0]) / 2.0, (p[1] + middle[1]) / 2.0];
    let mut seams: Vec<String> = Vec::new();
    let mut patches: Vec<String> = Vec::new();
    for (i, &a) in corners.iter().enumerate() {
        let b = corners[(i + 1) % corners.len()];
        let (p, q) = (half(a), half(b));
        seams.push(format!("[{}, {}, {}, {}]", middle[0], middle[1], a[0], a[1]));
        seams.push(format!("[{}, {}, {}, {}]", p[0], p[1], q[0], q[1]));
        let inner = [(middle[0] + p[0] + q[0]) / 3.0, (middle[1] + p[1] + q[1]) / 3.0];
        patches.push(format!("[{}, {}], [{}, {}]", inner[0], inner[1], (p[0] + q[0] + a[0]) / 3.0, (p[1] + q[1] + a[1]) / 3.0));
    }
    format!(
        "[block.web]\nshape = \"square\"\nsize = \"12\"\nseams = [{}]\npatches = {{ light = [{}] }}\n",
        seams.join(", "),
        patches.join(", ")
    )
}

/// Source: parity, F. Harary 1953; falls.md 15. Each ring seam ends on two wedge seams and must fall otherwise than its neighbours.
#[test]
fn a_ring_round_an_odd_number_of_wedges_keeps_one_stack() {
    let three = vec![[0.0, 0.0], [12.0, 0.0], [6.0, 12.0]];
    let four = vec![[0.0, 0.0], [12.0, 0.0], [12.0, 12.0], [0.0, 12.0]];
    let five = vec![[0.0, 0.0], [12.0, 0.0], [12.0, 8.0], [6.0, 12.0], [0.0, 8.0]];
    let six = vec![[0.0, 0.0], [6.0, 0.0], [12.0, 0.0], [12.0, 12.0], [6.0, 12.0], [0.0, 12.0]];
    let eight = vec![[0.0, 0.0], [6.0, 0.0], [12.0, 0.0], [12.0, 6.0], [12.0, 12.0], [6.0, 12.0], [0.0, 12.0], [0.0, 6.0]];
    for (corners, stacks) in [(three, 1), (four, 0), (five, 1), (six, 0), (eight, 0)] {
        let pressed = press(quilt(&web(&corners), &["web"], ""));
        assert_eq!(stacks_by_pressings(&pressed), [stacks; 5], "{} wedges", corners.len());
        assert!(pressed.falls.counts.iter().all(Count::is_proven));
    }
}

/// Four quarter circles in one: pressed all inward they stack at each of the four joins, alternately they nest. One pressing for
/// all turned copies is all inward or all outward. Source: falls.md 15.
#[test]
fn a_circle_of_quarter_arcs_must_alternate() {
    let turned = "[[place]]\nat = \"A1\"\nturn = 1\n[[place]]\nat = \"B1\"\nturn = 2\n[[place]]\nat = \"B2\"\nturn = 3\n";
    let block = starter("drunkards-path-unit");
    let pressed = press(quilt(&block, &["drunkards-path-unit drunkards-path-unit"; 2], turned));
    assert_eq!(stacks_by_pressings(&pressed), [4, 0, 0, 0, 0]);
    assert_eq!(pressed.falls.count().pressings, Pressings::Shared(2), "two pressings are taken unless she says otherwise");
    let one = press(quilt(&block, &["drunkards-path-unit drunkards-path-unit"; 2], turned).with_pressings(Pressings::Shared(1)));
    assert_eq!(one.falls.count().stacks, 4);
    assert!(one.falls.stacks.iter().all(|stack| stack.reason.contains("share their pressing") && stack.ways_out.len() > 1));
}

trait WithPressings {
    fn with_pressings(self, pressings: Pressings) -> Self;
}

impl WithPressings for Quilt {
    fn with_pressings(self, pressings: Pressings) -> Self {
        Self { pressings: Some(pressings), ..self }
    }
}

/// Seven layers where four patches nest, nine where they stack: counted on folded paper. Source: geometry of folded cloth.
#[test]
fn layers_at_a_crossing_of_four_patches() {
    let block = starter("four-patch");
    let layers = |rest: &str| {
        let pressed = press(quilt(&block, &["four-patch"], rest));
        let meeting = pressed.falls.meetings[0];
        (pressed.falls.meetings.len(), meeting.state, meeting.layers, pressed.falls.thickest.map(|(layers, _)| layers))
    };
    assert_eq!(layers(""), (1, State::Nests, 7, Some(7)));
    // Patches are numbered from the top down, then from the left; whichever is sewn first, both halves fall to one side.
    let both = |a, b, c, d| {
        format!(
            "[[fall]]\nbetween = [\"four-patch.p{a}\", \"four-patch.p{b}\"]\nto = \"four-patch.p{b}\"\n[[fall]]\nbetween = [\"four-patch.p{c}\", \"four-patch.p{d}\"]\nto = \"four-patch.p{d}\"\n"
        )
    };
    let all = format!("{}{}", both(1, 2, 3, 4), both(1, 3, 2, 4));
    assert_eq!(layers(&all), (1, State::Stacks, 9, Some(9)));
    let open = both(1, 2, 3, 4).replace("to = \"four-patch.p2\"", "to = \"open\"") + &both(1, 3, 2, 4);
    let (_, state, ..) = layers(&open);
    assert!(state == State::Flat || state == State::Stacks, "an open seam lies flat where it meets another");
}

#[test]
fn falls_set_by_hand_are_kept_and_contradictions_are_said() {
    let rows = ["plain plain", "plain plain"];
    let fall = |a: &str, b: &str, to: &str| format!("[[fall]]\nbetween = [\"{a}\", \"{b}\"]\nto = \"{to}\"\n");
    for to in ["A1", "A2"] {
        let pressed = press(quilt(PLAIN, &rows, &fall("A1", "A2", to)));
        let seams = &pressed.falls.top_sewing(&pressed.piecing).seams;
        let of = |name: &str| pressed.top.places.iter().position(|place| place.name == name).expect("a place");
        let piece = |name: &str| pressed.piecing.top_pieces.iter().position(|piece| *piece == TopRef::Place(of(name)));
        let number = seams.iter().position(|seam| {
            seam.course.iter().any(|stretch| {
                [Some(stretch.left), Some(stretch.right)] == [piece("A1"), piece("A2")]
                    || [Some(stretch.right), Some(stretch.left)] == [piece("A1"), piece("A2")]
            })
        });
        let number = number.expect("they lie side by side");
        let stretch = seams[number]
            .course
            .iter()
            .find(|stretch| Some(stretch.left) == piece("A1") || Some(stretch.right) == piece("A1"))
            .expect("beside A1");
        let to_left = Some(stretch.left) == piece(to);
        assert_eq!(pressed.falls.top[number], if to_left { Fall::Left } else { Fall::Right });
    }
    let stops = |rest: &str| press(quilt(&starter("four-patch"), &["four-patch four-patch"], rest)).findings;
    let said = stops(&(fall("four-patch.p1", "four-patch.p2", "four-patch.p1") + &fall("A1.p1", "A1.p2", "A1.p2")));
    assert!(said.iter().any(|finding| finding.grade == Grade::Stop && finding.reason.contains("both ways")), "{said:?}");
    let said = stops(&fall("four-patch.p1", "four-patch.p4", "four-patch.p1"));
    assert!(said.iter().any(|finding| finding.reason == "no seam joins four-patch.p1 and four-patch.p4"), "{said:?}");
    let said = stops(&fall("A1", "sash.9.9", "A1"));
    assert!(said.iter().any(|finding| finding.reason.contains("nothing in this quilt")), "{said:?}");
}

/// What is pressed holds before what the file chooses, on one copy and on all; the other copies follow the file.
#[test]
fn pressed_seams_stay_pressed_and_what_contradicts_them_is_said() {
    let set = |a: &str, b: &str, to| FixedFall { between: [a.to_owned(), b.to_owned()], to };
    let block = starter("four-patch");
    let chosen = "[[fall]]\nbetween = [\"four-patch.p1\", \"four-patch.p2\"]\nto = \"four-patch.p1\"\n";
    // The side that patch 1 of a place lies on, seen from the seam between it and patch 2.
    let falls_to_first = |pressed: &Pressed, place: usize| {
        let design = pressed.piecing.holds[place].design;
        let (seam, turned) = model::between(&pressed.falls.sewing(&pressed.piecing, design).seams, [0, 1]).expect("they touch");
        let fall = pressed.falls.pressing(&pressed.piecing, place).falls[seam];
        (fall != Fall::Open).then_some((fall == Fall::Left) != turned)
    };
    for (word, places) in [
        (set("A2.p2", "A2.p1", FallTo::First), [Some(true), Some(false)]),
        (set("A2.p1", "A2.p2", FallTo::Open), [Some(true), None]),
        (set("four-patch.p1", "four-patch.p2", FallTo::Second), [Some(false), Some(false)]),
    ] {
        let quilt = quilt(&block, &["four-patch four-patch"], chosen);
        let pressed = press_around(quilt, std::slice::from_ref(&word), |_| {});
        assert_eq!([0, 1].map(|place| falls_to_first(&pressed, place)), places, "{word:?}");
        let odd: Vec<_> = pressed.findings.iter().filter(|finding| finding.reason.contains("pressed otherwise")).collect();
        assert!(!odd.is_empty() && odd.iter().all(|finding| finding.grade == Grade::Warn), "{:?}", pressed.findings);
    }
    let unknown = [set("A9.p1", "A9.p2", FallTo::Open)];
    let pressed = press_around(quilt(&block, &["four-patch"], ""), &unknown, |_| {});
    let help =
        pressed.findings.iter().find(|finding| finding.reason.contains("nothing in this quilt")).and_then(|one| one.help.clone());
    assert!(help.expect("it is said").ends_with("take the fall out of the ledger"));
}

/// With all else equal a seam falls to the darker cloth. Source: common practice.
#[test]
fn seams_fall_to_the_darker_cloth() {
    let block = starter("half-square-triangle");
    let pressed = press(quilt(&block, &["half-square-triangle"], ""));
    let seam = &pressed.falls.sewing(&pressed.piecing, 0).seams[0];
    let dark_left = pressed.quilt.cloths
        [pressed.top.places[0].cloths[pressed.piecing.designs[0].parts[seam.course[0].left].expect("a part").0].0]
        .key
        == "dark";
    assert_eq!(pressed.falls.pressings[0][0].falls[0], if dark_left { Fall::Left } else { Fall::Right });
}

/// Blocks turned at random: best and bound stand side by side, and turning the whole quilt changes neither.
#[test]
fn randomly_turned_samplers_are_pressed_within_their_bounds() {
    let keys = ["ohio-star", "churn-dash", "pinwheel", "jacobs-ladder", "card-trick", "broken-dishes"];
    let blocks: String = keys.map(starter).concat();
    let mut chance = 7u32;
    let mut next = |below: u32| {
        chance = chance.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (chance >> 16) % below
    };
    let rows: Vec<String> = (0..6).map(|_| (0..5).map(|_| keys[next(6) as usize]).collect::<Vec<_>>().join(" ")).collect();
    let rows: Vec<&str> = rows.iter().map(String::as_str).collect();
    let mut quilt = quilt(&blocks, &rows, "");
    for place in quilt.setting.places.iter_mut().flatten() {
        place.turns = next(4) as u8;
        place.mirrored = next(3) == 0;
    }
    let pressed = press(quilt.clone());
    let upside_down: Vec<Vec<Place>> = quilt
        .setting
        .places
        .iter()
        .rev()
        .map(|row| row.iter().rev().map(|place| Place { turns: (place.turns + 2) % 4, ..place.clone() }).collect())
        .collect();
    quilt.setting.places = upside_down;
    let turned = press(quilt);
    for (a, b) in [0, 4].map(|i| (pressed.falls.counts[i], turned.falls.counts[i])) {
        assert!(a.bound <= b.weight && b.bound <= a.weight, "{a:?} {b:?}");
        if a.is_proven() && b.is_proven() {
            assert_eq!(a.weight, b.weight);
        }
    }
}
