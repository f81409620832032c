//! Tests of reading what is bought.

use super::super::read;
use super::reading::{page, problems, with};
use crate::*;

/// A small quilt with `rest` behind its setting.
fn bought(rest: &str) -> String {
    with("") + rest
}

/// The reasons and helps for `rest`, its place left out.
fn refused(rest: &str) -> String {
    let said = problems(&bought(rest));
    said.lines().map(|line| line.split_once(' ').map_or(line, |(_, reason)| reason)).collect::<Vec<_>>().join("\n")
}

#[test]
fn the_page_says_what_is_bought() {
    let quilt = read(&page()).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(quilt.reserve, Length::new(4.5));
    let night = &quilt.cloths[0];
    assert_eq!((night.shrinkage, night.price), (Shrinkage(30), Some(Price(1150))));
    let amber: Vec<_> =
        quilt.cloths[2].from.iter().map(|supply| (supply.name.as_str(), supply.count, supply.price.shown())).collect();
    assert_eq!(amber, [("fat quarter", None, "3.25".to_owned()), ("10 x 27", Some(2), "0.00".to_owned())]);
    assert_eq!((quilt.bands[0].grain, quilt.sashing.map(|sashing| sashing.grain)), (Grain::Along, Some(Grain::Across)));
    assert_eq!(quilt.binding.map(|binding| binding.width), Some(Length::new(2.25)));
    assert_eq!(quilt.backing.map(|backing| backing.oversize), Some(Length::new(1.5)));
    let batting = quilt.batting.expect("the page has batting");
    assert_eq!((batting.roll.map(|roll| roll.width), batting.packages.len()), (Some(Length::new(90.0)), 2));
    assert_eq!(quilt.sample.map(|sample| sample.count), Some(2));
    assert_eq!(quilt.thread, Some(Thread { spool: Length::new(7200.0), price: Some(Price(340)) }));
}

#[test]
fn what_is_not_said_is_usual() {
    let quilt = read(&bought("[binding]\ncloth = \"night\"\n[backing]\ncloth = \"linen\"\n[batting]\nroll = \"90\"\n"))
        .expect("it reads");
    assert_eq!(quilt.binding.map(|binding| binding.width), Some(Length::new(2.5)));
    assert_eq!(quilt.backing.map(|backing| backing.oversize), Some(Length::new(1.0)));
    assert_eq!(quilt.batting.map(|batting| batting.oversize), Some(Length::new(0.75)));
    assert_eq!((quilt.sample, quilt.thread, quilt.reserve), (None, None, Length::ZERO));
}

#[test]
fn what_cannot_be_bought_is_said() {
    insta::assert_snapshot!(refused("[batting]\nname = \"Wool\"\n"), @r#"the batting has neither a `roll` nor `packages` | give the width of the roll, `roll = "90"`, or packaged sizes, `packages = [ { size = "90 x 108" } ]`"#);
    insta::assert_snapshot!(refused("[batting]\nprice = 4\npackages = [ { size = \"90\" } ]\n"), @r#"
`price` is that of a yard or a metre off the roll | give the `roll` its width, or write the price into each package
`size` is `90`, but has a width and a length | write it like "22 x 18": across, then along the selvage
"#);
    insta::assert_snapshot!(refused("[batting]\npackages = [ { size = \"90 x long\", count = 0, price = -1 } ]\n"), @r#"
`size`: `long` is not a length | write it like `2 1/2`, `2.5`, `2½`, `6,5 cm` or `3/8 yd`
`count` is 0, but must lie between 1 and 10000 | leave `count` out where as many can be had as are wanted
`price` is -1, but must lie between 0 and 1000000 | write it as a plain number, such as 12.50
"#);
    insta::assert_snapshot!(refused("[backing]\ncloth = \"linnen\"\noversize = \"7\"\n"), @r#"
there is no cloth `linnen` | did you mean `linen`?
`oversize` is 7 in, more than the most that is taken here, 6 in | make it 6 in or less
"#);
    insta::assert_snapshot!(refused("[binding]\ncloth = \"night\"\ncut = \"bias\"\n"), @"`cut` is not a key of the binding | there is: `cloth`, `width`, `on`");
    insta::assert_snapshot!(refused("[thread]\nspool = \"1 in\"\nprice = nan\n"), @r#"
`spool` is 1 in, less than the least that can be sewn, 36 in | make it 36 in or more
`price` is NaN, but must lie between 0 and 1000000 | write it as a plain number, such as 12.50
"#);
    insta::assert_snapshot!(refused("[sample]\ncloth = \"night\"\ncount = 101\ncolour = \"red\"\n"), @"`colour` is not a key of the sample | there is: `cloth`, `size`, `count`");
    let stages = |said: &str| problems(&with("").replace("measure", &format!("cutting-stages = {said}\nmeasure")));
    insta::assert_snapshot!(stages("6"), @"3:18 `cutting-stages` is 6, but must lie between 2 and 5 | 2 is strips and what is cut off them; each more turns the cloth once more and may save some");
    let cloth = |line: &str| problems(&with(&format!("[cloth.extra]\ncolour = \"#000000\"\n{line}\n")));
    insta::assert_snapshot!(cloth("shrinkage = 30"), @"15:13 `shrinkage` is 30 per cent, but must lie between 0 and 25 | write what the cloth loses of its length, in per cent: `shrinkage = 3`");
    insta::assert_snapshot!(cloth("shrinkage = nan"), @"15:13 `shrinkage` is NaN per cent, but must lie between 0 and 25 | write what the cloth loses of its length, in per cent: `shrinkage = 3`");
    insta::assert_snapshot!(cloth("from = [ { size = \"0 x 18\" } ]"), @"15:19 `size` is 0 in, less than the least that can be sewn, 1 in | make it 1 in or more");
    insta::assert_snapshot!(cloth("from = \"fat quarters\""), @r#"15:8 `from` cannot be the text "fat quarters" | it must be a list in square brackets"#);
}
