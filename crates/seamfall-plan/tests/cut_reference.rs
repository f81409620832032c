//! The rules of the cutting table against what handbooks and charts print.
//!
//! The values stand in `reference/*.toml` with their sources. Where a printed figure breaks its own rule, the rule is followed and
//! the slip must not come out. Left out of `reference/cutting.toml`, and why:
//! - `layout.blocks_5x6` is a test of the setting, `layout.round_up` belongs to the fit of a quilt to a bed;
//! - `tri60.side`, `tri60.cut_side`, `tri60.side_loss`, `diamond45.per_inch`: how pieces follow one another along a strip, which
//!   the handbook yardage does not use; it goes by the template's bounds;
//! - `star8.factor`, `hex.rings`, `hex.rosette_*`: sizes of blocks and rosettes, which the maker draws;
//! - `bias.*`, `dp.*`: binding, and two blocks that differ from maker to maker.
//!
//! Of `reference/fabric.toml` only yards in inches are used: no other value there is about cutting patchwork.

use seamfall_cutting::job::{Job, Kind, Stages};
use seamfall_cutting::{Budget, cut};
use seamfall_model::{Allowance, Finished, Length, MakingWay, Measure, Shrinkage, Step, read};
use seamfall_plan::cut::{CutPiece, Use, Way, rules, shown_length};
use seamfall_plan::{Plan, plan};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::f64::consts::SQRT_2;

#[derive(Deserialize)]
struct Values {
    check: Vec<Check>,
}

#[derive(Deserialize)]
struct Check {
    id: String,
    #[serde(default)]
    inputs: BTreeMap<String, f64>,
    expected: BTreeMap<String, f64>,
    #[serde(default)]
    by_formula: BTreeMap<String, f64>,
    #[serde(default)]
    agrees: Option<bool>,
}

impl Check {
    fn input(&self, name: &str) -> f64 {
        *self.inputs.get(name).unwrap_or_else(|| panic!("{} has no input {name}", self.id))
    }

    /// What must come out: by the rule where there is one, else as printed.
    fn wanted(&self, name: &str) -> f64 {
        let wanted = self.by_formula.get(name).or_else(|| self.expected.get(name));
        *wanted.unwrap_or_else(|| panic!("{} has no figure {name}", self.id))
    }

    /// `ours` is the figure within `tolerance`; a slip must not be met.
    fn meets(&self, name: &str, ours: f64, tolerance: f64) {
        let wanted = self.wanted(name);
        assert!((ours - wanted).abs() <= tolerance, "{} {name}: ours {ours}, wanted {wanted}", self.id);
        if let Some(printed) = self.expected.get(name).filter(|printed| self.agrees == Some(false) && **printed != wanted) {
            assert!((ours - printed).abs() > tolerance, "{} {name}: the printed slip {printed} came out", self.id);
        }
    }
}

/// Half of the last of six places.
const SIX_PLACES: f64 = 5.1e-7;
const EXACT: f64 = 1e-9;

fn values(text: &str) -> Vec<Check> {
    toml::from_str::<Values>(text).expect("the values are well formed").check
}

fn cutting() -> Vec<Check> {
    values(include_str!("reference/cutting.toml"))
}

/// The trade's allowance, in inches, where a value names no other.
const QUARTER: f64 = 0.25;

fn table(allowance: f64) -> rules::Table {
    rules::Table { allowance: Allowance(Length::new(allowance)), step: Step::Eighth }
}

fn finished(length: f64) -> Finished {
    Finished(Length::new(length))
}

/// Which test looks at a value.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Group {
    Exact,
    Added,
    Triangles,
    OtherSide,
    Setting,
    Diagonal,
    Squares,
    Strips,
    Counts,
    Shapes,
}

fn group(id: &str) -> Option<Group> {
    let rest = id.strip_prefix("cutting.")?;
    Some(match rest.split('.').next()? {
        _ if matches!(rest, "tri60.add" | "diamond45.strip") => Group::Added,
        "exact" => Group::Exact,
        "seam" | "rule" => Group::Added,
        "hst" | "kite4" | "geese" => Group::Triangles,
        "hyp2" | "leg2" => Group::OtherSide,
        "setting" => Group::Setting,
        "diagonal" | "diagonal_sum" => Group::Diagonal,
        "squares_yard" | "squares_fq" | "squares36" | "squares45" | "squares_washed" | "charm_yard" => Group::Squares,
        "strips" => Group::Strips,
        "onpoint" => Group::Counts,
        "tri60" | "star8" | "diamond60" | "hex" => Group::Shapes,
        _ => return None,
    })
}

