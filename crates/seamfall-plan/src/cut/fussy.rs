//! Pieces that show a motif: cut one by one out of the repeats of a print.
//!
//! In: how large a piece is on the cloth, after how much the print is the same again, and how many are needed. Out: the length in which so many
//! motifs are found for sure, and one that no luck makes less.
//!
//! A motif lies on a grid of whole repeats. The shop cuts where it likes and the selvage may lie anywhere in the print, so it is not known where
//! the first motif lies: what is counted on is what there is at the worst. Pieces wider than a repeat take every second motif, or third. Different
//! motifs of one cloth are counted each for itself, as are pieces that are cut from the cloth turned over.

use super::list::Size;
use crate::draft::Template;
use seamfall_geom::{Loop, Pose, Rect};
use seamfall_model::{Fussy, Grain, Length, Look, LookRule, Quilt, Rounding, Rule, Step, Term, Working, term};
use tr::tr;

/// How pieces that show a motif are got out of their cloth.
#[derive(Debug, Clone, PartialEq)]
pub struct MotifCut {
    /// Which motif, by its number in [`Quilt::fussy`].
    pub motif: usize,
    /// Motifs side by side, wherever the print begins. Nothing where not even one is sure.
    pub across: Option<Working>,
    /// Rows of them.
    pub rows: Working,
    /// Length of cloth in which all are found for sure.
    pub length: Working,
    /// No length is less, wherever the print begins.
    pub least: Working,
    /// Width and length of a piece of cloth in which one is found for sure.
    pub room: [Working; 2],
}

impl MotifCut {
    /// Its numbers, in the order in which they follow from one another.
    pub fn workings(&self) -> impl Iterator<Item = &Working> {
        self.across.iter().chain([&self.rows, &self.length, &self.least])
    }
}

/// The size of a piece that shows a motif: the bounds of its template as it lies on the cloth.
pub(super) fn size(template: &Template, reversed: bool, fussy: &Fussy, motif: usize, table: super::rules::Table) -> Size {
    let on_cloth = Pose::turn_deg(-fussy.turn_deg);
    let shape = template.finished.moved(on_cloth).bounds();
    let allowance = table.allowance.0.value();
    let cut = template.cut.as_ref().map(|cut| cut.moved(on_cloth));
    let bounds = cut.as_ref().map_or_else(|| shape.inflate(allowance, allowance), Loop::bounds);
    let at_origin = |outline: Loop, bounds: Rect| outline.moved(Pose::shift(-bounds.origin().to_vec2()));
    let outline = cut.map_or_else(|| at_origin(template.finished.moved(on_cloth), shape), |cut| at_origin(cut, bounds));
    Size {
        way: super::Way::Template { outline, reversed },
        width: table.template(&tr!("width of the template"), Length::new(bounds.width())),
        length: table.template(&tr!("length of the template"), Length::new(bounds.height())),
        grain: Grain::Across,
        motif: Some(motif),
    }
}

/// How `count` pieces are got out of a cloth that is `usable` wide.
pub(super) fn cut(quilt: &Quilt, motif: usize, [width, length]: [f64; 2], count: usize, usable: Length) -> Option<MotifCut> {
    let repeat = quilt.cloths[quilt.fussy[motif].cloth.0].look.as_ref().map(Look::repeat)?;
    let found = Found { piece: [width, length], repeat: repeat.map(Length::value), step: quilt.step };
    Some(found.cut(motif, count, usable))
}

struct Found {
    piece: [f64; 2],
    repeat: [f64; 2],
    step: Step,
}

impl Found {
    fn piece(&self, side: usize) -> Term {
        term(&[tr!("piece across"), tr!("piece along")][side], self.piece[side])
    }

    fn repeat(&self, side: usize) -> Term {
        term(&[tr!("repeat across"), tr!("repeat along")][side], self.repeat[side])
    }

    /// From one motif that is cut to the next: whole repeats, so that pieces do not lie on one another.
    fn apart(&self, side: usize) -> Term {
        let repeats = (self.piece[side] / self.repeat[side] - 1e-9).ceil().max(1.0);
        if repeats > 1.0 { self.repeat(side) * repeats } else { self.repeat(side) }
    }

