//! Faster ways: units that need not be made patch by patch, what is cut for them, and the choice.

use super::fields::{self, json, swatch};
use super::words;
use maud::{Markup, html};
use seamfall_model::{Edit, MakingWay, Quilt, Working};
use seamfall_plan::Plan;
use seamfall_plan::cut::{FasterWay, UnitMaking};

/// Every unit that has a faster way.
pub fn list(quilt: &Quilt, plan: &Plan) -> Markup {
    let units = &plan.making.units;
    html! {
        @if !units.is_empty() {
            details.card #faster-ways {
                summary { b { "Faster ways" } " " span.quiet { "for " (words::count(units.len(), "unit", "units")) } }
                p.quiet { "Made so, these units come out just as patch by patch, and the cut list follows." }
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
        format!("the plan chooses{}", if making.is_chosen { String::new() } else { format!(": {}", words::making_way(taken)) });
    let mut options = vec![(by_itself, edit(None), !making.is_chosen)];
    for way in making.ways.iter().map(|way| way.way).chain([MakingWay::Plain]) {
        let label = if way == MakingWay::Plain { "patch by patch".to_owned() } else { words::making_way(way) };
        options.push((label.to_owned(), edit(Some(way)), making.is_chosen && way == taken));
    }
    let label = format!("{name}: {}, {}", words::unit_kind(quilt, &making.kind), words::count(making.count, "needed", "needed"));
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
                (swatch(from.cloth)) " " (from.a_batch) " of " (words::length(quilt, from.width.value))
                @if way.set.is_none() { " square" } @else { " wide, across the cloth" }
                ", " (quilt.cloths[from.cloth.0].name)
            } }
        }
        p.quiet {
            "Makes " (way.at_a_time) " at a time, " (words::count(way.batches.count(), "time", "times"))
            @if way.over > 0 { "; " (way.over) " over" @if way.has_mirrored { ", some of them mirrored" } }
            "."
        }
        (fields::how(&format!("way-how-{name}"), &workings))
    }
}
