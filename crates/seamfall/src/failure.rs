//! Why a command could not be carried out, and what to do about it.

use miette::Diagnostic;
use seamfall_model::FileError;
use seamfall_store::StoreError;
use std::path::PathBuf;
use tr::tr;

/// Why a command could not be carried out.
#[derive(Debug, thiserror::Error, Diagnostic)]
pub enum Failure {
    /// The file is not there, or may not be read.
    #[error("{}", tr!("{file} cannot be read: {reason}", file = file.display(), reason = source))]
    #[diagnostic(help("{}", tr!("check the name and the folder; `seamfall new {file}` begins a quilt there", file = file.display())))]
    Read { file: PathBuf, source: std::io::Error },
    /// The file is no text, or far too large.
    #[error("{}", tr!("{file} cannot be used: {why}", file = file.display(), why))]
    #[diagnostic(help("{}", tr!("a quilt file is a small text, as `docs/quilt-file.md` describes; so is a list of pieces")))]
    NoText { file: PathBuf, why: String },
    /// The text is no quilt, or no ledger of it.
    #[error("{}", tr!("{name} cannot be used", name))]
    Quilt { error: FileError, name: String, text: String },
    /// The catalogue of messages cannot be used.
    #[error("{}", tr!("the words in {file} cannot be used: {why}", file = file.display(), why))]
    #[diagnostic(help("{}", tr!("a catalogue is a translated copy of `words/seamfall.pot`, as `docs/words.md` describes; without `--words` all is in English")))]
    Words { file: PathBuf, why: String },
    /// The list cannot be cut.
    #[error("{}", tr!("{file} cannot be cut: {error}", file = file.display(), error))]
    #[diagnostic(help("{}", tr!("nothing was done; mend the list and try again")))]
    List { file: PathBuf, error: seamfall_cutting::file::FileError },
    /// A length on the command line that is none.
    #[error("{0}")]
    #[diagnostic(help("{}", tr!("put lengths with a space in quotes, or write 2-1/4")))]
    Length(String),
    /// What was asked for cannot be had.
    #[error("{0}")]
    #[diagnostic(help("{}", .0.nearest))]
    Impossible(seamfall_plan::answer::Impossible),
    /// No such block.
    #[error("{}", match .wanted { Some(key) => tr!("there is no block `{key}`", key), None => tr!("say which block, with `--block`") })]
    #[diagnostic(help("{}", tr!("this quilt has: {known}", known = known.join(", "))))]
    NoBlock { wanted: Option<String>, known: Vec<String> },
    /// No such section.
    #[error("{}", match .wanted { Some(name) => tr!("there is no section `{name}`", name), None => tr!("say which section, with `--section`") })]
    #[diagnostic(help("{}", tr!("this quilt has: {known}", known = known.join(", "))))]
    NoSection { wanted: Option<String>, known: Vec<String> },
    /// Nothing is written over an existing file by `new`.
    #[error("{}", tr!("{file} is there already", file = _0.display()))]
    #[diagnostic(help("{}", tr!("choose another name; nothing was changed")))]
    Exists(PathBuf),
    /// No quilt can be begun so.
    #[error("{0}")]
    #[diagnostic(help("{}", tr!("`seamfall fit beds` lists the beds; nothing was written")))]
    Begin(String),
    /// The file could not be written.
    #[error("{}", tr!("{file} cannot be written: {reason}", file = file.display(), reason = source))]
    #[diagnostic(help("{}", tr!("nothing was changed; check the folder, its permissions and the room on the disk, or choose another place with `--out`")))]
    Write { file: PathBuf, source: std::io::Error },
    /// The book could not be set.
    #[error("{}", tr!("the book could not be set: {reason}", reason = _0))]
    Book(String),
    /// What was asked for is no picture, or one that cannot be drawn.
    #[error("{0}")]
    #[diagnostic(help("{}", tr!("nothing was written")))]
    Picture(String),
    /// The workroom could not be started.
    #[error("{}", tr!("the workroom cannot start: {reason}", reason = _0))]
    #[diagnostic(help("{}", tr!("is another program using this port? Leave `--port` out to take a free one")))]
    Workroom(String),
    /// The guild could not be served.
    #[error("{}", tr!("the guild cannot be served at {listen}: {why}", listen, why))]
    #[diagnostic(help("{}", tr!("is another program listening there? Say another place with `--listen ADDRESS:PORT`; below port 1024 only the administrator may listen")))]
    Guild { listen: std::net::SocketAddr, why: String },
    /// The system names no folder.
    #[error("{}", tr!("this system names no folder for a user's data"))]
    #[diagnostic(help("{}", tr!("say one with `--data`")))]
    NoFolder,
    /// A guild is kept where nobody's own quilts are.
    #[error("{}", tr!("it is not said where the guild is kept"))]
    #[diagnostic(help("{}", tr!("say a folder that is the guild's alone with `--data`, or a database with `--database`")))]
    NoPlace,
    /// The store could not be used.
    #[error("{}", tr!("the store {place} cannot be used: {error}", place, error))]
    #[diagnostic(help("{}", mending(error)))]
    Store { place: String, error: StoreError },
    /// The backup could not be written.
    #[error("{}", tr!("the backup {file} was not written: {error}", file = file.display(), error))]
    #[diagnostic(help(
        "{}",
        tr!("the store is as it was; check the folder, its permissions and the room on the disk, or name another place")
    ))]
    Backup { file: PathBuf, error: StoreError },
    /// A file that cannot be put in the place of the store.
    #[error("{}", tr!("{file} cannot be put in the place of the store: {why}", file = file.display(), why = no_backup(error)))]
    #[diagnostic(help("{}", tr!("nothing was changed; name a file that `seamfall backup` wrote")))]
    NoBackup { file: PathBuf, error: StoreError },
}

