//! Drawings of cloth: all pieces are on them, each on its strip, to scale; and the cut list reads back from its values.

use seamfall_draw::{Paint, cloth_svgs, cut_list_csv};
use seamfall_model::Ledger;
use seamfall_plan::cut::{Laid, Way, sheets};
use seamfall_plan::{Effort, plan_with};

/// Position, size and attributes of every rectangle of a drawing.
fn rects(svg: &str) -> Vec<([f64; 4], &str)> {
    svg.split("<rect ")
        .skip(1)
        .filter_map(|rest| {
            let (attributes, _) = rest.split_once("/>")?;
            let value = |name: &str| attributes.split_once(&format!("{name}=\""))?.1.split('"').next()?.parse::<f64>().ok();
            // Those of a pattern have no place.
            Some(([value("x")?, value("y")?, value(" width")?, value(" height")?], attributes))
        })
        .collect()
}

#[test]
fn every_piece_lies_on_its_strip_to_scale() {
    let quilt = seamfall_testkit::lamplight();
    let plan = plan_with(&quilt, &Ledger::default(), Effort::FULL);
    for bought in &plan.cutting.bought {
        let Some(Laid::OffTheBolt(laid)) = &bought.laid else { continue };
        let table = &sheets(&quilt, &plan.cutting, bought)[0];
        let (mut area, mut strips) = (0.0, 0);
        for drawing in cloth_svgs(&quilt, &plan, bought, Paint::Cloths) {
            let all = rects(&drawing.svg);
            let (cloth, pieces): (Vec<_>, Vec<_>) = all.into_iter().partition(|(_, attributes)| attributes.contains("left-over"));
            for ([x, y, width, height], _) in &pieces {
                let on = cloth.iter().position(|([cx, cy, cw, ch], _)| {
                    x + 1e-6 >= *cx && y + 1e-6 >= *cy && x + width <= cx + cw + 1e-3 && y + height <= cy + ch + 1e-3
                });
                let strip = on.unwrap_or_else(|| panic!("{}: a piece lies on no strip", drawing.title));
                area += width * height * f64::from(table.strips[strips + strip].times);
            }
            strips += cloth.len();
        }
        assert_eq!(strips, table.strips.len());
        let tick = 1.0 / 8.0;
        let kinds = laid.job.kinds().iter();
        let cut: f64 =
            kinds.map(|kind| f64::from(kind.width) * f64::from(kind.height) * f64::from(kind.count) * tick * tick).sum();
        assert!((area - cut).abs() < cut * 1e-4, "{}: {area} of {cut}", bought.of.name(&quilt));
    }
}

/// Read by the library's own reader: as many lines as pieces, names with commas and quotes as they are.
#[test]
fn the_cut_list_reads_back() {
    let mut quilt = seamfall_testkit::tide_pool();
    "Foam, \"white\"".clone_into(&mut quilt.cloths[0].name);
    let plan = seamfall_plan::plan(&quilt);
    let text = cut_list_csv(&quilt, &plan);
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let lines: Vec<csv::StringRecord> = reader.records().map(|line| line.expect("a line")).collect();
    assert_eq!(lines.len(), plan.cutting.pieces.len());
    for (line, piece) in lines.iter().zip(&plan.cutting.pieces) {
        assert_eq!((&line[0], &line[1]), (piece.of.name(&quilt).as_str(), piece.name.as_str()));
        assert_eq!(line[2].parse::<usize>().expect("a count"), piece.cut);
        assert!((line[6].parse::<f64>().expect("a size") - piece.width.value).abs() < 1e-4);
    }
    assert!(plan.cutting.pieces.iter().any(|piece| matches!(piece.way, Way::Template { .. })) && text.contains("by template"));
}
