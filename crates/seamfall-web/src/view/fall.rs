//! To which side all seams fall: how many stacks remain, with which proof, what stacks and where, and the choice of pressings.

use super::answers;
use super::fields::json;
use super::words;
use crate::seams;
use maud::{Markup, html};
use seamfall_geom::Point;
use seamfall_model::{Edit, Pressings, Quilt, Scalar};
use seamfall_plan::Plan;
use seamfall_plan::caution::IRON;
use seamfall_plan::fall::{Count, Falls, SeamRef, State};
use seamfall_plan::turning::Turning;
use tr::tr;

/// So many stacks are listed; what is beyond is counted.
const LISTED: usize = 100;

/// Everything about falls.
pub fn region(quilt: &Quilt, plan: &Plan) -> Markup {
    let falls = &plan.falls;
    html! {
        h2 { (tr!("To which side seams fall")) }
        p { @match falls.count().stacks {
            0 => { b { (tr!("No meeting stacks.")) } " " (tr!("Wherever seams meet, they fall to opposite sides and nest.")) },
            many => { b { (tr!("1 meeting stacks." | "{n} meetings stack." % many)) } " " (tr!("Everywhere else seams fall to opposite sides and nest.")) },
        } " " (proof(falls.count())) }
        p.quiet data-for="edit" { (tr!("Show the falls on the drawing")) " (" kbd { "f" } ") " (tr!("and point at a seam to set its fall by hand.")) }
        (answers::cautions(&[IRON]))
        (pressings(quilt, plan))
        (longer(falls))
        (alike(quilt, plan))
        @if !falls.stacks.is_empty() { (stacks(plan)) }
        (meetings(quilt, plan))
        (thickest(plan))
    }
}

