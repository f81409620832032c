//! The bed and its corners: the check of what is written, and the writing of it.
//!
//! In: raw values; or a quilt. Out: a bed that can be covered, every size checked; or its lines in the file. Whether the quilt covers it is
//! for the plan to find.

use super::check::{Check, shown};
use super::problems::suggestion;
use super::raw::*;
use super::write::length;
use crate::*;
use std::fmt::Write as _;
use std::ops::Range;
use tr::tr;

impl Check<'_> {
    pub(super) fn bed(&mut self, raw: &At<RawBed>) -> Bed {
        let standard = raw.standard.as_ref().and_then(|name| self.standard(name));
        let size = standard.map(|bed| bed.mattress(self.measure));
        let mut side = |typed: &Option<At<Typed>>, what: &str, usual: Option<Length>| match typed {
            Some(typed) => Some(self.in_bounds(typed, what, limits::MATTRESS_IN, &tr!("a mattress"))),
            None => usual,
        };
        let width = side(&raw.width, "width", size.map(|[width, _]| width));
        let length = side(&raw.length, "length", size.map(|[_, length]| length));
        if (width.is_none() || length.is_none()) && raw.standard.is_none() {
            let help = tr!("add `standard = \"us queen\"` or another, or `width` and `length` of the mattress");
            self.problems.add(raw.span(), tr!("the bed has no size"), help);
        }
        let stand_in = Length::new(limits::MATTRESS_IN.0 * self.measure.inch());
        let usual = Bed::usual(self.measure, width.unwrap_or(stand_in), length.unwrap_or(stand_in));
        let height = match &raw.height {
            Some(typed) => self.in_bounds(typed, "height", limits::BED_HEIGHT_IN, &tr!("a bed")),
            None => usual.height,
        };
        let mut drop = |typed: &Option<At<Typed>>, what: &str, usual: Length| match typed {
            Some(typed) => self.drop(typed, what, height),
            // What is usual is too much for a low bed.
            None => Length::new(usual.value().min(height.value())),
        };
        let sides = drop(&raw.sides, "sides", usual.sides);
        let foot = drop(&raw.foot, "foot", usual.foot);
        Bed {
            standard,
            height,
            sides,
            foot,
            tuck: raw.tuck.as_ref().map_or(usual.tuck, |typed| self.length(typed, "tuck", (0.0, limits::TUCK_IN))),
            posts: raw.posts,
            take_up: raw.take_up.as_ref().map_or(usual.take_up, |pair| self.per_cent(pair, "take-up")),
            shrinkage: raw.shrinkage.as_ref().map_or(usual.shrinkage, |pair| self.per_cent(pair, "shrinkage")),
            ..usual
        }
    }

    pub(super) fn standard(&mut self, name: &At<String>) -> Option<&'static StandardBed> {
        let bed = StandardBed::named(name);
        if bed.is_none() {
            let help = suggestion(name, BEDS.iter().map(|bed| bed.key));
            let help = help.unwrap_or_else(|| tr!("`seamfall fit beds` lists them; or write `width` and `length`"));
            self.problems.add(
                name.span(),
                tr!("there is no standard bed `{written}`", written = super::check::shortened(name)),
                help,
            );
        }
        bed
    }

    /// A length of something that has a least and a most, in inches, with the nearest that is taken.
    fn in_bounds(&mut self, typed: &At<Typed>, what: &str, (least, most): (f64, f64), of: &str) -> Length {
        let size = self.length(typed, what, (0.0, f64::INFINITY));
        let inch = self.measure.inch();
        let is = |than: &str| {
            tr!("`{what}` is {size}, {than} than {of} that can be planned", what, size = shown(size, self.measure), than, of)
        };
        let bound = |bound: f64| shown(Length::new(bound * inch), self.measure);
        // A billionth is forgiven, as of every length.
        if size.value() < least * inch * (1.0 - 1e-9) {
            let (reason, help) = (is(&tr!("less")), tr!("make it {least} or more", least = bound(least)));
            self.problems.add(typed.span(), reason, help);
        } else if size.value() > most * inch * (1.0 + 1e-9) {
            let (reason, help) = (is(&tr!("more")), tr!("make it {most} or less", most = bound(most)));
            self.problems.add(typed.span(), reason, help);
        }
        size
    }

    fn drop(&mut self, typed: &At<Typed>, what: &str, height: Length) -> Length {
        let drop = self.length(typed, what, (0.0, f64::INFINITY));
        if drop.value() > height.value() * (1.0 + 1e-9) {
            let (is, deepest) = (shown(drop, self.measure), shown(height, self.measure));
            let reason = tr!("`{what}` is {is}, a drop below the floor: the mattress is {deepest} high", what, is, deepest);
            self.problems.add(typed.span(), reason, tr!("make it {deepest} or less", deepest));
        }
        drop
    }

    fn per_cent(&mut self, pair: &At<Vec<f64>>, what: &str) -> PerCent {
        let most_taken = limits::SHRINKAGE;
        match pair.as_slice() {
            &[least, most] if 0.0 <= least && least <= most && most <= most_taken => PerCent { least, most },
            _ => {
                let reason =
                    tr!("`{what}` is not two shares in per cent, the least first, from 0 to {most_taken}", what, most_taken);
                self.problems.add(pair.span(), reason, tr!("write it like `{what} = [2, 5]`", what));
                PerCent::NONE
            }
        }
    }

    pub(super) fn foot_corners(&mut self, raw: &RawFootCorners, bed: Option<&Bed>) -> CornerShape {
        let shape = match *raw.shape {
            RawCornerShape::Square => CornerShape::Square,
            RawCornerShape::SetBack => CornerShape::SetBack,
            RawCornerShape::Level => CornerShape::Level,
            RawCornerShape::Straight => CornerShape::Straight,
            RawCornerShape::Notch => CornerShape::Notch,
        };
        if shape.needs_the_bed() && bed.is_none() {
            let reason =
                tr!("a corner that is `{word}` is drawn from where the mattress ends, and there is no bed", word = shape.word());
            self.needs_a_bed(raw.shape.span(), reason);
        }
        shape
    }

    fn needs_a_bed(&mut self, span: Range<usize>, reason: String) {
        self.problems.add(span, reason, tr!("add a `[bed]`, or take `square` or `set-back`"));
    }
}

