//! Tests of reading pressings, falls and ways of making.

use super::super::read;
use super::reading::{page, problems, with};
use crate::*;

/// A small quilt with two blocks and places A1 to B2, and `pressings` where there are some.
fn sewn(head: &str, rest: &str) -> String {
    let text = with("[block.star]\nshape = \"square\"\nsize = \"12\"\n[block.start-over]\nshape = \"square\"\nsize = \"12\"\n");
    text.replace("measure = \"inch\"", &format!("measure = \"inch\"\n{head}")) + rest
}

fn fall(between: &str, to: &str) -> String {
    format!("[[fall]]\nbetween = [{between}]\nto = \"{to}\"\n")
}

fn way(of: &str, way: &str) -> String {
    format!("[[way]]\nof = \"{of}\"\nuse = \"{way}\"\n")
}

fn good(text: &str) -> Quilt {
    read(text).unwrap_or_else(|error| panic!("{error}\n{text}"))
}

/// The reasons and helps for one fall, its place left out.
fn refused(rest: &str) -> String {
    let said = problems(&sewn("", rest));
    said.lines().map(|line| line.split_once(' ').map_or(line, |(_, reason)| reason)).collect::<Vec<_>>().join("\n")
}

#[test]
fn the_page_says_how_a_quilt_is_sewn() {
    let quilt = good(&page());
    assert_eq!(quilt.pressings, Some(Pressings::Shared(2)));
    let between = ["churn.p1", "churn.p2"].map(str::to_owned);
    assert_eq!(quilt.falls, [FixedFall { between, to: FallTo::Second }]);
    assert_eq!(quilt.ways, [ChosenWay { block: BlockId(1), patch: 1, way: MakingWay::TwoAtATime }]);
}

#[test]
fn what_is_not_said_is_left_to_the_plan() {
    let quilt = good(&sewn("", ""));
    assert_eq!((quilt.pressings, quilt.falls, quilt.ways), (None, Vec::new(), Vec::new()));
}

