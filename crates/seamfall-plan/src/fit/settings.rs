//! What a quilt of given settings comes to: its size, its seams, its cloth, its hours.
//!
//! In: one setting, and what stays as it is. Out: the figures, by formulas that are written once and give either the bare number, for
//! the search over many, or the number with its working, for those that are shown.
//!
//! Cloth and hours serve to compare settings and are no cutting plan: every patch takes its finished area and an allowance along its outline,
//! so that all together take the area of the top and an allowance along every seam on both sides of it and along the edge. Seams are those
//! drawn in the blocks, four for each strip of a frame and its mitres, those between blocks and beside sashing, and one round inside
//! each band.

use seamfall_geom::Vec2;
use seamfall_model::{Arc, Block, FitRule, Joining, Lap, Measure, Rounding, Rule, Seam, Term, Working, mark, spoken, term};
use std::f64::consts::{PI, SQRT_2};
use std::ops::{Add, Div, Mul, Sub};
use tr::tr;

/// How blocks stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// Square to the edges.
    Straight,
    /// On their corners.
    OnPoint,
}

/// What the search leaves as it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Base {
    /// The unit.
    pub measure: Measure,
    /// Seam allowance.
    pub allowance: f64,
    /// How many times as high as wide a block is.
    pub tall: f64,
    /// Seams inside a block, as a multiple of its width.
    pub seams: f64,
    /// Width of the strips of a frame inside its outermost.
    pub inner_frame: f64,
    /// How many strips a frame has, the outermost with them.
    pub frame_strips: usize,
    /// How far each of them lies from the block, added up.
    pub frame_offsets: f64,
    /// Whether sashing also runs round the outside.
    pub around: bool,
    /// Minutes that a foot takes at the machine.
    pub machine_minutes: f64,
    /// Minutes that a foot of quilting takes.
    pub quilting_minutes: f64,
    /// From one line of quilting to the next.
    pub gap: f64,
    /// Minutes for the handling of one join.
    pub join_minutes: f64,
}

impl Base {
    /// Square blocks of a plain nine patch, sewn and quilted at the usual pace.
    #[must_use]
    pub fn usual(measure: Measure) -> Self {
        let (lap, joining) = (Lap::usual(measure), Joining::usual(measure));
        Self {
            measure,
            allowance: measure.usual_allowance().0.value(),
            tall: 1.0,
            seams: 4.0,
            inner_frame: 0.0,
            frame_strips: 1,
            frame_offsets: 0.0,
            around: false,
            machine_minutes: joining.machine_minutes_a_foot,
            quilting_minutes: lap.minutes_a_foot,
            gap: lap.largest_gap.value(),
            join_minutes: joining.minutes_a_join,
        }
    }
}

/// Settings of one quilt. Widths are finished.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Setting<'a> {
    /// How the blocks stand.
    pub standing: Standing,
    /// Places in a row; on point, in the longer rows.
    pub columns: u32,
    /// Rows; on point, the longer ones.
    pub rows: u32,
    /// Width of a block without its frame.
    pub block: f64,
    /// Width of the outermost strip of its frame; 0 for none.
    pub frame: f64,
    /// Width of the sashing; 0 for none.
    pub sashing: f64,
    /// Widths of the bands.
    pub bands: &'a [f64],
}

/// A number, or a number with its working.
pub(super) trait Number:
    Clone + Add<Output = Self> + Sub<Output = Self> + Mul<Output = Self> + Div<Output = Self> + Mul<f64, Output = Self>
{
    /// `name` is marked: only what is told is looked up.
    fn named(name: &str, value: f64) -> Self;
}

impl Number for f64 {
    fn named(_: &str, value: f64) -> Self {
        value
    }
}

impl Number for Term {
    fn named(name: &str, value: f64) -> Self {
        term(&spoken(name), value)
    }
}

