//! Faster ways of making: which are taken, what is cut for them, and that they give the very units of the plain way.
//!
//! Sizes are reckoned by hand with the rules that `cut_reference` holds against published charts: 1/4 in allowance, up to 1/8 in; two
//! half-square units from squares of finished + 7/8, eight from twice that, quarter-square units finished + 1 1/4. Cloth is 42 in wide.

use proptest::prelude::*;
use seamfall_geom::{Loop, Point, Vec2};
use seamfall_model::{Allowance, BlockId, ChosenWay, Finding, Grade, Length, MakingWay, Measure, Quilt, Shape, read};
use seamfall_plan::cut::{FasterWay, Laid, Use, Way};
use seamfall_plan::piece::{Unit, UnitKind};
use seamfall_plan::{Plan, plan};

/// Blocks of 4 in on a grid of four, 1 in a step. `hst`, `goose` (two on one another), `row`, `nine` and so on are named for what they are.
const BLOCKS: &str = r#"
[block.hst]
shape = "square"
size = "4"
grid = 4
seams = [[0, 0, 4, 4]]
patches = { a = [[1, 3]], b = [[3, 1]] }
[block.hourglass]
shape = "square"
size = "4"
grid = 4
seams = [[0, 0, 4, 4], [0, 4, 4, 0]]
patches = { a = [[2, 3.5], [2, 0.5]], b = [[0.5, 2], [3.5, 2]] }
[block.three]
shape = "square"
size = "4"
grid = 4
seams = [[0, 0, 4, 4], [0, 4, 4, 0]]
patches = { a = [[2, 3.5], [2, 0.5]], b = [[0.5, 2]], c = [[3.5, 2]] }
[block.chiral]
shape = "square"
size = "4"
grid = 4
seams = [[0, 0, 4, 4], [0, 4, 4, 0]]
patches = { a = [[2, 3.5], [0.5, 2]], b = [[3.5, 2]], c = [[2, 0.5]] }
[block.goose]
shape = "rectangle"
size = "4 x 2"
grid = [4, 2]
seams = [[0, 2, 2, 0], [2, 0, 4, 2]]
patches = { a = [[2, 1]], b = [[0.5, 0.5], [3.5, 0.5]] }
[block.rail]
shape = "square"
size = "3"
grid = 3
seams = [[1, 0, 1, 3], [2, 0, 2, 3]]
patches = { a = [[0.5, 1]], b = [[1.5, 1]], c = [[2.5, 1]] }
[block.four]
shape = "square"
size = "4"
grid = 2
seams = [[1, 0, 1, 2], [0, 1, 2, 1]]
patches = { a = [[0.5, 0.5], [1.5, 1.5]], b = [[0.5, 1.5], [1.5, 0.5]] }
"#;

/// A straight top of so many places of one block; cloths `a`, `b` and `c`, of which `a` has the given print.
fn top(block: &str, places: usize, print: &str, more: &str) -> Quilt {
    let text = format!(
        "format = 1\nname = \"Test\"\nmeasure = \"inch\"\n\
         [cloth.a]\ncolour = \"#aa3333\"\nwidth = \"42\"\nprint = \"{print}\"\n[cloth.b]\ncolour = \"#3333aa\"\nwidth = \"42\"\n\
         [cloth.c]\ncolour = \"#33aa33\"\nwidth = \"40\"\n{BLOCKS}\n\
         [setting]\nlayout = \"straight\"\ncolumns = {places}\nrows = 1\npattern = [[\"{block}\"]]\n{more}"
    );
    read(&text).unwrap_or_else(|error| panic!("{error:?}\n{text}"))
}

