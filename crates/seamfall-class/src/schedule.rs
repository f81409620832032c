//! Working back from the last day: when each lesson is, and what must be done before it.
//!
//! In: lessons with their work, hours of every student, hours of a lesson and a week at home. Out: the latest day of each lesson that is late
//! enough for nobody to idle and early enough for everybody to be done; and for each student what must be done by then.
//!
//! Work is done in its order. What no lesson has begun cannot be done yet; what a lesson needs must be done before it. From the last day
//! back: before a lesson must be done what is left afterwards, less the lesson's own hours and those at home until the next. If that is more
//! than was begun by then, the lesson is moved to an earlier week. Of several lessons on one kind of work the second needs an equal share of it done.

use crate::StudentPlan;
use crate::hours::Hours;
use crate::remedy::Remedy;
use jiff::ToSpan;
use jiff::civil::Date;
use seamfall_model::class::{Class, Day, Lesson, Schedule, Weekday, Work};
use seamfall_model::{ClassRule, Finding, Rounding, Rule, Spot, Working, decimal, term};
use tr::tr;

/// Hours that are forgiven: what arithmetic leaves behind.
const SLACK: f64 = 1e-9;

/// When what is done.
#[derive(Debug, Clone, PartialEq)]
pub struct Timetable {
    /// One a lesson.
    pub lessons: Vec<LessonDay>,
    /// When the teacher must begin to cut kits, where she does, and the hours it takes.
    pub kits: Option<(Day, f64)>,
    /// When the first work must be begun: the first lesson, or without lessons at home.
    pub begin: Day,
    /// Days by which that is too early, where it cannot be met.
    pub short: Option<i64>,
    /// What would do then.
    pub remedies: Vec<Remedy>,
}

/// A lesson on its day.
#[derive(Debug, Clone, PartialEq)]
pub struct LessonDay {
    /// The day.
    pub day: Day,
    /// Days until the next lesson, or from the last to the last day.
    pub until_next: i64,
    /// Hours that are worked in it.
    pub work: f64,
    /// What each student does, in the order of the class.
    pub parts: Vec<Part>,
    /// The student who needs the time until the next, where it is more than the least.
    pub held_by: Option<usize>,
    /// For a day that is fixed: hours by which the slowest student cannot be ready, and who that is.
    pub late: Option<(usize, f64)>,
}

/// What a student does about a lesson.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Hours that must be done before the lesson.
    pub before: Working,
    /// Hours done in the lesson.
    pub in_lesson: f64,
    /// Hours done at home until the next, or until the last day.
    pub at_home: f64,
}

/// A day as the calendar knows it.
pub(crate) fn date(day: Day) -> Date {
    Date::new(day.year, day.month, day.day).expect("a class is checked for it")
}

fn day(date: Date) -> Day {
    Day { year: date.year(), month: date.month(), day: date.day() }
}

fn less(date: Date, days: i64) -> Date {
    date.saturating_sub(days.days())
}

/// Days from one day to a later one.
pub(crate) fn days(from: Date, to: Date) -> i64 {
    i64::from((to - from).get_days())
}

/// The last such day of the week, not after `date`, that is not without a lesson.
fn on_or_before(date: Date, schedule: &Schedule) -> Date {
    let back = (i64::from(date.weekday().to_monday_zero_offset()) - schedule.weekday as i64).rem_euclid(7);
    let mut found = less(date, back);
    while schedule.without.contains(&day(found)) {
        found = less(found, 7);
    }
    found
}

/// `Thursday`.
pub(crate) fn weekday(of: Day) -> Weekday {
    Weekday::ALL[usize::try_from(date(of).weekday().to_monday_zero_offset()).expect("from 0 to 6")]
}

/// What each lesson takes and needs, of one student.
pub(crate) struct Lines {
    /// Hours that must be done before lesson `k`.
    needs: Vec<f64>,
    /// Hours that can have been done before lesson `k`: what was begun.
    begun: Vec<f64>,
    all: f64,
    /// Hours a week at home.
    rate: f64,
}

/// Where every student stands.
pub(crate) fn lines(class: &Class, hours: &Hours, rate: f64) -> Lines {
    let mut begun = Vec::new();
    let mut known = 0.0;
    let mut needs: Vec<f64> = Vec::new();
    for (number, lesson) in class.lessons.iter().enumerate() {
        begun.push(known);
        known = lesson.work.iter().map(|work| hours.before(*work) + hours.of(*work)).fold(known, f64::max);
        let need = needed(class, hours, number, lesson);
        // What was begun last is untaught before; a share of it cannot be wanted of anybody.
        needs.push(f64::max(need, needs.last().copied().unwrap_or(0.0)));
    }
    let all = hours.all.value;
    // What no lesson teaches is known: it may be done before the first lesson, and follow what was begun last.
    let taught = |work: &Work| class.lessons.iter().any(|lesson| lesson.work.contains(work));
    for (number, begun) in begun.iter_mut().enumerate() {
        let latest = class.lessons[..number].iter().flat_map(|lesson| &lesson.work).max().copied();
        let after = Work::ALL.into_iter().filter(|work| Some(*work) > latest);
        *begun += after.take_while(|work| !taught(work)).map(|work| hours.of(work)).sum::<f64>();
    }
    Lines { needs, begun, all, rate }
}

