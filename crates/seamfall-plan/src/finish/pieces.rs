//! What is cut for the edge, for what is sewn on last, and for the cover.
//!
//! In: the real edge and the maker's choices. Out: pieces for the cut list and the answers they come from. Bias is cut as squares, as few as
//! the cloth is wide enough for.

use super::answer::{Impossible, Ruler};
use super::binding;
use super::{Finish, bias, cover, points, ruffle, shaped, sleeve};
use crate::cut::{EdgePiece, EdgeUse, Way, rules};
use seamfall_geom::Vec2;
use seamfall_model::{BindingOn, ClothId, EdgeFinish, EdgeRule, Grain, Length, Quilt, Working, term};
use tr::tr;

/// Everything that is gathered, and what it is gathered from.
pub(super) struct Pieces<'a> {
    pub quilt: &'a Quilt,
    pub ruler: Ruler,
    pub size: Vec2,
    /// Whether a corner at the foot is not square.
    pub changed: bool,
    pub finish: &'a mut Finish,
}

impl Pieces<'_> {
    fn add(&mut self, what: EdgeUse, cloth: ClothId, count: usize, way: Way, width: Working, length: Working) {
        self.finish.pieces.push(EdgePiece { what, cloth, count, way, width, length, grain: Grain::Across });
    }

    fn usable(&self, cloth: ClothId) -> Length {
        self.quilt.cloths[cloth.0].across()
    }

    fn joined(&self) -> Way {
        Way::Joined { lost: self.ruler.allowance.0 * 2.0 }
    }

    /// The binding, if there is one.
    pub fn binding(&mut self) -> Result<(), Impossible> {
        let Some(binding) = self.quilt.binding else { return Ok(()) };
        let usable = self.usable(binding.cloth);
        match binding.on {
            BindingOn::Straight => {
                let width = rules::given(&tr!("width of the strip"), binding.width, self.ruler.step);
                let length = if self.finish.round.curved || self.changed {
                    binding::length(&self.finish.round, None, self.ruler)
                } else {
                    rules::binding_length(self.size, self.ruler.measure, self.ruler.step)
                };
                self.add(EdgeUse::Binding, binding.cloth, 1, Way::Joined { lost: binding.width }, width, length);
                self.finish.answers.push(binding::answer(&self.finish.round, binding.width, usable, None, None, self.ruler)?);
                Ok(())
            }
            BindingOn::Bias => {
                let length = binding::length(&self.finish.round, None, self.ruler).length();
                self.on_the_bias(EdgeUse::BiasBinding, binding.cloth, length, binding.width)
            }
        }
    }

    /// Squares for `length` of bias: one, or as many equal ones as bring them down to the width of the cloth.
    fn on_the_bias(&mut self, what: EdgeUse, cloth: ClothId, length: Length, strip: Length) -> Result<(), Impossible> {
        let usable = self.usable(cloth);
        let mut squares = 1.0;
        loop {
            // Where strips of two squares are joined on the slant, the join takes the width of the strip.
            let each = (length.value() + (squares - 1.0) * strip.value()) / squares;
            let made = bias::square_for(Length::new(each), strip, self.ruler)?;
            if made.side.length() <= usable {
                #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number, at most a hundred")]
                self.add(what, cloth, squares as usize, Way::Rectangle, made.side.clone(), made.side.clone());
                let mut answer = made.answer(self.ruler);
                if squares > 1.0 {
                    answer = answer.note(tr!("{squares} such squares are cut; their strips are joined on the slant.", squares));
                }
                self.finish.answers.push(answer);
                self.finish.bias = Some(made.tube);
                return Ok(());
            }
            squares += 1.0;
            if squares > 100.0 {
                let least = Length::new(strip.value() * std::f64::consts::SQRT_2);
                let reason = tr!(
                    "no bias {strip} wide can be cut from cloth {usable} wide",
                    strip = self.ruler.shown(strip),
                    usable = self.ruler.shown(usable)
                );
                let nearest = tr!("take a cloth of {least} or more, or a narrower strip", least = self.ruler.shown(least));
                return Err(Impossible::new(reason, nearest, least.value()));
            }
        }
    }

    /// Points, ruffle, facing or piping.
    pub fn edge(&mut self) -> Result<(), Impossible> {
        let ruler = self.ruler;
        match self.quilt.finish.edge {
            // Their binding is all that is cut for them.
            EdgeFinish::Straight | EdgeFinish::Scallops(_) | EdgeFinish::Waves(_) => {}
            EdgeFinish::PrairiePoints { cloth, square, spacing, fold } => {
                let point = points::of_square(square, ruler)?;
                let sides: Vec<Length> = self.finish.sides.iter().map(|side| Length::new(side.length)).collect();
                let answer = points::answer(&sides, &point, spacing, fold, self.usable(cloth), ruler)?;
                let most = spacing.unwrap_or(points::usual_spacing(&point));
                let along = sides.iter().map(|side| points::along(*side, &point, most, ruler)).collect::<Result<Vec<_>, _>>()?;
                let count = along.iter().map(|side| side.count.count()).sum();
                self.add(EdgeUse::Points, cloth, count, Way::Rectangle, point.square.clone(), point.square.clone());
                self.finish.answers.push(answer);
                (self.finish.point, self.finish.points) = (Some(point), along);
            }
            EdgeFinish::Ruffle { cloth, depth, fullness } => {
                let made = ruffle::ruffle(
                    Length::new(self.finish.round.length),
                    self.finish.round.square_corners,
                    fullness,
                    depth,
                    ruler,
                )?;
                let answer = ruffle::answer(&self.finish.round, fullness, depth, self.usable(cloth), ruler)?;
                self.add(EdgeUse::Ruffle, cloth, 1, self.joined(), made.strip, made.length);
                self.finish.answers.push(answer);
            }
            EdgeFinish::Facing { cloth, depth } if self.changed => {
                let made = shaped::facing(&self.finish.sides, depth, ruler)?;
                for strip in &made.strips {
                    self.add(EdgeUse::Facing, cloth, strip.count, self.joined(), made.width.clone(), strip.length.clone());
                }
                for piece in &made.bent {
                    let [width, height] = piece.size.clone();
                    self.add(EdgeUse::Facing, cloth, piece.count, Way::Rectangle, width, height);
                }
                self.finish.answers.push(made.answer());
            }
            EdgeFinish::Facing { cloth, depth } => {
                let made = sleeve::facing(self.size, depth, ruler)?;
                self.finish.answers.push(made.answer());
                self.add(EdgeUse::Facing, cloth, 2, self.joined(), made.width.clone(), made.sides);
                self.add(EdgeUse::Facing, cloth, 2, self.joined(), made.width, made.ends);
            }
            EdgeFinish::Piping { cloth, cord, flat } => {
                let strip = ruffle::piping(cord, flat, ruler)?;
                let length = binding::length(&self.finish.round, None, ruler).length();
                self.finish.answers.push(ruffle::piping_answer(cord, flat, ruler)?);
                self.on_the_bias(EdgeUse::Piping, cloth, length, strip.length())?;
            }
        }
        Ok(())
    }

    /// Sleeve and label.
    pub fn last(&mut self) -> Result<(), Impossible> {
        if let Some(sleeve) = self.quilt.finish.sleeve {
            let whole = sleeve::rod_sleeve(Length::new(self.size.x), sleeve.depth, self.ruler)?;
            let made = if whole.pieces > 1 {
                sleeve::rod_sleeve(Length::new(self.size.x / 2.0), sleeve.depth, self.ruler)?
            } else {
                whole.clone()
            };
            self.finish.answers.push(whole.answer());
            self.add(EdgeUse::Sleeve, sleeve.cloth, whole.pieces, self.joined(), made.width, made.length);
        }
        if let Some(label) = self.quilt.finish.label {
            let side = |what: &str, finished: Length| {
                self.ruler.cut(EdgeRule::Label, what, term(&tr!("finished"), finished.value()) + self.ruler.seam() * 2.0)
            };
            let (width, length) =
                (side(&tr!("width of the label"), label.size[0]), side(&tr!("height of the label"), label.size[1]));
            self.add(EdgeUse::Label, label.cloth, 1, Way::Rectangle, width, length);
        }
        Ok(())
    }

    /// Lining and flap of a cover; the lining in as few equal panels as the cloth is wide enough for.
    pub fn cover(&mut self) -> Result<(), Impossible> {
        let Some(chosen) = self.quilt.finish.cover else { return Ok(()) };
        let ruler = self.ruler;
        let made = cover::plan(self.size, &chosen, ruler)?;
        let usable = self.usable(chosen.lining);
        let seams = ruler.allowance.0.value() * 2.0;
        if usable.value() <= seams {
            let reason = tr!("the lining's cloth is no wider than two allowances");
            return Err(Impossible::new(reason, tr!("take a wider cloth"), seams + 1.0));
        }
        let finished = || term(&tr!("lining"), made.lining[0].value) - ruler.seam() * 2.0;
        let panel = |panels: f64| {
            ruler.cut(EdgeRule::Casing, &tr!("width of a panel"), finished() / term(&tr!("panels"), panels) + ruler.seam() * 2.0)
        };
        let mut panels = (finished() / (term(&tr!("usable width"), usable.value()) - ruler.seam() * 2.0)).ceil().value();
        // Rounded up to a cut, a panel may just be too wide.
        if panel(panels).length() > usable {
            panels += 1.0;
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number, as many as cloths are wide")]
        let count = panels as usize;
        self.finish.pieces.push(EdgePiece {
            what: EdgeUse::Lining,
            cloth: chosen.lining,
            count,
            way: Way::Rectangle,
            width: panel(panels),
            length: made.lining[1].clone(),
            grain: Grain::Along,
        });
        if let Some(flap) = &made.flap {
            self.add(EdgeUse::Flap, chosen.lining, 1, self.joined(), flap.clone(), made.lining[0].clone());
        }
        self.finish.answers.push(made.answer(chosen.seam));
        Ok(())
    }
}