/// What is cut: `a 8 from 1 eight 9 3/4 x 9 3/4`, by cloth, then the largest first.
fn lines(quilt: &Quilt) -> Vec<String> {
    let plan = plan(quilt);
    checked(quilt, &plan);
    let way = |way: &Way| match way {
        Way::Unit(way) => way.word(),
        Way::Rectangle => "plain",
        Way::HalfSquare => "once",
        Way::QuarterSquare => "twice",
        other => panic!("no {other:?} is cut for these blocks"),
    };
    let line = |piece: &seamfall_plan::cut::CutPiece| {
        let [width, length] = [&piece.width, &piece.length].map(|size| size.length().shown(quilt.step));
        format!("{} {} from {} {} {width} x {length}", piece.of.key(quilt), piece.needed, piece.cut, way(&piece.way))
    };
    plan.cutting.pieces.iter().map(line).collect()
}

fn of(block: &str, places: usize) -> Vec<String> {
    lines(&top(block, places, "none", ""))
}

/// The way taken for the one unit of a top that has a faster one, and how many are over.
fn taken(block: &str, places: usize) -> (MakingWay, usize) {
    let plan = plan(&top(block, places, "none", ""));
    let [unit] = plan.making.units.as_slice() else { panic!("{block} has one unit with a faster way") };
    unit.faster().map_or((MakingWay::Plain, 0), |way| (way.way, way.over))
}

/// Laws of any plan: every patch is counted once, as a plain piece or as one of a unit; what is cut gives at least what is needed;
/// no more units are made than were said to be over.
fn checked(quilt: &Quilt, plan: &Plan) {
    let patches: usize = plan.top.places.iter().map(|place| plan.drafts[place.block.0].patches.len()).sum();
    let overlays: usize = plan.top.places.iter().map(|place| plan.drafts[place.block.0].overlays.len()).sum();
    let of_top = |each: &&Use| !matches!(each, Use::Besides { .. });
    let uses = plan.cutting.pieces.iter().flat_map(|piece| &piece.uses).filter(of_top);
    let needed: usize = uses.map(count_of).sum();
    assert_eq!(needed, patches + overlays + plan.top.strips.len(), "{}", quilt.name);
    for piece in &plan.cutting.pieces {
        assert_eq!(piece.uses.iter().map(count_of).sum::<usize>(), piece.needed, "{}", piece.name);
    }
    let mut from_units = 0;
    for making in &plan.making.units {
        let Some(way) = making.faster() else { continue };
        let unit = &plan.units.all[making.unit];
        let made = way.at_a_time * whole(way.batches.value) * if way.has_mirrored { 2 } else { 1 };
        assert_eq!(made, making.count + way.over, "{}", unit.name);
        assert!(way.at_a_time * whole(way.batches.value) >= making.count && making.count <= unit.count);
        from_units += making.count * unit.pieces.len();
    }
    let of_units = |piece: &&seamfall_plan::cut::CutPiece| matches!(piece.way, Way::Unit(_));
    assert_eq!(plan.cutting.pieces.iter().filter(of_units).map(|piece| piece.needed).sum::<usize>(), from_units);
}

fn count_of(each: &Use) -> usize {
    match each {
        Use::Template { count, .. } | Use::Top { count, .. } | Use::Besides { count, .. } => *count,
    }
}

fn whole(value: f64) -> usize {
    assert_eq!(value, value.round());
    value as usize
}

/// 4 + 7/8 is 4 7/8, for eight twice that, 9 3/4. Of nine to eleven more than a quarter of sixteen would be over.
#[test]
fn half_squares_are_made_eight_at_a_time_where_that_pays() {
    assert_eq!(of("hst", 1), ["a 1 from 1 once 4 7/8 x 4 7/8", "b 1 from 1 once 4 7/8 x 4 7/8"]);
    assert_eq!(of("hst", 7), ["a 7 from 4 two 4 7/8 x 4 7/8", "b 7 from 4 two 4 7/8 x 4 7/8"]);
    assert_eq!(of("hst", 8), ["a 8 from 1 eight 9 3/4 x 9 3/4", "b 8 from 1 eight 9 3/4 x 9 3/4"]);
    for (places, way, over) in [
        (1, MakingWay::Plain, 0),
        (2, MakingWay::TwoAtATime, 0),
        (3, MakingWay::TwoAtATime, 1),
        (8, MakingWay::EightAtATime, 0),
        (11, MakingWay::TwoAtATime, 1),
        (12, MakingWay::EightAtATime, 4),
        (16, MakingWay::EightAtATime, 0),
    ] {
        assert_eq!(taken("hst", places), (way, over), "{places}");
    }
}

