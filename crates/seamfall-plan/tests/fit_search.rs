//! The search for settings against plain enumeration, and its candidates made the quilt.

use proptest::prelude::*;
use seamfall_geom::Vec2;
use seamfall_model::{Edit, Measure, Quilt, apply, read};
use seamfall_plan::answer::Ruler;
use seamfall_plan::fit::{Base, Candidate, Parity, Rank, Setting, Standing, Steps, Wishes, as_edit, search, wishes};
use seamfall_plan::plan;

/// One setting, as it is enumerated.
#[derive(Debug, Clone, PartialEq)]
struct One {
    standing: Standing,
    numbers: (u32, u32),
    block: f64,
    frame: f64,
    sashing: f64,
    bands: Vec<f64>,
    size: Vec2,
    miss: f64,
}

fn values(steps: Steps) -> Vec<f64> {
    let mut all = Vec::new();
    let mut value = steps.from;
    while value <= steps.to + 1e-9 {
        all.push(value);
        value += steps.step;
    }
    all
}

/// Every setting within the limits, one by one; sizes from the definition.
fn every(wishes: &Wishes, base: &Base) -> Vec<One> {
    let mut all = Vec::new();
    let mut bands = vec![Vec::new()];
    for steps in &wishes.bands {
        bands = bands
            .iter()
            .flat_map(|before: &Vec<f64>| values(*steps).into_iter().map(|width| [&before[..], &[width]].concat()))
            .collect();
    }
    let wished = |count: &u32| match wishes.parity {
        Parity::Any => true,
        Parity::Odd => count % 2 == 1,
        Parity::Even => count.is_multiple_of(2),
    };
    for &standing in &wishes.standings {
        for block in values(wishes.blocks) {
            for frame in values(wishes.frame) {
                for sashing in values(wishes.sashing) {
                    for bands in &bands {
                        for columns in (wishes.columns.0..=wishes.columns.1).filter(wished) {
                            for rows in (wishes.rows.0..=wishes.rows.1).filter(wished) {
                                let framed = block + 2.0 * if frame > 0.0 { frame + base.inner_frame } else { 0.0 };
                                let side = |count: u32| {
                                    let (n, outer) = (f64::from(count), if base.around { 2.0 * sashing } else { 0.0 });
                                    let body = match standing {
                                        Standing::Straight => n * framed + (n - 1.0) * sashing,
                                        Standing::OnPoint => n * (framed + sashing) * 2f64.sqrt(),
                                    };
                                    body + outer + 2.0 * bands.iter().sum::<f64>()
                                };
                                let size = Vec2::new(side(columns), side(rows));
                                let miss = (size.x - wishes.size.x).abs().max((size.y - wishes.size.y).abs());
                                all.push(One {
                                    standing,
                                    numbers: (columns, rows),
                                    block,
                                    frame,
                                    sashing,
                                    bands: bands.clone(),
                                    size,
                                    miss,
                                });
                            }
                        }
                    }
                }
            }
        }
    }
    all
}

/// What a rank orders by, from its words: the first figure of it, in thousandths.
fn first_figure(rank: Rank, one: &One, base: &Base, wishes: &Wishes) -> Option<i64> {
    let setting = Setting {
        standing: one.standing,
        columns: one.numbers.0,
        rows: one.numbers.1,
        block: one.block,
        frame: one.frame,
        sashing: one.sashing,
        bands: &one.bands,
    };
    let figures = setting.figures(base, one.size, wishes.size);
    let thousandths = |value: f64| (value * 1000.0).round() as i64;
    match rank {
        Rank::LeastCloth => Some(thousandths(figures.cloth)),
        Rank::FewestHours => Some(thousandths(figures.hours)),
        Rank::FewestBlocks => Some(i64::from(setting.blocks())),
        Rank::Plainest => {
            let strips = [one.frame, one.sashing].into_iter().chain(one.bands.iter().copied());
            Some(strips.filter(|width| *width > 0.0).count() as i64)
        }
        Rank::Nearest => Some(thousandths(one.miss)),
        Rank::OwnBlocks => (wishes.own_block == Some(one.block)).then(|| thousandths(one.miss)),
        Rank::Straight => (one.standing == Standing::Straight).then(|| thousandths(one.miss)),
        Rank::OnPoint => (one.standing == Standing::OnPoint).then(|| thousandths(one.miss)),
    }
}

