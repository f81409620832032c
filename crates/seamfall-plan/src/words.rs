//! Sizes, shapes and uses in words, the same in book, workroom and terminal.

use crate::Plan;
use crate::cut::{CutPiece, CutSheet, Laid, Part, ThreadToBuy, ToBuy, Use, Way, shown_length};
use crate::draft::Kind;
use crate::finish::Round;
use crate::lap::Pattern;
use crate::piece::UnitKind;
use seamfall_model::{Length, MakingWay, Measure, Pressings, Quilt, Shrinkage, decimal, shown_money};
use tr::tr;

/// `2 7/8`, in the document's unit.
#[must_use]
pub fn length(quilt: &Quilt, value: f64) -> String {
    Length::new(value).shown(quilt.step)
}

/// `two pressings a block`.
#[must_use]
pub fn pressings(pressings: Pressings) -> String {
    match pressings {
        Pressings::Shared(1) => tr!("one pressing a block"),
        Pressings::Shared(2) => tr!("two pressings a block"),
        Pressings::Shared(3) => tr!("three pressings a block"),
        Pressings::Shared(_) => tr!("four pressings a block"),
        Pressings::Own => tr!("every copy pressed by itself"),
    }
}

/// `84 × 98 in`.
#[must_use]
pub fn size(quilt: &Quilt, width: f64, height: f64) -> String {
    format!("{} × {} {}", length(quilt, width), length(quilt, height), quilt.measure.sign())
}

/// The finished shape of a patch.
#[must_use]
pub fn kind(quilt: &Quilt, kind: Kind) -> String {
    let show = |value: f64| length(quilt, value);
    match kind {
        Kind::Square { side } => tr!("square, {side}", side = show(side)),
        Kind::Rectangle { long, short } => tr!("rectangle, {short} × {long}", short = show(short), long = show(long)),
        Kind::HalfSquare { leg } => tr!("half-square triangle, short sides {leg}", leg = show(leg)),
        Kind::QuarterSquare { long_side } => tr!("quarter-square triangle, long side {long_side}", long_side = show(long_side)),
        Kind::Equilateral { height } => tr!("equilateral triangle, {height} high", height = show(height)),
        Kind::Diamond { width, angle_deg, .. } => {
            tr!("diamond of {angle_deg}°, {width} across", angle_deg = format_args!("{angle_deg:.0}"), width = show(width))
        }
        Kind::Hexagon { flats, .. } => tr!("hexagon, {flats} between flat sides", flats = show(flats)),
        Kind::Straight => tr!("straight edges"),
        Kind::Curved => tr!("with a curve"),
        Kind::Overlay => tr!("laid over, edge turned under"),
    }
}

/// How a unit is made.
#[must_use]
pub fn making_way(way: MakingWay) -> String {
    match way {
        MakingWay::Plain => tr!("plain"),
        MakingWay::TwoAtATime => tr!("two at a time"),
        MakingWay::EightAtATime => tr!("eight at a time"),
        MakingWay::FourAtATime => tr!("four at a time"),
        MakingWay::StripSet => tr!("from a strip set"),
    }
}

/// A unit that has a faster way, finished.
#[must_use]
pub fn unit_kind(quilt: &Quilt, kind: &UnitKind) -> String {
    let show = |value: f64| length(quilt, value);
    match kind {
        UnitKind::HalfSquares { side, .. } => tr!("half-square unit, {side}", side = show(*side)),
        UnitKind::QuarterSquares { side, .. } => tr!("quarter-square unit, {side}", side = show(*side)),
        UnitKind::Goose { width, .. } => {
            tr!("flying goose, {width} × {height}", width = show(*width), height = show(width / 2.0))
        }
        UnitKind::Row { length, strips } => {
            let across: f64 = strips.iter().map(|(_, width)| width).sum();
            tr!("row of {strips}, {across} × {length}", strips = strips.len(), across = show(across), length = show(*length))
        }
    }
}

/// How a piece is cut; nothing to say of a rectangle.
#[must_use]
pub fn way(way: &Way) -> String {
    match way {
        Way::Rectangle => String::new(),
        Way::HalfSquare => tr!("cut once corner to corner"),
        Way::QuarterSquare => tr!("cut twice corner to corner"),
        Way::Unit(making) => making_way(*making),
        Way::Joined { .. } => tr!("joined from strips"),
        Way::Mitred => tr!("ends mitred"),
        Way::Template { reversed: false, .. } => tr!("by template"),
        Way::Template { reversed: true, .. } => tr!("by template, cloth wrong side up"),
    }
}

/// Its cut size: `4 7/8`, or `4 7/8 × 9`.
#[must_use]
pub fn cut_size(quilt: &Quilt, piece: &CutPiece) -> String {
    let (width, long) = (piece.width.value, piece.length.value);
    // A ten-thousandth, far below any step.
    if (width - long).abs() < 1e-4 {
        length(quilt, width)
    } else {
        format!("{} × {}", length(quilt, width), length(quilt, long))
    }
}

