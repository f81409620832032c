//! The book as a reader gets it: rendered and read by poppler, an implementation that shares nothing with ours.

mod class;
mod lap;
mod look;
mod printed;
mod tagged;

use printed::*;
use seamfall_book::{BookOptions, Paper, book};
use seamfall_model::{BlockId, ChosenWay, MakingWay, Quilt};

/// A queen in inches.
fn harbour() -> Quilt {
    seamfall_model::read(include_str!("../quilts/harbour.quilt.toml")).expect("the sample reads")
}

/// Rows in centimetres, with templates over several sheets.
fn weir() -> Quilt {
    seamfall_model::read(include_str!("../quilts/weir.quilt.toml")).expect("the sample reads")
}

const DATE: Option<(i32, u8, u8)> = Some((2025, 3, 5));

fn made(quilt: &Quilt, paper: Paper) -> Vec<u8> {
    book(quilt, &seamfall_plan::plan(quilt), &BookOptions { date: DATE, ..BookOptions::on(paper) }).expect("samples make a book")
}

/// 1 in is 300 pixels at 300 dpi; 2 cm is 2 / 2.54 of it, 236.2. A frame of 1.5 pt is 6.25 pixels wide, so that at least four
/// sides of five whole pixels are found.
#[test]
fn test_squares_measure_what_they_say_on_the_first_and_the_last_sheet() {
    for paper in [Paper::Letter, Paper::A4] {
        for quilt in [harbour(), weir()] {
            let printed = Printed::new(&made(&quilt, paper));
            let sheets = printed.template_sheets();
            let ends = [*sheets.first().expect("there are templates"), *sheets.last().expect("there are templates")];
            for page in ends {
                let image = printed.rendered(page);
                let size = if paper == Paper::Letter { (2550, 3300) } else { (2480, 3508) };
                assert!(
                    image.width.abs_diff(size.0) <= 1 && image.height.abs_diff(size.1) <= 1,
                    "{} by {}",
                    image.width,
                    image.height
                );
                let (width, height, pixels) = extent(&image, INCH);
                assert!(width.abs_diff(300) <= 1 && height.abs_diff(300) <= 1, "{paper:?}, page {page}: {width} by {height}");
                assert!(pixels > 4 * 5 * 280, "a frame, not specks: {pixels}");
                let (width, height, pixels) = extent(&image, TWO_CENTIMETRES);
                assert!(width.abs_diff(236) <= 1 && height.abs_diff(236) <= 1, "{paper:?}, page {page}: {width} by {height}");
                assert!(pixels > 4 * 5 * 220, "a frame, not specks: {pixels}");
            }
        }
    }
}

/// The square in the middle of the churn dash is 4 in finished, 4 1/2 in cut: 1,350 pixels, and one stroke of 0.02 in, 6 pixels.
#[test]
fn a_template_measures_what_is_cut() {
    for paper in [Paper::Letter, Paper::A4] {
        let printed = Printed::new(&made(&harbour(), paper));
        let named = |page: &&usize| printed.pages[**page - 1].lines().next().is_some_and(|line| line.contains("Churn dash C"));
        let sheets = printed.template_sheets();
        let image = printed.rendered(*sheets.iter().find(named).expect("the template is printed"));
        let runs = |lines: usize, across: usize, pixel: &dyn Fn(usize, usize) -> bool| {
            (0..lines).map(|line| longest_run((0..across).map(|at| pixel(line, at)))).collect::<Vec<_>>()
        };
        let black = |x: usize, y: usize| image.at(x, y).iter().all(|&part| part < 100);
        let across = runs(image.height, image.width, &|line, at| black(at, line));
        let down = runs(image.width, image.height, &black);
        for (way, runs) in [("across", across), ("down", down)] {
            assert!(runs.iter().any(|run| run.abs_diff(1356) <= 2), "{paper:?}, {way}: {:?}", runs.iter().max());
        }
    }
}

