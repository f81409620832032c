//! The class: reading with places and suggestions, the text that a class begins with, schema.
//!
//! In: the text of a class and the quilt that it makes. Out: a checked [`Class`], or everything that is wrong with it. Work has an order, and
//! lessons keep it: what comes earlier is begun earlier. Whether dates can be met is worked out from the plan, not here.

use super::check::{Check, NAME_CHARS, names, shortened};
use super::ledger::other_format_of;
use super::parse::parse;
use super::problems::{FileError, FileKind, Problems};
use super::raw::*;
use super::write::text as quoted;
use crate::class::*;
use crate::{ClothId, Quilt, limits, mark, spoken};
use std::collections::BTreeSet;
use std::fmt::Write as _;
use tr::tr;

/// Hours of a lesson, hours a week at home, minutes of a pace, and how many times as long: the least and the most that are believed.
const LESSON_HOURS: (f64, f64) = (0.5, 12.0);
const WEEK_HOURS: (f64, f64) = (0.25, 80.0);
const MINUTES: (f64, f64) = (0.0, 600.0);
const TIMES: (f64, f64) = (0.1, 10.0);

/// Reads the text of a class that makes `quilt`.
///
/// # Errors
/// All problems that could be found, with their places.
pub fn read_class(text: &str, quilt: &Quilt) -> Result<Class, FileError> {
    let raw: RawClass = parse(FileKind::Class, text).map_err(|error| other_format_of(FileKind::Class, text).unwrap_or(error))?;
    if *raw.format != 1 {
        return Err(other_format_of(FileKind::Class, text).expect("it is another format"));
    }
    let mut problems = Problems::of(FileKind::Class);
    let mut cloths: Vec<String> = quilt.cloths.iter().map(|cloth| cloth.key.clone()).collect();
    for (key, _) in &raw.cloth.0 {
        if cloths.contains(key) {
            let reason = tr!("cloth `{written}` is one of the quilt's already", written = shortened(key));
            problems.add(key.span(), reason, tr!("give it another key here; its `name` may be the same"));
        }
    }
    cloths.extend(names(&raw.cloth));
    let mut check = Check { problems: &mut problems, measure: quilt.measure, cloths, blocks: Vec::new(), frames: Vec::new() };
    let class = class(&mut check, &raw, quilt);
    if problems.is_empty() { Ok(class) } else { Err(problems.finish(text)) }
}

/// JSON Schema of the class (as the data model that TOML and JSON share).
///
/// # Panics
/// Never: a schema is made of texts and numbers.
#[must_use]
pub fn class_json_schema() -> String {
    let schema = schemars::schema_for!(RawClass);
    serde_json::to_string_pretty(&schema).expect("a schema is made of texts and numbers") + "\n"
}

fn class(check: &mut Check<'_>, raw: &RawClass, quilt: &Quilt) -> Class {
    if *raw.quilt != quilt.name {
        let reason = tr!(
            "this is a class of `{value}`, and the quilt is called `{written}`",
            value = shortened(&raw.quilt),
            written = shortened(&quilt.name)
        );
        let help = tr!(
            "if it is the same quilt under a new name, write `quilt = {quoted}`; else it belongs beside another quilt",
            quoted = quoted(&quilt.name)
        );
        check.problems.add(raw.quilt.span(), reason, help);
    }
    check.keys(&raw.cloth, &tr!("cloths"), limits::CLOTHS);
    let schedule = check.schedule(&raw.schedule);
    Class {
        name: check.name(&raw.name),
        pace: check.pace(raw.pace.as_ref().unwrap_or(&RawPace::default())),
        kits: raw.kits.unwrap_or(true),
        cloths: raw.cloth.0.iter().map(|(key, cloth)| check.cloth(key, cloth)).collect(),
        students: check.students(&raw.student),
        lessons: check.lessons(&raw.lesson, &schedule),
        brings: check.brings(raw.bring.as_ref().unwrap_or(&RawBring::default())),
        items: check.items(&raw.item),
        schedule,
    }
}

