//! A finding that says by which change of the quilt file it is mended is mended by it.

use seamfall_model::{Cure, Edit, Finding, Quilt, Scalar, Spot, apply, read};
use seamfall_plan::plan;

const BASE: &str = r##"
format = 1
name = "Cures"
measure = "inch"
[cloth.light]
colour = "#f0eadc"
[cloth.dark]
colour = "#22304f"
[block.nine]
starter = "nine-patch"
size = "9"
cloths = { light = "light", dark = "dark" }
[setting]
layout = "straight"
columns = 3
rows = 3
pattern = [["nine"]]
"##;

fn quilt(text: &str) -> Quilt {
    read(text).unwrap_or_else(|error| panic!("{error:?}\n{text}"))
}

fn edit(cure: &Cure) -> Edit {
    match cure {
        Cure::Set(path, value) => Edit::Set { path: path.clone(), value: Scalar::Text(value.clone()) },
        Cure::Remove(path) => Edit::Remove { path: path.clone() },
        Cure::Decide(_) => panic!("it is for the maker to decide"),
    }
}

/// Every change that is proposed for the quilt is made, one at a time; each takes its own finding away.
fn mended(text: &str, spot: &Spot) -> Vec<Finding> {
    let findings = plan(&quilt(text)).findings;
    let cured: Vec<Finding> = findings.into_iter().filter(|finding| finding.cure.is_some() && finding.spot == *spot).collect();
    assert!(!cured.is_empty(), "nothing to mend at {spot}: {:?}", plan(&quilt(text)).findings);
    for finding in &cured {
        let after = apply(text, &edit(finding.cure.as_deref().expect("it has one")))
            .unwrap_or_else(|error| panic!("{finding:?}: {error}"));
        let left = plan(&quilt(&after)).findings;
        assert!(!left.iter().any(|other| other.reason == finding.reason && other.spot == finding.spot), "{finding:?}\n{after}");
    }
    cured
}

#[test]
fn what_is_proposed_mends_it() {
    let changed = |from: &str, to: &str| BASE.replace(from, to);
    let with = |more: &str| format!("{BASE}{more}");
    let cases = [
        (with("[cloth.spare]\ncolour = \"#808080\"\n"), Spot::Cloth("spare".to_owned())),
        (
            changed(
                "layout = \"straight\"\ncolumns = 3\nrows = 3\npattern = [[\"nine\"]]",
                "layout = \"rows\"\npattern = [[\"nine\", \"nine\"], [\"nine\"]]",
            ),
            Spot::Row(2),
        ),
        (
            changed(
                "layout = \"straight\"\ncolumns = 3\nrows = 3\npattern = [[\"nine\"]]",
                "layout = \"rows\"\npattern = [[\"nine\", \"nine\"], [\"nine\", \"nine\"]]",
            ) + "[sashing]\nwidth = \"2\"\ncloth = \"dark\"\ncornerstones = \"light\"\n",
            Spot::Sashing,
        ),
        (with("[bed]\nstandard = \"us twin\"\nposts = true\n[[band]]\nwidth = \"30\"\ncloth = \"dark\"\n"), Spot::FootCorners),
        (with("[binding]\ncloth = \"dark\"\n[finish]\nedge = \"scallops\"\n"), Spot::Edge),
        (with("[[way]]\nof = \"nine.p9\"\nuse = \"four\"\n"), Spot::Patch { block: "nine".to_owned(), patch: 9 }),
        (with("[[quilting]]\non = \"sashing\"\ndesign = \"in-the-ditch\"\n"), Spot::Sashing),
    ];
    for (text, spot) in &cases {
        mended(text, spot);
    }
}
