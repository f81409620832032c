//! Cloths while a block is drawn: a patch keeps its own, halves keep that of the whole.

use super::*;
use proptest::prelude::*;
use seamfall_model::{ClothId, DrawAct, Drawing, GridPoint, PartId, Repeat};

/// A square of four, all of it in red; each act is done as the screen does it.
fn after(acts: &[DrawAct]) -> (Quilt, Block) {
    let quilt = quilt("shape = \"square\"\nsize = \"8\"\ngrid = 4\npatches = { red = [[2, 2]] }");
    let mut block = quilt.blocks[0].clone();
    for act in acts {
        block = done(&quilt, &block, act);
    }
    (quilt, block)
}

fn done(quilt: &Quilt, before: &Block, act: &DrawAct) -> Block {
    let Ok(drawing) = Drawing::of(quilt, before).after(before, act) else { return before.clone() };
    let Ok(block) = drawing.block(quilt) else { return before.clone() };
    let block = drawing.follow(before, &block).block(quilt).expect("it was one before it was moved");
    carried(quilt, before, &Block { key: before.key.clone(), ..block })
}

fn line(numbers: [f64; 4]) -> DrawAct {
    DrawAct::Line { from: [numbers[0], numbers[1]], to: [numbers[2], numbers[3]], repeat: Vec::new() }
}

/// Cloths of the patches, in their order, as `red` and `blue`; `-` where there is none.
fn cloths(quilt: &Quilt, block: &Block) -> String {
    let patches = derive(quilt, block).result.patches;
    let name = |patch: &Patch| patch.part.map_or("-", |part| quilt.cloths[block.parts[part.0].cloth.0].key.as_str()).to_owned();
    patches.iter().map(name).collect::<Vec<_>>().join(" ")
}

#[test]
fn both_halves_keep_the_cloth_of_the_whole() {
    let (quilt, block) = after(&[line([0.0, 2.0, 4.0, 2.0])]);
    assert_eq!(cloths(&quilt, &block), "red red");
    let block = painted(&quilt, &block, &[GridPoint { u: 1.0, v: 3.0 }], ClothId(1)).expect("there is a patch");
    assert_eq!(cloths(&quilt, &block), "blue red");
    // The upper half is parted, the lower one is not touched.
    let block = done(&quilt, &block, &line([2.0, 2.0, 2.0, 4.0]));
    assert_eq!(cloths(&quilt, &block), "blue blue red");
    // Every patch has one point.
    assert_eq!(block.marks.len(), 3);
}

#[test]
fn patches_that_become_one_have_the_cloth_of_the_largest() {
    let (quilt, block) = after(&[line([0.0, 1.0, 4.0, 1.0])]);
    let block = painted(&quilt, &block, &[GridPoint { u: 1.0, v: 0.5 }], ClothId(1)).expect("there is a patch");
    assert_eq!(cloths(&quilt, &block), "red blue");
    let moved = done(&quilt, &block, &DrawAct::Move { seam: 1, by: [0.0, 2.0] });
    assert_eq!(cloths(&quilt, &moved), "red blue", "the seam has gone up");
    let one = done(&quilt, &block, &DrawAct::Remove { seam: 1, repeat: Vec::new() });
    assert_eq!(cloths(&quilt, &one), "red");
    assert_eq!(one.parts.len(), 1, "a part that nothing has is left out");
}

#[test]
fn cloths_follow_grid_and_size() {
    let (quilt, block) = after(&[line([0.0, 1.0, 4.0, 3.0]), line([0.0, 1.0, 4.0, 0.0])]);
    let block = painted(&quilt, &block, &[GridPoint { u: 1.0, v: 1.0 }], ClothId(1)).expect("there is a patch");
    for act in [DrawAct::Grid { grid: [12, 12] }, DrawAct::Size { size: "30".to_owned() }, DrawAct::Grid { grid: [3, 5] }] {
        let changed = done(&quilt, &block, &act);
        assert_eq!(cloths(&quilt, &changed), cloths(&quilt, &block), "{act:?}");
        let (old, new) = (derive(&quilt, &block).result, derive(&quilt, &changed).result);
        for (old, new) in old.patches.iter().zip(&new.patches) {
            let scale = changed.shape.outline().area() / block.shape.outline().area();
            near(old.area * scale, new.area, 1e-6);
        }
    }
}

#[test]
fn what_is_bare_is_painted_all_at_once_and_no_patch_is_painted_beside_the_block() {
    let quilt =
        quilt("shape = \"square\"\nsize = \"8\"\ngrid = 4\nseams = [[0, 2, 4, 2], [2, 0, 2, 4]]\npatches = { red = [[1, 1]] }");
    let block = rest_painted(&quilt, &quilt.blocks[0], ClothId(1));
    assert_eq!(cloths(&quilt, &block), "blue blue red blue");
    assert_eq!(painted(&quilt, &block, &[GridPoint { u: 2.0, v: 1.0 }, GridPoint { u: 9.0, v: 1.0 }], ClothId(0)), None);
}

