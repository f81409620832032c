//! Tests of edits of the edge and of the bed.

use super::*;

fn edge(edge: &str, cloth: Option<&str>) -> Edit {
    Edit::Edge { edge: edge.to_owned(), cloth: cloth.map(str::to_owned) }
}

/// Every edge can follow every other, and what the one before had is no hindrance.
#[test]
fn one_edge_gives_way_to_another() {
    let edges = ["prairie-points", "scallops", "waves", "ruffle", "facing", "piping", "straight"];
    let mut text = SAMPLE.to_owned();
    for from in edges {
        for to in edges {
            text = apply(&text, &edge(from, None)).unwrap_or_else(|error| panic!("{to} to {from}: {error}"));
            text = apply(&text, &edge(to, None)).unwrap_or_else(|error| panic!("{from} to {to}: {error}"));
            assert_eq!(crate::read(&text).expect("it was read").finish.edge.word(), to);
        }
    }
    assert_eq!(text, SAMPLE, "a straight edge needs no line");
}

#[test]
fn an_edge_keeps_its_cloth_and_leaves_its_sizes() {
    let ruffle = apply(SAMPLE, &edge("ruffle", Some("rust"))).expect("it can be had");
    let deep = apply(&ruffle, &set(&["finish", "depth"], "5")).expect("it can be had");
    insta::assert_snapshot!(differences(&deep, &apply(&deep, &edge("piping", None)).expect("it can be had")), @r#"
    - edge = "ruffle"
    + edge = "piping"
    - depth = "5"
    "#);
}

#[test]
fn a_sleeve_a_label_and_a_cover_need_a_cloth_alone() {
    for path in [["sleeve", "cloth"], ["label", "cloth"], ["cover", "lining"]] {
        let there = apply(SAMPLE, &set(&path, "linen")).expect("it can be had");
        assert_eq!(apply(&there, &remove(&path[..1])).expect("it can be taken away").trim_end(), SAMPLE.trim_end());
    }
}

/// A bed by its name takes back what was measured of another, and a share between bounds is set as two numbers.
#[test]
fn a_standard_bed_takes_the_place_of_a_measured_one() {
    let queen = apply(SAMPLE, &Edit::Bed { standard: "us queen".to_owned() }).expect("there is such a bed");
    let measured = apply(&queen, &set(&["bed", "width"], "59")).expect("it can be had");
    let share = Edit::Set { path: ["bed", "take-up"].map(str::to_owned).into(), value: Scalar::Numbers(vec![1.5, 3.0]) };
    let measured = apply(&measured, &share).expect("it can be had");
    assert_eq!(crate::read(&measured).expect("it was read").bed.expect("it has a bed").width.value(), 59.0);
    let twin = apply(&measured, &Edit::Bed { standard: "us twin".to_owned() }).expect("there is such a bed");
    insta::assert_snapshot!(differences(&measured, &twin), @r#"
    - standard = "us queen"
    - width = "59"
    + standard = "us twin"
    "#);
    assert!(apply(&queen, &Edit::Bed { standard: "us quen".to_owned() }).is_err());
}
