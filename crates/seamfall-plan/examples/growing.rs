//! How the cost of every stage grows with the quilt, from ten patches to a hundred thousand, as the table of `docs/growing.md`.
//!
//! In: nothing. Out: for every size the milliseconds of every stage, the least of several runs, and how it grows: the slope of time over patches,
//! both as logarithms, from a thousand patches on. What grows like n log n has a slope of about 1.1 there. Run it with `--release`.

use seamfall_model::{Ledger, Quilt, read, starter_blocks};
use seamfall_plan::{Effort, Staged, cut, draft, fall, finish, fit, join, lap, piece, set, sewn, truing};
use std::fmt::Write;
use std::time::Instant;

/// Blocks along a side.
const SIDES: [usize; 9] = [1, 2, 4, 7, 10, 18, 32, 50, 70];
const STAGES: [&str; 12] = ["draft", "set", "fit", "sewn", "piece", "fall", "making", "finish", "cut", "lap", "truing", "join"];
const KEYS: [&str; 4] = ["ohio-star", "churn-dash", "jacobs-ladder", "sawtooth-star"];

fn main() {
    println!("| patches | {} | all |", STAGES.join(" | "));
    println!("|{}", " ---: |".repeat(STAGES.len() + 2));
    let mut curves: Vec<(f64, Vec<f64>)> = Vec::new();
    for side in SIDES {
        let quilt = turned(side);
        let (patches, mut best) = staged(&quilt);
        for _ in 0..if side < 32 { 4 } else { 1 } {
            let (_, again) = staged(&quilt);
            best.iter_mut().zip(again).for_each(|(best, took)| *best = best.min(took));
        }
        best.push(best.iter().sum());
        println!("| {patches} |{}", best.iter().map(|took| format!(" {took:.2} |")).collect::<String>());
        #[expect(clippy::cast_precision_loss, reason = "patches are far fewer than 2^52")]
        curves.push((patches as f64, best));
    }
    let large: Vec<_> = curves.iter().filter(|(patches, _)| *patches >= 1_000.0).collect();
    let slopes = (0..=STAGES.len())
        .map(|stage| slope(large.iter().map(|(patches, took)| (libm::log(*patches), libm::log(took[stage].max(1e-4))))));
    println!("| grows like n^ |{}", slopes.map(|slope| format!(" {slope:.2} |")).collect::<String>());
}

/// Runs the stages one after the other; patches, and milliseconds of each.
fn staged(quilt: &Quilt) -> (usize, Vec<f64>) {
    let mut took = Vec::new();
    let mut since = Instant::now();
    let mut lap_time = || {
        took.push(since.elapsed().as_secs_f64() * 1_000.0);
        since = Instant::now();
    };
    let (effort, ledger) = (Effort::FIRST, Ledger::default());
    let drafts: Vec<_> = quilt.blocks.iter().map(|block| draft::derive(quilt, block).result).collect();
    lap_time();
    let Staged { result: top, .. } = set::derive(quilt);
    lap_time();
    let _ = fit::derive(quilt, fit::Pieced { size: top.size, corner_block: None });
    lap_time();
    let sewn = sewn::derive(quilt, &ledger, &top).result;
    lap_time();
    let piecing = piece::derive(quilt, &drafts, &top).result;
    lap_time();
    let falls = fall::derive(quilt, &sewn.pressed, &top, &piecing, effort.falls).result;
    lap_time();
    let units = piece::units(&drafts, &top, &piecing, &falls.orders);
    let making = cut::making(quilt, &piecing, &falls.orders, &units).result;
    lap_time();
    let finish = finish::derive(quilt, &top).result;
    lap_time();
    let _ = cut::derive(quilt, &drafts, &top, &making, &finish.pieces, effort.cutting);
    lap_time();
    let lap = lap::derive(quilt, &drafts, &top).result;
    lap_time();
    let measured = truing::Before { drafts: &drafts, top: &top, sewn: &sewn, falls: &falls, lap: &lap };
    let _ = truing::derive(quilt, measured, effort.placing);
    lap_time();
    let before = join::Before { drafts: &drafts, top: &top, piecing: &piecing, falls: &falls, lap: &lap };
    let _ = join::derive(quilt, before, &sewn.joined(), effort.falls);
    lap_time();
    (top.places.iter().map(|place| drafts[place.block.0].patches.len()).sum(), took)
}

/// The slope of the straight line that lies nearest to the points (least squares).
fn slope(points: impl Iterator<Item = (f64, f64)> + Clone) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "there are few points")]
    let count = points.clone().count() as f64;
    let (x, y) = points.clone().fold((0.0, 0.0), |sum, (x, y)| (sum.0 + x / count, sum.1 + y / count));
    let (over, under) = points.fold((0.0, 0.0), |sum, (px, py)| (sum.0 + (px - x) * (py - y), sum.1 + (px - x) * (px - x)));
    over / under
}

/// A square of four kinds of block, dealt and turned by a fixed chain of chance.
fn turned(side: usize) -> Quilt {
    let mut text = String::from("format = 1\nname = \"Growing\"\nmeasure = \"inch\"\nlargest-section = \"40\"\n");
    text.push_str("[cloth.light]\ncolour = \"#f0eadc\"\n[cloth.dark]\ncolour = \"#22304f\"\n");
    for key in KEYS {
        let block = starter_blocks().iter().find(|block| block.key == key).expect("a starter block");
        let cloths = block.parts.iter().enumerate().map(|(i, part)| format!("{} = {:?}", part.name, ["light", "dark"][i % 2]));
        let cloths: Vec<String> = cloths.collect();
        let _ = writeln!(text, "[block.{key}]\nstarter = {key:?}\nsize = \"12\"\ncloths = {{ {} }}", cloths.join(", "));
    }
    let mut chance = 1_u32;
    let mut next = |below: u32| {
        chance = chance.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (chance >> 16) % below
    };
    let rows: Vec<String> =
        (0..side).map(|_| format!("{:?}", (0..side).map(|_| KEYS[next(4) as usize]).collect::<Vec<_>>())).collect();
    let _ = writeln!(text, "[setting]\nlayout = \"straight\"\ncolumns = {side}\nrows = {side}\npattern = [{}]", rows.join(", "));
    let mut quilt = read(&text).expect("the quilt reads");
    for place in quilt.setting.places.iter_mut().flatten() {
        place.turns = u8::try_from(next(4)).expect("it is below four");
    }
    quilt
}
