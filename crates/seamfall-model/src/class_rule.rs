//! The rules of a class: each with its sentence and its source.
//!
//! In: nothing. Out: words. They stand apart from the other rules because they belong to the class alone.

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
    pub fn sentence(self) -> &'static str {
        match self {
            Self::Cutting => "Pieces as they are cut, at the pace of the class.",
            Self::Piecing => "Feet of seam, at the pace of the class.",
            Self::Layering => "Sections, at the pace of the class.",
            Self::Quilting => "What the plan needs for quilting before the joins, and how many times as long a student takes.",
            Self::Joining => {
                "What the plan needs for the joins and for quilting after them, and how many times as long a student takes."
            }
            Self::Edge => {
                "Sewing the binding down as the plan reckons it, or feet of edge at the pace of the class, and how many times as long a student takes."
            }
            Self::All => "All work, added up.",
            Self::Before => {
                "What is still to be done afterwards, less what can be done in the lesson and at home until the next; never less than what the lesson needs."
            }
            Self::Pooled => "The pieces of all students laid out on one length.",
            Self::Alone => "What each would buy by herself, each rounded up to what a shop cuts, added up.",
            Self::Items => "As many as are listed, for every so many students.",
        }
    }

    /// Where it comes from.
    #[must_use]
    pub fn source(self) -> &'static str {
        match self {
            Self::Cutting | Self::Piecing | Self::Layering => "common practice",
            Self::Edge => "check value edges.bind.time",
            Self::Quilting | Self::Joining | Self::All | Self::Before | Self::Pooled | Self::Alone | Self::Items => "counting",
        }
    }
}
