//! A class of students who each make the quilt: what its teacher decided.
//!
//! In: nothing; values are made by [`read_class`](crate::read_class). Out: who sews what, which work each lesson begins, who brings what, and
//! the paces that hours are reckoned with. What follows from it (hours, dates, kits) is worked out in `seamfall-class`.

use crate::{Cloth, ClothId, StandardBed};
use std::fmt;
use tr::tr;

/// A class of one quilt.
#[derive(Debug, Clone, PartialEq)]
pub struct Class {
    /// What the teacher calls it.
    pub name: String,
    /// When and how long.
    pub schedule: Schedule,
    /// How fast hands are where the quilt does not say.
    pub pace: Pace,
    /// Whether the teacher cuts the cloth into kits before the first lesson.
    pub kits: bool,
    /// Cloths that the quilt does not have.
    pub cloths: Vec<Cloth>,
    /// Students, in the order of the file.
    pub students: Vec<Student>,
    /// Lessons, in their order.
    pub lessons: Vec<Lesson>,
    /// Who brings what is cut and sewn.
    pub brings: Brings,
    /// Tools and what else is brought.
    pub items: Vec<Item>,
}

/// A day of the calendar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Day {
    /// Year, 1900 to 2999.
    pub year: i16,
    /// Month, from 1.
    pub month: i8,
    /// Day, from 1.
    pub day: i8,
}

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

/// A day of the week.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[expect(missing_docs, reason = "the days of the week")]
pub enum Weekday {
    Monday,
    Tuesday,
    Wednesday,
    Thursday,
    Friday,
    Saturday,
    Sunday,
}

impl Weekday {
    /// All seven, from Monday.
    pub const ALL: [Self; 7] =
        [Self::Monday, Self::Tuesday, Self::Wednesday, Self::Thursday, Self::Friday, Self::Saturday, Self::Sunday];

    /// Its word in the file: `monday`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Monday => "monday",
            Self::Tuesday => "tuesday",
            Self::Wednesday => "wednesday",
            Self::Thursday => "thursday",
            Self::Friday => "friday",
            Self::Saturday => "saturday",
            Self::Sunday => "sunday",
        }
    }

    /// As it is said.
    #[must_use]
    pub fn said(self) -> String {
        match self {
            Self::Monday => tr!("monday"),
            Self::Tuesday => tr!("tuesday"),
            Self::Wednesday => tr!("wednesday"),
            Self::Thursday => tr!("thursday"),
            Self::Friday => tr!("friday"),
            Self::Saturday => tr!("saturday"),
            Self::Sunday => tr!("sunday"),
        }
    }
}

/// When the class meets.
#[derive(Debug, Clone, PartialEq)]
pub struct Schedule {
    /// The first day on which there can be a lesson.
    pub begins: Option<Day>,
    /// The day on which all quilts are done.
    pub last_day: Day,
    /// The day of the week of the lessons.
    pub weekday: Weekday,
    /// Weeks from one lesson to the next, at least.
    pub weeks_between: u32,
    /// How long a lesson is.
    pub lesson_hours: f64,
    /// How much of it the teacher shows, while nobody sews.
    pub showing_hours: f64,
    /// Hours a week that a student works at home.
    pub home_hours: f64,
    /// Hours a week that the teacher has for cutting kits.
    pub teacher_hours: f64,
    /// Days without a lesson.
    pub without: Vec<Day>,
}

/// How fast hands are. What is not said is taken as usual.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Pace {
    /// Minutes to cut a piece.
    pub cut: Option<f64>,
    /// Minutes to sew and press a foot of seam.
    pub piece: Option<f64>,
    /// Minutes to layer, pin and later trim a section.
    pub layer: Option<f64>,
    /// Minutes to finish a foot of edge.
    pub edge: Option<f64>,
    /// How many times as long as the maker of the quilt file a student takes.
    pub times: Option<f64>,
}

impl Pace {
    /// What is taken where nothing is said: half a minute a piece in strips, five minutes a foot of seam with its pinning and pressing, twenty minutes
    /// a section, and an edge that is sewn down 16 in in ten minutes. Sources: the last is check value edges.bind.time, the others common practice.
    pub const USUAL_CUT: f64 = 0.5;
    /// See [`Pace::USUAL_CUT`].
    pub const USUAL_PIECE: f64 = 5.0;
    /// See [`Pace::USUAL_CUT`].
    pub const USUAL_LAYER: f64 = 20.0;
    /// See [`Pace::USUAL_CUT`].
    pub const USUAL_EDGE: f64 = 7.5;
}

/// Somebody who makes the quilt.
#[derive(Debug, Clone, PartialEq)]
pub struct Student {
    /// Her name, or what stands for it.
    pub name: String,
    /// How large her quilt is.
    pub size: StudentSize,
    /// Cloths exchanged: instead of the first the second. Numbers go on from the cloths of the quilt to those of the class.
    pub swaps: Vec<(ClothId, ClothId)>,
    /// Hours a week that she works at home, where they are not those of the class.
    pub home_hours: Option<f64>,
    /// How many times as long as the maker of the quilt file she takes, where it is not that of the class.
    pub times: Option<f64>,
}

