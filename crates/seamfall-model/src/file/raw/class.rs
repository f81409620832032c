//! The class as it is written.

use super::{At, Named, RawCloth, RawDate};
use schemars::JsonSchema;

/// A class of Seamfall: who makes a quilt together, and when.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
#[schemars(title = "Seamfall class, format 1")]
pub(in crate::file) struct RawClass {
    /// Version of the format: 1.
    #[schemars(range(min = 1, max = 1))]
    pub format: At<i64>,
    /// Name of the quilt that is made.
    pub quilt: At<String>,
    /// What the teacher calls the class.
    pub name: At<String>,
    /// Whether the teacher cuts the cloth into kits before the first lesson; yes unless said.
    pub kits: Option<bool>,
    /// When the class meets.
    pub schedule: RawSchedule,
    /// How fast hands are.
    pub pace: Option<RawPace>,
    /// Who brings what is cut and sewn.
    pub bring: Option<RawBring>,
    /// Cloths that the quilt does not have.
    #[serde(default)]
    pub cloth: Named<RawCloth>,
    /// Who makes the quilt.
    #[serde(default)]
    pub student: Vec<RawStudent>,
    /// Lessons, in their order.
    #[serde(default)]
    pub lesson: Vec<At<RawLesson>>,
    /// Tools and what else is brought.
    #[serde(default)]
    pub item: Vec<RawItem>,
}

/// When the class meets.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(in crate::file) struct RawSchedule {
    /// The first day on which there can be a lesson, such as 2027-01-07; none is too early unless said.
    pub begins: Option<At<RawDate>>,
    /// The day on which all quilts are done.
    pub last_day: At<RawDate>,
    /// The day of the week of the lessons.
    pub weekday: RawWeekday,
    /// Weeks from one lesson to the next, at least; 1 unless said.
    #[schemars(range(min = 1, max = 26))]
    pub weeks_between: Option<At<i64>>,
    /// How long a lesson is.
    #[schemars(range(min = 0.5, max = 12))]
    pub lesson_hours: At<f64>,
    /// How much of it the teacher shows, while nobody sews; half an hour unless said.
    #[schemars(range(min = 0, max = 12))]
    pub showing_hours: Option<At<f64>>,
    /// Hours a week that a student works at home.
    #[schemars(range(min = 0.25, max = 80))]
    pub home_hours: At<f64>,
    /// Hours a week that the teacher has for cutting kits; those of a student unless said.
    #[schemars(range(min = 0.25, max = 80))]
    pub teacher_hours: Option<At<f64>>,
    /// Days without a lesson.
    #[serde(default)]
    pub without: Vec<At<RawDate>>,
}

/// A day of the week.
#[derive(Debug, Clone, Copy, serde::Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(in crate::file) enum RawWeekday {
    Monday,
    Tuesday,
    Wednesday,
    Thursday,
    Friday,
    Saturday,
    Sunday,
}

/// How fast hands are, in minutes. Quilting and joining have their paces in the quilt file.
#[derive(Debug, Default, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(in crate::file) struct RawPace {
    /// Minutes to cut a piece; half a minute unless said.
    #[schemars(range(min = 0, max = 600))]
    pub cut: Option<At<f64>>,
    /// Minutes to sew and press a foot of seam; 5 unless said.
    #[schemars(range(min = 0, max = 600))]
    pub piece: Option<At<f64>>,
    /// Minutes to layer, pin and later trim a section; 20 unless said.
    #[schemars(range(min = 0, max = 600))]
    pub layer: Option<At<f64>>,
    /// Minutes to finish a foot of edge; 7.5 unless said.
    #[schemars(range(min = 0, max = 600))]
    pub edge: Option<At<f64>>,
    /// How many times as long as the maker of the quilt file a student takes; 1 unless said.
    #[schemars(range(min = 0.1, max = 10))]
    pub times: Option<At<f64>>,
}

/// Who brings what is cut and sewn. What is not each student's own is bought together.
#[derive(Debug, Default, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(in crate::file) struct RawBring {
    /// Cloths that are not named in `cloths`; the teacher unless said.
    pub cloth: Option<RawBringer>,
    /// Single cloths, by their keys.
    #[serde(default)]
    pub cloths: Named<RawBringer>,
    /// Batting; the teacher unless said.
    pub batting: Option<RawBringer>,
    /// Thread; each student her own unless said.
    pub thread: Option<RawBringer>,
}

/// Who brings something.
#[derive(Debug, Clone, Copy, serde::Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(in crate::file) enum RawBringer {
    /// The teacher, for all.
    Teacher,
    /// Each student her own.
    Student,
    /// It is shared: whoever has one.
    Shared,
}

/// Somebody who makes the quilt.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(in crate::file) struct RawStudent {
    /// Her name, or what stands for it.
    pub name: At<String>,
    /// Rows of her quilt; as the quilt has them unless said.
    #[schemars(range(min = 1, max = 100))]
    pub rows: Option<At<i64>>,
    /// Columns of her quilt; as the quilt has them unless said.
    #[schemars(range(min = 1, max = 100))]
    pub columns: Option<At<i64>>,
    /// A bed that her quilt is to cover, by its name, such as `us twin`, instead of rows and columns.
    pub covers: Option<At<String>>,
    /// Her own cloths: instead of the first the second.
    #[serde(default)]
    pub swap: Named<At<String>>,
    /// Hours a week that she works at home; those of the class unless said.
    #[schemars(range(min = 0.25, max = 80))]
    pub home_hours: Option<At<f64>>,
    /// How many times as long as the maker of the quilt file she takes; that of the class unless said.
    #[schemars(range(min = 0.1, max = 10))]
    pub times: Option<At<f64>>,
}

/// A lesson.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(in crate::file) struct RawLesson {
    /// What the teacher calls it; by its work unless said.
    pub name: Option<At<String>>,
    /// What is worked at.
    pub work: At<Vec<RawWork>>,
    /// Its day, where it is fixed; worked back from the last day unless said.
    pub date: Option<At<RawDate>>,
    /// How long it is; as the others unless said.
    #[schemars(range(min = 0.5, max = 12))]
    pub hours: Option<At<f64>>,
    /// How much of the work before it must be done by then, in per cent; all of it unless said.
    #[schemars(range(min = 0, max = 100))]
    pub ready: Option<At<f64>>,
    /// What the teacher wants to say on its handout.
    pub note: Option<At<String>>,
}

/// Work on a quilt.
#[derive(Debug, Clone, Copy, serde::Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(in crate::file) enum RawWork {
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

/// A tool, or whatever else is brought.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(in crate::file) struct RawItem {
    /// What it is.
    pub name: At<String>,
    /// How many; 1 unless said.
    #[schemars(range(min = 1, max = 1000))]
    pub count: Option<At<i64>>,
    /// For so many students; one where each brings her own, all of them otherwise.
    #[schemars(range(min = 1, max = 60))]
    pub among: Option<At<i64>>,
    /// Who brings it; each student her own unless said.
    pub by: Option<RawBringer>,
    /// Work that it is for; all of it unless said.
    #[serde(default)]
    pub work: Vec<RawWork>,
}
