//! A layout as it is followed at the table: what the ruler is set to, cut after cut, and what is left over.
//!
//! In: a layout or a cut sheet, and its kinds. Out: numbered cuts, equal ones told once with their count; the settings of the ruler; and
//! the rectangles that remain. Nothing is searched here.

use crate::job::Kind;
use crate::layout::{Content, Panel, Strip};
use crate::sheets::{CutSheet, SheetJob, turned_about};
use std::collections::BTreeMap;

/// Equal cuts, one after another, at one setting of the ruler.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cut {
    /// `2` for a strip off the cloth, `2.1` for what is cut from it, `2.1.3` for what is cut from that.
    pub number: String,
    /// What the ruler is set to, in steps.
    pub ruler: u32,
    /// How often.
    pub times: u32,
    /// What comes off each time.
    pub gives: Gives,
}

/// What a cut gives.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Gives {
    /// A piece.
    Piece {
        /// Its place in the list of kinds.
        kind: usize,
        /// Whether it lies a quarter turn from how it is listed.
        turned: bool,
        /// Its sides across and along, where the cut-off part is larger and is trimmed to them.
        trim: Option<[u32; 2]>,
    },
    /// A part that is turned and cut up further.
    Part(Vec<Cut>),
}

/// Rectangles left over.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Offcut {
    /// Across the cloth.
    pub width: u32,
    /// Along the cloth.
    pub height: u32,
    /// How many.
    pub count: u32,
}

/// The cuts of strips, in the order of cutting.
#[must_use]
pub fn cuts(strips: &[Strip], kinds: &[Kind]) -> Vec<Cut> {
    strips
        .iter()
        .enumerate()
        .map(|(i, strip)| {
            let number = (i + 1).to_string();
            let gives = gives(&strip.panel, kinds, &number);
            Cut { number, ruler: strip.panel.height, times: strip.times, gives }
        })
        .collect()
}

fn gives(panel: &Panel, kinds: &[Kind], number: &str) -> Gives {
    match &panel.content {
        Content::Piece { kind, turned } => {
            let sides = sides(&kinds[*kind], *turned);
            let trim = (sides != [panel.width, panel.height]).then_some(sides);
            Gives::Piece { kind: *kind, turned: *turned, trim }
        }
        Content::Across(panels) => Gives::Part(of_row(panels, kinds, number, |panel| panel.width)),
        Content::Along(panels) => Gives::Part(of_row(panels, kinds, number, |panel| panel.height)),
    }
}

/// Equal neighbours are one cut, done several times.
fn of_row(panels: &[Panel], kinds: &[Kind], number: &str, ruler: impl Fn(&Panel) -> u32) -> Vec<Cut> {
    panels
        .chunk_by(|a, b| a == b)
        .enumerate()
        .map(|(i, equal)| {
            let number = format!("{number}.{}", i + 1);
            let times = u32::try_from(equal.len()).expect("a row has no more panels than the cloth has steps");
            Cut { ruler: ruler(&equal[0]), times, gives: gives(&equal[0], kinds, &number), number }
        })
        .collect()
}

/// Width and height of a piece as it lies.
fn sides(kind: &Kind, turned: bool) -> [u32; 2] {
    if turned { [kind.height, kind.width] } else { [kind.width, kind.height] }
}

/// What the ruler is set to, the widest first, each once.
#[must_use]
pub fn rulers(cuts: &[Cut]) -> Vec<u32> {
    let mut all = Vec::new();
    collect(cuts, &mut all);
    all.sort_unstable_by(|a, b| b.cmp(a));
    all.dedup();
    all
}

fn collect(cuts: &[Cut], all: &mut Vec<u32>) {
    for cut in cuts {
        all.push(cut.ruler);
        match &cut.gives {
            Gives::Part(inside) => collect(inside, all),
            Gives::Piece { trim, .. } => all.extend(trim.iter().flatten()),
        }
    }
}

