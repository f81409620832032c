//! The lap: before and after are the whole design, no stitch lies in the free margin before the joins, and the paths stitch all of the rest once.

use crate::near;
use seamfall_geom::{Edge, Loop, Point};
use seamfall_model::Quilt;
use seamfall_plan::Plan;
use seamfall_plan::lap::{Line, Pattern, Stretch};

/// How far a path may lie from the line that it is to stitch: noding moves ends by less.
const CLOSE: f64 = 1e-4;

pub fn hold(quilt: &Quilt, plan: &Plan) {
    let lap = &plan.lap;
    assert_eq!(lap.sections.len(), plan.top.sections.len(), "every section has its work");
    for pattern in &lap.patterns {
        before_and_after(pattern);
        margin_is_free(pattern, lap.clear);
        if !pattern.too_many {
            paths_stitch_all(pattern, quilt.lap.reach.value());
            needlefuls_follow(pattern, quilt.lap.needleful.value());
        }
    }
    for (section, work) in plan.top.sections.iter().zip(&lap.sections) {
        near("a section and its pattern are one", section.outline.area(), lap.patterns[work.pattern].outline.area());
    }
    let sum = |of: fn(&Pattern) -> f64| lap.sections.iter().map(|work| of(&lap.patterns[work.pattern])).sum::<f64>();
    near("all that is stitched", lap.totals.stitched, sum(|pattern| pattern.stitched));
    near("all that waits", lap.totals.after, sum(|pattern| pattern.after));
}

fn length(edges: &[Edge]) -> f64 {
    edges.iter().map(Edge::length).sum()
}

fn before_and_after(pattern: &Pattern) {
    let lines = |now: bool| pattern.lines.iter().filter(move |line| line.now == now).map(|line| length(&line.edges)).sum::<f64>();
    near("what is quilted now", pattern.now, lines(true));
    near("what is quilted after the join", pattern.after, lines(false));
    assert!(pattern.stitched <= pattern.now * (1.0 + crate::NEAR) + CLOSE, "more is stitched than is drawn");
    for line in &pattern.lines {
        let joined = |pair: &[Edge]| (pair[0].to() - pair[1].from()).hypot() < CLOSE;
        assert!(line.edges.windows(2).all(joined), "a line goes on where it ended: {line:?}");
    }
}

fn points(edges: &[Edge]) -> impl Iterator<Item = Point> + '_ {
    edges.iter().flat_map(|edge| [0.0, 0.25, 0.5, 0.75, 1.0].map(|t| edge.at(t)))
}

fn distance(rims: &[Loop], at: Point) -> f64 {
    rims.iter().flat_map(Loop::edges).map(|edge| (edge.nearest(at) - at).hypot()).fold(f64::INFINITY, f64::min)
}

fn margin_is_free(pattern: &Pattern, clear: f64) {
    let rims = pattern.kept.as_deref().unwrap_or(std::slice::from_ref(&pattern.outline));
    for line in pattern.lines.iter().filter(|line| line.now) {
        for at in points(&line.edges) {
            assert!(distance(rims, at) >= clear - CLOSE, "a stitch in the free margin at {at}");
            assert!(rims.iter().any(|rim| rim.contains(at)) || distance(rims, at) < CLOSE, "a stitch beyond the section at {at}");
        }
    }
    let ends: Vec<Point> = pattern.lines.iter().filter(|line| line.now).flat_map(ends).collect();
    for hanging in &pattern.hanging {
        assert!(ends.iter().any(|end| (*end - *hanging).hypot() < CLOSE), "a thread hangs where no line ends: {hanging}");
        assert!(distance(rims, *hanging) < clear + CLOSE, "a thread hangs away from the margin: {hanging}");
    }
}

fn ends(line: &Line) -> impl Iterator<Item = Point> + '_ {
    [line.edges.first().map(Edge::from), line.edges.last().map(Edge::to)].into_iter().flatten()
}

fn paths_stitch_all(pattern: &Pattern, reach: f64) {
    assert_eq!(pattern.starts, pattern.paths.len() as u64, "every path has one start");
    assert!(
        pattern.bound <= pattern.starts && pattern.starts <= pattern.unaided,
        "starts: {} {} {}",
        pattern.bound,
        pattern.starts,
        pattern.unaided
    );
    let stretches = |hidden: bool| pattern.paths.iter().flat_map(|path| &path.stretches).filter(move |one| one.hidden == hidden);
    near("the paths stitch all that is quilted now, once", stretches(false).map(Stretch::length).sum(), pattern.stitched);
    near("the needle's hidden way", stretches(true).map(Stretch::length).sum(), pattern.travelled);
    for hidden in stretches(true) {
        assert!(hidden.length() <= reach + CLOSE, "the needle does not reach: {}", hidden.length());
    }
    for path in &pattern.paths {
        let edges: Vec<Edge> = path.stretches.iter().flat_map(|stretch| stretch.edges.iter().copied()).collect();
        assert!(edges.windows(2).all(|pair| (pair[0].to() - pair[1].from()).hypot() < CLOSE), "a path goes on where it ended");
        assert!(path.stretches.first().is_some_and(|first| !first.hidden), "a path starts with a stitch");
        let hung = [edges.first().map(Edge::from), edges.last().map(Edge::to)];
        for (at, hangs) in hung.into_iter().flatten().zip(path.hangs) {
            let hanging = pattern.hanging.iter().any(|one| (*one - at).hypot() < CLOSE);
            assert!(hanging || !hangs, "a thread is left hanging away from the margin at {at}");
        }
    }
}

fn needlefuls_follow(pattern: &Pattern, thread: f64) {
    for (number, path) in pattern.paths.iter().enumerate() {
        let mut at = 0.0;
        for needleful in pattern.needlefuls.iter().filter(|one| one.path == number) {
            near("a needleful begins where the one before ended", at, needleful.from);
            assert!(needleful.thread <= thread * (1.0 + crate::NEAR), "more thread than a needleful: {}", needleful.thread);
            at = needleful.to;
        }
        near("the needlefuls reach to the end of their path", at, path.length());
    }
}