/// What is found on request: a proof that takes longer, and whether turning blocks helps.
fn longer(falls: &Falls) -> Markup {
    let open = falls.counts.iter().any(|count| !count.is_proven());
    html! {
        @if falls.count().stacks > 0 || open { div.buttons {
            @if open { button #search-on type="button" data-task="search" { (tr!("Search on for a proof")) } }
            @if falls.count().stacks > 0 { button #try-turns type="button" data-task="turning" { (tr!("Can turning blocks help?")) } }
            button #stop-task type="button" hidden { (tr!("Stop")) }
        } }
        div #turning {}
    }
}

/// What turning blocks would do, and the button that does it.
pub fn turning(plan: &Plan, turning: &Turning) -> Markup {
    let named = |&(place, turns): &(usize, u8)| {
        let place = &plan.top.places[place].name;
        match turns % 4 {
            1 => tr!("{place} left", place),
            2 => tr!("{place} half round", place),
            3 => tr!("{place} right", place),
            _ => place.clone(),
        }
    };
    let turns = turning.places.iter().map(|&(place, turns)| (plan.top.places[place].row, plan.top.places[place].number, turns));
    let left = match turning.stacks {
        0 => tr!("Nothing stacks"),
        stacks => tr!("Only 1 stack is left" | "Only {n} stacks are left" % stacks),
    };
    html! {
        p { b { (left) } " " (tr!("when these are turned: {places}.", places = turning.places.iter().map(named).collect::<Vec<_>>().join(", "))) " "
            @if turning.keeps_look { (tr!("The quilt looks as it does now.")) } @else { (tr!("The quilt looks different then.")) } }
        p { button #turn-them type="button" data-edit=(json(&Edit::TurnSeveral { turns: turns.collect() })) { (tr!("Turn them")) } }
    }
}

/// What is proven about a count, in plain words.
pub fn proof(count: &Count) -> String {
    if count.is_proven() {
        return if count.stacks == 0 { String::new() } else { tr!("Proven: no pressing has less.") };
    }
    let bound = tr!("1 stack" | "{n} stacks" % usize::try_from(count.bound).unwrap_or(usize::MAX));
    if count.weight == count.stacks as u64 {
        tr!("The best found; at least {bound} in any pressing.", bound)
    } else {
        tr!("The best found; at least {bound} in any pressing, weighed; this has {weight}.", bound, weight = count.weight)
    }
}

/// How many stacks there are with so many pressings, and which is taken.
fn pressings(quilt: &Quilt, plan: &Plan) -> Markup {
    let falls = &plan.falls;
    let edit = |pressings: Option<Pressings>| {
        let value = pressings.map(|pressings| match pressings {
            Pressings::Shared(many) => Scalar::Number(f64::from(many)),
            Pressings::Own => Scalar::Text("own".to_owned()),
        });
        json(&Edit::Pressings { pressings: value })
    };
    let id = |pressings: Pressings| match pressings {
        Pressings::Shared(many) => format!("pressings-{many}"),
        Pressings::Own => "pressings-own".to_owned(),
    };
    html! {
        fieldset.pressings {
            legend { (tr!("In how many ways copies of one block are pressed")) }
            table {
                thead { tr { th scope="col" { (tr!("Pressings")) } th.amount scope="col" { (tr!("Stacks")) } th scope="col" { (tr!("Proof")) } } }
                tbody {
                    tr { td colspan="3" { label.switch for="pressings-free" {
                        input #pressings-free type="radio" name="pressings" data-edit=(edit(None)) checked[quilt.pressings.is_none()];
                        span { (tr!("the plan chooses")) @if quilt.pressings.is_none() { ": " (words::pressings(falls.count().pressings)) } }
                    } } }
                    @for (number, count) in falls.counts.iter().enumerate() {
                        tr.taken[number == falls.taken] {
                            td { label.switch for=(id(count.pressings)) {
                                input id=(id(count.pressings)) type="radio" name="pressings" data-edit=(edit(Some(count.pressings)))
                                    checked[quilt.pressings == Some(count.pressings)];
                                span { (words::pressings(count.pressings)) }
                            } }
                            td.amount { b { (count.stacks) } }
                            td.quiet { @if count.is_proven() { (tr!("least")) } @else { (tr!("at least {bound}", bound = count.bound)) } }
                        }
                    }
                }
            }
        }
        @if falls.counts.iter().any(|count| count.weight != count.stacks as u64) {
            p.quiet { (tr!("A stack weighs one, and one more for every further seam that ends there. The least weight is looked for.")) }
        }
    }
}

/// Which copies of a block are pressed alike, where that is not all of them.
fn alike(quilt: &Quilt, plan: &Plan) -> Markup {
    let falls = &plan.falls;
    let split = falls.pressings.iter().enumerate().filter(|(_, pressings)| pressings.len() > 1);
    let named = |design: usize, pressing: usize| {
        let here = |place: &usize| plan.piecing.holds[*place].design == design && falls.of_place[*place] == pressing;
        let names = (0..plan.top.places.len()).filter(here).map(|place| plan.top.places[place].name.as_str());
        names.collect::<Vec<_>>().join(", ")
    };
    let split: Vec<_> = split.collect();
    html! {
        @if !split.is_empty() {
            details #alike {
                summary { (tr!("Which copies are pressed alike")) }
                @for (design, pressings) in split {
                    @let of = &plan.piecing.designs[design];
                    h3 { (quilt.blocks[of.block.0].name) @if of.mirrored { ", " (tr!("mirrored")) } @if let Some(frame) = of.frame { ", " (tr!("frame {key}", key = quilt.frames[frame.0].key)) } }
                    ul.plain { @for pressing in 0..pressings.len() {
                        li { b { (seamfall_model::letters(pressing)) } " " (named(design, pressing)) }
                    } }
                }
            }
        }
    }
}

/// The stacks, each with the way to its place.
fn stacks(plan: &Plan) -> Markup {
    let stacks = &plan.falls.stacks;
    html! {
        h3 { (tr!("1 stack" | "{n} stacks" % stacks.len())) }
        ul.stacks {
            @for (number, stack) in stacks.iter().take(LISTED).enumerate() {
                @let meeting = &plan.falls.meetings[stack.meeting];
                li {
                    button id={ "stack-" (number + 1) } type="button" data-go=(seams::name(plan, meeting.left)) data-look=(look(plan, meeting.at)) {
                        b { (stack.place) } ", " (tr!("1 layer" | "{n} layers" % meeting.layers)) br; span.quiet { (stack.reason) }
                    }
                    details id={ "ways-out-" (number + 1) } {
                        summary { (tr!("Ways out")) }
                        ul.plain { @for way in &stack.ways_out { li { (way) } } }
                    }
                }
            }
        }
        @if stacks.len() > LISTED { p.quiet { (tr!("And {more} more, marked on the drawing.", more = stacks.len() - LISTED)) } }
    }
}

/// A point of the drawing, for the script.
fn look(plan: &Plan, at: Point) -> String {
    format!("{:.3} {:.3}", at.x, plan.top.size.y - at.y)
}

/// Meetings by block, those with stacks first.
fn meetings(quilt: &Quilt, plan: &Plan) -> Markup {
    let mut lines: Vec<(String, [usize; 3])> = quilt.blocks.iter().map(|block| (block.name.clone(), [0; 3])).collect();
    lines.push((tr!("joins of the top"), [0; 3]));
    for meeting in &plan.falls.meetings {
        let line = match meeting.seam {
            SeamRef::Place { place, .. } => plan.top.places[place].block.0,
            SeamRef::Top { .. } => quilt.blocks.len(),
        };
        let state = match meeting.state {
            State::Stacks => 0,
            State::Nests => 1,
            State::Flat => 2,
        };
        lines[line].1[state] += 1;
    }
    lines.retain(|(_, counts)| counts.iter().sum::<usize>() > 0);
    lines.sort_by_key(|(_, counts)| std::cmp::Reverse(counts[0]));
    let flat = lines.iter().any(|(_, counts)| counts[2] > 0);
    html! {
        h3 { (tr!("1 meeting" | "{n} meetings" % plan.falls.meetings.len())) }
        @if lines.is_empty() { p.quiet { (tr!("No seams meet in this quilt.")) } } @else {
            table #meetings {
                thead { tr { th scope="col" { (tr!("In all copies of")) } th.amount scope="col" { (tr!("Stack")) } th.amount scope="col" { (tr!("Nest")) } @if flat { th.amount scope="col" { (tr!("Lie flat")) } } } }
                tbody { @for (name, [stack, nest, lie]) in &lines { tr {
                    th scope="row" { (name) } td.amount { @if *stack > 0 { b { (stack) } } @else { "0" } } td.amount { (nest) } @if flat { td.amount { (lie) } }
                } } }
            }
        }
    }
}

/// Where most cloth lies on one another.
fn thickest(plan: &Plan) -> Markup {
    let Some((layers, at)) = plan.falls.thickest else { return html! {} };
    let seam = seams::nearest(plan, at, f64::INFINITY);
    html! {
        p { (tr!("Thickest point:")) " " b { (tr!("1 layer" | "{n} layers" % layers)) } "." }
        @if let Some(seam) = seam {
            p { button #thickest type="button" data-go=(seams::name(plan, seam)) data-look=(look(plan, at)) { (tr!("Show it, {whose}", whose = seams::whose(plan, seam))) } }
        }
    }
}
