//! Tests of the finish: what reads, what is wrong, and how it is said.

use super::super::*;
use super::reading::{problems, with};
use crate::*;

/// `text` behind a small quilt that reads.
fn finished(text: &str) -> String {
    with("") + "\n" + text
}

#[test]
fn an_edge_reads_with_what_is_usual() {
    let read = |text: &str| read(&finished(text)).unwrap_or_else(|_| panic!("{}", problems(&finished(text)))).finish;
    let (cloth, length) = (ClothId(1), Length::new);
    assert_eq!(read(""), Finishing::default());
    assert_eq!(
        read("[finish]\nedge = \"prairie-points\"\ncloth = \"linen\"\n").edge,
        EdgeFinish::PrairiePoints { cloth, square: length(4.0), spacing: None, fold: PointFold::Nested }
    );
    assert_eq!(
        read("[finish]\nedge = \"waves\"\ndepth = \"1 1/2\"\n").edge,
        EdgeFinish::Waves(Arcs { width: length(8.0), depth: length(1.5), corner: None })
    );
    let last = read("[sleeve]\ncloth = \"linen\"\n[label]\ncloth = \"linen\"\n[cover]\nlining = \"linen\"\n");
    assert_eq!(last.sleeve, Some(Sleeve { cloth, depth: length(4.0) }));
    assert_eq!(last.label, Some(Label { cloth, size: [length(6.0), length(4.0)] }));
    assert_eq!(last.cover, Some(Cover::usual(Measure::Inch, cloth)));
}

#[test]
fn slips_in_the_finish_are_found() {
    let text = finished(
        r#"
[finish]
edge = "ruffle"
fullness = 0.5
spacing = "2"
[sleeve]
cloth = "lnen"
[label]
cloth = "linen"
size = "6"
[cover]
lining = "linen"
grams = 5
channel = "0"
"#,
    );
    let told = problems(&text);
    for reason in [
        "this edge needs a `cloth`",
        "`fullness` is 0.5, but must lie between 1 and 10",
        "this edge has no `spacing` | it has: `cloth`, `depth`, `fullness`",
        "there is no cloth `lnen` | did you mean `linen`?",
        "`size` is `6`, but has a width and a length",
        "`grams` is 5, but must lie between 10 and 2000",
        "`channel` is 0 in, less than the least that can be sewn, 1 in",
    ] {
        assert!(told.contains(reason), "{reason}\n{told}");
    }
    let told = problems(&finished("[finish]\nedge = \"scalops\"\n[cover]\nlining = \"linen\"\nlager = \"1\"\n"));
    assert!(told.contains("`edge` cannot be `scalops` | did you mean `scallops`?"), "{told}");
    assert!(told.contains("`lager` is not a key of the cover | did you mean `larger`?"), "{told}");
}
