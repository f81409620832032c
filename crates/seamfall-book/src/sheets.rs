//! Templates on paper: several on a sheet, or one over several sheets that are taped together.
//!
//! In: the size of each template. Out: sheets, and where everything lies on them. Lengths are inches of paper; x to the right
//! and y *down* from the upper left corner of the drawing area, as typst places things.

use crate::Paper;
use serde::Serialize;
use tr::tr;

/// White space round a template.
const GAP: f64 = 0.15;
/// Room for its caption, below.
const CAPTION: f64 = 0.25;
/// Narrowest caption that reads well.
const NARROWEST: f64 = 1.7;
/// How far joined sheets overlap: 1/2 in, or 1 cm (a little less) on metric paper.
fn overlap(paper: Paper) -> f64 {
    match paper {
        Paper::Letter => 0.5,
        Paper::A4 => 1.0 / 2.54,
    }
}

/// Width and height of the area for templates: the page without margins of 1/2 in, its heading and its test squares.
pub fn area(paper: Paper) -> (f64, f64) {
    let (width, height) = match paper {
        Paper::Letter => (8.5, 11.0),
        Paper::A4 => (210.0 / 25.4, 297.0 / 25.4),
    };
    (width - 2.0 * MARGIN, height - 2.0 * MARGIN - HEADING - SQUARES)
}

/// What printers leave white at every edge, and a little more.
const MARGIN: f64 = 0.5;
/// Height of a sheet's heading.
pub const HEADING: f64 = 0.45;
/// Height of the strip of test squares.
pub const SQUARES: f64 = 1.2;

/// A template to be laid out.
#[derive(Debug, Clone)]
pub struct Piece {
    /// Its drawing.
    pub figure: String,
    /// What the drawing shows, for those who hear the book.
    pub alt: String,
    /// Block and letter, short.
    pub name: String,
    /// What stands below it.
    pub caption: String,
    /// Of the drawing at true size.
    pub width: f64,
    /// Of the drawing at true size.
    pub height: f64,
    /// Boxes `[left, top, right, bottom]` outside which a sheet of it would be empty and is left out; nothing for all of it.
    pub inked: Option<Vec<[f64; 4]>>,
}

/// A sheet of templates.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Sheet {
    /// Names of what lies on it.
    pub names: Vec<String>,
    /// Its drawings.
    pub items: Vec<Item>,
    /// How it is joined to others, where one template needs several.
    pub tile: Option<Tile>,
}

/// A drawing, or the part of it that lies on this sheet.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Item {
    /// Its drawing.
    pub figure: String,
    /// What it shows.
    pub alt: String,
    /// Block and letter.
    pub name: String,
    /// Stands below it; empty on tiles.
    pub caption: String,
    /// Width of the caption.
    pub caption_width: f64,
    /// Left edge on the sheet.
    pub x: f64,
    /// Upper edge on the sheet.
    pub y: f64,
    /// Width of what is seen.
    pub width: f64,
    /// Height of what is seen.
    pub height: f64,
    /// How much of the drawing is hidden on the left.
    pub skip_x: f64,
    /// How much of it is hidden above.
    pub skip_y: f64,
    /// Width of the whole drawing, as it lies here.
    pub full_width: f64,
    /// Height of the whole drawing, as it lies here.
    pub full_height: f64,
    /// Whether it lies a quarter turn to the right, to fit.
    pub turned: bool,
}

/// One of several sheets for one template.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Tile {
    /// `B2`: row as a letter, place in the row.
    pub label: String,
    /// Whether it is the first of them.
    pub first: bool,
    /// Rows and places in a row.
    pub rows: usize,
    /// Places in a row.
    pub columns: usize,
    /// Labels of the sheets to the left, right, above and below.
    pub left: Option<String>,
    /// To the right.
    pub right: Option<String>,
    /// Above.
    pub above: Option<String>,
    /// Below.
    pub below: Option<String>,
    /// How far neighbours overlap.
    pub overlap: f64,
    /// Width of the tile.
    pub width: f64,
    /// Height of the tile.
    pub height: f64,
    /// Joining marks: crosses that fall on one another when taped.
    pub crosses: Vec<(f64, f64)>,
}

