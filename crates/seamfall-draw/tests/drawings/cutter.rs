//! DXF files, read back.

use super::sample;
use dxf::entities::{EntityType, LwPolyline};
use dxf::{Drawing, enums::Units};
use seamfall_draw::template_dxf;
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

/// Area and length of a closed polyline with bulges, from the definition of a bulge: the tangent of a quarter of the angle, whose
/// arc has the radius chord / (2 sin(angle / 2)) and adds a segment of r²/2 (angle - sin(angle)) to the polygon.
fn measured(line: &LwPolyline) -> (f64, f64) {
    let (mut area, mut length) = (0.0, 0.0);
    for (i, a) in line.vertices.iter().enumerate() {
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
