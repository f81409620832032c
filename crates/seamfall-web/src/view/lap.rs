//! In the lap: how it is quilted, the designs and where they lie, the sections with their paths, and the work bag.

use super::fields::{self, json, number, optional, remove, set, set_to};
use super::{about, answers, player, words};
use crate::designs::{self, designs};
use crate::room::Worked;
use maud::{Markup, html};
use seamfall_model::{Edit, Length, Quilt, QuiltedOn, Quilting, QuiltingDesign, Working};
use seamfall_plan::Plan;
use seamfall_plan::caution::NEEDLES;
use seamfall_plan::set::{PieceKind, PlacedBlock, TopPiece};
use tr::tr;

/// So many bags are listed; what is beyond is counted.
const LISTED: usize = 60;

/// Everything about quilting.
pub fn region(base: &str, quilt: &Quilt, plan: &Plan) -> Markup {
    html! {
        h2 { (tr!("What to quilt in the lap")) }
        @if quilt.quilting.is_empty() {
            p { (tr!("No quilting is designed yet. Point at a block, a frame or a band on the drawing and choose a design, or begin here.")) }
        } @else {
            p { (stage_of_lines(plan)) }
            (totals(quilt, plan))
            (answers::cautions(&[NEEDLES]))
            (gaps(quilt, plan))
        }
        div.fields {
            (fields::text("lap-margin", &tr!("Free margin, from the trimmed edge"), &words::typed(quilt, quilt.lap.margin), &set(&["lap", "margin"])))
            (fields::text("lap-reach", &tr!("The needle travels unseen up to"), &words::typed(quilt, quilt.lap.reach), &set(&["lap", "reach"])))
        }
        (manner(quilt))
        h3 { (tr!("Designs")) }
        (add(quilt))
        (proposals(quilt, plan))
        @for (at, quilting) in quilt.quilting.iter().enumerate() { (design(quilt, at, quilting, "")) }
        @if !quilt.quilting.is_empty() {
            h3 { (tr!("Sections, each kind once")) }
            ul.stacks { @for at in 0..plan.lap.patterns.len() { (kind(base, quilt, plan, at)) } }
            (bags(quilt, plan))
        }
    }
}

/// How much of the design is quilted when.
fn stage_of_lines(plan: &Plan) -> Markup {
    let totals = &plan.lap.totals;
    html! {
        b { (tr!("1 start" | "{n} starts" % totals.starts.0)) }
        @if totals.starts.0 == totals.starts.1 { ", " (tr!("proven the fewest")) } @else { ", " (tr!("at least {starts} in any order", starts = totals.starts.1)) }
        ". " (tr!("Solid lines are quilted now, dashed ones after the join; at a ring a thread is left hanging."))
    }
}

fn totals(quilt: &Quilt, plan: &Plan) -> Markup {
    let totals = &plan.lap.totals;
    let line = |id: &str, what: &str, quiet: String, amount: String, workings: &[&Working]| {
        fields::worked(id, &html! { span.what { (what) br; span.quiet { (quiet) } } b.amount { (amount) } }, workings)
    };
    let knots = tr!(
        "{knots}, {threads} left hanging",
        knots = tr!("1 knot" | "{n} knots" % totals.knots),
        threads = tr!("1 thread" | "{n} threads" % totals.hanging)
    );
    html! {
        ul.numbers {
            li { (line("how-lap-hours", &tr!("Hours before the joins"), tr!("{stretch} of quilting", stretch = words::stretch(quilt, totals.stitched)), words::hours(totals.hours.value), &[&totals.hours])) }
            @if totals.after > 0.0 {
                li { (line("how-lap-after", &tr!("Hours after the joins"), tr!("{stretch} of quilting", stretch = words::stretch(quilt, totals.after)), words::hours(totals.hours_after.value), &[&totals.hours_after])) }
            }
            li { (line("how-lap-thread", &tr!("Thread"), format!("{}, {knots}", tr!("1 needleful" | "{n} needlefuls" % totals.needlefuls)), words::stretch(quilt, totals.thread), &[&plan.lap.thread_rate])) }
        }
    }
}

