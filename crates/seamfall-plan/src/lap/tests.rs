//! Tests of the stage as a whole. Wanted values are worked out by hand from plane geometry.

use super::areas::areas;
use super::lines::{Given, lines};
use super::*;
use crate::{Effort, plan, plan_again};
use seamfall_geom::{Pose, Rect, largest_gap};
use seamfall_model::{Finding, Grade, Ledger, Spot, read};
use std::f64::consts::{PI, SQRT_2};

/// Four plain blocks of 12 in, each its own section, and what the test adds: keys of blocks' frames, then quilting.
fn four(frame: &str, rest: &str) -> Quilt {
    let text = format!(
        r##"format = 1
name = "Four"
measure = "inch"
largest-section = "16"
[cloth.night]
colour = "#22304f"
[block.plain]
shape = "square"
size = "12"
cloths = {{ one = "night" }}
patches = {{ one = [[1, 1]] }}
{frame}
[setting]
layout = "straight"
columns = 2
rows = 2
pattern = [["plain"]]
{rest}
"##
    );
    read(&text).unwrap_or_else(|error| panic!("{error:#?}"))
}

fn quilted(designs: &str) -> Quilt {
    four("", designs)
}

const FRAME: &str = "frame = \"wide\"\n[frame.wide]\ncorners = \"mitred\"\nstrips = [ { width = \"2\", cloth = \"night\" } ]";

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-5
}

fn said(plan: &crate::Plan, words: &str) -> Option<Finding> {
    plan.findings.iter().find(|finding| finding.reason.contains(words)).cloned()
}

/// Length of all designs as drawn, at all their places.
fn drawn(quilt: &Quilt, plan: &crate::Plan) -> f64 {
    let given = Given { clear: plan.lap.clear, inch: quilt.measure.inch() };
    let of = |quilting: &seamfall_model::Quilting| -> f64 {
        let all = areas(quilt, &plan.drafts, &plan.top, quilting.on);
        let length =
            |area| lines(&quilting.design, area, &given).unwrap_or_default().iter().flatten().map(Edge::length).sum::<f64>();
        all.iter().map(|(area, places)| places.len() as f64 * length(area)).sum()
    };
    quilt.quilting.iter().map(of).sum()
}

#[test]
fn without_designs_there_is_nothing_to_do() {
    let plan = plan(&quilted(""));
    assert_eq!(plan.lap.patterns.len(), 1);
    assert_eq!((plan.lap.totals.starts, plan.lap.totals.needlefuls, plan.lap.bags.len()), ((0, 0), 0, 0));
    assert_eq!(plan.lap.largest_gap, None);
    assert!(plan.findings.is_empty(), "{:?}", plan.findings);
}

/// A circle as large as the margin lets it be: 12 in less twice 3/4 in from the cut edge, which lies 1/4 in out: 11 in.
#[test]
fn a_circle_within_the_margin_is_one_path_without_an_end() {
    let plan = plan(&quilted("[[quilting]]\non = \"plain\"\ndesign = \"circle\"\n"));
    let pattern = &plan.lap.patterns[0];
    assert_eq!((plan.lap.patterns.len(), plan.lap.sections.len()), (1, 4), "equal sections share a pattern");
    assert!(close(pattern.now, 11.0 * PI) && close(pattern.stitched, 11.0 * PI) && pattern.after == 0.0, "{pattern:?}");
    assert_eq!((pattern.starts, pattern.bound, pattern.unaided, pattern.hanging.len()), (1, 1, 1, 0));
    // 34.56 in of line take 65.2 in of thread: six needlefuls of 18 in less twice 3 in.
    assert_eq!(pattern.needlefuls.len(), 6);
    assert_eq!(pattern.knots_and_hanging(), (12, 0));
}