/// A piece cut 8 1/2 by 11 1/2 in takes two sheets of A4 lying, four upright. Its straight cut edge of 11 1/2 in runs over the whole
/// of the first sheet and goes on over what is left on the second: 11.5 less a sheet (210 mm less 1 in) and 1 cm of overlap.
/// Regression: a turned drawing larger than the page was shifted, and the second sheet came out empty.
#[test]
fn a_turned_template_goes_on_over_the_next_sheet() {
    let quilt = seamfall_model::read(
        r##"
format = 1
name = "Two sheets"
measure = "inch"
[cloth.a]
colour = "#f2ead8"
[block.long]
shape = "rectangle"
size = "9 x 11"
seams = [[8, 0, 7.5, 11]]
patches = { a = [[1, 1], [8.5, 10]] }
[setting]
layout = "straight"
columns = 1
rows = 1
pattern = [["long"]]
"##,
    )
    .expect("the sample reads");
    let printed = Printed::new(&made(&quilt, Paper::A4));
    let inked: Vec<usize> = ["long A, sheet A1", "long A, sheet A2"]
        .iter()
        .map(|sheet| {
            let named = |page: &&usize| printed.pages[**page - 1].lines().next().is_some_and(|line| line.contains(sheet));
            let image = printed.rendered(*printed.template_sheets().iter().find(named).expect("it takes two sheets"));
            let black = |x: usize, y: usize| image.at(x, y).iter().all(|&part| part < 100);
            // Counted, not followed: the line to tape along crosses it.
            (0..image.height).map(|y| (0..image.width).filter(|&x| black(x, y)).count()).max().unwrap_or(0)
        })
        .collect();
    let sheet = 210.0 / 25.4 - 1.0;
    let left: f64 = 11.5 - (sheet - 1.0 / 2.54);
    assert!((inked[0] as f64 - sheet * 300.0).abs() < 20.0, "{inked:?}");
    assert!((inked[1] as f64 - left * 300.0).abs() < 20.0, "{inked:?}");
}

#[test]
fn the_same_plan_makes_the_same_bytes() {
    let quilt = harbour();
    assert!(made(&quilt, Paper::Letter) == made(&quilt, Paper::Letter), "two books differ");
    assert!(made(&quilt, Paper::Letter) != made(&quilt, Paper::A4), "paper matters");
}

/// Bands of a print that runs one way: 60 1/2 in of cloth is one strip across for both sides, and four strips 4 1/2 in wide are
/// joined for top and bottom. Regression: the book named the width of the piece for that of the strip, and `0 from each`.
#[test]
fn strips_are_named_as_they_are_cut() {
    let quilt = seamfall_model::read(
        r##"
format = 1
name = "Stripes"
measure = "inch"
[cloth.plain]
colour = "#f2ead8"
[cloth.stripe]
colour = "#777777"
print = "one-way"
width = "42"
[block.half]
shape = "square"
size = "12"
seams = [[0, 0, 12, 12]]
patches = { plain = [[3, 9], [9, 3]] }
[setting]
layout = "straight"
columns = 5
rows = 5
pattern = [["half"]]
[[band]]
width = "4"
cloth = "stripe"
"##,
    )
    .expect("the sample reads");
    let mut one_piece = quilt;
    one_piece.largest_section = seamfall_model::Length::new(100.0);
    let all = Printed::new(&made(&one_piece, Paper::Letter)).pages.join("\n").replace('\u{2009}', " ");
    let joined = seamfall_plan::plan(&one_piece).cutting.pieces.into_iter().find(|piece| piece.joined.is_some());
    let name = joined.expect("top and bottom are joined").name;
    assert!(all.contains(&format!("{name} strip")) && all.contains(&format!("{name} rest")), "{all}");
    assert!(all.contains("up(("), "how many strips are joined is worked out: {all}");
}

