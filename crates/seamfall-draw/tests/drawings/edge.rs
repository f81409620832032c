//! The edge, drawn: what the figures say can be measured on the paper.

use super::parsed;
use seamfall_draw::{QuiltStyle, bias_svg, corner_template_svg, edge_template_svg, point_svg, quilt_drawing};
use seamfall_geom::Vec2;
use seamfall_model::{Length, Measure, PointFold, read};
use seamfall_plan::finish::scallops::{self, Curve, Wish};
use seamfall_plan::finish::{Ruler, bias, points};

/// Points of every path of a class, path by path.
fn paths(svg: &str, class: &str) -> Vec<Vec<(f64, f64)>> {
    let tree = parsed(svg);
    let of_class = tree.descendants().filter(|node| node.has_tag_name("path") && node.attribute("class") == Some(class));
    let points = |data: &str| {
        let numbers = data.split(['M', 'L', 'z', ' ']).filter(|part| !part.is_empty());
        let numbers: Vec<f64> = numbers.map(|number| number.parse().expect("a number")).collect();
        numbers.chunks_exact(2).map(|pair| (pair[0], pair[1])).collect()
    };
    of_class.map(|node| points(node.attribute("d").expect("a path"))).collect()
}

fn distance(a: (f64, f64), b: (f64, f64)) -> f64 {
    ((a.0 - b.0) * (a.0 - b.0) + (a.1 - b.1) * (a.1 - b.1)).sqrt()
}

/// `edges.bias.tube_36_2_5`: ten strips. Of the slanting piece the long side is √2 (a - 2 s) and the depth a / √2, whatever the scale.
#[test]
fn a_square_becomes_a_tube_in_four_steps() {
    let ruler = Ruler::usual(Measure::Inch);
    let tube = bias::tube(Length::new(36.0), Length::new(2.5), ruler).expect("a strip fits");
    let svg = bias_svg(&tube, Measure::Inch);
    let cut = paths(&svg, "cut");
    let [square, _, piece, ..] = &cut[..] else { panic!("{cut:?}") };
    let scale = |points: &[(f64, f64)], real: f64| distance(points[0], points[1]) / real;
    assert!((scale(square, 36.0) - scale(piece, 2.0_f64.sqrt() * 35.5)).abs() < 1e-3, "all steps have one scale");
    // Marked twice: as it is marked, and with the numbers that meet.
    assert_eq!(paths(&svg, "mark").len(), 2 * 10);
    for (number, step) in ["1", "2", "3", "4"].iter().enumerate() {
        assert!(svg.contains(&format!(">{step}</text>")), "step {}", number + 1);
    }
}

/// The sewing line is as wide as the base and the triangle half as high as the square.
#[test]
fn a_point_is_folded_in_three_steps() {
    let ruler = Ruler::usual(Measure::Inch);
    let point = points::of_square(Length::new(4.0), ruler).expect("it folds");
    for fold in [PointFold::Nested, PointFold::Overlapping] {
        let svg = point_svg(&point, fold, Measure::Inch);
        let (cut, sewn) = (paths(&svg, "cut"), paths(&svg, "sew"));
        assert_eq!((cut.len(), sewn.len()), (3, 1), "{fold:?}");
        let side = distance(cut[0][0], cut[0][1]);
        assert!((distance(sewn[0][0], sewn[0][1]) / side - 3.5 / 4.0).abs() < 1e-3);
        assert!(((cut[2][0].1 - cut[2][2].1) / side - 0.5).abs() < 1e-3);
    }
}