/// Level lines 3 in apart through the middle: at 3, 6 and 9 in. Each is quilted from 1/2 in to 11 1/2 in and hangs at both ends.
#[test]
fn lines_stop_at_the_margin_and_hang() {
    let plan = plan(&quilted("[[quilting]]\non = \"plain\"\ndesign = \"parallel\"\nangle = 0\nspacing = \"3\"\n"));
    let pattern = &plan.lap.patterns[0];
    assert!(close(pattern.now, 33.0) && close(pattern.after, 3.0), "{} {}", pattern.now, pattern.after);
    assert_eq!(pattern.hanging.len(), 6);
    // Ends that hang take part in no travel, whatever the reach.
    assert_eq!((pattern.starts, pattern.bound), (3, 3));
    // 11 in take 20.75 in of thread, more than the 12 in of a needleful: two each.
    assert_eq!((pattern.needlefuls.len(), pattern.knots_and_hanging()), (6, (6, 6)));
    for path in &pattern.paths {
        assert_eq!(path.hangs, [true, true]);
        assert!(close(path.length(), 11.0));
    }
    assert_eq!(plan.lap.totals.hanging, 24);
}

/// What lies within the margin is at least 1/2 in from the finished edge everywhere, what is left for later lies beyond.
#[test]
fn nothing_quilted_runs_into_a_join() {
    let designs = "[[quilting]]\non = \"quilt\"\ndesign = \"crossed\"\nangle = 30\nspacing = \"1 1/2\"\n[[quilting]]\non = \"plain\"\ndesign = \"arcs\"\n";
    let quilt = quilted(designs);
    let plan = plan(&quilt);
    let mut seen = 0;
    for (section, work) in plan.top.sections.iter().zip(&plan.lap.sections) {
        for line in &plan.lap.patterns[work.pattern].lines {
            for edge in &line.edges {
                for k in 0..=8 {
                    let at = edge.at(f64::from(k) / 8.0) + work.shift;
                    let far = section.outline.edges().iter().map(|side| side.distance_to(at)).fold(f64::INFINITY, f64::min);
                    assert!(if line.now { far >= 0.5 - 1e-5 } else { far <= 0.5 + 1e-5 }, "{at:?} {far}");
                    seen += 1;
                }
            }
        }
    }
    assert!(seen > 1000);
}

/// Before and after the join is the whole design, for every design, as drawn.
#[test]
fn nothing_of_a_design_is_lost() {
    let designs = [
        "design = \"in-the-ditch\"",
        "design = \"outline\"",
        "design = \"echo\"\ncount = 4",
        "design = \"parallel\"\nspacing = \"1\"",
        "design = \"crossed\"\nangle = 15\nspacing = \"1\"",
        "design = \"oval\"",
        "design = \"circle\"\nsize = \"2\"",
        "design = \"leaf\"",
        "design = \"cable\"",
        "design = \"fan\"",
        "design = \"feather\"",
        "design = \"arcs\"",
        "design = \"stippling\"\nspacing = \"1/2\"",
        "design = \"path\"\nsize = \"2\"\npath = \"M 0 0 C 3 6 6 6 9 0 Z\"",
        "design = \"mitres\"",
    ];
    let rest = "[sashing]\nwidth = \"3\"\ncloth = \"night\"\n[[band]]\nwidth = \"5\"\ncloth = \"night\"\ncorners = \"mitred\"\n";
    let mut full = 0;
    for on in ["plain", "wide", "sashing", "band 1", "quilt"] {
        for design in designs {
            let quilt = four(FRAME, &format!("{rest}[[quilting]]\non = \"{on}\"\n{design}\n"));
            let plan = plan(&quilt);
            let whole = drawn(&quilt, &plan);
            let parts: f64 =
                plan.lap.sections.iter().map(|one| &plan.lap.patterns[one.pattern]).map(|one| one.now + one.after).sum();
            assert!((whole - parts).abs() < 1e-4 * whole.max(1.0), "{on} {design}: {whole} in parts {parts}");
            full += usize::from(whole > 0.0);
            for pattern in &plan.lap.patterns {
                // Every path is one thread's way: its parts follow one another.
                for path in &pattern.paths {
                    let edges: Vec<Edge> = path.stretches.iter().flat_map(|part| part.edges.clone()).collect();
                    assert!(edges.windows(2).all(|pair| (pair[0].to() - pair[1].from()).hypot2() < 1e-9), "{on} {design}");
                }
                let stitched: f64 =
                    pattern.paths.iter().flat_map(|path| &path.stretches).filter(|part| !part.hidden).map(Stretch::length).sum();
                assert!((stitched - pattern.stitched).abs() < 1e-6 && pattern.stitched <= pattern.now + 1e-5);
                assert_eq!(pattern.starts, pattern.bound, "{on} {design}");
                let reach = quilt.lap.reach.value() + 1e-6;
                let hidden = pattern.paths.iter().flat_map(|path| &path.stretches).filter(|part| part.hidden);
                hidden.flat_map(|part| &part.edges).for_each(|way| assert!(way.length() <= reach));
            }
        }
    }
    assert!(full > 60, "{full}");
}

