//! Tests of the class as a whole: laws over the demo quilts, and a schedule worked by hand.

use crate::hours::Hours;
use crate::schedule::{lines_of, short, work_back};
use crate::{ClassPlan, Remedy, StudentPlan, class, remedy};
use proptest::prelude::*;
use seamfall_cutting::Budget;
use seamfall_cutting::check::check;
use seamfall_model::class::{Class, Day, Work};
use seamfall_model::{ClassRule, Quilt, Rounding, Rule, Working, new_class, read_class, term};
use seamfall_plan::cut::Laid;
use seamfall_testkit::{hill_farm, lamplight, market_rows, tide_pool};
use std::collections::BTreeMap;

fn read(quilt: &Quilt, text: &str) -> Class {
    read_class(text, quilt).unwrap_or_else(|error| panic!("{:?}\n{text}", error.problems))
}

const LAST: Day = Day { year: 2027, month: 6, day: 24 };

/// A class of a quilt in which sizes and cloths differ.
fn mixed(quilt: &Quilt) -> Class {
    let text = new_class(quilt, "Evenings", LAST, 4);
    let (first, last) = (&quilt.cloths[0].key, &quilt.cloths[quilt.cloths.len() - 1].key);
    let own = [
        format!("name = \"Student 2\"\nrows = 2\ncolumns = 2\nswap = {{ {first} = \"rose\" }}"),
        format!("name = \"Student 3\"\ncolumns = 3\nswap = {{ {first} = \"{last}\" }}\ntimes = 1.5"),
        "name = \"Student 4\"\nrows = 2\nhome-hours = 3".to_owned(),
    ];
    let text = (2..).zip(own).fold(text, |text, (number, own)| text.replace(&format!("name = \"Student {number}\""), &own));
    read(quilt, &text.replace("\n[bring]", "\n[cloth.rose]\nname = \"Rose\"\ncolour = \"#c08080\"\n\n[bring]"))
}

fn planned(quilt: &Quilt) -> (Class, ClassPlan) {
    let mixed = mixed(quilt);
    let plan = class(quilt, &mixed, Budget::QUICK);
    (mixed, plan)
}

fn demo_quilts() -> [Quilt; 4] {
    [tide_pool(), lamplight(), hill_farm(), market_rows()]
}

/// Every kit holds what the student's own cut list needs, piece by piece, and the strips give what the kits hold.
#[test]
fn kits_add_up_to_every_students_own_cut_list() {
    for quilt in demo_quilts() {
        let (_, plan) = planned(&quilt);
        let pool = &plan.pool;
        for pooled in pool.materials.iter().filter(|pooled| pooled.bought.is_some()) {
            let laid = pool.together(pooled).expect("it is off the bolt");
            let mut handed: BTreeMap<(usize, usize), u32> = BTreeMap::new();
            for strips in &pooled.strips {
                for given in &strips.gives {
                    *handed.entry((given.student, given.kind)).or_default() += given.count * (strips.to - strips.from + 1);
                }
            }
            let kits: BTreeMap<(usize, usize), u32> =
                pooled.kits.iter().map(|piece| ((piece.student, piece.kind), piece.count)).collect();
            assert_eq!(handed, kits, "{}: {:?}", quilt.name, pooled.of);
            for student in 0..plan.students.len() {
                let look = plan.look(student);
                let mut own: BTreeMap<(u32, u32, bool), u32> = BTreeMap::new();
                for bought in &look.plan.cutting.bought {
                    let of =
                        bought.of.cloth().map_or(bought.of, |cloth| seamfall_plan::cut::Material::Cloth(look.cloths[cloth.0]));
                    let Some(Laid::OffTheBolt(laid)) = bought.laid.as_ref().filter(|_| of == pooled.of) else { continue };
                    for kind in laid.job.kinds() {
                        *own.entry((kind.width, kind.height, kind.turn)).or_default() += kind.count;
                    }
                }
                let mut kit: BTreeMap<(u32, u32, bool), u32> = BTreeMap::new();
                for piece in pooled.kits.iter().filter(|piece| piece.student == student) {
                    let kind = &laid.job.kinds()[piece.kind];
                    *kit.entry((kind.width, kind.height, kind.turn)).or_default() += piece.count;
                }
                assert_eq!(kit, own, "{}, student {student}: {:?}", quilt.name, pooled.of);
            }
        }
        for piece in &pool.cutting.pieces {
            let own = (0..plan.students.len()).flat_map(|student| {
                let look = plan.look(student);
                look.plan.cutting.pieces.iter().filter(move |own| {
                    let of = own.of.cloth().map_or(own.of, |cloth| seamfall_plan::cut::Material::Cloth(look.cloths[cloth.0]));
                    of == piece.of
                        && own.way == piece.way
                        && own.grain == piece.grain
                        && own.width.value == piece.width.value
                        && own.length.value == piece.length.value
                })
            });
            assert_eq!(own.map(|own| own.cut).sum::<usize>(), piece.cut, "{}: {}", quilt.name, piece.name);
        }
    }
}

