//! Tests of cloths changed wherever they are used.

use super::*;
use crate::{ClothId, Quilt};

fn pairs(all: &[(&str, &str)]) -> Edit {
    Edit::Recolour { cloths: all.iter().map(|(from, to)| ((*from).to_owned(), (*to).to_owned())).collect() }
}

#[test]
fn a_cloth_is_exchanged_with_another_wherever_it_is_used() {
    insta::assert_snapshot!(changed(SAMPLE, &pairs(&[("night", "rust"), ("rust", "night")])), @r#"
- cloths = { glow = "linen" }
+ cloths = { glow = "linen", night = "rust" }
- strips = [{ width = "1", cloth = "rust" }]
+ strips = [{ width = "1", cloth = "night" }]
- swap = { night = "rust" }
+ swap = { rust = "night" }
- cloth = "night"
+ cloth = "rust"
"#);
}

#[test]
fn two_cloths_that_a_place_tells_apart_are_not_made_one() {
    let place =
        SAMPLE.replace("swap = { night = \"rust\" }", "swap = { night = \"rust\", linen = \"night\" }\nblock = \"lantern\"");
    let error = apply(&place, &pairs(&[("night", "linen")])).expect_err("it cannot be told");
    assert_eq!(error.to_string(), "B2 has `rust` and `linen` where its block would have `linen` alone");
}

#[test]
fn what_cannot_be_meant_is_said() {
    for (edit, said) in [
        (pairs(&[("nigt", "rust")]), "there is no cloth `nigt`; did you mean `night`?"),
        (pairs(&[("night", "rust"), ("night", "linen")]), "two cloths are to take the place of `night`"),
    ] {
        assert_eq!(apply(SAMPLE, &edit).expect_err("it is refused").to_string(), said);
    }
}

/// The quilt as it is read, the numbers of two cloths exchanged wherever they stand.
fn exchanged(quilt: &Quilt, one: ClothId, other: ClothId) -> String {
    let described = format!("{:?}", Quilt { cloths: Vec::new(), ..quilt.clone() });
    let (one, other) = (format!("{one:?}"), format!("{other:?}"));
    described.replace(&one, "the one").replace(&other, &one).replace("the one", &other)
}

/// Whatever names a cloth names the other one afterwards, in every demo quilt, and nothing else is changed.
#[test]
fn every_use_of_a_cloth_follows() {
    let demos = ["lamplight", "tide-pool", "hill-farm", "market-rows"];
    for name in demos {
        let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("../../quilts/{name}.quilt.toml"));
        let text = std::fs::read_to_string(path).expect("a demo quilt");
        let more = format!("{text}\n[sleeve]\ncloth = \"KEY\"\n[label]\ncloth = \"KEY\"\n[cover]\nlining = \"KEY\"\n");
        let quilt = read(&text).expect("it reads");
        let key = |cloth: usize| quilt.cloths[cloth].key.clone();
        let more = more.replace("KEY", &key(0));
        let text = if read(&more).is_ok() { more } else { text };
        let quilt = read(&text).expect("it reads");
        for other in 1..quilt.cloths.len() {
            let edit = Edit::Recolour { cloths: vec![(key(0), key(other)), (key(other), key(0))] };
            let after = apply(&text, &edit).unwrap_or_else(|error| panic!("{name}: {error}"));
            let after = read(&after).expect("it reads");
            assert_eq!(after.cloths, quilt.cloths);
            let described = format!("{:?}", Quilt { cloths: Vec::new(), ..after });
            assert_eq!(described, exchanged(&quilt, ClothId(0), ClothId(other)), "{name}, {other}");
        }
    }
}