/// Hours that lesson `number` needs to be done.
fn needed(class: &Class, hours: &Hours, number: usize, lesson: &Lesson) -> f64 {
    let first = *lesson.work.first().expect("a lesson has work");
    let on_it = |lessons: &[Lesson]| lessons.iter().filter(|lesson| lesson.work.contains(&first)).count() as f64;
    let share = on_it(&class.lessons[..number]) / on_it(&class.lessons);
    (hours.before(first) + share * hours.of(first)) * lesson.ready / 100.0
}

impl Lines {
    /// Days that must lie between a lesson and what follows it, where `need` must be done.
    fn days(&self, lesson: usize, work: f64, need: f64) -> i64 {
        let at_home = need - work - self.begun[lesson];
        #[expect(clippy::cast_possible_truncation, reason = "hours and paces are limited: it is less than a million days")]
        let days = (at_home / self.rate * 7.0 - SLACK).ceil() as i64;
        days.max(0)
    }
}

/// Works back through all lessons.
pub(crate) fn work_back(class: &Class, lines: &[Lines]) -> Vec<LessonDay> {
    let schedule = &class.schedule;
    let last = date(schedule.last_day);
    let mut need: Vec<f64> = lines.iter().map(|line| line.all).collect();
    let mut next = last;
    let mut found: Vec<LessonDay> = Vec::new();
    for (number, lesson) in class.lessons.iter().enumerate().rev() {
        let is_last = number + 1 == class.lessons.len();
        let work = lesson.hours.unwrap_or(schedule.lesson_hours) - schedule.showing_hours;
        let least = if is_last { 0 } else { 7 * i64::from(schedule.weeks_between) };
        let wanted: Vec<i64> = lines.iter().zip(&need).map(|(line, need)| line.days(number, work, *need)).collect();
        let longest = wanted.iter().copied().max().unwrap_or(0);
        let today = match lesson.date {
            Some(fixed) => date(fixed),
            None => on_or_before(less(next, longest.max(least)), schedule),
        };
        let until_next = days(today, next);
        let held_by = wanted.iter().position(|days| *days == longest && longest > least);
        let mut late: Option<(usize, f64)> = None;
        let mut parts = Vec::new();
        for (student, line) in lines.iter().enumerate() {
            let part = part(line, number, work, need[student], until_next);
            let over = part.before.value - line.begun[number];
            if over > SLACK && late.is_none_or(|(_, most)| over > most) {
                late = Some((student, over));
            }
            need[student] = part.before.value.min(line.begun[number]);
            parts.push(part);
        }
        found.push(LessonDay { day: day(today), until_next, work, parts, held_by, late });
        next = today;
    }
    found.reverse();
    found
}

/// What one student does about a lesson after which `need` must be done within so many days.
fn part(line: &Lines, lesson: usize, work: f64, need: f64, until_next: i64) -> Part {
    let home = line.rate / 7.0 * until_next.max(0) as f64;
    let reached = term(&tr!("still to be done"), need) - term(&tr!("in the lesson"), work) - term(&tr!("at home"), home);
    let least = line.needs[lesson].min(line.begun[lesson]);
    let before = if reached.value() > least { reached } else { term(&tr!("what the lesson needs"), least) };
    let before = Working::new(Rule::Class(ClassRule::Before), &tr!("hours before the lesson"), before, Rounding::Exact);
    let done = (need - before.value.min(line.begun[lesson])).max(0.0);
    let in_lesson = done.min(work);
    Part { before, in_lesson, at_home: done - in_lesson }
}

/// How many days too early the first work would have to be begun.
pub(crate) fn short(class: &Class, lessons: &[LessonDay]) -> Option<i64> {
    let first = lessons.first()?;
    let begins = class.schedule.begins?;
    let short = days(date(first.day), date(begins));
    (short > 0).then_some(short)
}

/// Lines of all students, with at least so many hours a week.
pub(crate) fn lines_of(class: &Class, students: &[StudentPlan], least: f64) -> Vec<Lines> {
    let rate = |number: usize| class.students[number].home_hours.unwrap_or(class.schedule.home_hours).max(least);
    students.iter().enumerate().map(|(number, student)| lines(class, &student.hours, rate(number))).collect()
}

