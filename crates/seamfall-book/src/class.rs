//! What a teacher prints for a class: its dates and who brings what, a handout a lesson, and the kits with the strips they are cut from.
//!
//! In: the class and its plan. Out: words and figures. Every number and sentence is the plan's; drawings are those of the teacher's quilt.

use crate::figures::{Figure, Figures};
use crate::{BookError, Paper, Wanted, world};
use seamfall_class::{ClassPlan, Drawing, Handout, words as said};
use seamfall_draw::{Paint, cloth_svgs};
use seamfall_model::Quilt;
use seamfall_model::class::{Bringer, Class};
use seamfall_plan::words;
use serde::Serialize;
use tr::tr;

/// Everything that is printed.
#[derive(Debug, Serialize)]
struct Contents {
    name: String,
    quilt: String,
    /// As typst calls it.
    paper: &'static str,
    unit: &'static str,
    cover: Figure,
    students: Vec<[String; 4]>,
    dates: Vec<[String; 3]>,
    findings: Vec<[String; 3]>,
    supplies: Vec<[String; 4]>,
    handouts: Vec<Sheet>,
    cloths: Vec<Cloth>,
    kits: Vec<Kit>,
}

/// The handout of a lesson.
#[derive(Debug, Serialize)]
struct Sheet {
    number: usize,
    title: String,
    day: String,
    hours: String,
    work: String,
    note: Option<String>,
    /// Row by row: two short ones with drawings stand side by side.
    steps: Vec<Vec<Told>>,
    bring: Vec<[String; 3]>,
    until: String,
    home: Vec<[String; 3]>,
    cautions: Vec<(String, String, String)>,
}

/// A step with what shows it.
#[derive(Debug, Serialize)]
struct Told {
    text: String,
    figure: Option<Figure>,
}

/// How a cloth is cut up for all.
#[derive(Debug, Serialize)]
struct Cloth {
    name: String,
    length: String,
    proof: String,
    figures: Vec<Figure>,
    strips: Vec<[String; 2]>,
}

/// The kit of a student.
#[derive(Debug, Serialize)]
struct Kit {
    student: String,
    size: String,
    pieces: Vec<[String; 2]>,
}

/// Sets what a class of `quilt`, planned as `plan`, prints, as a PDF.
///
/// # Errors
/// [`BookError::Setting`], when the typesetter refuses, which is a fault of ours.
pub fn class_pdf(quilt: &Quilt, class: &Class, plan: &ClassPlan, paper: Paper) -> Result<Vec<u8>, BookError> {
    class_pdf_while(quilt, class, plan, paper, &|| true)
}

/// The same for as long as it is `wanted`.
///
/// # Errors
/// As [`class_pdf`], and [`BookError::NotWanted`].
pub fn class_pdf_while(
    quilt: &Quilt,
    class: &Class,
    plan: &ClassPlan,
    paper: Paper,
    wanted: Wanted,
) -> Result<Vec<u8>, BookError> {
    let mut figures = Figures::new(seamfall_draw::Paint::Cloths);
    let contents = contents(quilt, class, plan, paper, &mut figures);
    let mut files = figures.into_files();
    let json = serde_json::to_vec(&contents).expect("text and numbers become JSON");
    files.insert("/class.json".to_owned(), json);
    files.insert("/look.json".to_owned(), world::Look::default().json());
    world::set_from("/class.typ", files, wanted)
}

fn contents(quilt: &Quilt, class: &Class, plan: &ClassPlan, paper: Paper, figures: &mut Figures) -> Contents {
    let look = plan.teachers();
    Contents {
        name: class.name.clone(),
        quilt: quilt.name.clone(),
        paper: match paper {
            Paper::Letter => "us-letter",
            Paper::A4 => "a4",
        },
        unit: match quilt.measure {
            seamfall_model::Measure::Inch => "inches",
            seamfall_model::Measure::Centimetre => "centimetres",
        },
        cover: Figure { path: figures.quilt(&look.quilt, &look.plan), alt: tr!("{name}, the whole top", name = quilt.name) },
        students: (0..class.students.len()).map(|student| student_row(quilt, class, plan, student)).collect(),
        dates: dates(class, plan),
        findings: plan
            .findings
            .iter()
            .map(|finding| [finding.grade.said(), finding.reason.clone(), finding.help.clone().unwrap_or_default()])
            .collect(),
        supplies: plan
            .supplies
            .iter()
            .map(|supply| {
                let note = supply.note.clone().unwrap_or_default();
                [said::bringer(supply.by), supply.what.clone(), supply.all.clone(), note]
            })
            .collect(),
        handouts: plan.handouts.iter().map(|handout| sheet(class, plan, handout, figures)).collect(),
        cloths: cloths(class, plan, figures),
        kits: (0..class.students.len()).map(|student| kit(class, plan, student)).collect(),
    }
}

fn student_row(quilt: &Quilt, class: &Class, plan: &ClassPlan, student: usize) -> [String; 4] {
    [
        class.students[student].name.clone(),
        said::size(plan.look(student)),
        said::cloths(quilt, class, student),
        words::hours(plan.students[student].hours.all.value),
    ]
}

