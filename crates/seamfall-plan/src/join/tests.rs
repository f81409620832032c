//! Joins over whole quilts: what every order keeps to, and the facts of the trade.

use super::*;
use crate::{Staged, draft, fall, lap, piece, set};
use proptest::prelude::*;
use seamfall_geom::{Edge, Loop};
use seamfall_model::{Grade, Length, read};
use seamfall_testkit as quilts;
use std::collections::BTreeMap;

/// Everything before the joins, and the joins with `joined` sewn.
fn joined(quilt: &Quilt, joined: &[[Vec<usize>; 2]]) -> (Top, Staged<Joins>) {
    let drafts: Vec<_> = quilt.blocks.iter().map(|block| draft::derive(quilt, block).result).collect();
    let top = set::derive(quilt).result;
    let piecing = piece::derive(quilt, &drafts, &top).result;
    let falls = fall::derive(quilt, &[], &top, &piecing, Effort(1)).result;
    let lap = lap::derive(quilt, &drafts, &top).result;
    let before = Before { drafts: &drafts, top: &top, piecing: &piecing, falls: &falls, lap: &lap };
    let staged = derive(quilt, before, joined, Effort(1));
    (top, staged)
}

/// A setting of plain blocks, each a section; `more` is written behind.
fn plain(columns: usize, rows: usize, side: f64, more: &str) -> Quilt {
    let limit = side * 1.5;
    let text = format!(
        r##"format = 1
name = "Plain"
measure = "inch"
largest-section = {limit}
[cloth.night]
colour = "#22304f"
[cloth.linen]
colour = "#eee8dc"
[block.plain]
shape = "square"
size = {side}
cloths = {{ one = "night" }}
patches = {{ one = [[1, 1]] }}
[setting]
layout = "straight"
columns = {columns}
rows = {rows}
pattern = [["plain"]]
{more}
"##
    );
    read(&text).unwrap_or_else(|error| panic!("{error:#?}"))
}

fn find(joins: &Joins, kind: JoinOrder) -> &Order {
    joins.orders.iter().find(|order| order.kind == kind).unwrap_or_else(|| panic!("{kind:?}"))
}

/// Sections of a part of any order.
fn sections(order: &Order, part: Part) -> Vec<usize> {
    match part {
        Part::Section(section) => vec![section],
        Part::Join(join) => order.joins[join].parts.iter().flat_map(|part| sections(order, *part)).collect(),
    }
}

/// Area of the convex hull of points (A. M. Andrew's chain, 1979).
fn hull_area(mut points: Vec<Point>) -> f64 {
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let chain = |points: &mut dyn Iterator<Item = Point>| {
        let mut chain: Vec<Point> = Vec::new();
        for point in points {
            while let [.., a, b] = chain[..]
                && (b - a).cross(point - b) <= 0.0
            {
                chain.pop();
            }
            chain.push(point);
        }
        chain
    };
    let mut lower = chain(&mut points.iter().copied());
    let upper = chain(&mut points.iter().rev().copied());
    lower.pop();
    lower.extend(&upper[..upper.len() - 1]);
    Loop::polygon(&lower).area()
}

/// Length that two outlines share, edge against edge, with the ends of it all.
fn shared(a: &Loop, b: &Loop) -> Vec<[Point; 2]> {
    let mut all = Vec::new();
    for one in a.edges() {
        for other in b.edges() {
            let (Edge::Line { from, to }, Edge::Line { from: p, to: q }) = (*one, *other) else { continue };
            let long = (to - from).hypot2().sqrt();
            let way = (to - from) / long;
            if way.cross(p - from).abs() > 1e-4 || way.cross(q - from).abs() > 1e-4 {
                continue;
            }
            let (low, high) = (way.dot(q - from).max(0.0), way.dot(p - from).min(long));
            if high - low > 1e-3 {
                all.push([from + way * low, from + way * high]);
            }
        }
    }
    all
}