/// The timetable of a class, without its remedies.
pub(crate) fn timetable(class: &Class, students: &[StudentPlan], findings: &mut Vec<Finding>) -> Timetable {
    let lessons = work_back(class, &lines_of(class, students, 0.0));
    let begin = match lessons.first() {
        Some(lesson) => at_home_before(class, lesson),
        None => alone_at_home(class, students),
    };
    let kit_hours: f64 = students.iter().filter_map(|student| student.hours.kit.as_ref()).map(|hours| hours.value).sum();
    let kits = (class.kits && kit_hours > 0.0).then(|| {
        #[expect(clippy::cast_possible_truncation, reason = "hours and paces are limited: it is less than a million days")]
        let days = (kit_hours / class.schedule.teacher_hours * 7.0 - SLACK).ceil() as i64;
        (day(less(date(begin), days)), kit_hours)
    });
    if class.lessons.is_empty() {
        findings.push(Finding::note(Spot::Quilt, tr!("there is no lesson yet")).help(tr!("add the first one")));
    }
    let short = short(class, &lessons);
    Timetable { lessons, kits, begin, short, remedies: Vec::new() }
}

/// When the first work must be begun: on the day of the first lesson, or before it where something is known and done at home by then.
fn at_home_before(class: &Class, lesson: &LessonDay) -> Day {
    let days = lesson.parts.iter().zip(&class.students).map(|(part, student)| {
        let rate = student.home_hours.unwrap_or(class.schedule.home_hours);
        #[expect(clippy::cast_possible_truncation, reason = "hours and paces are limited: it is less than a million days")]
        let days = (part.before.value / rate * 7.0 - SLACK).ceil() as i64;
        days
    });
    day(less(date(lesson.day), days.max().unwrap_or(0)))
}

/// When the slowest would have to begin without any lesson.
fn alone_at_home(class: &Class, students: &[StudentPlan]) -> Day {
    let days = students.iter().zip(&class.students).map(|(plan, student)| {
        let rate = student.home_hours.unwrap_or(class.schedule.home_hours);
        #[expect(clippy::cast_possible_truncation, reason = "hours and paces are limited: it is less than a million days")]
        let days = (plan.hours.all.value / rate * 7.0 - SLACK).ceil() as i64;
        days
    });
    day(less(date(class.schedule.last_day), days.max().unwrap_or(0)))
}

/// What is to be said of the dates.
pub(crate) fn say(class: &Class, timetable: &Timetable, findings: &mut Vec<Finding>) {
    let last = class.schedule.last_day;
    let ways =
        || timetable.remedies.iter().map(Remedy::said).reduce(|all, one| tr!("{all}; or {one}", all, one)).unwrap_or_default();
    if let (Some(short), Some(begins)) = (timetable.short, class.schedule.begins) {
        let reason = tr!(
            "{last} cannot be met: the first lesson would have to be on {day}, and the class begins on {begins}, 1 day too late"
                | "{last} cannot be met: the first lesson would have to be on {day}, and the class begins on {begins}, {n} days too late"
                    % short,
            last,
            day = timetable.lessons[0].day,
            begins
        );
        findings.push(Finding::stop(Spot::Quilt, reason).help(ways()));
    }
    for (number, lesson) in timetable.lessons.iter().enumerate() {
        if let Some((student, hours)) = lesson.late {
            let reason = tr!(
                "lesson {number} on {day} comes too late or too soon: {student} would need {hours} h more before it than has been begun by then",
                number = number + 1,
                day = lesson.day,
                student = class.students[student].name,
                hours = decimal(hours, 1)
            );
            let help = tr!("leave its `date` out, so that it is worked back, or give it and the lessons about it other days");
            findings.push(Finding::stop(Spot::Quilt, reason).help(help));
        }
        if lesson.until_next < 0 {
            let reason = tr!("lesson {number} on {day} lies after what follows it", number = number + 1, day = lesson.day);
            findings.push(Finding::stop(Spot::Quilt, reason).help(tr!("take an earlier day, or a later last day")));
        }
    }
    if let Some((day, hours)) = timetable.kits {
        let reason = tr!(
            "all kits take {hours} h to cut: begin by {day} to have them for the first lesson",
            hours = decimal(hours, 1),
            day
        );
        findings.push(Finding::note(Spot::Quilt, reason));
    }
    let taught: Vec<Work> = class.lessons.iter().flat_map(|lesson| lesson.work.clone()).collect();
    let missing = |work: &Work| !(taught.contains(work) || class.kits && *work == Work::Cut);
    let missing: Vec<String> = Work::ALL.into_iter().filter(missing).map(Work::said).collect();
    if !class.lessons.is_empty() && !missing.is_empty() {
        let reason = tr!("no lesson teaches {missing}; it is taken to be known, and done at home", missing = missing.join(", "));
        findings.push(Finding::warn(Spot::Quilt, reason).help(tr!("add it to a lesson, or another lesson for it")));
    }
}
