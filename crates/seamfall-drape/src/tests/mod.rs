//! Tests of the drape against curves and lengths known without it.

mod corners;
mod hanging;
mod mesh;
mod scenes;

use crate::{Bed, Drape, Hand, Scene};
use seamfall_geom::{Loop, Rect};

/// A bed in inches whose edges are rounded by an inch.
fn bed(width: f64, length: f64, height: f64) -> Bed {
    Bed { width, length, height, edge: 1.0, posts: Vec::new() }
}

/// A cloth that hangs over both sides and the foot, its upper edge at the head.
fn spread(bed: &Bed, side: f64, foot: f64) -> Loop {
    Loop::rect(Rect::new(-bed.width / 2.0 - side, -bed.length / 2.0 - foot, bed.width / 2.0 + side, bed.length / 2.0))
}

fn scene(bed: Bed, outline: Loop, points: usize) -> Scene {
    Scene { bed, outline, hand: Hand::quilt(39.37), points }
}

/// Drapes to the end.
fn settle(scene: Scene) -> Drape {
    let mut drape = Drape::new(scene).expect("a scene that can be");
    while !drape.advance().finished {}
    drape
}
