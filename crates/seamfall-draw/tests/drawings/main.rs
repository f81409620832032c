//! What drawings must hold, on a quilt whose every number is known.

mod bed;
mod charts;
mod cloth;
mod cutter;
mod edge;
mod falls;
mod foundation;
mod join;
mod look;
mod needle;
mod progress;
mod quilting;
mod sample;

use seamfall_draw::*;
use seamfall_model::{BlockId, Measure, Quilt};
use seamfall_plan::Plan;
use std::collections::BTreeSet;

fn sample() -> (Quilt, Plan) {
    let quilt = sample::quilt(Measure::Inch);
    let plan = sample::plan(&quilt);
    (quilt, plan)
}

const PAINTS: [Paint; 3] = [Paint::Cloths, Paint::Values, Paint::Lines];
const COLOURS: [Colours; 2] = [Colours::Attributes, Colours::Classes];

/// Every drawing of the sample, with a name for messages.
fn every_svg() -> Vec<(String, String)> {
    let (quilt, plan) = sample();
    let mut all = vec![("setting".to_owned(), setting_svg(&quilt, &plan))];
    for paint in PAINTS {
        for colours in COLOURS {
            for on in [false, true] {
                let style = QuiltStyle { paint, colours, sections: on, falls: on, quilting: on, names: on, ids: on };
                all.push((format!("quilt, {style:?}"), quilt_svg(&quilt, &plan, &style)));
                for labels in [PatchLabels::None, PatchLabels::Letters, PatchLabels::Numbers] {
                    let style = BlockStyle { paint, colours, labels, grain: on, ids: on };
                    all.push((format!("block, {style:?}"), block_svg(&quilt, &plan.drafts[0], BlockId(0), &style)));
                }
            }
        }
    }
    for bought in &plan.cutting.bought {
        for paint in PAINTS {
            all.extend(cloth_svgs(&quilt, &plan, bought, paint).into_iter().map(|drawing| (drawing.title, drawing.svg)));
        }
    }
    for template in 0..3 {
        let drawing = template_svg(&quilt, &plan.drafts[0], BlockId(0), template).expect("the sample has three templates");
        all.push((format!("template {template}"), drawing.svg));
    }
    all
}

/// A drawing as a tree; names of the maker are full of what XML has to escape.
fn parsed(svg: &str) -> roxmltree::Document<'_> {
    roxmltree::Document::parse(svg).unwrap_or_else(|error| panic!("{error}\n{svg}"))
}

#[test]
fn every_drawing_is_well_formed_and_its_ids_are_unique() {
    for (name, svg) in every_svg() {
        let tree = parsed(&svg);
        let mut ids = BTreeSet::new();
        for id in tree.descendants().filter_map(|node| node.attribute("id")) {
            assert!(ids.insert(id), "{name}: {id} is there twice");
        }
        assert!(tree.root_element().attribute("aria-label").is_some_and(|label| !label.is_empty()), "{name}");
    }
}

/// Content Security Policy Level 3, section 6.1: `style-src 'self'` refuses style elements and style attributes.
#[test]
fn no_drawing_holds_inline_style() {
    for (name, svg) in every_svg() {
        let tree = parsed(&svg);
        assert!(!tree.descendants().any(|node| node.has_tag_name("style") || node.attribute("style").is_some()), "{name}");
    }
}

