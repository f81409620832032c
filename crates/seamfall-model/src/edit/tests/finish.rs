//! Tests of edits of the edge.

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