/// From the definition alone: every join of every order sews all that its two parts share, which is one straight segment from end to end, and makes
/// a convex whole of two convex parts, so that no edge is trapped; and all sections are joined in the end.
fn check(top: &Top, joins: &Joins) {
    let outline = |section: usize| &top.sections[section].outline;
    let mut total: Option<f64> = None;
    for order in &joins.orders {
        let mut length = 0.0;
        for (number, join) in order.joins.iter().enumerate() {
            let [left, right] = join.parts.map(|part| {
                assert!(!matches!(part, Part::Join(needed) if needed >= number), "a step follows what it needs");
                sections(order, part)
            });
            let stretches: Vec<[Point; 2]> =
                left.iter().flat_map(|&a| right.iter().flat_map(move |&b| shared(outline(a), outline(b)))).collect();
            let way = (join.seam[1] - join.seam[0]) / join.length();
            let sewn: f64 = stretches.iter().map(|[a, b]| (*b - *a).hypot2().sqrt()).sum();
            assert!((sewn - join.length()).abs() < 1e-3, "{:?} join {number}: {sewn} of {}", order.kind, join.length());
            assert!(stretches.iter().flatten().all(|at| way.cross(*at - join.seam[0]).abs() < 1e-3), "one straight line");
            // The left part lies to the left.
            let middle = |part: &[usize]| outline(part[0]).label_point();
            assert!(way.cross(middle(&left) - join.seam[0]) > 0.0 && way.cross(middle(&right) - join.seam[0]) < 0.0);
            let both: Vec<usize> = left.iter().chain(&right).copied().collect();
            let area: f64 = both.iter().map(|&one| outline(one).area()).sum();
            let hull = hull_area(both.iter().flat_map(|&one| outline(one).corners()).collect());
            assert!((area - hull).abs() < 1e-2, "{:?} join {number} is not convex: {area}, {hull}", order.kind);
            assert!((area - join.area).abs() < 0.01 * both.len() as f64);
            length += if join.sewn { 0.0 } else { join.length() };
        }
        let mut all =
            order.joins.last().map_or_else(Vec::new, |join| join.parts.iter().flat_map(|part| sections(order, *part)).collect());
        all.sort_unstable();
        assert!(top.sections.len() < 2 || all == (0..top.sections.len()).collect::<Vec<_>>(), "every section, once");
        assert!((order.machine.exact - length).abs() < 1e-6 && (order.hand.exact - length).abs() < 1e-6);
        assert!((total.unwrap_or(length) - length).abs() < 1e-3, "every order sews the same seams");
        total = Some(length);
        assert!(order.burden >= order.bound);
    }
}

#[test]
fn no_order_of_the_samples_traps_an_edge() {
    for (name, text) in quilts::SAMPLES {
        let quilt = read(text).expect("samples read");
        let (top, staged) = joined(&quilt, &[]);
        assert_eq!(staged.result.orders.len(), 4, "{name}: {:?}", staged.findings);
        check(&top, &staged.result);
        assert!(find(&staged.result, JoinOrder::Best).is_best(), "{name}");
    }
}

/// Four blocks across and seven down: by rows three joins in each of seven rows and six between them, by columns six in each of four and
/// three between. Counted by hand; 28 blocks take 27 joins either way.
#[test]
fn four_across_and_seven_down_both_ways() {
    let (top, staged) = joined(&plain(4, 7, 12.0, ""), &[]);
    check(&top, &staged.result);
    for (kind, within, between, longest) in [(JoinOrder::Rows, 21, 6, 48.0), (JoinOrder::Columns, 24, 3, 84.0)] {
        let order = find(&staged.result, kind);
        assert_eq!(order.within_and_between, Some([within, between]), "{kind:?}");
        assert_eq!((order.joins.len(), order.longest.value), (27, longest));
    }
}

/// Short joins of neighbouring rows fall to opposite sides, so that they nest on the long join between them; all of one row fall alike.
/// Source: common practice; `docs/sewing.md`.
#[test]
fn falls_alternate_from_row_to_row() {
    let (top, staged) = joined(&plain(4, 7, 12.0, "[join]\norder = \"rows\""), &[]);
    let joins = staged.result;
    let mut rows: BTreeMap<i64, Vec<bool>> = BTreeMap::new();
    for step in joins.steps.iter().filter(|step| step.join.seam[0].x == step.join.seam[1].x) {
        let to = joins.sections(step.join.parts[step.falls_to]);
        let right = outline_middle(&top, &to) > step.join.seam[0].x;
        rows.entry(step.join.seam[0].y.round() as i64).or_default().push(right);
    }
    assert_eq!(rows.len(), 7);
    let of_rows: Vec<bool> = rows.values().map(|row| row[0]).collect();
    assert!(rows.values().all(|row| row.len() == 3 && row.iter().all(|fall| *fall == row[0])), "{rows:?}");
    assert!(of_rows.windows(2).all(|pair| pair[0] != pair[1]), "{of_rows:?}");
    let crossings: Vec<&Crossing> = joins.steps.iter().flat_map(|step| &step.crossings).collect();
    assert_eq!(crossings.len(), 18);
    assert!(crossings.iter().all(|one| one.nests == Some(true)));
}

