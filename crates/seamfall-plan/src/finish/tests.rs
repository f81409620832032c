//! The stage as a whole, on a small quilt with every kind of edge.

use crate::cut::{Material, Way};
use crate::{Plan, plan};
use seamfall_model::{Grade, Quilt, read};

const QUILT: &str = r##"format = 1
name = "Edges"
measure = "inch"
[cloth.night]
colour = "#22304f"
[cloth.linen]
colour = "#eee8dc"
[block.plain]
shape = "square"
size = "12"
cloths = { one = "night" }
patches = { one = [[1, 1]] }
[setting]
layout = "straight"
columns = 4
rows = 5
pattern = [["plain"]]
[[band]]
width = "4"
cloth = "linen"
"##;

fn quilt(more: &str) -> Quilt {
    read(&format!("{QUILT}{more}")).unwrap_or_else(|error| panic!("{error:?}"))
}

/// What is cut for one use: count, width and length, in the order of the list.
fn cut(plan: &Plan, quilt: &Quilt, what: &str) -> Vec<(usize, f64, f64)> {
    let shown = |piece: &crate::cut::CutPiece| crate::words::uses(quilt, plan, &piece.uses).contains(what);
    let pieces = plan.cutting.pieces.iter().filter(|piece| shown(piece));
    pieces.map(|piece| (piece.cut, piece.width.value, piece.length.value)).collect()
}

fn figure(plan: &Plan, question: &str, name: &str) -> f64 {
    let answer = plan.finish.answers.iter().find(|answer| answer.question == question).expect("it is answered");
    answer.figure(name).expect("the figure is there").value
}

fn stops(plan: &Plan) -> Vec<&str> {
    plan.findings.iter().filter(|finding| finding.grade == Grade::Stop).map(|finding| finding.reason.as_str()).collect()
}

/// A top of 56 x 68 in: 248 in round and 12 in more.
#[test]
fn a_straight_binding_is_cut_as_it_was() {
    let quilt = quilt("[binding]\ncloth = \"night\"\nwidth = \"2 1/4\"\n");
    let plan = plan(&quilt);
    assert_eq!(cut(&plan, &quilt, "binding"), [(1, 2.25, 260.0)]);
    assert!(matches!(plan.cutting.pieces[0].of, Material::Cloth(_)) && stops(&plan).is_empty());
    assert!(plan.cutting.pieces.iter().any(|piece| matches!(piece.way, Way::Joined { .. })));
}

#[test]
fn a_bias_binding_is_cut_from_a_square_that_gives_its_length() {
    let quilt = quilt("[binding]\ncloth = \"night\"\nwidth = \"2 1/4\"\non = \"bias\"\n");
    let plan = plan(&quilt);
    let [(1, side, length)] = cut(&plan, &quilt, "on the bias")[..] else { panic!("one square") };
    assert_eq!(side, length);
    assert!(figure(&plan, "bias", "length") >= 260.0 && figure(&plan, "bias", "square") == side);
    // By area, as the tables have it, 25 in would do; the tube of that square gives 238 in.
    assert_eq!(figure(&plan, "bias", "square-by-area"), 25.0);
    assert!(side > 25.0, "{side}");
}

#[test]
fn points_are_whole_on_every_side_and_cut_as_squares() {
    let quilt = quilt("[finish]\nedge = \"prairie-points\"\ncloth = \"linen\"\nsquare = \"3\"\nspacing = \"2\"\n");
    let plan = plan(&quilt);
    // Along 56 in up(53.5 / 2) + 1 = 28, along 68 in up(65.5 / 2) + 1 = 34.
    assert_eq!(figure(&plan, "points", "all"), 2.0 * (28.0 + 34.0));
    assert_eq!(cut(&plan, &quilt, "prairie points"), [(124, 3.0, 3.0)]);
    let margin =
        plan.findings.iter().find(|finding| finding.reason.contains("prairie points")).expect("the margin is too narrow");
    assert_eq!(margin.help.as_deref(), Some("set the `margin` of `[lap]` to 1 in"));
}

#[test]
fn a_scalloped_edge_is_bound_on_the_bias_along_its_curve() {
    let scallops = "[finish]\nedge = \"scallops\"\n[binding]\ncloth = \"night\"\n";
    let quilt_straight = quilt(scallops);
    let plan_straight = plan(&quilt_straight);
    assert!(plan_straight.findings.iter().any(|finding| finding.reason.contains("does not lie round a curve")));
    let quilt_bias = quilt(&format!("{scallops}on = \"bias\"\n"));
    let plan_bias = plan(&quilt_bias);
    assert!(!plan_bias.findings.iter().any(|finding| finding.reason.contains("does not lie round a curve")));
    let edge = plan_bias.finish.round.length;
    let outline = &plan_bias.finish.curved.as_ref().expect("it is curved").outline;
    assert!((edge - outline.perimeter()).abs() < 1e-9 && edge > 248.0, "{edge}");
    assert!(figure(&plan_bias, "bias", "length") >= edge + 12.0);
}