fn each(of: Group, test: impl Fn(&Check)) {
    let checks: Vec<Check> = cutting().into_iter().filter(|check| group(&check.id) == Some(of)).collect();
    assert!(!checks.is_empty(), "no value of {of:?} was found");
    checks.iter().for_each(test);
}

#[test]
fn every_value_has_a_test() {
    for check in cutting() {
        assert!(group(&check.id).is_some(), "{} is looked at by no test", check.id);
    }
}

#[test]
fn exact_allowances_of_triangles() {
    each(Group::Exact, |check| {
        if check.id.ends_with("hst_metric") {
            let table = table(check.input("seam_mm"));
            check.meets("hst_mm", table.half_square(finished(0.0)).exact, SIX_PLACES);
            check.meets("qst_mm", table.quarter_square(finished(0.0)).exact, SIX_PLACES);
        } else {
            let table = table(check.input("seam_in"));
            let of = if check.id.ends_with("hst_allowance") {
                table.half_square(finished(0.0))
            } else {
                table.quarter_square(finished(0.0))
            };
            check.meets("in", of.exact, SIX_PLACES);
        }
    });
}

#[test]
fn what_the_trade_adds() {
    each(Group::Added, |check| {
        let table = table(QUARTER);
        let added = match check.id.as_str() {
            "cutting.rule.square" => table.side("side", finished(0.0)),
            "cutting.rule.hst" => table.half_square(finished(0.0)),
            "cutting.rule.qst" => table.quarter_square(finished(0.0)),
            "cutting.tri60.add" => table.equilateral_strip(finished(0.0)),
            "cutting.diamond45.strip" => table.parallel_strip(finished(0.0)),
            "cutting.rule.diagonal" => {
                // Printed cut off to two places; ours is the whole root.
                let times = diagonal_of(&planned(1.0, 1, 1));
                check.meets("times", SQRT_2, 0.01);
                return assert!((times - SQRT_2).abs() < EXACT);
            }
            other => panic!("{other} has no rule here"),
        };
        check.meets("add_in", added.value, EXACT);
    });
}

#[test]
fn triangles_are_cut_as_the_charts_say() {
    each(Group::Triangles, |check| {
        let table = table(QUARTER);
        let half = |finished_in: f64| table.half_square(finished(finished_in)).value;
        let quarter = |finished_in: f64| table.quarter_square(finished(finished_in)).value;
        if check.id.starts_with("cutting.hst.") {
            check.meets("cut_in", half(check.input("finished_in")), EXACT);
        } else if check.id.starts_with("cutting.geese.") {
            check.meets("large_in", quarter(check.input("width_in")), EXACT);
            check.meets("small_in", half(check.input("height_in")), EXACT);
        } else {
            check.meets("qst_cut_in", quarter(check.input("finished_in")), EXACT);
            check.meets("hst_cut_in", half(check.input("finished_in")), EXACT);
        }
    });
}

/// These sources add 7/8 in and 1 1/4 in before they round to hundredths; we add what geometry does. Both come to the same eighth.
#[test]
fn triangles_by_their_other_side() {
    each(Group::OtherSide, |check| {
        let table = table(QUARTER);
        let (ours, trade_adds) = if check.id == "cutting.hyp2" {
            (table.half_square(finished(check.input("long_side_in") / SQRT_2)), 0.875 - QUARTER * (2.0 + SQRT_2))
        } else {
            (table.quarter_square(finished(check.input("short_side_in") * SQRT_2)), 1.25 - QUARTER * (2.0 + 2.0 * SQRT_2))
        };
        check.meets("cut_in", ours.exact + trade_adds, 0.005);
        let printed = Step::Eighth.up(Length::new(check.wanted("cut_in")));
        assert_eq!(ours.length(), printed, "{}", check.id);
    });
}

/// A quilt of plain blocks on point, `across` by `down`.
fn planned(block: f64, across: usize, down: usize) -> Plan {
    let text = format!(
        r##"
format = 1
name = "Check"
measure = "inch"
[cloth.red]
colour = "#aa3333"
[cloth.blue]
colour = "#3333aa"
[block.plain]
shape = "square"
size = "{block}"
grid = 2
seams = [[0, 0, 2, 2]]
patches = {{ red = [[0.5, 1.5], [1.5, 0.5]] }}
[setting]
layout = "on-point"
columns = {across}
rows = {down}
pattern = [["plain"]]
triangles = "blue"
"##
    );
    plan(&read(&text).unwrap_or_else(|error| panic!("{error:?}\n{text}")))
}

