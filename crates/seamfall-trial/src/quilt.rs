//! The quilt file and its edits.
//!
//! In: the text of a file, and edits below it. What is read and written and read again is the same; what is refused says why and where; an edit that is
//! made leaves a quilt, one that is refused says why; and what can be read can be planned and drawn.

use crate::{edits, parts, problems_stand_in_the_text};
use seamfall_draw::{Colours, Paint, QuiltStyle, quilt_svg};
use seamfall_model::{Edit, EditError, Ledger, Quilt, apply, read, write};
use seamfall_plan::{Effort, Plan, plan_with, wire};

/// Patches in all the places together up to which a quilt is planned: more shows nothing new, and takes the time of a hundred others.
const PLANNED: usize = 150;

pub fn trial(data: &[u8]) {
    let Some((text, lines)) = parts(data) else { return };
    let quilt = match read(text) {
        Ok(quilt) => quilt,
        Err(error) => return problems_stand_in_the_text(text, &error),
    };
    is_written_and_read_again(&quilt);
    can_be_planned(&quilt);
    let mut now = text.to_owned();
    for edit in edits::<Edit>(lines) {
        match apply(&now, &edit) {
            Ok(changed) => now = changed,
            Err(error) => assert!(!error.to_string().trim().is_empty() && !matches!(error, EditError::Unreadable(_))),
        }
    }
    if now != text {
        let changed = read(&now).expect("an edit that is made leaves a quilt");
        is_written_and_read_again(&changed);
        can_be_planned(&changed);
    }
}

fn is_written_and_read_again(quilt: &Quilt) {
    let written = write(quilt);
    let again = read(&written).unwrap_or_else(|error| panic!("what was written cannot be read: {error:?}\n{written}"));
    assert_eq!(&again, quilt, "a quilt that is written and read again is another");
    assert_eq!(write(&again), written, "written twice in two ways");
}

fn can_be_planned(quilt: &Quilt) {
    let of_a_place =
        |place: &seamfall_model::Place| quilt.blocks[place.block.0].seams.len() + quilt.blocks[place.block.0].overlays.len() + 4;
    if quilt.setting.places.iter().flatten().map(of_a_place).sum::<usize>() > PLANNED {
        return;
    }
    let plan = plan_with(quilt, &Ledger::default(), Effort::FIRST);
    holds(quilt, &plan);
}

/// The laws of every plan, and how it is written and drawn.
pub fn holds(quilt: &Quilt, plan: &Plan) {
    seamfall_laws::hold(quilt, plan);
    let json: serde_json::Value = serde_json::from_str(&wire::to_json(quilt, plan)).expect("the plan is JSON");
    assert!(json.is_object());
    let style = QuiltStyle {
        paint: Paint::Cloths,
        colours: Colours::Attributes,
        sections: true,
        falls: true,
        quilting: true,
        names: true,
        ids: true,
    };
    let svg = quilt_svg(quilt, plan, &style);
    roxmltree::Document::parse(&svg).expect("the drawing is XML");
}
