//! How the edge is finished: binding and bias, points, scallops, ruffles; what is sewn on last; and the quilt as a cover.
//!
//! Figures are those of the plan, each with its working; what has steps is drawn step by step.

use super::answers;
use super::fields::{self, json, number, optional, remove, set, set_to};
use super::words;
use maud::{Markup, PreEscaped, html};
use seamfall_draw::{edge_template_svg, finish_steps_svg};
use seamfall_model::{Arcs, BindingOn, ClothId, Cover, EdgeFinish, Edit, Length, Measure, PointFold, Quilt, Scalar, SeamKind};
use seamfall_plan::Plan;
use seamfall_plan::answer::Ruler;
use tr::tr;

/// The edges that can be chosen: their word in the file, and what they are.
fn edges() -> [(&'static str, String); 7] {
    [
        ("straight", tr!("straight")),
        ("prairie-points", tr!("prairie points: folded squares in the edge")),
        ("scallops", tr!("scallops: arcs that stand out")),
        ("waves", tr!("waves: arcs out and in by turns")),
        ("ruffle", tr!("a ruffle: a gathered strip")),
        ("facing", tr!("a facing: turned to the back, nothing shows")),
        ("piping", tr!("piping: a cord or a flat fold in the edge")),
    ]
}

/// What an edge is called, by its word in the file.
pub fn edge_word(edge: &str) -> String {
    match edge {
        "straight" => tr!("straight"),
        "prairie-points" => tr!("prairie points"),
        "scallops" => tr!("scallops"),
        "waves" => tr!("waves"),
        "ruffle" => tr!("ruffle"),
        "facing" => tr!("facing"),
        "piping" => tr!("piping"),
        other => other.to_owned(),
    }
}

/// Everything about the end of the work.
pub fn region(base: &str, quilt: &Quilt, plan: &Plan) -> Markup {
    let finish = &plan.finish;
    html! {
        h2 { (tr!("The edge")) }
        p { (tr!("Once round it is")) " " b { (words::around(quilt, &finish.round)) } "." }
        (answers::cautions(&finish.cautions))
        div.fields {
            (fields::choice("finish-edge", &tr!("What the edge is"), &edges().map(|(word, what)| {
                (what, json(&Edit::Edge { edge: word.to_owned(), cloth: None }), quilt.finish.edge.word() == word)
            })))
            (edge(quilt))
        }
        @if finish.curved.is_some() { p { a href={ (base) "edge.svg" } { (tr!("Template of the edge and its corner, full size (SVG)")) } } }
        (binding(quilt))
        @for (at, answer) in finish.answers.iter().enumerate().filter(|(_, answer)| answer.question != "cover") {
            (answers::answer(&format!("finish-{at}"), Ruler::of(quilt), answer, &picture(quilt, plan, answer.question)))
        }
        h2 { (tr!("Sewn on last")) }
        div.fields {
            (with_cloth("sleeve", "cloth", &tr!("Rod sleeve of"), quilt, quilt.finish.sleeve.map(|sleeve| sleeve.cloth)))
            @if let Some(sleeve) = &quilt.finish.sleeve { (length(quilt, "sleeve", "depth", &tr!("Depth"), sleeve.depth)) }
            (with_cloth("label", "cloth", &tr!("Label of"), quilt, quilt.finish.label.map(|label| label.cloth)))
            @if let Some(label) = &quilt.finish.label {
                @let size = label.size.map(|side| words::typed(quilt, side)).join(" x ");
                (fields::text("label-size", &tr!("Width x height"), &size, &set(&["label", "size"])))
            }
        }
        h2 { (tr!("As a cover with an insert")) }
        div.fields { (with_cloth("cover", "lining", &tr!("Lining of"), quilt, quilt.finish.cover.map(|cover| cover.lining))) (cover(quilt)) }
        @for (at, answer) in finish.answers.iter().enumerate().filter(|(_, answer)| answer.question == "cover") {
            (answers::answer(&format!("finish-{at}"), Ruler::of(quilt), answer, &picture(quilt, plan, answer.question)))
        }
    }
}

fn length(quilt: &Quilt, table: &str, key: &str, label: &str, value: Length) -> Markup {
    fields::text(&format!("{table}-{key}"), label, &words::typed(quilt, value), &set(&[table, key]))
}

fn length_or_usual(quilt: &Quilt, table: &str, key: &str, label: &str, value: Option<Length>) -> Markup {
    let value = value.map_or(String::new(), |value| words::typed(quilt, value));
    optional(&format!("{table}-{key}"), label, &value, &set(&[table, key]), &remove(&[table, key]))
}

/// A choice of cloth for something that can also be left out.
fn with_cloth(table: &str, key: &str, label: &str, quilt: &Quilt, current: Option<ClothId>) -> Markup {
    let mut options = vec![(tr!("none"), remove(&[table]), current.is_none())];
    options.extend(fields::cloth_options(quilt, current, |cloth| set_to(&[table, key], cloth)));
    fields::choice(&format!("{table}-{key}"), label, &options)
}

/// Sizes of the edge that is chosen.
fn edge(quilt: &Quilt) -> Markup {
    let cloth =
        |current| fields::cloth("finish-cloth", &tr!("Of"), quilt, Some(current), |key| set_to(&["finish", "cloth"], key));
    let size = |key: &str, label: &str, value| length(quilt, "finish", key, label, value);
    let switch = |key: &str, label: &str, choices: [(String, Scalar, bool); 2]| {
        let path = vec!["finish".to_owned(), key.to_owned()];
        let options = choices.map(|(word, value, chosen)| (word, json(&Edit::Set { path: path.clone(), value }), chosen));
        fields::choice(&format!("finish-{key}"), label, &options)
    };
    let word = |fold: PointFold| Scalar::Text(fold.word().to_owned());
    html! {
        @match quilt.finish.edge {
            EdgeFinish::Straight => {}
            EdgeFinish::PrairiePoints { cloth: of, square, spacing, fold } => {
                (cloth(of)) (size("square", &tr!("Side of a square as cut"), square))
                (length_or_usual(quilt, "finish", "spacing", &tr!("From point to point, at most"), spacing))
                (switch("fold", &tr!("Folded"), [
                    (tr!("twice over, each slips into the next"), word(PointFold::Nested), fold == PointFold::Nested),
                    (tr!("in half and to the middle, each lies over the next"), word(PointFold::Overlapping), fold == PointFold::Overlapping),
                ]))
            }
            EdgeFinish::Scallops(Arcs { width, depth, corner }) | EdgeFinish::Waves(Arcs { width, depth, corner }) => {
                (size("width", &tr!("About as wide as"), width)) (size("depth", &tr!("From highest to lowest"), depth))
                (length_or_usual(quilt, "finish", "corner", &tr!("A corner takes of a side"), corner))
            }
            EdgeFinish::Ruffle { cloth: of, depth, fullness } => {
                (cloth(of)) (size("depth", &tr!("Finished depth"), depth))
                (number("finish-fullness", &tr!("Times as long as the edge"), &fullness.to_string(), &["finish", "fullness"], "any"))
            }
            EdgeFinish::Facing { cloth: of, depth } => { (cloth(of)) (size("depth", &tr!("Finished depth"), depth)) }
            EdgeFinish::Piping { cloth: of, cord, flat } => {
                (cloth(of)) (size("cord", &if flat { tr!("Shows") } else { tr!("Thickness of the cord") }, cord))
                (switch("flat", &tr!("Made"), [(tr!("over a cord"), Scalar::Bool(false), !flat), (tr!("flat, without a cord"), Scalar::Bool(true), flat)]))
            }
        }
    }
}

fn binding(quilt: &Quilt) -> Markup {
    html! {
        div.fields {
            (with_cloth("binding", "cloth", &tr!("Binding of"), quilt, quilt.binding.map(|binding| binding.cloth)))
            @if let Some(binding) = &quilt.binding {
                (length(quilt, "binding", "width", &tr!("Width as it is cut"), binding.width))
                (fields::choice("binding-on", &tr!("Cut"), &[BindingOn::Straight, BindingOn::Bias].map(|on| {
                    let how = if on == BindingOn::Bias { tr!("on the bias, from a square") } else { tr!("from selvage to selvage") };
                    (how, set_to(&["binding", "on"], on.word()), binding.on == on)
                })))
            }
        }
    }
}

fn cover(quilt: &Quilt) -> Markup {
    let Some(cover) = quilt.finish.cover else { return html! {} };
    let Cover { larger, channel, grams, ties, tie_length, flap, seam, .. } = cover;
    let weight = grams.map_or(String::new(), |grams| grams.to_string());
    html! {
        (length(quilt, "cover", "larger", &tr!("The insert is larger by"), larger))
        (length_or_usual(quilt, "cover", "channel", &channel_label(quilt.measure), channel))
        (number("cover-grams", &tr!("Filling, grams a square metre"), &weight, &["cover", "grams"], "any"))
        (length_or_usual(quilt, "cover", "ties", &tr!("Ties, at most apart"), ties))
        @if ties.is_some() { (length(quilt, "cover", "tie-length", &tr!("Free end of a tie"), tie_length)) }
        (length_or_usual(quilt, "cover", "flap", &tr!("Flap over the edge at the head"), flap))
        (fields::choice("cover-seam", &tr!("Seams"), &SeamKind::ALL.map(|kind| {
            (seam_words(kind), set_to(&["cover", "seam"], kind.word()), kind == seam)
        })))
    }
}

fn channel_label(measure: Measure) -> String {
    if measure == Measure::Inch {
        tr!("Channels, at most wide (4 in for loose filling)")
    } else {
        tr!("Channels, at most wide (10 cm for loose filling)")
    }
}

fn seam_words(kind: SeamKind) -> String {
    match kind {
        SeamKind::Open => tr!("pressed open"),
        SeamKind::Plain => tr!("plain, to one side"),
        SeamKind::Overedged => tr!("overedged together"),
        SeamKind::Lapped => tr!("lapped, sewn down flat"),
        SeamKind::French => tr!("French: sewn twice, allowances inside"),
    }
}

/// What an answer looks like, where it has steps or a template to draw.
fn picture(quilt: &Quilt, plan: &Plan, question: &str) -> Markup {
    let template = || plan.finish.curved.as_ref().filter(|_| matches!(question, "scallops" | "waves"));
    let svg =
        finish_steps_svg(quilt, plan, question).or_else(|| template().map(|edge| edge_template_svg(edge, quilt.measure).svg));
    html! { @if let Some(svg) = svg { div.steps-drawn { (PreEscaped(svg)) } } }
}
