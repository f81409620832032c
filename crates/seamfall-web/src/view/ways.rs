//! Faster ways: units that need not be made patch by patch, what is cut for them, and the choice.

use super::fields::{self, json, swatch};
use super::words;
use maud::{Markup, html};
use seamfall_model::{Edit, MakingWay, Quilt, Working};
use seamfall_plan::Plan;
use seamfall_plan::cut::{FasterWay, UnitMaking};
use tr::tr;

/// Every unit that has a faster way.
pub fn list(quilt: &Quilt, plan: &Plan) -> Markup {
    let units = &plan.making.units;
    html! {
        @if !units.is_empty() {
            details.card #faster-ways {
                summary { b { (tr!("Faster ways")) } " " span.quiet { (tr!("for {units}", units = tr!("1 unit" | "{n} units" % units.len()))) } }
                p.quiet { (tr!("Made so, these units come out just as patch by patch, and the cut list follows.")) }
                @for (number, making) in units.iter().enumerate() { section.way { (unit(quilt, plan, number, making)) } }
            }
        }
    }
}

fn unit(quilt: &Quilt, plan: &Plan, number: usize, making: &UnitMaking) -> Markup {
    let name = &plan.units.all[making.unit].name;
    let Some((block, patch)) = plan.making.patch_of(number) else { return html! {} };
    let of = format!("{}.p{}", quilt.blocks[block.0].key, patch + 1);
    let edit = |way: Option<MakingWay>| json(&Edit::Way { of: of.clone(), way: way.map(|way| way.word().to_owned()) });
    let taken = making.faster().map_or(MakingWay::Plain, |way| way.way);
    let by_itself =
        if making.is_chosen { tr!("the plan chooses") } else { tr!("the plan chooses: {way}", way = words::making_way(taken)) };
    let mut options = vec![(by_itself, edit(None), !making.is_chosen)];
    for way in making.ways.iter().map(|way| way.way).chain([MakingWay::Plain]) {
        let label = if way == MakingWay::Plain { tr!("patch by patch") } else { words::making_way(way) };
        options.push((label, edit(Some(way)), making.is_chosen && way == taken));
    }
    let label = format!("{name}: {}, {}", words::unit_kind(quilt, &making.kind), tr!("1 needed" | "{n} needed" % making.count));
    html! {
        (fields::choice(&format!("way-{name}"), &label, &options))
        @if let Some(way) = making.faster() { (cut_for(quilt, name, way)) }
    }
}

/// What is cut for a way, with its workings.
fn cut_for(quilt: &Quilt, name: &str, way: &FasterWay) -> Markup {
    let mut workings: Vec<&Working> = way.from.iter().map(|from| &from.width).collect();
    workings.dedup_by(|a, b| a == b);
    workings.extend(way.set.iter().flat_map(|set| [&set.cut, &set.units]));
    workings.push(&way.batches);
    html! {
        ul.plain {
            @for from in &way.from { li {
                (swatch(from.cloth)) " " (tr!("{count} of {length}", count = from.a_batch, length = words::length(quilt, from.width.value)))
                @if way.set.is_none() { " " (tr!("square")) } @else { " " (tr!("wide, across the cloth")) }
                ", " (quilt.cloths[from.cloth.0].name)
            } }
        }
        p.quiet {
            (tr!("Makes {count} at a time, {times}", count = way.at_a_time, times = tr!("1 time" | "{n} times" % way.batches.count())))
            @if way.over > 0 { "; " (tr!("{over} over", over = way.over)) @if way.has_mirrored { ", " (tr!("some of them mirrored")) } }
            "."
        }
        (fields::how(&format!("way-how-{name}"), &workings))
    }
}
