//! Who asks, for as long as a request is worked on. Nobody in a single maker's workroom.
//!
//! In: what the door of a guild found out. Out: the same, wherever the request is worked on: lists show what is hers, edits are signed with her name.
//! It goes with the task and not from hand to hand: the pages and edits of a guild are those of a single maker.

use seamfall_store::{May, MemberId, Role};
use std::future::Future;
use std::sync::Arc;
use tr::tr;

/// A member of the guild, and what she asks about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Asker {
    /// Which member.
    pub id: MemberId,
    /// What she is called.
    pub name: Arc<str>,
    /// What she is in the guild.
    pub role: Role,
    /// What she may do with the quilt of the address; nothing where it names none.
    pub may: Option<May>,
    /// Who makes that quilt.
    pub maker: Option<Arc<str>>,
    /// What the guild is called.
    pub guild: Arc<str>,
}

tokio::task_local! {
    static ASKER: Asker;
}

/// Works on a request of hers.
pub async fn asked_by<T>(asker: Asker, work: impl Future<Output = T>) -> T {
    ASKER.scope(asker, work).await
}

/// Who asks.
pub fn here() -> Option<Asker> {
    ASKER.try_with(Clone::clone).ok()
}

/// Does work for her on another thread.
pub fn for_her<T>(asker: Option<Asker>, work: impl FnOnce() -> T) -> T {
    match asker {
        Some(asker) => ASKER.sync_scope(asker, work),
        None => work(),
    }
}

/// What an edit did, with who made it where there are several.
pub fn signed(what: &str) -> String {
    match here() {
        Some(asker) => tr!("{who}: {what}", who = &*asker.name, what),
        None => what.to_owned(),
    }
}