/// What is left of strips cut from cloth `width` wide, no side shorter than `least`, the largest first.
///
/// Where a piece is trimmed on two sides, what is left of it counts as a strip beside it, as high as the part, and one above it.
#[must_use]
pub fn offcuts(strips: &[Strip], kinds: &[Kind], width: u32, kerf: u32, least: u32) -> Vec<Offcut> {
    let mut left = Left { kinds, kerf, least: least.max(1), found: BTreeMap::new() };
    for strip in strips {
        left.within([width, strip.panel.height], &strip.panel, strip.times);
    }
    left.finish()
}

/// The strips of a sheet, bottom up, and the kinds as they lie while it is cut: a quarter turned where the sheet is.
#[must_use]
pub fn of_sheet(job: &SheetJob, sheet: &CutSheet) -> (Vec<Strip>, Vec<Kind>) {
    let strips = sheet.strips.iter().map(|panel| Strip { times: 1, panel: panel.clone() }).collect();
    let kinds = job.kinds().iter();
    (strips, if sheet.turned { kinds.map(turned_about).collect() } else { kinds.cloned().collect() })
}

/// What is left of all sheets, as they lie before they are turned.
#[must_use]
pub fn sheet_offcuts(job: &SheetJob, sheets: &[CutSheet], least: u32) -> Vec<Offcut> {
    let mut left = Left { kinds: &[], kerf: job.kerf(), least: least.max(1), found: BTreeMap::new() };
    for sheet in sheets {
        let size = &job.sheets()[sheet.sheet];
        let [width, height] = if sheet.turned { [size.height, size.width] } else { [size.width, size.height] };
        let (strips, kinds) = of_sheet(job, sheet);
        let used: u32 = strips.iter().map(|strip| strip.panel.height + job.kerf()).sum();
        let mut all = offcuts(&strips, &kinds, width, job.kerf(), least);
        all.push(Offcut { width, height: height.saturating_sub(used), count: 1 });
        for Offcut { width, height, count } in all {
            let [width, height] = if sheet.turned { [height, width] } else { [width, height] };
            left.add(width, height, count * sheet.times);
        }
    }
    left.finish()
}

struct Left<'a> {
    kinds: &'a [Kind],
    kerf: u32,
    least: u32,
    found: BTreeMap<(u32, u32), u32>,
}

