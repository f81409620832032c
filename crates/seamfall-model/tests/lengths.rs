//! Lengths as they are typed and shown, checked from outside.

use proptest::prelude::*;
use seamfall_model::{Length, LengthError, Measure, Step, parse_length};

fn inches(typed: &str) -> f64 {
    parse_length(typed, Measure::Inch).unwrap_or_else(|error| panic!("{error}")).value()
}

fn centimetres(typed: &str) -> f64 {
    parse_length(typed, Measure::Centimetre).unwrap_or_else(|error| panic!("{error}")).value()
}

/// Every way of typing that the page of the format names; values by arithmetic.
#[test]
fn people_type_lengths_in_many_ways() {
    for (typed, value) in [
        ("2 1/2", 2.5),
        ("2-1/2", 2.5),
        ("2.5", 2.5),
        ("2½", 2.5),
        ("2 ½", 2.5),
        ("½", 0.5),
        ("⅞", 0.875),
        ("1/2", 0.5),
        ("1\u{2044}2", 0.5),
        ("5/4", 1.25),
        ("  12 ", 12.0),
        ("12\u{a0}1/2", 12.5),
        (".5", 0.5),
        ("0", 0.0),
        ("12\"", 12.0),
        ("12 1/2 in", 12.5),
        ("12 inches", 12.0),
        ("2 ft", 24.0),
        ("1 yd", 36.0),
        ("3/8 yd", 13.5),
        ("1 1/2 Yards", 54.0),
        ("2.54 cm", 1.0),
        ("2,54 cm", 1.0),
        ("25.4 mm", 1.0),
        ("0,9144 m", 36.0),
    ] {
        assert!((inches(typed) - value).abs() < 1e-12, "{typed}: {}", inches(typed));
    }
    for (typed, value) in [
        ("6.5", 6.5),
        ("6,5 cm", 6.5),
        ("6.5cm", 6.5),
        ("65 mm", 6.5),
        ("0.5 m", 50.0),
        ("1 in", 2.54),
        ("1 yd", 91.44),
        ("7½", 7.5),
    ] {
        assert!((centimetres(typed) - value).abs() < 1e-12, "{typed}: {}", centimetres(typed));
    }
}

/// Source: international yard and pound agreement, 1959, by `yard1959` of the reference tables (rows `fabric.unit.inch` and
/// `fabric.unit.yard`); eighths of a yard by the handbook rows `fabric.yard.*` (sources `qbyards`, `scissor`, `catbird`).
#[test]
fn units_are_those_of_the_published_tables() {
    for (row, typed, expected_in) in [
        ("fabric.unit.inch", "25.4 mm", 1.0),
        ("fabric.unit.yard", "0.9144 m", 36.0),
        ("fabric.yard.1_8", "1/8 yd", 4.5),
        ("fabric.yard.1_4", "1/4 yd", 9.0),
        ("fabric.yard.3_8", "3/8 yd", 13.5),
        ("fabric.yard.1_2", "1/2 yd", 18.0),
        ("fabric.yard.3_4", "3/4 yd", 27.0),
        ("fabric.yard.7_8", "7/8 yd", 31.5),
    ] {
        assert!((inches(typed) - expected_in).abs() < 1e-12, "{row}: {}", inches(typed));
        assert!((centimetres(typed) - expected_in * 2.54).abs() < 1e-12, "{row}: {}", centimetres(typed));
    }
}

/// A comma without a unit is a decimal comma to some and a list to others, whatever the document's measure.
#[test]
fn what_can_be_read_in_two_ways_is_refused() {
    for measure in [Measure::Inch, Measure::Centimetre] {
        for typed in ["6,5", "0,75", "12,", "1,000 cm", "2,500 in"] {
            let error = parse_length(typed, measure).expect_err(typed);
            assert_eq!(error, LengthError::Ambiguous { typed: typed.to_owned() });
        }
    }
    assert_eq!(centimetres("0,125 m"), 12.5);
}

#[test]
fn what_is_no_length_is_refused_by_name() {
    for typed in [
        "",
        " ",
        "-",
        "two",
        "1/",
        "/2",
        "1/2/3",
        "2 5/4",
        "1.5 1/2",
        "1 2",
        "1 1 1/2",
        "2 - 1/2",
        "12 parsecs",
        "cm",
        "1,2,3",
        "½½",
        "0x10",
    ] {
        let error = parse_length(typed, Measure::Inch).expect_err(typed);
        assert_eq!(error, LengthError::NotALength { typed: typed.trim().to_owned() }, "{typed}");
    }
    for typed in [
        "nan", "NaN", "inf", "-inf", "infinity", "-1", "-1/2", "- 2 in", "1e300", "1e9", "1/0", "2 1/0", "0/0", "36001",
        "1001 yd",
    ] {
        let error = parse_length(typed, Measure::Inch).expect_err(typed);
        assert_eq!(error, LengthError::OutOfReach { typed: typed.to_owned() }, "{typed}");
    }
    assert_eq!(inches("1000 yd"), 36_000.0);
    let long = parse_length(&"9".repeat(10_000), Measure::Inch).expect_err("it is no length").to_string();
    assert!(long.len() < 300, "{long}");
}

