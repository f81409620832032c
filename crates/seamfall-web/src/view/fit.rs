//! The bed that is to be covered, how the quilt hangs on it, and settings that would cover it.

use super::answers;
use super::fields::{self, json, remove, set, set_to};
use super::{drape, words};
use maud::{Markup, PreEscaped, html};
use seamfall_draw::bed_svg;
use seamfall_model::{BEDS, Bed, CornerShape, Edit, Length, Measure, PerCent, Quilt, Scalar, StandardBed, Working};
use seamfall_plan::Plan;
use seamfall_plan::answer::Ruler;
use seamfall_plan::finish::sleeve;
use seamfall_plan::fit::{self, CornerHang, Fit, Found, OnBed};
use tr::tr;

/// Everything about the bed.
pub fn region(base: &str, quilt: &Quilt, plan: &Plan) -> Markup {
    html! {
        h2 { (tr!("The bed")) }
        @if quilt.bed.is_none() {
            p data-for="edit" { (tr!("For which bed is it? Choose the nearest, then type what you measured: makers differ by an inch.")) }
        }
        div.fields { (standard(quilt)) @if let Some(bed) = &quilt.bed { (sizes(quilt, bed)) } }
        @if let Some(fit) = &plan.fit {
            (shares(&fit.bed))
            (answers::cautions(&fit.cautions))
            @for (at, answer) in fit.answers.iter().enumerate().filter(|(_, answer)| answer.question == "size") {
                (answers::answer(&format!("fit-{at}"), Ruler::of(quilt), answer, &html! {}))
            }
            (wishes(quilt, fit))
            @if let Some(hang) = &fit.hang {
                (hanging(quilt, fit, hang))
                (larger(quilt, plan, fit))
                @if let Some(svg) = bed_svg(quilt, plan) { div.steps-drawn { (PreEscaped(svg)) } }
                (corners(base, quilt, plan, hang))
                (drape::panel(base, quilt, plan))
            }
        }
    }
}

/// What is wished of settings that reach the size; the script puts what is found below.
fn wishes(quilt: &Quilt, fit: &Fit) -> Markup {
    let size = fit.wanted.to_piece();
    let wishes = match fit::wishes(quilt, size) {
        Ok((wishes, _)) => wishes,
        Err(none) => {
            return html! { h2 { (tr!("Settings that reach it")) } p { (words::capital(&none.reason)) "; " (none.nearest) "." } };
        }
    };
    let typed = |value: f64| words::typed(quilt, Length::new(value));
    let select = |id: &str, label: &str, name: &str, options: &[(&str, String)]| {
        html! {
            label.field for=(id) { span { (label) } select id=(id) name=(name) { @for (value, what) in options { option value=(value) { (what) } } } }
        }
    };
    let text = |id: &str, label: &str, name: &str, value: String| {
        html! { label.field for=(id) { span { (label) } input id=(id) name=(name) type="text" value=(value) autocomplete="off" required; } }
    };
    html! {
        h2 { (tr!("Settings that reach it")) }
        p { (tr!("Block, rows, frame, sashing and bands that come to")) " " b { (words::size(quilt, size.x, size.y)) } " " (tr!("as pieced, the middle between least and largest.")) }
        form #find-settings data-find="settings" {
            div.fields {
                (select("find-standing", &tr!("Blocks stand"), "standing", &[("", tr!("either way")), ("straight", tr!("straight")), ("on-point", tr!("on point"))]))
                (select("find-parity", &tr!("Columns and rows"), "parity", &[("", tr!("any number")), ("odd", tr!("odd numbers")), ("even", tr!("even numbers"))]))
                (text("find-from", &tr!("Block, from"), "from", typed(wishes.blocks.from)))
                (text("find-to", &tr!("Block, to"), "to", typed(wishes.blocks.to)))
                (select("find-steps", &tr!("Sizes"), "steps", &[("half", tr!("whole and half")), ("whole", tr!("whole only"))]))
                (text("find-within", &tr!("Within"), "within", typed(wishes.tolerance)))
            }
            p { button type="submit" { (tr!("Find settings")) } }
        }
    }
}