impl Left<'_> {
    fn add(&mut self, width: u32, height: u32, times: u32) {
        if width.min(height) >= self.least {
            *self.found.entry((width, height)).or_default() += times;
        }
    }

    /// What is left of an area that holds a panel in its corner.
    fn within(&mut self, [width, height]: [u32; 2], panel: &Panel, times: u32) {
        self.add(width.saturating_sub(panel.width + self.kerf), height, times);
        self.add(panel.width, height.saturating_sub(panel.height + self.kerf), times);
        match &panel.content {
            Content::Piece { kind, turned } => {
                let [w, h] = sides(&self.kinds[*kind], *turned);
                self.add(panel.width.saturating_sub(w + self.kerf), panel.height, times);
                self.add(w, panel.height.saturating_sub(h + self.kerf), times);
            }
            Content::Across(panels) => {
                let used: u32 = panels.iter().map(|part| part.width + self.kerf).sum();
                panels.iter().for_each(|part| self.within([part.width, panel.height], part, times));
                self.add(panel.width.saturating_sub(used), panel.height, times);
            }
            Content::Along(panels) => {
                let used: u32 = panels.iter().map(|part| part.height + self.kerf).sum();
                panels.iter().for_each(|part| self.within([panel.width, part.height], part, times));
                self.add(panel.width, panel.height.saturating_sub(used), times);
            }
        }
    }

    fn finish(self) -> Vec<Offcut> {
        let mut all: Vec<Offcut> =
            self.found.into_iter().map(|((width, height), count)| Offcut { width, height, count }).collect();
        let area = |offcut: &Offcut| u64::from(offcut.width) * u64::from(offcut.height);
        all.sort_by(|a, b| area(b).cmp(&area(a)).then(b.cmp(a)));
        all
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::{Job, Stages};
    use crate::{Budget, cut};
    use proptest::prelude::*;

    fn kind(name: &str, width: u32, height: u32, count: u32) -> Kind {
        Kind { name: name.to_owned(), width, height, count, turn: true }
    }

    /// Cloth 10 wide: a strip 4 high with two squares of 4 leaves 2 x 4; of a piece 3 x 2 in a part 3 x 4 the upper half is left.
    #[test]
    fn cuts_are_numbered_and_what_is_left_is_told() {
        let kinds = [kind("square", 4, 4, 2), kind("bar", 3, 2, 1)];
        let piece = |kind, width| Panel { width, height: 4, content: Content::Piece { kind, turned: false } };
        let row = |panels: Vec<Panel>| Panel {
            width: panels.iter().map(|panel| panel.width).sum(),
            height: 4,
            content: Content::Across(panels),
        };
        let strips = [
            Strip { times: 3, panel: row(vec![piece(0, 4), piece(0, 4)]) },
            Strip { times: 1, panel: row(vec![piece(0, 4), piece(1, 3)]) },
        ];
        let cuts = cuts(&strips, &kinds);
        assert_eq!(
            cuts.iter().map(|cut| (cut.number.as_str(), cut.ruler, cut.times)).collect::<Vec<_>>(),
            [("1", 4, 3), ("2", 4, 1)]
        );
        let Gives::Part(inside) = &cuts[0].gives else { panic!("a strip is cut up") };
        assert_eq!((inside.len(), inside[0].number.as_str(), inside[0].times), (1, "1.1", 2));
        let Gives::Part(inside) = &cuts[1].gives else { panic!("a strip is cut up") };
        assert_eq!(inside[1].gives, Gives::Piece { kind: 1, turned: false, trim: Some([3, 2]) });
        assert_eq!(rulers(&cuts), [4, 3, 2]);
        let left = offcuts(&strips, &kinds, 10, 0, 1);
        let told: Vec<_> = left.iter().map(|offcut| (offcut.width, offcut.height, offcut.count)).collect();
        assert_eq!(told, [(3, 4, 1), (2, 4, 3), (3, 2, 1)]);
        assert_eq!(offcuts(&strips, &kinds, 10, 0, 3).len(), 1);
    }

    /// Copies of each kind that come out of the cuts.
    fn count(cuts: &[Cut], times: u32, counted: &mut [u32]) {
        for cut in cuts {
            match &cut.gives {
                Gives::Piece { kind, .. } => counted[*kind] += times * cut.times,
                Gives::Part(inside) => count(inside, times * cut.times, counted),
            }
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn pieces_and_offcuts_are_the_whole_cloth(sizes in prop::collection::vec((1_u32..30, 1_u32..30, 1_u32..20), 1..6)) {
            let kinds: Vec<Kind> = sizes.iter().enumerate().map(|(i, &(w, h, count))| kind(&i.to_string(), w, h, count)).collect();
            let job = Job::new(40, 0, Stages::FIVE, kinds).expect("all fit");
            let layout = cut(&job, Budget(20_000)).layout;
            let pieces: u64 = job.kinds().iter().map(|kind| u64::from(kind.width) * u64::from(kind.height) * u64::from(kind.count)).sum();
            let left = offcuts(&layout.strips, job.kinds(), 40, 0, 1);
            let left: u64 = left.iter().map(|left| u64::from(left.width) * u64::from(left.height) * u64::from(left.count)).sum();
            prop_assert_eq!(pieces + left, layout.length * 40);
            let mut counted = vec![0; job.kinds().len()];
            count(&cuts(&layout.strips, job.kinds()), 1, &mut counted);
            prop_assert_eq!(counted, job.kinds().iter().map(|kind| kind.count).collect::<Vec<_>>());
        }
    }
}