/// The widest gap against what the batting allows, and what to do about those that are too wide.
fn gaps(quilt: &Quilt, plan: &Plan) -> Markup {
    let show = |width: f64| Length::new(width).shown_with_unit(quilt.step);
    let limit = quilt.lap.largest_gap.shown_with_unit(quilt.step);
    html! {
        @match &plan.lap.largest_gap {
            None => p { (tr!("No gap between lines is wider than half of the {limit} that the batting allows.", limit)) },
            Some(gap) if plan.lap.gaps.is_empty() => p { (tr!("The widest gap between lines is")) " " b { (show(gap.width)) } "; " (tr!("the batting allows {limit}.", limit)) },
            Some(_) => {
                p { b { (tr!("1 kind of gap is wider" | "{n} kinds of gaps are wider" % plan.lap.gaps.len())) } " " (tr!("than the {limit} that the batting allows:", limit)) }
                ul.stacks { @for (at, gap) in plan.lap.gaps.iter().enumerate() { li {
                    button id={ "gap-" (at + 1) } type="button" data-look={ (format!("{:.3} {:.3}", gap.centre.x, plan.top.size.y - gap.centre.y)) } {
                        b { (show(gap.width)) } " " (tr!("in {section}", section = plan.top.sections[gap.section].name))
                        @if let Some(other) = gap.over_join_with { ", " (tr!("over the join with {section}", section = plan.top.sections[other].name)) }
                        @if gap.sections.len() > 1 { ", " (tr!("and in {more} more", more = gap.sections.len() - 1)) }
                        br; span.quiet { @if gap.over_join_with.is_some() { (tr!("quilt a line along the join after it is sewn")) } @else { (tr!("add a line through its middle")) } }
                    }
                } } }
            }
        }
    }
}

/// How the maker quilts.
fn manner(quilt: &Quilt) -> Markup {
    let lap = &quilt.lap;
    let length = |key: &'static str, label: &str, length: Length| {
        fields::text(&format!("lap-{key}"), label, &words::typed(quilt, length), &set(&["lap", key]))
    };
    let plain = |key: &'static str, label: &str, value: f64, step: &str| {
        number(&format!("lap-{key}"), label, &value.to_string(), &["lap", key], step)
    };
    html! {
        details.card #lap-manner {
            summary { b { (tr!("How you quilt")) } " " span.quiet { (tr!("thread, pace, batting")) } }
            p.quiet { (tr!("Quilt a practice piece, count its stitches and stop the time: stitches to an inch, minutes for a foot.")) }
            div.fields {
                (length("needleful", &tr!("Thread in the needle"), lap.needleful))
                (length("tail", &tr!("Left at either end of it"), lap.tail))
                (plain("stitches-an-inch", &tr!("Stitches an inch"), lap.stitches_an_inch, "any"))
                (plain("minutes-a-foot", &tr!("Minutes a foot"), lap.minutes_a_foot, "any"))
                (plain("hours-a-week", &tr!("Hours a week"), lap.hours_a_week, "any"))
                (length("thickness", &tr!("Thickness of the layers"), lap.thickness))
                (length("largest-gap", &tr!("Widest gap the batting allows"), lap.largest_gap))
            }
        }
    }
}

fn add(quilt: &Quilt) -> Markup {
    let edit = r#"{"do":"add-quilting","on":"$on","design":"$design"}"#;
    html! {
        form #add-quilting data-edit=(edit) {
            div.fields {
                label.field for="add-quilting-on" { span { (tr!("On")) } select #add-quilting-on name="on" {
                    @for on in QuiltedOn::all(quilt) { option value=(on.key(quilt)) { (on.name(quilt)) } }
                } }
                label.field for="add-quilting-design" { span { (tr!("Design")) } select #add-quilting-design name="design" {
                    @for (word, name) in designs() { option value=(word) { (name) } }
                } }
            }
            p { button type="submit" { (tr!("Add this design")) } }
        }
    }
}

/// Lines that would keep mitred corners flat.
fn proposals(quilt: &Quilt, plan: &Plan) -> Markup {
    html! {
        @for (at, proposal) in plan.lap.proposals.iter().enumerate() {
            div.card {
                p { (tr!("The motif on {on} leaves its mitred corners without a line; they will stand up.", on = proposal.on.name(quilt))) }
                (fields::button(&format!("propose-{at}"), &tr!("Quilt along the mitres"), &json(&added(quilt, proposal.on, "mitres")), None))
            }
        }
    }
}