/// Two circles an inch apart, each about the middle: the inner is a detour there and back.
#[test]
fn hidden_travel_saves_starts() {
    let designs = |reach: &str| {
        format!(
            "[lap]\nreach = \"{reach}\"\n[[quilting]]\non = \"plain\"\ndesign = \"circle\"\nsize = \"8\"\nrepeats = 1\n[[quilting]]\non = \"plain\"\ndesign = \"circle\"\nsize = \"6\"\nrepeats = 1\n"
        )
    };
    let near = plan(&quilted(&designs("1")));
    let pattern = &near.lap.patterns[0];
    assert_eq!((pattern.starts, pattern.bound, pattern.unaided), (1, 1, 2));
    // Only one of the two ways is needed: the tour comes first or last.
    assert!(close(pattern.travelled, 1.0), "{}", pattern.travelled);
    let far = plan(&quilted(&designs("7/8")));
    assert_eq!((far.lap.patterns[0].starts, far.lap.patterns[0].bound), (2, 2));
}

/// Lines of a frame's mitres run out to the section's corner: from √2 × 1/2 in of it they wait for the join.
#[test]
fn mitres_wait_for_the_join_near_the_corner() {
    let plan = plan(&four(FRAME, "[[quilting]]\non = \"wide\"\ndesign = \"mitres\"\n"));
    let pattern = &plan.lap.patterns[0];
    assert!(close(pattern.now, 4.0 * 1.5 * SQRT_2) && close(pattern.after, 4.0 * 0.5 * SQRT_2), "{pattern:?}");
    assert_eq!((pattern.hanging.len(), pattern.starts), (4, 4));
}

#[test]
fn a_line_along_the_mitres_is_proposed_where_a_motif_leaves_the_corner_bare() {
    let quilting = |design: &str| plan(&four(FRAME, &format!("[[quilting]]\non = \"wide\"\ndesign = \"{design}\"\n")));
    let ovals = quilting("oval");
    assert_eq!(ovals.lap.proposals.len(), 1);
    assert_eq!(ovals.lap.proposals[0].lines.len(), 16);
    let finding = said(&ovals, "mitred corners").expect("it is said");
    assert_eq!((finding.grade, finding.spot), (Grade::Note, Spot::Frame("wide".to_owned())));
    // A cable turns the corner and crosses the mitre's middle.
    assert!(quilting("cable").lap.proposals.is_empty());
    let both =
        plan(&four(FRAME, "[[quilting]]\non = \"wide\"\ndesign = \"oval\"\n[[quilting]]\non = \"wide\"\ndesign = \"mitres\"\n"));
    assert!(both.lap.proposals.is_empty());
}