#[test]
fn scallops_deeper_than_their_band_stop_the_work() {
    let plan = plan(&quilt("[finish]\nedge = \"scallops\"\nwidth = \"10\"\ndepth = \"4\"\n"));
    assert_eq!(stops(&plan).len(), 1, "{:?}", plan.findings);
    assert!(stops(&plan)[0].contains("deeper than a band of 4 in"), "{:?}", stops(&plan));
}

#[test]
fn ruffle_facing_piping_sleeve_and_label_are_cut() {
    for (more, what, pieces) in [
        ("[finish]\nedge = \"ruffle\"\ncloth = \"linen\"\n", "ruffle", 1),
        ("[finish]\nedge = \"facing\"\ncloth = \"linen\"\n", "facing", 2),
        ("[finish]\nedge = \"piping\"\ncloth = \"linen\"\n", "piping", 1),
        ("[sleeve]\ncloth = \"linen\"\n", "rod sleeve", 1),
        ("[label]\ncloth = \"linen\"\nsize = \"6 x 4\"\n", "label", 1),
    ] {
        let quilt = quilt(more);
        let plan = plan(&quilt);
        assert_eq!(cut(&plan, &quilt, what).len(), pieces, "{what}");
        assert_eq!(stops(&plan), Vec::<&str>::new(), "{what}");
    }
    let quilt = quilt("[label]\ncloth = \"linen\"\nsize = \"6 x 4\"\n");
    assert_eq!(cut(&plan(&quilt), &quilt, "label"), [(1, 6.5, 4.5)]);
}

#[test]
fn a_cover_has_its_lining_its_insert_and_its_cautions() {
    let quilt = quilt("[cover]\nlining = \"linen\"\nchannel = \"4\"\ngrams = 160\nties = \"20\"\nflap = \"10\"\n");
    let plan = plan(&quilt);
    // 56 in out of cloth 42 in wide are two panels of 28 1/2 in, 68 and 1/2 and a hem of 2 in long.
    assert_eq!(cut(&plan, &quilt, "lining"), [(2, 28.5, 70.5)]);
    assert_eq!((figure(&plan, "cover", "insert-across"), figure(&plan, "cover", "insert-along")), (57.0, 69.0));
    assert_eq!(figure(&plan, "cover", "channels"), 15.0);
    let cautions: Vec<&str> = plan.finish.cautions.iter().map(|caution| &*caution.words).collect();
    assert!(cautions.iter().any(|words| words.contains("No long ties")), "{cautions:?}");
    assert!(cautions.iter().any(|words| words.contains("allergies")), "{cautions:?}");
}

/// The longest free end is that of the drawstring standard, `beds.infant.drawstring_length`: 3 in.
#[test]
fn long_ties_are_warned_of() {
    let warned = |long: &str| {
        let plan = plan(&quilt(&format!("[cover]\nlining = \"linen\"\nties = \"20\"\ntie-length = \"{long}\"\n")));
        plan.findings.iter().any(|finding| finding.reason.contains("long ties"))
    };
    assert!(warned("9") && !warned("3"));
}

/// A crib quilt is told what paediatricians say; a bed quilt is not.
#[test]
fn cautions_come_up_where_the_risk_arises() {
    let infants = |columns: &str| {
        let text = QUILT.replace("columns = 4", columns).replace("rows = 5", "rows = 4");
        let plan = plan(&read(&text).expect("it reads"));
        plan.finish.cautions.iter().any(|caution| caution.words.contains("infant"))
    };
    assert!(infants("columns = 3") && !infants("columns = 6"));
}

/// The top of 56 x 68 in on a bed that leaves 13 in at the sides and the foot, its corners changed.
fn cornered(shape: &str, more: &str) -> (Quilt, Plan) {
    let quilt = quilt(&format!("{more}[bed]\nwidth = \"30\"\nlength = \"55\"\n[corners]\nshape = \"{shape}\"\n"));
    let plan = plan(&quilt);
    (quilt, plan)
}

