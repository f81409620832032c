//! Joining: the check of what is written, and the writing of it.
//!
//! In: raw values; or a quilt. Out: how sections are joined, every size checked; or its lines in the file. Whether the batting is too
//! thick to be caught is for the plan to find.

use super::check::Check;
use super::raw::*;
use super::write::length;
use crate::*;
use std::fmt::Write as _;

impl Check<'_> {
    pub(super) fn joining(&mut self, raw: &RawJoining) -> Joining {
        let base = Joining::usual(self.measure);
        let mut size = |typed: &Option<At<Typed>>, what: &str, usual: Length, bounds: (f64, f64)| {
            typed.as_ref().map_or(usual, |typed| self.length(typed, what, bounds))
        };
        let batting_thickness = size(&raw.batting_thickness, "batting-thickness", base.batting_thickness, (0.01, 2.0));
        let back_overlap = size(&raw.back_overlap, "back-overlap", base.back_overlap, (0.0, 1.0));
        let pin_spacing = size(&raw.pin_spacing, "pin-spacing", base.pin_spacing, (0.5, 24.0));
        let mut number = |typed: &Option<At<f64>>, what: &str, usual: f64, bounds: (f64, f64)| {
            typed.as_ref().map_or(usual, |typed| self.number(typed, what, bounds))
        };
        let pace = (0.1, 240.0);
        Joining {
            order: raw.order.map(|order| match order {
                RawJoinOrder::Rows => JoinOrder::Rows,
                RawJoinOrder::Columns => JoinOrder::Columns,
                RawJoinOrder::Halves => JoinOrder::Halves,
                RawJoinOrder::Best => JoinOrder::Best,
            }),
            catch_batting: raw.catch_batting,
            batting_thickness,
            batting_weight: number(&raw.batting_weight, "batting-weight", base.batting_weight, (1.0, 2000.0)),
            cloth_weight: number(&raw.cloth_weight, "cloth-weight", base.cloth_weight, (1.0, 2000.0)),
            back_overlap,
            pin_spacing,
            machine_minutes_a_foot: number(
                &raw.machine_minutes_a_foot,
                "machine-minutes-a-foot",
                base.machine_minutes_a_foot,
                pace,
            ),
            hand_minutes_a_foot: raw
                .hand_minutes_a_foot
                .is_some()
                .then(|| number(&raw.hand_minutes_a_foot, "hand-minutes-a-foot", 1.0, pace)),
            minutes_a_join: number(&raw.minutes_a_join, "minutes-a-join", base.minutes_a_join, (0.0, 240.0)),
        }
    }
}

/// The table of joining, where something is not as it would be anyway.
pub(super) fn write(out: &mut String, quilt: &Quilt) {
    let (joining, usual) = (&quilt.joining, Joining::usual(quilt.measure));
    if *joining == usual {
        return;
    }
    out.push_str("\n[join]\n");
    if let Some(order) = joining.order {
        let _ = writeln!(out, "order = \"{}\"", order.word());
    }
    if let Some(caught) = joining.catch_batting {
        let _ = writeln!(out, "catch-batting = {caught}");
    }
    for (key, value, usual) in [
        ("batting-thickness", joining.batting_thickness, usual.batting_thickness),
        ("back-overlap", joining.back_overlap, usual.back_overlap),
        ("pin-spacing", joining.pin_spacing, usual.pin_spacing),
    ] {
        if value != usual {
            let _ = writeln!(out, "{key} = {}", length(quilt, value));
        }
    }
    for (key, value, usual) in [
        ("batting-weight", Some(joining.batting_weight), Some(usual.batting_weight)),
        ("cloth-weight", Some(joining.cloth_weight), Some(usual.cloth_weight)),
        ("machine-minutes-a-foot", Some(joining.machine_minutes_a_foot), Some(usual.machine_minutes_a_foot)),
        ("hand-minutes-a-foot", joining.hand_minutes_a_foot, None),
        ("minutes-a-join", Some(joining.minutes_a_join), Some(usual.minutes_a_join)),
    ] {
        if let Some(value) = value.filter(|value| Some(*value) != usual) {
            let _ = writeln!(out, "{key} = {value}");
        }
    }
}