/// What pieces are for: `Churn dash A (16); band 1 (4)`.
#[must_use]
pub fn uses(quilt: &Quilt, plan: &Plan, uses: &[Use]) -> String {
    let texts = uses.iter().map(|one| match one {
        Use::Template { block, template, count } => {
            let letter = plan.drafts[block.0].templates.get(*template).map_or("", |template| template.letter.as_str());
            format!("{} {letter} ({count})", quilt.blocks[block.0].name)
        }
        Use::Top { what, count, .. } | Use::Besides { what, count } => format!("{what} ({count})"),
    });
    texts.collect::<Vec<_>>().join("; ")
}

/// A long length, to the whole yard or the tenth of a metre.
#[must_use]
pub fn long(quilt: &Quilt, value: f64) -> String {
    match quilt.measure {
        Measure::Inch => format!("{} yd", decimal((value / 36.0).ceil(), 0)),
        Measure::Centimetre => format!("{} m", decimal((value / 10.0).ceil() / 10.0, 1)),
    }
}

/// A length along lines: in whole inches or centimetres up to two yards or metres, a [`long`] one beyond.
#[must_use]
pub fn stretch(quilt: &Quilt, value: f64) -> String {
    let most = match quilt.measure {
        Measure::Inch => 72.0,
        Measure::Centimetre => 200.0,
    };
    if value > most { long(quilt, value) } else { format!("{} {}", decimal((value - 1e-9).ceil(), 0), quilt.measure.sign()) }
}

/// An edge once round: `378 in, with 4 corners`, `429 in along the curves, with 44 valleys`.
#[must_use]
pub fn around(quilt: &Quilt, round: &Round) -> String {
    let long = format!("{} {}", decimal((round.length - 1e-9).ceil(), 0), quilt.measure.sign());
    let long = if round.curved { tr!("{long} along the curves", long) } else { long };
    match (round.outside, round.inside) {
        (0, 0) => long,
        (0, inside) => tr!("{long}, with {inside} valleys", long, inside),
        (outside, 0) => tr!("{long}, with {outside} corners", long, outside),
        (outside, inside) => {
            tr!("{long}, with {outside} corners that stand out and {inside} that stand in", long, outside, inside)
        }
    }
}

/// A time: `25 min`, `2.5 h`.
#[must_use]
pub fn hours(hours: f64) -> String {
    if hours < 1.0 { format!("{} min", decimal((hours * 60.0).ceil(), 0)) } else { format!("{} h", decimal(hours, 1)) }
}

/// How one section is quilted: starts with what is proven of them, needlefuls, length and time.
#[must_use]
pub fn quilted(quilt: &Quilt, pattern: &Pattern) -> String {
    if pattern.too_many {
        return tr!("too many lines to put into an order");
    }
    if pattern.paths.is_empty() {
        return tr!("nothing to quilt before the join");
    }
    let fewest = if pattern.starts == pattern.bound { tr!("the fewest") } else { tr!("at least {bound}", bound = pattern.bound) };
    tr!(
        "{starts} ({fewest}), {needlefuls}, {long} of quilting, {time}",
        starts = tr!("1 start" | "{n} starts" % pattern.starts),
        fewest,
        needlefuls = tr!("1 needleful" | "{n} needlefuls" % pattern.needlefuls.len()),
        long = stretch(quilt, pattern.stitched),
        time = hours(crate::lap::hours(quilt, "hours", pattern.stitched).value)
    )
}

/// `2 spools, 312 yd`; without spools the length alone.
#[must_use]
pub fn thread(quilt: &Quilt, thread: &ThreadToBuy) -> String {
    let length = long(quilt, thread.thread.value);
    match thread.spools.as_ref().map(seamfall_model::Working::count) {
        Some(spools) => tr!("1 spool ({length})" | "{n} spools ({length})" % spools, length),
        None => length,
    }
}

/// How good a layout is, in a sentence or two.
#[must_use]
pub fn proof(quilt: &Quilt, bought: &ToBuy) -> String {
    let mut said = proof_of_layout(quilt, bought);
    let shares: Vec<f64> = bought.nests.iter().map(|nest| (nest.density * 100.0).floor()).collect();
    if let Some(most) = shares.iter().copied().reduce(f64::max) {
        let least = shares.iter().copied().fold(most, f64::min);
        let shares = if least < most { tr!("{least} to {most}", least, most) } else { most.to_string() };
        said.push(' ');
        said.push_str(&tr!(
            "Pieces by template lie in blocks, of which they take {shares} %; what is proven holds for these blocks as they are.",
            shares
        ));
    }
    if bought.kinds.iter().any(|of| of.part == Part::Motifs) {
        said.push(' ');
        said.push_str(&tr!(
            "Pieces that show a motif take a length of their own, which is enough wherever the print begins; what is proven holds for that length as it is."
        ));
    }
    said
}