/// The layouts of all one after another are a layout for all. Layouts are checked by code that shares nothing with the engine.
#[test]
fn what_is_bought_together_is_never_longer_than_what_all_buy_alone() {
    for quilt in demo_quilts() {
        let (_, plan) = planned(&quilt);
        for pooled in plan.pool.materials.iter().filter(|pooled| pooled.bought.is_some()) {
            let laid = plan.pool.together(pooled).expect("it is off the bolt");
            let layout = &laid.cutting.layout;
            check(&laid.job, &layout.placements(&laid.job), layout.length).expect("it is a layout");
            let alone: u64 = pooled.alone.iter().map(|one| one.ticks.expect("a length")).sum();
            assert!(layout.length <= alone, "{}: {:?}", quilt.name, pooled.of);
            assert!(laid.cutting.bound.length <= layout.length);
            assert!(plan.pool.saved(pooled).expect("all have a length") >= 0.0);
        }
    }
}

#[test]
fn a_student_with_her_own_cloth_has_none_of_the_other() {
    let quilt = lamplight();
    let (_, plan) = planned(&quilt);
    let of = |student: usize, cloth: usize| {
        let pooled = plan.pool.materials.iter().find(|pooled| pooled.of.cloth().is_some_and(|id| id.0 == cloth));
        pooled.is_some_and(|pooled| pooled.kits.iter().any(|piece| piece.student == student))
    };
    let rose = quilt.cloths.len();
    assert!(of(0, 0) && !of(0, rose));
    assert!(!of(1, 0) && of(1, rose));
    assert!(!of(2, 0) && of(2, rose - 1));
}

/// A queen is 60 by 80 in; with a drop of 12 in at both sides and the foot the quilt is 84 by 92 in, of which quilting and the wash leave 0.98 × 0.98 at
/// most, so that 87.5 by 95.8 in are pieced at least. Lamplight has blocks of 15 in and 12 in of bands across: 5 of them are 87 in, 6 are 102.
#[test]
fn a_bed_is_covered_by_the_fewest_rows_and_columns() {
    let quilt = lamplight();
    let text =
        new_class(&quilt, "Evenings", LAST, 1).replace("name = \"Student 1\"", "name = \"Student 1\"\ncovers = \"us queen\"");
    let plan = class(&quilt, &read(&quilt, &text), Budget::FIRST);
    assert_eq!((plan.look(0).blocks, plan.look(0).plan.top.size.x), ([6, 6], 102.0));
}

#[test]
fn the_same_class_gives_the_same_bytes_and_they_fit_the_schema() {
    let quilt = tide_pool();
    let mixed = mixed(&quilt);
    let json = || crate::to_json(&mixed, &class(&quilt, &mixed, Budget::QUICK));
    assert_eq!(json(), json());
    let schema = serde_json::from_str(&crate::json_schema()).expect("it is JSON");
    let validator = jsonschema::validator_for(&schema).expect("it is a schema");
    assert!(validator.is_valid(&serde_json::from_str(&json()).expect("it is JSON")));
}

/// What is each student's own she cuts herself; a kit holds the rest. Half a minute a piece, as the page says.
#[test]
fn a_kit_takes_the_teacher_what_its_pieces_take_and_the_rest_takes_the_student() {
    let quilt = tide_pool();
    let text = new_class(&quilt, "Evenings", LAST, 1);
    for (by, own) in [("teacher", false), ("student", true)] {
        let class_of = read(&quilt, &text.replace("cloth = \"teacher\"", &format!("cloth = \"{by}\"")));
        let plan = class(&quilt, &class_of, Budget::FIRST);
        let count = |of_cloth: bool| -> f64 {
            let pieces = plan.look(0).plan.cutting.pieces.iter().filter(|piece| piece.of.cloth().is_some() == of_cloth);
            pieces.map(|piece| piece.cut as f64).sum::<f64>() / 120.0
        };
        let (cut, kit) =
            (plan.students[0].hours.of(Work::Cut), plan.students[0].hours.kit.as_ref().expect("there are kits").value);
        let (student, teacher) = if own { (count(true), count(false)) } else { (0.0, count(true) + count(false)) };
        assert!((cut - student).abs() < 1e-9 && (kit - teacher).abs() < 1e-9, "{by}: {cut} and {kit}");
    }
}

