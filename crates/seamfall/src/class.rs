//! A class on the command line: reads the class and the quilt beside it, and tells what follows from them.
//!
//! In: `class FILE.class.toml`, and `new FILE.class.toml`. Out: text or JSON; the file that a class begins with.

use crate::args::Paper;
use crate::failure::Failure;
use crate::files;
use clap::Args;
use seamfall_class::{ClassPlan, Handout, words};
use seamfall_cutting::Budget;
use seamfall_model::class::{Class, Day, Work};
use seamfall_model::{Quilt, decimal};
use seamfall_plan::words as plan_words;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use tr::tr;

/// What a class is asked.
#[derive(Debug, Args)]
pub struct Options {
    /// The class, a file that ends in .class.toml
    pub file: PathBuf,
    /// Its quilt file; the one of the same name beside it unless said
    #[arg(long)]
    pub quilt: Option<PathBuf>,
    /// All of it as JSON; `seamfall schema class-plan` describes it
    #[arg(long)]
    pub json: bool,
    /// Search longer for less cloth
    #[arg(long)]
    pub longer: bool,
    /// Also write dates, handouts, strips and kits into this file (PDF)
    #[arg(long, value_name = "OUT.pdf")]
    pub handouts: Option<PathBuf>,
    /// Paper of the handouts
    #[arg(long, value_enum, default_value_t = Paper::Letter)]
    pub paper: Paper,
}

/// What a class begins with.
#[derive(Debug, Args)]
pub struct Begin {
    /// Begin a class instead of a quilt, of the quilt file of the same name beside it
    #[arg(long, conflicts_with_all = ["cm", "bed", "block"])]
    pub class: bool,
    /// Of a class: its quilt file, where it is another
    #[arg(long, requires = "class")]
    pub quilt: Option<PathBuf>,
    /// Of a class: how many students
    #[arg(long, requires = "class", default_value_t = 6, value_parser = clap::value_parser!(u8).range(1..=60))]
    pub students: u8,
    /// Of a class: the day on which all quilts are done, such as 2027-05-27; half a year from today unless said
    #[arg(long, requires = "class", value_parser = day)]
    pub last_day: Option<Day>,
}

/// A day as it is typed.
fn day(typed: &str) -> Result<Day, String> {
    let date: jiff::civil::Date =
        typed.parse().map_err(|_| tr!("this is no day of the calendar; write year, month and day, like 2027-05-27"))?;
    Ok(of_date(date))
}

fn of_date(date: jiff::civil::Date) -> Day {
    Day { year: date.year(), month: date.month(), day: date.day() }
}

/// A class with its quilt, planned.
pub struct Planned {
    pub class: Class,
    pub quilt: Quilt,
    pub plan: ClassPlan,
}

/// Reads and plans a class.
pub fn planned(options: &Options) -> Result<Planned, Failure> {
    let text = files::read(&options.file)?;
    let quilt = quilt(&options.file, options.quilt.as_deref())?;
    let class = seamfall_model::read_class(&text, &quilt).map_err(|error| Failure::Quilt {
        error,
        name: options.file.display().to_string(),
        text,
    })?;
    let budget = if options.longer { Budget::FULL } else { Budget::QUICK };
    let plan = seamfall_class::class(&quilt, &class, budget);
    Ok(Planned { class, quilt, plan })
}

/// Writes what is printed, where it is asked for.
pub fn print(planned: &Planned, options: &Options) -> Result<(), Failure> {
    let Some(out) = &options.handouts else { return Ok(()) };
    let pdf = seamfall_book::class_pdf(&planned.quilt, &planned.class, &planned.plan, options.paper.into());
    let pdf = pdf.map_err(|error| Failure::Book(error.to_string()))?;
    files::write(out, &pdf)
}

fn quilt(class: &Path, named: Option<&Path>) -> Result<Quilt, Failure> {
    let file = named.map_or_else(|| files::beside(class, "quilt.toml"), Path::to_owned);
    let text = files::read(&file)?;
    seamfall_model::read(&text).map_err(|error| Failure::Quilt { error, name: file.display().to_string(), text })
}

/// The text that a class begins with.
pub fn begun(file: &Path, name: &str, begin: &Begin) -> Result<String, Failure> {
    let quilt = quilt(file, begin.quilt.as_deref())?;
    let half_a_year = || of_date(jiff::Zoned::now().date().saturating_add(jiff::Span::new().weeks(26)));
    let last_day = begin.last_day.unwrap_or_else(half_a_year);
    Ok(seamfall_model::new_class(&quilt, name, last_day, usize::from(begin.students)))
}