/// Every name the maker gave, every length to buy and every entry of the cut list can be read (and heard) in the book.
#[test]
fn the_book_says_what_the_plan_says() {
    let demos = [seamfall_testkit::tide_pool(), seamfall_testkit::lamplight(), seamfall_testkit::hill_farm()];
    for quilt in demos.into_iter().chain([harbour(), weir(), seamfall_testkit::market_rows()]) {
        let plan = seamfall_plan::plan(&quilt);
        let printed = Printed::new(&made(&quilt, Paper::A4));
        let all = printed.pages.join("\n");
        let has = |text: &str| assert!(all.contains(text), "`{text}` is not in the book of {}", quilt.name);
        has(&quilt.name);
        has("5 March 2025");
        for (block, draft) in quilt.blocks.iter().zip(&plan.drafts) {
            has(&block.name);
            // Cloth is told by its number, not by its colour alone.
            for patch in &draft.patches {
                let cloth = block.parts[patch.part.expect("samples have all cloths").0].cloth;
                has(&format!("{}·{}", draft.templates[patch.template].letter, cloth.0 + 1));
            }
        }
        for bought in &plan.cutting.bought {
            has(&bought.of.name(&quilt));
            has(&bought.shown(&quilt));
            // Every cut of every strip stands in the tables.
            for line in seamfall_plan::cut::sheets(&quilt, &plan.cutting, bought).iter().flat_map(|sheet| &sheet.lines) {
                has(&line.number);
            }
        }
        for piece in &plan.cutting.pieces {
            has(&piece.width.length().shown(quilt.step));
        }
        for section in &plan.top.sections {
            has(&section.name);
        }
        let last = printed.pages.len();
        has(&format!("page {last} of {last}"));
    }
}

/// Every unit has its card with its count, whole on one page; every way to press a block has its chart.
#[test]
fn units_and_charts_are_all_there_and_cards_do_not_break() {
    for quilt in [harbour(), seamfall_testkit::lamplight(), seamfall_testkit::market_rows()] {
        let plan = seamfall_plan::plan(&quilt);
        let printed = Printed::new(&made(&quilt, Paper::A4));
        let words = |text: &str| text.split_whitespace().map(str::to_owned).collect::<Vec<_>>();
        let of = |text: &str, word: &str| words(text).iter().filter(|other| *other == word).count();
        let pages: Vec<&String> = printed.pages.iter().filter(|page| of(page, "make") > 0 && of(page, "Round") > 0).collect();
        let made: usize = pages.iter().map(|page| of(page, "make")).sum();
        let faster = plan.making.units.iter().any(|making| making.taken.is_some());
        assert!(made == plan.units.all.len() || (faster && made < plan.units.all.len()), "{made} cards in {}", quilt.name);
        for page in pages {
            assert_eq!(of(page, "make"), of(page, "Round"), "a card goes on over the page: {page}");
        }
        let all = words(&printed.pages.join(" "));
        for whole in plan.units.all.iter().filter(|unit| unit.is_whole) {
            assert!(all.contains(&whole.name), "{} of {}", whole.name, quilt.name);
        }
        for making in plan.making.units.iter().filter(|making| making.taken.is_some()) {
            assert!(all.contains(&plan.units.all[making.unit].name), "{making:?}");
        }
        let top = printed.pages.iter().find(|page| page.contains("Pressing the whole top") && !page.contains("What to buy"));
        let top = words(top.expect("there is a chart of the top"));
        let mut ways = std::collections::BTreeSet::new();
        for (number, place) in plan.top.places.iter().enumerate() {
            assert!(top.contains(&place.name), "{} of {}", place.name, quilt.name);
            ways.insert((plan.piecing.holds[number].design, &plan.falls.pressing(&plan.piecing, number).falls));
        }
        let charts = |number: usize| all.contains(&format!("P{number}:")) && top.contains(&format!("P{number}"));
        assert!((1..=ways.len()).all(charts) && !charts(ways.len() + 1), "{}", quilt.name);
    }
}