fn piece<'a>(plan: &'a Plan, wanted: &str) -> &'a CutPiece {
    let is_wanted = |each: &Use| matches!(each, Use::Top { what, .. } if what == wanted);
    plan.cutting.pieces.iter().find(|piece| piece.uses.iter().any(is_wanted)).unwrap_or_else(|| panic!("no {wanted} are cut"))
}

/// A top of eight blocks of the given lines, in two cloths.
fn eight_of(block: &str) -> Plan {
    let text = format!(
        "format = 1\nname = \"Check\"\nmeasure = \"inch\"\n[cloth.red]\ncolour = \"#aa3333\"\n[cloth.blue]\ncolour = \"#3333aa\"\n\
         [block.unit]\n{block}\n[setting]\nlayout = \"straight\"\ncolumns = 4\nrows = 2\npattern = [[\"unit\"]]\n"
    );
    plan(&read(&text).unwrap_or_else(|error| panic!("{error:?}\n{text}")))
}

/// Two batches of four: two large squares and eight small ones.
#[test]
fn flying_geese_four_at_a_time_as_the_charts_say() {
    let geese: Vec<Check> = cutting().into_iter().filter(|check| check.id.starts_with("cutting.geese.")).collect();
    assert_eq!(geese.len(), 8);
    for check in geese {
        let (width, height) = (check.input("width_in"), check.input("height_in"));
        let plan = eight_of(&format!(
            "shape = \"rectangle\"\nsize = \"{width} x {height}\"\ngrid = [4, 2]\nseams = [[0, 2, 2, 0], [2, 0, 4, 2]]\n\
             patches = {{ red = [[2, 1]], blue = [[0.5, 0.5], [3.5, 0.5]] }}"
        ));
        let [large, small] = plan.cutting.pieces.as_slice() else { panic!("{}: {:?}", check.id, plan.cutting.pieces) };
        let four = Way::Unit(MakingWay::FourAtATime);
        assert_eq!((&large.way, large.cut, &small.way, small.cut), (&four, 2, &four, 8), "{}", check.id);
        check.meets("large_in", large.width.value, EXACT);
        check.meets("small_in", small.width.value, EXACT);
    }
}

/// The trade's 7/8 and 1 1/4 for units two at a time, twice the square for eight; and the slip of two pages does not come out.
#[test]
fn squares_for_triangle_units_as_the_trade_adds() {
    let find = |id: &str| cutting().into_iter().find(|check| check.id == id).unwrap_or_else(|| panic!("there is no {id}"));
    for id in ["cutting.hst.2", "cutting.hst.2_slip"] {
        let check = find(id);
        let side = check.input("finished_in");
        check.meets("cut_in", table(QUARTER).two_half_squares(finished(side)).value, EXACT);
        let plan = eight_of(&format!(
            "shape = \"square\"\nsize = \"{side}\"\ngrid = 4\nseams = [[0, 0, 4, 4]]\npatches = {{ red = [[1, 3]], blue = [[3, 1]] }}"
        ));
        let [red, blue] = plan.cutting.pieces.as_slice() else { panic!("two cloths: {:?}", plan.cutting.pieces) };
        assert_eq!((&red.way, red.cut, blue.cut), (&Way::Unit(MakingWay::EightAtATime), 1, 1));
        check.meets("cut_in", red.width.value / 2.0, EXACT);
    }
    find("cutting.rule.hst").meets("add_in", table(QUARTER).two_half_squares(finished(3.0)).value - 3.0, EXACT);
    find("cutting.rule.qst").meets("add_in", table(QUARTER).quarter_square_units(finished(3.0)).value - 3.0, EXACT);
    find("cutting.exact.hst_allowance").meets("in", table(QUARTER).two_half_squares(finished(0.0)).exact, SIX_PLACES);
    find("cutting.exact.qst_allowance").meets("in", table(QUARTER).quarter_square_units(finished(0.0)).exact, SIX_PLACES);
    find("cutting.rule.square").meets("add_in", table(QUARTER).set_strip(finished(3.0)).value - 3.0, EXACT);
}