fn added(quilt: &Quilt, on: QuiltedOn, design: &str) -> Edit {
    Edit::AddQuilting { on: on.key(quilt), design: design.to_owned(), path: None }
}

/// One design with its sizes. `where_` keeps ids apart where it is shown twice.
fn design(quilt: &Quilt, at: usize, quilting: &Quilting, where_: &str) -> Markup {
    let place = at.to_string();
    let id = |key: &str| format!("{where_}quilting-{at}-{key}");
    let path = |key: &'static str| ["quilting", place.as_str(), key];
    let length = |key: &'static str, label: &str, value: Length| {
        fields::text(&id(key), label, &words::typed(quilt, value), &set(&path(key)))
    };
    let size = |[width, height]: [Length; 2]| format!("{} x {}", words::typed(quilt, width), words::typed(quilt, height));
    let whole = |key: &'static str, label: &str, value: Option<u32>| {
        number(&id(key), label, &value.map_or(String::new(), |value| value.to_string()), &path(key), "1")
    };
    html! {
        details.card #(id("card")) {
            summary { b { (designs::name(quilting.design.word())) } " " span.quiet { (tr!("on {on}", on = quilting.on.name(quilt))) } }
            div.fields {
                (fields::choice(&id("on"), &tr!("On"), &QuiltedOn::all(quilt).into_iter()
                    .map(|on| (on.name(quilt), set_to(&path("on"), &on.key(quilt)), on == quilting.on)).collect::<Vec<_>>()))
                @match &quilting.design {
                    QuiltingDesign::InTheDitch | QuiltingDesign::Mitres => {}
                    QuiltingDesign::Outline { distance } => { (length("distance", &tr!("Away from the seams"), *distance)) }
                    QuiltingDesign::Echo { distance, count } => {
                        (length("distance", &tr!("From line to line"), *distance)) (whole("count", &tr!("Lines"), Some(*count)))
                    }
                    QuiltingDesign::Parallel { angle_deg, spacing } | QuiltingDesign::Crossed { angle_deg, spacing } => {
                        (number(&id("angle"), &tr!("Degrees from level"), &angle_deg.to_string(), &path("angle"), "any"))
                        (length("spacing", &tr!("From line to line"), *spacing))
                    }
                    QuiltingDesign::Stippling { spacing } => { (length("spacing", &tr!("Between neighbouring stretches"), *spacing)) }
                    QuiltingDesign::Motif { size: of, repeats, .. } => {
                        (optional(&id("size"), &tr!("Width x height of one"), &of.map_or(String::new(), size), &set(&path("size")), &remove(&path("size"))))
                        (whole("repeats", &tr!("Side by side"), *repeats))
                    }
                    QuiltingDesign::Path { data, size: of, repeats } => {
                        (fields::text(&id("path"), &tr!("Path data of SVG"), data, &set(&path("path"))))
                        (fields::text(&id("size"), &tr!("Width x height"), &size(*of), &set(&path("size"))))
                        (whole("repeats", &tr!("Side by side"), *repeats))
                        label.field for=(id("file")) { span { (tr!("Or from an SVG file")) } input id=(id("file")) type="file" accept=".svg,image/svg+xml" data-drawing=(set(&path("path"))); }
                    }
                }
            }
            (fields::button(&id("remove"), &tr!("Take this design away"), &remove(&["quilting", &place]), None))
        }
    }
}

/// A kind of section.
fn kind(base: &str, quilt: &Quilt, plan: &Plan, at: usize) -> Markup {
    let pattern = &plan.lap.patterns[at];
    let sections: Vec<usize> = plan.lap.sections_of(at).collect();
    let Some(&number) = sections.first() else { return html! {} };
    let first = &plan.top.sections[number];
    let names: Vec<&str> = sections.iter().take(8).map(|&section| plan.top.sections[section].name.as_str()).collect();
    html! {
        li {
            button id={ "section-" (first.name) } type="button" data-go=[about::element(plan, number)] {
                b { @match sections.len().saturating_sub(8) { 0 => (names.join(", ")), more => (tr!("{names} and {more} more", names = names.join(", "), more)) } } br;
                span.quiet { (words::quilted(quilt, pattern)) }
            }
            p { a href={ (base) "section/" (first.name) } { (tr!("Follow it, step by step")) } }
        }
    }
}

