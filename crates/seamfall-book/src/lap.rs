//! The work in the lap in words: the whole quilting, the work bag, and a card for every kind of section.
//!
//! In: the plan's lap work. Out: the chapter, and cards named `Q1`, `Q2`, ...; sections that are quilted alike share one.

use crate::figures::{Figure, Figures};
use crate::words;
use seamfall_draw::QuiltingSign;
use seamfall_model::Quilt;
use seamfall_plan::Plan;
use seamfall_plan::lap::{End, FoundGap, Needleful, Pattern};
use serde::Serialize;

/// So many kinds of section get a card and a marking sheet.
pub const KINDS: usize = 60;
/// So many gaps are listed.
const GAPS: usize = 20;

/// The chapter.
#[derive(Debug, Serialize)]
pub struct Lap {
    figure: Figure,
    signs: Vec<Sign>,
    facts: Vec<Fact>,
    gap: String,
    gaps: Vec<GapRow>,
    proposals: Vec<String>,
    bags: Vec<BagRow>,
    /// That not all kinds of section have a card.
    more: Option<String>,
    cards: Vec<Card>,
}

/// A sign and what it says.
#[derive(Debug, Serialize)]
struct Sign {
    figure: String,
    words: &'static str,
}

/// A number with its working.
#[derive(Debug, Serialize)]
struct Fact {
    what: &'static str,
    is: String,
    how: String,
}

#[derive(Debug, Serialize)]
struct GapRow {
    sections: String,
    width: String,
    bound: String,
    line: String,
}

#[derive(Debug, Serialize)]
struct BagRow {
    sections: String,
    needlefuls: usize,
    thread: String,
    hours: String,
}

