//! Foundation orders: known blocks reckoned by hand, the laws of every order, and the fewest sections against plain enumeration.
//!
//! The checks know corners and sides of lines only, nothing of how the orders were found.

use proptest::prelude::*;
use seamfall_geom::{Edge, Loop, Point};
use seamfall_model::{Quilt, read, starter_blocks};
use seamfall_plan::draft::{self, Draft};
use seamfall_plan::piece::{Foundation, JoinedPart, NoFoundation, foundation};
use std::collections::{BTreeMap, BTreeSet};

const NEAR: f64 = 1e-5;

/// A quilt whose one block has the given lines.
fn quilt(block: &str) -> Quilt {
    let text = format!(
        "format = 1\nname = \"Test\"\nmeasure = \"inch\"\n[cloth.red]\ncolour = \"#aa3333\"\n[block.b]\n{block}\n\
         [setting]\nlayout = \"straight\"\ncolumns = 1\nrows = 1\npattern = [[\"b\"]]\n"
    );
    read(&text).unwrap_or_else(|error| panic!("{error:?}\n{text}"))
}

fn draft_of(block: &str) -> Draft {
    let quilt = quilt(block);
    draft::derive(&quilt, &quilt.blocks[0]).result
}

fn starter(key: &str) -> Draft {
    let block = starter_blocks().iter().find(|block| block.key == key).unwrap_or_else(|| panic!("{key} is in the set"));
    draft::derive(&quilt("shape = \"square\"\nsize = \"12\"\npatches = { red = [[1, 1]] }"), block).result
}

/// The order of a block that has one, held against the laws.
fn checked(draft: &Draft) -> Foundation {
    let found = foundation(draft).unwrap_or_else(|why| panic!("{why}"));
    laws(draft, &found);
    found
}

/// How far a point lies to the left of a line.
fn left_of(line: &Edge, point: Point) -> f64 {
    line.direction_from().cross(point - line.from())
}

/// A patch or an outline lies wholly to the left (1) or right (-1) of a line, or on both sides of it (0).
fn side(line: &Edge, outline: &Loop) -> i8 {
    let away = || outline.corners().map(|corner| left_of(line, corner));
    match (away().all(|d| d >= -NEAR), away().all(|d| d <= NEAR)) {
        (true, _) => 1,
        (_, true) => -1,
        _ => 0,
    }
}

/// Length of the sides of outlines that lie on a line, between its ends.
fn length_on<'a>(line: &Edge, outlines: impl IntoIterator<Item = &'a Loop>) -> f64 {
    let on = |edge: &&Edge| [edge.from(), edge.to()].iter().all(|end| left_of(line, *end).abs() <= NEAR);
    outlines.into_iter().flat_map(Loop::edges).filter(on).map(Edge::length).sum()
}