fn outline_middle(top: &Top, sections: &[usize]) -> f64 {
    sections.iter().map(|&one| top.sections[one].outline.bounds().center().x).sum::<f64>() / sections.len() as f64
}

/// Nested: on the side of the fall the own front lies three and the other once, or the other way about, so four under the foot; the joined
/// front has 2 × 3 + 1 layers there, and the flat backing one. Counted with paper.
#[test]
fn layers_at_a_crossing_are_those_of_paper() {
    let (_, staged) = joined(&plain(2, 2, 12.0, "[join]\norder = \"rows\"\ncatch-batting = false"), &[]);
    let long = &staged.result.steps[2];
    let [crossing] = long.crossings[..] else { panic!("{:?}", long.crossings) };
    assert_eq!((crossing.nests, crossing.under_the_foot, crossing.balks), (Some(true), 4, false));
    assert_eq!(crossing.ends, [Some(0), Some(1)]);
    assert!((8..=10).contains(&crossing.layers), "{}", crossing.layers);
    assert_eq!(staged.result.steps[0].ends.iter().flatten().collect::<Vec<_>>(), [&2]);
    assert_eq!(long.ends, [None, None]);
}

/// The least burden over all ways to join sections two by two into wholes without a gap, straight from the definition: over sets, not over cuts.
fn by_enumeration(top: &Top) -> u64 {
    let count = top.sections.len();
    let areas: Vec<f64> = top.sections.iter().map(|section| section.outline.area()).collect();
    let corners: Vec<Vec<Point>> = top.sections.iter().map(|section| section.outline.corners().collect()).collect();
    let in_set = |set: usize| (0..count).filter(move |one| set >> one & 1 == 1);
    let convex: Vec<bool> = (0..1_usize << count)
        .map(|set| {
            let area: f64 = in_set(set).map(|one| areas[one]).sum();
            set > 0 && (hull_area(in_set(set).flat_map(|one| corners[one].clone()).collect()) - area).abs() < 1e-3
        })
        .collect();
    let mut touch = vec![vec![0.0; count]; count];
    for (a, row) in touch.iter_mut().enumerate() {
        for (b, length) in row.iter_mut().enumerate().filter(|(b, _)| *b != a) {
            *length =
                shared(&top.sections[a].outline, &top.sections[b].outline).iter().map(|[p, q]| (*q - *p).hypot2().sqrt()).sum();
        }
    }
    let mut least = vec![u64::MAX; 1 << count];
    (0..count).for_each(|one| least[1 << one] = 0);
    for set in (1..1_usize << count).filter(|&set| convex[set] && set.count_ones() > 1) {
        let area: u64 = in_set(set).map(|one| (areas[one] * 1000.0).round() as u64).sum();
        let mut part = (set - 1) & set;
        while part > 0 {
            let rest = set & !part;
            if convex[part] && convex[rest] && least[part] < u64::MAX && least[rest] < u64::MAX {
                let length: f64 = in_set(part).flat_map(|a| in_set(rest).map(move |b| (a, b))).map(|(a, b)| touch[a][b]).sum();
                least[set] = least[set].min(least[part] + least[rest] + area * (length * 1000.0).round() as u64);
            }
            part = (part - 1) & set;
        }
    }
    *least.last().expect("there is the whole")
}