fn bags(quilt: &Quilt, plan: &Plan) -> Markup {
    html! {
        h3 { (tr!("The work bag, week by week")) }
        table {
            thead { tr { th scope="col" { (tr!("Week")) } th scope="col" { (tr!("Sections")) } th.amount scope="col" { (tr!("Needlefuls")) } th.amount scope="col" { (tr!("Thread")) } th.amount scope="col" { (tr!("Time")) } } }
            tbody { @for (week, bag) in plan.lap.bags.iter().take(LISTED).enumerate() { tr {
                th scope="row" { (week + 1) }
                td { (bag.sections.iter().map(|&section| plan.top.sections[section].name.as_str()).collect::<Vec<_>>().join(", ")) }
                td.amount { (bag.needlefuls) } td.amount { (words::stretch(quilt, bag.thread)) } td.amount { (words::hours(bag.hours)) }
            } } }
        }
        @if plan.lap.bags.len() > LISTED { p.quiet { (tr!("And {weeks} weeks more.", weeks = plan.lap.bags.len() - LISTED)) } }
    }
}

/// The quilting of what stands at a place: its section with the path, the designs that lie there, and more to choose from.
pub fn about_place(worked: &Worked, place: &PlacedBlock) -> Markup {
    let frame = place.frame.map(QuiltedOn::Frame);
    let on: Vec<QuiltedOn> = std::iter::once(QuiltedOn::Block(place.block)).chain(frame).chain([QuiltedOn::Quilt]).collect();
    about_section(worked, &place.name, place.section, &on)
}

/// The quilting of a strip.
pub fn about_strip(worked: &Worked, strip: &TopPiece) -> Markup {
    let on = match strip.kind {
        PieceKind::Frame { place, .. } | PieceKind::FrameSquare { place, .. } => {
            worked.plan.top.places.get(place).and_then(|place| place.frame).map(QuiltedOn::Frame)
        }
        PieceKind::Band { band, .. } | PieceKind::BandSquare { band } => Some(QuiltedOn::Band(band)),
        PieceKind::Sash | PieceKind::Cornerstone => Some(QuiltedOn::Sashing),
        PieceKind::SideTriangle | PieceKind::CornerTriangle | PieceKind::Filler => None,
    };
    let on: Vec<QuiltedOn> = on.into_iter().chain([QuiltedOn::Quilt]).collect();
    about_section(worked, &words::strip(strip), strip.section, &on)
}

fn about_section(worked: &Worked, name: &str, section: usize, on: &[QuiltedOn]) -> Markup {
    let (quilt, plan) = (&worked.quilt, &worked.plan);
    html! {
        @if let (Some(section), Some(work)) = (plan.top.sections.get(section), plan.lap.sections.get(section)) {
            h2 { (tr!("Section {section}", section = section.name)) " " span.quiet { (tr!("with {name}", name)) } }
            p { (words::quilted(quilt, &plan.lap.patterns[work.pattern])) "." }
        }
        (player::player(worked, section, false))
        @for &on in on {
            h3 { (tr!("On {on}", on = on.name(quilt))) @if !matches!(on, QuiltedOn::Quilt) { ", " (tr!("wherever it is")) } }
            @for (at, quilting) in quilt.quilting.iter().enumerate().filter(|(_, quilting)| quilting.on == on) {
                (design(quilt, at, quilting, "here-"))
            }
            details #{ "choose-" (on.key(quilt).replace(' ', "-")) } {
                summary { (tr!("Add a design")) }
                ul.starters { @for (word, said) in designs() {
                    @let key = on.key(quilt).replace(' ', "-");
                    li { button id={ "quilt-" (key) "-" (word) } type="button" data-edit=(json(&added(quilt, on, word))) {
                        img src={ "/design/" (word) ".svg" } alt="" loading="lazy" width="72" height="72"; span { (said) }
                    } }
                } }
            }
        }
    }
}
