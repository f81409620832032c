//! Tests of joining: what reads, what is wrong, and how it is written.

use super::super::*;
use super::reading::{problems, with};
use crate::*;

#[test]
fn joining_reads_and_is_written_again() {
    assert_eq!(read(&with("")).expect("it reads").joining, Joining::usual(Measure::Inch));
    let text = with(
        "[join]\norder = \"halves\"\ncatch-batting = false\nbatting-thickness = \"3/8\"\nhand-minutes-a-foot = 4\npin-spacing = \"2 1/2\"\n",
    );
    let quilt = read(&text).unwrap_or_else(|_| panic!("{}", problems(&text)));
    let wanted = Joining {
        order: Some(JoinOrder::Halves),
        catch_batting: Some(false),
        batting_thickness: Length::new(0.375),
        hand_minutes_a_foot: Some(4.0),
        pin_spacing: Length::new(2.5),
        ..Joining::usual(Measure::Inch)
    };
    assert_eq!(quilt.joining, wanted);
    let written = write(&quilt);
    let again = read(&written).expect("what is written reads");
    assert_eq!((again.joining, write(&again)), (wanted, written));
}

#[test]
fn slips_in_joining_are_found() {
    let text = with("[join]\nbatting-weight = 0\npin-spacing = \"0\"\nback-overlap = \"3\"\n");
    let found = problems(&text);
    for key in ["batting-weight", "pin-spacing", "back-overlap"] {
        assert!(found.contains(&format!("`{key}` is ")), "{key} in {found}");
    }
    assert!(problems(&with("[join]\norder = \"spiral\"\n")).contains("spiral"));
}

/// Slip stitches are a quarter of an inch in the fold (check values `lap.slip.*`): at eight quilting stitches an inch and six minutes a foot
/// half as many stitches take half as long.
#[test]
fn the_pace_of_slip_stitch_is_that_of_quilting_stitch_for_stitch() {
    let (joining, lap) = (Joining::usual(Measure::Inch), Lap::usual(Measure::Inch));
    assert_eq!(joining.hand_pace(&lap), 3.0);
    assert_eq!(Joining { hand_minutes_a_foot: Some(5.0), ..joining }.hand_pace(&lap), 5.0);
}