/// Full size: as wide and as high on paper as the page says, with a square of an inch, in either unit.
#[test]
fn the_template_of_an_edge_is_full_size() {
    for measure in [Measure::Inch, Measure::Centimetre] {
        let inch = measure.inch();
        let wish = Wish {
            curve: Curve::Scallops,
            about: Length::new(8.0 * inch),
            depth: Length::new(2.0 * inch),
            corner: Length::new(6.0 * inch),
        };
        let ruler = Ruler::usual(measure);
        let edge = scallops::round(Vec2::new(60.0 * inch, 76.0 * inch), &wish, ruler).expect("it can be had");
        let drawing = edge_template_svg(&edge, measure);
        let tree = parsed(&drawing.svg);
        let root = tree.root_element();
        assert!(root.attribute("width").is_some_and(|width| width.ends_with(measure.sign())));
        // Two scallops of 8 in and the corner: 22 in each way, and the rim.
        assert!((drawing.width - 22.0 * inch).abs() < inch && (drawing.height - 22.0 * inch).abs() < inch, "{}", drawing.width);
        let text = if measure == Measure::Inch { "1 in" } else { "2 cm" };
        assert!(drawing.svg.contains(text));
    }
}

const CORNERED: &str = r##"format = 1
name = "Corners"
measure = "inch"
[cloth.night]
colour = "#22304f"
[block.plain]
shape = "square"
size = "12"
cloths = { one = "night" }
patches = { one = [[1, 1]] }
[setting]
layout = "straight"
columns = 4
rows = 5
pattern = [["plain"]]
[bed]
width = "28"
length = "50"
[corners]
"##;

/// Overhangs of 10 in at the sides and the foot. A level corner is a quarter circle of 10 in, cut 1/4 in outside; on the sheet there is 1/4 in and
/// the height of a letter round it, and the rim of 0.3 in.
#[test]
fn the_template_of_a_corner_is_full_size() {
    let quilt = read(&format!("{CORNERED}shape = \"level\"\n")).expect("it reads");
    let top = seamfall_plan::set::derive(&quilt).result;
    let drawing = corner_template_svg(&quilt, &top, 1).expect("two corners are changed");
    let wanted = 10.0 + 2.0 * (0.25 + 0.16 + 0.3);
    assert!((drawing.width - wanted).abs() < 1e-9 && (drawing.height - wanted).abs() < 1e-9, "{}", drawing.width);
    assert!(drawing.svg.contains("string to the cut: 10 1/4 in"), "{}", drawing.svg);
    assert!(drawing.svg.contains("a10.25 10.25"), "{}", drawing.svg);
    assert_eq!(corner_template_svg(&quilt, &top, 2), None);
}

/// What is trimmed off is faded and its cut dashed; what is sewn on stands outside, so that the drawing grows by it.
#[test]
fn the_drawing_of_a_quilt_shows_its_real_edge() {
    let classes = |more: &str| {
        let quilt = read(&format!("{CORNERED}{more}")).unwrap_or_else(|error| panic!("{error:?}"));
        let plan = seamfall_plan::plan(&quilt);
        let drawing = quilt_drawing(&quilt, &plan, &QuiltStyle::default());
        let tree = parsed(&drawing.svg);
        let found: Vec<String> = tree.descendants().filter_map(|node| node.attribute("class").map(str::to_owned)).collect();
        (found, drawing.view)
    };
    let room = |view: [f64; 4]| (view[2] - 48.0) / 2.0 - 60.0 / 500.0;
    let ruffle = "shape = \"straight\"\n[finish]\nedge = \"ruffle\"\ncloth = \"night\"\ndepth = \"3\"\n";
    let (found, view) = classes(ruffle);
    assert_eq!(found, ["trimmed", "trim", "ruffle", "gathers"]);
    assert!((room(view) - 3.0).abs() < 1e-9, "{view:?}");
    let points = "shape = \"notch\"\n[finish]\nedge = \"prairie-points\"\ncloth = \"night\"\nsquare = \"3\"\n";
    let (found, view) = classes(points);
    assert_eq!(found, ["trimmed", "trim", "points"]);
    assert!((room(view) - 1.25).abs() < 1e-9, "{view:?}");
    let (found, view) = classes("shape = \"square\"\n[finish]\nedge = \"scallops\"\nwidth = \"6\"\n");
    assert_eq!(found, ["trimmed"]);
    assert!(room(view).abs() < 1e-9);
    let (found, _) = classes("shape = \"square\"\n");
    assert_eq!(found, Vec::<String>::new());
}
