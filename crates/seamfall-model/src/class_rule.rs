//! The rules of a class: each with its sentence and its source.
//!
//! In: nothing. Out: words. They stand apart from the other rules because they belong to the class alone.

use tr::tr;

/// A rule of a class.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ClassRule {
    /// Hours of cutting.
    Cutting,
    /// Hours of piecing.
    Piecing,
    /// Hours of layering and trimming.
    Layering,
    /// Hours of quilting.
    Quilting,
    /// Hours of joining.
    Joining,
    /// Hours of finishing the edge.
    Edge,
    /// All hours of a quilt.
    All,
    /// What must be done before a lesson.
    Before,
    /// Cloth bought together.
    Pooled,
    /// Cloth bought by each for herself.
    Alone,
    /// What is bought of tools.
    Items,
}

impl ClassRule {
    /// The rule in one sentence.
    #[must_use]
    pub fn sentence(self) -> String {
        match self {
            Self::Cutting => tr!("Pieces as they are cut, at the pace of the class."),
            Self::Piecing => tr!("Feet of seam, at the pace of the class."),
            Self::Layering => tr!("Sections, at the pace of the class."),
            Self::Quilting => {
                tr!("What the plan needs for quilting before the joins, and how many times as long a student takes.")
            }
            Self::Joining => {
                tr!("What the plan needs for the joins and for quilting after them, and how many times as long a student takes.")
            }
            Self::Edge => {
                tr!(
                    "Sewing the binding down as the plan reckons it, or feet of edge at the pace of the class, and how many times as long a student takes."
                )
            }
            Self::All => tr!("All work, added up."),
            Self::Before => {
                tr!(
                    "What is still to be done afterwards, less what can be done in the lesson and at home until the next; never less than what the lesson needs."
                )
            }
            Self::Pooled => tr!("The pieces of all students laid out on one length."),
            Self::Alone => tr!("What each would buy by herself, each rounded up to what a shop cuts, added up."),
            Self::Items => tr!("As many as are listed, for every so many students."),
        }
    }

    /// Where it comes from.
    #[must_use]
    pub fn source(self) -> String {
        match self {
            Self::Cutting | Self::Piecing | Self::Layering => tr!("common practice"),
            Self::Edge => tr!("check value edges.bind.time"),
            Self::Quilting | Self::Joining | Self::All | Self::Before | Self::Pooled | Self::Alone | Self::Items => {
                tr!("counting")
            }
        }
    }
}
