//! The whole quilt: its setting, sashing, frames and bands, and how its size comes about.

use super::fields::{self, how, remove, set, set_to};
use super::words;
use maud::{Markup, html};
use seamfall_model::{Corners, Edit, FrameChoice, Grain, Layout, Quilt};
use seamfall_plan::Plan;
use tr::tr;

/// Everything about the quilt as a whole.
pub fn region(quilt: &Quilt, plan: &Plan) -> Markup {
    let size = plan.top.size;
    html! {
        h2 { (tr!("The whole quilt")) }
        p { (tr!("Finished")) " " b { (words::size(quilt, size.x, size.y)) } ". " (tr!("Setting: {layout}.", layout = words::layout(quilt.setting.layout))) }
        (how("how-top", &plan.top.workings.iter().collect::<Vec<_>>()))
        div.fields {
            (fields::text("quilt-name", &tr!("Name"), &quilt.name, &set(&["name"])))
            (rows_and_columns(quilt))
            (fields::text("quilt-section", &tr!("Longest side of a lap section"), &words::typed(quilt, quilt.largest_section), &set(&["largest-section"])))
            @if let Layout::OnPoint { triangles } = quilt.setting.layout {
                (fields::cloth("quilt-triangles", &tr!("Side and corner triangles"), quilt, Some(triangles), |key| set_to(&["setting", "triangles"], key)))
            }
            (fields::choice("quilt-frame", &tr!("Frame of the blocks"), &usual_frame(quilt)))
        }
        (turns(quilt))
        section.card { h3 { (tr!("Sashing")) } (sashing(quilt, "")) }
        @for (i, _) in quilt.bands.iter().enumerate() { section.card { h3 { (tr!("Band {i}", i = i + 1)) } (band(quilt, i, "")) } }
        p { (fields::button("band-add", &tr!("Add a band outside"), &fields::json(&Edit::AddBand { width: usual(quilt, 4.0), cloth: outer_cloth(quilt) }), None)) }
        @for (i, frame) in quilt.frames.iter().enumerate() { section.card { h3 { (tr!("Frame {key}", key = frame.key)) } (self::frame(quilt, i, "")) } }
        p { (fields::button("frame-add", &tr!("Add a frame"), &fields::json(&Edit::AddFrame { key: String::new(), width: usual(quilt, 1.0), cloth: outer_cloth(quilt) }), None)) }
        details #sections {
            summary { (tr!("1 lap section" | "{n} lap sections" % plan.top.sections.len())) }
            ul.plain { @for section in &plan.top.sections {
                li { b { (section.name) } " " (words::size(quilt, section.size.x, section.size.y)) }
            } }
        }
    }
}

/// Other turns, to see what becomes of the quilt.
fn turns(quilt: &Quilt) -> Markup {
    let manners = [
        ("alike", tr!("All alike")),
        ("checks", tr!("Every second one")),
        ("fours", tr!("In fours")),
        ("rows", tr!("Rows round")),
        ("columns", tr!("Columns round")),
        ("chance", tr!("By chance")),
    ];
    html! {
        section.card data-for="shuffle" {
            h3 { (tr!("Try other turns")) }
            label.field for="shuffle-block" { span { (tr!("Of")) }
                select #shuffle-block data-keep-choice {
                    option value="" { (tr!("all blocks")) }
                    @for block in &quilt.blocks { option value=(block.key) { (block.name) } }
                }
            }
            div.actions { @for (manner, label) in manners { button id={ "shuffle-" (manner) } type="button" data-shuffle=(manner) { (label) } } }
        }
    }
}

