//! What belongs to a lesson: its steps and drawings out of the plan, what to bring, what to do at home, what to take care of.
//!
//! In: the teacher's quilt, the class, the timetable. Out: a [`Handout`] a lesson. Steps are those of the teacher's quilt, in the words of the plan; what
//! differs from student to student, her size and her hours, stands beside them.

use crate::StudentPlan;
use crate::looks::Look;
use crate::schedule::Timetable;
use crate::words;
use seamfall_model::class::{Class, Day, Work};
use seamfall_model::{BlockId, Corners, Quilt};
use seamfall_plan::caution::{Caution, FIBRES, IRON, MACHINE, NEEDLES, ROTARY_CUTTER, infants, is_crib_sized};
use seamfall_plan::cut::Use;
use seamfall_plan::{Plan, join, words as said};
use tr::tr;

/// So many joins are told step by step; of more the rest is in the book.
const JOINS: usize = 2;

/// What a lesson's students get.
#[derive(Debug, Clone, PartialEq)]
pub struct Handout {
    /// Number of the lesson, from 0.
    pub lesson: usize,
    /// What it is called.
    pub title: String,
    /// Its day.
    pub day: Day,
    /// How long it is.
    pub hours: f64,
    /// What is worked at.
    pub work: Vec<Work>,
    /// What the teacher wants to say.
    pub note: Option<String>,
    /// What is done, in the order of doing.
    pub steps: Vec<Step>,
    /// What each student has to do at home afterwards.
    pub home: Vec<HomeWork>,
    /// By when: the next lesson, or the last day.
    pub until: Day,
    /// What to take care of.
    pub cautions: Vec<Caution>,
}

/// Something that is done.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// Which work it is.
    pub work: Work,
    /// In words.
    pub text: String,
    /// What shows it.
    pub drawing: Option<Drawing>,
}

/// A drawing of the teacher's quilt.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Drawing {
    /// A block.
    Block(BlockId),
    /// How a design is pressed.
    Pressing(usize, usize),
    /// The lap sections.
    Sections,
    /// A section with its paths.
    Section(usize),
    /// All joins.
    Joins,
    /// A join cut across.
    Across,
    /// One join.
    Join(usize),
    /// A part of the finish, by its question.
    Finish(&'static str),
}

/// What a student does at home after a lesson.
#[derive(Debug, Clone, PartialEq)]
pub struct HomeWork {
    /// The student.
    pub student: usize,
    /// Hours of it.
    pub hours: f64,
    /// How far she is then: `piecing done; quilting: 12 of 30 sections`.
    pub reached: String,
}

/// One a lesson.
pub(crate) fn handouts(class: &Class, looks: &[Look], students: &[StudentPlan], timetable: &Timetable) -> Vec<Handout> {
    let days = timetable.lessons.iter().zip(&class.lessons).enumerate();
    days.map(|(number, (on, lesson))| Handout {
        lesson: number,
        title: words::title(lesson),
        day: on.day,
        hours: lesson.hours.unwrap_or(class.schedule.lesson_hours),
        work: lesson.work.clone(),
        note: lesson.note.clone(),
        steps: lesson.work.iter().flat_map(|work| begun(class, &looks[0], number, *work)).collect(),
        home: (0..students.len()).map(|student| home(looks, students, timetable, number, student)).collect(),
        until: timetable.lessons.get(number + 1).map_or(class.schedule.last_day, |next| next.day),
        cautions: cautions(looks, students, &lesson.work),
    })
    .collect()
}

fn home(looks: &[Look], students: &[StudentPlan], timetable: &Timetable, lesson: usize, student: usize) -> HomeWork {
    let plan = &students[student];
    let next = timetable.lessons.get(lesson + 1).map(|next| next.parts[student].before.value);
    let done = next.unwrap_or(plan.hours.all.value);
    HomeWork {
        student,
        hours: timetable.lessons[lesson].parts[student].at_home,
        reached: reached(&looks[plan.look].plan, plan, done),
    }
}

