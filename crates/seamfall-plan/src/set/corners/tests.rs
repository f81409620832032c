//! Corners at the foot, on quilts written as a maker would write them.

use super::super::derive;
use super::*;
use proptest::prelude::*;
use seamfall_model::{Grade, read};

/// A quilt of blocks of 8 in, `columns` by `rows`, on a bed of 60 by 80 in, with the lines given.
fn quilt(columns: u32, rows: u32, rest: &str) -> Quilt {
    let text = format!(
        r##"format = 1
name = "Corners"
measure = "inch"
[cloth.night]
colour = "#22304f"
[block.plain]
shape = "square"
size = "8"
cloths = {{ one = "night" }}
patches = {{ one = [[1, 1]] }}
[setting]
layout = "straight"
columns = {columns}
rows = {rows}
pattern = [["plain"]]
{rest}
"##
    );
    read(&text).unwrap_or_else(|error| panic!("{error:?}\n{text}"))
}

const BED: &str = "[bed]\nwidth = \"60\"\nlength = \"80\"\n";

fn top(shape: &str) -> (Quilt, Top, Vec<Finding>) {
    let quilt = quilt(11, 12, &format!("{BED}[corners]\nshape = \"{shape}\"\n"));
    let staged = derive(&quilt);
    (quilt, staged.result, staged.findings)
}

fn area(corner: &ChangedCorner) -> f64 {
    corner.away.area()
}

/// One block cannot lose the triangles at both its lower corners; two blocks beside each other can.
#[test]
fn both_corners_fit_on_the_foot() {
    for (columns, corners, grades) in [(1, 0, vec![Grade::Warn]), (2, 2, vec![])] {
        let staged = derive(&quilt(columns, 1, "[corners]\nshape = \"set-back\"\n"));
        assert_eq!(staged.result.corners.len(), corners, "{columns}");
        let said: Vec<Grade> =
            staged.findings.iter().map(|finding| finding.grade).filter(|grade| *grade != Grade::Note).collect();
        assert_eq!(said, grades);
        assert!((staged.result.outline.area() - 64.0 * (f64::from(columns) - corners as f64 / 2.0)).abs() < 1e-9);
    }
}

/// 88 by 96 in over 60 by 80: 14 in at the sides, 16 at the foot. The arc has the longer drop for its radius and meets the side where
/// √(16² - 14²) is left of the foot's drop. Plane geometry.
#[test]
fn corners_are_cut_where_the_mattress_ends() {
    let rest = (16.0_f64 * 16.0 - 14.0 * 14.0).sqrt();
    for (shape, up, along, radius) in [
        ("level", 16.0 - rest, 14.0, Some(16.0)),
        ("straight", 16.0 - rest, 14.0, None),
        ("notch", 16.0, 14.0, None),
        ("set-back", 8.0, 8.0, None),
    ] {
        let (_, top, findings) = top(shape);
        assert!(findings.iter().all(|finding| finding.grade == Grade::Note), "{findings:?}");
        let [left, right] = &top.corners[..] else { panic!("two corners") };
        assert_eq!(
            (left.name().as_str(), right.name().as_str(), left.mattress),
            ("lower left", "lower right", Some(Point::new(14.0, 16.0)))
        );
        let (from, to) = (left.edge[0].from(), left.edge[left.edge.len() - 1].to());
        assert!(
            (from - Point::new(0.0, up)).hypot2() < 1e-18 && (to - Point::new(along, 0.0)).hypot2() < 1e-18,
            "{shape} {from:?} {to:?}"
        );
        assert!((right.edge[0].from() - Point::new(88.0 - along, 0.0)).hypot2() < 1e-18);
        assert_eq!(left.radius().map(|radius| (radius * 1e6).round() / 1e6), radius);
        assert!((area(left) - area(right)).abs() < 1e-9);
    }
}

/// A notch of 14 by 16 in takes one block of 8 in whole, and of the next ones along the foot and up the side the rest: 14 x 16 in all.
#[test]
fn what_lies_wholly_in_a_notch_need_not_be_made() {
    let (quilt, top, findings) = top("notch");
    let left = &top.corners[0];
    let named = |whole: bool| -> Vec<(&str, f64)> {
        let cuts = left.places.iter().filter(|cut| cut.whole == whole);
        cuts.map(|cut| (top.places[cut.number].name.as_str(), (cut.away * 1e6).round() / 1e6)).collect()
    };
    assert_eq!(named(true), [("K1", 64.0), ("L1", 64.0)]);
    assert_eq!(named(false), [("K2", 48.0), ("L2", 48.0)]);
    let said = findings.iter().find(|finding| finding.spot == Spot::Place("L1".to_owned())).expect("it is said");
    assert_eq!(said.grade, Grade::Note);
    assert_eq!(
        said.help.as_deref(),
        Some("sew in any cloth of that size instead: it saves 64 sq in of cloth, and its piecing and quilting")
    );
    let trimming = left.trimming(&quilt, &top);
    assert!(trimming.starts_with("mark a notch 14 in wide and 16 in high"), "{trimming}");
}

