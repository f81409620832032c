//! Tests of the bed and its corners: what reads, what is wrong, and how it is said.

use super::super::*;
use super::reading::{problems, with};
use crate::*;

/// A small quilt for a bed, in inches or in centimetres.
fn on(bed: &str, measure: &str) -> String {
    with("").replace("measure = \"inch\"", &format!("measure = \"{measure}\"")) + "\n" + bed
}

fn bed(text: &str, measure: &str) -> Bed {
    let text = on(text, measure);
    read(&text).unwrap_or_else(|_| panic!("{}", problems(&text))).bed.expect("it names a bed")
}

#[test]
fn a_bed_reads_with_what_is_usual() {
    assert_eq!(read(&with("")).expect("it reads").bed, None);
    let queen = bed("[bed]\nstandard = \"us queen\"\n", "inch");
    assert_eq!((queen.width, queen.length), (Length::new(60.0), Length::new(80.0)));
    assert_eq!((queen.height, queen.sides, queen.foot), (Length::new(24.0), Length::new(12.0), Length::new(12.0)));
    assert_eq!((queen.tuck, queen.posts, queen.take_up), (Length::ZERO, false, PerCent { least: 2.0, most: 5.0 }));
    let low = bed("[bed]\nwidth = 60\nlength = 80\nheight = 10\n", "inch");
    assert_eq!((low.standard, low.sides), (None, Length::new(10.0)), "what is usual does not reach below the floor");
}

/// A mattress that is measured is as it is measured: check value `beds.us_actual.queen` is half an inch shorter than its name.
#[test]
fn what_is_measured_wins_over_the_name() {
    let queen = bed("[bed]\nstandard = \"us queen\"\nlength = \"79 1/2\"\n", "inch");
    assert_eq!((queen.width, queen.length), (Length::new(60.0), Length::new(79.5)));
}

/// Check value `beds.uk.king`: 150 by 200 cm in one shop, 60 by 78 in in the other, neither of them converted. `beds.eu.single` is sold in
/// centimetres alone.
#[test]
fn a_name_may_have_a_size_in_either_unit() {
    let sides = |bed: Bed| [bed.width.value(), bed.length.value()];
    let king = "[bed]\nstandard = \"uk king\"\n";
    assert_eq!((sides(bed(king, "inch")), sides(bed(king, "cm"))), ([60.0, 78.0], [150.0, 200.0]));
    let single = bed("[bed]\nstandard = \"eu single\"\n", "inch");
    assert!((single.width.value() - 90.0 / 2.54).abs() < 1e-12);
}

#[test]
fn slips_in_the_bed_are_found_with_the_nearest_that_can_be() {
    for (text, measure, told) in [
        ("[bed]\nstandard = \"us quen\"\n", "inch", "there is no standard bed `us quen` | did you mean `us queen`?"),
        ("[bed]\nheight = 20\n", "inch", "the bed has no size | add `standard = \"us queen\"`"),
        (
            "[bed]\nwidth = \"3 cm\"\nlength = 200\n",
            "cm",
            "`width` is 3 cm, less than a mattress that can be planned | make it 30.48",
        ),
        (
            "[bed]\nwidth = 60\nlength = 800\n",
            "inch",
            "`length` is 800 in, more than a mattress that can be planned | make it 120 in or less",
        ),
        (
            "[bed]\nstandard = \"us queen\"\nheight = 18\nsides = 20\n",
            "inch",
            "`sides` is 20 in, a drop below the floor: the mattress is 18 in high | make it 18 in or less",
        ),
        (
            "[bed]\nstandard = \"us queen\"\ntake-up = [4, 2]\n",
            "inch",
            "`take-up` is not two shares in per cent, the least first, from 0 to 25 | write it like `take-up = [2, 5]`",
        ),
        ("[bed]\nstandard = \"us queen\"\nhight = 20\n", "inch", "`hight` is not a key of the bed | did you mean `height`?"),
        ("[corners]\nshape = \"levle\"\n", "inch", "`shape` cannot be `levle` | did you mean `level`?"),
        (
            "[corners]\nshape = \"notch\"\n",
            "inch",
            "a corner that is `notch` is drawn from where the mattress ends, and there is no bed | add a `[bed]`",
        ),
    ] {
        let found = problems(&on(text, measure));
        assert!(found.contains(told), "{told}\n{found}");
    }
}

#[test]
fn corners_read() {
    assert_eq!(read(&on("[corners]\nshape = \"set-back\"\n", "inch")).expect("it reads").corners, CornerShape::SetBack);
    let text = on("[corners]\nshape = \"level\"\n[bed]\nstandard = \"eu king\"\n", "cm");
    assert_eq!(read(&text).expect("it reads").corners, CornerShape::Level);
}

/// Names are told apart, and every bed has a size that can be planned.
#[test]
fn every_standard_bed_can_be_covered() {
    for (at, standard) in BEDS.iter().enumerate() {
        assert_eq!(StandardBed::named(standard.key), Some(&BEDS[at]), "two beds are called {}", standard.key);
        for measure in ["inch", "cm"] {
            let read = bed(&format!("[bed]\nstandard = \"{}\"\n", standard.key), measure);
            assert!(read.width <= read.length, "{}", standard.key);
        }
    }
}
