//! The work in the lap on paper: the chapter, the cards, the sheets for marking.

use crate::printed::*;
use seamfall_book::{BookOptions, Marking, Paper, book};
use seamfall_model::Quilt;
use seamfall_plan::Plan;

fn read(text: &str) -> Quilt {
    seamfall_model::read(text).unwrap_or_else(|error| panic!("{error:#?}"))
}

/// One block of 6 in, quilted with lines that are not their own mirror image.
fn slanted() -> Quilt {
    read(
        r##"
format = 1
name = "Slanted"
measure = "inch"
[cloth.night]
colour = "#22304f"
[block.plain]
shape = "square"
size = "6"
cloths = { one = "night" }
patches = { one = [[1, 1]] }
[setting]
layout = "straight"
columns = 1
rows = 1
pattern = [["plain"]]
[[quilting]]
on = "plain"
design = "parallel"
angle = 30
spacing = "1"
"##,
    )
}

/// Plain blocks, each a section, under lines that run through the whole quilt: no two sections are alike.
fn ruled(side: u32) -> Quilt {
    read(&format!(
        r##"
format = 1
name = "Ruled"
measure = "inch"
largest-section = "9"
[cloth.night]
colour = "#22304f"
[block.plain]
shape = "square"
size = "8"
cloths = {{ one = "night" }}
patches = {{ one = [[1, 1]] }}
[setting]
layout = "straight"
columns = {side}
rows = {side}
pattern = [["plain"]]
[[quilting]]
on = "quilt"
design = "parallel"
angle = 27
spacing = "1.37"
"##
    ))
}

fn printed(quilt: &Quilt, plan: &Plan, marking: Marking) -> Printed {
    let options = BookOptions { marking, ..BookOptions::on(Paper::Letter) };
    Printed::new(&book(quilt, plan, &options).expect("samples make a book"))
}

/// A page's text, its spaces single.
fn words(text: &str) -> String {
    text.replace('\u{2009}', " ").split_whitespace().collect::<Vec<_>>().join(" ")
}

fn named(printed: &Printed, head: &str) -> Vec<usize> {
    let is = |text: &String| text.trim_start().starts_with(head);
    (1..).zip(&printed.pages).filter(|(_, text)| is(text)).map(|(number, _)| number).collect()
}

/// Every kind of section of the queen has one card, whole on a page, with all its paths and a box for every section it serves.
#[test]
fn every_kind_of_section_has_its_card() {
    let quilt = seamfall_testkit::lamplight();
    let plan = seamfall_plan::plan(&quilt);
    let printed = printed(&quilt, &plan, Marking::None);
    let cards: Vec<String> = printed.pages.iter().filter(|page| page.contains("Time for one")).map(|page| words(page)).collect();
    let all = cards.join(" ");
    assert_eq!(all.matches("Time for one").count(), plan.lap.patterns.len());
    for (number, pattern) in plan.lap.patterns.iter().enumerate() {
        let name = format!("Q{}", number + 1);
        let sections: Vec<&str> = (plan.top.sections.iter().zip(&plan.lap.sections))
            .filter(|(_, work)| work.pattern == number)
            .map(|(section, _)| section.name.as_str())
            .collect();
        let head = if sections.len() == 1 { format!("{name} Section") } else { format!("{name} {} sections of", sections.len()) };
        let card = all.split(&head).nth(1).unwrap_or_else(|| panic!("no card `{head}`"));
        let card = card.split(" Section ").next().unwrap_or(card);
        let starts = format!("{} (no way takes fewer)", pattern.starts);
        assert!(card.contains(&starts), "{starts}: {card}");
        assert!(card.contains(&format!("Needlefuls {},", pattern.needlefuls.len())), "{card}");
        for section in sections {
            assert!(card.split(' ').any(|word| word == section), "{section} in {card}");
        }
    }
}

