//! Templates laid on the mats of a cutting machine, cloth by cloth.
//!
//! In: a quilt, its plan, the size of a mat and the least gap between two pieces. Out: for every cloth its pieces with their counts, the mats
//! to cut, equal ones once with how often, and the pieces that fit on no mat. Counted are the pieces that the cut list has for templates; frames,
//! sashing, bands and binding are strips, which a ruler cuts faster.
//!
//! How: the template with the most cloth first, as many of it as one mat holds, then the others into what is left, each question
//! answered by the nesting engine; the mat is repeated as often as all its counts allow. Nothing is proven about the number of mats but that the
//! area alone asks for [`ClothMats::least`]. A print keeps its direction up the mat, as the cut list has it.

use crate::Plan;
use crate::cut::{Use, Way};
use crate::draft::Template;
use seamfall_cutting::nest::{self, Budget, Cloth, NestError, Turns};
use seamfall_geom::{Loop, Pose, Vec2};
use seamfall_model::{BlockId, ClothId, Print, Quilt};
use std::collections::BTreeMap;
use tr::tr;

/// What the machine cuts on, in the document's unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mat {
    /// Across the mat; x in its coordinates.
    pub width: f64,
    /// Along it, as the grain runs; y in its coordinates.
    pub length: f64,
    /// Least distance between two pieces.
    pub gap: f64,
    /// Whether the cloth lies on its face: everything is mirrored.
    pub face_down: bool,
}

impl Mat {
    /// Whether pieces can be laid on it at all.
    ///
    /// # Errors
    /// What is wrong with its size or its gap, and what they may be.
    pub fn check(&self, quilt: &Quilt) -> Result<(), String> {
        let inch = quilt.measure.inch();
        let fits = |side: f64| (inch..=200.0 * inch).contains(&side);
        if fits(self.width) && fits(self.length) && (0.0..=inch).contains(&self.gap) {
            return Ok(());
        }
        let unit = quilt.measure.sign();
        let most = seamfall_model::decimal(200.0 * inch, 0);
        Err(tr!(
            "a mat of {width} x {length} {unit} with {gap} {unit} between pieces is not laid; it may be from 1 in to {most} {unit} in a side, with up to 1 in between pieces",
            width = seamfall_model::decimal(self.width, 2),
            length = seamfall_model::decimal(self.length, 2),
            unit,
            gap = seamfall_model::decimal(self.gap, 3),
            most
        ))
    }
}

/// All mats of one cloth.
#[derive(Debug, Clone, PartialEq)]
pub struct ClothMats {
    /// The cloth.
    pub cloth: ClothId,
    /// What is cut from it, in the order of the blocks.
    pub pieces: Vec<MatPiece>,
    /// The mats, in the order of cutting.
    pub mats: Vec<Laid>,
}

/// Pieces of one template.
#[derive(Debug, Clone, PartialEq)]
pub struct MatPiece {
    /// Its block.
    pub block: BlockId,
    /// Its number in the block's draft.
    pub template: usize,
    /// Whether it is the template's mirror image, for blocks that are mirrored.
    pub reversed: bool,
    /// How many are cut.
    pub count: usize,
    /// Why none is: it fits on no mat.
    pub left_out: Option<String>,
}

/// A mat, and how often it is cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Laid {
    /// How many mats are laid so.
    pub times: usize,
    /// The number of the piece, and from its template's drawing to the mat with its lower left corner at the origin.
    pub places: Vec<(usize, Pose)>,
}

impl ClothMats {
    /// How many mats are cut in all.
    #[must_use]
    pub fn count(&self) -> usize {
        self.mats.iter().map(|mat| mat.times).sum()
    }

    /// The area of all pieces asks for at least so many mats.
    #[must_use]
    pub fn least(&self, plan: &Plan, mat: &Mat) -> usize {
        let fits = self.pieces.iter().filter(|piece| piece.left_out.is_none());
        let area: f64 = fits.map(|piece| outline(piece.of(plan)).area() * as_length(piece.count)).sum();
        let mats = (area / (mat.width * mat.length) - 1e-9).ceil().max(0.0);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "mats are few, and not negative")]
        let mats = mats as usize;
        mats
    }
}

