//! Cloth as it looks: true to scale, turned as its patch is cut, defined once, and nothing of it where no cloth has a look.

use seamfall_draw::*;
use seamfall_model::{Quilt, read};
use seamfall_plan::{Plan, plan};
use std::collections::BTreeSet;

/// Two rows of three blocks, each a half-square triangle of either cloth; the block at A2 is turned a quarter to the left, B1 mirrored.
fn quilt(look: &str) -> (Quilt, Plan) {
    let text = format!(
        "format = 1\nname = \"x\"\nmeasure = \"inch\"\n[cloth.moss]\ncolour = \"#406040\"\nlook = {look}\n[cloth.day]\ncolour = \"#f0e0c0\"\n\
         [block.half]\nshape = \"square\"\nsize = \"6\"\ngrid = 2\nseams = [[0, 0, 2, 2]]\n\
         patches = {{ moss = [[0.5, 1.5]], day = [[1.5, 0.5]] }}\n\
         [setting]\nlayout = \"straight\"\nrows = 2\ncolumns = 3\npattern = [[\"half\"]]\n\
         [[place]]\nat = \"A2\"\nturn = 1\n[[place]]\nat = \"B1\"\nmirror = true\n\
         [[band]]\nwidth = \"2\"\ncloth = \"moss\"\ncorners = \"butted\"\n"
    );
    let quilt = read(&text).unwrap_or_else(|error| panic!("{error:?}"));
    let plan = plan(&quilt);
    (quilt, plan)
}

const PHOTO: &str = r#"{ kind = "photo", file = "moss.jpg", width = "10", pixels = [2000, 1500], crop = [10, 20, 15, 0] }"#;

fn pictures() -> Pictures {
    let picture = Picture { colours: "/colours.jpg".to_owned(), greys: "/greys.jpg".to_owned() };
    Pictures::from([("moss.jpg".to_owned(), picture)])
}

fn drawn(look: &str, style: &QuiltStyle) -> String {
    let (quilt, plan) = quilt(look);
    quilt_drawing_with(&quilt, &plan, style, &pictures()).svg
}

fn number(node: roxmltree::Node<'_, '_>, name: &str) -> f64 {
    node.attribute(name).map_or(0.0, |value| value.parse().unwrap())
}

/// By hand: 2000 x 1500 pixels, 10 in wide, are 7.5 in high. 10 + 15 per cent off across leave 7.5 in, 20 off at the top 6 in: the repeat. A mark
/// a tenth of the way across the photograph (pixel 200) and one two tenths across (400) lie 1 in apart on the cloth, and so they must on
/// the drawing, whose unit is the inch.
#[test]
fn a_photograph_is_drawn_at_its_true_size() {
    let svg = drawn(PHOTO, &QuiltStyle::default());
    let tree = roxmltree::Document::parse(&svg).unwrap();
    let pattern = tree.descendants().find(|node| node.has_tag_name("pattern")).unwrap();
    assert_eq!(pattern.attribute("patternUnits"), Some("userSpaceOnUse"));
    assert_eq!((number(pattern, "width"), number(pattern, "height")), (7.5, 6.0));
    let image = pattern.children().find(|node| node.has_tag_name("image")).unwrap();
    assert_eq!(["x", "y", "width", "height"].map(|name| number(image, name)), [-1.0, -1.5, 10.0, 7.5]);
    assert_eq!(image.attribute("preserveAspectRatio"), Some("none"));
    let at = |pixel: f64| number(image, "x") + pixel / 2000.0 * number(image, "width");
    assert!((at(400.0) - at(200.0) - 1.0).abs() < 1e-12);
}

/// The fill of a patch names its turn in tenths of a degree to the left: 0 as it lies, 900 where the block is turned a quarter to the left.
/// The triangle's template has its short sides upright and level, so that its cloth stands as the block does.
#[test]
fn the_print_turns_with_its_block() {
    let svg = drawn(PHOTO, &QuiltStyle { ids: true, ..QuiltStyle::default() });
    let tree = roxmltree::Document::parse(&svg).unwrap();
    let turn = |id: &str| {
        let patch = tree.descendants().find(|node| node.attribute("id") == Some(id)).unwrap();
        let fill = patch.attribute("fill").unwrap().to_owned();
        let from = fill.find('-').unwrap() + 1;
        fill[from..fill.find(')').unwrap()].parse::<i32>().unwrap()
    };
    let patch = ["A1.p1", "A1.p2"].into_iter().find(|id| {
        tree.descendants().any(|node| node.attribute("id") == Some(id) && node.attribute("fill").unwrap().starts_with("url"))
    });
    let number = &patch.unwrap()[2..];
    let usual = turn(&format!("A1{number}"));
    assert_eq!((turn(&format!("A2{number}")) - usual).rem_euclid(3600), 900);
    assert_eq!(turn(&format!("A3{number}")), usual);
    // Mirrored about the upright: what points u to the left points u to the right.
    assert_eq!(turn(&format!("B1{number}")), (-usual).rem_euclid(3600));
    let defined = tree.descendants().filter(|node| node.has_tag_name("pattern")).count();
    assert!((2..=4).contains(&defined), "one for each turn, {defined}");
}