/// What stands beside the drawing on the card of one section, line by line: the page to the right of 290 points, below 150.
#[test]
fn a_card_reads_so() {
    let quilt = slanted();
    let plan = seamfall_plan::plan(&quilt);
    let printed = printed(&quilt, &plan, Marking::None);
    let page = (1..).zip(&printed.pages).find(|(_, page)| page.contains("Time for one")).expect("there is a card").0.to_string();
    let right = ["-x", "290", "-y", "150", "-W", "322", "-H", "600", "-layout", "-f", &page, "-l", &page];
    let path = printed.path();
    let text = poppler("pdftotext", &[&right[..], &[text_of(&path), "-"]].concat());
    let lines: Vec<String> = text.lines().map(words).filter(|line| !line.is_empty()).collect();
    insta::assert_snapshot!(lines.join("\n"));
}

/// The totals, their workings, the weeks and the gap stand in the chapter.
#[test]
fn the_chapter_says_what_the_plan_says() {
    let quilt = seamfall_testkit::lamplight();
    let plan = seamfall_plan::plan(&quilt);
    let printed = printed(&quilt, &plan, Marking::None);
    let all = words(&printed.pages.join(" "));
    let totals = &plan.lap.totals;
    let has = |text: &str| assert!(all.contains(text), "`{text}` is not in the book");
    has("In the lap");
    has(&format!("Starts {}", totals.starts.0));
    has(&format!("{} + {} = 2 × {}", totals.knots, totals.hanging, totals.needlefuls));
    for working in [&plan.lap.thread_rate, &totals.hours, &totals.hours_after] {
        has(&working.line());
    }
    for (week, bag) in (1..).zip(&plan.lap.bags) {
        let first = &plan.top.sections[bag.sections[0]].name;
        has(&format!("{week} {first} (Q{})", plan.lap.sections[bag.sections[0]].pattern + 1));
        // Thread for a week is more than the two yards below which it is told in inches.
        has(&format!(" {} {} yd", bag.needlefuls, (bag.thread / 36.0).ceil()));
    }
    has("The widest gap without a line is");
}

/// A gap wider than the batting allows is named with what would close it, and so is a mitre that would stand up.
#[test]
fn gaps_and_mitres_are_named() {
    let mut quilt = seamfall_testkit::lamplight();
    quilt.lap.largest_gap = seamfall_model::Length::new(3.0);
    quilt.quilting.retain(|one| !matches!(one.on, seamfall_model::QuiltedOn::Frame(_)));
    quilt.quilting.push(seamfall_model::Quilting {
        on: seamfall_model::QuiltedOn::Band(0),
        design: seamfall_model::QuiltingDesign::Motif { motif: seamfall_model::Motif::Circle, size: None, repeats: None },
    });
    let plan = seamfall_plan::plan(&quilt);
    assert!(!plan.lap.gaps.is_empty());
    let all = words(&printed(&quilt, &plan, Marking::None).pages.join(" "));
    assert!(all.contains("The batting allows gaps of 3 in. These are wider"), "{all}");
    let gap = &plan.lap.gaps[0];
    assert!(all.contains(if gap.over_join_with.is_some() { "long on the join with" } else { "long through it" }));
    assert_eq!(all.contains("Corners that would stand up"), !plan.lap.proposals.is_empty());
}

/// A quilt without designs says so, and has neither cards nor sheets.
#[test]
fn a_quilt_without_designs_says_so() {
    let quilt = seamfall_testkit::tide_pool();
    let plan = seamfall_plan::plan(&quilt);
    let printed = printed(&quilt, &plan, Marking::Both);
    let all = printed.pages.join(" ");
    assert!(all.contains("No quilting design has been chosen yet."));
    assert!(!all.contains("Cards for the bag") && !all.contains("Lines to mark"));
}

/// 81 sections, no two alike: the first 60 have a card, and the book says that not all have.
#[test]
fn very_many_kinds_of_section_are_cut_short_and_said() {
    let quilt = ruled(9);
    let plan = seamfall_plan::plan(&quilt);
    assert_eq!(plan.lap.patterns.len(), 81);
    let printed = printed(&quilt, &plan, Marking::None);
    let all = words(&printed.pages.join(" "));
    assert_eq!(all.matches("Time for one").count(), 60);
    assert!(all.contains("Not all have a card") && all.contains("81 kinds"), "it is said");
}

