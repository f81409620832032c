//! How long drawings take.

use seamfall_draw::{Colours, QuiltStyle, quilt_svg};
use std::sync::LazyLock;

fn main() {
    divan::main();
}

/// 200 places and about 6,000 patches.
static KING: LazyLock<(seamfall_model::Quilt, seamfall_plan::Plan)> = LazyLock::new(|| {
    let quilt = seamfall_testkit::king_200();
    let plan = seamfall_plan::plan(&quilt);
    let svg = quilt_svg(&quilt, &plan, &WORKROOM);
    assert!(svg.len() < 1_500_000, "the drawing of a king quilt has {} bytes", svg.len());
    (quilt, plan)
});

const WORKROOM: QuiltStyle = QuiltStyle {
    paint: seamfall_draw::Paint::Cloths,
    colours: Colours::Classes,
    sections: true,
    falls: true,
    quilting: true,
    names: true,
    ids: true,
};

#[divan::bench(args = [200])]
fn quilt(bencher: divan::Bencher, _places: usize) {
    let (quilt, plan) = &*KING;
    bencher.bench(|| quilt_svg(quilt, plan, &WORKROOM));
}