/// Strips without a direction lie across the cloth: along an upright band the cloth is turned a quarter. In a one-way print all stand upright.
#[test]
fn bands_show_how_their_strips_were_cut() {
    let fills = |print: &str| {
        let (mut quilt, plan) = quilt(r##"{ kind = "stripes", colour = "#ffffff" }"##);
        if print == "one-way" {
            quilt.cloths[0].print = seamfall_model::Print::OneWay;
        }
        let svg = quilt_svg(&quilt, &plan, &QuiltStyle { ids: true, ..QuiltStyle::default() });
        let tree = roxmltree::Document::parse(&svg).unwrap();
        ["band1.left", "band1.top"].map(|id| {
            let strip = tree.descendants().find(|node| node.attribute("id") == Some(id)).unwrap();
            strip.attribute("fill").unwrap().split(')').next().unwrap().rsplit('-').next().unwrap().to_owned()
        })
    };
    assert_eq!(fills("none"), ["900", "0"]);
    assert_eq!(fills("one-way"), ["0", "0"]);
}

/// In the view of values a photograph is grey, a figure as light as its colours; hatched paper stays hatched.
#[test]
fn values_are_shown_in_grey() {
    let style = |paint| QuiltStyle { paint, ..QuiltStyle::default() };
    let values = drawn(PHOTO, &style(Paint::Values));
    assert!(values.contains("/greys.jpg") && !values.contains("/colours.jpg"));
    let lines = drawn(PHOTO, &style(Paint::Lines));
    assert!(!lines.contains("<image") && lines.contains("url(#quilt-dark)"), "hatched");
    let stripes = drawn(r##"{ kind = "stripes", colour = "#ff0000" }"##, &style(Paint::Values));
    // Red gives back 21.26 per cent of the light (IEC 61966-2-1); the grey that does is #7f7f7f: ((127/255 + 0.055) / 1.055)^2.4 = 0.2122.
    assert!(stripes.contains("#7f7f7f") && !stripes.contains("#ff0000"), "{stripes}");
}

#[test]
fn a_photograph_that_is_missing_leaves_the_colour() {
    let (quilt, plan) = quilt(PHOTO);
    let svg = quilt_svg(&quilt, &plan, &QuiltStyle::default());
    assert!(!svg.contains("<image") && svg.contains(") #406040\""));
}

#[test]
fn every_figure_is_well_formed_and_its_ids_are_unique() {
    for kind in ["stripes", "checks", "dots"] {
        let look = format!(r##"{{ kind = "{kind}", colour = "#ffffff", size = "1/4", repeat = "3/4", angle = 30 }}"##);
        for colours in [Colours::Attributes, Colours::Classes] {
            let svg = drawn(&look, &QuiltStyle { colours, ids: true, ..QuiltStyle::default() });
            let tree = roxmltree::Document::parse(&svg).unwrap();
            let mut ids: Vec<_> = tree.descendants().filter_map(|node| node.attribute("id")).collect();
            let count = ids.len();
            ids.sort_unstable();
            ids.dedup();
            assert_eq!(ids.len(), count, "{kind}");
            assert!(svg.contains("rotate(-30)"), "{kind}: turned to the left");
        }
    }
}

/// By hand: 10 in wide and 7.5 high, cropped 1 in at the left and 1.5 at the top. The point 40 % across and 50 % down lies 4 in and 3.75 in from the
/// photograph's corner, so 3 in and 2.25 in from that of the repeat, and this comes to the origin of the patch, its middle.
#[test]
fn a_motif_comes_to_the_middle_of_every_copy() {
    let (quilt, _) = quilt(PHOTO);
    let text =
        format!("{}\n[[fussy]]\ncloth = \"moss\"\nof = \"half.moss\"\nat = [40, 50]\nturn = 30\n", seamfall_model::write(&quilt));
    let quilt = read(&text).unwrap();
    let plan = plan(&quilt);
    let style = QuiltStyle { ids: true, ..QuiltStyle::default() };
    let svg = quilt_drawing_with(&quilt, &plan, &style, &pictures()).svg;
    let tree = roxmltree::Document::parse(&svg).unwrap();
    let pattern = tree.descendants().find(|node| node.attribute("id") == Some("lookmotif-0")).unwrap();
    assert_eq!(pattern.attribute("patternTransform"), Some("rotate(-30)translate(-3 -2.25)"));
    let copies: Vec<_> =
        tree.descendants().filter(|node| node.attribute("fill").is_some_and(|fill| fill.contains("motif-0"))).collect();
    assert_eq!(copies.len(), 6, "one pattern for all places");
    // Each is moved to its place, and what is turned is turned with it.
    let shift = |node: &roxmltree::Node| node.attribute("transform").unwrap().to_owned();
    let moved: BTreeSet<_> = copies.iter().map(|copy| copy.parent().map(|place| shift(&place)).unwrap() + &shift(copy)).collect();
    assert_eq!(moved.len(), 6);
    let shapes: BTreeSet<_> = copies.iter().map(|copy| copy.attribute("d").unwrap().to_owned()).collect();
    assert!(shapes.len() <= 2, "as it lies and mirrored: {shapes:?}");
    let template = plan.drafts[0].patches.iter().find(|patch| patch.part == Some(seamfall_model::PartId(0))).unwrap().template;
    let window = template_svg_with(&quilt, &plan.drafts[0], seamfall_model::BlockId(0), template, &pictures()).unwrap();
    assert!(
        window.svg.contains("class=\"window\"")
            && window.svg.contains("/colours.jpg")
            && window.svg.contains("40 % across, 50 % down")
    );
    roxmltree::Document::parse(&window.svg).unwrap();
}