/// Hours made up: cutting, piecing, layering, quilting, joining, edge.
fn hours(each: [f64; 6]) -> Hours {
    let working = |value: f64| Working::new(Rule::Class(ClassRule::All), "hours", term("hours", value), Rounding::Exact);
    Hours { each: each.map(working), all: working(each.iter().sum()), kit: None }
}

/// Lessons of 3 hours, 1 of them shown, and 5 hours a week at home.
fn four_lessons(more: &str) -> Class {
    let quilt = tide_pool();
    let text = format!(
        "format = 1\nquilt = \"{}\"\nname = \"Evenings\"\n[schedule]\nlast-day = 2027-06-24\nweekday = \"thursday\"\nlesson-hours = 3\nshowing-hours = 1\nhome-hours = 5\n{more}\n\
         [[student]]\nname = \"Student 1\"\n[[lesson]]\nwork = [\"piece\"]\n[[lesson]]\nwork = [\"layer\", \"quilt\"]\n[[lesson]]\nwork = [\"join\"]\n[[lesson]]\nwork = [\"edge\"]\n",
        quilt.name
    );
    read(&quilt, &text)
}

fn days(class: &Class, each: [f64; 6]) -> Vec<String> {
    let students = [StudentPlan { look: 0, hours: hours(each) }];
    work_back(class, &lines_of(class, &students, 0.0)).iter().map(|lesson| lesson.day.to_string()).collect()
}

/// Worked by hand, with 20 h of piecing, 4 of layering, 30 of quilting, 6 of joining, 4 for the edge; two of each lesson's three hours are sewn.
///
/// The edge: 4 h, 2 in the lesson, 2 at home at 5 h a week are 2.8 days, so three; the last Thursday before 21 June is the 17th. Joining: 6 h, 2 in the
/// lesson, 4 at home are 5.6 days, and a week lies between lessons anyhow: 10 June. Layering and quilting: 34 h, 32 of them at home are 44.8 days,
/// so 45, before 26 April: the 22nd. Piecing: 20 h, 18 at home are 25.2 days, so 26, before 27 March: the 25th.
#[test]
fn dates_are_worked_back_from_the_last_day() {
    let each = [0.0, 20.0, 4.0, 30.0, 6.0, 4.0];
    let class = four_lessons("");
    assert_eq!(days(&class, each), ["2027-03-25", "2027-04-22", "2027-06-10", "2027-06-17"]);
    let students = [StudentPlan { look: 0, hours: hours(each) }];
    let lessons = work_back(&class, &lines_of(&class, &students, 0.0));
    let told: Vec<[f64; 3]> =
        lessons.iter().map(|on| &on.parts[0]).map(|part| [part.before.value, part.in_lesson, part.at_home]).collect();
    assert_eq!(told, [[0.0, 2.0, 18.0], [20.0, 2.0, 32.0], [54.0, 2.0, 4.0], [60.0, 2.0, 2.0]]);
    // A day without a lesson moves its lesson a week earlier, and with it those before.
    assert_eq!(days(&four_lessons("without = [\"2027-04-22\"]"), each), ["2027-03-18", "2027-04-15", "2027-06-10", "2027-06-17"]);
    // A fortnight between lessons.
    assert_eq!(days(&four_lessons("weeks-between = 2"), each), ["2027-03-18", "2027-04-15", "2027-06-03", "2027-06-17"]);
}

/// The same class cannot begin before 1 April: the first lesson is wanted on 25 March, seven days before. With 5 1/2 h a week, quilting takes 40.7
/// days at home, so 41, and piecing 22.9, so 23: 29 April and 1 April. A week later for the last day moves all by a week.
#[test]
fn a_last_day_that_cannot_be_met_is_told_with_what_would_do() {
    let class = four_lessons("begins = 2027-04-01");
    let students = [StudentPlan { look: 0, hours: hours([0.0, 20.0, 4.0, 30.0, 6.0, 4.0]) }];
    let lessons = work_back(&class, &lines_of(&class, &students, 0.0));
    assert_eq!(short(&class, &lessons), Some(7));
    let plan = super::class(&tide_pool(), &class, Budget::FIRST);
    let timetable = crate::Timetable { lessons, kits: None, begin: LAST, short: Some(7), remedies: Vec::new() };
    let ways = remedy::remedies(&class, &plan.looks, &students, &timetable, &|| true).expect("it is wanted");
    let day = |month, day| Day { year: 2027, month, day };
    assert_eq!(ways[..3], [Remedy::Begin(day(3, 25)), Remedy::HomeHours(5.5), Remedy::LastDay(day(7, 1))]);
    assert!(matches!(ways[3], Remedy::Smaller(_)), "{ways:?}");
    let four = four_lessons("begins = 2027-03-25");
    assert_eq!(short(&four, &work_back(&four, &lines_of(&four, &students, 0.0))), None);
}