impl Laid {
    /// How many of each piece lie on it.
    #[must_use]
    pub fn counts<'a>(&self, cloth: &'a ClothMats) -> Vec<(&'a MatPiece, usize)> {
        let count = |kind: usize| self.places.iter().filter(|place| place.0 == kind).count();
        cloth.pieces.iter().enumerate().map(|(kind, piece)| (piece, count(kind))).filter(|(_, count)| *count > 0).collect()
    }
}

impl MatPiece {
    /// Its template.
    #[must_use]
    pub fn of<'a>(&self, plan: &'a Plan) -> &'a Template {
        &plan.drafts[self.block.0].templates[self.template]
    }

    /// `Churn dash A`, `Churn dash A, mirrored`.
    #[must_use]
    pub fn name(&self, quilt: &Quilt, plan: &Plan) -> String {
        let name = format!("{} {}", quilt.blocks[self.block.0].name, self.of(plan).letter);
        if self.reversed { tr!("{name}, mirrored", name) } else { name }
    }

    /// From the template's drawing to the piece as it is cut out of cloth with its right side up.
    fn pose(&self) -> Pose {
        if self.reversed { Pose::mirror() } else { Pose::IDENTITY }
    }
}

/// Lays every template of the quilt, cloth by cloth in the order of the file; cloths without templates are left out.
#[must_use]
pub fn mats(quilt: &Quilt, plan: &Plan, mat: &Mat) -> Vec<ClothMats> {
    let all = counted(plan).into_iter().map(|(cloth, pieces)| lay(quilt, plan, (cloth, pieces), mat));
    all.collect()
}

/// What the cut list has for templates, by cloth.
fn counted(plan: &Plan) -> BTreeMap<ClothId, Vec<MatPiece>> {
    let mut counts: BTreeMap<(ClothId, BlockId, usize, bool, bool), usize> = BTreeMap::new();
    for piece in &plan.cutting.pieces {
        let Some(cloth) = piece.of.cloth() else { continue };
        let turned_over = matches!(piece.way, Way::Template { reversed: true, .. });
        for one in &piece.uses {
            if let Use::Template { block, template, count } = *one {
                *counts.entry((cloth, block, template, turned_over, piece.motif.is_some())).or_default() += count;
            }
        }
    }
    let mut by_cloth: BTreeMap<ClothId, Vec<MatPiece>> = BTreeMap::new();
    for ((cloth, block, template, reversed, motif), count) in counts {
        let left_out = motif.then(|| tr!("they show a motif, which has to be found by eye"));
        by_cloth.entry(cloth).or_default().push(MatPiece { block, template, reversed, count, left_out });
    }
    by_cloth
}

/// As it is cut; where the allowance does not fit, as it is sewn.
fn outline(template: &Template) -> &Loop {
    template.cut.as_ref().unwrap_or(&template.finished)
}

fn lay(quilt: &Quilt, plan: &Plan, (cloth, mut pieces): (ClothId, Vec<MatPiece>), mat: &Mat) -> ClothMats {
    let turns = match quilt.cloths[cloth.0].print {
        Print::None => Turns::Quarter,
        Print::TwoWay => Turns::Half,
        Print::OneWay => Turns::None,
    };
    let templates: Vec<nest::Template> = pieces
        .iter()
        .map(|piece| nest::Template {
            name: piece.name(quilt, plan),
            outline: outline(piece.of(plan)).moved(piece.pose()),
            count: 1,
            turns: turns.clone(),
        })
        .collect();
    for (piece, template) in pieces.iter_mut().zip(&templates) {
        piece.left_out = piece.left_out.take().or(misfit(piece.of(plan), template, mat));
    }
    let mut left: Vec<usize> = pieces.iter().map(|piece| if piece.left_out.is_none() { piece.count } else { 0 }).collect();
    let mut mats = Vec::new();
    while left.iter().any(|&count| count > 0) {
        let (chosen, places) = fill(&templates, &left, mat);
        let times = (0..left.len()).filter(|&kind| chosen[kind] > 0).map(|kind| left[kind] / chosen[kind]).min().unwrap_or(0);
        if times == 0 {
            break; // What was found to fit by itself always fits on an empty mat.
        }
        for (kind, count) in chosen.iter().enumerate() {
            left[kind] -= count * times;
        }
        let over = if mat.face_down { Pose::mirror().then(Pose::shift(Vec2::new(mat.width, 0.0))) } else { Pose::IDENTITY };
        let places = places.into_iter().map(|(kind, pose)| (kind, pieces[kind].pose().then(pose).then(over))).collect();
        mats.push(Laid { times, places });
    }
    ClothMats { cloth, pieces, mats }
}

