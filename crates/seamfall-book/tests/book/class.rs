//! What a teacher prints for a class, read back by poppler: a page of a handout, the labels of strips, every student's kit.

use crate::printed::Printed;
use seamfall_book::{Paper, class_pdf};
use seamfall_model::class::Day;
use seamfall_model::{new_class, read_class};
use seamfall_plan::Effort;
use seamfall_testkit::tide_pool;

fn printed(paper: Paper) -> Printed {
    let quilt = tide_pool();
    let text = new_class(&quilt, "Thursday evenings", Day { year: 2027, month: 5, day: 27 }, 3);
    let class = read_class(&text, &quilt).expect("it reads");
    let plan = seamfall_class::class(&quilt, &class, Effort::FIRST.cutting);
    Printed::new(&class_pdf(&quilt, &class, &plan, paper).expect("it is set"))
}

/// The words of a page, a line each, runs of spaces as one.
fn lines(page: &str) -> String {
    let lines = page.lines().map(|line| line.split_whitespace().collect::<Vec<_>>().join(" "));
    lines.filter(|line| !line.is_empty()).collect::<Vec<_>>().join("\n")
}

#[test]
fn a_handout_tells_what_is_done_brought_and_done_at_home() {
    let printed = printed(Paper::Letter);
    let page = printed.pages.iter().find(|page| page.contains("Lesson 5: Joining")).expect("there is a lesson on joining");
    let page = lines(page);
    let told: Vec<&str> = page.lines().skip_while(|line| !line.contains("Lesson 5")).take(3).collect();
    assert_eq!(told, ["Lesson 5: Joining", "Thursday, 20 May 2027, 2.5 h: joining", "In the lesson"]);
    let last = printed.pages.iter().find(|page| page.contains("Lesson 6: The edge")).expect("there is a lesson on the edge");
    insta::assert_snapshot!(lines(last));
}

#[test]
fn every_student_has_a_kit_and_every_strip_a_label() {
    for paper in [Paper::Letter, Paper::A4] {
        let printed = printed(paper);
        let all = printed.pages.concat();
        for student in 1..=3 {
            assert!(printed.pages.iter().any(|page| page.contains(&format!("Kit: Student {student}"))), "{student}");
        }
        assert!(all.contains("Whose pieces come off which strip") && all.contains("line 1, strip 1"));
        assert!(all.contains("Dates, worked back from the last day") && all.contains("Who brings what"));
    }
}
