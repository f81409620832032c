//! The check of pressings, falls and ways of making.
//!
//! What blocks and places a name speaks of is checked here; which pieces there are, and which lie side by side, the plan
//! alone can know.

use super::check::{Check, shortened};
use super::problems::suggestion;
use super::raw::*;
use super::setting::{parse_place, which_exist};
use crate::*;
use std::collections::BTreeSet;
use tr::tr;

/// Checks in how many ways the copies of a block may be pressed.
pub(super) fn pressings(check: &mut Check<'_>, raw: &At<RawPressings>) -> Pressings {
    let wrong = match &**raw {
        RawPressings::Count(count) => match u8::try_from(*count) {
            Ok(count) if (1..=limits::PRESSINGS).contains(&count) => return Pressings::Shared(count),
            _ => count.to_string(),
        },
        RawPressings::Word(word) if word == "own" => return Pressings::Own,
        RawPressings::Word(word) => shortened(word),
    };
    let help = tr!("write a whole number from 1 to {most}, or \"own\": every copy by itself", most = limits::PRESSINGS);
    check.problems.add(raw.span(), tr!("`pressings` cannot be `{wrong}`", wrong), help);
    Pressings::Own
}

/// Checks the falls that are fixed.
pub(super) fn falls(check: &mut Check<'_>, raw: &[RawFall], setting: &Setting) -> Vec<FixedFall> {
    if let Some(fall) = raw.get(limits::FALLS) {
        check.too_many(fall.between.span(), raw.len(), &tr!("falls"), limits::FALLS);
    }
    let lengths: Vec<usize> = setting.places.iter().map(Vec::len).collect();
    let mut seen = BTreeSet::new();
    raw.iter().take(limits::FALLS).filter_map(|fall| self::fall(check, fall, Some(&lengths), &mut seen)).collect()
}

/// Checks the falls as they were pressed. They outlive a change of the quilt, so that only the plan says which pieces are gone.
pub(super) fn pressed(check: &mut Check<'_>, raw: &[RawFall]) -> Vec<FixedFall> {
    if let Some(fall) = raw.get(limits::FALLS) {
        check.too_many(fall.between.span(), raw.len(), &tr!("falls"), limits::FALLS);
    }
    let mut seen = BTreeSet::new();
    raw.iter().take(limits::FALLS).filter_map(|fall| self::fall(check, fall, None, &mut seen)).collect()
}

/// One fall, or nothing, and a problem, where it names no two pieces. `lengths` are those of the rows, if the names of patches are to be
/// checked.
fn fall<'a>(
    check: &mut Check<'_>,
    raw: &'a RawFall,
    lengths: Option<&[usize]>,
    seen: &mut BTreeSet<[&'a str; 2]>,
) -> Option<FixedFall> {
    let [first, second] = &raw.between[..] else {
        let reason = tr!("`between` names two pieces, not {between}", between = raw.between.len());
        check.problems.add(raw.between.span(), reason, tr!("write it like [\"star.p1\", \"star.p2\"]"));
        return None;
    };
    for name in [first, second] {
        piece(check, name);
        if let Some(lengths) = lengths {
            patch(check, name, lengths);
        }
    }
    if **first == **second {
        let reason = tr!("a seam lies between two pieces, and `{written}` is named twice", written = shortened(first));
        check.problems.add(second.span(), reason, tr!("name the piece on the other side of the seam"));
    } else if !seen.insert(if **first < **second { [first, second] } else { [second, first] }) {
        let reason = tr!(
            "the seam between `{written}` and `{second}` is listed twice",
            written = shortened(first),
            second = shortened(second)
        );
        check.problems.add(raw.between.span(), reason, tr!("take one of the two away"));
    }
    let to = match raw.to.as_str() {
        "open" => FallTo::Open,
        to if to == **first => FallTo::First,
        to if to == **second => FallTo::Second,
        to => {
            let reason = tr!("`{to}` is neither of the two pieces", to = shortened(to));
            let help = suggestion(to, [first.as_str(), second.as_str(), "open"]);
            check.problems.add(raw.to.span(), reason, help);
            FallTo::Open
        }
    };
    Some(FixedFall { between: [(**first).clone(), (**second).clone()], to })
}

