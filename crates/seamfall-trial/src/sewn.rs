//! The ledger and the class of a quilt, with their edits.
//!
//! In: the text of a file that belongs to one of the demo quilts, the one that it names, and edits below it. What is read and written and read again is the
//! same, what is refused says why and where, an edit leaves a file that can be read, and whatever has been sewn can be planned around.

use crate::{edits, parts, problems_stand_in_the_text, quilt};
use seamfall_class::class as plan_class;
use seamfall_cutting::Budget;
use seamfall_model::{ClassEdit, LedgerEdit, Quilt, apply_class, apply_ledger, read_class, read_ledger, write_ledger};
use seamfall_plan::{Effort, plan_with};
use std::sync::LazyLock;

/// A quilt of four places, which is planned in no time.
static SMALL: LazyLock<Quilt> =
    LazyLock::new(|| seamfall_model::read(include_str!("small.quilt.toml")).expect("the small quilt is one"));

pub fn ledger(data: &[u8]) {
    let Some((text, lines)) = parts(data) else { return };
    let read_again = |text: &str| {
        let ledger = read_ledger(text, &SMALL)?;
        let written = write_ledger(&ledger, &SMALL);
        let again =
            read_ledger(&written, &SMALL).unwrap_or_else(|error| panic!("what was written cannot be read: {error:?}\n{written}"));
        assert_eq!(again, ledger, "a ledger that is written and read again is another");
        quilt::holds(&SMALL, &plan_with(&SMALL, &ledger, Effort::FIRST));
        Ok(())
    };
    if let Err(error) = read_again(text) {
        return problems_stand_in_the_text(text, &error);
    }
    let mut now = text.to_owned();
    for edit in edits::<LedgerEdit>(lines) {
        match apply_ledger(&now, &SMALL, &edit) {
            // The new name is that of the quilt as it is from now on.
            Ok(_) if matches!(edit, LedgerEdit::Rename { quilt: Some(_), .. }) => {}
            Ok(changed) => {
                assert!(!edit.said().trim().is_empty());
                now = changed;
            }
            Err(error) => assert!(!error.to_string().trim().is_empty()),
        }
    }
    if now != text {
        read_again(&now).expect("an edit that is made leaves a ledger");
    }
}

pub fn class(data: &[u8]) {
    let Some((text, lines)) = parts(data) else { return };
    let read = |text: &str| read_class(text, &SMALL);
    let class = match read(text) {
        Ok(class) => class,
        Err(error) => return problems_stand_in_the_text(text, &error),
    };
    if class.students.len() <= 4 {
        let plan = plan_class(&SMALL, &class, Budget::FIRST);
        assert_eq!(plan.students.len(), class.students.len());
        assert!(plan.findings.iter().all(|finding| !finding.reason.trim().is_empty()));
    }
    let mut now = text.to_owned();
    for edit in edits::<ClassEdit>(lines) {
        match apply_class(&now, &SMALL, &edit) {
            Ok(changed) => now = changed,
            Err(error) => assert!(!error.to_string().trim().is_empty()),
        }
    }
    read(&now).expect("an edit that is made leaves a class");
}
