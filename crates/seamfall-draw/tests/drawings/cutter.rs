//! DXF files, read back.

use super::sample;
use dxf::entities::{EntityType, LwPolyline};
use dxf::{Drawing, enums::Units};
use seamfall_draw::{section_dxf, template_dxf};
use seamfall_geom::Loop;
use seamfall_model::Measure;

fn read(text: &str) -> Drawing {
    Drawing::load(&mut text.as_bytes()).expect("a DXF file")
}

fn outlines<'a>(drawing: &'a Drawing, layer: &'a str) -> Vec<&'a LwPolyline> {
    let on_layer = drawing.entities().filter(|entity| entity.common.layer == layer);
    on_layer
        .map(|entity| if let EntityType::LwPolyline(line) = &entity.specific { line } else { panic!("{layer} holds outlines") })
        .collect()
}

/// Area (of a closed one) and length of a polyline with bulges, from the definition of a bulge: the tangent of a quarter of the angle, whose
/// arc has the radius chord / (2 sin(angle / 2)) and adds a segment of r²/2 (angle - sin(angle)) to the polygon.
fn measured(line: &LwPolyline) -> (f64, f64) {
    let (mut area, mut length) = (0.0, 0.0);
    let edges = line.vertices.len() - usize::from(!line.is_closed());
    for (i, a) in line.vertices.iter().enumerate().take(edges) {
        let b = &line.vertices[(i + 1) % line.vertices.len()];
        let chord = libm::hypot(b.x - a.x, b.y - a.y);
        area += (a.x * b.y - b.x * a.y) / 2.0;
        let angle = 4.0 * libm::atan(a.bulge);
        if angle == 0.0 {
            length += chord;
        } else {
            let radius = chord / (2.0 * libm::sin(angle.abs() / 2.0));
            area += radius * radius / 2.0 * (angle - libm::sin(angle));
            length += radius * angle.abs();
        }
    }
    (area, length)
}

#[test]
fn outlines_keep_their_area_and_length() {
    let quilt = sample::quilt(Measure::Inch);
    let draft = sample::draft(1.0);
    let drawing = read(&template_dxf(&quilt, &draft));
    let same = |line: &LwPolyline, wanted: &Loop| {
        let (area, length) = measured(line);
        assert!((area - wanted.area()).abs() < 1e-9, "area {area} for {}", wanted.area());
        assert!((length - wanted.perimeter()).abs() < 1e-9, "length {length} for {}", wanted.perimeter());
        assert!(line.is_closed());
    };
    let sewn = outlines(&drawing, "SEW");
    assert_eq!(sewn.len(), 3);
    for (line, template) in sewn.iter().zip(&draft.templates) {
        same(line, &template.finished);
    }
    // The moon is a quarter of a disc of radius 4.
    let (area, length) = measured(sewn[1]);
    assert!((area - 4.0 * std::f64::consts::PI).abs() < 1e-9 && (length - 8.0 - 2.0 * std::f64::consts::PI).abs() < 1e-9);
    let cut: Vec<_> = draft.templates.iter().filter_map(|template| template.cut.as_ref()).collect();
    assert_eq!(outlines(&drawing, "CUT").len(), cut.len());
    for (line, cut) in outlines(&drawing, "CUT").iter().zip(cut) {
        same(line, cut);
    }
}

#[test]
fn every_entity_is_on_its_layer() {
    let drawing = read(&template_dxf(&sample::quilt(Measure::Inch), &sample::draft(1.0)));
    let count = |layer: &str| drawing.entities().filter(|entity| entity.common.layer == layer).count();
    assert_eq!(["CUT", "SEW", "NOTCH", "GRAIN", "LABEL"].map(count), [2, 3, 2, 3, 3]);
    assert_eq!(drawing.entities().count(), 13);
}

#[test]
fn the_unit_is_said() {
    for (measure, unit) in [(Measure::Inch, Units::Inches), (Measure::Centimetre, Units::Centimeters)] {
        let drawing = read(&template_dxf(&sample::quilt(measure), &sample::draft(measure.inch())));
        assert_eq!(drawing.header.default_drawing_units, unit);
    }
}