/// Lays `pieces` out on `paper`.
///
/// What fits shares sheets: on shelves, each piece on the first that has room. Order is kept apart from that, so that a
/// block's templates stay close. What does not fit either way round is tiled, on whichever way round takes fewer sheets.
pub fn lay_out(pieces: &[Piece], paper: Paper) -> Vec<Sheet> {
    let (width, height) = area(paper);
    let fits = |w: f64, h: f64| w <= width && h + CAPTION <= height;
    let mut shared: Vec<Shared> = Vec::new();
    let mut tiled = Vec::new();
    for piece in pieces {
        if fits(piece.width, piece.height) {
            put(&mut shared, piece, false, (width, height));
        } else if fits(piece.height, piece.width) {
            put(&mut shared, piece, true, (width, height));
        } else {
            tiled.extend(tiles(piece, paper));
        }
    }
    shared.into_iter().map(|sheet| sheet.sheet).chain(tiled).collect()
}

/// A sheet that is still being filled.
struct Shared {
    sheet: Sheet,
    /// Upper edge, height, and how far it is filled.
    shelves: Vec<(f64, f64, f64)>,
}

fn put(sheets: &mut Vec<Shared>, piece: &Piece, turned: bool, area: (f64, f64)) {
    let (w, h) = if turned { (piece.height, piece.width) } else { (piece.width, piece.height) };
    let cell = (w.max(NARROWEST).min(area.0), h + CAPTION);
    let place = sheets.iter_mut().enumerate().find_map(|(number, sheet)| Some((number, sheet.room(cell, area)?)));
    let (number, (x, y)) = place.unwrap_or_else(|| {
        let sheet = Sheet { names: Vec::new(), items: Vec::new(), tile: None };
        sheets.push(Shared { sheet, shelves: vec![(0.0, cell.1, cell.0 + GAP)] });
        (sheets.len() - 1, (0.0, 0.0))
    });
    let sheet = &mut sheets[number].sheet;
    sheet.names.push(piece.name.clone());
    sheet.items.push(Item {
        figure: piece.figure.clone(),
        alt: piece.alt.clone(),
        name: piece.name.clone(),
        caption: piece.caption.clone(),
        caption_width: cell.0,
        x,
        y,
        width: w,
        height: h,
        skip_x: 0.0,
        skip_y: 0.0,
        full_width: w,
        full_height: h,
        turned,
    });
}

impl Shared {
    /// Takes up `cell` on a shelf with room for it, or on a new one. The last shelf may grow as far as the sheet goes.
    fn room(&mut self, cell: (f64, f64), area: (f64, f64)) -> Option<(f64, f64)> {
        let last = self.shelves.len().wrapping_sub(1);
        for (number, (y, shelf_height, filled)) in self.shelves.iter_mut().enumerate() {
            let tallest = if number == last { area.1 - *y } else { *shelf_height };
            if cell.1 <= tallest && *filled + cell.0 <= area.0 {
                let x = *filled;
                *filled += cell.0 + GAP;
                *shelf_height = shelf_height.max(cell.1);
                return Some((x, *y));
            }
        }
        let y = self.shelves.last().map_or(0.0, |(y, shelf_height, _)| y + shelf_height + GAP);
        (y + cell.1 <= area.1).then(|| {
            self.shelves.push((y, cell.1, cell.0 + GAP));
            (0.0, y)
        })
    }
}

/// How many sheets of `step + overlap` cover `length`.
fn sheets_over(length: f64, room: f64, overlap: f64) -> usize {
    let mut count = 1;
    while room + (room - overlap) * f64::from(count - 1) < length {
        count += 1;
    }
    usize::try_from(count).expect("a count is not negative")
}

fn tiles(piece: &Piece, paper: Paper) -> Vec<Sheet> {
    let (width, height) = area(paper);
    let overlap = overlap(paper);
    let count = |w: f64, h: f64| (sheets_over(w, width, overlap), sheets_over(h, height, overlap));
    let upright = count(piece.width, piece.height);
    let lying = count(piece.height, piece.width);
    let turned = lying.0 * lying.1 < upright.0 * upright.1;
    let (columns, rows) = if turned { lying } else { upright };
    let (w, h) = if turned { (piece.height, piece.width) } else { (piece.width, piece.height) };
    let step = (width - overlap, height - overlap);
    let skipped = |row: usize, column: usize| (step.0 * count_as_length(column), step.1 * count_as_length(row));
    let window = |row: usize, column: usize| {
        let (x, y) = skipped(row, column);
        [x, y, x + width, y + height]
    };
    let kept = kept((rows, columns), &window, &inked(piece, turned));
    let neighbour = |row: usize, column: usize| {
        (row < rows && column < columns && kept[row][column]).then(|| seamfall_model::place_name(row, column))
    };
    let mut sheets: Vec<Sheet> = Vec::new();
    for (row, in_row) in kept.iter().enumerate() {
        for column in (0..columns).filter(|&column| in_row[column]) {
            let (skip_x, skip_y) = skipped(row, column);
            // What lies before the first is beyond the last of all rows, and so is nowhere.
            let tile = Tile {
                label: seamfall_model::place_name(row, column),
                first: sheets.is_empty(),
                rows,
                columns,
                left: neighbour(row, column.wrapping_sub(1)),
                right: neighbour(row, column + 1),
                above: neighbour(row.wrapping_sub(1), column),
                below: neighbour(row + 1, column),
                overlap,
                width,
                height,
                crosses: crosses((row, rows), (column, columns), (width, height), overlap),
            };
            let item = Item {
                figure: piece.figure.clone(),
                alt: tr!("{alt}, sheet {label} of a drawing over several sheets", alt = piece.alt, label = tile.label),
                name: piece.name.clone(),
                caption: String::new(),
                caption_width: width,
                x: 0.0,
                y: 0.0,
                width: width.min(w - skip_x),
                height: height.min(h - skip_y),
                skip_x,
                skip_y,
                full_width: w,
                full_height: h,
                turned,
            };
            sheets.push(Sheet { names: vec![piece.name.clone()], items: vec![item], tile: Some(tile) });
        }
    }
    sheets
}

