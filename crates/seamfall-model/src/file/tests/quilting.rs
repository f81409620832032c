//! Tests of quilting: what reads, what is wrong, and how it is said.

use super::super::*;
use super::reading::{problems, with};
use crate::*;

/// `text` behind a small quilt that reads.
fn quilted(text: &str) -> String {
    with("[frame.narrow]\nstrips = [ { width = \"2\", cloth = \"linen\" } ]")
        + "\n[[band]]\nwidth = \"4\"\ncloth = \"linen\"\n"
        + text
}

#[test]
fn designs_read_with_what_is_usual() {
    let text = quilted(
        r#"
[lap]
margin = "1/2"
[[quilting]]
on = "plain"
design = "echo"
[[quilting]]
on = "narrow"
design = "cable"
size = "3 x 1 1/2"
[[quilting]]
on = "band 1"
design = "path"
path = "M0,0 L4,0 L4,2 Z"
size = 3
[[quilting]]
on = "quilt"
design = "crossed"
spacing = "2"
"#,
    );
    let quilt = read(&text).unwrap_or_else(|_| panic!("{}", problems(&text)));
    assert_eq!(quilt.lap, Lap { margin: Length::new(0.5), ..Lap::usual(Measure::Inch) });
    let length = Length::new;
    assert_eq!(
        quilt.quilting,
        [
            Quilting { on: QuiltedOn::Block(BlockId(0)), design: QuiltingDesign::Echo { distance: length(0.5), count: 2 } },
            Quilting {
                on: QuiltedOn::Frame(FrameId(0)),
                design: QuiltingDesign::Motif { motif: Motif::Cable, size: Some([length(3.0), length(1.5)]), repeats: None },
            },
            Quilting {
                on: QuiltedOn::Band(0),
                design: QuiltingDesign::Path { data: "M0,0 L4,0 L4,2 Z".to_owned(), size: [length(3.0); 2], repeats: None },
            },
            Quilting { on: QuiltedOn::Quilt, design: QuiltingDesign::Crossed { angle_deg: 45.0, spacing: length(2.0) } },
        ]
    );
}

#[test]
fn slips_in_quilting_are_found() {
    let text = quilted(
        r#"
[lap]
margin = "1/4"
stitches-an-inch = 0
needleful = "8"
tail = "4"
[[quilting]]
on = "plan"
design = "parallel"
[[quilting]]
on = "band 2"
design = "parallel"
spacing = "0"
angle = nan
[[quilting]]
on = "plain"
design = "cable"
angle = 30
repeats = 0
[[quilting]]
on = "quilt"
design = "path"
[[quilting]]
on = "quilt"
design = "path"
size = "4"
path = "<svg><path d='M0 0'/></svg>"
[[quilting]]
on = "quilt"
design = "path"
size = "4 x wide"
path = "M 0 0 L 1"
[[quilting]]
on = "quilt"
design = "path"
size = "4"
path = "M 0 0 L 1e300 1"
[[quilting]]
on = "quilt"
design = "path"
size = "4"
path = "M 1 1 L 1 1"
"#,
    );
    insta::assert_snapshot!(problems(&text), @r##"
    26:10 `margin` is 1/4 in, less than the least that can be sewn, 1/2 in | make it 1/2 in or more
    27:20 `stitches-an-inch` is 0, but must lie between 1 and 30 | write a number like `stitches-an-inch = 15.5`
    29:8 the two tails leave nothing of the needleful to quilt with | make `needleful` more than twice `tail`
    31:6 there is nothing called `plan` to quilt on | did you mean `plain`?
    32:10 this design needs a `spacing` | add `spacing = "1"`
    34:6 there is nothing called `band 2` to quilt on | did you mean `band 1`?
    36:11 `spacing` is 0 in, less than the least that can be sewn, 1/8 in | make it 1/8 in or more
    37:9 `angle` is NaN, but must lie between -360 and 360 | write it in degrees from level, to the left: `angle = 45`
    41:9 this design has no `angle` | it has: `size`, `repeats`
    42:11 `repeats` is 0, but must lie between 1 and 200 | write a whole number: `repeats = 2`
    45:10 the design `path` needs a `path` | add `path = "M 0 0 C 1 2 3 2 4 0"`
    45:10 the design `path` needs a `size` | add `size = "4 x 3"`
    50:8 `path` holds a whole drawing | write only what stands between the quotes of `d`, without transforms
    54:8 `size`: `wide` is not a length | write it like `2 1/2`, `2.5`, `2½`, `6,5 cm` or `3/8 yd`
    55:8 `path` is not the path data of an SVG drawing | it begins with M and a point, then L, H, V, C, S, Q, T, A or Z with their numbers
    60:8 `path` has a number that no drawing has | let all numbers be of the size of a page
    65:8 `path` draws nothing | add a line: `M 0 0 L 4 3`
    "##);
    insta::assert_snapshot!(problems(&quilted("[[quilting]]\non = \"plain\"\ndesign = \"cabel\"\nspaceing = \"1\"\n")), @r##"
    26:10 `design` cannot be `cabel` | did you mean `cable`?
    27:1 `spaceing` is not a key of a quilting design | did you mean `spacing`?
    "##);
}

#[test]
fn a_path_of_a_megabyte_is_refused() {
    let path = "L 1 2 3 4 ".repeat(100_000);
    let text = quilted(&format!("[[quilting]]\non = \"quilt\"\ndesign = \"path\"\nsize = \"4\"\npath = \"M 0 0 {path}\"\n"));
    assert!(problems(&text).contains("more than the 65536 that can be quilted"), "{}", problems(&text));
    let path = "L 1 2 3 4 ".repeat(3_000);
    let text = quilted(&format!("[[quilting]]\non = \"quilt\"\ndesign = \"path\"\nsize = \"4\"\npath = \"M 0 0 {path}\"\n"));
    assert!(problems(&text).contains("more than 5000 lines"), "{}", problems(&text));
}

#[test]
fn a_key_that_is_block_and_frame_must_say_which() {
    let text = with("[frame.plain]\nstrips = [ { width = \"2\", cloth = \"linen\" } ]");
    let on = |on: &str| format!("{text}\n[[quilting]]\non = \"{on}\"\ndesign = \"mitres\"\n");
    assert!(problems(&on("plain")).contains("write `block plain` or `frame plain`"));
    let quilt = read(&on("frame plain")).expect("it is said");
    assert_eq!(quilt.quilting[0].on, QuiltedOn::Frame(FrameId(0)));
    assert_eq!(read(&write(&quilt)), Ok(quilt));
}
