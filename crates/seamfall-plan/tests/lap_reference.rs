//! Thread, margin and needlefuls against `reference/lap.toml`, whose values stand there with their sources.
//!
//! Used here: what bears on quilting in the lap. Left out: backing and batting (they are cut), lockstitch, chain stitch, gathers and slip
//! stitches (another stitch than quilting), and `lap.joins.count` (joining). Values of practice are held as ranges.

mod values;

use seamfall_model::{Lap, Length, Measure, Quilt, read};
use seamfall_plan::plan;
use values::{Check, number, value_of};

fn value(id: &str) -> Check {
    value_of(include_str!("reference/lap.toml"), id)
}

/// One block of 38 in with a line of 36 in along its middle, so that a yard is quilted.
fn yard() -> Quilt {
    let text = r##"format = 1
name = "Yard"
measure = "inch"
largest-section = "40"
[cloth.night]
colour = "#22304f"
[block.plain]
shape = "square"
size = "38"
cloths = { one = "night" }
patches = { one = [[1, 1]] }
[setting]
layout = "straight"
columns = 1
rows = 1
pattern = [["plain"]]
[[quilting]]
on = "plain"
design = "path"
size = "36"
path = "M 0 0 H 36"
"##;
    read(text).expect("a quilt")
}

#[test]
fn thread_of_a_running_stitch_is_that_of_the_source() {
    let check = value("lap.use.running_exact");
    let mut quilt = yard();
    quilt.lap.stitches_an_inch = number(&check.inputs, "stitches_per_in");
    quilt.lap.thickness = Length::new(number(&check.inputs, "thickness_in"));
    let wanted = number(&check.expected, "thread_in");
    let lap = plan(&quilt).lap;
    // Six places are printed.
    assert!((lap.thread_rate.value - wanted).abs() < 5e-7, "{}", lap.thread_rate.value);
    let pattern = &lap.patterns[0];
    assert!((pattern.stitched - 36.0).abs() < 1e-6);
    let tails = 2.0 * quilt.lap.tail.value() * pattern.needlefuls.len() as f64;
    assert!((pattern.thread - tails - 36.0 * wanted).abs() < 1e-4, "{}", pattern.thread);
}

/// The source counts thread alone: a stitch without thickness, no tails. A yard at its needleful, and its yards at a needleful each.
#[test]
fn needlefuls_are_those_of_the_source() {
    let check = value("lap.use.needlefuls");
    let mut quilt = yard();
    quilt.lap.needleful = Length::new(number(&check.inputs, "needleful_in"));
    quilt.lap.tail = Length::ZERO;
    quilt.lap.thickness = Length::ZERO;
    let a_yard = plan(&quilt).lap.totals.needlefuls as f64;
    assert_eq!(a_yard * number(&check.inputs, "thread_yd"), number(&check.expected, "needlefuls"));
}

/// 6 in of every 36 lost in knots and tails is what the source reckons.
#[test]
fn what_is_usual_is_what_the_sources_say() {
    for measure in [Measure::Inch, Measure::Centimetre] {
        let lap = Lap::usual(measure);
        let inches = |length: Length| length.value() / measure.inch();
        let margin = value("lap.margin.range");
        let (least, most) = (number(&margin.expected, "min_in"), number(&margin.expected, "max_in"));
        assert!((least..=most).contains(&inches(lap.margin)));
        let needleful = number(&value("lap.thread.quilting_18").expected, "in");
        assert!((inches(lap.needleful) - needleful).abs() < 0.3);
        let spool = value("lap.use.spool_shackelford");
        let lost = 36.0 - number(&spool.inputs, "useful_in_per_yd");
        assert!((2.0 * inches(lap.tail) - lost).abs() < 0.1);
        assert_eq!(lap.stitches_an_inch, number(&value("lap.use.running_exact").inputs, "stitches_per_in"));
    }
}
