//! What is wrong with a quilt file, a ledger or a class, and how it is said.
//!
//! In: spans and sentences from the checks, errors from the parser. Out: [`FileError`], its problems in the order of the
//! file with line and column, and a report with the lines of the file for the terminal.

use miette::{Diagnostic, LabeledSpan, NamedSource, SourceCode};
use std::fmt;
use std::ops::Range;
use tr::tr;

/// One thing that is wrong with a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// Bytes of the text it is about.
    pub span: Range<usize>,
    /// Line, from 1.
    pub line: usize,
    /// Column, from 1, in characters.
    pub column: usize,
    /// What is wrong and why, in one sentence.
    pub reason: String,
    /// How to mend it.
    pub help: Option<String>,
}

/// Everything that is wrong with a file, in its order.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{}", said(*.file, .problems))]
pub struct FileError {
    /// Which file it is.
    pub file: FileKind,
    /// At least one; of very many only the first hundred.
    pub problems: Vec<Problem>,
}

/// The files that are read here.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum FileKind {
    /// The quilt file.
    #[default]
    Quilt,
    /// The ledger beside it.
    Ledger,
    /// A block by itself.
    Block,
    /// The class that makes it.
    Class,
}

impl FileKind {
    /// `the quilt file`, `the ledger`, `the block`, `the class`.
    #[must_use]
    pub fn words(self) -> String {
        match self {
            Self::Quilt => tr!("the quilt file"),
            Self::Ledger => tr!("the ledger"),
            Self::Block => tr!("the block"),
            Self::Class => tr!("the class"),
        }
    }
}

fn said(file: FileKind, problems: &[Problem]) -> String {
    let reason = problems.first().map_or("", |problem| problem.reason.as_str());
    tr!("{file} cannot be used: {reason}", file = file.words(), reason)
}

/// More problems than anybody reads at once.
const MOST: usize = 100;

impl FileError {
    /// A single problem of a quilt file.
    pub(crate) fn single(text: &str, span: Range<usize>, reason: impl Into<String>, help: impl Into<Option<String>>) -> Self {
        Self::single_of(FileKind::Quilt, text, span, reason, help)
    }

    /// A single problem.
    pub(crate) fn single_of(
        file: FileKind,
        text: &str,
        span: Range<usize>,
        reason: impl Into<String>,
        help: impl Into<Option<String>>,
    ) -> Self {
        let mut problems = Problems::of(file);
        problems.add(span, reason, help);
        problems.finish(text)
    }

    /// The problems as a report that shows the lines of `text`, which is called `name`. The command line draws it.
    #[must_use]
    pub fn report(&self, name: &str, text: &str) -> miette::Report {
        let problems = self.problems.iter().cloned().map(Shown).collect();
        miette::Report::new(FileReport { file: self.file, source: NamedSource::new(name, text.to_owned()), problems })
    }
}

/// Problems while they are collected.
#[derive(Debug, Default)]
pub(super) struct Problems {
    file: FileKind,
    list: Vec<Problem>,
}

impl Problems {
    /// None yet.
    pub(super) fn of(file: FileKind) -> Self {
        Self { file, list: Vec::new() }
    }

    /// Notes a problem at `span`.
    pub(super) fn add(&mut self, span: Range<usize>, reason: impl Into<String>, help: impl Into<Option<String>>) {
        self.list.push(Problem { span, line: 0, column: 0, reason: reason.into(), help: help.into() });
    }

    /// Whether nothing is wrong so far.
    pub(super) fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// All of them, in the order of `text`, each with its line and column.
    pub(super) fn finish(mut self, text: &str) -> FileError {
        self.list.sort_by_key(|problem| (problem.span.start, problem.span.end));
        self.list.dedup();
        self.list.truncate(MOST);
        let (mut from, mut line, mut line_start) = (0, 1, 0);
        for problem in &mut self.list {
            let at = (0..=problem.span.start.min(text.len())).rev().find(|&i| text.is_char_boundary(i)).unwrap_or(0);
            line += text[from..at].matches('\n').count();
            line_start = text[from..at].rfind('\n').map_or(line_start, |i| from + i + 1);
            from = at;
            (problem.line, problem.column) = (line, text[line_start..at].chars().count() + 1);
        }
        FileError { file: self.file, problems: self.list }
    }
}

/// `did you mean ...?`, or the names there are, or nothing when there are none or too many.
pub(crate) fn suggestion<'a>(typed: &str, names: impl IntoIterator<Item = &'a str>) -> Option<String> {
    let names: Vec<&str> = names.into_iter().collect();
    // Four in five letters right, as Jaro and Winkler count them: found by trying slips of the keys of the file.
    let likely = names
        .iter()
        .map(|name| (strsim::jaro_winkler(typed, name), name))
        .filter(|(likeness, _)| *likeness > 0.8)
        .max_by(|a, b| a.0.total_cmp(&b.0));
    match likely {
        Some((_, name)) => Some(tr!("did you mean `{name}`?", name)),
        None if names.is_empty() || names.len() > 12 => None,
        None => Some(tr!("there is: {names}", names = quoted(&names))),
    }
}

/// `a`, `b`, `c`.
fn quoted(names: &[&str]) -> String {
    names.iter().map(|name| format!("`{name}`")).collect::<Vec<_>>().join(", ")
}

/// What a terminal is shown.
#[derive(Debug)]
struct FileReport {
    file: FileKind,
    source: NamedSource<String>,
    problems: Vec<Shown>,
}

impl fmt::Display for FileReport {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&tr!("{file} cannot be used", file = self.file.words()))
    }
}

impl std::error::Error for FileReport {}

impl Diagnostic for FileReport {
    fn source_code(&self) -> Option<&dyn SourceCode> {
        Some(&self.source)
    }

    fn related<'a>(&'a self) -> Option<Box<dyn Iterator<Item = &'a dyn Diagnostic> + 'a>> {
        Some(Box::new(self.problems.iter().map(|problem| problem as &dyn Diagnostic)))
    }
}

/// One problem as a terminal is shown it.
#[derive(Debug)]
struct Shown(Problem);

impl fmt::Display for Shown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0.reason)
    }
}

impl std::error::Error for Shown {}

impl Diagnostic for Shown {
    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        self.0.help.as_ref().map(|help| Box::new(help) as Box<dyn fmt::Display>)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        let label = LabeledSpan::new_with_span(Some(tr!("here")), self.0.span.clone());
        Some(Box::new(std::iter::once(label)))
    }
}