/// The boxes of what is drawn, as the drawing lies.
fn inked(piece: &Piece, turned: bool) -> Option<Vec<[f64; 4]>> {
    let lying = |&[left, top, right, bottom]: &[f64; 4]| {
        // A quarter turn to the right brings the lower edge to the left.
        if turned { [piece.height - bottom, left, piece.height - top, right] } else { [left, top, right, bottom] }
    };
    Some(piece.inked.as_ref()?.iter().map(lying).collect())
}

/// Which sheets have something on them, by rows. Where those would not hang together all are kept, since they could not be taped.
fn kept(
    (rows, columns): (usize, usize),
    window: &impl Fn(usize, usize) -> [f64; 4],
    inked: &Option<Vec<[f64; 4]>>,
) -> Vec<Vec<bool>> {
    let all = || vec![vec![true; columns]; rows];
    let Some(boxes) = inked else { return all() };
    let meet = |a: &[f64; 4], b: &[f64; 4]| a[0] <= b[2] && b[0] <= a[2] && a[1] <= b[3] && b[1] <= a[3];
    let has = |row, column| boxes.iter().any(|one| meet(one, &window(row, column)));
    let kept: Vec<Vec<bool>> = (0..rows).map(|row| (0..columns).map(|column| has(row, column)).collect()).collect();
    // Follow neighbours from the first.
    let sheets =
        || (0..rows).flat_map(|row| (0..columns).map(move |column| (row, column))).filter(|&(row, column)| kept[row][column]);
    let mut reached: Vec<(usize, usize)> = sheets().take(1).collect();
    let mut next = 0;
    while let Some(&(row, column)) = reached.get(next) {
        let beside = |&(r, c): &(usize, usize)| r.abs_diff(row) + c.abs_diff(column) == 1;
        let more: Vec<_> = sheets().filter(beside).filter(|sheet| !reached.contains(sheet)).collect();
        reached.extend(more);
        next += 1;
    }
    if reached.len() == sheets().count() { kept } else { all() }
}

fn count_as_length(count: usize) -> f64 {
    f64::from(u32::try_from(count).expect("sheets are few"))
}

/// Two crosses in the middle of every overlap, a sixth of the side from its ends.
fn crosses(row: (usize, usize), column: (usize, usize), size: (f64, f64), overlap: f64) -> Vec<(f64, f64)> {
    let (near, far) = (overlap / 2.0, |side: f64| side - overlap / 2.0);
    let mut crosses = Vec::new();
    for share in [1.0 / 6.0, 5.0 / 6.0] {
        let (x, y) = (size.0 * share, size.1 * share);
        crosses.extend((column.0 > 0).then_some((near, y)));
        crosses.extend((column.0 + 1 < column.1).then_some((far(size.0), y)));
        crosses.extend((row.0 > 0).then_some((x, near)));
        crosses.extend((row.0 + 1 < row.1).then_some((x, far(size.1))));
    }
    crosses
}

#[cfg(test)]
mod tests {
    use super::*;

    fn piece(width: f64, height: f64) -> Piece {
        Piece {
            figure: String::new(),
            alt: String::new(),
            name: format!("{width} by {height}"),
            caption: String::new(),
            width,
            height,
            inked: None,
        }
    }

