//! A quilt as the text of a file, in the order and style of the documentation.
//!
//! In: a checked quilt. Out: its canonical text. What is as it would be anyway is left out, the pattern is the shortest that
//! repeats to the same places, and lengths are written so that reading gives the very same number.

use super::bed;
use super::block::{kind_of, usual_turn_under};
use super::check::{usual_section, usual_step, usual_width};
use super::finish;
use super::fussy;
use super::joining;
use super::look;
use super::materials::{self, write_grain};
use super::quilting;
use super::raw::RawShape;
use super::starter;
use super::starter_blocks;
use crate::*;
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// A quilt as the text of a file, in the order and style of the documentation.
#[must_use]
pub fn write(quilt: &Quilt) -> String {
    let mut out = String::new();
    head(&mut out, quilt);
    bed::write(&mut out, quilt);
    for cloth in &quilt.cloths {
        self::cloth(&mut out, quilt, cloth);
    }
    for block in &quilt.blocks {
        self::block(&mut out, quilt, block);
    }
    for frame in &quilt.frames {
        let _ = writeln!(out, "\n[frame.{}]", frame.key);
        let _ = writeln!(out, "corners = {}", corners(quilt, frame.corners));
        let strip =
            |strip: &Strip| format!("{{ width = {}, cloth = {} }}", length(quilt, strip.width), cloth_key(quilt, strip.cloth));
        let _ = writeln!(out, "strips = [{}]", frame.strips.iter().map(strip).collect::<Vec<_>>().join(", "));
    }
    setting(&mut out, quilt);
    if let Some(sashing) = &quilt.sashing {
        let _ = writeln!(out, "\n[sashing]\nwidth = {}", length(quilt, sashing.width));
        let _ = writeln!(out, "cloth = {}", cloth_key(quilt, sashing.cloth));
        if let Some(cloth) = sashing.cornerstones {
            let _ = writeln!(out, "cornerstones = {}", cloth_key(quilt, cloth));
        }
        if sashing.around {
            let _ = writeln!(out, "around = true");
        }
        write_grain(&mut out, sashing.grain);
    }
    for band in &quilt.bands {
        let _ = writeln!(out, "\n[[band]]\nwidth = {}", length(quilt, band.width));
        let _ = writeln!(out, "cloth = {}", cloth_key(quilt, band.cloth));
        let _ = writeln!(out, "corners = {}", corners(quilt, band.corners));
        write_grain(&mut out, band.grain);
    }
    materials::write(&mut out, quilt);
    quilting::write(&mut out, quilt);
    joining::write(&mut out, quilt);
    finish::write(&mut out, quilt);
    sewing(&mut out, quilt);
    out
}

/// `text` in quotes.
pub(super) fn text(text: &str) -> String {
    toml_edit::Value::from(text).to_string()
}

/// A length that reads back as the very same number: a fraction where it is one of 64ths, else a decimal.
pub(crate) fn exact_length(length: Length, measure: Measure) -> String {
    let value = length.value();
    let sixty_fourths = value * 64.0;
    if measure == Measure::Centimetre || sixty_fourths.floor() != sixty_fourths || value >= 36_000.0 {
        return format!("\"{value}\"");
    }
    let (whole, mut over, mut under) = (value.floor(), sixty_fourths.rem_euclid(64.0), 64.0);
    while over > 0.0 && over.rem_euclid(2.0) == 0.0 {
        (over, under) = (over / 2.0, under / 2.0);
    }
    match (whole > 0.0, over > 0.0) {
        (_, false) => format!("\"{whole}\""),
        (false, true) => format!("\"{over}/{under}\""),
        (true, true) => format!("\"{whole} {over}/{under}\""),
    }
}

pub(super) fn length(quilt: &Quilt, length: Length) -> String {
    exact_length(length, quilt.measure)
}

pub(super) fn cloth_key(quilt: &Quilt, cloth: ClothId) -> String {
    text(&quilt.cloths[cloth.0].key)
}

fn frame_key(quilt: &Quilt, choice: FrameChoice) -> String {
    match choice {
        FrameChoice::Bare => text("none"),
        FrameChoice::Framed(frame) => text(&quilt.frames[frame.0].key),
    }
}

fn corners(quilt: &Quilt, corners: Corners) -> String {
    match corners {
        Corners::Mitred => text("mitred"),
        Corners::Butted => text("butted"),
        Corners::Squares(cloth) => format!("{{ squares = {} }}", cloth_key(quilt, cloth)),
    }
}

