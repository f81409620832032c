//! What a quilter relies on when she sews.

use super::*;
use crate::{draft, set};
use proptest::prelude::*;
use seamfall_model::{Block, read, starter_blocks};
use std::collections::BTreeMap;

/// A quilt of one block of 12 in on a grid of 12, with the seams given and a patch for each point.
fn one_block(seams: &str, patches: &str) -> Quilt {
    let text = format!(
        r##"
format = 1
name = "Test"
measure = "inch"
[cloth.red]
colour = "#aa3333"
[block.a]
shape = "square"
size = "12"
grid = 12
seams = [{seams}]
patches = {{ red = [{patches}] }}
[setting]
layout = "straight"
columns = 1
rows = 1
pattern = [["a"]]
"##
    );
    read(&text).unwrap_or_else(|error| panic!("{error:?}\n{text}"))
}

fn orders_of(block: &Block) -> Vec<Sewing> {
    block_orders(&draft::derive(&seamfall_testkit::tide_pool(), block).result)
}

fn starter(key: &str) -> Vec<Sewing> {
    orders_of(starter_blocks().iter().find(|block| block.key == key).expect("a starter block"))
}

fn bends(order: &Sewing) -> (usize, usize) {
    let count = |kind| order.joins.iter().flat_map(|join| &join.bends).filter(|bend| bend.kind == kind).count();
    (count(BendKind::Partial), count(BendKind::SetIn))
}

/// Laws of every order: every piece is sewn in once, every stretch of seam is sewn once, the bends are those of the joins, and no
/// end of a seam takes part in two meetings.
fn check(order: &Sewing, pieces: usize, seam_length: f64) {
    assert_eq!(order.joins.len() + 1, pieces, "each join makes one of two");
    let mut used = vec![0; pieces];
    let mut made = vec![0; order.joins.len()];
    for join in &order.joins {
        for part in [join.left, join.right] {
            match part {
                Sewn::Piece(piece) => used[piece] += 1,
                Sewn::Join(join) => made[join] += 1,
            }
        }
    }
    assert!(used.iter().all(|&times| times == 1) || pieces == 1, "{used:?}");
    assert!(made.iter().rev().skip(1).all(|&times| times == 1));
    let sewn: f64 = order.seams.iter().map(Seam::length).sum();
    assert!((sewn - seam_length).abs() <= 1e-4 * (1.0 + seam_length), "sewn {sewn}, drawn {seam_length}");
    assert_eq!(order.joins.iter().map(|join| join.bends.len()).sum::<usize>(), order.bends);
    assert!(order.bends_bound <= order.bends);
    let mut met: BTreeMap<End, usize> = BTreeMap::new();
    for (a, b) in order.points.iter().filter_map(SeamPoint::meeting) {
        *met.entry(a).or_default() += 1;
        *met.entry(b).or_default() += 1;
    }
    assert!(met.values().all(|&times| times == 1), "an end is covered once");
}

#[test]
fn every_starter_block_is_sewn_whole_in_every_order() {
    for block in starter_blocks() {
        let draft = draft::derive(&seamfall_testkit::tide_pool(), block).result;
        let length = draft.seams.iter().map(|line| line.edge.length()).sum();
        for order in block_orders(&draft) {
            check(&order, draft.patches.len(), length);
        }
    }
}

/// Set-in corners as the trade counts them (common practice; from memory): eight in a LeMoyne star, where four squares and four
/// triangles are set between its points; one where three diamonds or an attic window's sill and side come together; four where
/// a bow tie's or a spool's middle is set into its pieces. One by hand: of the eight arcs in the middle of an orange peel none runs on.
/// Every other block of the set goes by full seams.
#[test]
fn blocks_bend_as_often_as_the_trade_says() {
    let known = [
        ("lemoyne-star", 8),
        ("tumbling-blocks", 1),
        ("attic-window", 1),
        ("bow-tie", 4),
        ("spool", 4),
        ("six-pointed-star", 6),
        ("orange-peel", 1),
    ];
    for block in starter_blocks() {
        let order = &orders_of(block)[0];
        assert_eq!(order.bends, order.bends_bound, "{} is proven", block.key);
        let count = known.iter().find(|(key, _)| *key == block.key).map_or(0, |(_, count)| *count);
        assert_eq!(bends(order), (0, count), "{}", block.key);
    }
}