/// A setting in rows whose blocks differ, so that seams are not all in line.
fn uneven(rows: &[Vec<u32>], heights: &[u32]) -> Quilt {
    let mut text = String::from(
        "format = 1\nname = \"Uneven\"\nmeasure = \"inch\"\nlargest-section = 1\n[cloth.night]\ncolour = \"#22304f\"\n",
    );
    let mut pattern = String::new();
    for (r, row) in rows.iter().enumerate() {
        let keys: Vec<String> = row
            .iter()
            .enumerate()
            .map(|(n, width)| {
                text += &format!(
                    "[block.b{r}-{n}]\nshape = \"rectangle\"\nsize = \"{width} x {}\"\ncloths = {{ one = \"night\" }}\npatches = {{ one = [[0.5, 0.5]] }}\n",
                    heights[r]
                );
                format!("\"b{r}-{n}\"")
            })
            .collect();
        pattern += &format!("[{}],", keys.join(","));
    }
    text += &format!("[setting]\nlayout = \"rows\"\nfiller = \"night\"\npattern = [{pattern}]\n");
    read(&text).unwrap_or_else(|error| panic!("{error:#?}\n{text}"))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    /// The table of rectangles against all sets of sections, up to three by three.
    #[test]
    fn the_lightest_order_is_that_of_enumeration(
        rows in proptest::collection::vec(proptest::collection::vec(2_u32..9, 1..=3), 1..=3),
        heights in proptest::collection::vec(2_u32..9, 3),
    ) {
        let widest = rows.iter().map(|row| row.iter().sum::<u32>()).max().unwrap_or(1);
        // Rows are filled up by hand, so that there are no fillers.
        let rows: Vec<Vec<u32>> = rows.into_iter().map(|mut row| {
            let sum: u32 = row.iter().sum();
            if let Some(last) = row.last_mut() { *last += widest - sum }
            row
        }).collect();
        let quilt = uneven(&rows, &heights);
        let (top, staged) = joined(&quilt, &[]);
        prop_assert!(top.sections.len() <= 9);
        check(&top, &staged.result);
        if top.sections.len() > 1 {
            let best = find(&staged.result, JoinOrder::Best);
            prop_assert_eq!(best.burden, by_enumeration(&top));
            prop_assert!(best.is_best());
            prop_assert!(staged.result.orders.iter().all(|order| order.burden >= best.burden));
        }
    }
}

/// Blocks of 8 in on point.
fn on_point(more: &str, columns: usize, rows: usize, section: f64) -> Quilt {
    let text = format!(
        r##"format = 1
name = "On point"
measure = "inch"
largest-section = {section}
[cloth.night]
colour = "#22304f"
[cloth.linen]
colour = "#eee8dc"
[block.plain]
shape = "square"
size = 8
cloths = {{ one = "night" }}
patches = {{ one = [[1, 1]] }}
[setting]
layout = "on-point"
columns = {columns}
rows = {rows}
pattern = [["plain"]]
triangles = "linen"
{more}
"##
    );
    read(&text).unwrap_or_else(|error| panic!("{error:#?}"))
}

/// On point, with bands, with sashing and cornerstones: the lightest order of small ones against enumeration, and no edge trapped.
#[test]
fn on_point_and_with_triangles_it_is_the_same() {
    let band = "[[band]]\nwidth = 3\ncloth = \"linen\"";
    let sashing = "[sashing]\nwidth = 2\ncloth = \"linen\"";
    for (more, columns, rows, section) in [
        ("", 1, 1, 9.0),
        ("", 2, 2, 9.0),
        ("", 3, 4, 17.0),
        (band, 1, 2, 24.0),
        (band, 3, 3, 12.0),
        (sashing, 2, 2, 11.0),
        (sashing, 3, 3, 11.0),
    ] {
        let quilt = on_point(more, columns, rows, section);
        let (top, staged) = joined(&quilt, &[]);
        let count = top.sections.len();
        assert_eq!(staged.result.orders.len(), 4, "{more} {columns} × {rows}: {:?}", staged.findings);
        check(&top, &staged.result);
        if (2..=13).contains(&count) {
            assert_eq!(find(&staged.result, JoinOrder::Best).burden, by_enumeration(&top), "{more} {columns} × {rows}");
        }
    }
}

