//! Days, lessons, kits and strips in words, the same on the page, on paper and in the terminal.

use crate::kits::{Given, KitPiece, StripKits};
use crate::pool::{Pool, Pooled};
use crate::schedule::{date, weekday};
use crate::{ClassPlan, Look};
use seamfall_model::class::{Bringer, Class, Day, Lesson, Work};
use seamfall_plan::cut::{ToBuy, kind_name};
use seamfall_plan::words as plan_words;
use tr::tr;

/// `Thursday, 4 February 2027`.
#[must_use]
pub fn day(day: Day) -> String {
    let date = date_in_words(day.year.into(), day.month.unsigned_abs(), day.day.unsigned_abs());
    tr!("{weekday}, {date}", weekday = capital(&weekday(day).said()), date)
}

/// `4 February 2027`: a day of the calendar.
#[must_use]
pub fn date_in_words(year: i32, month: u8, day: u8) -> String {
    let months = [
        tr!("month" => "January"),
        tr!("month" => "February"),
        tr!("month" => "March"),
        tr!("month" => "April"),
        tr!("month" => "May"),
        tr!("month" => "June"),
        tr!("month" => "July"),
        tr!("month" => "August"),
        tr!("month" => "September"),
        tr!("month" => "October"),
        tr!("month" => "November"),
        tr!("month" => "December"),
    ];
    let month = &months[usize::from(month.clamp(1, 12) - 1)];
    tr!("{day} {month} {year}", day, month, year)
}

/// Days from one day to another.
#[must_use]
pub fn days_between(from: Day, to: Day) -> i64 {
    crate::schedule::days(date(from), date(to))
}

/// With a capital letter.
#[must_use]
pub fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// What a lesson is called: as the teacher says, or by its work.
#[must_use]
pub fn title(lesson: &Lesson) -> String {
    lesson.name.clone().unwrap_or_else(|| capital(&works(&lesson.work)))
}

/// `piecing, layering and quilting`.
#[must_use]
pub fn works(work: &[Work]) -> String {
    let all: Vec<String> = work.iter().map(|work| work.said()).collect();
    match all.split_last() {
        Some((last, before)) if !before.is_empty() => tr!("{before} and {last}", before = before.join(", "), last),
        Some((last, _)) => last.clone(),
        None => tr!("all of it"),
    }
}

/// `the teacher`, `each student`, `shared`.
#[must_use]
pub fn bringer(by: Bringer) -> String {
    match by {
        Bringer::Teacher => tr!("the teacher"),
        Bringer::Student => tr!("each student"),
        Bringer::Shared => tr!("shared"),
    }
}

/// The size of a look: `87 × 102 in, 6 rows of 5`.
#[must_use]
pub fn size(look: &Look) -> String {
    let [rows, columns] = look.blocks;
    tr!(
        "{size}, {rows} rows of {columns}",
        size = plan_words::size(&look.quilt, look.plan.top.size.x, look.plan.top.size.y),
        rows,
        columns
    )
}

/// The cloths a student has of her own: `Rose instead of Night blue`.
#[must_use]
pub fn cloths(quilt: &seamfall_model::Quilt, class: &Class, student: usize) -> String {
    let swaps = class.students[student].swaps.iter();
    swaps
        .map(|(from, to)| {
            tr!("{to} instead of {cloth}", to = class.cloth(quilt, *to).name, cloth = class.cloth(quilt, *from).name)
        })
        .collect::<Vec<_>>()
        .join(", ")
}

/// A piece of a kit: `16 of 4 7/8 (c3), cut once corner to corner`.
#[must_use]
pub fn kit_piece(pool: &Pool, bought: &ToBuy, piece: &KitPiece) -> String {
    let cut = &pool.cutting.pieces[piece.of.piece];
    let name = kind_name(&pool.cutting, bought, piece.of);
    let size = match &bought.laid {
        Some(seamfall_plan::cut::Laid::OffTheBolt(laid)) if piece.of.part != seamfall_plan::cut::Part::Whole => {
            let kind = &laid.job.kinds()[piece.kind];
            let ticks = f64::from(seamfall_plan::cut::ticks_per_unit(pool.quilt.step));
            let side = |side: u32| plan_words::length(&pool.quilt, f64::from(side) / ticks);
            format!("{} × {}", side(kind.width), side(kind.height))
        }
        _ => plan_words::cut_size(&pool.quilt, cut),
    };
    let way = plan_words::way(&cut.way);
    let pieces = tr!("{count} of {size} ({name})", count = piece.count, size, name);
    if way.is_empty() { pieces } else { format!("{pieces}, {way}") }
}

/// `strip 2`, `strips 3 to 7`: as the drawing numbers lines, and which of the equal ones.
#[must_use]
pub fn strips(strips: &StripKits) -> String {
    let line = strips.line + 1;
    match (strips.from, strips.to) {
        (1, 1) => tr!("line {line}, strip 1", line),
        (from, to) if from == to => tr!("line {line}, strip {from}", line, from),
        (from, to) => tr!("line {line}, strips {from} to {to}", line, from, to),
    }
}

/// What a strip gives a student: `8 × c3`.
#[must_use]
pub fn given(pool: &Pool, bought: &ToBuy, given: &Given) -> String {
    format!("{} × {}", given.count, kind_name(&pool.cutting, bought, bought.kinds[given.kind]))
}

/// What of a strip goes to whom: `Student 1: 8 × c3; Student 2: 2 × c3`.
#[must_use]
pub fn gives(class: &Class, pool: &Pool, bought: &ToBuy, strips: &StripKits) -> String {
    let mut told: Vec<(usize, Vec<String>)> = Vec::new();
    for one in &strips.gives {
        let said = given(pool, bought, one);
        match told.last_mut() {
            Some((student, all)) if *student == one.student => all.push(said),
            _ => told.push((one.student, vec![said])),
        }
    }
    let said = told.iter().map(|(student, all)| format!("{}: {}", class.students[*student].name, all.join(", ")));
    said.collect::<Vec<_>>().join("; ")
}

/// How good a layout for all is, and what it is compared with.
#[must_use]
pub fn pooled(plan: &ClassPlan, pooled: &Pooled) -> Option<String> {
    let bought = &plan.pool.cutting.bought[pooled.bought?];
    Some(plan_words::proof(&plan.pool.quilt, bought))
}