fn proof_of_layout(quilt: &Quilt, bought: &ToBuy) -> String {
    // With two stages the bound is one of two stages.
    let (no, any, choice) = match quilt.cutting_stages {
        2 => (tr!("no layout in strips and sub-cuts"), tr!("any such layout"), tr!("no choice of sizes cut so")),
        _ => (tr!("no layout"), tr!("any layout"), tr!("no choice of sizes")),
    };
    match &bought.laid {
        None => tr!("It cannot be cut as it is; the findings say why."),
        Some(Laid::OffTheBolt(laid)) => {
            let (used, bound) = (laid.cutting.layout.length as f64, laid.cutting.bound.length as f64);
            let more = decimal((used / bound - 1.0) * 100.0, 1);
            let length = format!("{} {}", length(quilt, laid.needed.value), quilt.measure.sign());
            if laid.is_least() {
                tr!("It takes {length}; it is proven that {no} takes less.", length, no)
            } else if laid.buys_least() {
                tr!("It takes {length}, at most {more} % more than {any} must; {no} lets less be bought.", length, more, any, no)
            } else {
                let least = shown_length(&laid.least, quilt.measure);
                let takes = tr!(
                    "It takes {length}, at most {more} % more than {any} must; for less than {least} there is none.",
                    length,
                    more,
                    any,
                    least
                );
                let first = bought.is_first.then(|| tr!("Plain strips, each kind of piece by itself."));
                first.map_or_else(|| takes.clone(), |first| format!("{first} {takes}"))
            }
        }
        Some(Laid::OutOfSizes(laid)) => {
            let (cost, bound) = (laid.cutting.price, laid.cutting.bound);
            let in_money = bought.price.is_some_and(|price| price > 0);
            match (cost <= bound, in_money) {
                (true, true) => tr!("It is proven that {choice} costs less.", choice),
                (true, false) => tr!("It is proven that {choice} takes less.", choice),
                (false, true) => tr!("It is proven that {choice} costs less than {bound}.", choice, bound = shown_money(bound)),
                (false, false) => {
                    tr!(
                        "At most {bound} % more than any choice of sizes must take.",
                        bound = decimal((cost as f64 / bound as f64 - 1.0) * 100.0, 1)
                    )
                }
            }
        }
    }
}

/// What the ruler is set to, the widest first.
#[must_use]
pub fn rulers(quilt: &Quilt, sheets: &[CutSheet]) -> String {
    let mut all: Vec<f64> = sheets.iter().flat_map(|sheet| &sheet.lines).map(|line| line.ruler.value()).collect();
    all.sort_by(|a, b| b.total_cmp(a));
    all.dedup();
    all.into_iter().map(|ruler| length(quilt, ruler)).collect::<Vec<_>>().join(", ")
}

/// What a table of cuts is about: `66 3/4 in of 42 in wide`, or `2 × fat quarter, 20 × 18 in`.
#[must_use]
pub fn sheet(quilt: &Quilt, sheet: &CutSheet) -> String {
    let size = self::size(quilt, sheet.width.value(), sheet.length.value());
    match &sheet.name {
        None => size,
        Some(name) if sheet.turned => tr!("{times} × {name}, turned: {size}", times = sheet.times, name, size),
        Some(name) => format!("{} × {name}: {size}", sheet.times),
    }
}

/// Remnants worth keeping: `2 of 6 × 14`.
#[must_use]
pub fn offcuts(quilt: &Quilt, bought: &ToBuy) -> Vec<String> {
    let told = |(width, height, count): (Length, Length, u32)| {
        tr!("{count} of {width} × {height}", count, width = width.shown(quilt.step), height = height.shown(quilt.step))
    };
    bought.offcuts(quilt).into_iter().map(told).collect()
}

/// What the lengths to buy hold besides what is cut: wash and reserve.
#[must_use]
pub fn holds(quilt: &Quilt) -> String {
    let washed: Vec<String> = quilt
        .cloths
        .iter()
        .filter(|cloth| cloth.shrinkage != Shrinkage(0))
        .map(|cloth| format!("{} {} %", cloth.name, cloth.shrinkage.per_cent()))
        .collect();
    let wash = match washed.as_slice() {
        [] => tr!("Nothing is added for shrinkage"),
        some => tr!("What the wash takes of the length is added ({some})", some = some.join(", ")),
    };
    let reserve = if quilt.reserve == Length::ZERO {
        tr!("nothing is held in reserve")
    } else {
        tr!("{reserve} of each is held in reserve", reserve = quilt.reserve.shown_with_unit(quilt.step))
    };
    tr!("{wash}, and {reserve}.", wash, reserve)
}
