//! How long the work in the lap takes on a king quilt of 210 sections with some 60 lines each: designed, cut, routed, and looked over for gaps.
//!
//! `designs`: lines in every block, drawn by block and shared by equal sections. `parallel`: lines through the whole quilt, so that no two
//! sections are alike. `crossed`: the same both ways, which cross 900 times in a section. `again`: after one block has been
//! exchanged, with what was known before. `crowded`: one section of 2,000 lines. That everything is routed best is checked once outside the clock.

use divan::Bencher;
use seamfall_model::{Quilt, read};
use seamfall_plan::lap::{Memo, derive, derive_while};
use seamfall_plan::{Plan, plan};

fn main() {
    divan::main();
}

fn king(quilting: &str) -> Quilt {
    let text = format!(
        r##"format = 1
name = "King"
measure = "inch"
largest-section = "13"
[cloth.night]
colour = "#22304f"
[block.plain]
shape = "square"
size = "8"
cloths = {{ one = "night" }}
patches = {{ one = [[1, 1]] }}
[setting]
layout = "straight"
columns = 14
rows = 15
pattern = [["plain"]]
{quilting}
"##
    );
    read(&text).unwrap_or_else(|error| panic!("{error:#?}"))
}

/// The same with one block exchanged for another.
fn changed(quilt: &Quilt) -> Quilt {
    let mut other = quilt.clone();
    let mut block = quilt.blocks[0].clone();
    block.key = "other".to_owned();
    other.blocks.push(block);
    other.setting.places[7][7].block = seamfall_model::BlockId(1);
    other
}

fn designed() -> Quilt {
    let lines = (0..60).map(|k| format!("M 0 {k} H 60 ")).collect::<String>();
    king(&format!("[[quilting]]\non = \"plain\"\ndesign = \"path\"\nsize = \"7 x 7\"\npath = \"{lines}\"\n"))
}

fn ruled(design: &str, spacing: f64) -> Quilt {
    king(&format!("[[quilting]]\non = \"quilt\"\ndesign = \"{design}\"\nangle = 30.1\nspacing = \"{spacing}\"\n"))
}

fn checked(quilt: &Quilt, patterns: std::ops::RangeInclusive<usize>) -> Plan {
    let plan = plan(quilt);
    assert_eq!(plan.top.sections.len(), 210);
    assert!(patterns.contains(&plan.lap.patterns.len()), "{}", plan.lap.patterns.len());
    assert!(plan.lap.patterns.iter().all(|pattern| pattern.starts == pattern.bound));
    let lines = plan.lap.patterns[0].lines.iter().filter(|line| line.now).count();
    assert!((50..=75).contains(&lines), "{lines}");
    plan
}

fn bench(bencher: Bencher, quilt: &Quilt, patterns: std::ops::RangeInclusive<usize>) {
    let plan = checked(quilt, patterns);
    bencher.bench_local(|| derive(divan::black_box(quilt), &plan.drafts, &plan.top));
}

#[divan::bench(sample_count = 20)]
fn designs(bencher: Bencher) {
    bench(bencher, &designed(), 1..=1);
}

#[divan::bench(sample_count = 20)]
fn parallel(bencher: Bencher) {
    bench(bencher, &ruled("parallel", 0.175), 200..=210);
}

#[divan::bench(sample_count = 20)]
fn crossed(bencher: Bencher) {
    bench(bencher, &ruled("crossed", 0.35), 200..=210);
}

/// One section with 2,000 short lines by chance, from the drawing to the paths.
#[divan::bench(sample_count = 20)]
fn crowded(bencher: Bencher) {
    let mut state = 7u64;
    let mut next = |limit: u64| {
        // Xorshift (G. Marsaglia, 2003).
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        (state >> 33) % limit
    };
    let mut path = String::new();
    for _ in 0..2_000 {
        let (x, y) = (next(2200), next(2200));
        path += &format!("M{x} {y}L{} {}", x + next(200), y + next(200));
    }
    let text = king(&format!("[[quilting]]\non = \"plain\"\ndesign = \"path\"\nsize = \"22\"\npath = \"{path}\"\n"));
    let mut quilt = text;
    quilt.largest_section = seamfall_model::Length::new(24.0);
    quilt.blocks[0].shape = seamfall_model::Shape::Square { side: seamfall_model::Length::new(24.0) };
    quilt.setting.places.truncate(1);
    quilt.setting.places[0].truncate(1);
    let plan = plan(&quilt);
    let pattern = &plan.lap.patterns[0];
    assert_eq!(pattern.starts, pattern.bound);
    assert!(pattern.unaided > 100, "{}", pattern.unaided);
    bencher.bench_local(|| derive(divan::black_box(&quilt), &plan.drafts, &plan.top));
}

#[divan::bench(args = ["designs", "parallel", "crossed"], sample_count = 20)]
fn again(bencher: Bencher, kind: &str) {
    let quilt = match kind {
        "designs" => designed(),
        "parallel" => ruled("parallel", 0.175),
        _ => ruled("crossed", 0.35),
    };
    let mut other = changed(&quilt);
    // The other block is quilted with a circle, so that one section and its neighbours are new.
    other.quilting.push(seamfall_model::Quilting {
        on: seamfall_model::QuiltedOn::Block(seamfall_model::BlockId(1)),
        design: seamfall_model::QuiltingDesign::Motif { motif: seamfall_model::Motif::Circle, size: None, repeats: None },
    });
    let (first, second) = (plan(&quilt), plan(&other));
    bencher
        .with_inputs(|| {
            let mut memo = Memo::default();
            let _ = derive_while(&quilt, &first.drafts, &first.top, &mut memo, &|| true);
            memo
        })
        .bench_local_values(|mut memo| derive_while(divan::black_box(&other), &second.drafts, &second.top, &mut memo, &|| true));
}