/// Round 56 x 68 in it is 248 in. A quarter circle of 13 in takes 26 in of it and gives 13 π/2; a straight cut gives 13 √2; a notch takes and
/// gives 26 in. Plane geometry. Corners: two at the head; two blunt ones a cut; two outside and one inside a notch.
#[test]
fn the_edge_goes_round_changed_corners() {
    let round = |shape: &str| cornered(shape, "").1.finish.round;
    let (level, straight, notch) = (round("level"), round("straight"), round("notch"));
    assert!((level.length - (248.0 - 2.0 * (26.0 - 13.0 * std::f64::consts::FRAC_PI_2))).abs() < 1e-9, "{level:?}");
    assert_eq!((level.outside, level.inside, level.blunt, level.curved), (2, 0, 0, true));
    assert!((straight.length - (248.0 - 2.0 * (26.0 - 13.0 * 2.0_f64.sqrt()))).abs() < 1e-9, "{straight:?}");
    assert_eq!((straight.outside, straight.inside, straight.blunt, straight.curved), (6, 0, 4, false));
    assert!((notch.length - 248.0).abs() < 1e-9);
    assert_eq!((notch.outside, notch.inside, notch.blunt, notch.curved), (6, 2, 0, false));
    for round in [level, straight, notch] {
        assert!((round.square_corners - 4.0).abs() < if round.inside > 0 { 2.1 } else { 1e-9 }, "{round:?}");
    }
}

/// At each inside corner of a notch the sewing line runs two allowances farther: 248, 1 and 12 in.
#[test]
fn a_binding_follows_the_changed_edge() {
    let binding = "[binding]\ncloth = \"night\"\nwidth = \"2 1/4\"\n";
    let (quilt, plan) = cornered("notch", binding);
    assert_eq!(cut(&plan, &quilt, "binding"), [(1, 2.25, 261.0)]);
    assert_eq!((figure(&plan, "binding", "mitres"), figure(&plan, "binding", "inside-corners")), (6.0, 2.0));
    let (_, plan) = cornered("level", binding);
    let warned =
        plan.findings.iter().find(|finding| finding.reason.contains("does not lie round a curve")).expect("it is curved");
    assert_eq!(warned.help.as_deref(), Some("write `on = \"bias\"` under `[binding]`"));
    let (_, plan) = cornered("level", &format!("{binding}on = \"bias\"\n"));
    assert!(figure(&plan, "bias", "length") >= plan.finish.round.length + 12.0);
    assert!(!plan.findings.iter().any(|finding| finding.reason.contains("does not lie round a curve")));
}

/// The sides of the stage are the edges of the outline, and points and scallops come out whole on each.
#[test]
fn every_real_side_has_whole_points_and_scallops() {
    for (shape, sides) in [("square", 4), ("level", 2), ("straight", 6), ("notch", 8), ("set-back", 6)] {
        let (_, plan) = cornered(shape, "[finish]\nedge = \"prairie-points\"\ncloth = \"linen\"\nsquare = \"3\"\n");
        let finish = &plan.finish;
        assert_eq!((finish.sides.len(), finish.points.len()), (sides, sides), "{shape}");
        let all: f64 = finish.sides.iter().map(|side| side.length).sum();
        assert!((all - plan.top.outline.perimeter()).abs() < 1e-9);
        for (side, along) in finish.sides.iter().zip(&finish.points) {
            let reach = 2.5 + (along.count.value - 1.0) * along.spacing.value;
            assert!((reach - side.length).abs() < 1e-9, "{shape}: {reach} of {}", side.length);
        }
        let (quilt, plan) = cornered(shape, "[finish]\nedge = \"scallops\"\nwidth = \"5\"\ndepth = \"1 1/2\"\n");
        let curved = plan.finish.curved.as_ref().expect("there is room");
        assert_eq!(curved.sides.len(), sides, "{shape}");
        assert!((plan.finish.round.length - curved.outline.perimeter()).abs() < 1e-9);
        assert!((curved.edge.value - curved.outline.perimeter()).abs() < 1e-6, "{}", curved.edge.line());
        assert!(curved.outline.area() < plan.top.outline.area() && quilt.finish.edge.word() == "scallops");
    }
}

#[test]
fn a_facing_is_cut_for_every_stretch() {
    let facing = "[finish]\nedge = \"facing\"\ncloth = \"linen\"\ndepth = \"2\"\n";
    let (quilt, plan) = cornered("notch", facing);
    // Head 56, sides 55, foot 30, and four of 13 in, each with two allowances.
    assert_eq!(cut(&plan, &quilt, "facing"), [(1, 2.5, 56.5), (2, 2.5, 55.5), (1, 2.5, 30.5), (4, 2.5, 13.5)]);
    let (quilt, plan) = cornered("level", facing);
    // A quarter circle of 13 in with an allowance outside, and one at either end.
    assert!(cut(&plan, &quilt, "facing").contains(&(2, 13.75, 13.75)), "{:?}", cut(&plan, &quilt, "facing"));
    assert_eq!(stops(&plan), Vec::<&str>::new());
}

/// The last step of the joins trims the corners.
#[test]
fn the_last_join_is_followed_by_the_trim() {
    let (quilt, plan) = cornered("straight", "");
    let last = plan.join.steps.len() - 1;
    let said = |number: usize| crate::join::instructions(&quilt, &plan.top, &plan.join, number).join(" ");
    assert!(said(last).contains("Last of all trim both corners at the foot"), "{}", said(last));
    assert!(!said(0).contains("trim both corners"));
}