/// A seam between a light and a dark cloth falls to the dark one where nothing else asks. Source: common practice; and of six blocks
/// alike each is sewn from one light and one dark triangle.
#[test]
fn a_unit_says_to_which_cloth_it_is_pressed() {
    let quilt = seamfall_model::read(
        r##"
format = 1
name = "Halves"
measure = "inch"
[cloth.dark]
name = "Ink"
colour = "#22304f"
value = "dark"
[cloth.light]
name = "Straw"
colour = "#f2ead8"
value = "light"
[block.half]
shape = "square"
size = "6"
seams = [[0, 0, 6, 6]]
patches = { light = [[1, 4]], dark = [[4, 1]] }
[setting]
layout = "straight"
columns = 3
rows = 2
pattern = [["half"]]
"##,
    )
    .expect("the sample reads");
    let text = |quilt: &Quilt| Printed::new(&made(quilt, Paper::Letter)).pages.join("\n").replace('\u{2009}', " ");
    let all = text(&quilt);
    assert!(all.contains("make 6") && all.contains("Press to Ink") && all.contains("Two at a time, 3 times"), "{all}");
    // The diagonal of 6 in is 8.485 in, shown to the nearest eighth.
    let mut plain = quilt;
    plain.ways = vec![ChosenWay { block: BlockId(0), patch: 1, way: MakingWay::Plain }];
    let all = text(&plain);
    assert!(all.contains("make 6") && all.contains("Press to Ink") && all.contains("Seam ~8 "), "{all}");
}

/// Eight geese of one square of 5 1/4 in and four of 2 7/8 in for every four: twice, and none is over. Source: common practice for
/// geese finished 2 by 4 in, `finished + 1 1/4` and `finished + 7/8`.
#[test]
fn a_unit_made_several_at_a_time_says_how() {
    let quilt = seamfall_model::read(
        r##"
format = 1
name = "Geese"
measure = "inch"
[cloth.goose]
name = "Ink"
colour = "#22304f"
[cloth.sky]
name = "Straw"
colour = "#f2ead8"
[block.goose]
shape = "rectangle"
size = "4 x 2"
seams = [[0, 0, 2, 2], [2, 2, 4, 0]]
patches = { goose = [[2, 0.5]], sky = [[0.3, 1.5], [3.7, 1.5]] }
[setting]
layout = "straight"
columns = 2
rows = 4
pattern = [["goose"]]
"##,
    )
    .expect("the sample reads");
    let all = Printed::new(&made(&quilt, Paper::Letter)).pages.join("\n").replace('\u{2009}', " ");
    assert!(all.contains("Four at a time, 2 times") && !all.contains("2 times;"), "{all}");
    assert!(all.contains("Lay two small squares on opposite corners"), "{all}");
    let card = all.split("make 8").nth(1).expect("there is a card");
    let ends = |name: &str, size: &str| card.lines().any(|line| line.contains(name) && line.contains(size));
    assert!(ends("Ink (c", "), 5 ") && ends("Straw (c", "), 2 "), "{card}");
}

/// Broken dishes are sixteen squares of two triangles, four to a row; a row is a section. Drunkard's path is all curves.
#[test]
fn a_block_has_its_foundation_or_the_reason_why_not() {
    let printed = Printed::new(&made(&seamfall_testkit::king_200(), Paper::A4));
    let sheets = printed.template_sheets();
    let on_sheets = |text: &str| sheets.iter().any(|sheet| printed.pages[sheet - 1].contains(text));
    for letter in ["A", "B", "C", "D"] {
        assert!(on_sheets(&format!("Broken dishes, section {letter}")), "{letter}");
    }
    assert!(!on_sheets("Broken dishes, section E") && !on_sheets("Drunkard's path, section"));
    let all = printed.pages.join(" ").split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(all.contains("Drunkard's path None: a foundation takes straight seams only"), "{all}");
}

/// With one pressing a block three meetings of the rows stack, with two none does.
#[test]
fn what_stacks_is_listed_with_the_way_out() {
    let mut quilt = seamfall_testkit::market_rows();
    let text = |quilt: &Quilt| Printed::new(&made(quilt, Paper::Letter)).pages.join("\n");
    let joined = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    quilt.pressings = Some(seamfall_model::Pressings::Shared(1));
    let plan = seamfall_plan::plan(&quilt);
    assert!(!plan.falls.stacks.is_empty(), "the sample no longer stacks, take another");
    let one = joined(&text(&quilt));
    assert!(one.contains(&format!("; {} of them stack", plan.falls.stacks.len())), "{one}");
    assert!(one.contains("What stacks"));
    for stack in &plan.falls.stacks {
        assert!(one.contains(&stack.reason), "{}", stack.reason);
    }
    quilt.pressings = Some(seamfall_model::Pressings::Own);
    let own = joined(&text(&quilt));
    assert!(own.contains("Nothing stacks at any of them") && !own.contains("What stacks"), "{own}");
}