#[test]
fn a_level_hem_says_how_long_the_string_is() {
    let (quilt, top, _) = top("level");
    let said = top.corners[1].trimming(&quilt, &top);
    assert!(said.starts_with("mark an arc of 16 in about the corner of the mattress"), "{said}");
    assert!(said.ends_with("cut 1/4 in outside it"), "{said}");
}

#[test]
fn corners_without_a_bed_or_a_drop_are_refused_in_words() {
    let found = |quilt: &Quilt| {
        let staged = derive(quilt);
        assert_eq!(staged.result.corners, []);
        let [finding] = &staged.findings[..] else { panic!("{:?}", staged.findings) };
        (finding.grade, finding.reason.clone(), finding.help.clone().unwrap_or_default())
    };
    let mut bare = quilt(11, 12, BED);
    (bare.bed, bare.corners) = (None, CornerShape::Level);
    let (grade, reason, help) = found(&bare);
    assert_eq!(
        (grade, reason.as_str()),
        (Grade::Stop, "a corner that is `level` is drawn from the corner of the mattress, and there is no bed")
    );
    assert!(help.contains("[bed]"));
    let mut short = quilt(11, 10, BED);
    short.corners = CornerShape::Notch;
    let (grade, reason, _) = found(&short);
    assert_eq!((grade, reason.contains("at the foot")), (Grade::Warn, true), "{reason}");
}

/// Set back without a bed: along the diagonal of the block, drawn out through a band of 2 in.
#[test]
fn a_corner_can_be_set_back_without_a_bed() {
    let mut quilt = quilt(5, 6, "[[band]]\nwidth = \"2\"\ncloth = \"night\"\n");
    quilt.corners = CornerShape::SetBack;
    let top = derive(&quilt).result;
    assert_eq!(top.corners[0].edge, [Edge::Line { from: Point::new(0.0, 12.0), to: Point::new(12.0, 0.0) }]);
    assert_eq!((top.corners[0].mattress, area(&top.corners[0])), (None, 72.0));
}

proptest! {
    /// What is left and what is cut off make the rectangle; the outline is as long as its edges; what is cut out of places and strips, and what is
    /// left of the sections, add up.
    #[test]
    fn nothing_is_lost_at_a_corner(side in 1_u32..80, foot in 1_u32..80, band in 0_u32..24, shape in 1..5_usize, sections in 8_u32..40) {
        let band = format!("[[band]]\nwidth = \"{}\"\ncloth = \"night\"\ncorners = \"mitred\"\n", f64::from(band) / 4.0 + 1.0);
        let mut quilt = quilt(6, 6, &format!("{BED}{band}"));
        let whole = derive(&quilt).result.size;
        let mut bed = quilt.bed.expect("there is one");
        (bed.width, bed.length) = (Length::new(whole.x - f64::from(side) / 2.0), Length::new(whole.y - f64::from(foot) / 4.0));
        (quilt.bed, quilt.corners) = (Some(bed), CornerShape::ALL[shape]);
        quilt.largest_section = Length::new(f64::from(sections));
        let top = derive(&quilt).result;
        let off: f64 = top.corners.iter().map(area).sum();
        let all = whole.x * whole.y;
        prop_assert!((top.outline.area() - (all - off)).abs() < 1e-6, "{} {off}", top.outline.area());
        let edges: f64 = top.outline.edges().iter().map(Edge::length).sum();
        prop_assert!((top.outline.perimeter() - edges).abs() < 1e-9);
        for corner in &top.corners {
            prop_assert!(area(corner) > 0.0);
            let cut: f64 = corner.places.iter().chain(&corner.strips).map(|cut| cut.away).sum();
            prop_assert!((cut - area(corner)).abs() < 1e-4, "{cut} {}", area(corner));
        }
        let left: f64 = top.sections.iter().flat_map(|section| section.left()).map(Loop::area).sum();
        prop_assert!((left - top.outline.area()).abs() < 1e-4, "{left} {}", top.outline.area());
        prop_assert!(top.corners.len() == 2 || shape == 1, "only a block too large for its drop is refused");
    }
}
