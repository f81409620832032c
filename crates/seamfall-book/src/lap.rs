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
use tr::tr;

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
    words: String,
}

/// A number with its working.
#[derive(Debug, Serialize)]
struct Fact {
    what: String,
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
    facts: Vec<(String, String)>,
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
    begins: String,
    ends: String,
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
            alt: tr!("The quilting of {name} in {sections}", name = quilt.name, sections = tr!("1 lap section" | "{n} lap sections" % plan.top.sections.len())),
        },
        signs: QuiltingSign::ALL.into_iter().map(|one| sign(one, figures)).collect(),
        facts: facts(quilt, plan),
        gap: gap(quilt, plan),
        gaps: gaps.iter().take(GAPS).map(|gap| gap_row(quilt, plan, gap)).collect(),
        proposals: plan
            .lap
            .proposals
            .iter()
            .map(|one| tr!("{on}: along its mitres, after the join", on = one.on.name(quilt)))
            .collect(),
        bags: plan.lap.bags.iter().map(|bag| bag_row(quilt, plan, bag)).collect(),
        more: (kinds.len() > KINDS).then(|| {
            tr!("No two sections are quilted alike in so many ways that there are {kinds} kinds of them; the first {KINDS} have a card here, and the drawings of all are in the workroom and from `seamfall draw`.", kinds = kinds.len(), KINDS)
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
    let fact = |what: String, is: String, how: String| Fact { what, is, how };
    let all = || plan.lap.sections.iter().map(|work| &plan.lap.patterns[work.pattern]);
    let unaided: u64 = all().map(|one| one.unaided).sum();
    let (starts, bound) = totals.starts;
    let proof = if starts == bound { tr!("no way takes fewer") } else { tr!("no way takes fewer than {bound}", bound) };
    let needleful = tr!(
        "{needleful} of thread each, less a tail of {tail} at either end",
        needleful = with_unit(quilt, lap.needleful.value()),
        tail = with_unit(quilt, lap.tail.value())
    );
    let ends = tr!(
        "two ends a needleful: {knots} + {hanging} = 2 × {needlefuls}",
        knots = totals.knots,
        hanging = totals.hanging,
        needlefuls = totals.needlefuls
    );
    vec![
        fact(
            tr!("Quilted before the joins"),
            words::stretch(quilt, totals.stitched),
            tr!(
                "all {sections} together; what two designs share is quilted once",
                sections = tr!("1 section" | "{n} sections" % plan.top.sections.len())
            ),
        ),
        fact(tr!("Quilted after the joins"), words::stretch(quilt, totals.after), tr!("what lies in the free margin")),
        fact(tr!("Starts"), starts.to_string(), tr!("{proof}; without hidden travel it would take {unaided}", proof, unaided)),
        fact(tr!("Needlefuls"), totals.needlefuls.to_string(), needleful),
        fact(tr!("Knots"), totals.knots.to_string(), ends.clone()),
        fact(tr!("Threads left hanging"), totals.hanging.to_string(), ends),
        fact(
            tr!("Thread"),
            words::stretch(quilt, totals.thread),
            tr!("{line}; and the tails", line = plan.lap.thread_rate.line()),
        ),
        fact(tr!("Before the joins"), words::hours(totals.hours.value), totals.hours.line()),
        fact(tr!("After the joins"), words::hours(totals.hours_after.value), totals.hours_after.line()),
    ]
}

/// How far apart lines are at most.
fn gap(quilt: &Quilt, plan: &Plan) -> String {
    let limit = with_unit(quilt, quilt.lap.largest_gap.value());
    match (&plan.lap.largest_gap, plan.lap.gaps.len()) {
        (None, _) => tr!("No gap is wider than half of the {limit} that the batting allows.", limit),
        (Some(gap), 0) => tr!(
            "The widest gap without a line is {width} across, in {section}; none is wider than {bound}, and the batting allows {limit}.",
            width = with_unit(quilt, gap.width),
            section = plan.top.sections[gap.section].name,
            bound = with_unit(quilt, gap.bound),
            limit
        ),
        (Some(_), count) => {
            let listed = if count > GAPS { tr!("; the widest {most} are listed", most = GAPS) } else { String::new() };
            tr!(
                "The batting allows gaps of {limit}. These are wider{listed}; each is a ring of dots on the drawing, with a line that would close it.",
                limit,
                listed
            )
        }
    }
}

fn gap_row(quilt: &Quilt, plan: &Plan, gap: &FoundGap) -> GapRow {
    let long = words::length(quilt, gap.line.length());
    let over = gap.over_join_with.map_or_else(
        || tr!("a line {long} long through it", long),
        |other| tr!("a line {long} long on the join with {other}, after it is sewn", long, other = plan.top.sections[other].name),
    );
    GapRow {
        sections: names(plan, &gap.sections).join(", "),
        width: words::length(quilt, gap.width),
        bound: words::length(quilt, gap.bound),
        line: tr!(
            "{over}, {x} from the left and {y} from the foot of the quilt",
            over,
            x = words::length(quilt, gap.centre.x),
            y = words::length(quilt, gap.centre.y)
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
    let alt = tr!(
        "How section {names} is quilted: {paths}",
        names = names[0],
        paths = tr!("1 path" | "{n} paths" % pattern.paths.len())
    );
    Some(Card {
        name: name(number),
        size: words::size(quilt, bounds.width(), bounds.height()),
        seams: (names.len() > 1).then(|| tr!("Thin lines are the seams of {names}.", names = names[0])),
        sections: names,
        figure: Figure { path: figures.section(quilt, plan, first)?, alt },
        facts: card_facts(quilt, plan, pattern),
        designs: words::designs(quilt, pattern),
        rows: rows(quilt, pattern),
    })
}

fn card_facts(quilt: &Quilt, plan: &Plan, pattern: &Pattern) -> Vec<(String, String)> {
    let (knots, hanging) = pattern.knots_and_hanging();
    let mut facts = Vec::new();
    if pattern.too_many {
        facts.push((tr!("Paths"), tr!("more lines than can be put into an order: quilt them as you like")));
    } else {
        let proof = if pattern.starts == pattern.bound {
            tr!("no way takes fewer")
        } else {
            tr!("at least {bound}", bound = pattern.bound)
        };
        facts.push((tr!("Starts"), format!("{} ({proof})", pattern.starts)));
        facts.push((tr!("Quilted now"), words::stretch(quilt, pattern.stitched)));
    }
    if pattern.after > 0.0 {
        facts.push((tr!("After the join"), words::stretch(quilt, pattern.after)));
    }
    if !pattern.needlefuls.is_empty() {
        let totals = &plan.lap.totals;
        // All sections are quilted at one pace.
        let hours = totals.hours.value * pattern.stitched / totals.stitched;
        facts.push((
            tr!("Needlefuls"),
            tr!(
                "{needlefuls}, {thread} of thread",
                needlefuls = pattern.needlefuls.len(),
                thread = words::stretch(quilt, pattern.thread)
            ),
        ));
        facts.push((tr!("Knots, hanging threads"), format!("{knots}, {hanging}")));
        facts.push((tr!("Time for one"), words::hours(hours)));
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
            End::Knot => tr!("knot"),
            End::Hanging => tr!("hangs"),
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
