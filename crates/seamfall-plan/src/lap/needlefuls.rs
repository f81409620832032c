//! Thread: how much a unit of quilting takes, and how a path is shared out among needlefuls.

use super::pattern::Manner;
use super::{End, Needleful, Path};
use seamfall_model::{Quilt, Rounding, Rule, Term, Working, term};
use tr::tr;

/// Thread in a unit of running stitch, as a plain ratio.
///
/// Of equal stitches and gaps, twice as many slanting passes as stitches go through the layers, to an inch: 2 S √((1 / 2 S)² + T²).
/// Source: plane geometry; check value `lap.use.running_exact`.
pub(super) fn thread_of(quilt: &Quilt) -> Term {
    let lap = &quilt.lap;
    let stitches = term(&tr!("stitches an inch"), lap.stitches_an_inch);
    let thickness = lap.thickness.value() / quilt.measure.inch();
    let half = 0.5 / lap.stitches_an_inch;
    let pass = term(&tr!("a slanting pass"), (half * half + thickness * thickness).sqrt());
    2.0 * stitches * pass
}

/// The working of [`thread_of`].
pub(super) fn thread_working(quilt: &Quilt) -> Working {
    Working::new(Rule::RunningStitch, &tr!("thread in an inch of quilting"), thread_of(quilt), Rounding::Exact)
}

/// The needlefuls of a path, each as long as the thread reaches, the last with what is left.
pub(super) fn of(number: usize, path: &Path, manner: &Manner) -> Vec<Needleful> {
    // Thread used by the end of each stretch: a hidden way takes its own length.
    let mut marks: Vec<(f64, f64)> = vec![(0.0, 0.0)];
    for stretch in &path.stretches {
        let (along, thread) = marks[marks.len() - 1];
        let length = stretch.length();
        marks.push((along + length, thread + length * if stretch.hidden { 1.0 } else { manner.thread }));
    }
    let (whole, total) = marks[marks.len() - 1];
    let count = (total / manner.usable - 1e-9).ceil().max(1.0);
    let along = |thread: f64| {
        let k = marks.partition_point(|mark| mark.1 < thread).clamp(1, marks.len() - 1);
        let ((a, s), (b, t)) = (marks[k - 1], marks[k]);
        if t > s { a + (b - a) * ((thread - s) / (t - s)) } else { b }
    };
    let end = |hangs: bool| if hangs { End::Hanging } else { End::Knot };
    (0..count as u32)
        .map(|k| {
            let first = k == 0;
            let last = f64::from(k + 1) >= count;
            let from = f64::from(k) * manner.usable;
            let to = if last { total } else { from + manner.usable };
            Needleful {
                path: number,
                from: if first { 0.0 } else { along(from) },
                to: if last { whole } else { along(to) },
                thread: to - from + 2.0 * manner.tail,
                ends: [end(first && path.hangs[0]), end(last && path.hangs[1])],
            }
        })
        .collect()
}
