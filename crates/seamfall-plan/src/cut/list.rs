//! The cut list while it is gathered: equal pieces of one cloth become one entry, whatever they are for.

use super::{CutPiece, EdgeUse, Material, TopPart, Use, Way, fussy, rules};
use crate::set::Side;
use seamfall_geom::{Edge, Loop, TOLERANCE, Turn};
use seamfall_model::{BlockId, FrameId, Grain, Length, Quilt, Working};
use std::collections::{BTreeMap, BTreeSet};
use tr::tr;

/// What is cut for one kind of piece.
#[derive(Debug, Clone)]
pub(super) struct Size {
    pub way: Way,
    pub width: Working,
    pub length: Working,
    pub grain: Grain,
    /// The motif it shows, by its number in the quilt.
    pub motif: Option<usize>,
}

impl Size {
    /// A square, cut up or not.
    pub fn square(way: Way, side: Working) -> Self {
        Self { way, length: side.clone(), width: side, grain: Grain::Across, motif: None }
    }
}

/// What a piece is for, before it is put into words.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum For {
    Template { block: BlockId, template: usize },
    Frame { frame: FrameId, strip: usize },
    FrameSquare { frame: FrameId },
    SideTriangle,
    CornerTriangle,
    Sash,
    Cornerstone,
    Filler,
    Band { band: usize },
    BandSquare { band: usize },
    Edge(EdgeUse),
    Backing,
    Batting,
    Sample,
}

/// Pieces counted so far.
pub(super) struct List<'a> {
    quilt: &'a Quilt,
    entries: BTreeMap<Key, Entry>,
}

struct Entry {
    size: Size,
    /// Squares or strips for units; those of other pieces are counted in the end.
    cut: usize,
    uses: BTreeMap<For, (usize, BTreeSet<Side>)>,
}

/// What makes two pieces one entry: cloth, way, size, and the outline of a template.
///
/// Sizes are compared in steps of ten tolerances. Two that differ by what rounding leaves behind fall on either side of a step
/// about once in a million; there are then two lines in the list instead of one, and both are right.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct Key {
    of: Material,
    way: u8,
    motif: Option<usize>,
    grain: Grain,
    size: [i64; 2],
    outline: Vec<[i64; 5]>,
}

impl<'a> List<'a> {
    pub fn new(quilt: &'a Quilt) -> Self {
        Self { quilt, entries: BTreeMap::new() }
    }

    /// Counts `count` pieces more.
    pub fn add(&mut self, of: Material, size: &Size, what: For, side: Option<Side>, count: usize) {
        let (counted, sides) = self.entry(of, size).uses.entry(what).or_default();
        *counted += count;
        sides.extend(side);
    }

    /// Counts `cut` squares or strips more.
    pub fn cut(&mut self, of: Material, size: &Size, cut: usize) {
        self.entry(of, size).cut += cut;
    }

    fn entry(&mut self, of: Material, size: &Size) -> &mut Entry {
        let key = Key {
            of,
            way: rank(&size.way),
            motif: size.motif,
            grain: size.grain,
            size: [steps(size.width.exact), steps(size.length.exact)],
            outline: if let Way::Template { outline, .. } = &size.way { outline_key(outline) } else { Vec::new() },
        };
        self.entries.entry(key).or_insert_with(|| Entry { size: size.clone(), cut: 0, uses: BTreeMap::new() })
    }

    /// All pieces, by cloth, then the largest first, named in that order.
    pub fn finish(self) -> Vec<CutPiece> {
        let quilt = self.quilt;
        // Entries of equal size stay in the order of their keys.
        let mut entries: Vec<(Key, Entry)> = self.entries.into_iter().collect();
        entries.sort_by(|(a, x), (b, y)| {
            let size = |entry: &Entry| [entry.size.width.value, entry.size.length.value];
            let [(aw, al), (bw, bl)] = [size(x), size(y)].map(|[w, l]| (f64::min(w, l), f64::max(w, l)));
            a.of.cmp(&b.of).then(bw.total_cmp(&aw)).then(bl.total_cmp(&al))
        });
        entries
            .into_iter()
            .enumerate()
            .map(|(i, (key, entry))| {
                let needed = entry.uses.values().map(|(count, _)| count).sum();
                let cut = match entry.size.way {
                    Way::HalfSquare => rules::squares(needed, 2),
                    Way::QuarterSquare => rules::squares(needed, 4),
                    Way::Unit(_) => entry.cut,
                    _ => needed,
                };
                let joined = joined(quilt, key.of, &entry.size, cut);
                let motif = entry.size.motif.zip(key.of.cloth()).and_then(|(motif, cloth)| {
                    let sides = [entry.size.width.value, entry.size.length.value];
                    fussy::cut(quilt, motif, sides, cut, quilt.cloths[cloth.0].across())
                });
                CutPiece {
                    name: format!("c{}", i + 1),
                    of: key.of,
                    grain: entry.size.grain,
                    joined,
                    motif,
                    needed,
                    cut,
                    way: entry.size.way,
                    width: entry.size.width,
                    length: entry.size.length,
                    uses: entry.uses.into_iter().map(|(what, (count, sides))| words(quilt, what, &sides, count)).collect(),
                }
            })
            .collect()
    }
}

