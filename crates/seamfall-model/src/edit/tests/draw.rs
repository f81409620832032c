//! Blocks that were drawn: what is written, and what stays of a file written by hand.

use super::*;
use crate::{DrawAct, Drawing};

fn drawn(text: &str, key: &str, acts: &[DrawAct]) -> Edit {
    let quilt = read(text).expect("it reads");
    let mut block = quilt.blocks.iter().find(|block| block.key == key).expect("it is there").clone();
    let mut drawing = Drawing::of(&quilt, &block);
    for act in acts {
        drawing = drawing.after(&block, act).expect("it can be done");
        block = drawing.block(&quilt).expect("it is a block");
    }
    Edit::Draw { block: key.to_owned(), drawing: Box::new(drawing) }
}

fn line(from: [f64; 2], to: [f64; 2]) -> DrawAct {
    DrawAct::Line { from, to, repeat: Vec::new() }
}

#[test]
fn a_block_that_is_drawn_as_it_was_changes_nothing() {
    insta::assert_snapshot!(changed(SAMPLE, &drawn(SAMPLE, "lantern", &[])), @"");
}

#[test]
fn a_seam_more_keeps_the_comments_of_the_others() {
    insta::assert_snapshot!(changed(SAMPLE, &drawn(SAMPLE, "lantern", &[line([0.0, 1.0], [1.0, 0.0])])), @"+   [0, 1, 1, 0],");
}

#[test]
fn a_seam_less_keeps_the_comments_of_the_others() {
    insta::assert_snapshot!(changed(SAMPLE, &drawn(SAMPLE, "lantern", &[DrawAct::Remove { seam: 2, repeat: Vec::new() }])), @"-   [2, 0, 4, 2],");
}

#[test]
fn a_starter_block_that_is_drawn_on_stands_in_the_file_as_drawn() {
    let starter = apply(SAMPLE, &Edit::AddStarter { starter: "half-square-triangle".to_owned(), key: "half".to_owned() })
        .expect("it is added");
    insta::assert_snapshot!(changed(&starter, &drawn(&starter, "half", &[])), @r#"
    - starter = "half-square-triangle"
    + name = "Half-square triangle"
    + shape = "square"
    + grid = 1
    + seams = [
    +   [0, 0, 1, 1],
    + ]
    + patches = { light = [[0.3, 0.7]], dark = [[0.7, 0.3]] }
    "#);
}

#[test]
fn a_new_block_stands_behind_the_others() {
    let Edit::Draw { mut drawing, .. } = drawn(SAMPLE, "plain", &[DrawAct::Grid { grid: [2, 2] }, line([0.0, 0.0], [2.0, 2.0])])
    else {
        panic!("it is drawn")
    };
    drawing.name = "Sail".to_owned();
    insta::assert_snapshot!(changed(SAMPLE, &Edit::Draw { block: "sail".to_owned(), drawing: drawing.clone() }), @r#"
    + [block.sail]
    + name = "Sail"
    + shape = "square"
    + size = "12"
    + grid = 2
    + seams = [
    +   [0, 0, 2, 2],
    + ]
    + patches = { linen = [[1, 1]] }
    +
    "#);
    let error = |edit: Edit| apply(SAMPLE, &edit).expect_err("it must not be made").to_string();
    insta::assert_snapshot!(error(Edit::Draw { block: "Sail!".to_owned(), drawing: drawing.clone() }), @"`Sail!` cannot be a key: up to 40 small letters, digits and hyphens can");
    drawing.parts[0].cloth = "lin".to_owned();
    insta::assert_snapshot!(error(Edit::Draw { block: "sail".to_owned(), drawing }), @"there is no cloth `lin`");
}
