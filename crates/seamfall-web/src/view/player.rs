//! The way of the needle through one section, played or gone through needleful by needleful; and the page that has it large.

use super::{answers, page, words};
use crate::room::Worked;
use maud::{Markup, PreEscaped, html};
use seamfall_draw::section_svg;
use seamfall_plan::caution::NEEDLES;
use seamfall_plan::lap::End;
use tr::tr;

/// The section's drawing with the needle's way over it. The script fetches the way when it is played.
pub fn player(worked: &Worked, section: usize, mirrored: bool) -> Markup {
    let (quilt, plan) = (&worked.quilt, &worked.plan);
    let Some(drawing) = section_svg(quilt, plan, section, mirrored) else { return html! {} };
    let name = &plan.top.sections[section].name;
    let empty = plan.lap.patterns[plan.lap.sections[section].pattern].needlefuls.is_empty();
    html! {
        div.player data-way={ "/q/" (worked.id) "/section/" (name) "/way.json" @if mirrored { "?back=true" } } {
            div.section-drawing { (PreEscaped(drawing.svg)) }
            @if !empty {
                div.buttons role="group" aria-label=(tr!("The way of the needle in {name}", name)) {
                    button type="button" data-play="back" { (tr!("◂ needleful")) }
                    button type="button" data-play="run" { (tr!("Play")) }
                    button type="button" data-play="on" { (tr!("needleful ▸")) }
                }
                p.told aria-live="polite" { }
            }
        }
    }
}

/// The page of one section, to follow while it is quilted.
pub fn section(worked: &Worked, section: usize, mirrored: bool) -> Markup {
    let (quilt, plan) = (&worked.quilt, &worked.plan);
    let (set, work) = (&plan.top.sections[section], &plan.lap.sections[section]);
    let pattern = &plan.lap.patterns[work.pattern];
    let base = format!("/q/{}/", worked.id);
    let end = |end: End| match end {
        End::Knot => tr!("a knot"),
        End::Hanging => tr!("left hanging"),
    };
    let body = html! {
        body.plain.table {
            main {
                p.back { a href={ (base) "sewing" } { (tr!("All sections of {name}", name = quilt.name)) } }
                h1 { (tr!("Section {set}", set = set.name)) @if mirrored { ", " (tr!("seen from the back")) } }
                p { (tr!("{size} finished: {quilted}.", size = words::size(quilt, set.size.x, set.size.y), quilted = words::quilted(quilt, pattern))) }
                p.quiet { (tr!("Solid lines are quilted now, dashed ones after the join, dotted ways run unseen between the layers. At a ring the thread is left hanging; it is taken up again after the join. The thin line along the edge is the free margin.")) }
                (answers::cautions(&[NEEDLES]))
                (player(worked, section, mirrored))
                p.links {
                    @if mirrored { a href={ (base) "section/" (set.name) } { (tr!("Seen from the front")) } }
                    @else { a href={ (base) "section/" (set.name) "?back=true" } { (tr!("Seen from the back")) } }
                    " · "
                    a href={ (base) "section/" (set.name) "/lines.svg" @if mirrored { "?back=true" } } download={ (set.name) ".svg" } { (tr!("Drawing (SVG, full size)")) }
                }
                @if !pattern.needlefuls.is_empty() {
                    table {
                        thead { tr { th scope="col" { (tr!("Needleful")) } th scope="col" { (tr!("Path")) } th.amount scope="col" { (tr!("Along")) } th.amount scope="col" { (tr!("Thread")) } th scope="col" { (tr!("Begins with")) } th scope="col" { (tr!("Ends with")) } } }
                        tbody { @for (at, one) in pattern.needlefuls.iter().enumerate() { tr {
                            th scope="row" { (at + 1) } td { (one.path + 1) }
                            td.amount { (words::stretch(quilt, one.to - one.from)) } td.amount { (words::stretch(quilt, one.thread)) }
                            td { (end(one.ends[0])) } td { (end(one.ends[1])) }
                        } } }
                    }
                }
            }
        }
    };
    page::plain(&tr!("Section {set} - {name}", set = set.name, name = quilt.name), &body)
}