/// Strips that a piece longer than the cloth is wide is joined from.
fn joined(quilt: &Quilt, of: Material, size: &Size, cut: usize) -> Option<Working> {
    let (Way::Joined { lost }, Material::Cloth(cloth)) = (&size.way, of) else { return None };
    let long = Length::new(f64::max(size.width.value, size.length.value));
    let usable = quilt.cloths[cloth.0].across();
    (usable > *lost).then(|| rules::joined_strips(cut, long, usable, *lost))
}

fn rank(way: &Way) -> u8 {
    match way {
        Way::Rectangle => 0,
        Way::HalfSquare => 1,
        Way::QuarterSquare => 2,
        Way::Joined { .. } => 3,
        Way::Mitred => 4,
        Way::Template { reversed: false, .. } => 5,
        Way::Template { reversed: true, .. } => 6,
        Way::Unit(way) => 7 + *way as u8,
    }
}

fn steps(length: f64) -> i64 {
    (length / (10.0 * TOLERANCE)).round() as i64
}

/// The edges of an outline from its least corner on, so that it does not matter where the outline begins.
fn outline_key(outline: &Loop) -> Vec<[i64; 5]> {
    let mut edges: Vec<[i64; 5]> = outline
        .edges()
        .iter()
        .map(|edge| {
            let from = edge.from();
            let (centre, turn) = match edge {
                Edge::Line { .. } => (from, 0),
                Edge::Arc { centre, turn: Turn::Left, .. } => (*centre, 1),
                Edge::Arc { centre, turn: Turn::Right, .. } => (*centre, 2),
            };
            [steps(from.x), steps(from.y), steps(centre.x), steps(centre.y), turn]
        })
        .collect();
    let least = (0..edges.len()).min_by_key(|&i| edges[i]).unwrap_or(0);
    edges.rotate_left(least);
    edges
}

fn words(quilt: &Quilt, what: For, sides: &BTreeSet<Side>, count: usize) -> Use {
    let frame = |frame: FrameId| tr!("frame {frame}", frame = quilt.frames[frame.0].key);
    let part = match what {
        For::Template { .. } | For::Edge(_) | For::Backing | For::Batting | For::Sample => None,
        For::Frame { .. } | For::FrameSquare { .. } => Some(TopPart::Frame),
        For::SideTriangle => Some(TopPart::SideTriangle),
        For::CornerTriangle => Some(TopPart::CornerTriangle),
        For::Sash => Some(TopPart::Sash),
        For::Cornerstone => Some(TopPart::Cornerstone),
        For::Filler => Some(TopPart::Filler),
        For::Band { band } | For::BandSquare { band } => Some(TopPart::Band(band)),
    };
    let what = match what {
        For::Template { block, template } => return Use::Template { block, template, count },
        For::Frame { frame: id, strip } if quilt.frames[id.0].strips.len() > 1 => {
            tr!("{frame}, strip {strip}{sides}", frame = frame(id), strip = strip + 1, sides = sides_in_words(sides))
        }
        For::Frame { frame: id, .. } => format!("{}{}", frame(id), sides_in_words(sides)),
        For::FrameSquare { frame: id } => tr!("{frame}, corner squares", frame = frame(id)),
        For::SideTriangle => tr!("side triangles"),
        For::CornerTriangle => tr!("corner triangles"),
        For::Sash => tr!("sashing"),
        For::Cornerstone => tr!("cornerstones"),
        For::Filler => tr!("fillers"),
        For::Band { band } => tr!("band {band}{sides}", band = band + 1, sides = sides_in_words(sides)),
        For::BandSquare { band } => tr!("band {band}, corner squares", band = band + 1),
        For::Edge(what) => what.words(),
        For::Backing => tr!("backing of the sections"),
        For::Batting => tr!("batting of the sections"),
        For::Sample => tr!("practice pieces"),
    };
    match part {
        Some(part) => Use::Top { part, what, count },
        None => Use::Besides { what, count },
    }
}

impl Use {
    /// What it is called, where it is the back or the batting of the sections.
    #[must_use]
    pub fn layer(&self) -> Option<&str> {
        let layers = [tr!("backing of the sections"), tr!("batting of the sections")];
        match self {
            Self::Besides { what, .. } if layers.contains(what) => Some(what),
            _ => None,
        }
    }
}

/// `, left and right`; nothing for all four.
fn sides_in_words(sides: &BTreeSet<Side>) -> String {
    if sides.iter().eq(&[Side::Right, Side::Left]) {
        return tr!(", left and right");
    }
    let said: Vec<String> = sides.iter().map(|side| side.said()).collect();
    match said.split_last() {
        Some((_, most)) if most.len() == 3 => String::new(),
        Some((one, [])) => format!(", {one}"),
        Some((last, most)) => tr!(", {most} and {last}", most = most.join(", "), last),
        None => String::new(),
    }
}