/// Inside a circle of 11 in nothing is quilted: a gap of 11 in.
#[test]
fn the_largest_gap_is_found_over_the_joined_quilt() {
    let plan = plan(&quilted("[[quilting]]\non = \"plain\"\ndesign = \"circle\"\n"));
    let gap = plan.lap.largest_gap.clone().expect("there is one");
    assert!(gap.width <= 11.0 + 1e-6 && gap.bound >= 11.0 - 1e-6 && gap.width > 10.8, "{gap:?}");
    assert_eq!(gap.over_join_with, None);
    let finding = said(&plan, "gap of").expect("it is said");
    assert_eq!(finding.grade, Grade::Warn);
}

/// Level lines at 2, 4 ... 10 in of each block: over the level join lie 4 in without one, elsewhere 2 in.
#[test]
fn the_two_margins_along_a_join_are_one_gap() {
    let path = "M 0 0 H 11 M 0 2 H 11 M 0 4 H 11 M 0 6 H 11 M 0 8 H 11";
    let rest = format!(
        "[lap]\nlargest-gap = \"2 1/2\"\n[[quilting]]\non = \"plain\"\ndesign = \"path\"\nsize = \"11 x 8\"\npath = \"{path}\"\n"
    );
    let plan = plan(&quilted(&rest));
    let gap = plan.lap.largest_gap.clone().expect("there is one");
    // Where four blocks meet the lines end 1/2 in short of the join: 2 √(2² + (1/2)²).
    let widest = 2.0 * 4.25_f64.sqrt();
    assert!(gap.width <= widest + 1e-6 && widest <= gap.bound + 1e-6 && gap.width > widest - 0.126, "{gap:?}");
    assert!(gap.over_join_with.is_some(), "{gap:?}");
    // Nothing crosses the join of the rows, 24 in long. With a line along all of it no gap there is wider than the limit.
    let line = plan.lap.gaps[0].line;
    assert!((line.length() - 24.0).abs() < 0.2, "{line:?}");
    let lines = plan.lap.sections.iter().flat_map(|work| {
        let lines = plan.lap.patterns[work.pattern].lines.iter().flat_map(|line| &line.edges);
        lines.map(|edge| edge.moved(Pose::shift(work.shift)))
    });
    let lines: Vec<Edge> = lines.chain([line]).collect();
    let round = Loop::rect(Rect::new(2.0, 10.5, 22.0, 13.5));
    assert!(largest_gap(&round, &lines, 1.0 / 16.0, 1.25).is_none_or(|gap| 2.0 * gap.radius <= 2.5));
    let finding = said(&plan, "over the join with").expect("it is said");
    assert!(finding.help.expect("with a remedy").contains("along the join"));
}

/// Round a block of 12 in, in a frame of 2 in: echoes at 1/2, 1 and 1 1/2 in from the inner edge, the fourth would lie on the outer one.
/// 4 × (13 + 14 + 15) = 168 in each.
#[test]
fn echoes_of_a_frame_go_outward_as_far_as_it_does() {
    let plan = plan(&four(FRAME, "[[quilting]]\non = \"wide\"\ndesign = \"echo\"\ndistance = \"1/2\"\ncount = 5\n"));
    let drawn: f64 = plan.lap.sections.iter().map(|one| &plan.lap.patterns[one.pattern]).map(|one| one.now + one.after).sum();
    assert!(close(drawn, 4.0 * 168.0), "{drawn}");
}

/// A line half an inch inside every strip of the sashing is as long as its edge less four inches, whatever the length of the strip: short ones between
/// the blocks of a row, and a long one between the rows.
#[test]
fn strips_of_every_length_are_quilted_as_long_as_they_are() {
    let rest =
        "[sashing]\nwidth = \"3\"\ncloth = \"night\"\n[[quilting]]\non = \"sashing\"\ndesign = \"outline\"\ndistance = \"1/2\"\n";
    let plan = plan(&four("", rest));
    let long: Vec<f64> = plan.top.strips.iter().map(|strip| strip.outline.perimeter() - 4.0).collect();
    assert!(long.iter().any(|length| (length - long[0]).abs() > 1.0), "strips of one length tell little: {long:?}");
    let drawn: f64 = plan.lap.sections.iter().map(|one| &plan.lap.patterns[one.pattern]).map(|one| one.now + one.after).sum();
    assert!(close(drawn, long.iter().sum()), "{drawn} of {long:?}");
}