impl Check<'_> {
    fn number_within(&mut self, raw: &At<f64>, key: &str, (least, most): (f64, f64)) -> f64 {
        if !(least..=most).contains(&**raw) {
            let reason = tr!("`{key}` is {value}, but must lie between {least} and {most}", key, value = **raw, least, most);
            let nearest = if **raw > most { most } else { least };
            self.problems.add(raw.span(), reason, tr!("the nearest that can be planned is {nearest}", nearest));
        }
        **raw
    }

    fn count_within(&mut self, raw: &At<i64>, key: &str, most: u32) -> u32 {
        u32::try_from(**raw).ok().filter(|count| (1..=most).contains(count)).unwrap_or_else(|| {
            let reason = tr!("`{key}` is {value}, but must lie between 1 and {most}", key, value = **raw, most);
            let nearest = if **raw > 1 { most } else { 1 };
            self.problems.add(raw.span(), reason, tr!("the nearest that can be planned is {nearest}", nearest));
            1
        })
    }

    fn day(&mut self, raw: &At<RawDate>) -> Day {
        let text = self.date(raw);
        let mut parts = text.split('-').map(|part| part.parse::<i16>().unwrap_or(1));
        let mut next = || parts.next().unwrap_or(1);
        let (year, month, day) = (next(), next(), next());
        if !(1900..=2999).contains(&year) {
            let help = tr!("write a year between 1900 and 2999");
            self.problems.add(raw.span(), tr!("`{written}` is no day for a class", written = shortened(&text)), help);
        }
        let small = |number: i16| i8::try_from(number).unwrap_or(1);
        Day { year, month: small(month), day: small(day) }
    }

    fn schedule(&mut self, raw: &RawSchedule) -> Schedule {
        let begins = raw.begins.as_ref().map(|day| self.day(day));
        let last_day = self.day(&raw.last_day);
        if let Some(first) = begins.filter(|first| *first > last_day) {
            let reason = tr!("`last-day` is {last_day}, before the class begins, {first}", last_day, first);
            self.problems.add(raw.last_day.span(), reason, tr!("exchange the two, or take a later day"));
        }
        if let Some(over) = raw.without.get(limits::DAYS_WITHOUT) {
            self.too_many(over.span(), raw.without.len(), &tr!("days without a lesson"), limits::DAYS_WITHOUT);
        }
        let lesson_hours = self.number_within(&raw.lesson_hours, "lesson-hours", LESSON_HOURS);
        let showing = raw.showing_hours.as_ref().map(|hours| self.number_within(hours, "showing-hours", (0.0, lesson_hours)));
        let home_hours = self.number_within(&raw.home_hours, "home-hours", WEEK_HOURS);
        let teacher = raw.teacher_hours.as_ref().map(|hours| self.number_within(hours, "teacher-hours", WEEK_HOURS));
        Schedule {
            begins,
            last_day,
            weekday: raw.weekday.into(),
            weeks_between: raw.weeks_between.as_ref().map_or(1, |weeks| self.count_within(weeks, "weeks-between", 26)),
            lesson_hours,
            // Half an hour: common practice. No more of a short lesson than half.
            showing_hours: showing.unwrap_or(f64::min(0.5, lesson_hours / 2.0)),
            home_hours,
            teacher_hours: teacher.unwrap_or(home_hours),
            without: raw.without.iter().take(limits::DAYS_WITHOUT).map(|day| self.day(day)).collect(),
        }
    }

    fn pace(&mut self, raw: &RawPace) -> Pace {
        let mut minutes = |raw: &Option<At<f64>>, key: &str| raw.as_ref().map(|raw| self.number_within(raw, key, MINUTES));
        let (cut, piece) = (minutes(&raw.cut, "cut"), minutes(&raw.piece, "piece"));
        let (layer, edge) = (minutes(&raw.layer, "layer"), minutes(&raw.edge, "edge"));
        Pace { cut, piece, layer, edge, times: raw.times.as_ref().map(|times| self.number_within(times, "times", TIMES)) }
    }

    fn brings(&mut self, raw: &RawBring) -> Brings {
        let by = |raw: Option<RawBringer>, usual: Bringer| raw.map_or(usual, Bringer::from);
        Brings {
            cloth: by(raw.cloth, Bringer::Teacher),
            cloths: raw.cloths.0.iter().map(|(key, by)| (self.cloth_id(key), (*by).into())).collect(),
            batting: by(raw.batting, Bringer::Teacher),
            thread: by(raw.thread, Bringer::Student),
        }
    }

    fn students(&mut self, raw: &[RawStudent]) -> Vec<Student> {
        if let Some(over) = raw.get(limits::STUDENTS) {
            self.too_many(over.name.span(), raw.len(), &tr!("students"), limits::STUDENTS);
        }
        let mut seen = BTreeSet::new();
        raw.iter().take(limits::STUDENTS).map(|student| self.student(student, &mut seen)).collect()
    }

    fn student<'a>(&mut self, raw: &'a RawStudent, seen: &mut BTreeSet<&'a str>) -> Student {
        if !seen.insert(raw.name.trim()) {
            let reason = tr!("there are two students called `{value}`", value = shortened(&raw.name));
            self.problems.add(raw.name.span(), reason, tr!("kits bear the names: give one of them another"));
        }
        let [rows, columns] = [(&raw.rows, "rows"), (&raw.columns, "columns")]
            .map(|(raw, key)| raw.as_ref().map(|count| self.count_within(count, key, 100) as usize));
        let size = match &raw.covers {
            Some(bed) => {
                if rows.or(columns).is_some() {
                    let help = tr!("keep `covers`, or `rows` and `columns`");
                    self.problems.add(bed.span(), tr!("the size is said twice"), help);
                }
                self.standard(bed).map_or(StudentSize::AsPlanned, StudentSize::Covers)
            }
            None if rows.or(columns).is_some() => StudentSize::Blocks { rows, columns },
            None => StudentSize::AsPlanned,
        };
        Student {
            name: self.words(&raw.name, &tr!("name"), NAME_CHARS).trim().to_owned(),
            size,
            swaps: raw.swap.0.iter().map(|(from, to)| (self.cloth_id(from), self.cloth_id(to))).collect(),
            home_hours: raw.home_hours.as_ref().map(|hours| self.number_within(hours, "home-hours", WEEK_HOURS)),
            times: raw.times.as_ref().map(|times| self.number_within(times, "times", TIMES)),
        }
    }

    fn lessons(&mut self, raw: &[At<RawLesson>], schedule: &Schedule) -> Vec<Lesson> {
        if let Some(over) = raw.get(limits::LESSONS) {
            self.too_many(over.span(), raw.len(), &tr!("lessons"), limits::LESSONS);
        }
        let mut lessons: Vec<Lesson> = Vec::new();
        for one in raw.iter().take(limits::LESSONS) {
            let lesson = self.lesson(one, schedule);
            self.keeps_the_order(one, &lesson, &lessons);
            lessons.push(lesson);
        }
        lessons
    }

    fn lesson(&mut self, raw: &RawLesson, schedule: &Schedule) -> Lesson {
        let mut work: Vec<Work> = raw.work.iter().map(|work| (*work).into()).collect();
        work.sort();
        work.dedup();
        if work.is_empty() {
            let help = tr!("write one or more of `cut`, `piece`, `layer`, `quilt`, `join`, `edge`");
            self.problems.add(raw.work.span(), tr!("a lesson without work"), help);
            work.push(Work::Cut);
        }
        let hours = raw.hours.as_ref().map(|hours| self.number_within(hours, "hours", LESSON_HOURS));
        if let (Some(short), Some(at)) = (hours.filter(|hours| *hours < schedule.showing_hours), &raw.hours) {
            let reason = tr!(
                "the lesson has {short} hours, less than the {showing_hours} that are shown in each",
                short,
                showing_hours = schedule.showing_hours
            );
            self.problems.add(at.span(), reason, tr!("make it longer, or lessen `showing-hours`"));
        }
        Lesson {
            name: raw.name.as_ref().map(|name| self.name(name)),
            work,
            date: raw.date.as_ref().map(|date| self.day(date)),
            hours,
            ready: raw.ready.as_ref().map_or(100.0, |ready| self.number_within(ready, "ready", (0.0, 100.0))),
            note: raw.note.as_ref().map(|note| self.note(note)),
        }
    }

    /// What comes earlier is begun earlier, and fixed days follow one another.
    fn keeps_the_order(&mut self, raw: &RawLesson, lesson: &Lesson, before: &[Lesson]) {
        let known: Vec<Work> = before.iter().flat_map(|lesson| lesson.work.clone()).collect();
        let (number, latest) = (before.len() + 1, known.iter().max());
        let begun = lesson.work.iter().find(|work| !known.contains(work));
        if let (Some(begun), Some(latest)) = (begun, latest)
            && begun < latest
        {
            let reason = tr!(
                "lesson {number} begins with {begun}, which comes before the {latest} of an earlier lesson",
                number,
                begun = begun.said(),
                latest = latest.said()
            );
            self.problems.add(raw.work.span(), reason, tr!("put the lessons into the order of the work"));
        }
        let first_of = |lesson: &Lesson| lesson.work.first().copied();
        if before.iter().any(|earlier| first_of(earlier) > first_of(lesson)) && begun.is_none_or(|begun| Some(begun) > latest) {
            let reason = tr!("lesson {number} goes back to what is done before an earlier lesson", number);
            self.problems.add(raw.work.span(), reason, tr!("put the lessons into the order of the work"));
        }
        let earlier = before.iter().rev().find_map(|lesson| lesson.date);
        if let (Some(raw), Some(date), Some(earlier)) = (&raw.date, lesson.date, earlier)
            && date <= earlier
        {
            let reason = tr!("lesson {number} is on {date}, not after an earlier one on {earlier}", number, date, earlier);
            self.problems.add(raw.span(), reason, tr!("put the lessons into the order of their days"));
        }
    }

    fn items(&mut self, raw: &[RawItem]) -> Vec<Item> {
        if let Some(over) = raw.get(limits::ITEMS) {
            self.too_many(over.name.span(), raw.len(), &tr!("items"), limits::ITEMS);
        }
        let most = u32::try_from(limits::STUDENTS).unwrap_or(u32::MAX);
        let item = |raw: &RawItem| Item {
            name: self.words(&raw.name, &tr!("name"), NAME_CHARS),
            count: raw.count.as_ref().map_or(1, |count| self.count_within(count, "count", 1000)),
            among: raw.among.as_ref().map(|among| self.count_within(among, "among", most)),
            by: raw.by.map_or(Bringer::Student, Bringer::from),
            work: raw.work.iter().map(|work| (*work).into()).collect(),
        };
        raw.iter().take(limits::ITEMS).map(item).collect()
    }
}

