//! The cut list as comma-separated values (RFC 4180), for spreadsheets.

use seamfall_model::Quilt;
use seamfall_plan::{Plan, words};

/// One line a piece: what it is cut from, its name, how many, how, its size in words and in numbers, what it is for.
///
/// # Panics
/// Never: writing to memory cannot fail.
#[must_use]
pub fn cut_list_csv(quilt: &Quilt, plan: &Plan) -> String {
    let mut lines = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    let unit = quilt.measure.sign();
    let head = ["material", "piece", "cut", "sewn", "how", "size", &format!("width {unit}"), &format!("length {unit}"), "for"];
    lines.write_record(head).expect("memory takes it");
    for piece in &plan.cutting.pieces {
        let [width, length] = [&piece.width, &piece.length].map(|side| seamfall_model::decimal(side.value, 4));
        lines
            .write_record([
                &piece.of.name(quilt),
                &piece.name,
                &piece.cut.to_string(),
                &piece.needed.to_string(),
                &words::way(&piece.way),
                &words::cut_size(quilt, piece),
                &width,
                &length,
                &words::uses(quilt, plan, &piece.uses),
            ])
            .expect("memory takes it");
    }
    let bytes = lines.into_inner().expect("memory takes it");
    String::from_utf8(bytes).expect("all of it was text")
}
