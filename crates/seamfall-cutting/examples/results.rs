//! Measures the engine on the instances.
use seamfall_cutting::{
    Budget,
    check::check,
    cut,
    file::{self, Task},
    job::Stages,
};
use std::time::Instant;
fn main() {
    let args: Vec<String> = std::env::args().collect();
    let start = args.get(1).cloned().unwrap_or("q-".into());
    let stages = Stages::new(args.get(2).and_then(|a| a.parse().ok()).unwrap_or(5)).unwrap();
    let budget = Budget(args.get(3).and_then(|a| a.parse().ok()).unwrap_or(Budget::FULL.0));
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/instances");
    let mut paths: Vec<_> = std::fs::read_dir(folder)
        .unwrap()
        .map(|e| e.unwrap().path())
        .filter(|p| p.extension().is_some_and(|e| e == "json") && p.file_name().unwrap().to_string_lossy().starts_with(&start))
        .collect();
    paths.sort();
    let mut gaps = Vec::new();
    for path in paths {
        let text = std::fs::read_to_string(&path).unwrap();
        let order = file::read(&text, Some(stages)).unwrap();
        let known: serde_json::Value = serde_json::from_str(&text).unwrap();
        let Task::Length(job) = &order.task else { continue };
        let clock = Instant::now();
        let result = cut(job, budget);
        let time = clock.elapsed();
        let verified = check(job, &result.layout.placements(job), result.layout.length);
        let per = f64::from(order.ticks_per_unit);
        let length = result.layout.length as f64 / per;
        let bound = result.bound.length as f64 / per;
        let gap = 100.0 * (length / bound - 1.0);
        gaps.push(gap);
        let best = known["best_straight"]["length"].as_f64().unwrap_or(0.0);
        let two = known["best_two_stage"]["length"].as_f64().unwrap_or(0.0);
        println!(
            "{:20} {:9.3} bound {:9.3} gap {:6.2} | best {:9.3} ({}) {:6.2} two {:9.3} | {:?} steps {} {}",
            order.name,
            length,
            bound,
            gap,
            best,
            known["best_straight"]["stages"],
            100.0 * (best / bound - 1.0),
            two,
            time,
            result.steps,
            match verified {
                Ok(v) => format!("stages {}/{}", v.stages, v.stages_with_trim),
                Err(f) => format!("BAD {f}"),
            }
        );
    }
    gaps.sort_by(f64::total_cmp);
    println!(
        "median {:.3} within 0.4: {} within 1: {} within 2.5: {} of {}",
        gaps[gaps.len() / 2],
        gaps.iter().filter(|g| **g <= 0.4).count(),
        gaps.iter().filter(|g| **g <= 1.0).count(),
        gaps.iter().filter(|g| **g <= 2.5).count(),
        gaps.len()
    );
}