fn rows_and_columns(quilt: &Quilt) -> Markup {
    let places = &quilt.setting.places;
    let (rows, columns) = match quilt.setting.layout {
        Layout::Straight => (places.len(), places.first().map_or(0, Vec::len)),
        // The longer rows are the first, the third and so on.
        Layout::OnPoint { .. } => (places.len().div_ceil(2), places.first().map_or(0, Vec::len)),
        Layout::Rows { .. } => return html! {},
    };
    // `$rows` stands for the field of that name, as a number.
    let edit = r#"{"do":"resize","rows":"$rows","columns":"$columns"}"#;
    html! {
        form.pair data-edit=(edit) data-at-once {
            label.field for="quilt-rows" { span { (tr!("Rows")) } input #quilt-rows name="rows" type="number" min="1" max="100" value=(rows) required; }
            label.field for="quilt-columns" { span { (tr!("Columns")) } input #quilt-columns name="columns" type="number" min="1" max="100" value=(columns) required; }
        }
    }
}

/// Sizes and cloths of the sashing; `prefix` keeps ids apart where it is shown twice.
pub fn sashing(quilt: &Quilt, prefix: &str) -> Markup {
    let id = |what: &str| format!("{prefix}sash-{what}");
    let Some(sashing) = &quilt.sashing else {
        let add = Edit::AddSashing { width: usual(quilt, 2.0), cloth: outer_cloth(quilt) };
        return fields::button(&id("add"), &tr!("Add sashing"), &fields::json(&add), None);
    };
    let mut stones =
        vec![(tr!("none, strips run through"), remove(&["sashing", "cornerstones"]), sashing.cornerstones.is_none())];
    stones.extend(fields::cloth_options(quilt, sashing.cornerstones, |key| set_to(&["sashing", "cornerstones"], key)));
    let around = |yes: bool| {
        fields::json(&Edit::Set {
            path: vec!["sashing".to_owned(), "around".to_owned()],
            value: seamfall_model::Scalar::Bool(yes),
        })
    };
    let around = [(tr!("no"), around(false), !sashing.around), (tr!("yes"), around(true), sashing.around)];
    html! {
        div.fields {
            (fields::text(&id("width"), &tr!("Width"), &words::typed(quilt, sashing.width), &set(&["sashing", "width"])))
            (fields::cloth(&id("cloth"), &tr!("Cloth"), quilt, Some(sashing.cloth), |key| set_to(&["sashing", "cloth"], key)))
            (fields::choice(&id("stones"), &tr!("Cornerstones"), &stones))
            (fields::choice(&id("cut"), &tr!("Strips lie"), &grain(sashing.grain, &["sashing", "cut"])))
            (fields::choice(&id("around"), &tr!("Also round the outside"), &around))
            (fields::button(&id("remove"), &tr!("Take the sashing away"), &remove(&["sashing"]), None))
        }
    }
}

/// Size, cloth and corners of a band.
pub fn band(quilt: &Quilt, band: usize, prefix: &str) -> Markup {
    let number = band.to_string();
    let id = |what: &str| format!("{prefix}band{band}-{what}");
    let at = |what: &'static str| ["band", number.as_str(), what];
    let here = &quilt.bands[band];
    html! {
        div.fields {
            (fields::text(&id("width"), &tr!("Width"), &words::typed(quilt, here.width), &set(&at("width"))))
            (fields::cloth(&id("cloth"), &tr!("Cloth"), quilt, Some(here.cloth), |key| set_to(&at("cloth"), key)))
            (fields::choice(&id("corners"), &tr!("Corners"), &corners(quilt, here.corners, &at("corners"))))
            (fields::choice(&id("cut"), &tr!("Strips lie"), &grain(here.grain, &at("cut"))))
            (fields::button(&id("remove"), &tr!("Take this band away"), &remove(&["band", &number]), None))
        }
    }
}

/// Strips and corners of a frame.
pub fn frame(quilt: &Quilt, frame: usize, prefix: &str) -> Markup {
    let here = &quilt.frames[frame];
    let key = here.key.as_str();
    let id = |what: &str| format!("{prefix}frame-{key}-{what}");
    html! {
        div.fields {
            @for (i, strip) in here.strips.iter().enumerate() {
                @let number = i.to_string();
                (fields::text(&id(&format!("width{i}")), &tr!("Width of strip {i}", i = i + 1), &words::typed(quilt, strip.width),
                    &set(&["frame", key, "strips", &number, "width"])))
                (fields::cloth(&id(&format!("cloth{i}")), &tr!("Cloth of strip {i}", i = i + 1), quilt, Some(strip.cloth), |cloth| {
                    set_to(&["frame", key, "strips", &number, "cloth"], cloth)
                }))
            }
            (fields::choice(&id("corners"), &tr!("Corners"), &corners(quilt, here.corners, &["frame", key, "corners"])))
        }
    }
}

/// How long strips lie on the cloth.
fn grain(current: Grain, path: &[&str]) -> Vec<(String, String, bool)> {
    let words = [(Grain::Across, tr!("across, joined where too long")), (Grain::Along, tr!("along the selvage, in one piece"))];
    words.map(|(grain, word)| (word.to_owned(), set_to(path, grain.word()), current == grain)).into()
}

fn corners(quilt: &Quilt, current: Corners, path: &[&str]) -> Vec<(String, String, bool)> {
    let mut options: Vec<_> = [("mitred", tr!("mitred"), Corners::Mitred), ("butted", tr!("butted"), Corners::Butted)]
        .map(|(word, said, corners)| (said, set_to(path, word), current == corners))
        .into();
    let squares = if let Corners::Squares(cloth) = current { Some(cloth) } else { None };
    let path: Vec<_> = path.iter().copied().chain(["squares"]).collect();
    let cloths = fields::cloth_options(quilt, squares, |key| set_to(&path, key));
    options.extend(cloths.into_iter().map(|(name, edit, chosen)| (tr!("squares of {name}", name), edit, chosen)));
    options
}

/// The frame that most places stand in is taken for the setting's own.
fn usual_frame(quilt: &Quilt) -> Vec<(String, String, bool)> {
    let path = ["setting", "frame"];
    let places = || quilt.setting.places.iter().flatten();
    let most = |choice| places().filter(|place| place.frame == choice).count() * 2 > places().count();
    let mut options = vec![(tr!("none"), remove(&path), most(FrameChoice::Bare))];
    options.extend(
        quilt.frames.iter().enumerate().map(|(i, frame)| {
            (frame.key.clone(), set_to(&path, &frame.key), most(FrameChoice::Framed(seamfall_model::FrameId(i))))
        }),
    );
    options
}

/// A width to begin with, given in inches.
fn usual(quilt: &Quilt, inches: f64) -> String {
    match quilt.measure {
        seamfall_model::Measure::Inch => inches.to_string(),
        seamfall_model::Measure::Centimetre => (inches * 2.5).to_string(),
    }
}

/// The cloth of the outermost band, or the first.
fn outer_cloth(quilt: &Quilt) -> String {
    let cloth = quilt.bands.last().map_or(0, |band| band.cloth.0);
    quilt.cloths.get(cloth).map_or_else(String::new, |cloth| cloth.key.clone())
}