/// Here the charts come out an eighth larger than geometry needs: they add 1 1/4 in (or 7/8 in), which is already rounded up, and
/// round again. Everywhere else both agree, and nowhere are we smaller than geometry.
const CHART_IS_AN_EIGHTH_LARGER: [(&str, &str); 9] = [
    ("cutting.setting.5_5", "side_square_in"),
    ("cutting.setting.5_5", "corner_square_in"),
    ("cutting.setting.7", "side_square_in"),
    ("cutting.setting.8_5", "side_square_in"),
    ("cutting.setting.8_5", "corner_square_in"),
    ("cutting.setting.10", "side_square_in"),
    ("cutting.setting.11_5", "side_square_in"),
    ("cutting.setting.11_5", "corner_square_in"),
    ("cutting.setting.13", "side_square_in"),
];

#[test]
fn setting_triangles_are_cut_as_the_charts_say() {
    each(Group::Setting, |check| {
        let plan = planned(check.input("block_in"), 2, 2);
        let (side, corner) = (&piece(&plan, "side triangles").width, &piece(&plan, "corner triangles").width);
        match check.id.as_str() {
            "cutting.setting.exact_20" => {
                check.meets("side_square_in", side.exact, SIX_PLACES);
                check.meets("corner_square_in", corner.exact, SIX_PLACES);
            }
            "cutting.setting.ten_by_answer" => {
                let trade_adds = 1.25 - QUARTER * (2.0 + 2.0 * SQRT_2);
                check.meets("exact_in", side.exact + trade_adds, 0.005);
                // The same figure as the chart's for 10 in, and the same eighth too much.
                check.meets("cut_in", side.value + 0.125, EXACT);
            }
            _ => {
                for (name, ours) in [("side_square_in", side), ("corner_square_in", corner)] {
                    let larger = CHART_IS_AN_EIGHTH_LARGER.contains(&(check.id.as_str(), name));
                    check.meets(name, ours.value + if larger { 0.125 } else { 0.0 }, EXACT);
                    assert!(ours.value >= ours.exact && ours.value < ours.exact + 0.125, "{} {name}", check.id);
                }
            }
        }
    });
}

fn diagonal_of(plan: &Plan) -> f64 {
    plan.top.workings.iter().find(|working| working.what == "diagonal").expect("on point there is a diagonal").exact
}

/// The chart rounds to the nearest eighth; we do so for the eye only, and add up what is exact.
#[test]
fn diagonals_on_point() {
    each(Group::Diagonal, |check| {
        if check.id == "cutting.diagonal_sum" {
            let blocks = check.input("blocks") as usize;
            let width = planned(check.input("block_in"), blocks, 1).top.size.x;
            check.meets("exact_in", width, SIX_PLACES);
            assert!((width - check.wanted("from_table_in")).abs() > 0.1, "rounded diagonals were added up");
        } else {
            let diagonal = diagonal_of(&planned(check.input("block_in"), 1, 1));
            check.meets("in", Step::Eighth.nearest(Length::new(diagonal)).value(), EXACT);
        }
    });
}

/// The charts ask how many pieces a length gives; we ask what length the pieces need: the most for which it is enough.
fn most(length: f64, needs: impl Fn(u32) -> f64) -> u32 {
    (1..).take_while(|&count| needs(count) <= length + EXACT).last().unwrap_or(0)
}

/// Steps of an inch in which all sizes of the charts are whole.
const STEPS: f64 = 64.0;

/// Length that `count` pieces need, `wide` across and `high` along cloth of a usable width: in strips, and no layout needs less.
fn length_for(count: u32, [wide, high]: [f64; 2], usable: f64) -> f64 {
    let steps = |size: f64| (size * STEPS).floor() as u32;
    let kind = Kind { name: "piece".to_owned(), width: steps(wide), height: steps(high), count, turn: true };
    let job = Job::new(steps(usable), 0, Stages::TWO, vec![kind]).expect("it fits");
    let cutting = cut(&job, Budget::FIRST);
    assert_eq!(cutting.layout.length, cutting.bound.length, "{count} of {wide} x {high} out of {usable}");
    cutting.layout.length as f64 / STEPS
}

#[test]
fn squares_out_of_a_length_of_cloth() {
    each(Group::Squares, |check| {
        let side = check.input("side_in");
        // Its formula reckons with half an inch lost in the wash.
        let lost = if check.id == "cutting.squares_washed.half_yard_1_5" { 0.5 } else { 0.0 };
        let count = most(check.input("length_in") - lost, |pieces| length_for(pieces, [side, side], check.input("width_in")));
        check.meets("count", count.into(), EXACT);
    });
}