/// Every patch once; each added along one straight seam over the full side of what is sewn so far and of itself; sections tile
/// the block; sections are joined likewise, each once.
fn laws(draft: &Draft, found: &Foundation) {
    let patch = |number: usize| &draft.patches[number].outline;
    let mut made: BTreeMap<(bool, usize), Vec<usize>> = BTreeMap::new();
    let place = |part: JoinedPart| match part {
        JoinedPart::Section(section) => (false, section),
        JoinedPart::Join(join) => (true, join),
    };
    let mut used: Vec<JoinedPart> = found.joins.iter().flat_map(|join| join.parts).collect();
    used.extend(found.sections.iter().filter_map(|section| section.base));
    let unique: BTreeSet<(bool, usize)> = used.iter().map(|part| place(*part)).collect();
    assert_eq!(
        (unique.len(), used.len()),
        (found.sections.len() + found.joins.len() - 1, unique.len()),
        "each is used once but the last"
    );

    // Sections and joins become whole as soon as what they need is.
    while made.len() < found.sections.len() + found.joins.len() {
        let before = made.len();
        for (number, section) in found.sections.iter().enumerate() {
            let base = match section.base {
                None => Vec::new(),
                Some(base) => match made.get(&place(base)) {
                    Some(base) => base.clone(),
                    None => continue,
                },
            };
            made.entry((false, number)).or_insert_with(|| added(draft, base, section));
        }
        for (number, join) in found.joins.iter().enumerate() {
            let [Some(left), Some(right)] = join.parts.map(|part| made.get(&place(part)).cloned()) else { continue };
            assert!(
                left.iter().all(|&p| side(&join.line, patch(p)) == 1) && right.iter().all(|&p| side(&join.line, patch(p)) == -1)
            );
            for part in [&left, &right] {
                let sewn = length_on(&join.line, part.iter().map(|&p| patch(p)));
                assert!((sewn - join.line.length()).abs() <= NEAR, "a join runs over the full side of both");
            }
            made.insert((true, number), [left, right].concat());
        }
        assert!(made.len() > before, "joins come after what they need");
    }

    let mut all: Vec<usize> = found.sections.iter().flat_map(|section| &section.steps).map(|step| step.patch).collect();
    all.sort_unstable();
    assert_eq!(all, (0..draft.patches.len()).collect::<Vec<_>>(), "every patch once");
    let whole = made.values().filter(|patches| patches.len() == draft.patches.len()).count();
    assert!(whole >= 1, "it ends with the whole block");
}

/// What a section is when its steps are sewn on `base`.
fn added(draft: &Draft, mut sewn: Vec<usize>, section: &seamfall_plan::piece::FoundationSection) -> Vec<usize> {
    for step in &section.steps {
        let Some(line) = &step.line else {
            assert!(sewn.is_empty(), "only the first patch is laid down");
            sewn.push(step.patch);
            continue;
        };
        let new = &draft.patches[step.patch].outline;
        let before = || sewn.iter().map(|&patch| &draft.patches[patch].outline);
        assert_eq!(side(line, new), -1, "patch {} lies to the right of its seam", step.patch + 1);
        assert!(before().all(|outline| side(line, outline) == 1), "what is sewn lies to the left of patch {}", step.patch + 1);
        let [full, own] = [length_on(line, before()), length_on(line, [new])];
        assert!(
            (full - line.length()).abs() <= NEAR && (own - line.length()).abs() <= NEAR,
            "patch {}: {full} {own}",
            step.patch + 1
        );
        sewn.push(step.patch);
    }
    let area: f64 = sewn.iter().map(|&patch| draft.patches[patch].area).sum();
    assert!((area - section.outline.area()).abs() <= 1e-6 * area, "the outline of section {} holds its patches", section.letter);
    let edges = section.outline.edges();
    let inside = sewn.iter().flat_map(|&patch| draft.patches[patch].outline.corners());
    inside.for_each(|corner| assert!(edges.iter().all(|edge| left_of(edge, corner) >= -NEAR)));
    sewn
}

/// Blocks that grow from one patch, each next one along one side: by hand, from how they are drawn.
const ONE_SECTION: [&str; 18] = [
    // One patch.
    "diamond",
    "heart",
    "hexagon",
    "pyramid",
    "rose-of-sharon", // (shapes laid over are no patches)
    // Rows, chinese coins with a strip on either side.
    "chinese-coins",
    "half-square-triangle",
    "roman-stripe",
    "split-triangle",
    "sugar-loaf",
    // Rounds about a middle.
    "courthouse-steps",
    "economy-patch",
    "flying-goose",
    "log-cabin",
    "pineapple",
    "square-in-a-square",
    "triangle-in-a-triangle",
    // Strips laid in turn on two sides of a corner.
    "braid",
];

/// Blocks with corners at which three patches meet and no seam goes straight through: set in, by hand from how they are drawn.
const SET_IN: [&str; 6] = ["attic-window", "bow-tie", "lemoyne-star", "six-pointed-star", "spool", "tumbling-blocks"];

