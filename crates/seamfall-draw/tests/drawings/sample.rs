//! A small quilt with a block whose every number is known: a 6 in square, a quarter circle of 4 in in its lower left corner.
//!
//! The draft is written out by hand, so that these tests know what must be drawn without asking the stage that finds patches.
//! Cut outlines at 1/4 in: the arcs run at 4 1/4 and 3 3/4 about the same centre and meet the lines 1/4 in beyond the edge at
//! √(4.25² - 0.25²) = √18 and √(3.75² - 0.25²) = √14.

use seamfall_cutting::Budget;
use seamfall_geom::{Edge, Loop, Point, Pose, Turn, Vec2};
use seamfall_model::*;
use seamfall_plan::cut::Making;
use seamfall_plan::draft::{Draft, Kind, Notch, OverlayShape, Patch, SeamLine, Template};
use seamfall_plan::{Plan, cut, fall, finish, join, lap, piece, set, sewn, truing};

pub fn quilt(measure: Measure) -> Quilt {
    let length = |inches: f64| Length::new(inches * measure.inch());
    let cloth = |key: &str, name: &str, colour, value| Cloth {
        key: key.to_owned(),
        name: name.to_owned(),
        colour,
        value,
        look: None,
        print: Print::None,
        width: length(42.0),
        shrinkage: Shrinkage(0),
        price: None,
        from: Vec::new(),
    };
    let place =
        |turns, mirrored| Place { block: BlockId(0), turns, mirrored, swaps: Vec::new(), frame: FrameChoice::Framed(FrameId(0)) };
    let mut swapped = place(2, false);
    swapped.swaps = vec![(ClothId(0), ClothId(1)), (ClothId(1), ClothId(0))];
    Quilt {
        name: "Moths & \"lamps\" <two>".to_owned(),
        measure,
        allowance: Allowance(length(0.25)),
        step: if measure == Measure::Inch { Step::Eighth } else { Step::Millimetre },
        cloths: vec![
            cloth("cream", "Cream", Colour(0xf3, 0xe9, 0xd2), Value::Light),
            cloth("navy", "Navy & white", Colour(0x22, 0x30, 0x4f), Value::Dark),
            cloth("moss", "Moss", Colour(0x7a, 0x8b, 0x5a), Value::Medium),
        ],
        blocks: vec![Block {
            key: "quarter-moon".to_owned(),
            name: "Quarter moon".to_owned(),
            starter: None,
            shape: Shape::Square { side: length(6.0) },
            grid: None,
            seams: Vec::new(),
            marks: Vec::new(),
            overlays: Vec::new(),
            parts: vec![
                Part { name: "sky".to_owned(), cloth: ClothId(1) },
                Part { name: "moon".to_owned(), cloth: ClothId(0) },
                Part { name: "leaf".to_owned(), cloth: ClothId(2) },
            ],
            frame: None,
        }],
        frames: vec![Frame {
            key: "narrow".to_owned(),
            corners: Corners::Mitred,
            strips: vec![Strip { width: length(1.0), cloth: ClothId(2) }],
        }],
        setting: Setting {
            layout: Layout::Straight,
            places: vec![vec![place(0, false), place(1, false)], vec![place(0, true), swapped]],
        },
        sashing: Some(Sashing {
            width: length(0.5),
            cloth: ClothId(0),
            cornerstones: Some(ClothId(1)),
            around: false,
            grain: Grain::Across,
        }),
        bands: vec![Band { width: length(2.0), cloth: ClothId(1), corners: Corners::Butted, grain: Grain::Across }],
        largest_section: length(12.0),
        bed: None,
        corners: seamfall_model::CornerShape::Square,
        pressings: None,
        falls: Vec::new(),
        ways: Vec::new(),
        fussy: Vec::new(),
        reserve: Length::ZERO,
        cutting_stages: 5,
        binding: None,
        backing: None,
        batting: None,
        sample: None,
        thread: None,
        lap: Lap::usual(measure),
        quilting: Vec::new(),
        joining: seamfall_model::Joining::usual(measure),
        finish: Finishing::default(),
    }
}

pub fn plan(quilt: &Quilt) -> Plan {
    let mut findings = Vec::new();
    let top = set::derive(quilt).into_parts(&mut findings);
    let sewn = sewn::derive(quilt, &Ledger::default(), &top).into_parts(&mut findings);
    let drafts = vec![draft(quilt.measure.inch())];
    let piecing = piece::derive(quilt, &drafts, &top).into_parts(&mut findings);
    let falls = fall::derive(quilt, &[], &top, &piecing, fall::Effort::default()).into_parts(&mut findings);
    let units = piece::units(&drafts, &top, &piecing, &falls.orders);
    let making = Making { units: Vec::new(), looks: Vec::new() };
    let finish = finish::derive(quilt, &top).into_parts(&mut findings);
    let cutting = cut::derive(quilt, &drafts, &top, &making, &finish.pieces, Budget::FIRST).into_parts(&mut findings);
    let lap = lap::derive(quilt, &drafts, &top).into_parts(&mut findings);
    let before = join::Before { drafts: &drafts, top: &top, piecing: &piecing, falls: &falls, lap: &lap };
    let join = join::derive(quilt, before, &[], fall::Effort::default()).into_parts(&mut findings);
    let truing = truing::Truing::default();
    Plan { fit: None, drafts, top, sewn, piecing, falls, units, making, cutting, lap, truing, join, finish, findings }
}

