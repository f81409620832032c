//! The check finds what is wrong with a layout, one fault at a time.

use seamfall_cutting::check::{Fault, check};
use seamfall_cutting::job::{Job, Kind, Stages};
use seamfall_cutting::layout::Placement;

fn kind(name: &str, width: u32, height: u32, count: u32, turn: bool) -> Kind {
    Kind { name: name.into(), width, height, count, turn }
}

fn job(width: u32, kerf: u32, stages: u8, kinds: Vec<Kind>) -> Job {
    Job::new(width, kerf, Stages::new(stages).expect("a known limit"), kinds).expect("a job that can be cut")
}

fn at(kind: usize, x: u64, y: u64, width: u32, height: u32, turned: bool) -> Placement {
    Placement { kind, x, y, width, height, turned }
}

/// Five pieces that lock each other, the plain pinwheel: four 1 x 2 about a square. No straight cut passes.
#[test]
fn a_pinwheel_is_locked() {
    let job = job(3, 0, 5, vec![kind("arm", 1, 2, 4, true), kind("hub", 1, 1, 1, true)]);
    let wheel = [
        at(0, 0, 0, 1, 2, false),
        at(0, 1, 0, 2, 1, true),
        at(0, 2, 1, 1, 2, false),
        at(0, 0, 2, 2, 1, true),
        at(1, 1, 1, 1, 1, false),
    ];
    assert_eq!(check(&job, &wheel, 3), Err(Fault::Locked { placement: 0, pieces: 5 }));
}

#[test]
fn each_fault_is_found() {
    let two = job(4, 0, 2, vec![kind("a", 2, 1, 2, false)]);
    let good = [at(0, 0, 0, 2, 1, false), at(0, 2, 0, 2, 1, false)];
    let verified = check(&two, &good, 1).expect("two pieces side by side");
    assert_eq!((verified.stages, verified.stages_with_trim, verified.cuts, verified.used_length), (2, 2, 1, 1));
    let faults = [
        (vec![good[0]], 1, Fault::Count { piece: "a".into(), placed: 1, wanted: 2 }),
        (vec![good[0], at(0, 1, 0, 2, 1, false)], 1, Fault::Overlap { first: 0, second: 1 }),
        (vec![good[0], good[0]], 1, Fault::Overlap { first: 0, second: 1 }),
        (vec![good[0], at(0, 3, 0, 2, 1, false)], 1, Fault::Outside { placement: 1, piece: "a".into() }),
        (vec![good[0], at(0, 0, 1, 2, 1, false)], 1, Fault::Outside { placement: 1, piece: "a".into() }),
        (vec![good[0], at(0, 2, 0, 1, 2, true)], 2, Fault::Turned { placement: 1, piece: "a".into() }),
        (vec![good[0], at(0, 2, 0, 1, 1, false)], 1, Fault::WrongSize { placement: 1, piece: "a".into() }),
        (vec![good[0], at(7, 2, 0, 2, 1, false)], 1, Fault::NoSuchKind { placement: 1, kind: 7 }),
    ];
    for (placements, length, fault) in faults {
        assert_eq!(check(&two, &placements, length), Err(fault));
    }
}

/// A kerf of 1 needs a gap of 1 wherever pieces come apart.
#[test]
fn a_kerf_needs_its_room() {
    let job = job(5, 1, 2, vec![kind("a", 2, 1, 2, false)]);
    assert!(check(&job, &[at(0, 0, 0, 2, 1, false), at(0, 3, 0, 2, 1, false)], 1).is_ok());
    assert_eq!(
        check(&job, &[at(0, 0, 0, 2, 1, false), at(0, 2, 0, 2, 1, false)], 1),
        Err(Fault::Locked { placement: 0, pieces: 2 })
    );
}

/// Counted by hand: a strip, a sub-cut, then a stack beside a piece, and at last a trim.
#[test]
fn stages_are_counted_with_and_without_the_last_trim() {
    let kinds = vec![kind("tall", 2, 4, 1, false), kind("low", 2, 2, 1, false), kind("slim", 1, 2, 1, false)];
    let stack = [at(0, 0, 0, 2, 4, false), at(1, 2, 0, 2, 2, false), at(2, 2, 2, 1, 2, false)];
    let three = job(4, 0, 3, kinds.clone());
    let verified = check(&three, &stack, 4).expect("a stack beside a piece");
    assert_eq!((verified.stages, verified.stages_with_trim), (3, 4));
    assert_eq!(check(&three.with_stages(Stages::TWO), &stack, 4), Err(Fault::TooManyStages { stages: 3, limit: 2 }));
}