fn some_wishes() -> impl Strategy<Value = (Wishes, Base)> {
    let numbers = (1u32..4, 0u32..4);
    let widths = (6u32..10, 0u32..4, 0u32..3, 0u32..3, 0usize..3);
    (20.0..60.0f64, 20.0..60.0f64, 0.1..3.0f64, widths, (numbers.clone(), numbers), 0u32..3, any::<bool>()).prop_map(
        |(width, length, tolerance, (block, more, frame, sashing, bands), (columns, rows), parity, around)| {
            let wishes = Wishes {
                size: Vec2::new(width, length),
                tolerance,
                standings: vec![Standing::Straight, Standing::OnPoint],
                blocks: Steps { from: f64::from(block), to: f64::from(block + more), step: 0.5 },
                height_step: 0.125,
                columns: (columns.0, columns.0 + columns.1 + 1),
                rows: (rows.0, rows.0 + rows.1 + 1),
                parity: [Parity::Any, Parity::Odd, Parity::Even][parity as usize],
                frame: Steps { from: 0.0, to: f64::from(frame), step: 1.0 },
                sashing: Steps { from: 0.0, to: f64::from(sashing), step: 1.0 },
                bands: vec![Steps { from: 0.0, to: 3.0, step: 1.5 }; bands],
                own_block: Some(f64::from(block)),
            };
            (wishes, Base { around, inner_frame: 0.5, ..Base::usual(Measure::Inch) })
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// As many settings are counted as there are, as many come within the tolerance, and no rank has a better one than is told.
    #[test]
    fn the_search_finds_what_enumeration_finds((wishes, base) in some_wishes()) {
        let found = search(&wishes, &base, Ruler::usual(Measure::Inch)).expect("these wishes can be searched");
        let all = every(&wishes, &base);
        prop_assert_eq!(found.settings, all.len() as u64);
        let least = all.iter().map(|one| one.miss).fold(f64::INFINITY, f64::min);
        let tolerance = if least <= wishes.tolerance { wishes.tolerance } else { least };
        prop_assert!((found.tolerance - tolerance).abs() < 1e-9);
        let within: Vec<&One> = all.iter().filter(|one| one.miss <= tolerance + 1e-9).collect();
        prop_assert_eq!(found.within, within.len() as u64);
        for rank in Rank::ALL {
            let best = within.iter().filter_map(|one| first_figure(rank, one, &base, &wishes)).min();
            let told = found.best.iter().find(|one| one.ranks.contains(&(rank, 1)));
            let told = told.map(|one| first_figure(rank, &as_one(one), &base, &wishes).expect("it has its rank"));
            prop_assert_eq!(told, best, "{:?}", rank);
        }
        for one in &found.best {
            prop_assert!(within.iter().any(|other| **other == as_one(one)), "{:?}", one);
            prop_assert!(found.best.iter().filter(|other| as_one(other) == as_one(one)).count() == 1);
        }
    }
}

fn as_one(candidate: &Candidate) -> One {
    One {
        standing: candidate.standing,
        numbers: (candidate.columns, candidate.rows),
        block: candidate.block.x,
        frame: candidate.frame,
        sashing: candidate.sashing,
        bands: candidate.bands.clone(),
        size: candidate.size,
        miss: candidate.figures.miss,
    }
}

/// A quilt with a comment on every line that changes.
fn quilt(setting: &str, shape: &str) -> String {
    format!(
        r##"format = 1
name = "Test"
measure = "inch"
[cloth.red]
colour = "#aa3333"
[cloth.blue]
colour = "#3333aa"
[block.a]
{shape}
[block.b]
{shape}
[frame.thin]
corners = "mitred"
strips = [{{ width = "1/2", cloth = "red" }}, {{ width = "1", cloth = "blue" }}]   # narrow, then wide
[setting]
{setting}
pattern = [["a", "b"], ["b", "a"]]
frame = "thin"
[sashing]
width = "2"   # between them
cloth = "blue"
[[band]]
width = "3"   # the inner
cloth = "red"
[[band]]
width = "5"
cloth = "blue"
"##
    )
}

const SQUARE: &str = "shape = \"square\"\nsize = \"12\"   # from the old one\ngrid = 2\nseams = [[0, 0, 2, 2]]\npatches = { red = [[0.5, 1.5]], blue = [[1.5, 0.5]] }";
const TALL: &str = "shape = \"rectangle\"\nsize = \"9 x 12\"   # from the old one\ngrid = [3, 4]\nseams = [[0, 2, 3, 2]]\npatches = { red = [[1, 1]], blue = [[1, 3]] }";

fn with(text: &str, edit: Option<Edit>) -> Quilt {
    let changed =
        edit.map_or_else(|| text.to_owned(), |edit| apply(text, &edit).unwrap_or_else(|error| panic!("{error}\n{text}")));
    assert!(
        ["# from the old one", "# between them", "# the inner", "# narrow, then wide"]
            .iter()
            .all(|comment| changed.contains(comment))
    );
    read(&changed).expect("it was read before")
}

/// Whatever is found, made the quilt, gives a top of that very size that can be set without a stop.
#[test]
fn a_candidate_made_the_quilt_has_its_size() {
    let straight = "layout = \"straight\"\ncolumns = 5\nrows = 6";
    let on_point = "layout = \"on-point\"\ncolumns = 4\nrows = 5\ntriangles = \"blue\"";
    for (setting, shape) in [(straight, SQUARE), (on_point, SQUARE), (straight, TALL)] {
        let text = quilt(setting, shape);
        let before = read(&text).unwrap_or_else(|error| panic!("{error:?}"));
        let (wishes, base) = wishes(&before, Vec2::new(88.0, 104.5)).expect("its blocks are of one size");
        let found = search(&wishes, &base, Ruler::of(&before)).expect("it can be searched");
        assert!(found.best.len() >= 6 && found.settings > 1_000_000, "{} {}", found.best.len(), found.settings);
        for candidate in &found.best {
            let top = plan(&with(&text, as_edit(&before, candidate))).top;
            assert!((top.size - candidate.size).hypot() < 1e-9, "{:?} {:?}\n{candidate:?}", top.size, candidate.size);
            assert_eq!(top.places.len(), candidate.blocks as usize);
            let [width, length, ..] = &candidate.workings;
            assert_eq!((width.value, length.value), (candidate.size.x, candidate.size.y));
        }
        let standings = |standing: Standing| found.best.iter().any(|one| one.standing == standing);
        assert!(standings(Standing::Straight) && (shape == TALL || standings(Standing::OnPoint)));
    }
}

/// The base of a quilt as it stands gives back its own size, and its seams but for the ends of strips and where sections part.
#[test]
fn the_quilt_as_it_is_comes_out_as_planned() {
    for setting in
        ["layout = \"straight\"\ncolumns = 5\nrows = 6", "layout = \"on-point\"\ncolumns = 4\nrows = 5\ntriangles = \"blue\""]
    {
        let quilt = read(&quilt(setting, SQUARE)).expect("it reads");
        let (wishes, base) = wishes(&quilt, Vec2::new(88.0, 104.5)).expect("its blocks are of one size");
        let standing = if setting.contains("on-point") { Standing::OnPoint } else { Standing::Straight };
        let (columns, rows) = if standing == Standing::OnPoint { (4, 5) } else { (5, 6) };
        let own = Setting { standing, columns, rows, block: 12.0, frame: 1.0, sashing: 2.0, bands: &[3.0, 5.0] };
        let plan = plan(&quilt);
        assert!((own.size(&base) - plan.top.size).hypot() < 1e-9);
        let seams = own.workings(&base, wishes.size)[3].value;
        let planned = plan.cutting.thread.seams.value;
        assert!((seams / planned - 1.0).abs() < 0.04, "{seams} {planned}");
    }
}

#[test]
fn what_cannot_be_searched_is_told_with_the_nearest() {
    let (wishes, base) = {
        let quilt = read(&quilt("layout = \"straight\"\ncolumns = 5\nrows = 6", SQUARE)).expect("it reads");
        wishes(&quilt, Vec2::new(88.0, 104.5)).expect("its blocks are of one size")
    };
    let trouble = |wishes: Wishes| search(&wishes, &base, Ruler::usual(Measure::Inch)).expect_err("it cannot be searched");
    let large = trouble(Wishes { size: Vec2::new(300.0, 90.0), ..wishes.clone() });
    assert_eq!((large.reason.as_str(), large.value), ("a quilt cannot be 300 in wide", 240.0));
    let backwards = trouble(Wishes { blocks: Steps { from: 12.0, to: 9.0, step: 1.0 }, ..wishes.clone() });
    assert_eq!(backwards.reason, "the block is to be at least 12 in and at most 9 in");
    let many = trouble(Wishes { blocks: Steps { from: 1.0, to: 20.0, step: 1e-5 }, ..wishes.clone() });
    assert!(many.reason.contains("choices of widths"), "{}", many.reason);
    assert!(trouble(Wishes { columns: (2, 2), parity: Parity::Odd, ..wishes }).reason.contains("columns"));
    let rows = include_str!("../../../quilts/market-rows.quilt.toml");
    let rows = read(rows).expect("it reads");
    assert!(seamfall_plan::fit::wishes(&rows, Vec2::new(200.0, 220.0)).is_err());
}