/// What is drawn twice is quilted once, and its threads hang once: at both ends of each of three lines.
#[test]
fn a_design_given_twice_hangs_once() {
    let line = "[[quilting]]\non = \"plain\"\ndesign = \"parallel\"\nangle = 0\nspacing = \"3\"\n";
    let plan = plan(&quilted(&line.repeat(2)));
    let pattern = &plan.lap.patterns[0];
    assert_eq!((pattern.hanging.len(), pattern.paths.len()), (6, 3));
    assert_eq!(plan.join.steps.iter().map(|step| step.hanging.len()).sum::<usize>(), 12, "those at the four joins");
}

/// Rings half an inch apart within that reach: from the outermost to the innermost the needle comes up on the one between.
#[test]
fn no_hidden_way_is_longer_than_the_reach() {
    let rings = "[lap]\nreach = \"1/2\"\n[[quilting]]\non = \"plain\"\ndesign = \"echo\"\ndistance = \"1/2\"\ncount = 4\n";
    let plan = plan(&quilted(rings));
    let pattern = &plan.lap.patterns[0];
    assert_eq!(pattern.starts, 1);
    let hidden = pattern.paths.iter().flat_map(|path| &path.stretches).filter(|one| one.hidden);
    assert!(hidden.clone().count() > 2 && hidden.map(Stretch::length).all(|length| length < 0.5 + 1e-6), "{:?}", pattern.paths);
}

#[test]
fn designs_that_do_not_fit_are_findings_and_the_rest_stands() {
    let rest = "[[band]]\nwidth = \"1\"\ncloth = \"night\"\n[[quilting]]\non = \"plain\"\ndesign = \"circle\"\nsize = \"13\"\n[[quilting]]\non = \"plain\"\ndesign = \"circle\"\n[[quilting]]\non = \"quilt\"\ndesign = \"stippling\"\nspacing = \"1/8\"\n[[quilting]]\non = \"plain\"\ndesign = \"mitres\"\n[[quilting]]\non = \"sashing\"\ndesign = \"circle\"\n";
    let plan = plan(&quilted(rest));
    for words in [
        "`circle` is larger than its place",
        "more lines than anybody quilts",
        "nothing of the quilting design `mitres`",
        "nowhere in the quilt",
    ] {
        assert!(said(&plan, words).is_some(), "{words}: {:?}", plan.findings);
    }
    assert!(plan.lap.totals.stitched > 4.0 * 10.0 * PI);
}

/// A band of 1 in that is a section of its own keeps no quilting before the join: 1/2 in is free on both sides.
#[test]
fn a_margin_that_leaves_nothing_is_a_finding() {
    let text = "[[band]]\nwidth = \"1/2\"\ncloth = \"night\"\n[[quilting]]\non = \"band 1\"\ndesign = \"in-the-ditch\"\n[[quilting]]\non = \"plain\"\ndesign = \"circle\"\n";
    let mut quilt = quilted(text);
    quilt.largest_section = seamfall_model::Length::new(12.0);
    let plan = plan(&quilt);
    let finding = said(&plan, "the free margin leaves nothing").expect("it is said");
    assert!(matches!(finding.spot, Spot::Section(_)));
    assert!(plan.lap.totals.stitched > 0.0);
}