/// A card for the bag.
#[derive(Debug, Serialize)]
struct Card {
    name: String,
    size: String,
    sections: Vec<String>,
    figure: Figure,
    facts: Vec<(&'static str, String)>,
    designs: Vec<String>,
    /// Whose seams the drawing shows, where there are several sections.
    seams: Option<String>,
    rows: Vec<PathRow>,
}

/// A path, or several that follow one another and are alike.
#[derive(Debug, PartialEq, Eq, Serialize)]
struct PathRow {
    path: String,
    needlefuls: String,
    begins: &'static str,
    ends: &'static str,
}

/// What a kind of section is called.
pub fn name(pattern: usize) -> String {
    format!("Q{}", pattern + 1)
}

/// Names of sections.
pub fn names(plan: &Plan, sections: &[usize]) -> Vec<String> {
    sections.iter().map(|&section| plan.top.sections[section].name.clone()).collect()
}

/// Kinds of section with anything to quilt.
fn quilted(plan: &Plan) -> Vec<usize> {
    (0..plan.lap.patterns.len()).filter(|&number| !plan.lap.patterns[number].lines.is_empty()).collect()
}

/// The chapter; nothing where no design lies anywhere.
pub fn lap(quilt: &Quilt, plan: &Plan, figures: &mut Figures) -> Option<Lap> {
    let kinds = quilted(plan);
    if kinds.is_empty() {
        return None;
    }
    let sign = |sign: QuiltingSign, figures: &mut Figures| Sign { figure: figures.quilting_sign(sign), words: sign.words() };
    let gaps = &plan.lap.gaps;
    Some(Lap {
        figure: Figure {
            path: figures.quilting(quilt, plan),
            alt: format!("The quilting of {} in {}", quilt.name, words::count(plan.top.sections.len(), "lap section")),
        },
        signs: QuiltingSign::ALL.into_iter().map(|one| sign(one, figures)).collect(),
        facts: facts(quilt, plan),
        gap: gap(quilt, plan),
        gaps: gaps.iter().take(GAPS).map(|gap| gap_row(quilt, plan, gap)).collect(),
        proposals: plan
            .lap
            .proposals
            .iter()
            .map(|one| format!("{}: along its mitres, after the join", one.on.name(quilt)))
            .collect(),
        bags: plan.lap.bags.iter().map(|bag| bag_row(quilt, plan, bag)).collect(),
        more: (kinds.len() > KINDS).then(|| {
            format!(
                "No two sections are quilted alike in so many ways that there are {} kinds of them; the first {KINDS} have a card here, and the drawings of all are in the workroom and from `seamfall draw`.",
                kinds.len()
            )
        }),
        cards: kinds.iter().take(KINDS).filter_map(|&number| card(quilt, plan, number, figures)).collect(),
    })
}

/// A length with its unit: `412 in`.
fn with_unit(quilt: &Quilt, value: f64) -> String {
    format!("{} {}", words::length(quilt, value), quilt.measure.sign())
}

fn facts(quilt: &Quilt, plan: &Plan) -> Vec<Fact> {
    let (totals, lap) = (&plan.lap.totals, &quilt.lap);
    let fact = |what, is: String, how: String| Fact { what, is, how };
    let all = || plan.lap.sections.iter().map(|work| &plan.lap.patterns[work.pattern]);
    let unaided: u64 = all().map(|one| one.unaided).sum();
    let (starts, bound) = totals.starts;
    let proof = if starts == bound { "no way takes fewer".to_owned() } else { format!("no way takes fewer than {bound}") };
    let needleful = format!(
        "{} of thread each, less a tail of {} at either end",
        with_unit(quilt, lap.needleful.value()),
        with_unit(quilt, lap.tail.value())
    );
    let ends = format!("two ends a needleful: {} + {} = 2 × {}", totals.knots, totals.hanging, totals.needlefuls);
    vec![
        fact(
            "Quilted before the joins",
            words::stretch(quilt, totals.stitched),
            format!("all {} together; what two designs share is quilted once", words::count(plan.top.sections.len(), "section")),
        ),
        fact("Quilted after the joins", words::stretch(quilt, totals.after), "what lies in the free margin".to_owned()),
        fact("Starts", starts.to_string(), format!("{proof}; without hidden travel it would take {unaided}")),
        fact("Needlefuls", totals.needlefuls.to_string(), needleful),
        fact("Knots", totals.knots.to_string(), ends.clone()),
        fact("Threads left hanging", totals.hanging.to_string(), ends),
        fact("Thread", words::stretch(quilt, totals.thread), format!("{}; and the tails", plan.lap.thread_rate.line())),
        fact("Before the joins", words::hours(totals.hours.value), totals.hours.line()),
        fact("After the joins", words::hours(totals.hours_after.value), totals.hours_after.line()),
    ]
}

/// How far apart lines are at most.
fn gap(quilt: &Quilt, plan: &Plan) -> String {
    let limit = with_unit(quilt, quilt.lap.largest_gap.value());
    match (&plan.lap.largest_gap, plan.lap.gaps.len()) {
        (None, _) => format!("No gap is wider than half of the {limit} that the batting allows."),
        (Some(gap), 0) => format!(
            "The widest gap without a line is {} across, in {}; none is wider than {}, and the batting allows {limit}.",
            with_unit(quilt, gap.width),
            plan.top.sections[gap.section].name,
            with_unit(quilt, gap.bound),
        ),
        (Some(_), count) => {
            let listed = if count > GAPS { format!("; the widest {GAPS} are listed") } else { String::new() };
            format!(
                "The batting allows gaps of {limit}. These are wider{listed}; each is a ring of dots on the drawing, with a line that would close it."
            )
        }
    }
}

fn gap_row(quilt: &Quilt, plan: &Plan, gap: &FoundGap) -> GapRow {
    let long = words::length(quilt, gap.line.length());
    let over = gap.over_join_with.map_or_else(
        || format!("a line {long} long through it"),
        |other| format!("a line {long} long on the join with {}, after it is sewn", plan.top.sections[other].name),
    );
    GapRow {
        sections: names(plan, &gap.sections).join(", "),
        width: words::length(quilt, gap.width),
        bound: words::length(quilt, gap.bound),
        line: format!(
            "{over}, {} from the left and {} from the foot of the quilt",
            words::length(quilt, gap.centre.x),
            words::length(quilt, gap.centre.y)
        ),
    }
}

fn bag_row(quilt: &Quilt, plan: &Plan, bag: &seamfall_plan::lap::Bag) -> BagRow {
    BagRow {
        sections: bag
            .sections
            .iter()
            .map(|&section| format!("{} ({})", plan.top.sections[section].name, name(plan.lap.sections[section].pattern)))
            .collect::<Vec<_>>()
            .join(", "),
        needlefuls: bag.needlefuls,
        thread: words::stretch(quilt, bag.thread),
        hours: words::hours(bag.hours),
    }
}

fn card(quilt: &Quilt, plan: &Plan, number: usize, figures: &mut Figures) -> Option<Card> {
    let pattern = &plan.lap.patterns[number];
    let sections: Vec<usize> = plan.lap.sections_of(number).collect();
    let first = *sections.first()?;
    let bounds = pattern.outline.bounds();
    let names = names(plan, &sections);
    let alt = format!("How section {} is quilted: {}", names[0], words::count(pattern.paths.len(), "path"));
    Some(Card {
        name: name(number),
        size: words::size(quilt, bounds.width(), bounds.height()),
        seams: (names.len() > 1).then(|| format!("Thin lines are the seams of {}.", names[0])),
        sections: names,
        figure: Figure { path: figures.section(quilt, plan, first)?, alt },
        facts: card_facts(quilt, plan, pattern),
        designs: words::designs(quilt, pattern),
        rows: rows(quilt, pattern),
    })
}

fn card_facts(quilt: &Quilt, plan: &Plan, pattern: &Pattern) -> Vec<(&'static str, String)> {
    let (knots, hanging) = pattern.knots_and_hanging();
    let mut facts = Vec::new();
    if pattern.too_many {
        facts.push(("Paths", "more lines than can be put into an order: quilt them as you like".to_owned()));
    } else {
        let proof =
            if pattern.starts == pattern.bound { "no way takes fewer".to_owned() } else { format!("at least {}", pattern.bound) };
        facts.push(("Starts", format!("{} ({proof})", pattern.starts)));
        facts.push(("Quilted now", words::stretch(quilt, pattern.stitched)));
    }
    if pattern.after > 0.0 {
        facts.push(("After the join", words::stretch(quilt, pattern.after)));
    }
    if !pattern.needlefuls.is_empty() {
        let totals = &plan.lap.totals;
        // All sections are quilted at one pace.
        let hours = totals.hours.value * pattern.stitched / totals.stitched;
        facts.push(("Needlefuls", format!("{}, {} of thread", pattern.needlefuls.len(), words::stretch(quilt, pattern.thread))));
        facts.push(("Knots, hanging threads", format!("{knots}, {hanging}")));
        facts.push(("Time for one", words::hours(hours)));
    }
    facts
}

/// A length to the nearest step, without a sign that it is not exact: a needleful never is.
fn about(quilt: &Quilt, value: f64) -> String {
    words::length(quilt, value).trim_start_matches('~').to_owned()
}

/// The paths with their needlefuls; neighbours that are alike share a row.
fn rows(quilt: &Quilt, pattern: &Pattern) -> Vec<PathRow> {
    let mut rows: Vec<(usize, usize, PathRow)> = Vec::new();
    for number in 0..pattern.paths.len() {
        let of: Vec<&Needleful> = pattern.needlefuls.iter().filter(|one| one.path == number).collect();
        let (Some(first), Some(last)) = (of.first(), of.last()) else { continue };
        let word = |end: End| match end {
            End::Knot => "knot",
            End::Hanging => "hangs",
        };
        let row = PathRow {
            path: String::new(),
            needlefuls: words::repeated(of.iter().map(|one| about(quilt, one.to - one.from))),
            begins: word(first.ends[0]),
            ends: word(last.ends[1]),
        };
        match rows.last_mut() {
            Some((_, to, known)) if *known == row => *to = number,
            _ => rows.push((number, number, row)),
        }
    }
    let numbered = |(from, to, row): (usize, usize, PathRow)| {
        let path = if from == to { (from + 1).to_string() } else { format!("{}–{}", from + 1, to + 1) };
        PathRow { path, ..row }
    };
    rows.into_iter().map(numbered).collect()
}