/// A fixed day is kept; where it leaves too little time that is said, with who and by how much.
#[test]
fn a_fixed_day_is_kept_and_judged() {
    let each = [0.0, 20.0, 4.0, 30.0, 6.0, 4.0];
    let mut class = four_lessons("");
    class.lessons[1].date = Some(Day { year: 2027, month: 5, day: 6 });
    let students = [StudentPlan { look: 0, hours: hours(each) }];
    let lessons = work_back(&class, &lines_of(&class, &students, 0.0));
    // From 6 May to 10 June are five weeks of 5 h, 25 h, and 2 in the lesson: of 34 h there are 7 too many.
    let (student, over) = lessons[1].late.expect("it is too late");
    assert_eq!((student, (over * 10.0).round()), (0, 70.0));
    class.lessons[1].date = Some(Day { year: 2027, month: 4, day: 15 });
    assert!(work_back(&class, &lines_of(&class, &students, 0.0)).iter().all(|lesson| lesson.late.is_none()));
}

#[test]
fn a_quilt_that_cannot_be_done_in_time_says_so() {
    let quilt = lamplight();
    let text = new_class(&quilt, "Evenings", LAST, 2).replace("last-day", "begins = 2027-05-01\nlast-day");
    let plan = class(&quilt, &read(&quilt, &text), Budget::FIRST);
    let stop = plan.findings.iter().find(|finding| finding.reason.contains("cannot be met")).expect("it is said");
    let help = stop.help.as_deref().expect("there is a way");
    assert!(help.contains("begin on ") && help.contains("make quilts of at most "), "{help}");
    let (short, first) = (plan.timetable.short.expect("it is short"), plan.timetable.lessons[0].day);
    assert!(
        stop.reason.contains(&format!("{short} days too late")) && stop.reason.contains(&first.to_string()),
        "{}",
        stop.reason
    );
}

/// Any hours, and lessons in any order that a class may have.
fn any_lessons() -> impl Strategy<Value = Vec<Vec<Work>>> {
    let chosen = prop::collection::vec(0..6_usize, 1..8);
    chosen.prop_map(|mut numbers| {
        numbers.sort_unstable();
        numbers.into_iter().map(|number| vec![Work::ALL[number]]).collect()
    })
}

proptest! {
    #[test]
    fn hours_add_up_and_no_lesson_comes_before_what_it_needs(
        each in prop::array::uniform6(0.0..80.0_f64),
        other in prop::array::uniform6(0.0..80.0_f64),
        work in any_lessons(),
        rate in 0.25..20.0_f64,
        ready in 0.0..100.0_f64,
    ) {
        let mut class = four_lessons("");
        let lesson = class.lessons[0].clone();
        class.lessons = work.into_iter().map(|work| seamfall_model::class::Lesson { work, ready, ..lesson.clone() }).collect();
        class.students[0].home_hours = Some(rate);
        class.students.push(class.students[0].clone());
        let students = [each, other].map(|each| StudentPlan { look: 0, hours: hours(each) });
        let lessons = work_back(&class, &lines_of(&class, &students, 0.0));
        prop_assert!(lessons.windows(2).all(|pair| pair[0].day < pair[1].day));
        prop_assert!(lessons.iter().all(|lesson| lesson.day <= class.schedule.last_day && lesson.late.is_none()));
        for (student, plan) in students.iter().enumerate() {
            let done: f64 = lessons.iter().map(|on| on.parts[student].in_lesson + on.parts[student].at_home).sum();
            let before = lessons[0].parts[student].before.value;
            prop_assert!((done + before - plan.hours.all.value).abs() < 1e-6, "{done} and {before} of {}", plan.hours.all.value);
            for (number, on) in lessons.iter().enumerate() {
                let part = &on.parts[student];
                prop_assert!(part.in_lesson <= on.work + 1e-9);
                prop_assert!(part.at_home <= rate / 7.0 * on.until_next as f64 + 1e-6);
                // What the first lesson on a kind of work needs is all that comes before it, as far as the teacher wants it ready.
                let first = class.lessons[number].work[0];
                prop_assert!(part.before.value >= plan.hours.before(first) * ready / 100.0 - 1e-6);
            }
        }
    }
}