fn head(out: &mut String, quilt: &Quilt) {
    let measure = if quilt.measure == Measure::Inch { "inch" } else { "cm" };
    let _ = writeln!(out, "format = 1\nname = {}\nmeasure = \"{measure}\"", text(&quilt.name));
    if quilt.allowance != quilt.measure.usual_allowance() {
        let _ = writeln!(out, "seam = {}", length(quilt, quilt.allowance.0));
    }
    if quilt.step != usual_step(quilt.measure) {
        let step = match quilt.step {
            Step::Eighth => "1/8",
            Step::Sixteenth => "1/16",
            Step::Millimetre => "1 mm",
        };
        let _ = writeln!(out, "step = \"{step}\"");
    }
    if quilt.largest_section != usual_section(quilt.measure) {
        let _ = writeln!(out, "largest-section = {}", length(quilt, quilt.largest_section));
    }
    if quilt.reserve != Length::ZERO {
        let _ = writeln!(out, "reserve = {}", length(quilt, quilt.reserve));
    }
    if quilt.cutting_stages != materials::STAGES {
        let _ = writeln!(out, "cutting-stages = {}", quilt.cutting_stages);
    }
    match quilt.pressings {
        Some(Pressings::Shared(count)) => {
            let _ = writeln!(out, "pressings = {count}");
        }
        Some(Pressings::Own) => out.push_str("pressings = \"own\"\n"),
        None => {}
    }
}

/// Falls and ways of making.
fn sewing(out: &mut String, quilt: &Quilt) {
    fussy::write(out, quilt);
    for fall in &quilt.falls {
        let [first, second] = &fall.between;
        let _ = writeln!(out, "\n[[fall]]\nbetween = [{}, {}]\nto = {}", text(first), text(second), text(fall.word()));
    }
    for ChosenWay { block, patch, way } in &quilt.ways {
        let of = format!("{}.p{patch}", quilt.blocks[block.0].key);
        let _ = writeln!(out, "\n[[way]]\nof = {}\nuse = \"{}\"", text(&of), way.word());
    }
}

fn cloth(out: &mut String, quilt: &Quilt, cloth: &Cloth) {
    let _ = writeln!(out, "\n[cloth.{}]", cloth.key);
    if cloth.name != cloth.key {
        let _ = writeln!(out, "name = {}", text(&cloth.name));
    }
    let _ = writeln!(out, "colour = \"{}\"\nvalue = \"{}\"", cloth.colour.hex(), cloth.value.word());
    if let Some(look) = &cloth.look {
        look::write(out, quilt, look);
    }
    if cloth.print != Print::None {
        let _ = writeln!(out, "print = \"{}\"", cloth.print.word());
    }
    if cloth.width != usual_width(quilt.measure) {
        let _ = writeln!(out, "width = {}", length(quilt, cloth.width));
    }
    materials::write_cloth(out, quilt, cloth);
}

fn block(out: &mut String, quilt: &Quilt, block: &Block) {
    let _ = writeln!(out, "\n[block.{}]", block.key);
    let design = block.starter.as_ref().and_then(|key| starter_blocks().iter().find(|design| design.key == *key));
    let design = design.filter(|design| is_design(design, block, quilt.measure));
    if block.name != design.map_or(&block.key, |design| &design.name).as_str() {
        let _ = writeln!(out, "name = {}", text(&block.name));
    }
    match design {
        Some(design) => {
            let _ = writeln!(out, "starter = {}", text(&design.key));
        }
        None => {
            let _ = writeln!(out, "shape = \"{}\"", shape_key(block.shape));
        }
    }
    let _ = writeln!(out, "size = {}", size(quilt, block.shape));
    if design.is_none() {
        drawing(out, quilt, block);
    }
    let cloths: Vec<_> = block
        .parts
        .iter()
        .filter(|part| quilt.cloths[part.cloth.0].key != part.name)
        .map(|part| format!("{} = {}", part.name, cloth_key(quilt, part.cloth)))
        .collect();
    if !cloths.is_empty() {
        let _ = writeln!(out, "cloths = {{ {} }}", cloths.join(", "));
    }
    if let Some(frame) = block.frame {
        let _ = writeln!(out, "frame = {}", frame_key(quilt, frame));
    }
}

/// Whether `block` is `design` at another size, in other cloths, under another name.
fn is_design(design: &Block, block: &Block, measure: Measure) -> bool {
    if kind_of(design.shape) != kind_of(block.shape) {
        return false;
    }
    starter::sized(design, block.shape, measure).is_some_and(|design| {
        let parts = |block: &Block| block.parts.iter().map(|part| part.name.clone()).collect::<Vec<_>>();
        design.grid == block.grid
            && design.seams == block.seams
            && design.marks == block.marks
            && design.overlays == block.overlays
            && parts(&design) == parts(block)
    })
}