/// The block's draft, `inch` being an inch in the unit of the quilt.
pub fn draft(inch: f64) -> Draft {
    let at = |x: f64, y: f64| Point::new(x * inch, y * inch);
    let line = |from: (f64, f64), to: (f64, f64)| Edge::Line { from: at(from.0, from.1), to: at(to.0, to.1) };
    let arc = |from: (f64, f64), to: (f64, f64), turn| Edge::Arc {
        from: at(from.0, from.1),
        to: at(to.0, to.1),
        centre: at(0.0, 0.0),
        turn,
    };
    let sky = Loop::new(vec![
        line((4.0, 0.0), (6.0, 0.0)),
        line((6.0, 0.0), (6.0, 6.0)),
        line((6.0, 6.0), (0.0, 6.0)),
        line((0.0, 6.0), (0.0, 4.0)),
        arc((0.0, 4.0), (4.0, 0.0), Turn::Right),
    ]);
    let moon =
        Loop::new(vec![line((0.0, 0.0), (4.0, 0.0)), arc((4.0, 0.0), (0.0, 4.0), Turn::Left), line((0.0, 4.0), (0.0, 0.0))]);
    let (e, wide, narrow) = (-0.25, 18.0_f64.sqrt(), 14.0_f64.sqrt());
    let sky_cut = Loop::new(vec![
        line((narrow, e), (6.25, e)),
        line((6.25, e), (6.25, 6.25)),
        line((6.25, 6.25), (e, 6.25)),
        line((e, 6.25), (e, narrow)),
        arc((e, narrow), (narrow, e), Turn::Right),
    ]);
    let moon_cut = Loop::new(vec![line((e, e), (wide, e)), arc((wide, e), (e, wide), Turn::Left), line((e, wide), (e, e))]);
    // A leaf: two arcs of 2 in radius over one chord, 2 in long.
    let rise = 3.0_f64.sqrt();
    let leaf_arc = |from: (f64, f64), to: (f64, f64), centre: (f64, f64)| Edge::Arc {
        from: at(from.0, from.1),
        to: at(to.0, to.1),
        centre: at(centre.0, centre.1),
        turn: Turn::Left,
    };
    let leaf =
        Loop::new(vec![leaf_arc((5.0, 4.0), (5.0, 2.0), (5.0 + rise, 3.0)), leaf_arc((5.0, 2.0), (5.0, 4.0), (5.0 - rise, 3.0))]);
    let corner = Pose::shift(Vec2::new(0.25 * inch, 0.25 * inch));
    let middle = (Point::new(4.0, 4.0).to_vec2() * inch / 2.0_f64.sqrt()).to_point();
    let notch = |towards: f64| Notch { from: corner.apply(middle), to: corner.apply((middle.to_vec2() * towards).to_point()) };
    let patch = |outline: &Loop, area: f64, part, label, template| Patch {
        outline: outline.clone(),
        holes: Vec::new(),
        area: area * inch * inch,
        part: Some(PartId(part)),
        label,
        template,
        grain_deg: 90.0,
        up_deg: 90.0,
    };
    let disc = 4.0 * std::f64::consts::PI;
    let template = |letter: &str, kind, finished: &Loop, cut: Option<&Loop>, notches| Template {
        letter: letter.to_owned(),
        kind,
        finished: finished.moved(corner),
        holes: Vec::new(),
        cut: cut.map(|cut| cut.moved(corner)),
        middle: finished.moved(corner).label_point(),
        notches,
        count: 1,
    };
    Draft {
        outline: Loop::polygon(&[at(0.0, 0.0), at(6.0, 0.0), at(6.0, 6.0), at(0.0, 6.0)]),
        size: Vec2::new(6.0 * inch, 6.0 * inch),
        patches: vec![patch(&sky, 36.0 - disc, 0, at(4.4, 4.4), 0), patch(&moon, disc, 1, at(1.7, 1.7), 1)],
        overlays: vec![OverlayShape { outline: leaf.clone(), part: PartId(2), template: 2 }],
        seams: vec![SeamLine { edge: arc((4.0, 0.0), (0.0, 4.0), Turn::Left), seam: 1, left: 1, right: 0 }],
        templates: vec![
            template("A", Kind::Curved, &sky, Some(&sky_cut), vec![notch(3.75 / 4.0)]),
            template("B", Kind::Curved, &moon, Some(&moon_cut), vec![notch(4.25 / 4.0)]),
            template("C", Kind::Overlay, &leaf, None, Vec::new()),
        ],
    }
}
