//! What goes into the work bag, week by week.
//!
//! In: the sections with their hours. Out: bags, each with as many sections as the week's hours allow, in the order of the sections; a
//! section that takes longer than a week fills a bag of its own.

use super::{Pattern, SectionWork, hours};
use crate::set::Top;
use seamfall_model::Quilt;
use std::sync::Arc;

/// The work bag of one week.
#[derive(Debug, Clone, PartialEq)]
pub struct Bag {
    /// Sections, by number.
    pub sections: Vec<usize>,
    /// Needlefuls to cut beforehand, or to have thread for.
    pub needlefuls: usize,
    /// Thread for them.
    pub thread: f64,
    /// Hours of quilting.
    pub hours: f64,
}

pub(super) fn pack(quilt: &Quilt, top: &Top, patterns: &[Arc<Pattern>], works: &[SectionWork]) -> Vec<Bag> {
    let mut bags: Vec<Bag> = Vec::new();
    for (number, work) in works.iter().enumerate().take(top.sections.len()) {
        let pattern = &patterns[work.pattern];
        if pattern.needlefuls.is_empty() {
            continue;
        }
        let more = hours(quilt, "hours", pattern.stitched).value;
        let full = bags.last().is_none_or(|bag| bag.hours + more > quilt.lap.hours_a_week + 1e-9);
        if full {
            bags.push(Bag { sections: Vec::new(), needlefuls: 0, thread: 0.0, hours: 0.0 });
        }
        if let Some(bag) = bags.last_mut() {
            bag.sections.push(number);
            bag.needlefuls += pattern.needlefuls.len();
            bag.thread += pattern.thread;
            bag.hours += more;
        }
    }
    bags
}