/// 4 + 1 1/4 is 5 1/4. One pair of squares gives two units where both halves of the unit are alike; two pairs give four where not.
#[test]
fn quarter_squares_are_made_from_half_square_units() {
    assert_eq!(of("hourglass", 6), ["a 12 from 3 two 5 1/4 x 5 1/4", "b 12 from 3 two 5 1/4 x 5 1/4"]);
    assert_eq!(of("three", 4), ["a 8 from 2 two 5 1/4 x 5 1/4", "b 4 from 1 two 5 1/4 x 5 1/4", "c 4 from 1 two 5 1/4 x 5 1/4"]);
    assert_eq!(taken("three", 8), (MakingWay::TwoAtATime, 0));
    // Of the other two one would be the mirror image of what is wanted each time: not unless asked for.
    assert_eq!(taken("chiral", 8), (MakingWay::Plain, 0));
    let asked = top("chiral", 8, "none", "[[way]]\nof = \"chiral.p1\"\nuse = \"two\"\n");
    assert_eq!(lines(&asked)[0], "a 16 from 8 two 5 1/4 x 5 1/4");
    assert_eq!(plan(&asked).making.units[0].faster().map(|way| way.over), Some(8), "as many mirrored ones");
}

/// A large square of 4 + 1 1/4 and four small ones of 2 + 7/8 for four geese.
#[test]
fn geese_are_made_four_at_a_time() {
    assert_eq!(of("goose", 8), ["a 8 from 2 four 5 1/4 x 5 1/4", "b 16 from 8 four 2 7/8 x 2 7/8"]);
    assert_eq!(taken("goose", 5), (MakingWay::Plain, 0));
    assert_eq!(taken("goose", 6), (MakingWay::FourAtATime, 2));
}

/// Strips of 1 1/2 cut across at 3 1/2: eleven from the narrowest cloth, 40 in. Twelve make two sets, ten of 22 over.
#[test]
fn rows_are_cut_from_strip_sets() {
    assert_eq!(
        of("rail", 11),
        ["a 11 from 1 strips 1 1/2 x 40", "b 11 from 1 strips 1 1/2 x 40", "c 11 from 1 strips 1 1/2 x 40"]
    );
    assert_eq!(of("rail", 12)[0], "a 12 from 12 plain 1 1/2 x 3 1/2");
    assert_eq!(taken("rail", 17), (MakingWay::StripSet, 5));
    // Both rows of a four-patch are one unit, turned: 2 1/2 in strips, sixteen from 42 in, for eight blocks.
    assert_eq!(of("four", 8), ["a 16 from 1 strips 2 1/2 x 42", "b 16 from 1 strips 2 1/2 x 42"]);
    // Each strip of a set is bought as one strip across the width.
    let quilt = top("rail", 22, "none", "");
    let plan = plan(&quilt);
    let Some(Laid::OffTheBolt(laid)) = &plan.cutting.bought[0].laid else { panic!("it comes off the bolt") };
    let strips: Vec<_> = laid.cutting.layout.strips.iter().map(|strip| (strip.panel.height, strip.times)).collect();
    assert_eq!(strips, [(12, 2)]);
    assert_eq!(
        plan.making.units[0].faster().and_then(|way| way.set.as_ref()).map(|set| set.units.line()),
        Some("units from one set = down(usable width ÷ cut across at) = down(40 ÷ 3.5) = 11".to_owned())
    );
    // A row within the row is no unit of its own.
    assert_eq!(plan.making.units.len(), 1);
    assert_eq!(plan.units.all[plan.making.units[0].unit].pieces.len(), 3);
}

