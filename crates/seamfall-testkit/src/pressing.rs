//! Blocks and quilts whose least stacks an independent solver has found, to compare ours with.

use seamfall_model::{Quilt, read, starter_blocks};
use std::fmt::Write;

/// Every starter block that is set square, nine of it, turned at random: by itself each can be pressed without a stack.
#[must_use]
pub fn nine_of_each_block() -> Vec<(String, Quilt)> {
    let square = |key: &str| {
        starter_blocks().iter().any(|block| block.key == key && matches!(block.shape, seamfall_model::Shape::Square { .. }))
    };
    let keys = starter_blocks().iter().map(|block| block.key.as_str()).filter(|key| square(key));
    keys.map(|key| (format!("nine of {key}"), dealt(&Deal { keys: &[key], columns: 3, rows: 3, chance: Some(41), rest: "" })))
        .collect()
}

/// Small quilts of every kind of setting, straight and turned at random.
#[must_use]
pub fn pressing_quilts() -> Vec<(String, Quilt)> {
    let sashed = "[sashing]\nwidth = \"2\"\ncloth = \"dark\"\ncornerstones = \"light\"\n";
    let framed = "[frame.mitred]\ncorners = \"mitred\"\nstrips = [{ width = \"1\", cloth = \"dark\" }, { width = \"1\", cloth = \"light\" }]\n";
    let banded = "[[band]]\nwidth = \"3\"\ncloth = \"dark\"\ncorners = \"mitred\"\n";
    let deal = |keys: &'static [&'static str], columns, rows, chance, rest| Deal { keys, columns, rows, chance, rest };
    let all = [
        ("four-patches", deal(&["four-patch"], 4, 4, None, "")),
        ("nine-patches", deal(&["nine-patch"], 3, 4, None, "")),
        ("pinwheels", deal(&["pinwheel"], 4, 4, None, "")),
        ("pinwheels turned", deal(&["pinwheel"], 4, 4, Some(3), "")),
        ("ohio stars", deal(&["ohio-star"], 3, 3, None, banded)),
        ("ladders turned", deal(&["jacobs-ladder"], 4, 3, Some(5), "")),
        ("arcs turned", deal(&["drunkards-path-unit"], 6, 6, Some(11), "")),
        ("paths", deal(&["drunkards-path"], 2, 3, None, "")),
        ("stars and chains", deal(&["sawtooth-star", "irish-chain"], 4, 4, None, "")),
        ("stars and chains turned", deal(&["eccentric-star", "irish-chain"], 4, 4, Some(17), banded)),
        ("sashed", deal(&["churn-dash", "shoofly"], 3, 3, None, sashed)),
        ("framed", deal(&["card-trick", "shoofly"], 3, 3, Some(23), framed)),
        ("sampler", deal(&["ohio-star", "churn-dash", "pinwheel", "windmill", "card-trick"], 4, 4, Some(29), "")),
        ("wide sampler", deal(&["maple-leaf", "yankee-puzzle", "dutchmans-puzzle", "broken-dishes"], 5, 3, Some(31), sashed)),
        ("kaleidoscopes", deal(&["kaleidoscope"], 4, 4, None, "")),
        ("kaleidoscopes turned", deal(&["kaleidoscope", "split-nine-patch"], 4, 4, Some(37), "")),
    ];
    let mut quilts: Vec<(String, Quilt)> = all.iter().map(|(name, deal)| ((*name).to_owned(), dealt(deal))).collect();
    quilts.push(("tide pool".to_owned(), super::tide_pool()));
    quilts.push(("market rows".to_owned(), super::market_rows()));
    quilts.push(("lamplight".to_owned(), super::lamplight()));
    quilts
}

/// A straight setting: blocks in turn, or dealt and turned by a chain of chance.
struct Deal<'a> {
    keys: &'a [&'a str],
    columns: usize,
    rows: usize,
    chance: Option<u32>,
    rest: &'a str,
}

fn dealt(deal: &Deal) -> Quilt {
    let mut text = String::from("format = 1\nname = \"Pressing\"\nmeasure = \"inch\"\nlargest-section = \"18\"\n");
    text.push_str("[cloth.light]\ncolour = \"#f0eadc\"\n[cloth.dark]\ncolour = \"#22304f\"\n");
    for key in deal.keys {
        let block = starter_blocks().iter().find(|block| block.key == *key).expect("a starter block");
        let cloth = |i: usize| if i.is_multiple_of(2) { "light" } else { "dark" };
        let cloths: Vec<String> =
            block.parts.iter().enumerate().map(|(i, part)| format!("{} = {:?}", part.name, cloth(i))).collect();
        let _ = writeln!(text, "[block.{key}]\nstarter = {key:?}\nsize = \"12\"\ncloths = {{ {} }}", cloths.join(", "));
    }
    let mut chance = deal.chance.unwrap_or(0);
    let mut next = |below: usize| {
        chance = chance.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (chance >> 16) as usize % below
    };
    let mut key = |row: usize, column: usize| {
        deal.keys[if deal.chance.is_some() { next(deal.keys.len()) } else { (row + column) % deal.keys.len() }]
    };
    let rows: Vec<String> =
        (0..deal.rows).map(|row| format!("{:?}", (0..deal.columns).map(|column| key(row, column)).collect::<Vec<_>>())).collect();
    let frame = if deal.rest.contains("[frame.mitred]") { "frame = \"mitred\"\n" } else { "" };
    let _ = writeln!(
        text,
        "[setting]\nlayout = \"straight\"\ncolumns = {}\nrows = {}\npattern = [{}]\n{frame}{}",
        deal.columns,
        deal.rows,
        rows.join(", "),
        deal.rest
    );
    let mut quilt = read(&text).unwrap_or_else(|error| panic!("{error:#?}\n{text}"));
    if deal.chance.is_some() {
        for place in quilt.setting.places.iter_mut().flatten() {
            place.turns = u8::try_from(next(4)).expect("0 to 3");
            place.mirrored = next(4) == 0;
        }
    }
    quilt
}