/// How far a quilt is once so many hours are done, in its units.
pub(crate) fn reached(plan: &Plan, student: &StudentPlan, done: f64) -> String {
    let mut said = Vec::new();
    let mut whole: Vec<Work> = Vec::new();
    for work in Work::ALL {
        let (before, own) = (student.hours.before(work), student.hours.of(work));
        if own <= 0.0 || done <= before + 1e-9 {
            continue;
        }
        let share = ((done - before) / own).min(1.0);
        if share > 1.0 - 1e-9 {
            whole.push(work);
            continue;
        }
        let (count, what) = match work {
            Work::Cut => (plan.cutting.pieces.iter().map(|piece| piece.cut).sum(), tr!("pieces")),
            Work::Piece => (plan.top.places.len(), tr!("blocks")),
            Work::Layer | Work::Quilt => (plan.top.sections.len(), tr!("sections")),
            Work::Join => (plan.join.steps.len(), tr!("joins")),
            Work::Edge => (0, String::new()),
        };
        said.push(if count == 0 {
            format!("{}: {:.0} %", work.said(), share * 100.0)
        } else {
            tr!(
                "{work}: {share} of {count} {what}",
                work = work.said(),
                share = format_args!("{:.0}", (share * count as f64 - 1e-9).ceil()),
                count,
                what
            )
        });
    }
    match (whole.last(), whole.len()) {
        (None, _) => {}
        (Some(last), 1) => said.insert(0, tr!("{last} done", last = last.said())),
        (Some(Work::Edge), _) => return tr!("all done"),
        (Some(last), _) => said.insert(0, tr!("{last} done, and all before it", last = last.said())),
    }
    if said.is_empty() { tr!("nothing yet") } else { said.join("; ") }
}

fn step(work: Work, text: impl Into<String>, drawing: Option<Drawing>) -> Step {
    Step { work, text: text.into(), drawing }
}

/// The steps of one kind of work, where the lesson begins it; else where they are.
fn begun(class: &Class, look: &Look, lesson: usize, work: Work) -> Vec<Step> {
    match class.lessons[..lesson].iter().position(|earlier| earlier.work.contains(&work)) {
        Some(first) => {
            let text = tr!(
                "Go on with {work}; its steps and drawings are on the handout of lesson {first}.",
                work = work.said(),
                first = first + 1
            );
            vec![step(work, text, None)]
        }
        None => steps(class, look, work),
    }
}

/// The steps of one kind of work.
fn steps(class: &Class, look: &Look, work: Work) -> Vec<Step> {
    let (quilt, plan) = (&look.quilt, &look.plan);
    match work {
        Work::Cut => cut(class, quilt, plan),
        Work::Piece => piece(quilt, plan),
        Work::Layer => layer(quilt, plan),
        Work::Quilt => quilting(quilt, plan),
        Work::Join => joining(quilt, plan),
        Work::Edge => edge(plan),
    }
}

fn cut(class: &Class, quilt: &Quilt, plan: &Plan) -> Vec<Step> {
    if class.kits {
        return vec![step(Work::Cut, tr!("Check your kit against its list, cloth by cloth, before the first seam."), None)];
    }
    let mut steps = Vec::new();
    for bought in &plan.cutting.bought {
        let own = plan.cutting.pieces.iter().filter(|piece| piece.of == bought.of);
        let told = own.map(|piece| {
            let way = said::way(&piece.way);
            let cut = tr!("{count} of {size}", count = piece.cut, size = said::cut_size(quilt, piece));
            if way.is_empty() { cut } else { format!("{cut}, {way}") }
        });
        let text = format!("{}, {}: {}.", bought.of.name(quilt), bought.shown(quilt), told.collect::<Vec<_>>().join("; "));
        steps.push(step(Work::Cut, text, None));
    }
    steps
}

fn piece(quilt: &Quilt, plan: &Plan) -> Vec<Step> {
    let mut steps = Vec::new();
    for unit in &plan.making.units {
        let Some(faster) = unit.faster() else { continue };
        let text = tr!(
            "Make {kind}, {way}: {unit} in all, in {batches}.",
            kind = said::unit_kind(quilt, &unit.kind),
            way = said::making_way(faster.way),
            unit = unit.count,
            batches = tr!("1 batch" | "{n} batches" % faster.batches.count())
        );
        steps.push(step(Work::Piece, text, None));
    }
    for (number, block) in quilt.blocks.iter().enumerate() {
        let count = plan.top.places.iter().filter(|place| place.block.0 == number).count();
        if count > 0 {
            let text =
                tr!("{block}: {count} of them; unit by unit they are in the book of the quilt.", block = block.name, count);
            steps.push(step(Work::Piece, text, Some(Drawing::Block(BlockId(number)))));
        }
    }
    for (number, design) in plan.piecing.designs.iter().enumerate() {
        for pressing in 0..plan.falls.pressings[number].len() {
            let copies = plan.piecing.holds.iter().zip(&plan.falls.of_place);
            let copies = copies.filter(|(held, of)| held.design == number && **of == pressing).count();
            if copies > 0 {
                let name = &quilt.blocks[design.block.0].name;
                let text = tr!("Press {copies} of {name} as the signs show; so seams that meet nest.", copies, name);
                steps.push(step(Work::Piece, text, Some(Drawing::Pressing(number, pressing))));
            }
        }
    }
    for frame in &quilt.frames {
        let corners = match frame.corners {
            Corners::Mitred => tr!("its corners mitred"),
            Corners::Butted => tr!("the sides first, then top and bottom over their ends"),
            Corners::Squares(_) => tr!("with a square in each corner"),
        };
        steps.push(step(
            Work::Piece,
            tr!("Sew the frame `{frame}` round its blocks, {corners}.", frame = frame.key, corners),
            None,
        ));
    }
    if !plan.top.strips.is_empty() {
        let text = tr!("Sew the other strips to the section that they belong to; each section is one piece for the lap.");
        steps.push(step(Work::Piece, text, Some(Drawing::Sections)));
    }
    steps
}