/// Bed and corners; what is as it would be anyway is not written.
pub(super) fn write(out: &mut String, quilt: &Quilt) {
    if let Some(bed) = &quilt.bed {
        let size = bed.standard.map(|standard| standard.mattress(quilt.measure));
        let usual = Bed::usual(quilt.measure, bed.width, bed.length);
        let low = |drop: Length| Length::new(drop.value().min(bed.height.value()));
        out.push_str("\n[bed]\n");
        if let Some(standard) = bed.standard {
            let _ = writeln!(out, "standard = \"{}\"", standard.key);
        }
        let sizes = [
            ("width", bed.width, size.map(|[width, _]| width)),
            ("length", bed.length, size.map(|[_, length]| length)),
            ("height", bed.height, Some(usual.height)),
            ("sides", bed.sides, Some(low(usual.sides))),
            ("foot", bed.foot, Some(low(usual.foot))),
            ("tuck", bed.tuck, Some(usual.tuck)),
        ];
        for (key, value, usual) in sizes {
            if Some(value) != usual {
                let _ = writeln!(out, "{key} = {}", length(quilt, value));
            }
        }
        if bed.posts {
            out.push_str("posts = true\n");
        }
        for (key, share, usual) in [("take-up", bed.take_up, usual.take_up), ("shrinkage", bed.shrinkage, usual.shrinkage)] {
            if share != usual {
                let _ = writeln!(out, "{key} = [{}, {}]", share.least, share.most);
            }
        }
    }
    if quilt.corners != CornerShape::Square {
        let _ = writeln!(out, "\n[corners]\nshape = \"{}\"", quilt.corners.word());
    }
}
