//! `seamfall cut`: how to cut a list of rectangles or templates out of cloth or sheets, in words or as JSON.

use crate::failure::Failure;
use crate::files;
use seamfall_cutting::file::{Order, Task, read, write, write_sheets};
use seamfall_cutting::job::{Job, Kind, Stages};
use seamfall_cutting::layout::{Content, Panel};
use seamfall_cutting::nest::{self, Nesting, list::List};
use seamfall_cutting::sheets::{SheetCutting, SheetJob, cut_sheets};
use seamfall_cutting::{Budget, Cutting, cut};
use seamfall_model::decimal;
use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::Path;
use tr::tr;

/// The answer for a list.
pub fn answer(file: &Path, json: bool, stages: Option<u8>) -> Result<String, Failure> {
    let text = files::read(file)?;
    let bad = |error| Failure::List { file: file.to_owned(), error };
    let stages = stages.map(Stages::new).transpose().map_err(|error| bad(error.into()))?;
    let order = read(&text, stages).map_err(bad)?;
    Ok(match &order.task {
        Task::Length(job) => {
            let cutting = cut(job, Budget::FULL);
            if json { write(job, &cutting, order.ticks_per_unit) + "\n" } else { of_length(&order, job, &cutting) }
        }
        Task::Sheets(job) => {
            let cutting = cut_sheets(job, Budget::FULL).map_err(|error| bad(error.into()))?;
            if json { write_sheets(job, &cutting, order.ticks_per_unit) + "\n" } else { of_sheets(&order, job, &cutting) }
        }
        Task::Templates(list) => {
            let nesting = nest::cut(&list.templates, list.cloth, nest::Budget::FULL).map_err(|error| bad(error.into()))?;
            if json { nest::list::write(list, &nesting) + "\n" } else { of_templates(&order, list, &nesting) }
        }
    })
}

/// What the proof is about: with two stages, layouts of two stages.
fn within(stages: Stages, said: String) -> String {
    if stages == Stages::TWO { tr!("{said} in strips and sub-cuts", said) } else { said }
}

/// A number of ticks in the unit of the list.
fn size(order: &Order, ticks: u64) -> String {
    decimal(ticks as f64 / f64::from(order.ticks_per_unit), 4)
}

fn of_length(order: &Order, job: &Job, cutting: &Cutting) -> String {
    let (layout, unit) = (&cutting.layout, &order.unit);
    let mut text = String::new();
    if !order.name.is_empty() {
        say(&mut text, format_args!("{}", order.name));
    }
    let length = size(order, layout.length);
    say(
        &mut text,
        format_args!(
            "{}",
            tr!("length {length} {unit} of cloth {width} {unit} wide", length, unit, width = size(order, job.width().into()))
        ),
    );
    if layout.length == cutting.bound.length {
        say(&mut text, format_args!("{}", within(job.stages(), tr!("proven: nothing shorter exists"))));
    } else {
        let over = (layout.length as f64 / cutting.bound.length as f64 - 1.0) * 100.0;
        let least = size(order, cutting.bound.length);
        say(
            &mut text,
            format_args!(
                "{}",
                tr!(
                    "{said}, which is {over} % less",
                    said = within(job.stages(), tr!("nothing shorter than {least} {unit} exists", least, unit)),
                    over = decimal(over, 2)
                )
            ),
        );
    }
    say(
        &mut text,
        format_args!(
            "{}",
            tr!(
                "{strips} strips across, {settings} ruler settings",
                strips = layout.strips_cut(),
                settings = layout.strip_widths()
            )
        ),
    );
    for strip in &layout.strips {
        let height = size(order, strip.panel.height.into());
        say(&mut text, format_args!("  {:>3} x {height:<8} {}", strip.times, pieces(order, job.kinds(), &strip.panel)));
    }
    text
}

fn of_sheets(order: &Order, job: &SheetJob, cutting: &SheetCutting) -> String {
    let mut text = String::new();
    let price = |hundredths: u64| decimal(hundredths as f64 / 100.0, 2);
    if !order.name.is_empty() {
        say(&mut text, format_args!("{}", order.name));
    }
    say(
        &mut text,
        format_args!(
            "{}",
            within(
                job.stages(),
                tr!(
                    "price {price}; nothing cheaper than {bound} exists",
                    price = price(cutting.price),
                    bound = price(cutting.bound)
                )
            )
        ),
    );
    for sheet in &cutting.sheets {
        let named = &job.sheets()[sheet.sheet];
        let name = &named.name;
        let name = if sheet.turned { tr!("{name}, turned before the first cut", name) } else { name.clone() };
        say(&mut text, format_args!("  {:>3} x {name}", sheet.times));
        for strip in &sheet.strips {
            let height = size(order, strip.height.into());
            say(&mut text, format_args!("        {height:<8} {}", pieces(order, job.kinds(), strip)));
        }
    }
    text
}

fn of_templates(order: &Order, list: &List, nesting: &Nesting) -> String {
    let unit = &order.unit;
    let mut text = String::new();
    if !order.name.is_empty() {
        say(&mut text, format_args!("{}", order.name));
    }
    let (length, width) = (decimal(nesting.length, 4), decimal(list.cloth.width, 4));
    say(&mut text, format_args!("{}", tr!("length {length} {unit} of cloth {width} {unit} wide", length, unit, width)));
    let (share, bound) = (decimal(nesting.density() * 100.0, 1), decimal(nesting.area_bound, 4));
    say(
        &mut text,
        format_args!(
            "{}",
            tr!(
                "{share} % of the cloth is used; nothing shorter than {bound} {unit} exists, by the area of the pieces",
                share,
                bound,
                unit
            )
        ),
    );
    for strip in &nesting.strips {
        let mut counts: BTreeMap<(usize, u64), usize> = BTreeMap::new();
        for place in &strip.places {
            // Turns are told in hundredths of a degree.
            *counts.entry((place.template, (place.turn * 100.0).round() as u64)).or_default() += 1;
        }
        let piece = |((template, turn), count): ((usize, u64), usize)| {
            let pieces = tr!("{count} of {template}", count, template = list.templates[template].name);
            if turn == 0 {
                pieces
            } else {
                tr!("{pieces} turned by {degrees}", pieces, degrees = decimal(turn as f64 / 100.0, 2))
            }
        };
        let pieces = counts.into_iter().map(piece).collect::<Vec<_>>().join(", ");
        say(&mut text, format_args!("  {:>3} x {:<8} {pieces}", strip.times, decimal(strip.height, 4)));
    }
    text
}

/// `4 of 01-hst (3.125 x 3.125), 2 of band (4.5 x 40)`: what comes out of a strip.
fn pieces(order: &Order, kinds: &[Kind], panel: &Panel) -> String {
    let mut counts: BTreeMap<usize, usize> = BTreeMap::new();
    count(panel, &mut counts);
    let piece = |(kind, count): (usize, usize)| {
        let Kind { name, width, height, .. } = &kinds[kind];
        tr!(
            "{count} of {name} ({width} x {height})",
            count,
            name,
            width = size(order, (*width).into()),
            height = size(order, (*height).into())
        )
    };
    counts.into_iter().map(piece).collect::<Vec<_>>().join(", ")
}

fn count(panel: &Panel, counts: &mut BTreeMap<usize, usize>) {
    match &panel.content {
        Content::Piece { kind, .. } => *counts.entry(*kind).or_default() += 1,
        Content::Across(panels) | Content::Along(panels) => panels.iter().for_each(|panel| count(panel, counts)),
    }
}

fn say(text: &mut String, what: std::fmt::Arguments) {
    writeln!(text, "{what}").expect("writing to a string cannot fail");
}