/// Where each finding is: by hand, in inches.
#[test]
fn findings_say_where_they_are() {
    let quilt = quilt(
        "shape = \"square\"\nsize = \"8\"\ngrid = 8\nseams = [[0, 4, 5, 4], [0, 0.1, 8, 0.1], [0, 0.1, 3, 0.1]]\npatches = { red = [[4, 7]] }",
    );
    let (draft, placed) = derive_placed(&quilt, &quilt.blocks[0]);
    assert_eq!(placed.iter().map(|(finding, _)| finding.clone()).collect::<Vec<_>>(), derive(&quilt, &quilt.blocks[0]).findings);
    let at = |word: &str| {
        placed.iter().find(|(finding, _)| finding.reason.contains(word)).unwrap_or_else(|| panic!("{word}: {placed:#?}")).1
    };
    assert_eq!(at("touches nothing"), Some(Point::new(5.0, 4.0)));
    assert_eq!(at("too thin").map(|at| at.y < 0.1), Some(true));
    assert!(at("runs along seam").is_some_and(|at| (at.y - 0.1).abs() < 1e-9 && at.x <= 3.0));
    assert_eq!(at("no cloth"), Some(draft.patches[1].label));
}

fn any_act() -> impl Strategy<Value = DrawAct> {
    let point = || [0..=8_i32, 0..=8_i32].prop_map(|pair| pair.map(|n| f64::from(n) / 2.0));
    let keys = Repeat::of(seamfall_model::Shape::Square { side: seamfall_model::Length::new(8.0) })
        .iter()
        .map(|each| each.key.to_owned());
    let keys: Vec<String> = keys.collect();
    let repeat = move || prop::collection::vec(prop::sample::select(keys.clone()), 0..3);
    prop_oneof![
        4 => (point(), point(), repeat()).prop_map(|(from, to, repeat)| DrawAct::Line { from, to, repeat }),
        2 => (point(), point(), point(), repeat.clone()()).prop_map(|(from, to, through, repeat)| DrawAct::Arc { from, to, through, repeat }),
        1 => (0..6_usize).prop_map(|seam| DrawAct::Remove { seam, repeat: Vec::new() }),
        1 => (0..6_usize, 0..2_usize, point()).prop_map(|(seam, point, to)| DrawAct::MovePoint { seam, point, to }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    /// From a block that has its cloth everywhere no patch ever comes to have none, and none has two points.
    #[test]
    fn no_patch_loses_its_cloth(acts in prop::collection::vec((any_act(), 0..2_usize, 0..9_i32, 0..9_i32), 1..8)) {
        let (quilt, mut block) = after(&[]);
        for (act, cloth, u, v) in &acts {
            block = done(&quilt, &block, act);
            let at = GridPoint { u: f64::from(*u) / 2.0 + 0.13, v: f64::from(*v) / 2.0 + 0.17 };
            block = painted(&quilt, &block, &[at], ClothId(*cloth)).unwrap_or(block);
            let patches = derive(&quilt, &block).result.patches;
            prop_assert!(patches.iter().all(|patch| patch.part.is_some()), "{act:?}\n{block:#?}");
            prop_assert_eq!(block.marks.len(), patches.len());
            prop_assert!(block.marks.windows(2).all(|pair| pair[0].part <= pair[1].part));
            prop_assert!(block.marks.iter().all(|mark| mark.part < PartId(block.parts.len())));
            let again = Drawing::of(&quilt, &block).block(&quilt).expect("it is a block");
            prop_assert_eq!(&again.marks, &block.marks);
        }
    }

    /// A patch that a seam elsewhere does not touch keeps its cloth.
    #[test]
    fn a_seam_elsewhere_changes_no_cloth(acts in prop::collection::vec(any_act(), 1..5), next in any_act()) {
        let (quilt, mut block) = after(&acts);
        let labels: Vec<GridPoint> = derive(&quilt, &block).result.patches.iter().map(|patch| block.to_grid(patch.label)).collect();
        for (i, label) in labels.iter().enumerate() {
            block = painted(&quilt, &block, &[*label], ClothId(i % 2)).unwrap_or(block);
        }
        let before = derive(&quilt, &block).result.patches;
        let changed = done(&quilt, &block, &next);
        for patch in derive(&quilt, &changed).result.patches {
            if let Some(old) = before.iter().find(|old| old.outline == patch.outline && old.holes == patch.holes) {
                let cloth = |block: &Block, patch: &Patch| patch.part.map(|part| block.parts[part.0].cloth);
                prop_assert_eq!(cloth(&block, old), cloth(&changed, &patch));
            }
        }
    }
}