#[test]
fn strips_out_of_a_length_of_cloth() {
    each(Group::Strips, |check| {
        let (strip, length) = (check.input("strip_in"), check.input("length_in"));
        let needs = |strips: u32| length_for(strips, [40.0, strip], 40.0);
        let strips = most(length, needs);
        check.meets("strips", strips.into(), EXACT);
        if check.expected.contains_key("left_in") {
            check.meets("left_in", length - needs(strips), EXACT);
        }
    });
}

/// `edges.bind.yardage_72x90`: 2 1/4 in strips out of 40 in, 12 in added, joined on the slant: nine strips, 20 1/4 in, 5/8 yd.
/// `edges.bind.castilleja_50x60` takes 2 in off every strip instead: six strips.
#[test]
fn binding_is_joined_on_the_slant() {
    let length = rules::binding_length(seamfall_geom::Vec2::new(72.0, 90.0), Measure::Inch, Step::Eighth);
    assert_eq!(length.value, 336.0);
    let strips = rules::joined_strips(1, length.length(), Length::new(40.0), Length::new(2.25));
    let needed = rules::length_needed([(strips.value, Length::new(2.25))]);
    let bought = rules::length_to_buy("to buy", needed.value, Shrinkage(0), Length::ZERO, Measure::Inch);
    assert_eq!((strips.value, needed.value, bought.value / 36.0), (9.0, 20.25, 0.625));
    assert_eq!(rules::joined_strips(1, Length::new(220.0 + 2.0), Length::new(40.0), Length::new(2.0)).value, 6.0);
}

#[test]
fn counts_of_a_setting_on_point() {
    each(Group::Counts, |check| {
        let plan = planned(12.0, check.input("across") as usize, check.input("down") as usize);
        check.meets("blocks", plan.top.places.len() as f64, EXACT);
        let (sides, corners) = (piece(&plan, "side triangles"), piece(&plan, "corner triangles"));
        check.meets("sides", sides.needed as f64, EXACT);
        check.meets("side_squares", sides.cut as f64, EXACT);
        check.meets("corners", corners.needed as f64, EXACT);
        assert_eq!(corners.cut, 2, "two squares give four corners");
    });
}

#[test]
fn strips_for_triangles_diamonds_and_hexagons() {
    each(Group::Shapes, |check| match check.id.as_str() {
        "cutting.tri60.cut_height" => {
            let height = check.input("length_in") / check.input("rows");
            check.meets("cut_in", table(QUARTER).equilateral_strip(finished(height)).value, EXACT);
        }
        "cutting.star8.diamond" | "cutting.diamond60.strip" => {
            // Its width to seven places, so that the sixth can be compared.
            let width = match check.inputs.get("block_in") {
                Some(block) => block / (2.0 + SQRT_2) / SQRT_2,
                None => check.input("side_in") * 3.0_f64.sqrt() / 2.0,
            };
            check.meets("width_in", width, SIX_PLACES);
            check.meets("strip_in", table(check.input("seam_in")).parallel_strip(finished(width)).exact, SIX_PLACES);
        }
        "cutting.hex.cut" => {
            let flats = check.input("side_in") * 3.0_f64.sqrt();
            check.meets("flats_in", table(check.input("seam_in")).parallel_strip(finished(flats)).exact, SIX_PLACES);
        }
        other => panic!("{other} has no rule here"),
    });
}

/// A length that a shop cuts is bought as it is and written as the chart names it; a little more is the next eighth of a yard.
#[test]
fn yards_are_bought_and_written_in_eighths() {
    for check in values(include_str!("reference/fabric.toml")) {
        let name = check.id.strip_prefix("fabric.yard.").expect("yards only").replace('_', "/");
        let bought = |length: f64| rules::length_to_buy("to buy", length, Shrinkage(0), Length::ZERO, Measure::Inch);
        let length = bought(check.wanted("in"));
        check.meets("in", length.value, EXACT);
        assert!((bought(check.wanted("in") + 0.1).value - check.wanted("in") - 4.5).abs() < EXACT, "{}", check.id);
        assert_eq!(shown_length(&length, Measure::Inch), format!("{name} yd"), "{}", check.id);
    }
}
