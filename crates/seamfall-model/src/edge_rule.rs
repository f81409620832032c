//! The rules of the edge and of the cover: each with its sentence and its source.
//!
//! In: nothing. Out: words. They stand apart from the other rules because they are many and belong to one stage.

use tr::tr;

/// A rule of the stage `finish`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum EdgeRule {
    /// How long a strip round the edge is.
    Round,
    /// What an inside corner takes.
    InsideCorner,
    /// A strip folded in two before it is sewn on.
    DoubleBinding,
    /// A strip of one layer.
    SingleBinding,
    /// What a strip leaves for the turn.
    TurnOfCloth,
    /// Minutes of sewing down by hand.
    SewingDown,
    /// Whole strips across a tube of bias.
    BiasStrips,
    /// Length of a tube of bias.
    BiasTube,
    /// The smallest square for a length of bias.
    BiasSquare,
    /// Bias by area, as tables have it.
    BiasArea,
    /// What folding makes of a square.
    PrairiePoint,
    /// How many points stand along a side.
    PointsAlong,
    /// How far apart they stand.
    PointSpacing,
    /// How many scallops or waves fit a side.
    ScallopCount,
    /// How wide each then is.
    ScallopWidth,
    /// Radius of an arc over a width.
    ArcRadius,
    /// Length of an arc over a width.
    ArcLength,
    /// How an edge of arcs turns a corner.
    ArcCorner,
    /// Length of an edge of arcs.
    ArcEdge,
    /// Length of a ruffle before it is gathered.
    Ruffle,
    /// What a ruffle takes at a corner.
    RuffleCorner,
    /// Depth at which a doubled strip is cut.
    DoubledStrip,
    /// A strip over a cord.
    Piping,
    /// A flat fold in a seam.
    FlatPiping,
    /// A tube for a rod.
    RodSleeve,
    /// A label.
    Label,
    /// A strip behind the edge.
    Facing,
    /// A band that makes the quilt larger.
    Enlarging,
    /// Pieces in a band that are all whole.
    WholePieces,
    /// The casing of a cover.
    Casing,
    /// How large an insert is.
    Insert,
    /// Channels that hold a filling.
    Channels,
    /// Weight of a filling.
    Fill,
    /// Places to tie.
    Ties,
    /// The opening of a cover.
    Opening,
    /// What a thick insert takes of the width.
    Puffing,
    /// Layers of cloth in a seam.
    SeamLayers,
    /// Layers where two seams cross.
    CrossingLayers,
}

