//! What an edit did and what followed from it, in words: for the store, the undo button and the live region.

use crate::room::Worked;
use crate::seams;
use seamfall_model::{Edit, Quilt, Scalar, decimal, place_name};

/// `edit`, made to `quilt`, as a short sentence without a full stop.
pub fn said(quilt: &Quilt, edit: &Edit) -> String {
    let cloth = |key: &str| named(quilt.cloths.iter().map(|cloth| (&cloth.key, &cloth.name)), key);
    let block = |key: &str| named(quilt.blocks.iter().map(|block| (&block.key, &block.name)), key);
    match edit {
        Edit::Turn { row, number, times } => {
            let way = match times % 4 {
                1 => "a quarter to the left",
                2 => "half round",
                3 => "a quarter to the right",
                _ => "all round",
            };
            format!("{} turned {way}", place_name(*row, *number))
        }
        Edit::TurnSeveral { turns } => format!("{} blocks turned", turns.len()),
        Edit::Mirror { row, number } => format!("{} mirrored", place_name(*row, *number)),
        Edit::Put { row, number, block: key } => format!("{} put at {}", block(key), place_name(*row, *number)),
        Edit::Exchange { row, number, with_row, with_number } => {
            format!("{} exchanged with {}", place_name(*row, *number), place_name(*with_row, *with_number))
        }
        Edit::Swap { row, number, from, to } => {
            format!("{}: {} instead of {}", place_name(*row, *number), cloth(to), cloth(from))
        }
        Edit::Paint { block: key, part, cloth: to } => format!("{}, {part}: {}", block(key), cloth(to)),
        Edit::Recolour { cloths } => {
            let each = |(from, to): &(String, String)| format!("{} instead of {}", cloth(to), cloth(from));
            cloths.iter().map(each).collect::<Vec<_>>().join(", ")
        }
        Edit::Look { cloth: key, look: None } => format!("{} plain", cloth(key)),
        Edit::Look { cloth: key, look: Some(look) } => format!("{}: {}", cloth(key), look.kind),
        Edit::Fussy { of, at: None, .. } => format!("{of} cut as usual"),
        Edit::Fussy { of, cloth: key, .. } => format!("{of} shows a motif of {}", cloth(key)),
        Edit::Frame { row, number, frame } => match frame.as_deref() {
            None => format!("{} has the usual frame", place_name(*row, *number)),
            Some("none") => format!("{} has no frame", place_name(*row, *number)),
            Some(frame) => format!("{} has the frame {frame}", place_name(*row, *number)),
        },
        Edit::Set { path, value } => format!("{}: {}", way_to(path), plain(value)),
        Edit::Remove { path } => format!("{} taken away", way_to(path)),
        Edit::Fall { between: [first, second], to } => match to.as_deref() {
            None => format!("{first} and {second}: the fall is free"),
            Some("open") => format!("{first} and {second} pressed open"),
            Some(to) => format!("{first} and {second} fall to {to}"),
        },
        Edit::Way { of, way: None } => format!("{of}: the way of making is free"),
        Edit::Way { of, way: Some(way) } => format!("{of} made {}", made(way)),
        Edit::Pressings { pressings: None } => "pressings of a block: free".to_owned(),
        Edit::Pressings { pressings: Some(value) } => format!("pressings of a block: {}", plain(value)),
        Edit::Settings(new) => format!("settings: {} rows, {} columns", new.rows, new.columns),
        Edit::Resize { rows, columns } => format!("{rows} rows, {columns} columns"),
        Edit::AddBand { width, .. } => format!("band of {width} added"),
        Edit::AddSashing { width, .. } => format!("sashing of {width} added"),
        Edit::AddFrame { key, .. } => format!("frame {key} added"),
        Edit::AddStarter { starter, .. } => format!("block {} added", starter.replace('-', " ")),
        Edit::Draw { drawing, .. } => format!("{} drawn", drawing.name),
        Edit::AddQuilting { on, design, .. } => format!("{} on {on}", design.replace('-', " ")),
        Edit::Bed { standard } => format!("bed: {standard}"),
        Edit::Edge { edge, .. } => format!("edge: {}", edge.replace('-', " ")),
        Edit::AddCloth { name, .. } => format!("cloth {name} added"),
    }
}

/// What else an edit has changed, to follow its sentence: seams that fall otherwise now, and stacks.
pub fn followed(before: &Worked, after: &Worked, edit: &Edit) -> String {
    let mut all = String::new();
    let mut also = |text: String| {
        all.push_str(if all.is_empty() { "; " } else { ", " });
        all.push_str(&text);
    };
    let turned = match edit {
        Edit::Fall { between, .. } => seams::turned_over(&before.plan, &after.plan)
            .into_iter()
            .filter(|&seam| !seams::is_between(&after.quilt, &after.plan, seam, between))
            .count(),
        Edit::Pressings { .. } => seams::turned_over(&before.plan, &after.plan).len(),
        _ => 0,
    };
    let other = if matches!(edit, Edit::Fall { .. }) { "other " } else { "" };
    match turned {
        0 => {}
        1 => also(format!("1 {other}seam turned over")),
        many => also(format!("{many} {other}seams turned over")),
    }
    let (was, is) = (before.plan.falls.stacks.len(), after.plan.falls.stacks.len());
    if was != is {
        let many = was.abs_diff(is);
        let word = if is < was { "less" } else { "more" };
        also(format!("{} {word}", if many == 1 { "1 stack".to_owned() } else { format!("{many} stacks") }));
    }
    all
}

/// A value as people say it.
fn plain(value: &Scalar) -> String {
    match value {
        Scalar::Bool(true) => "yes".to_owned(),
        Scalar::Bool(false) => "no".to_owned(),
        Scalar::Number(number) => number.to_string(),
        Scalar::Text(text) => text.clone(),
        Scalar::Numbers(numbers) => numbers.iter().map(|&number| decimal(number, 4)).collect::<Vec<_>>().join(" to "),
    }
}

/// How a unit is made, by the word of the file.
fn made(way: &str) -> &str {
    match way {
        "plain" => "patch by patch",
        "two" => "two at a time",
        "eight" => "eight at a time",
        "four" => "four at a time",
        "strips" => "from a strip set",
        other => other,
    }
}

/// `band 2 width`; positions count from 0 in a path and from 1 to a person.
fn way_to(path: &[String]) -> String {
    let words =
        path.iter().map(|word| word.parse::<usize>().map_or_else(|_| word.clone(), |position| (position + 1).to_string()));
    words.collect::<Vec<_>>().join(" ")
}

fn named<'a>(mut all: impl Iterator<Item = (&'a String, &'a String)>, key: &str) -> String {
    all.find(|(each, _)| *each == key).map_or_else(|| key.to_owned(), |(_, name)| name.clone())
}
