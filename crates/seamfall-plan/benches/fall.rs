//! How long sewing orders and falls take: cold, after one block is turned, and with every copy pressed by itself.

use divan::Bencher;
use seamfall_model::{Pressings, Quilt, read};
use seamfall_plan::{draft, fall, piece, set};
use seamfall_testkit as quilts;
use std::fmt::Write;

fn main() {
    divan::main();
}

/// Runs piece and fall; says how many stacks there are and whether that is proven.
fn press(quilt: &Quilt, drafts: &[draft::Draft]) -> (usize, bool) {
    let top = set::derive(quilt).result;
    let piecing = piece::derive(quilt, drafts, &top).result;
    let falls = fall::derive(quilt, &[], &top, &piecing, fall::Effort::default()).result;
    (falls.count().stacks, falls.counts[0].is_proven())
}

fn bench(bencher: Bencher, quilt: &Quilt, stacks: usize, proven: bool) {
    let drafts: Vec<draft::Draft> = quilt.blocks.iter().map(|block| draft::derive(quilt, block).result).collect();
    assert_eq!(press(quilt, &drafts), (stacks, proven), "the quilt is the one the figures speak of");
    bencher.bench(|| press(divan::black_box(quilt), &drafts));
}

#[divan::bench]
fn king_of_6396_patches_cold(bencher: Bencher) {
    bench(bencher, &quilts::king_200(), 0, true);
}

#[divan::bench]
fn king_of_6396_patches_one_block_turned(bencher: Bencher) {
    let mut quilt = quilts::king_200();
    quilt.setting.places[7][6].turns = (quilt.setting.places[7][6].turns + 1) % 4;
    let drafts: Vec<draft::Draft> = quilt.blocks.iter().map(|block| draft::derive(&quilt, block).result).collect();
    bencher.bench(|| press(divan::black_box(&quilt), &drafts));
}

/// 900 blocks of 28 patches, turned at random, every copy by itself.
#[divan::bench]
fn every_copy_free_25200_patches(bencher: Bencher) {
    let quilt = turned(30, &["jacobs-ladder"], Some(Pressings::Own));
    let drafts: Vec<draft::Draft> = quilt.blocks.iter().map(|block| draft::derive(&quilt, block).result).collect();
    assert_eq!(drafts[0].patches.len() * 900, 25_200);
    bencher.bench(|| press(divan::black_box(&quilt), &drafts));
}

/// Twelve kinds of block, turned at random: best and bound.
#[divan::bench(args = [6, 10, 14])]
fn sampler_turned_at_random(bencher: Bencher, side: usize) {
    let keys = [
        "ohio-star",
        "churn-dash",
        "pinwheel",
        "jacobs-ladder",
        "card-trick",
        "broken-dishes",
        "sawtooth-star",
        "maple-leaf",
        "yankee-puzzle",
        "dutchmans-puzzle",
        "windmill",
        "kaleidoscope",
    ];
    let quilt = turned(side, &keys, None);
    let drafts: Vec<draft::Draft> = quilt.blocks.iter().map(|block| draft::derive(&quilt, block).result).collect();
    bencher.bench(|| press(divan::black_box(&quilt), &drafts));
}

/// A square of blocks, dealt and turned by a fixed chain of chance.
fn turned(side: usize, keys: &[&str], pressings: Option<Pressings>) -> Quilt {
    let mut text = String::from("format = 1\nname = \"Bench\"\nmeasure = \"inch\"\nlargest-section = \"12\"\n");
    text.push_str("[cloth.light]\ncolour = \"#f0eadc\"\n[cloth.dark]\ncolour = \"#22304f\"\n");
    for key in keys {
        let block = seamfall_model::starter_blocks().iter().find(|block| block.key == *key).expect("a starter block");
        let cloths: Vec<String> =
            block.parts.iter().enumerate().map(|(i, part)| format!("{} = {:?}", part.name, ["light", "dark"][i % 2])).collect();
        let _ = writeln!(text, "[block.{key}]\nstarter = {key:?}\nsize = \"12\"\ncloths = {{ {} }}", cloths.join(", "));
    }
    let mut chance = 1u32;
    let mut next = |below: usize| {
        chance = chance.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (chance >> 16) as usize % below
    };
    let row = |next: &mut dyn FnMut(usize) -> usize| -> Vec<&str> { (0..side).map(|_| keys[next(keys.len())]).collect() };
    let rows: Vec<String> = (0..side).map(|_| format!("{:?}", row(&mut next))).collect();
    let _ = writeln!(text, "[setting]\nlayout = \"straight\"\ncolumns = {side}\nrows = {side}\npattern = [{}]", rows.join(", "));
    let mut quilt = read(&text).expect("the bench's quilt reads");
    for place in quilt.setting.places.iter_mut().flatten() {
        place.turns = u8::try_from(next(4)).expect("0 to 3");
    }
    Quilt { pressings, ..quilt }
}