#[test]
fn every_hatching_that_is_used_is_there() {
    let (quilt, plan) = sample();
    let style = QuiltStyle { paint: Paint::Lines, ..QuiltStyle::default() };
    let block = BlockStyle { paint: Paint::Lines, ..BlockStyle::default() };
    for svg in [quilt_svg(&quilt, &plan, &style), block_svg(&quilt, &plan.drafts[0], BlockId(0), &block)] {
        let tree = parsed(&svg);
        let used: BTreeSet<_> =
            tree.descendants().filter_map(|node| node.attribute("fill")?.strip_prefix("url(#")?.strip_suffix(')')).collect();
        assert_eq!(used.len(), 2, "medium and dark");
        for id in used {
            assert!(tree.descendants().any(|node| node.has_tag_name("pattern") && node.attribute("id") == Some(id)), "{id}");
        }
    }
    let style = QuiltStyle { colours: Colours::Classes, ..QuiltStyle::default() };
    let svg = quilt_svg(&quilt, &plan, &style);
    for used in cloth_css(&quilt).split("url(#").skip(1).filter_map(|rest| rest.split(')').next()) {
        assert!(svg.contains(&format!(r#"<pattern id="{used}""#)), "{used}");
    }
}

/// Every place and every strip that is not part of a frame is an element of its own, whole and in the order of the drawing; the
/// strips of a frame stand in their place's.
#[test]
fn the_elements_of_a_drawing_are_those_in_the_whole() {
    let (quilt, plan) = sample();
    for ids in [false, true] {
        let drawing = quilt_drawing(&quilt, &plan, &QuiltStyle { ids, ..QuiltStyle::default() });
        assert_eq!(drawing.svg, quilt_svg(&quilt, &plan, &QuiltStyle { ids, ..QuiltStyle::default() }));
        let element = |id: &str| drawing.elements.iter().find(|each| each.id == id).map(|each| &drawing.svg[each.at.clone()]);
        for place in &plan.top.places {
            let alone = element(&place.name).expect("every place is an element");
            assert!(alone.starts_with("<g") && alone.ends_with("</g>"), "{alone}");
            assert!(parsed(alone).root_element().has_tag_name("g"));
        }
        for strip in &plan.top.strips {
            let framed = strip.name.split_once('.').and_then(|(place, _)| element(place));
            let alone = element(&strip.name).or(framed).expect("every strip stands somewhere");
            assert!(alone.contains("<path") && (!ids || alone.contains(&format!("id=\"{}\"", strip.name))), "{alone}");
        }
        assert!(drawing.elements.windows(2).all(|pair| pair[0].at.end <= pair[1].at.start));
        assert_eq!(element("C1"), None);
    }
}

#[test]
fn everything_in_the_plan_has_its_id() {
    let (quilt, plan) = sample();
    let svg = quilt_svg(&quilt, &plan, &QuiltStyle { ids: true, ..QuiltStyle::default() });
    let tree = parsed(&svg);
    let ids = tree.descendants().filter_map(|node| node.attribute("id")).filter(|id| !id.starts_with("drawn-"));
    let ids: BTreeSet<_> = ids.collect();
    let mut wanted: BTreeSet<String> = plan.top.strips.iter().map(|strip| strip.name.clone()).collect();
    for place in ["A1", "A2", "B1", "B2"] {
        wanted.extend(["", ".p1", ".p2", ".o1"].map(|part| format!("{place}{part}")));
    }
    assert_eq!(ids, wanted.iter().map(String::as_str).collect());
}

/// The sample's swapped place: sky, navy elsewhere, is cream there.
#[test]
fn a_swapped_place_shows_its_own_cloths() {
    let (quilt, plan) = sample();
    let svg = quilt_svg(&quilt, &plan, &QuiltStyle { ids: true, ..QuiltStyle::default() });
    let tree = parsed(&svg);
    let fill = |id: &str| {
        tree.descendants()
            .find(|node| node.attribute("id") == Some(id))
            .and_then(|node| node.attribute("fill"))
            .map(str::to_owned)
    };
    assert_eq!(fill("A1.p1").as_deref(), Some("#22304f"));
    assert_eq!(fill("B2.p1").as_deref(), Some("#f3e9d2"));
}

/// Width of template B: the cut outline from -1/4 in to 4 1/4 in, where its arc is widest, and 0.02 in of rim on either side.
#[test]
fn a_template_is_its_true_size() {
    for (measure, unit, inch) in [(Measure::Inch, "in", 1.0), (Measure::Centimetre, "cm", 2.54)] {
        let quilt = sample::quilt(measure);
        let plan = sample::plan(&quilt);
        let drawing = template_svg(&quilt, &plan.drafts[0], BlockId(0), 1).expect("template B is there");
        let tree = parsed(&drawing.svg);
        let root = tree.root_element();
        let number = |text: &str| text.parse::<f64>().expect("a plain number");
        let size = |name| {
            root.attribute(name).and_then(|value| value.strip_suffix(unit)).map(number).expect("a size in the quilt's unit")
        };
        let view: Vec<_> = root.attribute("viewBox").expect("a viewBox").split(' ').map(number).collect();
        assert_eq!(view, [0.0, 0.0, size("width"), size("height")], "a unit of the viewBox is one of the quilt");
        assert_eq!((size("width"), size("height")), (drawing.width, drawing.height));
        let wanted = (4.25 + 0.25 + 2.0 * 0.02) * inch;
        assert!((drawing.width - wanted).abs() <= 1e-4, "{measure:?}: {} for {wanted}", drawing.width);
    }
}

#[test]
fn a_template_that_is_not_there_is_not_drawn() {
    let (quilt, plan) = sample();
    assert_eq!(template_svg(&quilt, &plan.drafts[0], BlockId(0), 3), None);
    assert_eq!(template_svg(&quilt, &plan.drafts[0], BlockId(1), 0), None);
}

/// The leaf of the sample, moved over the label of the sky; labels are read back from the drawing.
#[test]
fn a_shape_laid_over_does_not_cover_a_label() {
    let (quilt, mut plan) = sample();
    let draft = &mut plan.drafts[0];
    draft.patches[0].label = draft.overlays[0].outline.label_point();
    let style = BlockStyle { labels: PatchLabels::Numbers, ..BlockStyle::default() };
    let svg = block_svg(&quilt, draft, BlockId(0), &style);
    let tree = parsed(&svg);
    let label = tree.descendants().find(|node| node.has_tag_name("text")).expect("the first label is the sky's");
    let number = |name| label.attribute(name).and_then(|value| value.parse::<f64>().ok()).expect("a number");
    // Text stands 0.35 of its size below its middle, and y runs down from the top of 6 in.
    let at = seamfall_geom::Point::new(number("x"), 6.0 - number("y") + 0.35 * number("font-size"));
    assert!(draft.patches[0].outline.contains(at) && !draft.overlays[0].outline.contains(at), "{at:?}");
}

#[test]
fn block_with_arcs() {
    let (quilt, plan) = sample();
    let style = BlockStyle { labels: PatchLabels::Letters, grain: true, ..BlockStyle::default() };
    insta::assert_snapshot!(lines(&block_svg(&quilt, &plan.drafts[0], BlockId(0), &style)));
}

#[test]
fn template_of_a_quarter_circle() {
    let (quilt, plan) = sample();
    insta::assert_snapshot!(lines(&template_svg(&quilt, &plan.drafts[0], BlockId(0), 1).expect("template B is there").svg));
}

#[test]
fn framed_place() {
    let (quilt, plan) = sample();
    let drawing = quilt_drawing(&quilt, &plan, &QuiltStyle { ids: true, colours: Colours::Classes, ..QuiltStyle::default() });
    insta::assert_snapshot!(lines(&drawing.svg[drawing.elements[2].at.clone()]));
}

/// An element a line, to be read in a diff.
fn lines(svg: &str) -> String {
    svg.replace("><", ">\n<")
}