/// Four strips round a square, each ending on the next: the first is sewn in part and finished last. Source: common practice.
#[test]
fn strips_that_chase_each_other_take_one_partial_seam() {
    let quilt = one_block("[0, 4, 8, 4], [8, 0, 8, 8], [12, 8, 4, 8], [4, 12, 4, 4]", "[6, 6], [2, 2], [10, 4], [6, 10], [2, 8]");
    let orders = orders_of(&quilt.blocks[0]);
    assert_eq!((bends(&orders[0]), orders[0].bends_bound), ((1, 0), 1));
    let finished: Vec<_> = orders[0].seams.iter().filter(|seam| seam.continues.is_some()).collect();
    assert_eq!(finished.len(), 1, "the seam that was begun first");
}

#[test]
fn a_square_set_into_a_patch_takes_four_corners_and_a_circle_none() {
    let square = one_block("[3, 3, 9, 3, 9, 9, 3, 9, 3, 3]", "[6, 6], [1, 1]");
    assert_eq!((bends(&orders_of(&square.blocks[0])[0]), orders_of(&square.blocks[0])[0].bends_bound), ((0, 4), 4));
    let circle = one_block("{ arc = [3, 6, 9, 6], centre = [6, 6] }, { arc = [9, 6, 3, 6], centre = [6, 6] }", "[6, 6], [1, 1]");
    let order = &orders_of(&circle.blocks[0])[0];
    assert_eq!((order.bends, order.seams.len()), (0, 1));
    assert!((order.seams[0].length() - 6.0 * std::f64::consts::PI).abs() < 1e-9);
}

#[test]
fn a_block_of_one_patch_has_nothing_to_sew() {
    let quilt = one_block("", "[6, 6]");
    let orders = orders_of(&quilt.blocks[0]);
    assert_eq!((orders.len(), orders[0].joins.len(), orders[0].whole), (1, 0, Some(Sewn::Piece(0))));
}

/// A four-patch is sewn rows first or columns first; a fan round a point in halves.
#[test]
fn natural_orders_are_those_of_the_directions_that_cross() {
    assert_eq!(starter("four-patch").len(), 2);
    assert_eq!(starter("nine-patch").len(), 2);
    assert_eq!(starter("log-cabin").len(), 1);
    // Along either diagonal, which run through; or rows or columns, and in either the triangles sewn to squares first, or to the
    // seams between the squares.
    assert_eq!(starter("pinwheel").len(), 2 + 2 * 2);
    // Rows or columns, and in either which diagonal goes through last in its four squares of quarters, alike in all of them.
    assert!(starter("ohio-star").len() >= 4);
}

/// A thousand wedges round one point. It takes one join a patch, and no time to speak of.
#[test]
fn a_thousand_seams_at_one_point_are_sewn() {
    let at = |i: u32| {
        let (sin, cos) = libm::sincos(f64::from(i) * std::f64::consts::PI / 500.0);
        let reach = 6.0 / f64::max(cos.abs(), sin.abs());
        Point::new(6.0 + cos * reach, 6.0 + sin * reach)
    };
    let wedges: Vec<Loop> = (0..1000).map(|i| Loop::polygon(&[Point::new(6.0, 6.0), at(i), at((i + 1) % 1000)])).collect();
    let length = (0..1000).map(|i| (at(i) - Point::new(6.0, 6.0)).hypot2().sqrt()).sum();
    for order in sewn(&wedges) {
        check(&order, 1000, length);
        assert_eq!(order.bends, 0);
    }
}

/// Hexagons side by side have no full seam anywhere. Of a few the fewest bends are found; of 400 an order all the same, with its
/// bound: every inner corner is a bend.
#[test]
fn honeycombs_are_sewn_whatever_their_size() {
    let hexagon = |column: i32, row: i32| {
        let (x, y) = (f64::from(2 * column + row % 2) * 0.75_f64.sqrt(), f64::from(row) * 1.5);
        let corner = |k: i32| {
            let (sin, cos) = libm::sincos((f64::from(k) * 60.0 + 30.0).to_radians());
            Point::new(x + cos, y + sin)
        };
        Loop::polygon(&(0..6).map(corner).collect::<Vec<_>>())
    };
    for (side, exact) in [(3, true), (20, false)] {
        let hexagons: Vec<Loop> = (0..side).flat_map(|row| (0..side).map(move |column| hexagon(column, row))).collect();
        let order = &sewn(&hexagons)[0];
        let inner = mesh::Mesh::new(hexagons.iter().map(|outline| (outline, [].as_slice())));
        let length = inner.stretches.iter().filter(|stretch| stretch.left.is_some() && stretch.right.is_some()).count();
        check(order, hexagons.len(), length as f64);
        assert!(!exact || order.bends == order.bends_bound, "{} of {}", order.bends, order.bends_bound);
        // Inner corners: each is one of three hexagons.
        let corners = 2 * (side - 1) * (side - 1);
        assert!(order.bends >= usize::try_from(corners).expect("positive"), "{} of {corners}", order.bends);
    }
}