fn dates(class: &Class, plan: &ClassPlan) -> Vec<[String; 3]> {
    let kits = plan.timetable.kits.iter().map(|(day, hours)| {
        [said::day(*day), String::new(), tr!("the teacher begins to cut the kits, {hours}", hours = words::hours(*hours))]
    });
    let lessons = plan.handouts.iter().map(|handout| {
        [said::day(handout.day), format!("{}", handout.lesson + 1), format!("{}: {}", handout.title, said::works(&handout.work))]
    });
    let last = [said::day(class.schedule.last_day), String::new(), tr!("all quilts are done")];
    kits.chain(lessons).chain([last]).collect()
}

fn sheet(class: &Class, plan: &ClassPlan, handout: &Handout, figures: &mut Figures) -> Sheet {
    let bring = plan.supplies.iter().filter(|supply| supply.is_told(&handout.work));
    Sheet {
        number: handout.lesson + 1,
        title: handout.title.clone(),
        day: said::day(handout.day),
        hours: words::hours(handout.hours),
        work: said::works(&handout.work),
        note: handout.note.clone(),
        steps: rows(plan, handout, figures),
        bring: bring
            .map(|supply| {
                let how_many = match (supply.by, supply.item, supply.each.first()) {
                    (Bringer::Student, Some(_), Some(Some(each))) => each.clone(),
                    (Bringer::Student, ..) => tr!("your own"),
                    _ => supply.all.clone(),
                };
                [said::bringer(supply.by), supply.what.clone(), how_many]
            })
            .collect(),
        until: said::day(handout.until),
        home: handout
            .home
            .iter()
            .map(|home| {
                let hours = if home.hours > 0.0 { words::hours(home.hours) } else { tr!("nothing") };
                [class.students[home.student].name.clone(), hours, home.reached.clone()]
            })
            .collect(),
        cautions: handout.cautions.iter().map(|caution| (caution.title(), caution.words(), caution.source())).collect(),
    }
}

/// Characters of a step that has room beside another.
const SHORT: usize = 110;

/// The steps, two that are short and have drawings side by side.
fn rows(plan: &ClassPlan, handout: &Handout, figures: &mut Figures) -> Vec<Vec<Told>> {
    let mut rows: Vec<Vec<Told>> = Vec::new();
    for step in &handout.steps {
        let told = Told { text: step.text.clone(), figure: figure(plan, step.drawing.as_ref(), &step.text, figures) };
        let is_short = |told: &Told| told.figure.is_some() && told.text.chars().count() <= SHORT;
        match rows.last_mut() {
            Some(row) if row.len() == 1 && is_short(&row[0]) && is_short(&told) => row.push(told),
            _ => rows.push(vec![told]),
        }
    }
    rows
}

/// A drawing of the teacher's quilt.
fn figure(plan: &ClassPlan, drawing: Option<&Drawing>, alt: &str, figures: &mut Figures) -> Option<Figure> {
    let look = plan.teachers();
    let (quilt, plan) = (&look.quilt, &look.plan);
    let path = match drawing? {
        Drawing::Block(block) => figures.block(quilt, plan, *block),
        Drawing::Pressing(design, pressing) => figures.pressing(quilt, plan, *design, *pressing),
        Drawing::Sections => figures.setting(quilt, plan),
        Drawing::Section(section) => figures.section(quilt, plan, *section)?,
        Drawing::Joins => figures.join_map(quilt, plan),
        Drawing::Across => figures.join_across(quilt, plan),
        Drawing::Join(step) => figures.join_step(quilt, plan, *step)?,
        Drawing::Finish(question) => figures.finish_steps(quilt, plan, question)?,
    };
    Some(Figure { path, alt: alt.to_owned() })
}

fn cloths(class: &Class, plan: &ClassPlan, figures: &mut Figures) -> Vec<Cloth> {
    let pool = &plan.pool;
    // The drawing wants a plan with the cutting of all; nothing else of it is looked at.
    let drawn = seamfall_plan::Plan { cutting: pool.cutting.clone(), ..plan.teachers().plan.clone() };
    pool.materials
        .iter()
        .filter_map(|pooled| {
            let bought = &pool.cutting.bought[pooled.bought?];
            let figures = cloth_svgs(&pool.quilt, &drawn, bought, Paint::Cloths)
                .into_iter()
                .map(|drawing| Figure { alt: drawing.title.clone(), path: figures.cloth(drawing.svg) })
                .collect();
            Some(Cloth {
                name: pooled.of.name(&pool.quilt).to_owned(),
                length: bought.shown(&pool.quilt),
                proof: said::pooled(plan, pooled).unwrap_or_default(),
                figures,
                strips: pooled
                    .strips
                    .iter()
                    .map(|strips| [said::strips(strips), said::gives(class, pool, bought, strips)])
                    .collect(),
            })
        })
        .collect()
}

fn kit(class: &Class, plan: &ClassPlan, student: usize) -> Kit {
    let pool = &plan.pool;
    let rows = pool.materials.iter().filter_map(|pooled| {
        let bought = &pool.cutting.bought[pooled.bought?];
        let own = pooled.kits.iter().filter(|piece| piece.student == student);
        Some(own.map(|piece| [pooled.of.name(&pool.quilt).to_owned(), said::kit_piece(pool, bought, piece)]).collect::<Vec<_>>())
    });
    Kit { student: class.students[student].name.clone(), size: said::size(plan.look(student)), pieces: rows.flatten().collect() }
}