impl From<RawWeekday> for Weekday {
    fn from(day: RawWeekday) -> Self {
        match day {
            RawWeekday::Monday => Self::Monday,
            RawWeekday::Tuesday => Self::Tuesday,
            RawWeekday::Wednesday => Self::Wednesday,
            RawWeekday::Thursday => Self::Thursday,
            RawWeekday::Friday => Self::Friday,
            RawWeekday::Saturday => Self::Saturday,
            RawWeekday::Sunday => Self::Sunday,
        }
    }
}

impl From<RawWork> for Work {
    fn from(work: RawWork) -> Self {
        match work {
            RawWork::Cut => Self::Cut,
            RawWork::Piece => Self::Piece,
            RawWork::Layer => Self::Layer,
            RawWork::Quilt => Self::Quilt,
            RawWork::Join => Self::Join,
            RawWork::Edge => Self::Edge,
        }
    }
}

impl From<RawBringer> for Bringer {
    fn from(by: RawBringer) -> Self {
        match by {
            RawBringer::Teacher => Self::Teacher,
            RawBringer::Student => Self::Student,
            RawBringer::Shared => Self::Shared,
        }
    }
}

/// What a class begins with, to be made the teacher's own: a lesson for each kind of work, and tools, each with who brings it, how many,
/// for how many students, and for which work. Source: common practice.
const LESSONS: [(&str, &str); 6] = [
    (mark!("First blocks"), "\"cut\", \"piece\""),
    (mark!("More blocks"), "\"piece\""),
    (mark!("Layers and first stitches"), "\"layer\", \"quilt\""),
    (mark!("Quilting in the lap"), "\"quilt\""),
    (mark!("Joining"), "\"join\""),
    (mark!("The edge"), "\"edge\""),
];
const ITEMS: [(&str, &str, u32, Option<u32>, &str); 13] = [
    (mark!("Sewing machine with its cord, pedal and a fresh needle"), "student", 1, None, "\"piece\", \"join\", \"edge\""),
    (mark!("Rotary cutter with a fresh blade"), "student", 1, None, "\"cut\", \"join\""),
    (mark!("Cutting mat"), "shared", 1, Some(2), "\"cut\", \"join\""),
    (mark!("Long ruler"), "shared", 1, Some(2), "\"cut\", \"join\""),
    (mark!("Scissors and seam ripper"), "student", 1, None, ""),
    (mark!("Iron with its board"), "shared", 1, Some(4), "\"piece\", \"join\", \"edge\""),
    (mark!("Extension cord, taped to the floor"), "teacher", 1, Some(4), "\"piece\", \"join\", \"edge\""),
    (mark!("Pins, counted, in their tin"), "student", 60, None, "\"piece\", \"join\", \"edge\""),
    (mark!("Safety pins for layering"), "student", 40, None, "\"layer\""),
    (mark!("Hand needles for quilting"), "student", 3, None, "\"quilt\", \"join\", \"edge\""),
    (mark!("Thimble"), "student", 1, None, "\"quilt\", \"join\", \"edge\""),
    (mark!("Marking pencil"), "student", 1, None, "\"quilt\""),
    (mark!("Lap hoop, where you like one"), "student", 1, None, "\"quilt\""),
];