/// The word for a shape.
pub(crate) fn shape_key(shape: Shape) -> &'static str {
    match kind_of(shape) {
        RawShape::Square => "square",
        RawShape::Rectangle => "rectangle",
        RawShape::Triangle => "triangle",
        RawShape::RightTriangle => "right-triangle",
        RawShape::Diamond => "diamond",
        RawShape::Hexagon => "hexagon",
    }
}

fn size(quilt: &Quilt, shape: Shape) -> String {
    match shape {
        Shape::Rectangle { width, height } => {
            let bare = |side| length(quilt, side).trim_matches('"').to_owned();
            format!("\"{} x {}\"", bare(width), bare(height))
        }
        Shape::Square { side }
        | Shape::EquilateralTriangle { side }
        | Shape::RightTriangle { leg: side }
        | Shape::Diamond { side, .. }
        | Shape::Hexagon { side } => length(quilt, side),
    }
}

/// Angle, grid, seams, patches and overlays.
fn drawing(out: &mut String, quilt: &Quilt, block: &Block) {
    if let Shape::Diamond { angle_deg, .. } = block.shape {
        let _ = writeln!(out, "angle = {angle_deg}");
    }
    match block.grid {
        Some((n, m)) if n != m || matches!(block.shape, Shape::Rectangle { .. }) => {
            let _ = writeln!(out, "grid = [{n}, {m}]");
        }
        Some((n, _)) => {
            let _ = writeln!(out, "grid = {n}");
        }
        None => {}
    }
    if !block.seams.is_empty() {
        out.push_str("seams = [\n");
        for seam in &block.seams {
            let _ = writeln!(out, "  {},", self::seam(seam));
        }
        out.push_str("]\n");
    }
    // Parts of overlays alone follow those of patches, and their overlays name them; all others must be named here.
    let mut of_overlays = Vec::new();
    for overlay in &block.overlays {
        if !of_overlays.contains(&overlay.part) {
            of_overlays.push(overlay.part);
        }
    }
    let marked = |part: usize| block.marks.iter().any(|mark| mark.part.0 == part);
    let named = (0..=block.parts.len())
        .find(|first| {
            let rest: Vec<_> = (*first..block.parts.len()).map(PartId).collect();
            rest.iter().all(|part| !marked(part.0)) && of_overlays.iter().filter(|part| part.0 >= *first).eq(rest.iter())
        })
        .unwrap_or(block.parts.len());
    if named > 0 {
        let parts = block.parts[..named].iter().enumerate().map(|(id, part)| {
            let marks = block.marks.iter().filter(|mark| mark.part.0 == id);
            let points: Vec<_> = marks.map(|mark| format!("[{}, {}]", mark.at.u, mark.at.v)).collect();
            format!("{} = [{}]", part.name, points.join(", "))
        });
        let _ = writeln!(out, "patches = {{ {} }}", parts.collect::<Vec<_>>().join(", "));
    }
    if !block.overlays.is_empty() {
        out.push_str("overlay = [\n");
        for overlay in &block.overlays {
            let part = text(&block.parts[overlay.part.0].name);
            let mut turn_under = String::new();
            if overlay.turn_under != usual_turn_under(quilt.measure) {
                turn_under = format!(" turn-under = {},", length(quilt, overlay.turn_under));
            }
            let outline: Vec<_> = overlay.outline.iter().map(self::seam).collect();
            let _ = writeln!(out, "  {{ part = {part},{turn_under} outline = [{}] }},", outline.join(", "));
        }
        out.push_str("]\n");
    }
}

fn seam(seam: &Seam) -> String {
    match seam {
        Seam::Line(points) => {
            let numbers: Vec<_> = points.iter().map(|p| format!("{}, {}", p.u, p.v)).collect();
            format!("[{}]", numbers.join(", "))
        }
        Seam::Arc(Arc { from, to, centre, long_way }) => {
            let long = if *long_way { ", long = true" } else { "" };
            let ends = format!("{}, {}, {}, {}", from.u, from.v, to.u, to.v);
            format!("{{ arc = [{ends}], centre = [{}, {}]{long} }}", centre.u, centre.v)
        }
    }
}

