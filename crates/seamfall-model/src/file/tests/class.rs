//! Tests of reading, beginning and changing a class.

use crate::class::*;
use crate::*;

fn quilt() -> Quilt {
    read(include_str!("../../../../../quilts/tide-pool.quilt.toml")).expect("the sample reads")
}

const LAST: Day = Day { year: 2027, month: 5, day: 27 };

fn page() -> String {
    let text = include_str!("../../../../../docs/class.md");
    text.split("```toml")
        .nth(1)
        .and_then(|rest| rest.split("```").next())
        .expect("the page shows a class")
        .trim_start()
        .to_owned()
}

fn refused(text: &str) -> String {
    let error = read_class(text, &quilt()).expect_err(text);
    error
        .problems
        .iter()
        .map(|p| format!("{}:{} {}; {}\n", p.line, p.column, p.reason, p.help.clone().unwrap_or_default()))
        .collect()
}

#[test]
fn what_a_class_begins_with_reads() {
    let class = read_class(&new_class(&quilt(), "Say \"hello\"", LAST, 60), &quilt()).expect("it reads");
    assert_eq!((class.name.as_str(), class.students.len(), class.schedule.last_day), ("Say \"hello\"", 60, LAST));
    assert_eq!((class.brings.cloth, class.brings.thread), (Bringer::Teacher, Bringer::Student));
    assert!(
        class.students.iter().all(|student| student.size == StudentSize::AsPlanned),
        "who says no size makes the quilt as it is"
    );
}

#[test]
fn the_class_of_the_page_reads() {
    let class = read_class(&page(), &quilt()).expect("it reads");
    assert_eq!(class.students[1].size, StudentSize::Blocks { rows: Some(2), columns: Some(3) });
    assert_eq!(class.lessons[1].work, [Work::Layer, Work::Quilt]);
    assert_eq!(class.schedule.weekday, Weekday::Thursday);
}

/// What can be written wrongly, with the place, the reason and the remedy that are told.
#[test]
fn what_is_wrong_is_told_with_its_place_and_a_remedy() {
    let text = page();
    for (from, to, told) in [
        ("home-hours", "home-hour", "`home-hour` is not a key of the schedule; did you mean `home-hours`?"),
        ("\"thursday\"", "\"thurday\"", "`weekday` cannot be `thurday`; did you mean `thursday`?"),
        ("2027-05-27", "\"2027-02-29\"", "`2027-02-29` is no day of the calendar; write year, month and day"),
        ("last-day = 2027-05-27", "last-day = 2026-05-27", "`last-day` is 2026-05-27, before the class begins, 2027-01-14"),
        (
            "lesson-hours = 2.5",
            "lesson-hours = 25",
            "`lesson-hours` is 25, but must lie between 0.5 and 12; the nearest that can be planned is 12",
        ),
        ("home-hours = 5", "home-hours = 0", "`home-hours` is 0, but must lie between 0.25 and 80"),
        ("home-hours = 5", "home-hours = nan", "`home-hours` is NaN, but must lie between"),
        ("rows = 2", "rows = 0", "`rows` is 0, but must lie between 1 and 100"),
        ("rows = 2", "covers = \"us twinn\"\nrows = 2", "the size is said twice"),
        ("\"Student 2\"", "\"Student 1\"", "there are two students called `Student 1`; kits bear the names"),
        ("foam = \"rose\"", "foam = \"roze\"", "`roze`"),
        ("[cloth.rose]", "[cloth.foam]", "cloth `foam` is one of the quilt's already"),
        (
            "[\"layer\", \"quilt\"]",
            "[\"cut\"]",
            "lesson 2 begins with cutting, which comes before the piecing of an earlier lesson",
        ),
        ("[\"layer\", \"quilt\"]", "[]", "a lesson without work"),
        ("[\"layer\", \"quilt\"]", "[\"qilt\"]", "cannot be `qilt`; did you mean `quilt`?"),
        ("by = \"shared\"", "by = \"everybody\"", "`by` cannot be `everybody`"),
        ("among = 4", "among = 0", "`among` is 0, but must lie between 1 and 60"),
        ("quilt = \"Tide pool\"", "quilt = \"Ebb\"", "this is a class of `Ebb`, and the quilt is called `Tide pool`"),
        ("format = 1", "format = 2", "format 2 is not known to this version, which reads format 1"),
        ("format = 1", "format = 1\nroom = 3", "`room` is not a key of the class"),
    ] {
        assert!(text.contains(from), "{from}");
        let said = refused(&text.replacen(from, to, 1));
        assert!(said.contains(told), "{to}: {said}");
    }
}

