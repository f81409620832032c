//! Edits of the ledger by way of the store: every byte comes back with undo.

mod places;

use places::homes;
use proptest::prelude::*;
use seamfall_model::{EditError, LedgerEdit, Quilt, apply_ledger, read, read_ledger};
use seamfall_store::{Store, StoreError};

const QUILT: &str = r##"format = 1
name = "Small"
measure = "inch"
[cloth.night]
colour = "#22304f"
[block.plain]
shape = "square"
size = "12"
patches = { night = [[1, 1]] }
[setting]
layout = "straight"
columns = 2
rows = 2
pattern = [["plain"]]
"##;

/// Why an edit was not made.
#[derive(Debug, thiserror::Error)]
#[error("it was not made")]
enum Refused {
    Store(#[from] StoreError),
    Edit(#[from] EditError),
}

fn any_edit() -> impl Strategy<Value = LedgerEdit> {
    let name = || (1..=4_u32).prop_map(|number| format!("S{number}"));
    let state = prop::sample::select(&["planned", "cut", "quilted", "joined", "sewn"][..]).prop_map(str::to_owned);
    let sides = prop::collection::vec(prop::sample::select(&["12 1/2", "31 cm", "0"][..]).prop_map(str::to_owned), 1..4);
    prop_oneof![
        (name(), state).prop_map(|(section, state)| LedgerEdit::State { sections: vec![section], state, from: None, date: None }),
        (name(), sides).prop_map(|(section, sides)| LedgerEdit::Measure { section, sides: Some(sides), date: None }),
        (name(), "[a-z\n½\"]{0,9}").prop_map(|(section, note)| LedgerEdit::Note { section, note: Some(note) }),
        (name(), name()).prop_map(|(a, b)| LedgerEdit::Join { between: [vec![a], vec![b]], date: Some("2026-05-01".to_owned()) }),
        (name(), name()).prop_map(|(a, b)| LedgerEdit::Unjoin { between: [vec![a], vec![b]] }),
    ]
}

fn make(store: &Store, quilt: &Quilt, edit: &LedgerEdit) -> Result<String, Refused> {
    let id = store.last()?.expect("there is one");
    let seen = store.get(id)?.revision;
    let edited = store.edit_ledger::<Refused>(id, seen, |now| Ok((apply_ledger(&now.ledger, quilt, edit)?, edit.said())))?;
    Ok(edited.ledger)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn undo_brings_every_byte_back(edits in prop::collection::vec(any_edit(), 1..14)) {
        for home in homes() {
            let store = home.open();
            let quilt = read(QUILT).expect("it reads");
            let id = store.create(QUILT, "").expect("it is taken in");
            let mut row = vec![String::new()];
            for edit in &edits {
                // What is refused, and what says nothing new, is no step.
                if let Ok(ledger) = make(&store, &quilt, edit) && row.last() != Some(&ledger) {
                    prop_assert!(read_ledger(&ledger, &quilt).is_ok());
                    row.push(ledger);
                }
            }
            for ledger in row.iter().rev().skip(1) {
                prop_assert_eq!(&store.undo(id).expect("there is more").ledger, ledger);
            }
            prop_assert!(matches!(store.undo(id), Err(StoreError::NothingToUndo)));
            for ledger in row.iter().skip(1) {
                prop_assert_eq!(&store.redo(id).expect("there is more").ledger, ledger);
            }
        }
    }
}