    fn cut(&self, motif: usize, count: usize, usable: Length) -> MotifCut {
        let counted = |rule: LookRule, what: &str, term: Term| Working::new(rule.into(), what, term, Rounding::Whole);
        let long = |rule: LookRule, what: &str, term: Term| Working::new(Rule::from(rule), what, term, Rounding::Up(self.step));
        let width = || term(&tr!("usable width"), usable.value());
        let pieces = || term(&tr!("pieces"), f64::from(u32::try_from(count).unwrap_or(u32::MAX)));
        let sure = usable.value() + 1e-9 >= self.piece[0] + self.repeat[0];
        let across = sure.then(|| {
            let side_by_side = ((width() - self.piece(0) - self.repeat(0)) / self.apart(0)).floor() + 1.0;
            counted(LookRule::MotifsAcross, &tr!("motifs side by side"), side_by_side)
        });
        let in_a_row = term(&tr!("motifs side by side"), across.as_ref().map_or(1.0, |across| across.value));
        let rows = counted(LookRule::MotifRows, &tr!("rows of motifs"), (pieces() / in_a_row).ceil());
        let length = (term(&tr!("rows"), rows.value) - 1.0) * self.apart(1) + self.piece(1) + self.repeat(1);
        let most = (((width() - self.piece(0)) / self.repeat(0)).floor() + 1.0).value().max(1.0);
        let fewest = (pieces() / term(&tr!("most side by side"), most)).ceil();
        let least = (fewest - 1.0) * self.repeat(1) + self.piece(1);
        MotifCut {
            motif,
            across,
            rows,
            length: long(LookRule::MotifLength, &tr!("length for the motifs"), length),
            least: long(LookRule::MotifLeast, &tr!("no less than"), least),
            room: [0, 1].map(|side| {
                let what = &[tr!("width that holds a motif"), tr!("length that holds a motif")][side];
                long(LookRule::MotifRoom, what, self.piece(side) + self.repeat(side))
            }),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cut::{Part, Way};
    use seamfall_model::read;

    fn found(piece: [f64; 2], repeat: [f64; 2], count: usize) -> MotifCut {
        Found { piece, repeat, step: Step::Eighth }.cut(0, count, Length::new(42.0))
    }

    /// By hand, on 42 in: a piece of 3 1/2 in on a repeat of 8 by 6. Its middle may lie anywhere on 38 1/2 in, less a repeat for the unknown
    /// beginning 30 1/2, which hold 3 steps of 8, so 4 motifs. 10 pieces take 3 rows: 2 steps of 6, a piece, a repeat: 21 1/2 in. At best 5 lie
    /// side by side (4 steps in 38 1/2), so 2 rows: 6 and 3 1/2 make 9 1/2 in.
    #[test]
    fn motifs_are_counted_as_by_hand() {
        let cut = found([3.5, 3.5], [8.0, 6.0], 10);
        assert_eq!(cut.across.as_ref().unwrap().count(), 4);
        assert_eq!((cut.rows.count(), cut.length.value, cut.least.value), (3, 21.5, 9.5));
        assert_eq!(
            cut.across.unwrap().line(),
            "motifs side by side = down((usable width − piece across − repeat across) ÷ repeat across) + 1 = down((42 − 3.5 − 8) ÷ 8) + 1 = 4"
        );
        assert_eq!(
            cut.length.line(),
            "length for the motifs = (rows − 1) × repeat along + piece along + repeat along = (3 − 1) × 6 + 3.5 + 6 = 21.5, up to 21 1/2"
                .replace("21.5, up to ", "")
        );
        assert_eq!(cut.room.map(|side| side.value), [11.5, 9.5]);
    }

    /// By hand: a piece of 10 1/2 in on a repeat of 8 takes every second motif, 16 in apart: 42 - 10 1/2 - 8 = 23 1/2 holds one step, so 2.
    #[test]
    fn pieces_wider_than_the_repeat_leave_motifs_out() {
        let cut = found([10.5, 10.5], [8.0, 6.0], 3);
        assert_eq!((cut.across.unwrap().count(), cut.rows.count()), (2, 2));
        // Along, 10 1/2 in take two repeats of 6: a step of 12, a piece, a repeat.
        assert_eq!(cut.length.value, 28.5);
    }

    #[test]
    fn a_motif_wider_than_the_rest_of_the_width_is_not_sure() {
        let cut = found([20.0, 20.0], [30.0, 30.0], 1);
        assert_eq!(cut.across, None);
        assert_eq!(cut.least.value, 20.0);
    }

    /// Every beginning of the print, in steps of an eighth: the fewest motifs that lie whole on the width, cut without overlap, are those that are
    /// counted on, and no beginning has more than the bound takes for possible.
    #[test]
    fn what_is_counted_on_is_there_wherever_the_print_begins() {
        for piece in [1.5, 3.5, 5.0, 8.0, 8.5, 12.25] {
            for repeat in [0.75, 3.0, 8.0, 9.5] {
                let cut = found([piece, piece], [repeat, repeat], 1_000);
                let apart = repeat * (piece / repeat - 1e-9).ceil().max(1.0);
                let (mut fewest, mut most) = (usize::MAX, 0);
                let mut begin = 0.0;
                while begin < repeat {
                    let middles = (0..200)
                        .map(|i| begin + repeat * f64::from(i))
                        .filter(|at| *at >= piece / 2.0 && *at <= 42.0 - piece / 2.0);
                    let all: Vec<f64> = middles.collect();
                    let mut taken: Vec<f64> = Vec::new();
                    for at in &all {
                        if taken.last().is_none_or(|last| at - last >= apart - 1e-9) {
                            taken.push(*at);
                        }
                    }
                    (fewest, most) = (fewest.min(taken.len()), most.max(all.len()));
                    begin += 0.125;
                }
                assert!(cut.across.as_ref().unwrap().count() <= fewest, "{piece} on {repeat}: {fewest}");
                let rows = 1_000_usize.div_ceil(most);
                let least = (rows - 1) as f64 * repeat + piece;
                assert!(cut.least.exact <= least + 1e-9, "{piece} on {repeat}: {} {least}", cut.least.exact);
            }
        }
    }

    const QUILT: &str = "format = 1\nname = \"x\"\nmeasure = \"inch\"\n\
        [cloth.moss]\ncolour = \"#406040\"\nlook = { kind = \"photo\", file = \"moss.jpg\", width = \"8\", pixels = [800, 600] }\n\
        [cloth.day]\ncolour = \"#f0e0c0\"\n\
        [block.half]\nshape = \"square\"\nsize = \"6\"\ngrid = 2\nseams = [[0, 0, 2, 2]]\n\
        patches = { moss = [[0.5, 1.5]], day = [[1.5, 0.5]] }\n\
        [block.plain]\nshape = \"square\"\nsize = \"3\"\ngrid = 1\npatches = { moss = [[0.5, 0.5]] }\n\
        [setting]\nlayout = \"straight\"\nrows = 4\ncolumns = 4\npattern = [[\"half\"]]\n";

    /// Sixteen half-square units would be made eight at a time; with a motif in one of their triangles all of them are cut one by one.
    #[test]
    fn what_shows_a_motif_is_cut_one_by_one() {
        let usual = crate::plan(&read(QUILT).unwrap());
        assert!(usual.cutting.pieces.iter().all(|piece| matches!(piece.way, Way::Unit(_))));
        let text = format!("{QUILT}[[fussy]]\ncloth = \"moss\"\nof = \"half.moss\"\nat = [50, 50]\n");
        let quilt = read(&text).unwrap();
        let plan = crate::plan(&quilt);
        let piece = plan.cutting.pieces.iter().find(|piece| piece.motif.is_some()).unwrap();
        assert_eq!((piece.needed, piece.cut), (16, 16));
        let day = plan.cutting.pieces.iter().find(|piece| piece.of.cloth() == Some(seamfall_model::ClothId(1))).unwrap();
        assert_eq!((&day.way, day.needed, day.cut), (&Way::HalfSquare, 16, 8));
        // The cloth is laid out as one length across the whole width.
        let bought = plan.cutting.bought.iter().find(|bought| bought.of == piece.of).unwrap();
        assert_eq!(bought.kinds.iter().map(|of| of.part).collect::<Vec<_>>(), [Part::Motifs]);
        let Some(crate::cut::Laid::OffTheBolt(laid)) = &bought.laid else { panic!() };
        assert_eq!(laid.needed.value, piece.motif.as_ref().unwrap().length.value);
        assert_eq!(plan.findings.iter().filter(|finding| finding.reason.contains("motif")).count(), 0);
    }

    #[test]
    fn a_motif_that_nothing_shows_is_said() {
        let text = format!("{QUILT}[[fussy]]\ncloth = \"moss\"\nof = \"plain.moss\"\nat = [50, 50]\n");
        let plan = crate::plan(&read(&text).unwrap());
        assert!(plan.findings.iter().any(|finding| finding.reason.contains("no patch is cut from it there")));
    }
}
