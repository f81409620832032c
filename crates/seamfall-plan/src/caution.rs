//! Cautions: what to take care of, in the same words wherever the risk arises.
//!
//! In: sizes. Out: plain sentences with their sources. They inform and forbid nothing; local rules, and what came with a tool, go first.
//! Those that depend on the quilt are given by its stages; those of the tools belong to the work itself.

use seamfall_geom::Vec2;
use seamfall_model::{Measure, mark, spoken};
use std::borrow::Cow;

/// Something to take care of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Caution {
    /// Marked words.
    pub(crate) title: &'static str,
    /// Marked words where they are borrowed; those with sizes in them are said already.
    pub(crate) words: Cow<'static, str>,
    /// Marked words, or the name of what was published, which stays.
    pub(crate) source: &'static str,
}

impl Caution {
    /// What it is about: `Rotary cutter`.
    #[must_use]
    pub fn title(&self) -> String {
        spoken(self.title)
    }

    /// In plain words.
    #[must_use]
    pub fn words(&self) -> String {
        match &self.words {
            Cow::Borrowed(marked) => spoken(marked),
            Cow::Owned(said) => said.clone(),
        }
    }

    /// Who says so.
    #[must_use]
    pub fn source(&self) -> String {
        spoken(self.source)
    }
}

const PRACTICE: &str = mark!("common practice; what came with your own tools goes first");

const fn practice(title: &'static str, words: &'static str) -> Caution {
    Caution { title, words: Cow::Borrowed(words), source: PRACTICE }
}

/// Where cloth is cut.
pub const ROTARY_CUTTER: Caution = practice(
    mark!("Rotary cutter"),
    mark!(
        "The blade is bare and sharp: close it each time you put it down, cut away from yourself, and keep the other hand's fingers off the edge of the ruler. Wrap a worn blade before it is thrown away."
    ),
);

/// Where seams are pressed.
pub const IRON: Caution = practice(
    mark!("Iron"),
    mark!(
        "It burns long after it is switched off. Stand it as it is meant to stand, where no child reaches it or its cord, and pull the plug when you leave the room."
    ),
);

/// Wherever pins and needles are in the layers.
pub const NEEDLES: Caution = practice(
    mark!("Needles and pins"),
    mark!("Count them out and count them in. One left between the layers is found by whoever sleeps under the quilt."),
);

/// Where the machine sews over many layers.
pub const MACHINE: Caution = practice(
    mark!("Machine"),
    mark!("Turn the wheel by hand over thick crossings; a needle that breaks can fly. Keep to the book of your machine."),
);

/// Where batting and filling are chosen.
pub const FIBRES: Caution = Caution {
    title: mark!("Fibres"),
    words: Cow::Borrowed(mark!(
        "Down, feathers, wool and their dust trouble people with allergies: ask who will sleep under it, and wash cloth first for those whose skin is touchy."
    )),
    source: mark!("common practice"),
};

const INFANTS: &str = "American Academy of Pediatrics, Sleep-Related Infant Deaths, 2022; NHS, Safer sleeping";

/// Sizes that a crib or a cot quilt has, in inches: a cot duvet is 120 by 150 cm (check value `duvet.uk.cot_bed`), a crib's
/// mattress about 27 by 52 in.
const CRIB_IN: [(f64, f64); 2] = [(24.0, 48.0), (33.0, 60.0)];

/// Whether a quilt of `size` is one for a crib or a cot.
#[must_use]
pub fn is_crib_sized(size: Vec2, measure: Measure) -> bool {
    let inch = measure.inch();
    let (short, long) = (size.x.min(size.y) / inch, size.x.max(size.y) / inch);
    (CRIB_IN[0].0..=CRIB_IN[0].1).contains(&short) && (CRIB_IN[1].0..=CRIB_IN[1].1).contains(&long)
}

/// Where an infant sleeps.
#[must_use]
pub fn infants() -> Caution {
    Caution {
        title: mark!("Infants"),
        words: Cow::Borrowed(mark!("No quilt or other loose bedding belongs where an infant under twelve months sleeps.")),
        source: INFANTS,
    }
}
