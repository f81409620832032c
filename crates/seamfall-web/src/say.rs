//! What an edit did and what followed from it, in words: for the store, the undo button and the live region.

use crate::designs;
use crate::room::Worked;
use crate::seams;
use crate::view::finish::edge_word;
use crate::view::key_words;
use seamfall_model::{Edit, Quilt, Scalar, decimal, place_name};
use tr::tr;

/// `edit`, made to `quilt`, as a short sentence without a full stop.
pub fn said(quilt: &Quilt, edit: &Edit) -> String {
    let cloth = |key: &str| named(quilt.cloths.iter().map(|cloth| (&cloth.key, &cloth.name)), key);
    let block = |key: &str| named(quilt.blocks.iter().map(|block| (&block.key, &block.name)), key);
    match edit {
        Edit::Turn { row, number, times } => {
            let way = match times % 4 {
                1 => tr!("a quarter to the left"),
                2 => tr!("half round"),
                3 => tr!("a quarter to the right"),
                _ => tr!("all round"),
            };
            tr!("{place} turned {way}", place = place_name(*row, *number), way)
        }
        Edit::TurnSeveral { turns } => tr!("1 blocks turned" | "{n} blocks turned" % turns.len()),
        Edit::Mirror { row, number } => tr!("{place} mirrored", place = place_name(*row, *number)),
        Edit::Put { row, number, block: key } => {
            tr!("{block} put at {place}", block = block(key), place = place_name(*row, *number))
        }
        Edit::Exchange { row, number, with_row, with_number } => {
            tr!("{place} exchanged with {other}", place = place_name(*row, *number), other = place_name(*with_row, *with_number))
        }
        Edit::Swap { row, number, from, to } => {
            tr!("{place}: {new} instead of {old}", place = place_name(*row, *number), new = cloth(to), old = cloth(from))
        }
        Edit::Paint { block: key, part, cloth: to } => format!("{}, {part}: {}", block(key), cloth(to)),
        Edit::Recolour { cloths } => {
            let each = |(from, to): &(String, String)| tr!("{new} instead of {old}", new = cloth(to), old = cloth(from));
            cloths.iter().map(each).collect::<Vec<_>>().join(", ")
        }
        Edit::Look { cloth: key, look: None } => tr!("{cloth} plain", cloth = cloth(key)),
        Edit::Look { cloth: key, look: Some(look) } => format!("{}: {}", cloth(key), look.kind),
        Edit::Fussy { of, at: None, .. } => tr!("{of} cut as usual", of),
        Edit::Fussy { of, cloth: key, .. } => tr!("{of} shows a motif of {cloth}", of, cloth = cloth(key)),
        Edit::Frame { row, number, frame } => match frame.as_deref() {
            None => tr!("{place} has the usual frame", place = place_name(*row, *number)),
            Some("none") => tr!("{place} has no frame", place = place_name(*row, *number)),
            Some(frame) => tr!("{place} has the frame {frame}", place = place_name(*row, *number), frame),
        },
        Edit::Set { path, value } => format!("{}: {}", way_to(path), plain(value)),
        Edit::Remove { path } => tr!("{what} taken away", what = way_to(path)),
        Edit::Fall { between: [first, second], to } => match to.as_deref() {
            None => tr!("{first} and {second}: the fall is free", first, second),
            Some("open") => tr!("{first} and {second} pressed open", first, second),
            Some(to) => tr!("{first} and {second} fall to {to}", first, second, to),
        },
        Edit::Way { of, way: None } => tr!("{of}: the way of making is free", of),
        Edit::Way { of, way: Some(way) } => tr!("{of} made {made}", of, made = made(way)),
        Edit::Pressings { pressings: None } => tr!("pressings of a block: free"),
        Edit::Pressings { pressings: Some(value) } => tr!("pressings of a block: {value}", value = plain(value)),
        Edit::Settings(new) => tr!("settings: {rows} rows, {columns} columns", rows = new.rows, columns = new.columns),
        Edit::Resize { rows, columns } => tr!("{rows} rows, {columns} columns", rows, columns),
        Edit::AddBand { width, .. } => tr!("band of {width} added", width),
        Edit::AddSashing { width, .. } => tr!("sashing of {width} added", width),
        Edit::AddFrame { key, .. } => tr!("frame {key} added", key),
        Edit::AddStarter { starter, .. } => tr!("block {name} added", name = starter.replace('-', " ")),
        Edit::Draw { drawing, .. } => tr!("{drawing} drawn", drawing = drawing.name),
        Edit::AddQuilting { on, design, .. } => tr!("{design} on {on}", design = designs::name(design), on),
        Edit::Bed { standard } => tr!("bed: {standard}", standard),
        Edit::Edge { edge, .. } => tr!("edge: {edge}", edge = edge_word(edge)),
        Edit::AddCloth { name, .. } => tr!("cloth {name} added", name),
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
    match (turned, edit) {
        (0, _) => {}
        (many, Edit::Fall { .. }) => also(tr!("1 other seam turned over" | "{n} other seams turned over" % many)),
        (many, _) => also(tr!("1 seam turned over" | "{n} seams turned over" % many)),
    }
    let (was, is) = (before.plan.falls.stacks.len(), after.plan.falls.stacks.len());
    if is < was {
        also(tr!("1 stack less" | "{n} stacks less" % was - is));
    }
    if is > was {
        also(tr!("1 stack more" | "{n} stacks more" % is - was));
    }
    all
}

/// A value as people say it.
fn plain(value: &Scalar) -> String {
    match value {
        Scalar::Bool(true) => tr!("yes"),
        Scalar::Bool(false) => tr!("no"),
        Scalar::Number(number) => number.to_string(),
        Scalar::Text(text) => key_words::said(text),
        Scalar::Numbers(numbers) => {
            numbers.iter().map(|&number| decimal(number, 4)).collect::<Vec<_>>().join(&format!(" {} ", tr!("to")))
        }
    }
}

/// How a unit is made, by the word of the file.
fn made(way: &str) -> String {
    match way {
        "plain" => tr!("patch by patch"),
        "two" => tr!("two at a time"),
        "eight" => tr!("eight at a time"),
        "four" => tr!("four at a time"),
        "strips" => tr!("from a strip set"),
        other => other.to_owned(),
    }
}

/// `band 2 width`; positions count from 0 in a path and from 1 to a person.
fn way_to(path: &[String]) -> String {
    let words = path
        .iter()
        .map(|word| word.parse::<usize>().map_or_else(|_| key_words::said(word), |position| (position + 1).to_string()));
    words.collect::<Vec<_>>().join(" ")
}

fn named<'a>(mut all: impl Iterator<Item = (&'a String, &'a String)>, key: &str) -> String {
    all.find(|(each, _)| *each == key).map_or_else(|| key.to_owned(), |(_, name)| name.clone())
}