/// The text that a class of `quilt` begins with, ending on `last_day`: students with stand-ins for names, lessons, tools.
#[must_use]
pub fn new_class(quilt: &Quilt, name: &str, last_day: Day, students: usize) -> String {
    let mut out = format!(
        "# A class of Seamfall. Names of students stay in this file, on this machine.\nformat = 1\nquilt = {}\nname = {}\nkits = true\n",
        quoted(&quilt.name),
        quoted(name)
    );
    let _ = writeln!(
        out,
        "\n[schedule]\nlast-day = {last_day}\nweekday = \"thursday\"\nlesson-hours = 2.5\nhome-hours = {}",
        crate::decimal(quilt.lap.hours_a_week, 2)
    );
    out.push_str("\n[bring]\ncloth = \"teacher\"\nbatting = \"teacher\"\nthread = \"student\"\n");
    for number in 1..=students {
        let _ = writeln!(out, "\n[[student]]\nname = {}", quoted(&tr!("Student {number}", number)));
    }
    for (name, work) in LESSONS {
        let _ = writeln!(out, "\n[[lesson]]\nname = {}\nwork = [{work}]", quoted(&spoken(name)));
    }
    for (name, by, count, among, work) in ITEMS {
        let _ = writeln!(out, "\n[[item]]\nname = {}\nby = \"{by}\"", quoted(&spoken(name)));
        if count > 1 {
            let _ = writeln!(out, "count = {count}");
        }
        if let Some(among) = among {
            let _ = writeln!(out, "among = {among}");
        }
        if !work.is_empty() {
            let _ = writeln!(out, "work = [{work}]");
        }
    }
    out
}

impl Class {
    /// The cloth of a number that goes on from the cloths of the quilt to those of the class.
    #[must_use]
    pub fn cloth<'a>(&'a self, quilt: &'a Quilt, id: ClothId) -> &'a crate::Cloth {
        quilt.cloths.get(id.0).unwrap_or_else(|| &self.cloths[id.0 - quilt.cloths.len()])
    }
}