const CURVED: [&str; 7] = [
    "drunkards-path",
    "drunkards-path-unit",
    "grandmothers-fan",
    "mariners-compass",
    "melon-patch",
    "orange-peel",
    "robbing-peter-to-pay-paul",
];

/// Of 79 starter blocks 18 are one section, 48 have several, 6 have set-in corners, 7 have curves.
#[test]
fn every_starter_block_has_an_order_or_says_why_not() {
    assert_eq!(starter_blocks().len(), 79);
    let mut several = 0;
    for block in starter_blocks() {
        let (key, draft) = (block.key.as_str(), starter(&block.key));
        match foundation(&draft) {
            Ok(found) => {
                laws(&draft, &found);
                assert!(found.is_fewest, "{key}");
                assert_eq!(found.sections.len() == 1, ONE_SECTION.contains(&key), "{key}: {} sections", found.sections.len());
                several += usize::from(found.sections.len() > 1);
            }
            Err(NoFoundation::Curved) => assert!(CURVED.contains(&key), "{key}"),
            Err(NoFoundation::NoFullSeam { .. }) => assert!(SET_IN.contains(&key), "{key}"),
            Err(other) => panic!("{key}: {other}"),
        }
    }
    assert_eq!(several, 48);
}

/// Reckoned by hand. A row is one section, and no line parts four squares round a point but one that leaves two a side: a whole of n
/// by m squares has as many sections as its shorter side. Halves of a pinwheel and of an hourglass are fans about the middle of their
/// long side. Snail's trail winds round a four-patch, which is sewn before: two rows of it, and all the rest.
#[test]
fn blocks_have_the_sections_reckoned_by_hand() {
    for (key, sections) in [
        ("four-patch", 2),
        ("nine-patch", 3),
        ("sixteen-patch", 4),
        ("double-irish-chain", 5),
        ("trip-around-the-world", 7),
        ("hourglass", 2),
        ("pinwheel", 2),
        ("broken-dishes", 4),
        ("split-nine-patch", 3),
        ("shoofly", 3),
        ("friendship-star", 3),
        ("flying-geese", 2),
        ("snails-trail", 3),
    ] {
        assert_eq!(checked(&starter(key)).sections.len(), sections, "{key}");
    }
}

/// The middle first, then round and round: above, right, below, left (its logs are drawn so).
#[test]
fn a_log_cabin_is_sewn_in_its_spiral() {
    let draft = starter("log-cabin");
    let found = checked(&draft);
    let steps = &found.sections[0].steps;
    let middles: Vec<Point> = steps.iter().map(|step| draft.patches[step.patch].outline.bounds().center()).collect();
    // Of 12 in by seven divisions: the middle square lies in the middle of the block.
    assert!((middles[0] - Point::new(6.0, 6.0)).hypot() < NEAR, "{:?}", middles[0]);
    let sides: String = middles[1..]
        .iter()
        .map(|at| match (at.x - 6.0, at.y - 6.0) {
            (dx, dy) if dy.abs() > dx.abs() => {
                if dy > 0.0 {
                    'n'
                } else {
                    's'
                }
            }
            (dx, _) => {
                if dx > 0.0 {
                    'e'
                } else {
                    'w'
                }
            }
        })
        .collect();
    assert!(["neswneswnesw", "nwsenwsenwse"].contains(&sides.as_str()), "{sides}");
    // Logs grow outward, two of each length.
    let lengths: Vec<f64> =
        steps[1..].iter().map(|step| step.line.expect("a log is added along a seam").length() * 7.0 / 12.0).collect();
    let wanted = [1.0, 2.0, 2.0, 3.0, 3.0, 4.0, 4.0, 5.0, 5.0, 6.0, 6.0, 7.0];
    assert!(lengths.iter().zip(wanted).all(|(a, b)| (a - b).abs() < NEAR) && lengths.len() == 12, "{lengths:?}");
}