#[test]
fn templates_lie_side_by_side() {
    let drawing = read(&template_dxf(&sample::quilt(Measure::Inch), &sample::draft(1.0)));
    let extent = |line: &LwPolyline| {
        let xs = line.vertices.iter().map(|vertex| vertex.x);
        (xs.clone().fold(f64::INFINITY, f64::min), xs.fold(f64::NEG_INFINITY, f64::max))
    };
    let extents: Vec<_> = outlines(&drawing, "SEW").into_iter().map(extent).collect();
    assert!(extents.windows(2).all(|pair| pair[0].1 + 0.5 < pair[1].0), "{extents:?}");
}

#[test]
fn the_same_block_gives_the_same_file() {
    let (quilt, draft) = (sample::quilt(Measure::Inch), sample::draft(1.0));
    let first = template_dxf(&quilt, &draft);
    std::thread::sleep(std::time::Duration::from_millis(20));
    assert_eq!(first, template_dxf(&quilt, &draft));
}

/// Every section of the queen, front and back: the lines of a layer are as long as the plan has it, the margin as an outline moved in,
/// and circles are arcs, not chains of short lines.
#[test]
fn quilting_lines_keep_their_length_and_their_arcs() {
    let quilt = seamfall_testkit::lamplight();
    let plan = seamfall_plan::plan(&quilt);
    for (section, work) in plan.lap.sections.iter().enumerate() {
        let pattern = &plan.lap.patterns[work.pattern];
        for mirrored in [false, true] {
            let drawing = read(&section_dxf(&quilt, &plan, section, mirrored).expect("there is one"));
            let length = |layer: &str| outlines(&drawing, layer).iter().map(|line| measured(line).1).sum::<f64>();
            for (layer, wanted) in [("NOW", pattern.now), ("AFTER-JOIN", pattern.after), ("OUTLINE", pattern.outline.perimeter())]
            {
                assert!((length(layer) - wanted).abs() < 1e-6, "section {section}, {layer}: {} for {wanted}", length(layer));
            }
            // Outlines are rectangles: each side of the margin is shorter by two distances.
            assert!((pattern.outline.perimeter() - length("MARGIN") - 8.0 * plan.lap.clear).abs() < 1e-6);
            let arcs = |layer: &str| {
                outlines(&drawing, layer).iter().flat_map(|line| &line.vertices).filter(|one| one.bulge != 0.0).count()
            };
            let drawn = pattern.lines.iter().flat_map(|line| &line.edges).filter(|edge| edge.radius().is_some()).count();
            assert!((drawn..=2 * drawn).contains(&(arcs("NOW") + arcs("AFTER-JOIN"))), "{drawn} arcs in section {section}");
        }
    }
    assert_eq!(section_dxf(&quilt, &plan, 99, false), None);
}

/// Seen from the back x is the width less x, and arcs turn the other way.
#[test]
fn lines_for_the_back_are_mirrored() {
    let quilt = seamfall_testkit::lamplight();
    let plan = seamfall_plan::plan(&quilt);
    let wide = plan.lap.patterns[0].outline.bounds().width();
    let [front, back] = [false, true].map(|mirrored| read(&section_dxf(&quilt, &plan, 0, mirrored).expect("there is one")));
    let mut bent = 0;
    for (one, other) in outlines(&front, "NOW").iter().zip(outlines(&back, "NOW")) {
        assert_eq!(one.vertices.len(), other.vertices.len());
        for (a, b) in one.vertices.iter().zip(&other.vertices) {
            assert!((a.x + b.x - wide).abs() < 1e-9 && (a.y - b.y).abs() < 1e-9 && (a.bulge + b.bulge).abs() < 1e-9);
            bent += usize::from(a.bulge != 0.0);
        }
    }
    assert!(bent > 10, "the corner's cable is all arcs: {bent}");
}
