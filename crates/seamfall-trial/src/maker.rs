//! The workroom of a single maker, asked for anything.
//!
//! In: requests (`asked`), to a store with one small quilt for a small bed that has been edited once. Out: nothing is changed by who only looks, nor by what is refused;
//! whatever was changed leaves a store that is sound, in which every state can be read and gone back to.

use crate::asked::{PORT, answer, asked};
use crate::kept::{Copied, kept, pattern, sound};
use seamfall_store::{Edited, Store};
use std::sync::LazyLock;

static PATTERN: LazyLock<Vec<u8>> = LazyLock::new(|| {
    pattern(|file| {
        let store = Store::open(file).expect("a new store");
        let bed = "[bed]\nwidth = \"12\"\nlength = \"18\"\nheight = \"10\"\nsides = \"2\"\nfoot = \"2\"\n\n[cloth.night]";
        let text = &include_str!("small.quilt.toml").replacen("[cloth.night]", bed, 1);
        let id = store.create(text, "").expect("a quilt");
        let brighter = text.replace("#a04020", "#b05030");
        let seen = store.get(id).expect("it is there").revision;
        store.commit(id, seen, Edited { text: &brighter, ledger: "", what: "rust is brighter" }).expect("an edit");
    })
});

pub fn trial(data: &[u8]) {
    let asked = asked(data);
    if asked.is_empty() {
        return;
    }
    let copied = Copied::of(&PATTERN);
    let store = copied.open();
    let pages = seamfall_web::pages(copied.open(), PORT);
    let mut before = kept(&store);
    for asked in &asked {
        let answer = answer(&pages, asked, None);
        let after = kept(&store);
        // Who comes to an empty workroom finds the first demo quilt in it.
        let fills = before.quilts.is_empty() && after.quilts.len() == 1;
        let refused = answer.status.is_client_error() || answer.status.is_server_error();
        if (asked.only_looks() && !fills) || refused {
            assert_eq!(after, before, "changed by what only looks or was refused ({})", answer.status);
        }
        before = after;
    }
    drop(pages);
    sound(&store);
}