impl EdgeRule {
    /// The rule in one sentence.
    #[must_use]
    pub fn sentence(self) -> String {
        match self {
            Self::Round => {
                tr!(
                    "The strip is as long as the edge itself, curves along the curve; an outside corner, folded up and down flush with the edge, takes nothing; a foot (30 cm) more is for the two ends and for comfort."
                )
            }
            Self::InsideCorner => {
                tr!(
                    "At an inside corner the sewing line runs farther than the edge: on either side the allowance times the tangent of half the turn."
                )
            }
            Self::DoubleBinding => {
                tr!("A strip folded in two before it is sewn on is twice the sum of twice its finished width and the allowance.")
            }
            Self::SingleBinding => tr!("A strip of one layer is its finished width and an allowance, both twice."),
            Self::TurnOfCloth => {
                tr!(
                    "What the strip is wider than the bare rule is left for the thickness and the turn, half of it in each layer."
                )
            }
            Self::SewingDown => tr!("A binding is sewn down by hand at 16 in in ten minutes."),
            Self::BiasStrips => {
                tr!(
                    "A square cut once from corner to corner and sewn together again is a slanting piece as deep as half its diagonal, when the points stand out by two allowances; whole strips alone count."
                )
            }
            Self::BiasTube => {
                tr!(
                    "Each strip is as long as the diagonal; either of the two seams crosses it slanting and takes two allowances times √2. The two loose ends are not counted."
                )
            }
            Self::BiasSquare => {
                tr!(
                    "The smallest square whose tube is deep enough for the strips and long enough for the length, tried for every number of strips."
                )
            }
            Self::BiasArea => tr!("Area over width, as tables have it: seams and the last narrow strip are not taken off."),
            Self::PrairiePoint => {
                tr!(
                    "A square folded twice is a triangle as wide as the square and half as high; the seam takes an allowance of its height and two of its width."
                )
            }
            Self::PointsAlong => {
                tr!("From one end of the side to the other, ends flush, as few as stand no farther apart than wished.")
            }
            Self::PointSpacing => tr!("The side less one point, divided by the steps between the points."),
            Self::ScallopCount => {
                tr!(
                    "The side, less what the corners take, divided by the wished width, to the nearest whole number; of waves to the nearest odd one, so that both ends are alike."
                )
            }
            Self::ScallopWidth => tr!("The side, less what the corners take, divided by the number."),
            Self::ArcRadius => {
                tr!(
                    "The circle through both ends and the highest point: the square of half the width and the square of the depth, over twice the depth."
                )
            }
            Self::ArcLength => tr!("The arc itself, not its chord: its radius times the angle it spans."),
            Self::ArcCorner => {
                tr!(
                    "A corner scallop touches both sides of the quilt and meets the valleys beside it; where there is no room for one, a quarter circle turns the corner at the depth of the valleys."
                )
            }
            Self::ArcEdge => {
                tr!("All arcs of the sides and of the four corners. A strip loses at a valley what it gains along the curve.")
            }
            Self::Ruffle => tr!("The edge times the fullness, and at each corner as much as lets it lie flat."),
            Self::RuffleCorner => {
                tr!(
                    "Round a corner the outer edge runs a part of a circle farther, as wide as the ruffle is deep: a quarter of it at a square corner."
                )
            }
            Self::DoubledStrip => tr!("A strip folded in two is twice its depth and two allowances."),
            Self::Piping => tr!("Once round the cord, and an allowance on either side."),
            Self::FlatPiping => tr!("A strip folded in two is twice what shows of it and two allowances."),
            Self::RodSleeve => {
                tr!(
                    "A tube, sewn with an allowance on either side; its ends are hemmed and it stops short of the quilt by half an inch on either side."
                )
            }
            Self::Label => tr!("A piece is cut at its finished size and an allowance on either side."),
            Self::Facing => tr!("A strip behind the edge: its finished width, an allowance at the edge and one turned under."),
            Self::Enlarging => tr!("What is still wanted, half of it on either side."),
            Self::WholePieces => {
                tr!(
                    "As many whole pieces as reach along the side, a plain strip between making up the difference, half on either side."
                )
            }
            Self::Casing => tr!("Finished size and two seams across; at the foot a hem besides."),
            Self::Insert => tr!("An insert is as large as the casing or slightly larger, so that it fills it."),
            Self::Channels => tr!("Channels as wide as wished or a little narrower, all alike."),
            Self::Fill => tr!("Area times weight for the area."),
            Self::Ties => tr!("One at each end, and between them no farther apart than wished."),
            Self::Opening => tr!("The opening is the width without what stays closed at both corners."),
            Self::Puffing => tr!("An insert is a lens: the cloth over it is an arc, its chord the width."),
            Self::SeamLayers => tr!("Layers of cloth, one above the other, at the thickest place of the seam."),
            Self::CrossingLayers => tr!("Where one seam crosses another each of its layers is as thick as the other seam."),
        }
    }

    /// Where it comes from.
    #[must_use]
    pub fn source(self) -> String {
        match self {
            Self::Round => tr!("plane geometry; what is added is common practice"),
            Self::InsideCorner
            | Self::BiasStrips
            | Self::BiasTube
            | Self::BiasSquare
            | Self::PrairiePoint
            | Self::PointsAlong
            | Self::PointSpacing
            | Self::ArcRadius
            | Self::ArcLength
            | Self::ArcCorner
            | Self::ArcEdge
            | Self::RuffleCorner
            | Self::DoubledStrip
            | Self::Piping
            | Self::FlatPiping
            | Self::Label
            | Self::Facing
            | Self::Enlarging
            | Self::WholePieces
            | Self::Channels
            | Self::Puffing
            | Self::SeamLayers
            | Self::CrossingLayers
            | Self::TurnOfCloth
            | Self::SingleBinding
            | Self::DoubleBinding => tr!("plane geometry"),
            Self::SewingDown => tr!("one maker's timing, check value edges.bind.time"),
            Self::BiasArea => tr!("tables of the trade, check values edges.bias.mydeco_20 and edges.bias.copy_450"),
            Self::ScallopCount => tr!("common practice; odd waves by check value edges.scallop.wave_odd"),
            Self::ScallopWidth => tr!("counting"),
            Self::Ruffle => tr!("common practice, check values edges.ruffle"),
            Self::RodSleeve => tr!("a quilt show's rule, check value edges.sleeve.iqa"),
            Self::Casing => tr!("common practice, check values duvet.us_cut"),
            Self::Insert => tr!("check values duvet.ease_same and duvet.ease_larger"),
            Self::Fill => tr!("check values duvet.fill"),
            Self::Ties | Self::Opening => tr!("common practice"),
        }
    }
}
