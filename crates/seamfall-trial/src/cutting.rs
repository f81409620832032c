//! Lists for `seamfall cut`.
//!
//! In: the text of a list. Out: a refusal with its reason, or an answer that the check of its own finds good and that is no shorter, or no cheaper, than
//! what is proven. Searched for little, since what is wrong is wrong with any budget.

#[path = "../../seamfall-cutting/tests/nest/check.rs"]
mod nested;

use seamfall_cutting::file::{Task, read, write, write_sheets};
use seamfall_cutting::sheets::cut_sheets;
use seamfall_cutting::{Budget, cut, nest};
use seamfall_laws::{are_few, length_holds, sheets_hold};

const BUDGET: Budget = Budget(3_000);
const NESTED: nest::Budget = nest::Budget { steps: 2_000 };
/// Templates and corners up to which a list is nested: the areas in common of all pairs are looked at.
const TEMPLATES: usize = 4;

pub fn trial(data: &[u8]) {
    let Ok(text) = std::str::from_utf8(data) else { return };
    let order = match read(text, None) {
        Ok(order) => order,
        Err(error) => return assert!(!error.to_string().trim().is_empty(), "a list is refused without a reason"),
    };
    match &order.task {
        Task::Length(job) => {
            let cutting = cut(job, BUDGET);
            length_holds(job, &cutting);
            if are_few(job.kinds()) {
                is_json(&write(job, &cutting, order.ticks_per_unit));
            }
        }
        Task::Sheets(job) => {
            if !are_few(job.kinds()) {
                return;
            }
            let Ok(cutting) = cut_sheets(job, BUDGET) else { return };
            sheets_hold(job, &cutting);
            is_json(&write_sheets(job, &cutting, order.ticks_per_unit));
        }
        Task::Templates(list) => {
            let small = list.templates.iter().all(|template| template.count <= 20 && template.outline.edges().len() <= 12);
            if list.templates.len() > TEMPLATES || !small {
                return;
            }
            match nest::cut(&list.templates, list.cloth, NESTED) {
                Ok(nesting) => {
                    nested::layout(&list.templates, list.cloth, &nesting);
                    is_json(&nest::list::write(list, &nesting));
                }
                Err(error) => assert!(!error.to_string().trim().is_empty()),
            }
        }
    }
}

fn is_json(text: &str) {
    let value: serde_json::Value = serde_json::from_str(text).expect("an answer is JSON");
    assert!(value.is_object());
}
