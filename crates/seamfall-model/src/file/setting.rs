//! The check of the setting: layout, pattern and places.

use super::check::{Check, shortened};
use super::raw::*;
use crate::*;
use tr::tr;

/// Checks how the blocks are put together.
pub(super) fn setting(check: &mut Check<'_>, raw: &RawQuilt, blocks: &[Block]) -> Setting {
    let setting = &raw.setting;
    let layout = layout(check, setting);
    let pattern: Vec<Vec<BlockId>> = setting
        .pattern
        .iter()
        .take(limits::ROWS)
        .map(|line| line.iter().take(limits::ROWS).map(|key| check.block_id(key)).collect())
        .collect();
    pattern_problems(check, setting);
    let frame = setting.frame.as_ref().map(|key| check.frame_choice(key));
    let usual_frame = |block: BlockId| blocks.get(block.0).and_then(|block| block.frame).or(frame).unwrap_or(FrameChoice::Bare);
    let plain = |block: BlockId| Place { block, turns: 0, mirrored: false, swaps: Vec::new(), frame: usual_frame(block) };

    let lengths = row_lengths(check, setting, &pattern);
    let mut places: Vec<Vec<Place>> = lengths
        .iter()
        .enumerate()
        .map(|(row, length)| {
            let line = pattern.get(row % pattern.len().max(1)).filter(|line| !line.is_empty());
            line.map_or_else(Vec::new, |line| (0..*length).map(|j| plain(line[j % line.len()])).collect())
        })
        .collect();

    let mut seen = std::collections::BTreeSet::new();
    for said in &raw.place {
        let spot = parse_place(&said.at).filter(|(row, number)| lengths.get(*row).is_some_and(|length| number < length));
        let fresh = spot.is_none_or(|spot| seen.insert(spot));
        if spot.is_none() && !lengths.is_empty() {
            let reason = tr!("there is no place `{at}`", at = shortened(&said.at));
            check.problems.add(said.at.span(), reason, which_exist(&lengths));
        } else if !fresh {
            let reason = tr!("place `{at}` is listed twice", at = *said.at);
            check.problems.add(said.at.span(), reason, tr!("put all of it under one [[place]]"));
        }
        let block = said.block.as_ref().map(|key| check.block_id(key));
        let turns = said.turn.as_ref().map_or(0, |turn| {
            u8::try_from(**turn).ok().filter(|turn| *turn < 4).unwrap_or_else(|| {
                let help = tr!("0 leaves it, 1, 2 and 3 turn it to the left");
                check.problems.add(turn.span(), tr!("{turn} is no number of quarter turns", turn = **turn), help);
                0
            })
        });
        let swaps = said.swap.0.iter().map(|(from, to)| (check.cloth_id(from), check.cloth_id(to))).collect();
        let own_frame = said.frame.as_ref().map(|key| check.frame_choice(key));
        if let Some(place) = spot.and_then(|(row, number)| places.get_mut(row)?.get_mut(number)) {
            let block = block.unwrap_or(place.block);
            let frame = own_frame.unwrap_or_else(|| usual_frame(block));
            *place = Place { block, turns, mirrored: said.mirror, swaps, frame };
        }
    }
    shapes(check, raw, layout, &places, blocks);
    Setting { layout, places }
}

fn layout(check: &mut Check<'_>, setting: &At<RawSetting>) -> Layout {
    let mut only = |key: Option<&At<String>>, name: &str, layout: &str| {
        if let Some(key) = key {
            let reason = tr!("`{name}` is only for layout `{layout}`", name, layout);
            check.problems.add(key.span(), reason, tr!("take it away, or change the layout"));
        }
    };
    if setting.layout != RawLayout::OnPoint {
        only(setting.triangles.as_ref(), "triangles", "on-point");
    }
    if setting.layout != RawLayout::Rows {
        only(setting.filler.as_ref(), "filler", "rows");
    }
    match setting.layout {
        RawLayout::Straight => Layout::Straight,
        RawLayout::OnPoint => Layout::OnPoint {
            triangles: match &setting.triangles {
                Some(key) => check.cloth_id(key),
                None => {
                    let help = tr!("add `triangles = \"CLOTH\"` to the setting");
                    let reason = tr!("a setting on point needs a cloth for its side and corner triangles");
                    check.problems.add(setting.span(), reason, help);
                    ClothId(0)
                }
            },
        },
        RawLayout::Rows => Layout::Rows { filler: setting.filler.as_ref().map(|key| check.cloth_id(key)) },
    }
}

fn pattern_problems(check: &mut Check<'_>, setting: &RawSetting) {
    let help = || tr!("name at least one block: pattern = [[\"BLOCK\"]]");
    if setting.pattern.is_empty() {
        check.problems.add(setting.pattern.span(), tr!("the pattern is empty"), help());
    } else if setting.pattern.len() > limits::ROWS {
        check.too_many(setting.pattern.span(), setting.pattern.len(), &tr!("lines in the pattern"), limits::ROWS);
    }
    for line in setting.pattern.iter().take(limits::ROWS) {
        if line.is_empty() {
            check.problems.add(line.span(), tr!("this line of the pattern is empty"), help());
        } else if line.len() > limits::ROWS {
            check.too_many(line.span(), line.len(), &tr!("blocks in this line of the pattern"), limits::ROWS);
        }
    }
}

