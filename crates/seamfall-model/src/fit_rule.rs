//! The rules of the bed: each with its sentence and its source.
//!
//! In: nothing. Out: words. They stand apart from the other rules because they belong to one stage.

use tr::tr;

/// A rule of the stage `fit`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FitRule {
    /// Width of a quilt for a bed.
    Width,
    /// Length of a quilt for a bed.
    Length,
    /// What quilting and the wash leave of a length.
    Remains,
    /// The size to piece for a finished size.
    Pieced,
    /// How far a quilt hangs at the sides.
    SideDrop,
    /// How far it hangs at the foot.
    FootDrop,
    /// A drop as a part of the height of the bed.
    DropByHeight,
    /// By how much a drop misses the wanted one.
    Miss,
    /// How far down a square corner reaches.
    CornerHang,
    /// How far down a corner reaches that is cut along the diagonal of its block.
    SetBack,
    /// How far down a corner reaches that is cut to an arc.
    LevelHem,
    /// How far down a corner reaches that is cut straight.
    StraightCut,
    /// How far down the cloth reaches beside a notch.
    Notch,
    /// Cloth cut away at a corner.
    CutAway,
    /// How far a corner hangs beyond the floor.
    OnTheFloor,
    /// Size of a top from its settings.
    TopOfSettings,
    /// By how much such a top misses what is wanted.
    SettingMiss,
    /// Cloth of such a top.
    SettingCloth,
    /// Hours for such a top.
    SettingHours,
}

impl FitRule {
    /// The rule in one sentence.
    #[must_use]
    pub fn sentence(self) -> String {
        match self {
            Self::Width => tr!("A quilt is as wide as the mattress and the drop on either side."),
            Self::Length => {
                tr!("A quilt is as long as the mattress, the drop at the foot, and what is tucked in at the pillows.")
            }
            Self::Remains => tr!("Quilting takes its share of the size, and the wash its share of what quilting has left."),
            Self::Pieced => tr!("The finished size, divided by what quilting and the wash leave of a length."),
            Self::SideDrop => tr!("Half of what the quilt is wider than the mattress."),
            Self::FootDrop => tr!("What the quilt is longer than the mattress, less what is tucked in."),
            Self::DropByHeight => tr!("A side drop is half to three quarters of the height of the bed."),
            Self::Miss => tr!("The drop as it comes out, less the drop that is wanted."),
            Self::CornerHang => {
                tr!("Cloth that hangs from the corner of a mattress reaches as far down as its farthest point from that corner.")
            }
            Self::SetBack => {
                tr!(
                    "The block in the corner is cut along its diagonal; the farthest point left is the end of the cut on the side of the longer drop."
                )
            }
            Self::LevelHem => {
                tr!(
                    "An arc about the corner of the mattress with the longer drop for its radius; where the drops differ, the shorter side runs on straight until it meets the arc."
                )
            }
            Self::StraightCut => {
                tr!(
                    "The straight cut that takes least and leaves no point farther from the corner of the mattress than the longer drop."
                )
            }
            Self::Notch => tr!("Without the piece that would hang at the corner, the cloth reaches as far as the drops."),
            Self::CutAway => tr!("What lies between the cut and the square corner."),
            Self::OnTheFloor => tr!("How far the corner hangs, less the height of the mattress; below nothing it hangs free."),
            Self::TopOfSettings => {
                tr!(
                    "Blocks with their frames, the sashing between them and the bands, added up; on point a block counts with its diagonal."
                )
            }
            Self::SettingMiss => tr!("The larger of the two differences, of width and of length."),
            Self::SettingCloth => {
                tr!(
                    "Every piece as it is cut, an allowance on each side: patches a finished width of the usual patch each, strips along their length."
                )
            }
            Self::SettingHours => {
                tr!(
                    "Seams at the machine's pace, quilting at the maker's own, as much of it as the usual gap between lines asks for."
                )
            }
        }
    }

    /// Where it comes from.
    #[must_use]
    pub fn source(self) -> String {
        match self {
            Self::Width => tr!("plane geometry; check values beds.drop.worked and beds.drop12"),
            Self::Length => tr!("plane geometry; check values beds.drop.worked and beds.drop.pillow_tuck_mccall"),
            Self::Remains | Self::Pieced => tr!("check values lap.takeup.block and fabric.shrink.compose"),
            Self::DropByHeight => tr!("check value beds.drop.side_drop_by_height"),
            Self::CornerHang => tr!("plane geometry; check value beds.corner_drop_exact"),
            Self::LevelHem => tr!("plane geometry; check value beds.corner_rounded"),
            Self::SideDrop
            | Self::FootDrop
            | Self::SetBack
            | Self::StraightCut
            | Self::Notch
            | Self::CutAway
            | Self::OnTheFloor
            | Self::TopOfSettings => tr!("plane geometry"),
            Self::Miss | Self::SettingMiss => tr!("counting"),
            Self::SettingCloth | Self::SettingHours => tr!("common practice"),
        }
    }
}