/// Sections in reading order of a setting four across: what is sewn stays sewn in every order, and what contradicts is left out.
#[test]
fn what_is_sewn_stays_sewn() {
    let quilt = plain(4, 3, 10.0, "[join]\norder = \"rows\"");
    // Two of the first row, two of the second, then those four: no rows any more.
    let sewn = [[vec![0], vec![1]], [vec![4], vec![5]], [vec![1, 0], vec![5, 4]]];
    let (top, staged) = joined(&quilt, &sewn);
    check(&top, &staged.result);
    let kinds: Vec<JoinOrder> = staged.result.orders.iter().map(|order| order.kind).collect();
    assert_eq!(kinds, [JoinOrder::Halves, JoinOrder::Best]);
    assert_eq!(staged.result.left_out.iter().map(|(kind, _)| *kind).collect::<Vec<_>>(), [JoinOrder::Rows, JoinOrder::Columns]);
    assert!(staged.findings.iter().any(|finding| finding.grade == Grade::Warn && finding.reason.contains("by rows")));
    for order in &staged.result.orders {
        assert_eq!(order.joins.iter().map(|join| join.sewn).collect::<Vec<_>>()[..4], [true, true, true, false]);
        assert_eq!(sections(order, Part::Join(2)).len(), 4);
    }
    // Two neighbours of a row are no obstacle to rows.
    let (top, staged) = joined(&quilt, &[[vec![1], vec![2]]]);
    check(&top, &staged.result);
    assert_eq!(staged.result.left_out.iter().map(|(kind, _)| *kind).collect::<Vec<_>>(), [JoinOrder::Columns]);
    assert_eq!(staged.result.order().map(|order| order.kind), Some(JoinOrder::Rows));
}

#[test]
fn a_trapped_edge_is_said() {
    let quilt = plain(2, 2, 10.0, "");
    // Three of four: the last has to be set into the corner.
    let (_, staged) = joined(&quilt, &[[vec![0], vec![1]], [vec![0, 1], vec![3]]]);
    assert!(staged.result.orders.is_empty());
    let stop = staged.findings.iter().find(|finding| finding.grade == Grade::Stop).expect("it is said");
    assert!(stop.reason.contains("set into a corner"), "{}", stop.reason);
    for wrong in [[vec![0], vec![3]], [vec![0, 1], vec![2]], [vec![9], vec![1]], [vec![], vec![1]]] {
        let (_, staged) = joined(&quilt, std::slice::from_ref(&wrong));
        assert_eq!(staged.result.orders.len(), 4, "{wrong:?}");
        assert!(staged.findings.iter().any(|finding| finding.reason.contains("left out")), "{wrong:?}");
    }
}

/// Whatever is left hanging or waits beside a join is finished after one; nothing twice. What lies along the edge of the quilt waits for the edge.
#[test]
fn threads_and_lines_follow_a_join_once() {
    let quilt = plain(3, 3, 10.0, "[[quilting]]\non = \"quilt\"\ndesign = \"crossed\"\nangle = 30\nspacing = 2");
    let (top, staged) = joined(&quilt, &[]);
    let drafts: Vec<_> = quilt.blocks.iter().map(|block| draft::derive(&quilt, block).result).collect();
    let lap = lap::derive(&quilt, &drafts, &top).result;
    let mut threads: Vec<(usize, i64, i64)> = staged
        .result
        .steps
        .iter()
        .flat_map(|step| &step.hanging)
        .map(|one| (one.section, (one.at.x * 1e3) as i64, (one.at.y * 1e3) as i64))
        .collect();
    let all = threads.len();
    threads.sort_unstable();
    threads.dedup();
    assert_eq!(threads.len(), all, "none twice");
    // Of the middle section every side is joined, so that all of its threads are taken up and all of its lines follow.
    let middle = 4;
    let pattern = &lap.patterns[lap.sections[middle].pattern];
    assert!(!pattern.hanging.is_empty());
    assert_eq!(threads.iter().filter(|one| one.0 == middle).count(), pattern.hanging.len());
    let waiting = staged.result.steps.iter().flat_map(|step| &step.waiting).filter(|one| one.section == middle).count();
    assert_eq!(waiting, pattern.lines.iter().filter(|line| !line.now).count());
    // A thread is within the margin of the seam it follows.
    for step in &staged.result.steps {
        let seam = Edge::Line { from: step.join.seam[0], to: step.join.seam[1] };
        assert!(step.hanging.iter().all(|one| (seam.nearest(one.at) - one.at).hypot2().sqrt() < lap.clear * 1.5));
    }
}

