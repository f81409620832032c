//! How long questions about an edge take: each alone, and the whole stage on a king quilt with a scalloped edge bound on the bias.

use divan::Bencher;
use seamfall_geom::Vec2;
use seamfall_model::{Arcs, BindingOn, EdgeFinish, Length, Measure};
use seamfall_plan::finish::scallops::{self, Curve, Wish};
use seamfall_plan::finish::{Ruler, bias, derive};
use seamfall_plan::plan;
use seamfall_testkit as quilts;

fn main() {
    divan::main();
}

#[divan::bench]
fn square_for_a_thousand_yards_of_bias(bencher: Bencher) {
    let ask = || bias::square_for(Length::new(36_000.0), Length::new(2.25), Ruler::usual(Measure::Inch));
    assert!(ask().expect("it can be had").tube.length.value >= 36_000.0);
    bencher.bench(ask);
}

#[divan::bench]
fn scallops_round_a_king(bencher: Bencher) {
    let wish = Wish { curve: Curve::Scallops, about: Length::new(4.0), depth: Length::new(1.0), corner: Length::new(4.0) };
    let ask = || scallops::round(Vec2::new(110.0, 112.0), &wish, Ruler::usual(Measure::Inch));
    assert!(ask().is_ok());
    bencher.bench(ask);
}

#[divan::bench]
fn stage_of_a_king(bencher: Bencher) {
    let mut quilt = quilts::king_200();
    quilt.finish.edge = EdgeFinish::Scallops(Arcs { width: Length::new(4.0), depth: Length::new(1.0), corner: None });
    quilt.binding =
        Some(seamfall_model::Binding { cloth: seamfall_model::ClothId(0), width: Length::new(2.25), on: BindingOn::Bias });
    let top = plan(&quilt).top;
    assert!(derive(&quilt, &top).result.curved.is_some());
    bencher.bench(|| derive(divan::black_box(&quilt), divan::black_box(&top)));
}