#[test]
fn messages_say_how_to_write_it() {
    insta::assert_snapshot!(parse_length("6,5", Measure::Inch).expect_err("two ways"), @"`6,5` can be read in two ways; write it with a point, like `6.5`, or with its unit, like `6,5 cm`");
    insta::assert_snapshot!(parse_length("two", Measure::Inch).expect_err("a word"), @"`two` is not a length; write it like `2 1/2`, `2.5`, `2½`, `6,5 cm` or `3/8 yd`");
    insta::assert_snapshot!(parse_length("-1", Measure::Inch).expect_err("negative"), @"`-1` is no length that can be sewn; it must lie between 0 and 1,000 yd");
}

#[test]
fn lengths_are_shown_as_a_quilter_writes_them() {
    for (value, step, shown) in [
        (12.5, Step::Eighth, "12 1/2"),
        (0.875, Step::Eighth, "7/8"),
        (0.0, Step::Eighth, "0"),
        (-0.0, Step::Eighth, "0"),
        (3.0, Step::Eighth, "3"),
        (2.25, Step::Eighth, "2 1/4"),
        (-0.5, Step::Eighth, "-1/2"),
        (5.0625, Step::Sixteenth, "5 1/16"),
        (5.8536, Step::Eighth, "~5 7/8"),
        (16.970_562_7, Step::Eighth, "~17"),
        (0.01, Step::Eighth, "~0"),
        (31.8, Step::Millimetre, "31.8"),
        (30.0, Step::Millimetre, "30"),
        (0.1 + 0.2, Step::Millimetre, "0.3"),
        (31.84, Step::Millimetre, "~31.8"),
    ] {
        assert_eq!(Length::new(value).shown(step), shown, "{value}");
    }
    assert_eq!(Length::new(12.5).shown_with_unit(Step::Eighth), "12 1/2 in");
    assert_eq!(Length::new(7.5).shown_with_unit(Step::Millimetre), "7.5 cm");
}

/// What is within a ten-thousandth of a step is on it, and is neither marked nor rounded up.
#[test]
fn rounding_up_forgives_what_floats_leave_behind() {
    for step in [Step::Eighth, Step::Sixteenth, Step::Millimetre] {
        let on = step.size() * 7.0;
        assert_eq!(step.up(Length::new(on + step.size() * 0.9e-4)), step.nearest(Length::new(on)));
        assert!(step.up(Length::new(on + step.size() * 1.1e-4)).value() > on);
    }
    assert_eq!(Step::Eighth.up(Length::new(5.8536)), Length::new(5.875));
    assert_eq!(Step::Millimetre.up(Length::new(14.81)), Length::new(14.9));
}

proptest! {
    #[test]
    fn any_text_gets_an_answer(typed in ".{0,40}") {
        let _ = parse_length(&typed, Measure::Inch);
        let _ = parse_length(&typed, Measure::Centimetre);
    }

    #[test]
    fn what_looks_like_a_length_gets_an_answer(typed in "[-0-9 ./,½⅞xe\"a-z\u{2044}]{0,12}") {
        if let Ok(length) = parse_length(&typed, Measure::Inch) {
            prop_assert!((0.0..=36_000.0).contains(&length.value()), "{}", typed);
        }
    }

    #[test]
    fn shown_lengths_read_back(steps in 0..20_000u32) {
        for (step, measure) in
            [(Step::Eighth, Measure::Inch), (Step::Sixteenth, Measure::Inch), (Step::Millimetre, Measure::Centimetre)]
        {
            let length = step.nearest(Length::new(f64::from(steps) * step.size()));
            let shown = length.shown(step);
            prop_assert_eq!(parse_length(&shown, measure), Ok(length), "{}", shown);
            let shown = length.shown_with_unit(step);
            prop_assert_eq!(parse_length(&shown, measure), Ok(length), "{}", shown);
        }
    }

    #[test]
    fn shown_lengths_are_near(value in 0.0..500.0f64) {
        for step in [Step::Eighth, Step::Sixteenth, Step::Millimetre] {
            let shown = Length::new(value).shown(step);
            let measure = if step == Step::Millimetre { Measure::Centimetre } else { Measure::Inch };
            let back = parse_length(shown.trim_start_matches('~'), measure).expect("it was shown");
            prop_assert!((back.value() - value).abs() <= step.size() * 0.5001, "{}", shown);
            let up = step.up(Length::new(value)).value();
            prop_assert!(up - value < step.size() && value - up <= step.size() * 1.0001e-4);
        }
    }
}
