//! What must hold for every scene: the same bytes each time, mirror images, finite places, refusals with a way out.

use super::{bed, scene, settle, spread};
use crate::{Bed, Drape, Hand, Scene, SceneError};
use seamfall_geom::{Loop, Rect};

fn bytes(drape: &Drape) -> Vec<u64> {
    drape.points().iter().flatten().map(|number| number.to_bits()).collect()
}

#[test]
fn the_same_scene_gives_the_same_bytes() {
    let bed = bed(54.0, 75.0, 25.0);
    let scene = scene(bed.clone(), spread(&bed, 14.0, 12.0), 2000);
    assert_eq!(bytes(&settle(scene.clone())), bytes(&settle(scene)));
}

#[test]
fn a_bed_that_is_its_mirror_image_gets_a_quilt_that_is() {
    let bed = bed(54.0, 75.0, 25.0);
    let drape = settle(scene(bed.clone(), spread(&bed, 14.0, 12.0), 2000));
    let row = drape.flat().iter().take_while(|flat| flat[1] == drape.flat()[0][1]).count();
    let worst = (0..drape.flat().len()).map(|i| {
        let (one, other) = (drape.points()[i], drape.points()[i / row * row + row - 1 - i % row]);
        [one[0] + other[0], one[1] - other[1], one[2] - other[2]].iter().fold(0.0_f64, |most, off| most.max(off.abs()))
    });
    let worst = worst.fold(0.0, f64::max);
    // Sums are not taken in mirrored order, and folds make much of the last bits.
    assert!(worst < 0.2, "{worst}");
}

#[test]
fn progress_never_falls_and_ends_with_the_whole() {
    let bed = bed(54.0, 75.0, 25.0);
    let mut drape = Drape::new(scene(bed.clone(), spread(&bed, 14.0, 12.0), 3000)).expect("a scene that can be");
    let mut done = 0.0;
    loop {
        let progress = drape.advance();
        assert!(progress.done >= done && progress.done <= 1.0, "{done} and then {}", progress.done);
        done = progress.done;
        if progress.finished {
            break;
        }
    }
    assert!((done - 1.0).abs() < 1e-12 && drape.settled());
    let before = bytes(&drape);
    assert!(drape.advance().finished);
    assert_eq!(before, bytes(&drape), "nothing moves after the end");
}

/// Weight times height, one a point: what the cloth gives up on its way to rest.
#[test]
fn cloth_comes_to_rest_lower_than_it_was_laid() {
    let bed = bed(54.0, 75.0, 25.0);
    let mut drape = Drape::new(scene(bed.clone(), spread(&bed, 14.0, 12.0), 1000)).expect("a scene that can be");
    let height = |drape: &Drape| drape.points().iter().map(|at| at[2]).sum::<f64>() / drape.points().len() as f64;
    let laid = height(&drape);
    while !drape.advance().finished {}
    assert!(height(&drape) < laid - 1.0, "{laid}, then {}", height(&drape));
    assert!(drape.speed() < 0.02, "{}", drape.speed());
}

#[test]
fn whatever_is_asked_every_place_is_finite() {
    let usual = bed(54.0, 75.0, 25.0);
    let hand = Hand::quilt(39.37);
    let cases: Vec<(&str, Bed, Loop, Hand)> = vec![
        ("cloth far beside the bed", usual.clone(), Loop::rect(Rect::new(500.0, 0.0, 560.0, 60.0)), hand),
        ("cloth smaller than the bed", usual.clone(), Loop::rect(Rect::new(-5.0, -5.0, 5.0, 5.0)), hand),
        ("a bed like a post", bed(2.1, 2.1, 60.0), Loop::rect(Rect::new(-50.0, -50.0, 50.0, 50.0)), hand),
        ("a bed of the height of nothing", Bed { edge: 0.1, ..bed(60.0, 80.0, 0.3) }, spread(&usual, 30.0, 30.0), hand),
        ("stiff as a board", usual.clone(), spread(&usual, 14.0, 12.0), Hand { bending_length: 1e4, ..hand }),
        ("limp as a web", usual.clone(), spread(&usual, 14.0, 12.0), Hand { bending_length: 0.0, shear_length: 1e-3, ..hand }),
        ("ice", usual.clone(), spread(&usual, 14.0, 12.0), Hand { friction: 0.0, ..hand }),
        ("glue", usual.clone(), spread(&usual, 14.0, 12.0), Hand { friction: 1e9, ..hand }),
        ("thick as a mattress", usual.clone(), spread(&usual, 14.0, 12.0), Hand { thickness: 10.0, ..hand }),
        ("in millimetres of a giant", bed(54e6, 75e6, 25e6), spread(&bed(54e6, 75e6, 25e6), 14e6, 12e6), Hand::quilt(39.37e6)),
    ];
    for (what, bed, outline, hand) in cases {
        let drape = settle(Scene { bed, outline, hand, points: 500 });
        assert!(drape.points().iter().flatten().all(|number| number.is_finite()), "{what}");
        assert!(drape.stretch().is_finite() && drape.lowest().is_finite(), "{what}");
    }
}

#[test]
fn what_cannot_be_is_refused_with_the_nearest_that_can() {
    let usual = bed(54.0, 75.0, 25.0);
    let of = |bed: Bed, outline: Loop, points: usize| Drape::new(scene(bed, outline, points)).err();
    let cloth = spread(&usual, 14.0, 12.0);
    assert_eq!(of(usual.clone(), cloth.clone(), 99), Some(SceneError::Points { points: 99, nearest: 100 }));
    assert_eq!(of(usual.clone(), cloth.clone(), 40_001), Some(SceneError::Points { points: 40_001, nearest: 40_000 }));
    assert_eq!(of(usual.clone(), cloth.clone(), 40_000), None);
    assert_eq!(of(usual.clone(), cloth.clone(), 100), None);
    let flat = Bed { height: 0.0, ..usual.clone() };
    assert_eq!(of(flat, cloth.clone(), 500), Some(SceneError::Length { what: "the height of the bed", value: 0.0 }));
    let round = Bed { edge: 20.0, ..usual.clone() };
    assert_eq!(of(round, cloth.clone(), 500), Some(SceneError::Edge { edge: 20.0, most: 12.5 }));
    let ribbon = Loop::rect(Rect::new(0.0, 0.0, 100.0, 4.0));
    assert_eq!(of(usual.clone(), ribbon, 500), Some(SceneError::Slender { long: 100.0, wide: 4.0 }));
    let nowhere = Bed { width: f64::NAN, ..usual.clone() };
    assert!(matches!(of(nowhere, cloth.clone(), 500), Some(SceneError::Length { what: "the width of the bed", .. })));
    let dot = Bed { width: 0.01, ..usual };
    assert!(matches!(of(dot, cloth, 500), Some(SceneError::Proportion { what: "the width of the bed", .. })));
}
