//! The handbook way: each kind cut from strips of its own, the better way round.
//!
//! In: a job. Out: a layout at once, with the length that the trade's tables give. It is the answer that the search must not be
//! longer than. Where both ways take the same length, the piece is not turned.

use crate::job::{Job, Kind};
use crate::layout::{Content, Layout, Panel, Strip};

/// The layout by the tables: whole strips of one kind, the last of them part full.
#[must_use]
pub fn handbook(job: &Job) -> Layout {
    let mut strips = Vec::new();
    for (place, kind) in job.kinds().iter().enumerate() {
        let upright = rows(job, kind, kind.width, kind.height);
        let turned = if kind.turn { rows(job, kind, kind.height, kind.width) } else { None };
        let turn = match (upright, turned) {
            (Some(upright), Some(turned)) => turned.length < upright.length,
            (None, _) => true,
            (Some(_), None) => false,
        };
        let rows = if turn { turned } else { upright }.expect("a job holds only pieces that fit across");
        let piece = Panel { width: rows.width, height: rows.height, content: Content::Piece { kind: place, turned: turn } };
        for (times, in_row) in [(rows.full, rows.per_row), (u32::from(rows.rest > 0), rows.rest)] {
            if times > 0 {
                strips.push(Strip { times, panel: row(&piece, in_row, job.kerf()) });
            }
        }
    }
    Layout::of(strips, job.kerf())
}

/// How one kind fills its strips, one way round.
#[derive(Clone, Copy)]
struct Rows {
    width: u32,
    height: u32,
    per_row: u32,
    full: u32,
    rest: u32,
    length: u64,
}

fn rows(job: &Job, kind: &Kind, width: u32, height: u32) -> Option<Rows> {
    let per_row = (job.width() + job.kerf()) / (width + job.kerf());
    if per_row == 0 {
        return None;
    }
    let (full, rest) = (kind.count / per_row, kind.count % per_row);
    let length = u64::from(full + u32::from(rest > 0)) * u64::from(height + job.kerf());
    Some(Rows { width, height, per_row, full, rest, length })
}

fn row(piece: &Panel, count: u32, kerf: u32) -> Panel {
    let width = count * (piece.width + kerf) - kerf;
    Panel { width, height: piece.height, content: Content::Across(vec![piece.clone(); count as usize]) }
}