    #[test]
    fn pieces_on_one_sheet_stay_on_it_and_apart() {
        let pieces: Vec<_> = (1..40).map(|n| piece(0.4 + 0.37 * f64::from(n % 11), 0.5 + 0.53 * f64::from(n % 7))).collect();
        for paper in [Paper::Letter, Paper::A4] {
            let (width, height) = area(paper);
            let sheets = lay_out(&pieces, paper);
            assert_eq!(sheets.iter().map(|sheet| sheet.items.len()).sum::<usize>(), pieces.len());
            for sheet in &sheets {
                for (i, a) in sheet.items.iter().enumerate() {
                    assert!(a.x + a.width.max(a.caption_width) <= width + 1e-9 && a.y + a.height + CAPTION <= height + 1e-9);
                    for b in &sheet.items[..i] {
                        let beside = a.x >= b.x + b.caption_width || b.x >= a.x + a.caption_width;
                        let below = a.y >= b.y + b.height + CAPTION || b.y >= a.y + a.height + CAPTION;
                        assert!(beside || below, "{a:?} lies over {b:?}");
                    }
                }
            }
        }
    }

    #[test]
    fn a_piece_that_fits_lying_is_turned() {
        let sheets = lay_out(&[piece(8.0, 3.0)], Paper::Letter);
        assert_eq!(sheets.len(), 1);
        assert!(sheets[0].items[0].turned);
    }

    /// Seen together, the tiles are the whole drawing, and each cross lies on the drawing where its neighbour's does.
    #[test]
    fn tiles_cover_the_piece_and_their_crosses_meet() {
        // Upright it takes three by three sheets.
        let sheets = lay_out(&[piece(16.0, 20.0)], Paper::Letter);
        assert_eq!(sheets.len(), 6);
        assert!(sheets[0].items[0].turned);
        let mut marks: Vec<(i64, i64)> = Vec::new();
        let mut corner = (0.0_f64, 0.0_f64);
        for sheet in &sheets {
            let (item, tile) = (&sheet.items[0], sheet.tile.as_ref().expect("it is tiled"));
            corner = (corner.0.max(item.skip_x + item.width), corner.1.max(item.skip_y + item.height));
            let whole = |x: f64| {
                #[expect(clippy::cast_possible_truncation, reason = "thousandths of an inch on a few sheets of paper")]
                let thousandths = (x * 1000.0).round() as i64;
                thousandths
            };
            marks.extend(tile.crosses.iter().map(|(x, y)| (whole(x + item.skip_x), whole(y + item.skip_y))));
        }
        assert!((corner.0 - 20.0).abs() < 1e-9 && (corner.1 - 16.0).abs() < 1e-9);
        marks.sort_unstable();
        for pair in marks.chunks(2) {
            assert_eq!(pair[0], pair[1], "every cross has its like on the neighbour");
        }
    }
    /// 20 by 24 in on three by three sheets: a line round it leaves the middle sheet empty; two lines far apart hang together by nothing.
    #[test]
    fn sheets_without_lines_are_left_out_unless_the_rest_would_fall_apart() {
        let edge = vec![[0.0, 0.0, 20.0, 0.1], [0.0, 23.9, 20.0, 24.0], [0.0, 0.0, 0.1, 24.0], [19.9, 0.0, 20.0, 24.0]];
        let drawn = |inked: Vec<[f64; 4]>| lay_out(&[Piece { inked: Some(inked), ..piece(20.0, 24.0) }], Paper::Letter);
        let labels = |sheets: &[Sheet]| -> Vec<String> {
            sheets.iter().map(|sheet| sheet.tile.as_ref().expect("it is tiled").label.clone()).collect()
        };
        let round = drawn(edge);
        assert_eq!(labels(&round), ["A1", "A2", "A3", "B1", "B3", "C1", "C2", "C3"]);
        let first = round[1].tile.as_ref().expect("it is tiled");
        assert_eq!((first.left.as_deref(), first.below.as_deref()), (Some("A1"), None), "{first:?}");
        assert_eq!(labels(&drawn(vec![[0.0, 0.0, 1.0, 1.0], [19.0, 23.0, 20.0, 24.0]])).len(), 9);
        assert_eq!(labels(&drawn(vec![[19.0, 23.0, 20.0, 24.0]])), ["C3"]);
    }

    /// 16 by 20 in lies on its side. What is drawn in its lower left corner then lies in the upper left one.
    #[test]
    fn what_is_drawn_turns_with_the_drawing() {
        let sheets = lay_out(&[Piece { inked: Some(vec![[0.0, 19.0, 1.0, 20.0]]), ..piece(16.0, 20.0) }], Paper::Letter);
        assert_eq!(sheets.len(), 1);
        assert_eq!(sheets[0].tile.as_ref().expect("it is tiled").label, "A1");
        assert!(sheets[0].items[0].turned);
    }
}