/// How large a student's quilt is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum StudentSize {
    /// As the quilt is.
    AsPlanned,
    /// So many rows and columns; what is not said as the quilt has it.
    Blocks {
        /// Rows.
        rows: Option<usize>,
        /// Columns.
        columns: Option<usize>,
    },
    /// The fewest rows and columns that cover a bed as it is wished.
    Covers(&'static StandardBed),
}

/// Work on a quilt, in its order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Work {
    /// Cutting.
    Cut,
    /// Piecing blocks and strips.
    Piece,
    /// Layering and pinning sections.
    Layer,
    /// Quilting in the lap.
    Quilt,
    /// Trimming and joining sections, and what is quilted after it.
    Join,
    /// Finishing the edge.
    Edge,
}

impl Work {
    /// All of it, in its order.
    pub const ALL: [Self; 6] = [Self::Cut, Self::Piece, Self::Layer, Self::Quilt, Self::Join, Self::Edge];

    /// Its word in the file.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Cut => "cut",
            Self::Piece => "piece",
            Self::Layer => "layer",
            Self::Quilt => "quilt",
            Self::Join => "join",
            Self::Edge => "edge",
        }
    }

    /// Its word as a heading, as it is said.
    #[must_use]
    pub fn named(self) -> String {
        match self {
            Self::Cut => tr!("work" => "cut"),
            Self::Piece => tr!("work" => "piece"),
            Self::Layer => tr!("work" => "layer"),
            Self::Quilt => tr!("work" => "quilt"),
            Self::Join => tr!("work" => "join"),
            Self::Edge => tr!("work" => "edge"),
        }
    }

    /// As it is said: `piecing`.
    #[must_use]
    pub fn said(self) -> String {
        match self {
            Self::Cut => tr!("cutting"),
            Self::Piece => tr!("piecing"),
            Self::Layer => tr!("layering"),
            Self::Quilt => tr!("quilting"),
            Self::Join => tr!("joining"),
            Self::Edge => tr!("finishing the edge"),
        }
    }
}

/// A lesson.
#[derive(Debug, Clone, PartialEq)]
pub struct Lesson {
    /// What the teacher calls it.
    pub name: Option<String>,
    /// What is worked at, in the order of the work. At least one.
    pub work: Vec<Work>,
    /// Its day, where it is fixed.
    pub date: Option<Day>,
    /// How long it is, where it is not as the others.
    pub hours: Option<f64>,
    /// How much of the work before it must be done by then, in per cent.
    pub ready: f64,
    /// What the teacher wants to say on its handout.
    pub note: Option<String>,
}

/// Who brings something.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Bringer {
    /// The teacher, for all.
    Teacher,
    /// Each student her own.
    Student,
    /// It is shared: whoever has one.
    Shared,
}

impl Bringer {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Teacher, Self::Student, Self::Shared];

    /// Its word in the file.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Teacher => "teacher",
            Self::Student => "student",
            Self::Shared => "shared",
        }
    }
}

/// Who brings what is cut and sewn. What is not each student's own is bought together.
#[derive(Debug, Clone, PartialEq)]
pub struct Brings {
    /// Cloths, unless one is named in `cloths`.
    pub cloth: Bringer,
    /// Single cloths. Numbers go on from those of the quilt to those of the class.
    pub cloths: Vec<(ClothId, Bringer)>,
    /// Batting.
    pub batting: Bringer,
    /// Thread for piecing and for quilting.
    pub thread: Bringer,
}

impl Brings {
    /// Who brings a cloth.
    #[must_use]
    pub fn of(&self, cloth: ClothId) -> Bringer {
        self.cloths.iter().find(|(other, _)| *other == cloth).map_or(self.cloth, |(_, by)| *by)
    }
}

/// A tool, or whatever else is brought.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// What it is.
    pub name: String,
    /// How many.
    pub count: u32,
    /// For so many students; where it is not said, for one where each brings her own, for all otherwise.
    pub among: Option<u32>,
    /// Who brings it.
    pub by: Bringer,
    /// Work that it is for; all of it where nothing is said.
    pub work: Vec<Work>,
}

impl Item {
    /// How many a class of so many students needs.
    #[must_use]
    pub fn in_all(&self, students: u32) -> u32 {
        let among = match (self.among, self.by) {
            (Some(among), _) => among,
            (None, Bringer::Student) => 1,
            (None, _) => students.max(1),
        };
        self.count * students.div_ceil(among)
    }

    /// Whether it is wanted for some of `work`.
    #[must_use]
    pub fn is_for(&self, work: &[Work]) -> bool {
        self.work.is_empty() || self.work.iter().any(|one| work.contains(one))
    }
}