/// All of it in plain words.
pub fn report(planned: &Planned) -> String {
    let Planned { class, quilt, plan } = planned;
    let mut text = String::new();
    let mut line = |words: String| {
        text.push_str(words.trim_end());
        text.push('\n');
    };
    line(tr!("{class}: {students} students make {name}", class = class.name, students = class.students.len(), name = quilt.name));
    line(String::new());
    line(tr!("Students"));
    for (number, student) in class.students.iter().enumerate() {
        let swaps = words::cloths(quilt, class, number);
        let swaps = if swaps.is_empty() { swaps } else { format!("; {swaps}") };
        let hours = plan_words::hours(plan.students[number].hours.all.value);
        line(format!("  {:<20} {}, {hours}{swaps}", student.name, words::size(plan.look(number))));
    }
    line(String::new());
    schedule(class, plan, &mut line);
    cloth(class, plan, &mut line);
    line(String::new());
    line(tr!("Who brings what"));
    for supply in &plan.supplies {
        let note = supply.note.as_ref().map_or_else(String::new, |note| format!(" ({note})"));
        line(format!("  {:<13} {:<32} {}{note}", words::bringer(supply.by), supply.what, supply.all));
    }
    for handout in &plan.handouts {
        line(String::new());
        self::handout(class, plan, handout, &mut line);
    }
    line(String::new());
    let _ = write!(text, "{}", crate::report::findings(&plan.findings));
    text
}

fn schedule(class: &Class, plan: &ClassPlan, line: &mut impl FnMut(String)) {
    let timetable = &plan.timetable;
    line(tr!("Schedule, worked back"));
    if let Some((day, hours)) = timetable.kits {
        line(format!("  {:<30} {}", words::day(day), tr!("begin to cut the kits, {hours} h", hours = decimal(hours, 1))));
    }
    for (number, lesson) in timetable.lessons.iter().enumerate() {
        let handout = &plan.handouts[number];
        let said = tr!("lesson {number}: {title}", number = number + 1, title = handout.title);
        let said = match lesson.held_by {
            Some(student) => tr!(
                "{said}; {student} needs the {days} days after it",
                said,
                student = class.students[student].name,
                days = lesson.until_next
            ),
            None => said,
        };
        line(format!("  {:<30} {said}", words::day(lesson.day)));
    }
    line(format!("  {:<30} {}", words::day(class.schedule.last_day), tr!("all done")));
    line(String::new());
    line(format!("{:<5}{:>23}", tr!("Hours"), Work::ALL.map(|work| format!("{:>10}", work.named())).concat()));
    for (student, own) in plan.students.iter().enumerate() {
        let hours = own.hours.each.iter().map(|hours| format!("{:>10}", decimal(hours.value, 1))).collect::<String>();
        line(format!(
            "  {:<20} {hours}  {}",
            class.students[student].name,
            tr!("in all {hours}", hours = decimal(own.hours.all.value, 1))
        ));
    }
}

fn cloth(class: &Class, plan: &ClassPlan, line: &mut impl FnMut(String)) {
    for pooled in &plan.pool.materials {
        let Some(bought) = pooled.bought.map(|bought| &plan.pool.cutting.bought[bought]) else { continue };
        line(String::new());
        line(tr!(
            "{cloth}: {bought} together",
            cloth = pooled.of.name(&plan.pool.quilt),
            bought = bought.shown(&plan.pool.quilt)
        ));
        line(format!("  {}", words::pooled(plan, pooled).unwrap_or_default()));
        for strips in &pooled.strips {
            line(format!("  {:<26} {}", words::strips(strips), words::gives(class, &plan.pool, bought, strips)));
        }
    }
    line(String::new());
    line(tr!("Kits"));
    for (student, own) in class.students.iter().enumerate() {
        line(format!("  {}", own.name));
        for pooled in &plan.pool.materials {
            let Some(bought) = pooled.bought.map(|bought| &plan.pool.cutting.bought[bought]) else { continue };
            let pieces = pooled.kits.iter().filter(|piece| piece.student == student);
            let pieces: Vec<String> = pieces.map(|piece| words::kit_piece(&plan.pool, bought, piece)).collect();
            if !pieces.is_empty() {
                line(format!("    {}: {}", pooled.of.name(&plan.pool.quilt), pieces.join("; ")));
            }
        }
    }
}

fn handout(class: &Class, plan: &ClassPlan, handout: &Handout, line: &mut impl FnMut(String)) {
    line(tr!(
        "Lesson {lesson}: {title}, {day}",
        lesson = handout.lesson + 1,
        title = handout.title,
        day = words::day(handout.day)
    ));
    handout.note.iter().for_each(|note| line(format!("  {note}")));
    for step in &handout.steps {
        line(format!("  - {}", step.text));
    }
    let bring = plan.supplies.iter().filter(|supply| supply.is_told(&handout.work));
    line(format!(
        "  {}",
        tr!("Bring: {things}", things = bring.map(|supply| supply.what.as_str()).collect::<Vec<_>>().join("; "))
    ));
    line(format!("  {}", tr!("At home until {day}:", day = words::day(handout.until))));
    for home in &handout.home {
        let hours = if home.hours > 0.0 { plan_words::hours(home.hours) } else { tr!("nothing") };
        line(format!(
            "    {:<20} {hours:>8}, {}",
            class.students[home.student].name,
            tr!("then: {reached}", reached = home.reached)
        ));
    }
    for caution in &handout.cautions {
        line(format!("  {}: {}", caution.title(), caution.words()));
    }
}
