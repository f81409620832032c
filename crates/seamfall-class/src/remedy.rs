//! What would do where the last day cannot be met.
//!
//! In: the class and its timetable. Out: start sooner, more hours at home, a later last day, a smaller quilt: of each the nearest that does, tried
//! with the very reckoning that found the trouble.

use crate::looks::{Look, planned, resized};
use crate::schedule::{Timetable, date, lines_of, short, work_back};
use crate::{StudentPlan, hours};
use jiff::ToSpan;
use seamfall_cutting::Budget;
use seamfall_model::class::{Class, Day};
use seamfall_model::decimal;
use seamfall_plan::Wanted;
use std::collections::BTreeMap;
use std::collections::btree_map::Entry;
use tr::tr;

/// Most hours a week at home that are offered, and the step in which they are tried.
const MOST_HOURS: f64 = 40.0;
const STEP_HOURS: f64 = 0.5;

/// Most weeks by which the last day is moved: ten years.
const MOST_WEEKS: i64 = 520;

/// A way to meet the last day.
#[derive(Debug, Clone, PartialEq)]
pub enum Remedy {
    /// Begin on this day.
    Begin(Day),
    /// So many hours a week at home, for whoever has less.
    HomeHours(f64),
    /// Another last day.
    LastDay(Day),
    /// No quilt with more rows and columns than these.
    Smaller([usize; 2]),
}

impl Remedy {
    /// In words.
    #[must_use]
    pub fn said(&self) -> String {
        match self {
            Self::Begin(day) => tr!("begin on {day}", day),
            Self::HomeHours(hours) => tr!("work at least {hours} h a week at home", hours = decimal(*hours, 1)),
            Self::LastDay(day) => tr!("take {day} for the last day", day),
            Self::Smaller([rows, columns]) => tr!("make quilts of at most {rows} rows and {columns} columns", rows, columns),
        }
    }
}

/// The ways there are, where the timetable is short; nothing once nobody wants them any more.
pub(crate) fn remedies(
    class: &Class,
    looks: &[Look],
    students: &[StudentPlan],
    timetable: &Timetable,
    wanted: Wanted,
) -> Option<Vec<Remedy>> {
    let (Some(_), Some(first)) = (timetable.short, timetable.lessons.first()) else { return Some(Vec::new()) };
    let mut ways = vec![Remedy::Begin(first.day)];
    ways.extend(more_hours(class, students));
    ways.extend(later(class, students));
    ways.extend(smaller(class, looks, students, wanted)?);
    Some(ways)
}

fn meets(class: &Class, students: &[StudentPlan], least: f64) -> bool {
    let lessons = work_back(class, &lines_of(class, students, least));
    short(class, &lessons).is_none() && lessons.iter().all(|lesson| lesson.late.is_none())
}

fn more_hours(class: &Class, students: &[StudentPlan]) -> Option<Remedy> {
    let mut hours = (class.schedule.home_hours / STEP_HOURS).floor() * STEP_HOURS + STEP_HOURS;
    while hours <= MOST_HOURS {
        if meets(class, students, hours) {
            return Some(Remedy::HomeHours(hours));
        }
        hours += STEP_HOURS;
    }
    None
}

fn later(class: &Class, students: &[StudentPlan]) -> Option<Remedy> {
    let mut later = class.clone();
    let moved = |weeks: i64| {
        let last = date(class.schedule.last_day).saturating_add(weeks.weeks());
        Day { year: last.year(), month: last.month(), day: last.day() }
    };
    (1..=MOST_WEEKS).map(moved).find_map(|day| {
        later.schedule.last_day = day;
        meets(&later, students, 0.0).then_some(Remedy::LastDay(day))
    })
}

/// The largest quilt, one row or column less at a time, the longer side first, that nobody's may be larger than, if there is one; nothing once nobody wants
/// it any more.
fn smaller(class: &Class, looks: &[Look], students: &[StudentPlan], wanted: Wanted) -> Option<Option<Remedy>> {
    let size = |plan: &StudentPlan| looks[plan.look].blocks;
    let most = students.iter().map(size).fold([1, 1], |[rows, columns], [r, c]| [rows.max(r), columns.max(c)]);
    let mut sizes = vec![most];
    while let [rows, columns] = sizes[sizes.len() - 1]
        && rows * columns > 1
    {
        sizes.push(if rows >= columns { [rows - 1, columns] } else { [rows, columns - 1] });
    }
    let mut known = BTreeMap::new();
    let mut does = |[rows, columns]: [usize; 2]| {
        let capped: Option<Vec<StudentPlan>> = class
            .students
            .iter()
            .zip(students)
            .map(|(student, plan)| {
                let now = size(plan);
                let size = [now[0].min(rows), now[1].min(columns)];
                if size == now {
                    return Some(plan.clone());
                }
                let times = student.times.or(class.pace.times).unwrap_or(1.0);
                if let Entry::Vacant(entry) = known.entry(size) {
                    let quilt = resized(&looks[0].quilt, size).unwrap_or_else(|| looks[0].quilt.clone());
                    let plan = planned(&quilt, Budget::FIRST, wanted)?;
                    entry.insert((quilt, plan));
                }
                let (quilt, planned) = &known[&size];
                Some(StudentPlan { look: plan.look, hours: hours::of_plan(class, times, quilt, planned, &looks[0].cloths) })
            })
            .collect();
        Some(meets(class, &capped?, 0.0))
    };
    // Fewer blocks take fewer hours: the first that does is found by halving.
    let (mut too_large, mut fits) = (0, sizes.len() - 1);
    if fits == 0 || !does(sizes[fits])? {
        return Some(None);
    }
    while fits - too_large > 1 {
        let middle = usize::midpoint(too_large, fits);
        if does(sizes[middle])? { fits = middle } else { too_large = middle }
    }
    Some(Some(Remedy::Smaller(sizes[fits])))
}