fn setting(out: &mut String, quilt: &Quilt) {
    let Setting { layout, places } = &quilt.setting;
    let rows: Vec<Vec<BlockId>> = places.iter().map(|row| row.iter().map(|place| place.block).collect()).collect();
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    let (key, size, pattern) = match layout {
        Layout::Straight => ("straight", Some(rows.len()), shortest(&rows)),
        Layout::OnPoint { .. } => ("on-point", Some(rows.len().div_ceil(2)), shortest(&rows)),
        Layout::Rows { .. } => ("rows", None, rows),
    };
    let _ = writeln!(out, "\n[setting]\nlayout = \"{key}\"");
    if let Some(rows) = size {
        let _ = writeln!(out, "columns = {columns}\nrows = {rows}");
    }
    let line = |line: &Vec<BlockId>| {
        let keys: Vec<_> = line.iter().map(|block| text(&quilt.blocks[block.0].key)).collect();
        format!("[{}]", keys.join(", "))
    };
    if let [only] = &pattern[..] {
        let _ = writeln!(out, "pattern = [{}]", line(only));
    } else {
        let lines: Vec<_> = pattern.iter().map(|row| format!("  {},\n", line(row))).collect();
        let _ = writeln!(out, "pattern = [\n{}]", lines.concat());
    }
    let usual = most_frames(quilt);
    if usual != FrameChoice::Bare {
        let _ = writeln!(out, "frame = {}", frame_key(quilt, usual));
    }
    match layout {
        Layout::OnPoint { triangles } => {
            let _ = writeln!(out, "triangles = {}", cloth_key(quilt, *triangles));
        }
        Layout::Rows { filler: Some(filler) } => {
            let _ = writeln!(out, "filler = {}", cloth_key(quilt, *filler));
        }
        _ => {}
    }
    for (i, row) in places.iter().enumerate() {
        for (j, place) in row.iter().enumerate() {
            self::place(out, quilt, place, usual, &place_name(i, j));
        }
    }
}

/// The frame that most places have whose block has none of its own; of several the first.
fn most_frames(quilt: &Quilt) -> FrameChoice {
    let mut counts: BTreeMap<FrameChoice, usize> = BTreeMap::new();
    for place in quilt.setting.places.iter().flatten() {
        if quilt.blocks[place.block.0].frame.is_none() {
            *counts.entry(place.frame).or_default() += 1;
        }
    }
    let most = counts.values().copied().max();
    counts.into_iter().find(|(_, count)| Some(*count) == most).map_or(FrameChoice::Bare, |(choice, _)| choice)
}

fn place(out: &mut String, quilt: &Quilt, place: &Place, usual: FrameChoice, name: &str) {
    let mut lines = String::new();
    if place.turns != 0 {
        let _ = writeln!(lines, "turn = {}", place.turns);
    }
    if place.mirrored {
        lines.push_str("mirror = true\n");
    }
    if !place.swaps.is_empty() {
        let pair = |(from, to): &(ClothId, ClothId)| format!("{} = {}", quilt.cloths[from.0].key, cloth_key(quilt, *to));
        let _ = writeln!(lines, "swap = {{ {} }}", place.swaps.iter().map(pair).collect::<Vec<_>>().join(", "));
    }
    if place.frame != quilt.blocks[place.block.0].frame.unwrap_or(usual) {
        let _ = writeln!(lines, "frame = {}", frame_key(quilt, place.frame));
    }
    if !lines.is_empty() {
        let _ = write!(out, "\n[[place]]\nat = \"{name}\"\n{lines}");
    }
}

/// The shortest pattern that repeats to `rows`: row `i` follows line `i` and place `j` entry `j` of it, over and over.
fn shortest(rows: &[Vec<BlockId>]) -> Vec<Vec<BlockId>> {
    let lines = |count: usize| -> Option<Vec<&Vec<BlockId>>> {
        (0..count)
            .map(|first| {
                let same = || rows.iter().skip(first).step_by(count);
                let longest = same().max_by_key(|row| row.len())?;
                same().all(|row| longest.starts_with(row)).then_some(longest)
            })
            .collect()
    };
    let lines = (1..=rows.len()).find_map(lines).unwrap_or_default();
    // Between single blocks on point lie empty rows; a line of the pattern is never empty.
    let any = rows.iter().flatten().next();
    lines
        .into_iter()
        .map(|line| {
            let period = (1..=line.len()).find(|p| line.iter().enumerate().all(|(j, block)| *block == line[j % p]));
            period.map_or_else(|| any.copied().into_iter().collect(), |period| line[..period].to_vec())
        })
        .collect()
}
