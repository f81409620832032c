//! Stores of every older layout, brought up to date in a file and on a server.

use crate::schema::{APPLICATION, STEPS, on_server};
use crate::server::{OnServer, bring_to};
use crate::{Edited, Place, QuiltId, Revision, Store, StoreError};
use rusqlite::Connection;
use seamfall_testkit::postgres;
use std::path::Path;

/// A quilt of three states that stands on the second, as the first layout holds it.
const QUILT: &str = "
    INSERT INTO quilt (id, current, touched) VALUES (3, 8, 1);
    INSERT INTO state (id, quilt, step, text, what) VALUES (7, 3, 0, 'first', ''), (8, 3, 1, 'second', 'edit'), (9, 3, 2, 'third', 'more');
";

/// A file of the layout of that number.
fn in_file(file: &Path, layout: usize) -> Store {
    let connection = Connection::open(file).unwrap();
    for step in &STEPS[..layout] {
        connection.execute_batch(step.both).unwrap();
    }
    connection.execute_batch(QUILT).unwrap();
    connection.pragma_update(None, "application_id", APPLICATION).unwrap();
    connection.pragma_update(None, "user_version", i64::try_from(layout).unwrap()).unwrap();
    connection.close().unwrap();
    Store::open(file).unwrap()
}

/// A store of the layout of that number on a server.
fn on_a_server(layout: usize) -> Store {
    let place = Place::server(&postgres::address()).unwrap();
    let Place::Server(config) = &place else { panic!("it is a server") };
    let older = OnServer::at(config);
    older.transact(|work| bring_to(work, &STEPS[..layout])).unwrap();
    older
        .transact(|work| {
            let crate::work::Work::Server(session) = work else { panic!("it is a server") };
            session.batch(QUILT)?;
            // The numbers were given out by the server.
            session.batch("ALTER TABLE quilt ALTER id RESTART WITH 4; ALTER TABLE state ALTER id RESTART WITH 10")
        })
        .map_err(|error: StoreError| error)
        .unwrap();
    Store::at(&place).unwrap()
}

#[test]
fn a_store_of_any_older_layout_is_brought_up_to_date() {
    let folder = tempfile::tempdir().unwrap();
    let server = !postgres::is_left_out();
    for layout in 1..=STEPS.len() {
        let file = in_file(&folder.path().join(format!("{layout}.sqlite")), layout);
        for store in [Some(file), server.then(|| on_a_server(layout))].into_iter().flatten() {
            let id = QuiltId(3);
            let now = store.get(id).unwrap();
            assert_eq!((now.text.as_str(), now.ledger.as_str(), now.revision), ("second", "", Revision(8)), "{layout}");
            assert_eq!((now.undo.as_deref(), now.redo.as_deref()), (Some("edit"), Some("more")), "{layout}");
            let edited = Edited { text: "other", ledger: "sewn", what: "edited" };
            assert_eq!(store.commit(id, now.revision, edited).unwrap().revision, Revision(10), "no number is used again");
            assert_eq!(store.commit_class(id, Revision(0), "class", "begun").unwrap().text, "class");
            store.keep_version(id, "kept").unwrap();
            store.keep_block("a block").unwrap();
            assert_eq!(store.create("another", "").unwrap(), QuiltId(4));
            assert_eq!(store.damage().unwrap(), Vec::<String>::new(), "{layout}");
        }
    }
}

/// What a store out there was made with stays as it was: a step that is released is never changed, in neither language. The sums were made of the texts when
/// they were first released (FNV-1a, 64 bits, of the words without what lies between them).
#[test]
fn released_steps_stay_as_they_were() {
    let sum = |text: &str| {
        let bytes = text.split_whitespace().collect::<Vec<_>>().join(" ").into_bytes();
        bytes.iter().fold(0xcbf2_9ce4_8422_2325_u64, |sum, byte| (sum ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3))
    };
    let released: [(u64, u64); 6] = [
        (0xe80f_e53a_1965_a456, 0x4b70_27d5_2fb5_14d1),
        (0x6d58_e60d_a35e_ff83, 0x5ab7_5030_2fbf_ae88),
        (0xb1f1_461d_f24d_9bf0, 0x6dfa_2370_e58c_e210),
        (0x895d_cb40_d9f7_687a, 0xf4ea_d62c_69c8_f3d8),
        (0xaa6f_5556_a5ea_a567, 0x1304_9b58_069c_4204),
        (0xcfaa_417a_cb88_014d, 0x5d80_c65d_f2b0_6d15),
    ];
    let sums: Vec<_> = STEPS.iter().map(|step| (sum(step.both), sum(&on_server(step)))).collect();
    assert_eq!(sums[..released.len()], released, "{sums:#x?}");
}