/// Hand stitching stops short wherever a later join passes, and nowhere else: at the edge of the quilt it runs through.
#[test]
fn hand_stitching_stops_short_of_what_is_still_to_be_joined() {
    for quilt in [quilts::lamplight(), quilts::hill_farm(), quilts::market_rows()] {
        let (top, staged) = joined(&quilt, &[]);
        let joins = staged.result;
        for (number, step) in joins.steps.iter().enumerate() {
            for (end, at) in step.join.seam.iter().enumerate() {
                let rim = at.x.min(at.y).min(top.size.x - at.x).min(top.size.y - at.y);
                assert_eq!(step.ends[end].is_none(), rim < 1e-3, "step {number}");
                if let Some(later) = step.ends[end] {
                    assert!(later > number);
                    let met = |one: &&Crossing| (one.at - *at).hypot2() < 1e-6 && one.ends.contains(&Some(number));
                    assert!(joins.steps[later].crossings.iter().any(|one| met(&one)), "step {number} ends on {later}");
                }
            }
            assert!(!instructions(&quilt, &top, &joins, number).is_empty());
        }
        // The margin is the maker's.
        assert_eq!(joins.manner.stops_short().value, quilt.lap.margin.value());
    }
}

/// By hand: 12 in square weigh 0.09290304 m² × (2 × 155 + 136) g = 41.43 g; pins every 3 in over 12 in are 5, two more at a crossing; slip stitches
/// of 12 in are 48 (check value `lap.slip.count`).
#[test]
fn numbers_are_those_of_the_hand() {
    let mut quilt = plain(2, 2, 12.0, "");
    let manner = Manner::new(&quilt);
    assert!((manner.weight(144.0).exact - 41.4347).abs() < 1e-3, "{}", manner.weight(144.0).exact);
    assert_eq!((manner.pins(12.0, 0).count(), manner.pins(12.0, 1).count(), manner.clips(12.0).count()), (5, 7, 6));
    assert_eq!(manner.slip_stitches(12.0).count(), 48);
    assert!((manner.hours(24.0, 2).exact - (2.0 * 5.0 + 20.0) / 60.0).abs() < 1e-12);
    quilt.joining.batting_thickness = Length::new(0.75);
    quilt.joining.catch_batting = Some(true);
    let (_, staged) = joined(&quilt, &[]);
    assert!(!staged.result.manner.section.caught);
    assert!(staged.findings.iter().any(|finding| finding.reason.contains("too thick to be caught")));
}

/// A single section is a whole quilt.
#[test]
fn one_section_takes_no_join() {
    let (top, staged) = joined(&plain(1, 1, 12.0, ""), &[]);
    assert_eq!(top.sections.len(), 1);
    assert!(staged.result.orders.iter().all(|order| order.joins.is_empty() && order.hours.value == 0.0));
    assert!(staged.findings.is_empty());
}
/// Where sections of several blocks on point have sashing between them, half a cornerstone at the edge belongs to one of two, and the join beside
/// it turns a corner. That is said, each place once; there are no more of them than cornerstones along one edge.
#[test]
fn half_a_cornerstone_at_the_edge_is_set_in() {
    for (columns, section, straight) in [(2, 21.0, false), (3, 21.0, false), (3, 11.0, true), (4, 32.0, false)] {
        let quilt = on_point("[sashing]\nwidth = 2\ncloth = \"linen\"", columns, columns, section);
        let (top, staged) = joined(&quilt, &[]);
        let joins = staged.result;
        assert_eq!(joins.orders.len(), 4, "{columns} {section}: {:?}", staged.findings);
        let corners: Vec<Point> = joins.steps.iter().filter_map(|step| step.set_in).collect();
        assert_eq!(corners.is_empty(), straight);
        assert!(corners.len() <= columns, "{corners:?}");
        // They lie within a sash of the edge.
        assert!(corners.iter().all(|at| at.x.min(at.y).min(top.size.x - at.x).min(top.size.y - at.y) < 2.0), "{corners:?}");
        assert_eq!(staged.findings.iter().any(|finding| finding.reason.contains("set in")), !straight);
        for order in &joins.orders {
            let last = order.joins.last().expect("there are joins");
            assert_eq!(last.parts.iter().map(|part| sections(order, *part).len()).sum::<usize>(), top.sections.len());
        }
    }
}