#[test]
fn there_are_only_so_many_students_lessons_and_items() {
    let students = |count: usize| new_class(&quilt(), "Many", LAST, count);
    assert!(read_class(&students(limits::STUDENTS), &quilt()).is_ok());
    assert!(refused(&students(limits::STUDENTS + 1)).contains("there are 61 students, more than the 60 that can be planned"));
    let lessons = |count: usize| students(1) + &"\n[[lesson]]\nwork = [\"edge\"]\n".repeat(count - 6);
    assert!(read_class(&lessons(limits::LESSONS), &quilt()).is_ok());
    assert!(refused(&lessons(limits::LESSONS + 1)).contains("there are 61 lessons, more than the 60"));
    let items = students(1) + &"\n[[item]]\nname = \"Tin\"\n".repeat(limits::ITEMS);
    assert!(refused(&items).contains("items, more than the 200"));
}

#[test]
fn the_schema_takes_what_reads_and_refuses_unknown_keys() {
    let schema: serde_json::Value = serde_json::from_str(&class_json_schema()).expect("it is JSON");
    let validator = jsonschema::validator_for(&schema).expect("it is a schema");
    // JSON has no dates: they are text there.
    let json = |text: &str| {
        let lines = text.lines().map(|line| match line.split_once(" = 2027-") {
            Some((key, rest)) => format!("{key} = \"2027-{}\"\n", rest.split_whitespace().next().unwrap_or_default()),
            None => format!("{line}\n"),
        });
        serde_json::to_value(toml::from_str::<toml::Value>(&lines.collect::<String>()).expect("TOML")).expect("JSON")
    };
    let errors: Vec<String> = validator.iter_errors(&json(&page())).map(|error| error.to_string()).collect();
    assert!(errors.is_empty(), "{errors:?}");
    for (from, to) in [("rows =", "row ="), ("\"thursday\"", "\"thurday\""), ("kits = true", "kits = 1")] {
        assert!(!validator.is_valid(&json(&page().replacen(from, to, 1))), "{to}");
    }
}

fn changed(text: &str, edit: &ClassEdit) -> String {
    apply_class(text, &quilt(), edit).unwrap_or_else(|error| panic!("{edit:?}: {error}"))
}

/// Lines taken away and added by edits made one after another.
#[test]
fn edits_change_what_they_say_and_keep_the_comments() {
    let before = page();
    let own = |text: &str| text.to_owned();
    let after = [
        ClassEdit::AddStudent { name: own("Student 3") },
        ClassEdit::Size { student: 2, rows: None, columns: None, covers: Some(own("us twin")) },
        ClassEdit::Size { student: 1, rows: Some(3), columns: None, covers: None },
        ClassEdit::Swap { student: 2, from: own("foam"), to: Some(own("rose")) },
        ClassEdit::Swap { student: 1, from: own("foam"), to: None },
        ClassEdit::Set { path: vec![own("schedule"), own("home-hours")], value: Scalar::Number(6.0) },
        ClassEdit::Set { path: vec![own("pace"), own("cut")], value: Scalar::Number(0.75) },
        ClassEdit::AddLesson { work: vec![own("edge")] },
        ClassEdit::Work { lesson: 1, work: vec![own("layer")] },
        ClassEdit::AddItem { name: own("Tin"), by: own("shared") },
        ClassEdit::Without { days: vec![own("2027-04-01")] },
        ClassEdit::Remove { path: vec![own("student"), own("0")] },
    ]
    .iter()
    .fold(before.clone(), |text, edit| changed(&text, edit));
    let (was, is): (Vec<&str>, Vec<&str>) = (before.lines().collect(), after.lines().collect());
    let gone: Vec<&&str> = was.iter().filter(|line| !is.contains(line)).collect();
    let come: Vec<&&str> = is.iter().filter(|line| !was.contains(line)).collect();
    insta::assert_debug_snapshot!((gone, come));
    for comment in
        before.lines().filter_map(|line| line.split_once('#')).map(|(_, comment)| comment).filter(|text| text.starts_with(' '))
    {
        assert!(after.contains(comment) || comment.contains("her own") || comment.contains("as the quilt"), "{comment}");
    }
}

#[test]
fn an_edit_that_would_break_the_class_is_refused() {
    let own = |text: &str| text.to_owned();
    for (edit, told) in [
        (ClassEdit::AddStudent { name: own("Student 1") }, "two students"),
        (ClassEdit::Size { student: 9, rows: None, columns: None, covers: None }, "there is no student 10, only 2"),
        (ClassEdit::Swap { student: 0, from: own("foam"), to: Some(own("nothing")) }, "nothing"),
        (ClassEdit::AddLesson { work: vec![own("cut")] }, "comes before"),
        (
            ClassEdit::Set { path: vec![own("schedule"), own("home-hours")], value: Scalar::Text(own("much")) },
            "`home-hours` cannot be",
        ),
    ] {
        let error = apply_class(&page(), &quilt(), &edit).expect_err("it is refused").to_string();
        assert!(error.contains(told), "{error}");
    }
}
