//! The stage as a whole: sizes, drops, corners, and what is said of them.

use super::*;
use crate::plan;
use seamfall_geom::{Rect, Vec2};
use seamfall_model::{CornerShape, Finding, Grade, Length, Measure, PerCent, Spot, StandardBed, read};

fn ruler() -> Ruler {
    Ruler::usual(Measure::Inch)
}

/// A queen bed 25 in high with a drop of 14 in at the sides and the foot, 10 in tucked in; nothing is taken off.
fn queen() -> Bed {
    let standard = StandardBed::named("us queen").expect("it is in the list");
    let length = Length::new;
    Bed {
        height: length(25.0),
        sides: length(14.0),
        foot: length(14.0),
        tuck: length(10.0),
        take_up: PerCent::NONE,
        shrinkage: PerCent::NONE,
        ..Bed::standard(Measure::Inch, standard)
    }
}

/// A top of one kind of block, 12 in square, in the corner.
fn top(width: f64, length: f64) -> Pieced {
    Pieced { size: Vec2::new(width, length), corner_block: Some(Rect::new(0.0, 0.0, 12.0, 12.0)) }
}

fn said(bed: &Bed, shape: CornerShape, top: Pieced) -> Vec<Finding> {
    say::findings(bed, shape, &on_bed(bed, top, ruler()), ruler())
}

/// Check value `beds.drop.worked`, and with a tuck of 10 in (`beds.drop.pillow_tuck_mccall`): 60 + 2 × 14 by 80 + 14 + 10.
#[test]
fn a_quilt_is_the_mattress_its_drops_and_the_tuck() {
    let size = wanted(&queen(), ruler());
    assert_eq!((size.width.value, size.length.value), (88.0, 104.0));
    assert_eq!(size.length.line(), "finished length = mattress + foot drop + tuck = 80 + 14 + 10 = 104");
    assert_eq!(size.to_piece(), Vec2::new(88.0, 104.0));
}

/// Check values `lap.takeup.block` (12 in left after 3 per cent: 12.371134) and `fabric.shrink.compose` (90 in: 92.783505), and one after the other.
#[test]
fn the_size_to_piece_is_divided_by_what_remains() {
    let three = PerCent { least: 0.0, most: 3.0 };
    let bed = Bed { take_up: three, ..queen() };
    let size = wanted(&bed, ruler());
    assert_eq!(size.pieced_width.each_ref().map(|width| (width.value * 1e6).round()), [88_000_000.0, 90_721_649.0]);
    let both = Bed { shrinkage: three, ..bed };
    let remains = wanted(&both, ruler()).remains;
    assert!((remains[0].value - 0.97 * 0.97).abs() < 1e-12 && remains[1].value == 1.0);
}

#[test]
fn drops_are_what_is_left_of_the_top() {
    let bed = Bed { take_up: PerCent { least: 0.0, most: 5.0 }, ..queen() };
    let hang = on_bed(&bed, top(88.0, 104.0), ruler());
    assert_eq!(hang.side[1].value, 14.0);
    assert!((hang.side[0].value - (88.0 * 0.95 - 60.0) / 2.0).abs() < 1e-12);
    assert!((hang.foot[0].value - (104.0 * 0.95 - 90.0)).abs() < 1e-12);
    assert!((hang.foot_miss.value - (f64::midpoint(14.0, 8.8) - 14.0)).abs() < 1e-12);
}

/// 14 in each way hang 19.8 in at a square corner, which is free at 25 in and drags at 18: check value `beds.corner_drop_exact`.
#[test]
fn a_corner_that_drags_is_told_with_the_ways_out() {
    let high = queen();
    assert_eq!(said(&high, CornerShape::Square, top(88.0, 104.0)), []);
    let low = Bed { height: Length::new(18.0), ..high };
    let found = said(&low, CornerShape::Square, top(88.0, 104.0));
    let [finding] = &found[..] else { panic!("{found:?}") };
    assert_eq!((finding.grade, &finding.spot), (Grade::Warn, &Spot::FootCorners));
    assert_eq!(finding.reason, "the cloth hangs 19 3/4 in, the mattress top is 18 in high");
    let ways = "set the corners back by half a block, hem them level, cut them straight, or notch them";
    assert_eq!(finding.help.as_deref(), Some(ways));
    assert_eq!(said(&low, CornerShape::Level, top(88.0, 104.0)), []);
}

#[test]
fn a_quilt_that_is_too_small_or_too_large_is_told() {
    let told = |width, length| {
        let found = said(&queen(), CornerShape::Level, top(width, length));
        found.into_iter().map(|finding| (finding.grade, finding.reason)).collect::<Vec<_>>()
    };
    assert_eq!(told(87.0, 103.5), []);
    let short = "after quilting and the wash the quilt may end 2 in short of the mattress at the sides";
    assert_eq!(told(56.0, 104.0), [(Grade::Warn, short.to_owned())]);
    let small = "at the foot the quilt hangs 10 in to 10 in, about 4 in less than the 14 in wanted";
    assert_eq!(told(88.0, 100.0), [(Grade::Note, small.to_owned())]);
    let large = "at the sides the cloth hangs 26 in, and the mattress is 25 in high";
    assert_eq!(told(112.0, 104.0)[0], (Grade::Warn, large.to_owned()));
}

#[test]
fn posts_ask_for_a_notch() {
    let bed = Bed { posts: true, ..queen() };
    let found = said(&bed, CornerShape::Square, top(88.0, 104.0));
    assert_eq!(found.len(), 1);
    assert!(found[0].help.as_ref().is_some_and(|help| help.contains("notch")));
    assert_eq!(said(&bed, CornerShape::Notch, top(88.0, 104.0)), []);
}

/// The caution's source: check values `beds.infant.no_loose_quilt_us` and `beds.infant.no_quilt_uk`, under twelve months.
#[test]
fn a_crib_has_its_caution_and_a_bed_has_none() {
    assert_eq!(cautions(&queen(), ruler()), []);
    for key in ["us crib", "au cot", "uk cot bed"] {
        let bed = Bed::standard(Measure::Inch, StandardBed::named(key).expect("it is in the list"));
        assert!(cautions(&bed, ruler())[0].words.contains("under twelve months"), "{key}");
    }
}

/// A block of 12 in between a frame of 1 in and a band of 3 in: its diagonal runs out to the edge 20 in from the corner, and to it alone.
#[test]
fn a_plan_hangs_its_top_over_the_bed() {
    let text = r##"
format = 1
name = "Test"
measure = "inch"
[bed]
standard = "us twin"
height = 20
take-up = [0, 0]
shrinkage = [0, 0]
[cloth.red]
colour = "#aa3333"
[block.a]
shape = "square"
size = "12"
patches = { red = [[1, 1]] }
[frame.thin]
strips = [{ width = "1", cloth = "red" }]
[setting]
layout = "straight"
columns = 4
rows = 6
pattern = [["a"]]
frame = "thin"
[[band]]
width = "3"
cloth = "red"
"##;
    let quilt = read(text).unwrap_or_else(|error| panic!("{error:?}"));
    let fit = plan(&quilt).fit.expect("it names a bed");
    let hang = fit.hang.expect("its top can be set");
    // 4 × 14 + 6 over 39 in; 6 × 14 + 6 over 75 in.
    assert_eq!((hang.side[0].value, hang.foot[1].value), (11.5, 15.0));
    let back = hang.corner(CornerShape::SetBack).and_then(|corner| corner.cut.as_ref().ok()).expect("it can be set back");
    assert_eq!(back.cut_away.value, 200.0);
    assert_eq!(fit.answers.len(), 7);
}