/// The plan is the same with a memo of another quilt as with an empty one.
#[test]
fn a_memo_changes_nothing() {
    let designs = ["circle", "fan", "arcs", "circle"];
    let quilted = designs.map(|design| quilted(&format!("[[quilting]]\non = \"plain\"\ndesign = \"{design}\"\n")));
    let pieced: Vec<_> = seamfall_testkit::pressing_quilts().into_iter().map(|(_, quilt)| quilt).collect();
    let mut memo = crate::Memo::default();
    for quilt in quilted.iter().chain(&pieced).chain(pieced.iter().rev()) {
        let again = plan_again(quilt, &Ledger::default(), Effort::EDIT, &mut memo);
        assert_eq!(again, plan_again(quilt, &Ledger::default(), Effort::EDIT, &mut crate::Memo::default()));
    }
}

/// Check value `lap.use.running_exact`: 8 stitches an inch through 0.1 in take 1.886796 in; with no thickness exactly one.
#[test]
fn thread_is_that_of_the_check_values() {
    let mut quilt = quilted("");
    assert!((needlefuls::thread_of(&quilt).value() - 1.886_796).abs() < 1e-6);
    quilt.lap.thickness = seamfall_model::Length::ZERO;
    assert!((needlefuls::thread_of(&quilt).value() - 1.0).abs() < 1e-12);
}

/// Check value `lap.use.needlefuls`: 700 yd of thread are 1400 needlefuls of 18 in. And each needleful goes on where the one before ends.
#[test]
fn needlefuls_are_those_of_the_check_values() {
    let manner = Manner { clear: 0.5, reach: 1.0, usable: 18.0, tail: 0.0, thread: 1.0, ticks: 1000.0 };
    let line = Edge::Line { from: Point::ORIGIN, to: Point::new(700.0 * 36.0, 0.0) };
    let path = Path { stretches: vec![Stretch { hidden: false, edges: vec![line] }], hangs: [true, false] };
    let needlefuls = needlefuls::of(0, &path, &manner);
    assert_eq!(needlefuls.len(), 1400);
    assert!(needlefuls.windows(2).all(|pair| close(pair[0].to, pair[1].from)));
    assert_eq!((needlefuls[0].ends, needlefuls[1399].ends), ([End::Hanging, End::Knot], [End::Knot, End::Knot]));
}

/// A week of 7 hours at 6 minutes a foot holds 70 ft: of sections of 20 ft three go into the first bag.
#[test]
fn bags_hold_what_a_week_allows() {
    let path = "M 0 0 H 10 V 10 H 0 Z";
    let rest = format!(
        "[lap]\nminutes-a-foot = 30\n[[quilting]]\non = \"plain\"\ndesign = \"path\"\nsize = \"10\"\npath = \"{path}\"\n"
    );
    let plan = plan(&quilted(&rest));
    // 40 in are 3 1/3 ft, 100 minutes: four sections take 6 h 40 min.
    assert_eq!(plan.lap.bags.len(), 1);
    assert!(close(plan.lap.bags[0].hours, 400.0 / 60.0) && close(plan.lap.totals.hours.value, 400.0 / 60.0));
    let mut quilt = quilted(&rest);
    quilt.lap.hours_a_week = 3.5;
    let bags = crate::plan(&quilt).lap.bags;
    assert_eq!(bags.iter().map(|bag| bag.sections.clone()).collect::<Vec<_>>(), [vec![0, 1], vec![2, 3]]);
}