/// Units and charts are printed once a kind: two hundred blocks, each pressed as it will, do not make hundreds of pages.
#[test]
fn a_king_quilt_stays_a_book() {
    let mut quilt = seamfall_testkit::king_200();
    quilt.pressings = Some(seamfall_model::Pressings::Own);
    let printed = Printed::new(&made(&quilt, Paper::Letter));
    // Of these a sixth are the 35 joins, two to a page; the index and the lines for measures take two each.
    assert!(printed.pages.len() < 105, "{} pages", printed.pages.len());
}

#[test]
fn template_sheets_follow_one_another_and_pages_stay_few() {
    let printed = Printed::new(&made(&harbour(), Paper::Letter));
    let sheets = printed.template_sheets();
    assert!(sheets.windows(2).all(|pair| pair[1] == pair[0] + 1), "template sheets follow one another: {sheets:?}");
    assert!((12..60).contains(&printed.pages.len()), "{} pages", printed.pages.len());
}

/// Title, language and tags are what a screen reader asks for first (PDF/UA-1, ISO 14289-1, 7.1 and 7.2).
#[test]
fn the_book_is_tagged_and_titled() {
    let quilt = harbour();
    let printed = Printed::new(&made(&quilt, Paper::Letter));
    let meta = poppler("pdfinfo", &["-meta", text_of(&printed.path())]);
    let title = format!(r#"<rdf:li xml:lang="x-default">{}</rdf:li>"#, quilt.name);
    for part in [title.as_str(), "<rdf:li>en</rdf:li>", "<pdfuaid:part>1</pdfuaid:part>"] {
        assert!(meta.contains(part), "{part} is not in {meta}");
    }
    let info = poppler("pdfinfo", &[text_of(&printed.path())]);
    assert!(info.lines().any(|line| line.starts_with("Tagged:") && line.ends_with("yes")), "{info}");
}

/// A name no font here can show costs the book its promise to readers aloud, not its existence.
#[test]
fn a_name_in_any_script_still_makes_a_book() {
    let mut quilt = harbour();
    for name in ["#pagebreak() $x$ *bold* <label> @ref", "布のうた", "\u{202e}\u{1f9f5}\u{7}", ""] {
        quilt.name = name.to_owned();
        assert!(made(&quilt, Paper::A4).starts_with(b"%PDF-"), "{name}");
    }
    quilt.name = "#pagebreak() $x$ *bold*".to_owned();
    let printed = Printed::new(&made(&quilt, Paper::A4));
    assert!(printed.pages[0].contains("#pagebreak() $x$ *bold*"), "a name is no instruction");
}

/// What cannot be sewn yet is said first, and the rest is printed all the same.
#[test]
fn a_quilt_that_cannot_be_sewn_yet_has_a_book() {
    let mut quilt = harbour();
    quilt.blocks[0].marks.clear();
    quilt.allowance.0 = seamfall_model::Length::new(1.0);
    let plan = seamfall_plan::plan(&quilt);
    let stop = plan.findings.iter().find(|finding| finding.grade == seamfall_model::Grade::Stop).expect("patches lack a cloth");
    let printed = Printed::new(&made(&quilt, Paper::Letter));
    let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words(&printed.pages[1]).contains(&words(&stop.reason)), "{} is not in {}", stop.reason, printed.pages[1]);
}

#[test]
fn a_day_that_does_not_exist_is_refused() {
    let quilt = harbour();
    let plan = seamfall_plan::plan(&quilt);
    let options = BookOptions { date: Some((2025, 2, 30)), ..BookOptions::on(Paper::A4) };
    let error = book(&quilt, &plan, &options).expect_err("February is shorter");
    assert_eq!(error.to_string(), "there is no day 2025-02-30; give a date of the calendar, or none");
}