/// What helps where a store cannot be used.
fn mending(error: &StoreError) -> String {
    match error {
        StoreError::Damaged(_) => {
            tr!(
                "nothing was changed; `seamfall mend` keeps the damaged file too, and `seamfall restore` puts a backup in its place"
            )
        }
        StoreError::Newer { .. } => {
            tr!(
                "nothing was changed; open it with the newer Seamfall, or put a backup of this one in its place with `seamfall restore`"
            )
        }
        StoreError::NotAStore => {
            tr!("nothing was changed; if it was a store and was damaged, `seamfall mend` looks what can be saved")
        }
        StoreError::Away(_)
        | StoreError::Busy
        | StoreError::NotOurs
        | StoreError::Address(_)
        | StoreError::Letters(_)
        | StoreError::Server(_)
        | StoreError::OnServer => {
            tr!(
                "`docs/guild.md` tells how to set a database up; without `--database` and `SEAMFALL_DATABASE` the store is a file"
            )
        }
        _ => tr!("nothing was changed; another folder can be chosen with `--data`"),
    }
}

/// Why a file is no backup that can be used.
fn no_backup(error: &StoreError) -> String {
    match error {
        StoreError::NoStore => tr!("there is no such file"),
        StoreError::NotAStore => tr!("it is no store of Seamfall"),
        StoreError::Newer { found, known } => {
            tr!("it was written by a newer Seamfall (its layout is number {found}, this one knows up to {known})", found, known)
        }
        StoreError::Damaged(what) => tr!("it is damaged ({what})", what),
        other => other.to_string(),
    }
}

impl Failure {
    /// Process exit code.
    pub fn exit_code(&self) -> u8 {
        match self {
            Self::Impossible(_) => 1,
            Self::NoBlock { .. }
            | Self::NoSection { .. }
            | Self::Length(_)
            | Self::Begin(_)
            | Self::Picture(_)
            | Self::NoPlace => 2,
            Self::Read { .. }
            | Self::Words { .. }
            | Self::NoBackup { .. }
            | Self::NoText { .. }
            | Self::Quilt { .. }
            | Self::List { .. } => 3,
            Self::Exists(_) | Self::Write { .. } | Self::Book(_) | Self::Workroom(_) | Self::Guild { .. } => 4,
            Self::NoFolder | Self::Store { .. } | Self::Backup { .. } => 4,
        }
    }

    /// Drawn for the terminal; problems of a quilt file or a ledger with their places.
    pub fn report(self) -> miette::Report {
        match self {
            Self::Quilt { error, name, text } => error.report(&name, &text),
            other => miette::Report::new(other),
        }
    }
}