/// What the search found, each with its reason and a button that makes it the quilt.
pub fn found(quilt: &Quilt, found: &Found) -> Markup {
    html! {
        p { b { (tr!("1 setting" | "{n} settings" % found.best.len())) } " " (tr!("out of {all} looked at; {near} come within {tolerance}.", all = grouped(found.settings), near = grouped(found.within), tolerance = Length::new(found.tolerance).shown_with_unit(quilt.step))) }
        @for (at, one) in found.best.iter().enumerate() {
            section.card.candidate {
                h3 { (words::capital(&one.reason)) }
                p { (one.words(Ruler::of(quilt))) }
                (fields::worked(&format!("how-found-{at}"), &html! {
                    span.what { b { (words::size(quilt, one.size.x, one.size.y)) } br; span.quiet { (tr!("1 block" | "{n} blocks" % one.blocks)) } }
                    b.amount { (tr!("{stretch} of cloth", stretch = words::stretch(quilt, one.figures.cloth / usual_width(quilt)))) br; span.quiet { (words::hours(one.figures.hours)) } }
                }, &one.workings.iter().collect::<Vec<_>>()))
                @if let Some(edit) = fit::as_edit(quilt, one) { (fields::button(&format!("take-{at}"), &tr!("Make it the quilt"), &json(&edit), None)) }
            }
        }
        p.quiet { (tr!("Cloth is by area with its seams, on cloth {width} wide; hours are for seams, quilting and joins at your pace. Both serve to compare; the plan has the real figures once a setting is taken.", width = Length::new(usual_width(quilt)).shown_with_unit(quilt.step))) }
    }
}

/// Width on which cloth is compared: common practice.
fn usual_width(quilt: &Quilt) -> f64 {
    if quilt.measure == Measure::Inch { 40.0 } else { 102.0 }
}

/// `1,234,567`.
fn grouped(number: u64) -> String {
    let digits = number.to_string();
    let groups: Vec<&str> =
        digits.as_bytes().rchunks(3).rev().map(|group| std::str::from_utf8(group).unwrap_or_default()).collect();
    groups.join(",")
}

/// What the quilt as designed comes to on the bed, beside what is wanted.
fn hanging(quilt: &Quilt, fit: &Fit, hang: &OnBed) -> Markup {
    let show = |value: f64| Length::new(value).shown_with_unit(quilt.step);
    let row = |id: &str, what: &str, [least, most]: &[Working; 2], wanted: Length, miss: &Working| {
        let comes = if (most.value - least.value).abs() < 0.01 {
            show(least.value)
        } else {
            tr!("{least} to {most}", least = show(least.value), most = show(most.value))
        };
        let line = html! {
            span.what { (what) br; span.quiet { (tr!("wanted {wanted}, {off}", wanted = wanted.shown_with_unit(quilt.step), off = off(quilt, miss.value))) } }
            b.amount { (comes) }
        };
        html! { li { (fields::worked(id, &line, &[least, most, miss])) } }
    };
    html! {
        h2 { (tr!("This quilt on it")) }
        @if !hang.covers() { p { b { (tr!("It does not reach beyond the mattress all round.")) } } }
        ul.numbers {
            (row("how-fit-side", &tr!("Hangs at the sides"), &hang.side, fit.bed.sides, &hang.side_miss))
            (row("how-fit-foot", &tr!("Hangs at the foot"), &hang.foot, fit.bed.foot, &hang.foot_miss))
        }
    }
}

/// The band that would bring a quilt that is too small to the size that is wanted.
fn larger(quilt: &Quilt, plan: &Plan, fit: &Fit) -> Markup {
    let ruler = Ruler::of(quilt);
    let Ok(band) = sleeve::enlarge(plan.top.size, fit.wanted.to_piece(), None, ruler) else { return html! {} };
    let width = quilt.step.up(Length::new(band.across.value.min(band.along.value)));
    let cloth = quilt.cloths[quilt.bands.last().map_or(0, |band| band.cloth.0)].key.clone();
    html! {
        (answers::answer("fit-larger", ruler, &band.answer(), &html! {}))
        @if width > Length::ZERO {
            p { (fields::button("fit-band", &tr!("Add a band of {ruler} outside", ruler = ruler.shown(width)), &json(&Edit::AddBand { width: words::typed(quilt, width), cloth }), None)) }
        }
    }
}

fn off(quilt: &Quilt, miss: f64) -> String {
    let by = Length::new(miss.abs()).shown_with_unit(quilt.step);
    match miss {
        miss if miss.abs() < quilt.step.size() / 2.0 => tr!("as wanted"),
        miss if miss > 0.0 => tr!("{by} more", by),
        _ => tr!("{by} less", by),
    }
}