/// How many places each row has.
fn row_lengths(check: &mut Check<'_>, setting: &At<RawSetting>, pattern: &[Vec<BlockId>]) -> Vec<usize> {
    if setting.layout == RawLayout::Rows {
        for (count, name) in [(&setting.columns, "columns"), (&setting.rows, "rows")] {
            if let Some(count) = count {
                let reason = tr!("`{name}` is not for layout `rows`, whose pattern holds every row in full", name);
                check.problems.add(count.span(), reason, tr!("take it away"));
            }
        }
        return pattern.iter().map(Vec::len).collect();
    }
    let mut count = |count: Option<&At<i64>>, name: &str| -> usize {
        let Some(count) = count else {
            let reason = tr!("the setting needs the key `{name}`", name);
            check.problems.add(setting.span(), reason, tr!("add `{name} = 4`, or however many you want", name));
            return 0;
        };
        usize::try_from(**count).ok().filter(|count| (1..=limits::ROWS).contains(count)).unwrap_or_else(|| {
            let reason =
                tr!("`{name}` is {count}, but must lie between 1 and {most}", name, count = **count, most = limits::ROWS);
            check.problems.add(count.span(), reason, None);
            0
        })
    };
    let (columns, rows) = (count(setting.columns.as_ref(), "columns"), count(setting.rows.as_ref(), "rows"));
    match setting.layout {
        RawLayout::OnPoint => (0..(2 * rows).saturating_sub(1)).map(|row| columns.saturating_sub(row % 2)).collect(),
        _ => vec![columns; rows],
    }
}

/// `B3` as row and number, both from 0.
pub(crate) fn parse_place(name: &str) -> Option<(usize, usize)> {
    let digits = name.find(|c: char| c.is_ascii_digit())?;
    let (letters, number) = name.split_at(digits);
    let good = (1..=2).contains(&letters.len())
        && letters.bytes().all(|b| b.is_ascii_uppercase())
        && number.len() <= 3
        && number.bytes().all(|b| b.is_ascii_digit())
        && !number.starts_with('0');
    if !good {
        return None;
    }
    let row = letters.bytes().fold(0, |row, letter| row * 26 + usize::from(letter - b'A') + 1) - 1;
    Some((row, number.parse::<usize>().ok()? - 1))
}

/// Which places there are.
pub(super) fn which_exist(lengths: &[usize]) -> Option<String> {
    let (first, last) = (lengths.first()?, letters(lengths.len() - 1));
    let (least, most) = (lengths.iter().min()?, lengths.iter().max()?);
    Some(if least == most {
        tr!("rows are A to {last}, from the top, with {first} places each, from the left: A1 to {last}{first}", last, first)
    } else {
        tr!("rows are A to {last}, from the top, with {least} to {most} places, from the left", last, least, most)
    })
}

/// Whether the blocks that stand in the setting have a shape that can stand there; each block is named once.
fn shapes(check: &mut Check<'_>, raw: &RawQuilt, layout: Layout, places: &[Vec<Place>], blocks: &[Block]) {
    for (id, block) in blocks.iter().enumerate() {
        let on_point = matches!(layout, Layout::OnPoint { .. });
        let fits = matches!((on_point, block.shape), (_, Shape::Square { .. }) | (false, Shape::Rectangle { .. }));
        if fits || !places.iter().flatten().any(|place| place.block == BlockId(id)) {
            continue;
        }
        let named = |key: &&At<String>| ***key == block.key;
        let span = raw.setting.pattern.iter().flat_map(|line| line.iter()).find(named);
        // A stand-in for a block that does not exist is named nowhere.
        let Some(span) = span.or_else(|| raw.place.iter().filter_map(|place| place.block.as_ref()).find(named)) else {
            continue;
        };
        let shape = shape_word(block.shape);
        let reason = if on_point {
            tr!("block `{block}` is a {shape}, and only squares can stand on their corners so far", block = block.key, shape)
        } else {
            tr!(
                "block `{block}` is a {shape}, and only squares and rectangles can stand in rows so far",
                block = block.key,
                shape
            )
        };
        let help = tr!("put another block here; its templates are made all the same as long as it is in the file");
        check.problems.add(span.span(), reason, help);
    }
}

fn shape_word(shape: Shape) -> String {
    match shape {
        Shape::Square { .. } => tr!("square"),
        Shape::Rectangle { .. } => tr!("rectangle"),
        Shape::EquilateralTriangle { .. } | Shape::RightTriangle { .. } => tr!("triangle"),
        Shape::Diamond { .. } => tr!("diamond"),
        Shape::Hexagon { .. } => tr!("hexagon"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::place_name;

    #[test]
    fn a_place_has_one_name() {
        for (row, number) in [(0, 0), (25, 8), (26, 99), (99, 998)] {
            assert_eq!(parse_place(&place_name(row, number)), Some((row, number)));
        }
        for name in ["", "A", "3", "b3", "ABC1", "A0", "A01", "A1000", "A1x", "A 1", "É1", "A-1"] {
            assert_eq!(parse_place(name), None, "{name}");
        }
    }
}
