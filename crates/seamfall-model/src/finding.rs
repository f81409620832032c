//! What is to be said about a quilt: findings.

use std::fmt;
use tr::tr;

/// How much a finding matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Grade {
    /// Cannot be sewn, or would be lost.
    Stop,
    /// Can be sewn, but will disappoint.
    Warn,
    /// Worth knowing.
    Note,
}

impl Grade {
    /// As it is said.
    #[must_use]
    pub fn said(self) -> String {
        match self {
            Self::Stop => tr!("stop"),
            Self::Warn => tr!("warn"),
            Self::Note => tr!("note"),
        }
    }

    /// `stop`, `warn` or `note`: a key, in whatever language is spoken.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Stop => "stop",
            Self::Warn => "warn",
            Self::Note => "note",
        }
    }
}

/// What a finding is about. Names are those of the quilt file; numbers count from 1, as people do.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Spot {
    /// The quilt as a whole.
    Quilt,
    /// A cloth, by its key.
    Cloth(String),
    /// A block, by its key.
    Block(String),
    /// A seam of a block.
    Seam {
        /// Key of the block.
        block: String,
        /// Number of the seam in the file, from 1.
        seam: usize,
    },
    /// A patch of a block.
    Patch {
        /// Key of the block.
        block: String,
        /// Number of the patch, from 1.
        patch: usize,
    },
    /// A place of the setting, such as `C4`.
    Place(String),
    /// A row of the setting, from 1.
    Row(usize),
    /// A column of the setting, from 1.
    Column(usize),
    /// A frame, by its key.
    Frame(String),
    /// The sashing.
    Sashing,
    /// A band, from 1, the innermost first.
    Band(usize),
    /// A lap section, such as `S3`.
    Section(String),
    /// The falls of the seams, over the whole quilt.
    Falls,
    /// The batting.
    Batting,
    /// The joins, over the whole quilt.
    Joins,
    /// A join between two sections or groups of them, by its number in the order taken, from 1.
    Join(usize),
    /// The edge of the quilt, and what is sewn on last.
    Edge,
    /// The quilt as a cover.
    Cover,
    /// The quilt on its bed.
    Bed,
    /// The two corners at the foot of the bed.
    FootCorners,
}

impl fmt::Display for Spot {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Quilt => f.write_str(&tr!("quilt")),
            Self::Cloth(key) => f.write_str(&tr!("cloth {key}", key)),
            Self::Block(key) => f.write_str(&tr!("block {key}", key)),
            Self::Seam { block, seam } => f.write_str(&tr!("block {block}, seam {seam}", block, seam)),
            Self::Patch { block, patch } => f.write_str(&tr!("block {block}, patch {patch}", block, patch)),
            Self::Place(name) => write!(f, "{name}"),
            Self::Row(row) => f.write_str(&tr!("row {row}", row)),
            Self::Column(column) => f.write_str(&tr!("column {column}", column)),
            Self::Frame(key) => f.write_str(&tr!("frame {key}", key)),
            Self::Sashing => f.write_str(&tr!("sashing")),
            Self::Band(band) => f.write_str(&tr!("band {band}", band)),
            Self::Section(name) => f.write_str(&tr!("section {name}", name)),
            Self::Falls => f.write_str(&tr!("falls")),
            Self::Batting => f.write_str(&tr!("batting")),
            Self::Joins => f.write_str(&tr!("joins")),
            Self::Join(number) => f.write_str(&tr!("join {number}", number)),
            Self::Edge => f.write_str(&tr!("edge")),
            Self::Cover => f.write_str(&tr!("cover")),
            Self::Bed => f.write_str(&tr!("bed")),
            Self::FootCorners => f.write_str(&tr!("foot corners")),
        }
    }
}

/// Where or how a finding is mended in the quilt file, by path: `["lap","margin"]`, positions counted from 0.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Cure {
    /// This value is written there.
    Set(Vec<String>, String),
    /// What is there is taken away.
    Remove(Vec<String>),
    /// The maker decides otherwise what stands there.
    Decide(Vec<String>),
}

/// Something the maker should know: grade, place, reason, remedy.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Finding {
    /// How much it matters.
    pub grade: Grade,
    /// What it is about.
    pub spot: Spot,
    /// Why, in one sentence without a full stop.
    pub reason: String,
    /// What to do about it.
    pub help: Option<String>,
    /// The same as a change of the quilt file, where it is one.
    pub cure: Option<Box<Cure>>,
}

impl Finding {
    /// A finding that stops the work.
    #[must_use]
    pub fn stop(spot: Spot, reason: impl Into<String>) -> Self {
        Self { grade: Grade::Stop, spot, reason: reason.into(), help: None, cure: None }
    }

    /// A warning.
    #[must_use]
    pub fn warn(spot: Spot, reason: impl Into<String>) -> Self {
        Self { grade: Grade::Warn, spot, reason: reason.into(), help: None, cure: None }
    }

    /// Something worth knowing.
    #[must_use]
    pub fn note(spot: Spot, reason: impl Into<String>) -> Self {
        Self { grade: Grade::Note, spot, reason: reason.into(), help: None, cure: None }
    }

    /// Adds the remedy.
    #[must_use]
    pub fn help(mut self, remedy: impl Into<String>) -> Self {
        self.help = Some(remedy.into());
        self
    }

    /// It is mended by this value there.
    #[must_use]
    pub fn set(mut self, path: &[&str], value: impl Into<String>) -> Self {
        self.cure = Some(Box::new(Cure::Set(owned(path), value.into())));
        self
    }

    /// It is mended by taking away what is there.
    #[must_use]
    pub fn remove(mut self, path: &[&str]) -> Self {
        self.cure = Some(Box::new(Cure::Remove(owned(path))));
        self
    }

    /// It is mended by deciding otherwise there.
    #[must_use]
    pub fn decide(mut self, path: &[&str]) -> Self {
        self.cure = Some(Box::new(Cure::Decide(owned(path))));
        self
    }
}

fn owned(path: &[&str]) -> Vec<String> {
    path.iter().map(|&word| word.to_owned()).collect()
}