/// How far down the cloth reaches at each shape of corner, to choose from.
fn corners(base: &str, quilt: &Quilt, plan: &Plan, hang: &OnBed) -> Markup {
    let show = |value: f64| Length::new(value).shown_with_unit(quilt.step);
    let row = |corner: &CornerHang| {
        let word = corner.shape.word();
        let edit = if corner.shape == CornerShape::Square { remove(&["corners"]) } else { set_to(&["corners", "shape"], word) };
        html! {
            tr.taken[quilt.corners == corner.shape] {
                td { label.switch for={ "corner-" (word) } {
                    input id={ "corner-" (word) } type="radio" name="corner" data-edit=(edit) checked[quilt.corners == corner.shape];
                    span { (corner.shape.words()) }
                } }
                @match &corner.cut {
                    Ok(cut) => {
                        td.amount { (show(cut.hang.value)) }
                        td.amount { @if let Some(floor) = corner.to_the_floor(Ruler::of(quilt)) { @if corner.drags { b { (floor) } } @else { (floor) } } }
                    }
                    Err(none) => td colspan="2" { span.quiet { (none.reason) "; " (none.nearest) } },
                }
            }
        }
    };
    let workings: Vec<&Working> =
        hang.corners.iter().filter_map(|corner| corner.cut.as_ref().ok()).map(|cut| &cut.hang).collect();
    html! {
        fieldset.pressings {
            legend { (tr!("Corners at the foot")) }
            table #fit-corners {
                thead { tr { th scope="col" { (tr!("Corner")) } th.amount scope="col" { (tr!("Reaches down")) } th.amount scope="col" { (tr!("To the floor")) } } }
                tbody { @for corner in &hang.corners { (row(corner)) } }
            }
        }
        (fields::how("how-fit-corners", &workings))
        @for (at, corner) in plan.top.corners.iter().enumerate() {
            p { b { (words::capital(&corner.name())) ": " } (corner.trimming(quilt, &plan.top)) ". "
                a href={ (base) "corner/" (at + 1) ".svg" } { (tr!("Template, full size (SVG)")) } }
        }
    }
}

fn standard(quilt: &Quilt) -> Markup {
    let current = quilt.bed.as_ref();
    let mut options = vec![(tr!("no bed"), remove(&["bed"]), current.is_none())];
    if let Some(bed) = current.filter(|bed| bed.standard.is_none()) {
        options.push((tr!("as measured"), set_to(&["bed", "width"], &words::typed(quilt, bed.width)), true));
    }
    options.extend(BEDS.iter().map(|bed| {
        let chosen = current.and_then(|bed| bed.standard).is_some_and(|standard| standard.key == bed.key);
        (standard_name(quilt, bed), json(&Edit::Bed { standard: bed.key.to_owned() }), chosen)
    }));
    fields::choice("bed-standard", &tr!("Standard bed"), &options)
}

/// `US queen, 60 × 80 in`.
fn standard_name(quilt: &Quilt, bed: &StandardBed) -> String {
    let [width, length] = bed.mattress(quilt.measure);
    format!("{}, {}", words::bed_name(bed), words::size(quilt, width.value(), length.value()))
}

fn sizes(quilt: &Quilt, bed: &Bed) -> Markup {
    let length = |key: &'static str, label: &str, value: Length| {
        fields::text(&format!("bed-{key}"), label, &words::typed(quilt, value), &set(&["bed", key]))
    };
    let posts = [false, true].map(|posts| {
        let edit = Edit::Set { path: vec!["bed".to_owned(), "posts".to_owned()], value: Scalar::Bool(posts) };
        (if posts { tr!("yes") } else { tr!("no") }, json(&edit), bed.posts == posts)
    });
    html! {
        (length("width", &tr!("Width of the mattress"), bed.width))
        (length("length", &tr!("Length of the mattress"), bed.length))
        (length("height", &tr!("Its top above the floor"), bed.height))
        (length("sides", &tr!("To hang at the sides"), bed.sides))
        (length("foot", &tr!("To hang at the foot"), bed.foot))
        (length("tuck", &tr!("To tuck at the pillows"), bed.tuck))
        (fields::choice("bed-posts", &tr!("Posts at the foot"), &posts))
    }
}

/// What quilting and the first wash take off, each between two bounds.
fn shares(bed: &Bed) -> Markup {
    html! {
        details.card #bed-shares {
            summary { b { (tr!("What it loses")) } " " span.quiet { (tr!("quilting {quilting}, first wash {wash}", quilting = range(bed.take_up), wash = range(bed.shrinkage))) } }
            p.quiet { (tr!("Measure a practice piece before and after it is quilted, and again when it is washed. The top is made so much larger.")) }
            (share("take-up", &tr!("Quilting takes off"), bed.take_up))
            (share("shrinkage", &tr!("The first wash takes off"), bed.shrinkage))
        }
    }
}

fn range(share: PerCent) -> String {
    if share.least.to_bits() == share.most.to_bits() {
        format!("{} %", share.least)
    } else {
        tr!("{least} to {most} %", least = share.least, most = share.most)
    }
}

fn share(key: &str, label: &str, share: PerCent) -> Markup {
    let edit = format!(r#"{{"do":"set","path":["bed","{key}"],"value":["$least","$most"]}}"#);
    let field = |name: &str, label: String, value: f64| {
        html! {
            label.field for={ "bed-" (key) "-" (name) } { span { (label) }
                input id={ "bed-" (key) "-" (name) } name=(name) type="number" min="0" max="15" step="any" value=(value) required; }
        }
    };
    html! {
        form.pair data-edit=(edit) data-at-once {
            (field("least", tr!("{label}, at least, %", label), share.least))
            (field("most", tr!("at most, %"), share.most))
        }
    }
}