/// Four blocks on a mattress of 12 by 18 in, the corners cut straight: legs of 6 in. Of the level lines in the block at the lower left that at 3 in
/// begins 3 in from the side, at the cut; stitches keep 1/2 in from the cut, √2/2 along a level line. That at 6 in begins where the cut ends.
#[test]
fn lines_stop_at_the_margin_of_a_corner_that_is_trimmed() {
    let lines = "[[quilting]]\non = \"plain\"\ndesign = \"parallel\"\nangle = 0\nspacing = \"3\"\n";
    let corners = "[bed]\nwidth = \"12\"\nlength = \"18\"\n[corners]\nshape = \"straight\"\n";
    let plan = plan(&quilted(&format!("{lines}{corners}")));
    assert_eq!(plan.lap.patterns.len(), 3, "head, and both corners");
    let off = SQRT_2 / 2.0;
    for corner in [2, 3] {
        let pattern = &plan.lap.patterns[plan.lap.sections[corner].pattern];
        assert!(close(pattern.now, 8.5 - off + 11.5 - off + 11.0), "{}", pattern.now);
        assert!(close(pattern.after, 2.0 * (off + 0.5) + 1.0), "{}", pattern.after);
        assert!(close(pattern.kept.as_ref().expect("it is trimmed").iter().map(Loop::area).sum(), 144.0 - 18.0));
    }
    let whole = &plan.lap.patterns[plan.lap.sections[0].pattern];
    assert!(close(whole.now, 33.0) && whole.kept.is_none());
}

/// A notch of 12 by 12 in takes the block in the corner whole: nothing is quilted there, and no gap is found.
#[test]
fn what_is_cut_off_whole_is_not_quilted() {
    let lines = "[[quilting]]\non = \"plain\"\ndesign = \"parallel\"\nangle = 0\nspacing = \"3\"\n[lap]\nlargest-gap = \"4\"\n";
    let rows = four("", lines).setting.places;
    let mut quilt = four("", &format!("{lines}[bed]\nwidth = \"12\"\nlength = \"24\"\n[corners]\nshape = \"notch\"\n"));
    // Three by three: 36 in, 12 of them over either side and the foot.
    quilt.setting.places = vec![vec![rows[0][0].clone(); 3]; 3];
    let plan = plan(&quilt);
    let corner = &plan.lap.patterns[plan.lap.sections[6].pattern];
    assert_eq!((corner.lines.len(), corner.starts, corner.kept.as_deref()), (0, 0, Some([].as_slice())));
    assert!(plan.lap.gaps.iter().all(|gap| ![6, 8].contains(&gap.section)), "{:?}", plan.lap.gaps);
    assert!(said(&plan, "need not be made").is_some());
}

/// Lines both ways an eighth of an inch apart cross 96 by 96 times a square of 12 in less its margin; of the same at other angles, two hundred times, the
/// crossings of one section and the lines of all are too many. Both are said, and neither takes long.
#[test]
fn more_lines_than_anybody_quilts_are_left_out_and_said() {
    let crossed =
        |angle: u32| format!("[[quilting]]\non = \"quilt\"\ndesign = \"crossed\"\nspacing = \"1/8\"\nangle = {angle}\n");
    let one = plan(&quilted(&crossed(0)));
    assert!(one.lap.patterns.iter().all(|pattern| !pattern.too_many), "{:?}", one.findings);
    let three = plan(&quilted(&[0, 20, 40, 0].map(crossed).concat()));
    assert!(three.lap.patterns.iter().all(|pattern| pattern.too_many && pattern.paths.is_empty()));
    let once = |pattern: &Pattern| pattern.hanging.windows(2).all(|pair| pair[0] != pair[1]);
    assert!(three.lap.patterns.iter().all(|pattern| once(pattern)), "what is given twice hangs once here too");
    assert!(said(&three, "more quilting lines than can be put into an order").is_some());
}

#[test]
fn designs_beyond_the_lines_of_a_whole_quilt_are_left_out_and_said() {
    let dense = "[[quilting]]\non = \"plain\"\ndesign = \"stippling\"\nspacing = \"1/8\"\n".repeat(40);
    let plan = plan(&quilted(&dense));
    let lines: usize = plan
        .lap
        .sections
        .iter()
        .map(|section| plan.lap.patterns[section.pattern].lines.iter().map(|line| line.edges.len()).sum::<usize>())
        .sum();
    assert!(lines <= 510_000, "{lines}");
    assert!(said(&plan, "more lines than anybody quilts").is_some());
}
