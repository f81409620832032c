//! The quilt on its bed: every number is named, and the views have one scale.

use super::parsed;
use seamfall_draw::bed_views_svg;
use seamfall_geom::{Loop, Rect};
use seamfall_model::{Bed, Length, Measure};
use seamfall_plan::answer::Ruler;
use seamfall_plan::fit::Drops;

/// A mattress of 36 by 40 in, 18 in high; a quilt that hangs 9 in at the sides and 12 in at the foot, and 15 in at its square corners (3, 4, 5).
fn views(posts: bool, height: f64) -> String {
    let length = Length::new;
    let mut bed = Bed::usual(Measure::Inch, length(36.0), length(40.0));
    (bed.height, bed.posts) = (length(height), posts);
    let outline = Loop::rect(Rect::new(0.0, 0.0, 54.0, 52.0));
    let drops = Drops { side: length(9.0), foot: length(12.0) };
    bed_views_svg(&bed, &outline, drops, length(15.0), Ruler::usual(Measure::Inch))
}

fn texts(svg: &str) -> Vec<String> {
    let tree = parsed(svg);
    tree.descendants().filter(|node| node.has_tag_name("text")).filter_map(|node| node.text().map(str::to_owned)).collect()
}

#[test]
fn every_number_of_the_bed_has_its_name() {
    let said = texts(&views(false, 18.0));
    for wanted in [
        "From above",
        "From the side",
        "From the foot",
        "side 9 in",
        "foot 12 in",
        "mattress 36 in",
        "mattress 40 in",
        "mattress top 18 in",
        "corner 15 in",
        "above the floor 3 in",
    ] {
        assert!(said.iter().any(|text| text == wanted), "{wanted}: {said:?}");
    }
    assert!(!said.iter().any(|text| text.starts_with("tuck")), "nothing is tucked in");
    let low = texts(&views(false, 14.0));
    assert!(low.iter().any(|text| text == "on the floor 1 in"), "{low:?}");
}

/// Two posts from above, one from the side and two from the foot.
#[test]
fn posts_stand_where_there_are_any() {
    let count = |svg: &str| parsed(svg).descendants().filter(|node| node.attribute("class") == Some("post")).count();
    assert_eq!((count(&views(false, 18.0)), count(&views(true, 18.0))), (0, 5));
}

/// From above 54 by 52 in. Seen from the side the cloth hangs 9 in and at the foot end 15; from the foot 12 in, and 15 at both ends.
#[test]
fn a_small_quilt_on_its_bed() {
    let svg = views(false, 18.0);
    let tree = parsed(&svg);
    let quilts = tree.descendants().filter(|node| node.attribute("class") == Some("quilt"));
    let courses: Vec<&str> = quilts.filter_map(|node| node.attribute("d")).collect();
    insta::assert_snapshot!(courses.join("\n"), @r#"
M0 56.8214h54v-52h-54z
M80.2286 4.8214L120.2286 4.8214L120.2286 19.8214L112.2286 13.8214L80.2286 13.8214z
M80.2286 38.8286L116.2286 38.8286L116.2286 53.8286L109.0286 50.8286L87.4286 50.8286L80.2286 53.8286z
"#);
}