#[test]
fn a_row_is_sewn_from_its_end() {
    let found = checked(&draft_of(
        "shape = \"square\"\nsize = \"8\"\ngrid = 4\nseams = [[1, 0, 1, 4], [2, 0, 2, 4], [3, 0, 3, 4]]\npatches = { red = [[0.5, 1], [1.5, 1], [2.5, 1], [3.5, 1]] }",
    ));
    assert_eq!(found.sections[0].steps.iter().map(|step| step.patch).collect::<Vec<_>>(), [0, 1, 2, 3]);
    assert_eq!((found.sections[0].letter.as_str(), found.joins.len()), ("A", 0));
}

#[test]
fn what_is_set_in_has_no_order() {
    let ring = draft_of(
        "shape = \"square\"\nsize = \"8\"\ngrid = 4\nseams = [[1, 1, 3, 1, 3, 3, 1, 3, 1, 1]]\npatches = { red = [[0.5, 0.5], [2, 2]] }",
    );
    assert_eq!(foundation(&ring), Err(NoFoundation::SetIn { patch: 0 }));
    // A pinwheel of four rectangles round a square: each side of the square is sewn in part first.
    let turning = draft_of(
        "shape = \"square\"\nsize = \"9\"\ngrid = 3\nseams = [[1, 0, 1, 2], [0, 2, 2, 2], [2, 3, 2, 1], [3, 1, 1, 1]]\npatches = { red = [[0.5, 0.5], [0.5, 2.5], [2.5, 2.5], [2.5, 0.5], [1.5, 1.5]] }",
    );
    assert_eq!(foundation(&turning), Err(NoFoundation::NoFullSeam { patches: vec![0, 1, 2, 3, 4] }));
}

#[test]
fn a_block_of_thousands_of_patches_is_told_at_once() {
    let lines: Vec<String> = (1..60).flat_map(|i| [format!("[{i}, 0, {i}, 60]"), format!("[0, {i}, 60, {i}]")]).collect();
    let block = format!(
        "shape = \"square\"\nsize = \"60\"\ngrid = 60\nseams = [{}]\npatches = {{ red = [[0.5, 0.5]] }}",
        lines.join(", ")
    );
    assert_eq!(foundation(&draft_of(&block)), Err(NoFoundation::TooMany));
    // Just under the limit the search ends at its budget, with rows: no fewer would do.
    let lines: Vec<String> = (1..24).flat_map(|i| [format!("[{i}, 0, {i}, 24]"), format!("[0, {i}, 24, {i}]")]).collect();
    let block = format!(
        "shape = \"square\"\nsize = \"24\"\ngrid = 24\nseams = [{}]\npatches = {{ red = [[0.5, 0.5]] }}",
        lines.join(", ")
    );
    let found = checked(&draft_of(&block));
    assert_eq!((found.sections.len(), found.is_fewest), (24, false));
}

/// Fewest sections by plain enumeration of all ways to part sets of patches by the lines of their sides.
struct Plain<'a> {
    draft: &'a Draft,
    known: BTreeMap<u32, Option<(usize, usize)>>,
}