impl Setting<'_> {
    /// How many blocks there are.
    #[must_use]
    pub fn blocks(&self) -> u32 {
        let between = if self.standing == Standing::OnPoint { (self.columns - 1) * (self.rows - 1) } else { 0 };
        self.columns * self.rows + between
    }

    /// How many kinds of strips are sewn between and round the blocks: fewer are plainer.
    #[must_use]
    pub fn extras(&self) -> usize {
        usize::from(self.frame > 0.0) + usize::from(self.sashing > 0.0) + self.bands.iter().filter(|width| **width > 0.0).count()
    }

    /// A frame's width, all strips together.
    fn whole_frame(&self, base: &Base) -> f64 {
        if self.frame > 0.0 { self.frame + base.inner_frame } else { 0.0 }
    }

    /// Along one side: what one block takes with its frame, and all of it.
    pub(super) fn along<N: Number>(&self, base: &Base, side: Side) -> N {
        let (count, block, name) = match side {
            Side::Across => (self.columns, self.block, [mark!("columns"), mark!("block")]),
            Side::Down => (self.rows, self.block * base.tall, [mark!("rows"), mark!("height of the block")]),
        };
        let mut pitch = N::named(name[1], block);
        if self.frame > 0.0 {
            pitch = pitch + N::named(mark!("frame"), self.whole_frame(base)) * 2.0;
        }
        let count = |less: f64, name: &str| N::named(name, f64::from(count) - less);
        let sash = || N::named(mark!("sash"), self.sashing);
        let mut all = match self.standing {
            Standing::Straight if self.sashing > 0.0 => {
                count(0.0, name[0]) * pitch + count(1.0, mark!("sashes between")) * sash()
            }
            Standing::Straight => count(0.0, name[0]) * pitch,
            Standing::OnPoint if self.sashing > 0.0 => count(0.0, name[0]) * (pitch + sash()) * SQRT_2,
            Standing::OnPoint => count(0.0, name[0]) * pitch * SQRT_2,
        };
        if base.around && self.sashing > 0.0 {
            all = all + N::named(mark!("outer sash"), self.sashing) * 2.0;
        }
        let bands: f64 = self.bands.iter().sum();
        if bands > 0.0 {
            all = all + N::named(mark!("bands"), bands) * 2.0;
        }
        all
    }

    /// Length of all seams, finished, of a top of that size.
    fn seams<N: Number>(&self, base: &Base, size: Vec2) -> N {
        let (width, height, frame) = (self.block, self.block * base.tall, self.whole_frame(base));
        let mut a_block = N::named(mark!("seams in a block"), base.seams * width);
        if self.frame > 0.0 {
            let strips = base.frame_strips as f64 * 2.0 * (width + height) + 8.0 * base.frame_offsets + 4.0 * SQRT_2 * frame;
            a_block = a_block + N::named(mark!("seams of a frame"), strips);
        }
        let inside = a_block * N::named(mark!("blocks"), f64::from(self.blocks()));
        let bands: f64 = self.bands.iter().sum();
        let body = Vec2::new(size.x - 2.0 * bands, size.y - 2.0 * bands);
        // A sash has a seam on either side.
        let sides = if self.sashing > 0.0 { 2.0 } else { 1.0 };
        let between = match self.standing {
            Standing::Straight => sides * (f64::from(self.columns - 1) * body.y + f64::from(self.rows - 1) * body.x),
            // Four sides of a cell for each place of the longer rows: the lattice in a rectangle of so many diagonals.
            Standing::OnPoint => sides * 4.0 * f64::from(self.columns * self.rows) * (width + 2.0 * frame + self.sashing),
        };
        let around = if base.around && self.sashing > 0.0 { 2.0 * (body.x + body.y) } else { 0.0 };
        let mut all = inside + N::named(mark!("seams between blocks"), between + around);
        let rings = self.bands.iter().filter(|width| **width > 0.0).count();
        if rings > 0 {
            all = all + N::named(mark!("bands"), rings as f64) * N::named(mark!("round the body"), 2.0 * (body.x + body.y));
        }
        all
    }

    /// Area of cloth: the top, and an allowance on both sides of every seam and along the edge.
    fn cloth<N: Number>(base: &Base, size: Vec2, seams: f64) -> N {
        let edge = 2.0 * (size.x + size.y);
        let along = N::named(mark!("seams"), seams) * 2.0 + N::named(mark!("edge"), edge);
        N::named(mark!("width"), size.x) * N::named(mark!("length"), size.y)
            + N::named(mark!("allowance"), base.allowance) * along
    }

    /// Hours at the machine, of quilting, and of handling joins.
    fn hours<N: Number>(&self, base: &Base, size: Vec2, seams: f64) -> N {
        let foot = 12.0 * base.measure.inch();
        let machine = N::named(mark!("feet of seams"), seams / foot) * N::named(mark!("minutes a foot"), base.machine_minutes);
        let lines = size.x * size.y / base.gap / foot;
        let quilting = N::named(mark!("feet of quilting"), lines) * N::named(mark!("minutes a foot"), base.quilting_minutes);
        let joins = N::named(mark!("joins"), f64::from(self.blocks() - 1)) * N::named(mark!("minutes a join"), base.join_minutes);
        (machine + quilting + joins) / N::named(mark!("minutes an hour"), 60.0)
    }

    /// Its finished size.
    #[must_use]
    pub fn size(&self, base: &Base) -> Vec2 {
        Vec2::new(self.along(base, Side::Across), self.along(base, Side::Down))
    }

    /// All its figures.
    #[must_use]
    pub fn figures(&self, base: &Base, size: Vec2, wanted: Vec2) -> Figures {
        let seams: f64 = self.seams(base, size);
        Figures {
            miss: f64::max((size.x - wanted.x).abs(), (size.y - wanted.y).abs()),
            cloth: Self::cloth(base, size, seams),
            hours: self.hours(base, size, seams),
        }
    }

    /// The same with their workings: width, length, miss, seams, cloth, hours.
    #[must_use]
    pub fn workings(&self, base: &Base, wanted: Vec2) -> [Working; 6] {
        let working = |rule: FitRule, what: &str, term: Term| Working::new(Rule::Fit(rule), what, term, Rounding::Exact);
        let width = working(FitRule::TopOfSettings, &tr!("width"), self.along(base, Side::Across));
        let length = working(FitRule::TopOfSettings, &tr!("length"), self.along(base, Side::Down));
        let size = Vec2::new(width.value, length.value);
        let off = |what: &str, is: f64, wanted: f64| {
            // The larger goes first, so that the difference is how far off it is.
            let [is, wanted] = [term(what, is), term(&tr!("wanted"), wanted)];
            if is.value() < wanted.value() { wanted - is } else { is - wanted }
        };
        let (across, down) = (off(&tr!("width"), size.x, wanted.x), off(&tr!("length"), size.y, wanted.y));
        let miss = working(FitRule::SettingMiss, &tr!("misses by"), if across.value() > down.value() { across } else { down });
        let seams = working(FitRule::SettingCloth, &tr!("seams"), self.seams(base, size));
        let cloth = working(FitRule::SettingCloth, &tr!("cloth"), Self::cloth(base, size, seams.value));
        let hours = working(FitRule::SettingHours, &tr!("hours"), self.hours(base, size, seams.value));
        [width, length, miss, seams, cloth, hours]
    }
}

/// A side of the top.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Side {
    Across,
    Down,
}

/// What settings come to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figures {
    /// How far width or length is off what is wanted, whichever is more.
    pub miss: f64,
    /// Area of cloth for the top.
    pub cloth: f64,
    /// Hours of sewing, quilting and joining.
    pub hours: f64,
}

/// Length of the seams drawn in a block. Curves along the curve.
pub(super) fn seams_in(block: &Block) -> f64 {
    let length = |seam: &Seam| match seam {
        Seam::Line(points) => points.windows(2).map(|pair| block.to_plane(pair[0]).distance(block.to_plane(pair[1]))).sum(),
        Seam::Arc(arc) => arc_length(block, arc),
    };
    block.seams.iter().map(length).sum()
}

fn arc_length(block: &Block, arc: &Arc) -> f64 {
    let [from, to, centre] = [arc.from, arc.to, arc.centre].map(|point| block.to_plane(point));
    let radius = from.distance(centre);
    if radius <= 0.0 {
        return 0.0;
    }
    let short = 2.0 * libm::asin((from.distance(to) / (2.0 * radius)).min(1.0));
    radius * if arc.long_way { 2.0 * PI - short } else { short }
}