/// The four inner corners of a mitred frame are set in, its mitres end on the outline, and the strips of one side are sewn first.
#[test]
fn mitred_frames_are_set_in_at_four_corners() {
    let quilt = seamfall_testkit::lamplight();
    let drafts: Vec<Draft> = quilt.blocks.iter().map(|block| draft::derive(&quilt, block).result).collect();
    let staged = derive(&quilt, &drafts, &set::derive(&quilt).result);
    let framed = staged.result.designs.iter().find(|design| design.name == "churn+shade").expect("it is in the quilt");
    for order in framed.orders.iter() {
        assert_eq!((order.bends, order.bends_bound), (4, 4));
        assert_eq!(order.rim.len(), 4, "the mitres");
        let corners = framed.outline(&drafts[framed.block.0]);
        assert!(order.rim.iter().all(|end| corners.corners().any(|corner| (corner - end.at).hypot2() < 1e-9)));
        // Two strips a side: where their seam ends on a mitre, it meets that of the next side.
        let frame = framed.parts.len();
        let on_mitres = order.points.iter().filter(|point| {
            let stretch = order.seams[point.seam].course[0];
            point.meeting().is_some() && stretch.left >= frame && stretch.right >= frame
        });
        assert_eq!(on_mitres.count(), 4);
    }
    assert!(staged.findings.is_empty(), "a mitred frame needs no word: {:?}", staged.findings);
}

/// A 12 in square cut up by full seams, at random: where to cut which piece, and which way.
fn guillotine() -> impl Strategy<Value = Vec<[f64; 4]>> {
    proptest::collection::vec((any::<prop::sample::Index>(), any::<bool>(), 1..4u32), 1..18).prop_map(|cuts| {
        let mut pieces = vec![[0.0, 0.0, 12.0, 12.0]];
        for (which, upright, share) in cuts {
            let at = which.index(pieces.len());
            let [x0, y0, x1, y1] = pieces[at];
            let part = |a: f64, b: f64| a + (b - a) * f64::from(share) / 4.0;
            let (first, second) = if upright {
                ([x0, y0, part(x0, x1), y1], [part(x0, x1), y0, x1, y1])
            } else {
                ([x0, y0, x1, part(y0, y1)], [x0, part(y0, y1), x1, y1])
            };
            pieces[at] = first;
            pieces.push(second);
        }
        pieces
    })
}

fn loops(pieces: &[[f64; 4]]) -> Vec<Loop> {
    pieces.iter().map(|&[x0, y0, x1, y1]| Loop::rect(seamfall_geom::Rect::new(x0, y0, x1, y1))).collect()
}

fn sewn(outlines: &[Loop]) -> Vec<Sewing> {
    let mesh = mesh::Mesh::new(outlines.iter().map(|outline| (outline, [].as_slice())));
    let colours = vec![0; outlines.len()];
    let groups = vec![(0..outlines.len()).collect()];
    let orders =
        order::natural(&order::Grouped { mesh: &mesh, groups, colours: &colours }, 8, &|| true).expect("they are wanted");
    orders.iter().map(|order| sew::sew(&mesh, order, &|_| Vec::new())).collect()
}

/// Fewest bends by going through every way to part the pieces in two, without a look at seams or directions: the corners of the
/// line between the two parts, those on the outline left out.
fn fewest_bends_by_all_ways(pieces: &[[f64; 4]]) -> usize {
    let scale = |v: f64| (v * 64.0).round() as i64;
    let mut xs: Vec<i64> = pieces.iter().flat_map(|p| [scale(p[0]), scale(p[2])]).collect();
    let mut ys: Vec<i64> = pieces.iter().flat_map(|p| [scale(p[1]), scale(p[3])]).collect();
    for list in [&mut xs, &mut ys] {
        list.sort_unstable();
        list.dedup();
    }
    // Which piece each cell of the grid of all coordinates belongs to.
    let cell = |i: usize, j: usize| {
        let (x, y) = ((xs[i] + xs[i + 1]) / 2, (ys[j] + ys[j + 1]) / 2);
        pieces
            .iter()
            .position(|p| scale(p[0]) < x && x < scale(p[2]) && scale(p[1]) < y && y < scale(p[3]))
            .expect("pieces cover the square")
    };
    let grid: Vec<Vec<usize>> = (0..xs.len() - 1).map(|i| (0..ys.len() - 1).map(|j| cell(i, j)).collect()).collect();
    let mut known = BTreeMap::new();
    all_ways(&grid, (1u32 << pieces.len()) - 1, &mut known)
}