impl Plain<'_> {
    /// For a set: its fewest sections, and the fewest when the last of them can still be added to. Nothing where there is none.
    fn fewest(&mut self, set: u32) -> Option<(usize, usize)> {
        if set.count_ones() == 1 {
            return Some((1, 1));
        }
        if let Some(known) = self.known.get(&set) {
            return *known;
        }
        let members: Vec<usize> = (0..self.draft.patches.len()).filter(|p| set >> p & 1 == 1).collect();
        let mut parted: BTreeSet<(u32, u32)> = BTreeSet::new();
        for line in members.iter().flat_map(|&p| self.draft.patches[p].outline.edges()) {
            let sides: Vec<i8> = members.iter().map(|&p| side(line, &self.draft.patches[p].outline)).collect();
            let of = |side: i8| members.iter().zip(&sides).filter(|(_, s)| **s == side).fold(0, |all, (p, _)| all | 1 << p);
            if !sides.contains(&0) && of(1) != 0 && of(-1) != 0 {
                parted.insert((of(1), of(-1)));
            }
        }
        let (mut all, mut open) = (None, None);
        let least = |a: &mut Option<usize>, b: usize| *a = Some(a.map_or(b, |a| a.min(b)));
        for (left, right) in parted {
            let (Some(l), Some(r)) = (self.fewest(left), self.fewest(right)) else { continue };
            least(&mut all, l.0 + r.0);
            for (one, rest) in [(left, r), (right, l)] {
                if one.count_ones() == 1 {
                    least(&mut open, rest.1.min(1 + rest.0));
                }
            }
        }
        let never = usize::MAX / 4;
        let open = open.unwrap_or(never);
        let answer = all.map(|all| (all.min(open), open));
        self.known.insert(set, answer);
        answer
    }
}

/// Blocks of seams between points of a grid of four; loose ends are left out by the draft.
fn any_block() -> impl Strategy<Value = Draft> {
    let point = || (0_u32..5, 0_u32..5);
    prop::collection::vec((point(), point()), 1..7).prop_map(|seams| {
        let seams: Vec<String> =
            seams.into_iter().filter(|(a, b)| a != b).map(|(a, b)| format!("[{}, {}, {}, {}]", a.0, a.1, b.0, b.1)).collect();
        draft_of(&format!(
            "shape = \"square\"\nsize = \"8\"\ngrid = 4\nseams = [{}]\npatches = {{ red = [[0.1, 0.2]] }}",
            seams.join(", ")
        ))
    })
}

/// A block from which patches are cut off one by one along any lines.
fn any_growth() -> impl Strategy<Value = Draft> {
    prop::collection::vec((0.1_f64..0.9, 0.1_f64..0.9), 1..12).prop_map(|cuts| {
        let mut rest = Loop::polygon(&[(0.0, 0.0), (8.0, 0.0), (8.0, 8.0), (0.0, 8.0)].map(Point::from));
        let mut draft = draft_of("shape = \"square\"\nsize = \"8\"\npatches = { red = [[1, 1]] }");
        let patch = draft.patches.remove(0);
        let mut cut_off = |outline: Loop| draft.patches.push(draft::Patch { area: outline.area(), outline, ..patch.clone() });
        for (i, (s, t)) in cuts.into_iter().enumerate() {
            let edges = rest.edges();
            let (a, b) = (edges[i % edges.len()].at(s), edges[(i + 1 + i / 3) % edges.len()].at(t));
            if let (Some(off), Some(kept)) = (rest.clipped(a, b), rest.clipped(b, a))
                && f64::min(off.area(), kept.area()) > 0.05
            {
                cut_off(off);
                rest = kept;
            }
        }
        cut_off(rest);
        draft.patches.rotate_left(1);
        draft
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn orders_keep_the_laws_and_have_the_fewest_sections(draft in any_block()) {
        prop_assume!(draft.patches.len() <= 20);
        let mut plain = Plain { draft: &draft, known: BTreeMap::new() };
        let fewest = plain.fewest((1_u32 << draft.patches.len()) - 1);
        match foundation(&draft) {
            Ok(found) => {
                laws(&draft, &found);
                prop_assert!(found.is_fewest);
                prop_assert_eq!(Some(found.sections.len()), fewest.map(|(all, _)| all));
            }
            Err(NoFoundation::SetIn { patch }) => prop_assert!(!draft.patches[patch].holes.is_empty()),
            Err(_) => prop_assert_eq!(fewest, None),
        }
    }

    #[test]
    fn what_is_cut_off_patch_by_patch_is_one_section(draft in any_growth()) {
        prop_assert_eq!(checked(&draft).sections.len(), 1);
    }
}