/// A print that may not be turned is made plain: half turns for two half-square units, quarter turns for all else.
#[test]
fn prints_with_a_direction_are_not_turned_unasked() {
    let way = |block: &str, print: &str, more: &str| {
        let plan = plan(&top(block, 8, print, more));
        (
            plan.making.units[0].faster().map(|way| way.way),
            plan.findings.into_iter().filter(|finding| finding.grade == Grade::Warn).collect::<Vec<Finding>>(),
        )
    };
    for (block, print, wanted) in [
        ("hst", "none", Some(MakingWay::EightAtATime)),
        ("hst", "two-way", Some(MakingWay::TwoAtATime)),
        ("hst", "one-way", None),
        ("hourglass", "two-way", None),
        ("goose", "two-way", None),
        ("four", "one-way", None),
    ] {
        assert_eq!(way(block, print, ""), (wanted, vec![]), "{block} {print}");
    }
    let (taken, found) = way("goose", "one-way", "[[way]]\nof = \"goose.p1\"\nuse = \"four\"\n");
    assert_eq!(taken, Some(MakingWay::FourAtATime));
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(
        (found[0].spot.to_string().as_str(), found[0].reason.as_str()),
        ("cloth a", "its print has a direction, and units made four at a time show it turned")
    );
}

#[test]
fn the_maker_chooses_another_way() {
    let chosen = |way: &str| lines(&top("hst", 16, "none", &format!("[[way]]\nof = \"hst.p2\"\nuse = \"{way}\"\n")))[0].clone();
    assert_eq!(chosen("plain"), "a 16 from 8 once 4 7/8 x 4 7/8");
    assert_eq!(chosen("two"), "a 16 from 8 two 4 7/8 x 4 7/8");
    assert_eq!(chosen("eight"), "a 16 from 2 eight 9 3/4 x 9 3/4");
}

#[test]
fn a_way_that_cannot_be_had_is_said() {
    let found = |block: &str, ways: &str| -> Vec<(String, String, Option<String>)> {
        let plan = plan(&top(block, 4, "none", ways));
        let warned = plan.findings.into_iter().filter(|finding| finding.grade == Grade::Warn);
        warned.map(|finding| (finding.spot.to_string(), finding.reason, finding.help)).collect()
    };
    let way = |patch: &str, way: &str| format!("[[way]]\nof = \"{patch}\"\nuse = \"{way}\"\n");
    let said = |spot: &str, reason: &str, help: &str| vec![(format!("block {spot}"), reason.to_owned(), Some(help.to_owned()))];
    assert_eq!(found("hst", &way("hst.p1", "two")), []);
    assert_eq!(found("hst", &way("hst.p1", "plain")), []);
    assert_eq!(
        found("hst", &way("hst.p1", "four")),
        said(
            "hst, patch 1",
            "its unit cannot be made four at a time",
            "it can be made eight at a time or two at a time, or plain"
        )
    );
    assert_eq!(
        found("hst", &way("hst.p9", "two")),
        said("hst, patch 9", "there is no such patch", "the block has patches 1 to 2")
    );
    assert_eq!(
        found("hst", &way("goose.p1", "four")),
        said(
            "goose, patch 1",
            "it is made four at a time, but its block stands at no place",
            "put the block at a place, or take the way of making out of the file"
        )
    );
    let both = way("hst.p1", "two") + &way("hst.p2", "eight");
    assert_eq!(
        found("hst", &both),
        said(
            "hst, patch 2",
            "its unit is made two at a time, as another of its patches says",
            "take one of the two ways of making out of the file"
        )
    );
    let half = "[block.single]\nshape = \"square\"\nsize = \"4\"\npatches = { a = [[1, 1]] }\n";
    assert_eq!(
        found("single", &(half.to_owned() + &way("single.p1", "two"))),
        said(
            "single, patch 1",
            "no unit of it can be made two at a time",
            "take the way of making out of the file; every patch is cut by itself here"
        )
    );
}