fn all_ways(grid: &[Vec<usize>], set: u32, known: &mut BTreeMap<u32, usize>) -> usize {
    if set.count_ones() == 1 {
        return 0;
    }
    if let Some(&least) = known.get(&set) {
        return least;
    }
    let lowest = set & set.wrapping_neg();
    let mut least = usize::MAX;
    let mut part = (set - 1) & set;
    while part > 0 {
        if part & lowest > 0 && connected(grid, part) && connected(grid, set ^ part) {
            let bends = corners_between(grid, part, set ^ part);
            if bends < least {
                let rest = all_ways(grid, part, known) + all_ways(grid, set ^ part, known);
                least = least.min(bends + rest);
            }
        }
        part = (part - 1) & set;
    }
    known.insert(set, least);
    least
}

fn connected(grid: &[Vec<usize>], set: u32) -> bool {
    let mut reached = set & set.wrapping_neg();
    loop {
        let before = reached;
        for i in 0..grid.len() {
            for j in 0..grid[0].len() {
                let here = 1 << grid[i][j];
                for next in [(i + 1 < grid.len()).then(|| grid[i + 1][j]), (j + 1 < grid[0].len()).then(|| grid[i][j + 1])]
                    .into_iter()
                    .flatten()
                {
                    let next = 1 << next;
                    if (reached & here > 0) != (reached & next > 0) && set & here > 0 && set & next > 0 {
                        reached |= here | next;
                    }
                }
            }
        }
        if reached == before {
            return reached == set;
        }
    }
}

/// Corners of the line between two parts that lie inside both together: of the four cells round them three are of one part and
/// one is of the other.
fn corners_between(grid: &[Vec<usize>], a: u32, b: u32) -> usize {
    let mut corners = 0;
    for i in 1..grid.len() {
        for j in 1..grid[0].len() {
            let cells = [grid[i - 1][j - 1], grid[i][j - 1], grid[i][j], grid[i - 1][j]].map(|piece| 1u32 << piece);
            if cells.iter().all(|cell| (a | b) & cell > 0) {
                let of_a = cells.iter().filter(|cell| a & **cell > 0).count();
                corners += usize::from(of_a == 1 || of_a == 3);
            }
        }
    }
    corners
}

/// A square of small squares, joined at random to rectangles that need not come apart by full seams.
fn rectangles() -> impl Strategy<Value = Vec<[f64; 4]>> {
    proptest::collection::vec((0..4usize, 0..4usize, 1..4usize, 1..4usize), 6..16).prop_map(|wanted| {
        let mut taken = [[false; 4]; 4];
        let mut pieces = Vec::new();
        let all = (0..16).map(|cell| (cell / 4, cell % 4, 1, 1));
        for (i, j, w, h) in wanted.into_iter().chain(all) {
            let cells: Vec<(usize, usize)> = (i..i + w).flat_map(|x| (j..j + h).map(move |y| (x, y))).collect();
            if i + w <= 4 && j + h <= 4 && cells.iter().all(|&(x, y)| !taken[x][y]) {
                cells.iter().for_each(|&(x, y)| taken[x][y] = true);
                pieces.push([i, j, i + w, j + h].map(|v| v as f64 * 3.0));
            }
        }
        pieces
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    #[test]
    fn what_is_cut_by_full_seams_is_sewn_by_full_seams(pieces in guillotine()) {
        let outlines = loops(&pieces);
        for order in sewn(&outlines) {
            let all: f64 = outlines.iter().map(Loop::perimeter).sum();
            check(&order, pieces.len(), (all - 48.0) / 2.0);
            prop_assert_eq!(order.bends, 0);
        }
    }

    /// The exact search against plain enumeration.
    #[test]
    fn no_order_bends_less(pieces in rectangles()) {
        prop_assume!(pieces.len() <= 11);
        let order = &sewn(&loops(&pieces))[0];
        prop_assert_eq!(order.bends, fewest_bends_by_all_ways(&pieces));
        prop_assert_eq!(order.bends_bound, order.bends);
    }
}
