//! The bounds against those that came with the instances, and their proofs added up again.
//!
//! Bounds and best known layouts: the instance files, made with other programs; the literature's are named in each file.

mod common;

use common::instances;
use seamfall_cutting::bound::{Argument, Cases, any_layout, two_stage};
use seamfall_cutting::check::check;
use seamfall_cutting::handbook::handbook;
use seamfall_cutting::job::{Job, Kind, Stages};

#[test]
fn the_handbook_way_has_the_known_length() {
    for instance in instances("", Stages::TWO) {
        let layout = handbook(instance.job());
        assert_eq!(Some(layout.length), instance.known_ticks("/handbook"), "{}", instance.name);
        check(instance.job(), &layout.placements(instance.job()), layout.length)
            .unwrap_or_else(|fault| panic!("{}: {fault}", instance.name));
    }
}

/// Squares from one yard of cloth 44 in wide. Source: M. Hohn, Math charts page, Quilter's Cache, 2002; 7 in squares left out,
/// where the chart has 35 against its own rule of whole strips.
#[test]
fn squares_from_a_yard_are_those_of_the_chart() {
    let chart = [
        (1.0, 1584),
        (1.875, 437),
        (2.0, 396),
        (3.0, 168),
        (3.5, 120),
        (3.875, 99),
        (4.0, 99),
        (4.5, 72),
        (4.875, 63),
        (5.0, 56),
        (5.5, 48),
        (5.875, 42),
        (6.0, 42),
        (6.5, 30),
        (7.5, 20),
        (7.875, 20),
        (8.0, 20),
        (8.5, 20),
        (9.875, 12),
        (10.0, 12),
        (10.5, 12),
        (10.875, 12),
        (11.0, 12),
        (11.5, 9),
        (11.875, 9),
        (12.0, 9),
        (12.875, 6),
    ];
    for (side, count) in chart {
        let eighths = (side * 8.0) as u32;
        let length = |count| {
            let kind = Kind { name: "square".into(), width: eighths, height: eighths, count, turn: true };
            handbook(&Job::new(44 * 8, 0, Stages::TWO, vec![kind]).expect("a square fits")).length
        };
        assert!(length(count) <= 36 * 8 && length(count + 1) > 36 * 8, "{side} in: {count} squares");
    }
}

#[test]
fn bounds_are_no_lower_than_the_known_ones_and_no_higher_than_the_best_layouts() {
    for instance in instances("", Stages::TWO) {
        let job = instance.job();
        let any = any_layout(job);
        let known = instance.known_ticks("/bounds/any_layout").expect("it is known");
        let best = instance.known_ticks("/best_known").expect("it is known");
        assert!((known..=best).contains(&any.length), "{}: {} is not within {known} and {best}", instance.name, any.length);
        assert!(any.adds_up(job), "{}", instance.name);
    }
}

/// FIXME: the cases end at their budget of work.
const LOWER: [&str; 3] = ["q-strips-40-44", "q-strips-42-41", "q-wide-108-38"];

/// The known two-stage bounds were raised with an integer programme where it proved more, and rest on its solver; ours are raised by cases,
/// and each case is added up again.
#[test]
fn two_stage_bounds_add_up_and_are_as_high_as_the_known_ones() {
    let mut lower = Vec::new();
    for instance in instances("q-", Stages::TWO) {
        let job = instance.job();
        let two = two_stage(job);
        let known = instance.known_ticks("/bounds/two_stage").expect("it is known");
        let best = instance.known_ticks("/best_two_stage/length").expect("it is known");
        assert!(two.length <= best, "{}: {} is more than {best}", instance.name, two.length);
        assert!(two.length as f64 >= 0.99 * known as f64, "{}: {} is far below {known}", instance.name, two.length);
        assert!(two.adds_up(job), "{}", instance.name);
        if two.length < known {
            lower.push(instance.name);
        }
    }
    assert_eq!(lower, LOWER, "the lists with a bound lower than is known");
}

#[test]
fn a_proof_that_was_tampered_with_does_not_add_up() {
    for instance in instances("q-", Stages::TWO) {
        for proof in [any_layout(instance.job()), two_stage(instance.job())] {
            let mut longer = proof.clone();
            longer.refuted += 1;
            longer.length += u64::from(proof.step);
            assert!(!longer.adds_up(instance.job()), "{}: a longer claim", instance.name);
            let mut lighter = proof.clone();
            match &mut lighter.argument {
                Argument::Sides { most_across, .. } => *most_across -= *most_across / 10 + 1,
                Argument::Strips(cases) => lighten(cases),
                Argument::Tallest { .. } => continue,
            }
            assert!(!lighter.adds_up(instance.job()), "{}: cloth that holds less", instance.name);
        }
    }
}

/// Every case claims that strips hold less.
fn lighten(cases: &mut Cases) {
    match cases {
        Cases::One(case) => case.strip.1 -= case.strip.1 / 10 + 1,
        Cases::Split { few, more, .. } => [few, more].into_iter().for_each(|part| lighten(part)),
    }
}

/// Perfect packings: the pieces fill the rectangle they were cut from, so that its area is the least length.
#[test]
fn nothing_is_proven_beyond_a_packing_without_waste() {
    let mut met = 0;
    for instance in instances("", Stages::TWO).iter().filter(|instance| instance.known["zero_waste"] == true) {
        let best = instance.known_ticks("/best_known").expect("it is known");
        let bound = any_layout(instance.job()).length;
        assert_eq!(bound, best, "{}", instance.name);
        met += 1;
    }
    assert!(met > 10, "{met} perfect packings are among the instances");
}