/// Why a template fits on no mat.
fn misfit(piece: &Template, template: &nest::Template, mat: &Mat) -> Option<String> {
    if piece.cut.is_none() {
        return Some(tr!("its allowance does not fit"));
    }
    match laid(std::slice::from_ref(template), mat) {
        Ok(Some(_)) => None,
        Ok(None) | Err(NestError::TooWide { .. }) => Some(tr!("it is larger than the mat, however its cloth lets it be turned")),
        Err(error) => Some(error.to_string()),
    }
}

/// Templates on one mat, each with its number in the list and its place; nothing where they do not all fit.
fn laid(templates: &[nest::Template], mat: &Mat) -> Result<Option<Vec<(usize, Pose)>>, NestError> {
    let nesting = nest::cut(templates, Cloth { width: mat.width, gap: mat.gap }, Budget::QUICK)?;
    let fits = nesting.length <= mat.length + seamfall_geom::TOLERANCE;
    Ok(fits.then(|| nesting.places(mat.gap).map(|place| (place.template, place.pose())).collect()))
}

/// As many pieces as one mat holds: how many of each kind, and where they lie.
fn fill(templates: &[nest::Template], left: &[usize], mat: &Mat) -> (Vec<usize>, Vec<(usize, Pose)>) {
    let mut order: Vec<usize> = (0..templates.len()).filter(|&kind| left[kind] > 0).collect();
    let area = |kind: usize| templates[kind].outline.area();
    order.sort_by(|&a, &b| area(b).total_cmp(&area(a)).then(a.cmp(&b)));
    let mut chosen = vec![0; templates.len()];
    let mut places = Vec::new();
    let mut free = mat.width * mat.length;
    for kind in order {
        let room = (free / area(kind)).floor().max(0.0);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count of pieces on a mat, not negative")]
        let most = (room as usize).min(left[kind]);
        let with = |count: usize| -> Option<Vec<(usize, Pose)>> {
            let mut counts = chosen.clone();
            counts[kind] = count;
            on_one(templates, &counts, mat)
        };
        // The most that fits lies between what does and what does not.
        let (mut fits, mut beyond) = (0, most + 1);
        let mut next = most;
        while beyond - fits > 1 {
            match with(next) {
                Some(found) => {
                    (fits, places) = (next, found);
                }
                None => beyond = next,
            }
            next = fits.midpoint(beyond);
        }
        chosen[kind] = fits;
        free -= area(kind) * as_length(fits);
    }
    (chosen, places)
}

/// So many of each kind on one mat.
fn on_one(templates: &[nest::Template], counts: &[usize], mat: &Mat) -> Option<Vec<(usize, Pose)>> {
    let kinds: Vec<usize> = (0..counts.len()).filter(|&kind| counts[kind] > 0).collect();
    let wanted: Vec<nest::Template> = kinds
        .iter()
        .map(|&kind| nest::Template { count: u32::try_from(counts[kind]).unwrap_or(u32::MAX), ..templates[kind].clone() })
        .collect();
    let found = laid(&wanted, mat).ok()??;
    Some(found.into_iter().map(|(number, pose)| (kinds[number], pose)).collect())
}

fn as_length(count: usize) -> f64 {
    f64::from(u32::try_from(count).unwrap_or(u32::MAX))
}