/// Whether a name can be that of a piece.
fn piece(check: &mut Check<'_>, name: &At<String>) {
    if name.trim().is_empty() {
        let help = tr!("name a piece, like `star.p1` or `B3.frame1.top`");
        check.problems.add(name.span(), tr!("the name of a piece is empty"), help);
    } else if **name == "open" {
        check.problems.add(name.span(), tr!("`open` names no piece"), tr!("write `to = \"open\"` to press a seam open"));
    }
}

/// Whether a patch is one of a block or place that there is.
fn patch(check: &mut Check<'_>, name: &At<String>, lengths: &[usize]) {
    let Some((owner, _)) = name.split_once(".p").filter(|(owner, number)| !owner.contains('.') && is_number(number)) else {
        return;
    };
    if check.blocks.iter().any(|key| key == owner) {
        return;
    }
    match parse_place(owner) {
        Some((row, number)) if lengths.get(row).is_some_and(|length| number < *length) => {}
        // Without rows, what is wrong with the setting has been said.
        Some(_) if lengths.is_empty() => {}
        Some(_) => check.problems.add(name.span(), tr!("there is no place `{owner}`", owner), which_exist(lengths)),
        None => no_block(check, name, owner),
    }
}

fn is_number(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit())
}

fn no_block(check: &mut Check<'_>, name: &At<String>, owner: &str) {
    let help = suggestion(owner, check.blocks.iter().map(String::as_str));
    check.problems.add(name.span(), tr!("there is no block `{owner}`", owner = shortened(owner)), help);
}

/// Checks the ways of making that were chosen.
pub(super) fn ways(check: &mut Check<'_>, raw: &[RawWay]) -> Vec<ChosenWay> {
    if let Some(way) = raw.get(limits::WAYS) {
        check.too_many(way.of.span(), raw.len(), &tr!("ways of making"), limits::WAYS);
    }
    let mut seen = BTreeSet::new();
    raw.iter().take(limits::WAYS).filter_map(|way| self::way(check, way, &mut seen)).collect()
}

/// One way of making, or nothing, and a problem, where it names no patch.
fn way(check: &mut Check<'_>, raw: &RawWay, seen: &mut BTreeSet<(BlockId, usize)>) -> Option<ChosenWay> {
    // No zeros in front, so that one patch has one name; no block has a million patches.
    let patch = |number: &str| {
        let good = is_number(number) && !number.starts_with('0') && number.len() <= 6;
        if good { number.parse::<usize>().ok() } else { None }
    };
    let Some((key, patch)) = raw.of.split_once(".p").and_then(|(key, number)| Some((key, patch(number)?))) else {
        let reason = tr!("`{of}` is no patch of a block", of = shortened(&raw.of));
        check.problems.add(raw.of.span(), reason, tr!("write it like \"star.p3\": patch 3 of block `star`"));
        return None;
    };
    let Some(block) = check.blocks.iter().position(|block| block == key).map(BlockId) else {
        no_block(check, &raw.of, key);
        return None;
    };
    if !seen.insert((block, patch)) {
        let reason = tr!("patch `{of}` is listed twice", of = *raw.of);
        check.problems.add(raw.of.span(), reason, tr!("take one of the two away"));
    }
    let way = match raw.way {
        RawMakingWay::Plain => MakingWay::Plain,
        RawMakingWay::Two => MakingWay::TwoAtATime,
        RawMakingWay::Eight => MakingWay::EightAtATime,
        RawMakingWay::Four => MakingWay::FourAtATime,
        RawMakingWay::Strips => MakingWay::StripSet,
    };
    Some(ChosenWay { block, patch, way })
}