/// The frame of a block of one patch lies beside it as a row would; it is not cut as one.
#[test]
fn frames_are_no_part_of_a_strip_set() {
    let framed = "[block.single]\nshape = \"square\"\nsize = \"4\"\npatches = { a = [[1, 1]] }\nframe = \"f\"\n[frame.f]\ncorners = \"butted\"\nstrips = [{ width = \"1\", cloth = \"b\" }]\n";
    let quilt = top("single", 20, "none", framed);
    assert_eq!(plan(&quilt).making.units, []);
}

/// The outline moved in by `allowance` on every side.
fn sewn(cut: &Loop, allowance: f64) -> Loop {
    cut.edges().iter().fold(cut.clone(), |left, edge| {
        let way = edge.direction_from();
        let inward = Vec2::new(-way.y, way.x) * allowance;
        left.clipped(edge.from() + inward, edge.to() + inward).expect("a patch is larger than its allowance")
    })
}

/// Sides of an outline, the shortest first, and its area: enough to tell triangles and rectangles apart.
fn sides(outline: &Loop) -> Vec<f64> {
    let mut sides: Vec<f64> = outline.edges().iter().map(seamfall_geom::Edge::length).collect();
    sides.sort_by(f64::total_cmp);
    sides.push(outline.area());
    sides
}

/// A square or strip taken apart as it is when units are made: every piece of cloth in the end, allowances on all its sides.
fn taken_apart(way: &FasterWay, kind: &UnitKind, from: usize) -> Vec<Loop> {
    let cut = &way.from[from];
    let (s, points) =
        (cut.width.exact, |corners: &[(f64, f64)]| Loop::polygon(&corners.iter().map(|&c| Point::from(c)).collect::<Vec<_>>()));
    let halves = |s: f64| vec![points(&[(0.0, 0.0), (s, 0.0), (s, s)]), points(&[(0.0, 0.0), (s, s), (0.0, s)])];
    let quarter = points(&[(0.0, 0.0), (s, 0.0), (s / 2.0, s / 2.0)]);
    match (way.way, kind) {
        (MakingWay::TwoAtATime, UnitKind::HalfSquares { .. }) => halves(s),
        // Cut along the middle lines into four squares, each along the diagonal.
        (MakingWay::EightAtATime, _) => (0..4).flat_map(|_| halves(s / 2.0)).collect(),
        (MakingWay::TwoAtATime, UnitKind::QuarterSquares { .. }) => vec![quarter; 4],
        (MakingWay::FourAtATime, _) if from == 0 => vec![quarter; 4],
        (MakingWay::FourAtATime, _) => halves(s),
        (MakingWay::StripSet, _) => {
            let set = way.set.as_ref().expect("a strip set is cut across");
            let at = set.cut.exact;
            vec![points(&[(0.0, 0.0), (at, 0.0), (at, s), (0.0, s)]); whole(set.units.value)]
        }
        other => panic!("{other:?} is no faster way"),
    }
}

/// Cut, sewn and cut apart, a batch is exactly so many units as were said, each patch of its finished size and cloth.
fn gives_the_same_units(quilt: &Quilt, unit: &Unit, kind: &UnitKind, way: &FasterWay) {
    let allowance = quilt.allowance.0.value();
    let units = way.at_a_time * if way.has_mirrored { 2 } else { 1 };
    let mut wanted: Vec<(usize, Vec<f64>)> = Vec::new();
    for piece in &unit.pieces {
        let cloth = piece.cloth.expect("every patch has a cloth").0;
        wanted.extend((0..units).map(|_| (cloth, sides(&piece.outline))));
    }
    let mut made: Vec<(usize, Vec<f64>)> = Vec::new();
    for (number, from) in way.from.iter().enumerate() {
        let apart = taken_apart(way, kind, number);
        for _ in 0..from.a_batch {
            made.extend(apart.iter().map(|piece| (from.cloth.0, sides(&sewn(piece, allowance)))));
        }
    }
    let order = |a: &(usize, Vec<f64>), b: &(usize, Vec<f64>)| {
        // Areas differ by more than rounding between patches that differ at all.
        a.0.cmp(&b.0).then((a.1[a.1.len() - 1] * 1e3).round().total_cmp(&(b.1[b.1.len() - 1] * 1e3).round()))
    };
    wanted.sort_by(order);
    made.sort_by(order);
    assert_eq!(made.len(), wanted.len(), "{kind:?} {:?}", way.way);
    for (made, wanted) in made.iter().zip(&wanted) {
        let same = made.0 == wanted.0 && made.1.iter().zip(&wanted.1).all(|(a, b)| (a - b).abs() < 1e-6);
        assert!(same && made.1.len() == wanted.1.len(), "{kind:?} {:?}: {made:?}, wanted {wanted:?}", way.way);
    }
}