#[test]
fn pressings_are_one_to_four_or_own() {
    for (said, pressings) in [("1", Pressings::Shared(1)), ("4", Pressings::Shared(4)), ("\"own\"", Pressings::Own)] {
        assert_eq!(good(&sewn(&format!("pressings = {said}"), "")).pressings, Some(pressings), "{said}");
    }
    let said = |value: &str| problems(&sewn(&format!("pressings = {value}"), ""));
    insta::assert_snapshot!(said("0"), @r#"4:13 `pressings` cannot be `0` | write a whole number from 1 to 4, or "own": every copy by itself"#);
    insta::assert_snapshot!(said("5"), @r#"4:13 `pressings` cannot be `5` | write a whole number from 1 to 4, or "own": every copy by itself"#);
    insta::assert_snapshot!(said("-9223372036854775808"), @r#"4:13 `pressings` cannot be `-9223372036854775808` | write a whole number from 1 to 4, or "own": every copy by itself"#);
    insta::assert_snapshot!(said("\"each\""), @r#"4:13 `pressings` cannot be `each` | write a whole number from 1 to 4, or "own": every copy by itself"#);
    insta::assert_snapshot!(said("2.5"), @r#"4:13 `pressings` cannot be read: it is a whole number from 1 to 4, or "own""#);
    insta::assert_snapshot!(said("true"), @r#"4:13 `pressings` cannot be read: it is a whole number from 1 to 4, or "own""#);
}

#[test]
fn a_seam_falls_to_either_piece_or_open() {
    let falls = [
        (r#""star.p1", "star.p2""#, "star.p1", FallTo::First),
        (r#""B2.p1", "B2.p2""#, "B2.p2", FallTo::Second),
        (r#""A1", "A2""#, "open", FallTo::Open),
        (r#""B1.frame1.top", "sash.2.3""#, "sash.2.3", FallTo::Second),
        (r#""sash.2.3", "band1.left.2""#, "sash.2.3", FallTo::First),
    ];
    let text: String = falls.iter().map(|(between, to, _)| fall(between, to)).collect();
    let quilt = good(&sewn("", &text));
    assert_eq!(quilt.falls.iter().map(|fall| fall.to).collect::<Vec<_>>(), falls.map(|(_, _, to)| to));
    assert_eq!(quilt.falls.iter().map(FixedFall::word).collect::<Vec<_>>(), falls.map(|(_, to, _)| to));
    assert_eq!(quilt.falls[1].between, ["B2.p1", "B2.p2"]);
}

#[test]
fn a_fall_that_cannot_be_is_said() {
    let one = |between: &str, to: &str| refused(&fall(between, to));
    insta::assert_snapshot!(one(r#""star.p1""#, "star.p1"), @r#"`between` names two pieces, not 1 | write it like ["star.p1", "star.p2"]"#);
    insta::assert_snapshot!(one(r#""A1", "A2", "B1""#, "A1"), @r#"`between` names two pieces, not 3 | write it like ["star.p1", "star.p2"]"#);
    insta::assert_snapshot!(one(r#""A1", " ""#, "A1"), @"the name of a piece is empty | name a piece, like `star.p1` or `B3.frame1.top`");
    insta::assert_snapshot!(one(r#""A1", "open""#, "open"), @r#"`open` names no piece | write `to = "open"` to press a seam open"#);
    insta::assert_snapshot!(one(r#""A1", "A1""#, "A1"), @"a seam lies between two pieces, and `A1` is named twice | name the piece on the other side of the seam");
    insta::assert_snapshot!(one(r#""star.p1", "star.p2""#, "star.p22"), @"`star.p22` is neither of the two pieces | did you mean `star.p2`?");
    insta::assert_snapshot!(one(r#""A1", "A2""#, "opne"), @"`opne` is neither of the two pieces | did you mean `open`?");
    insta::assert_snapshot!(one(r#""A1", "A2""#, "left"), @"`left` is neither of the two pieces | there is: `A1`, `A2`, `open`");
    insta::assert_snapshot!(one(r#""satr.p1", "star.p2""#, "open"), @"there is no block `satr` | did you mean `star`?");
    insta::assert_snapshot!(one(r#""moon.p1", "star.p2""#, "open"), @"there is no block `moon` | there is: `plain`, `star`, `start-over`");
    insta::assert_snapshot!(one(r#""C1.p1", "A3.p2""#, "open"), @r"
    there is no place `C1` | rows are A to B, from the top, with 2 places each, from the left: A1 to B2
    there is no place `A3` | rows are A to B, from the top, with 2 places each, from the left: A1 to B2
    ");
    insta::assert_snapshot!(refused("[[fall]]\nbetween = [\"A1\", \"A2\"]\ntoo = \"A1\"\n"), @"`too` is not a key of a fall | did you mean `to`?");
    insta::assert_snapshot!(refused("[[fall]]\nto = \"A1\"\n"), @"a fall needs the key `between` | add `between = ...`");
    insta::assert_snapshot!(refused("[[fall]]\nbetween = \"A1\"\nto = \"A1\"\n"), @r#"`between` cannot be the text "A1" | it must be a list in square brackets"#);
}

#[test]
fn a_pair_of_pieces_is_listed_once_either_way_round() {
    let text = sewn("", &(fall(r#""A1", "A2""#, "A1") + &fall(r#""A2", "A1""#, "open")));
    insta::assert_snapshot!(problems(&text), @"30:11 the seam between `A2` and `A1` is listed twice | take one of the two away");
}

#[test]
fn every_way_of_making_has_its_word() {
    let ways = [
        ("plain", MakingWay::Plain),
        ("two", MakingWay::TwoAtATime),
        ("eight", MakingWay::EightAtATime),
        ("four", MakingWay::FourAtATime),
        ("strips", MakingWay::StripSet),
    ];
    for (word, meant) in ways {
        let quilt = good(&sewn("", &way("star.p17", word)));
        assert_eq!(quilt.ways, [ChosenWay { block: BlockId(1), patch: 17, way: meant }], "{word}");
        assert_eq!(meant.word(), word);
    }
}

#[test]
fn a_way_that_cannot_be_is_said() {
    insta::assert_snapshot!(refused(&way("star", "two")), @r#"`star` is no patch of a block | write it like "star.p3": patch 3 of block `star`"#);
    insta::assert_snapshot!(refused(&way("satr.p1", "two")), @"there is no block `satr` | did you mean `star`?");
    insta::assert_snapshot!(refused(&way("B2.p1", "two")), @"there is no block `B2` | there is: `plain`, `star`, `start-over`");
    for no_patch in ["star.p0", "star.p03", "star.p", "star.p1.p2", "star.p+1", "star.p99999999999999999999", ".p1x", ""] {
        let said = refused(&way(no_patch, "two"));
        assert!(said.contains("is no patch of a block | write it like \"star.p3\""), "{no_patch}: {said}");
    }
    insta::assert_snapshot!(refused(&way("star.p1", "fuor")), @"`use` cannot be `fuor` | did you mean `four`?");
    insta::assert_snapshot!(refused("[[way]]\nof = \"star.p1\"\nway = \"two\"\n"), @r"
    a way of making needs the key `use` | add `use = ...`
    `way` is not a key of a way of making | there is: `of`, `use`
    ");
    insta::assert_snapshot!(refused(&(way("star.p1", "two") + &way("start-over.p1", "two") + &way("star.p1", "plain"))), @"patch `star.p1` is listed twice | take one of the two away");
}

#[test]
fn there_are_only_so_many_falls_and_ways() {
    let falls = |count: usize| (0..count).map(|i| fall(&format!("\"sash.1.1\", \"sash.2.{i}\""), "open")).collect::<String>();
    let ways = |count: usize| (1..=count).map(|i| way(&format!("star.p{i}"), "two")).collect::<String>();
    assert_eq!(good(&sewn("", &falls(2_000))).falls.len(), 2_000);
    assert_eq!(good(&sewn("", &ways(500))).ways.len(), 500);
    insta::assert_snapshot!(refused(&falls(2_001)), @"there are 2001 falls, more than the 2000 that can be planned");
    insta::assert_snapshot!(refused(&ways(501)), @"there are 501 ways of making, more than the 500 that can be planned");
}