fn layer(quilt: &Quilt, plan: &Plan) -> Vec<Step> {
    let text = tr!("There are {sections} sections, each layered by itself.", sections = plan.top.sections.len());
    let mut steps = vec![step(Work::Layer, text, Some(Drawing::Sections))];
    for piece in &plan.cutting.pieces {
        if let Some(what) = piece.uses.iter().find_map(Use::layer) {
            let of = piece.of.name(quilt);
            let text = tr!(
                "{material}: {count} of {size}, {what}.",
                material = of,
                count = piece.cut,
                size = said::cut_size(quilt, piece),
                what
            );
            steps.push(step(Work::Layer, text, None));
        }
    }
    let text = tr!(
        "Lay the back right side down and smooth it, the batting on it, the section on top right side up; pin from the middle outward, a hand's width apart."
    );
    steps.push(step(Work::Layer, text, None));
    steps
}

fn quilting(quilt: &Quilt, plan: &Plan) -> Vec<Step> {
    let margin = quilt.lap.margin.shown_with_unit(quilt.step);
    let text =
        tr!("No stitch lies nearer than {margin} to the trimmed edge; a line that comes there ends in a hanging thread.", margin);
    let mut steps = vec![step(Work::Quilt, text, None)];
    for (number, pattern) in plan.lap.patterns.iter().enumerate() {
        let sections: Vec<usize> = plan.lap.sections_of(number).collect();
        let Some(&first) = sections.first() else { continue };
        let text = format!("{}: {}.", join::part_name(&plan.top, &sections), said::quilted(quilt, pattern));
        steps.push(step(Work::Quilt, text, Some(Drawing::Section(first))));
    }
    steps
}

fn joining(quilt: &Quilt, plan: &Plan) -> Vec<Step> {
    let Some(order) = plan.join.order().filter(|_| !plan.join.steps.is_empty()) else {
        return vec![step(Work::Join, tr!("There is one section: nothing is joined."), None)];
    };
    let text = tr!(
        "Trim every section, then join in {kind}: {joins} joins, numbered in their order.",
        kind = join::order_name(order.kind),
        joins = order.joins.len()
    );
    let across = tr!("Fronts are sewn at the machine, backs by hand: so a join lies once it is done.");
    let mut steps = vec![step(Work::Join, text, Some(Drawing::Joins)), step(Work::Join, across, Some(Drawing::Across))];
    for number in 0..plan.join.steps.len().min(JOINS) {
        let text = tr!(
            "Join {number}. {top}",
            number = number + 1,
            top = join::instructions(quilt, &plan.top, &plan.join, number).join(" ")
        );
        steps.push(step(Work::Join, text, Some(Drawing::Join(number))));
    }
    if plan.join.steps.len() > JOINS {
        let text = tr!(
            "Joins {first} to {last} are in the book of the quilt, step by step.",
            first = JOINS + 1,
            last = plan.join.steps.len()
        );
        steps.push(step(Work::Join, text, None));
    }
    steps
}

fn edge(plan: &Plan) -> Vec<Step> {
    let mut steps = Vec::new();
    for answer in &plan.finish.answers {
        for (at, text) in answer.steps.iter().enumerate() {
            let drawing = (at == 0).then_some(Drawing::Finish(answer.question));
            steps.push(step(Work::Edge, text.clone(), drawing));
        }
    }
    steps
}

/// What belongs to the work, each once, and what belongs to a quilt for a crib.
fn cautions(looks: &[Look], students: &[StudentPlan], work: &[Work]) -> Vec<Caution> {
    let of = |work: &Work| match work {
        Work::Cut => vec![ROTARY_CUTTER],
        Work::Piece => vec![MACHINE, IRON, NEEDLES],
        Work::Layer => vec![NEEDLES, FIBRES],
        Work::Quilt => vec![NEEDLES],
        Work::Join => vec![ROTARY_CUTTER, MACHINE, NEEDLES],
        Work::Edge => [vec![NEEDLES, IRON], looks[0].plan.finish.cautions.clone()].concat(),
    };
    let mut all: Vec<Caution> = Vec::new();
    let small = students.iter().any(|student| {
        let look = &looks[student.look];
        is_crib_sized(look.plan.top.size, look.quilt.measure)
    });
    let for_infants = (small && work.contains(&Work::Edge)).then(infants);
    for caution in work.iter().flat_map(of).chain(for_infants) {
        if !all.contains(&caution) {
            all.push(caution);
        }
    }
    all
}