/// A block of one unit of each kind, in any size, with any allowance and in either measure.
fn any_unit() -> impl Strategy<Value = Quilt> {
    let block =
        prop_oneof![Just("hst"), Just("hourglass"), Just("three"), Just("chiral"), Just("goose"), Just("rail"), Just("four")];
    (block, 1_u32..40, 1_u32..60, 1_usize..20, any::<bool>()).prop_map(|(block, allowance, sixteenths, places, is_cm)| {
        let mut quilt = top(block, places, "none", "");
        let scale = f64::from(sixteenths) / 16.0 + 0.3;
        quilt.allowance = Allowance(Length::new(f64::from(allowance) / 40.0));
        if is_cm {
            quilt.measure = Measure::Centimetre;
        }
        for block in &mut quilt.blocks {
            let scaled = |length: Length| Length::new(length.value() * scale);
            block.shape = match block.shape {
                Shape::Square { side } => Shape::Square { side: scaled(side) },
                Shape::Rectangle { width, height } => Shape::Rectangle { width: scaled(width), height: scaled(height) },
                other => other,
            };
        }
        quilt
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 192, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_faster_way_gives_the_units_of_the_plain_way(quilt in any_unit()) {
        let plan = plan(&quilt);
        checked(&quilt, &plan);
        prop_assert_eq!(plan.making.units.len(), 1, "each of these blocks has one unit with a faster way");
        for making in &plan.making.units {
            for way in &making.ways {
                gives_the_same_units(&quilt, &plan.units.all[making.unit], &making.kind, way);
            }
        }
    }
}

/// The demo quilts with random choices of ways: all patches are cut, and every way of every unit gives the same unit.
#[test]
fn demo_quilts_add_up_whatever_is_chosen() {
    let ways = [MakingWay::Plain, MakingWay::TwoAtATime, MakingWay::EightAtATime, MakingWay::FourAtATime, MakingWay::StripSet];
    let demos = [
        seamfall_testkit::tide_pool(),
        seamfall_testkit::lamplight(),
        seamfall_testkit::hill_farm(),
        seamfall_testkit::market_rows(),
    ];
    let mut kinds = 0;
    for quilt in demos {
        let usual = plan(&quilt);
        checked(&quilt, &usual);
        kinds += usual.making.units.len();
        for making in &usual.making.units {
            making.ways.iter().for_each(|way| gives_the_same_units(&quilt, &usual.units.all[making.unit], &making.kind, way));
        }
        let mut seed = 12_345_u32;
        for _ in 0..12 {
            let mut chosen = quilt.clone();
            chosen.ways = (0..quilt.blocks.len())
                .flat_map(|block| (0..usual.drafts[block].patches.len()).map(move |patch| (block, patch)))
                .filter_map(|(block, patch)| {
                    // Numerical Recipes' linear congruence: any sequence will do.
                    seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                    let way = ways.get((seed >> 24) as usize % 8)?;
                    Some(ChosenWay { block: BlockId(block), patch: patch + 1, way: *way })
                })
                .collect();
            checked(&chosen, &plan(&chosen));
        }
    }
    assert!(kinds > 4, "the demo quilts have units with faster ways: {kinds}");
}