/// The block of 6 in lies on one sheet. Its outline is 6 in, 1,800 pixels at 300 dpi, and the free margin of 3/4 in leaves 1/2 in from the
/// seam line on either side: 5 in, 1,500 pixels; each is longer by a stroke of 0.02 and 0.01 in.
#[test]
fn a_marking_sheet_measures_what_is_marked() {
    let quilt = slanted();
    let plan = seamfall_plan::plan(&quilt);
    let printed = printed(&quilt, &plan, Marking::Front);
    let sheets = named(&printed, "Lines to mark M1");
    assert_eq!(sheets.len(), 1, "{sheets:?}");
    let image = printed.rendered(sheets[0]);
    let black = |x: usize, y: usize| image.at(x, y).iter().all(|&part| part < 100);
    for runs in [
        (0..image.height).map(|y| longest_run((0..image.width).map(|x| black(x, y)))).collect::<Vec<_>>(),
        (0..image.width).map(|x| longest_run((0..image.height).map(|y| black(x, y)))).collect(),
    ] {
        for wanted in [1806, 1503] {
            assert!(runs.iter().any(|run| run.abs_diff(wanted) <= 3), "{wanted}: {:?}", runs.iter().max());
        }
    }
}

/// What is printed on the mirrored sheet is the mirror image of the other, pixel by pixel but for the rims of lines.
#[test]
fn the_mirrored_sheet_is_the_mirror_image() {
    let quilt = slanted();
    let plan = seamfall_plan::plan(&quilt);
    let printed = printed(&quilt, &plan, Marking::Both);
    let (front, back) = (named(&printed, "Lines to mark M1  "), named(&printed, "Lines to mark M1, mirrored"));
    assert_eq!((front.len(), back.len()), (1, 1), "each is named");
    let images = [front[0], back[0]].map(|page| printed.rendered(page));
    let black = |image: &Page, x: usize, y: usize| image.at(x, y).iter().all(|&part| part < 100);
    // The drawing begins at 1/2 in, below a heading of 0.45 in, and is 6.06 in wide and high.
    let (left, top, size) = (150, 285, 1818);
    let (mut inked, mut same, mut straight) = (0, 0, 0);
    for y in top..top + size {
        for x in (0..size).filter(|&x| black(&images[0], left + x, y)) {
            inked += 1;
            let near = |x: usize| (x.saturating_sub(2)..=x + 2).any(|x| black(&images[1], left + x, y));
            same += usize::from(near(size - 1 - x));
            straight += usize::from(near(x));
        }
    }
    assert!(inked > 60_000, "there are lines: {inked}");
    assert!(same as f64 > 0.995 * inked as f64, "{same} of {inked} are mirrored");
    assert!((straight as f64) < 0.8 * inked as f64, "the design is not its own mirror image: {straight} of {inked}");
}

/// Sheets of a section larger than the paper have joining marks, and all books say what a sheet serves.
#[test]
fn larger_sections_are_tiled_and_their_sheets_listed() {
    let quilt = seamfall_testkit::lamplight();
    let plan = seamfall_plan::plan(&quilt);
    let printed = printed(&quilt, &plan, Marking::Front);
    let first = named(&printed, "Lines to mark M1, sheet A1");
    assert_eq!(first.len(), 1);
    let page = &printed.pages[first[0] - 1];
    assert!(page.contains("tape to") && page.contains("Measure before you mark: print at 100 %"), "{page}");
    let list = printed.pages.iter().find(|page| page.contains("What is quilted along a")).expect("the page about them");
    let list = words(list);
    assert!(list.contains("M1 Q1, Q22 (sheet turned by half) S1, S30"), "{list}");
    assert!(
        !printed
            .pages
            .iter()
            .any(|page| page.contains("mirrored (") || page.trim_start().starts_with("Lines to mark M1, mirrored"))
    );
}
