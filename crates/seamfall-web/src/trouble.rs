//! What could not be done, as a page for a reader and as data for the script.

use crate::view;
use axum::Json;
use axum::extract::rejection::{BytesRejection, FormRejection, JsonRejection};
use axum::http::{HeaderMap, Method, StatusCode};
use axum::response::{IntoResponse, Response};
use seamfall_model::{EditError, FileError};
use seamfall_store::StoreError;
use serde::Serialize;
use tr::tr;

/// Something that could not be done.
#[derive(Debug)]
pub struct Trouble {
    status: StatusCode,
    body: Body,
    /// Whether a page is wanted, not data.
    page: bool,
}

/// What the script is told.
#[derive(Debug, Serialize, schemars::JsonSchema)]
pub struct Body {
    /// In one sentence.
    pub problem: String,
    /// Places in the text, if it is about a text.
    pub places: Vec<Place>,
    /// What it would waste of what is sewn, section by section; it is done when asked for with that allowed.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schemars(default)]
    pub wasted: Vec<String>,
}

/// A place in a text.
#[derive(Debug, Serialize, schemars::JsonSchema)]
pub struct Place {
    /// From 1.
    pub line: usize,
    /// From 1.
    pub column: usize,
    /// What is wrong there.
    pub reason: String,
    /// How to mend it.
    pub help: Option<String>,
}

/// Whether a page is wanted: somebody follows a link or typed the address. A script asks for data.
pub fn wants_page(method: &Method, headers: &HeaderMap) -> bool {
    *method == Method::GET && headers.get("sec-fetch-mode").is_none_or(|mode| mode == "navigate")
}

impl Trouble {
    fn new(status: StatusCode, problem: impl Into<String>) -> Self {
        Self { status, body: Body { problem: problem.into(), places: Vec::new(), wasted: Vec::new() }, page: false }
    }

    /// Could not be read.
    pub fn unread(problem: String) -> Self {
        Self::new(StatusCode::BAD_REQUEST, problem)
    }

    /// Not allowed.
    pub fn refused(problem: &str) -> Self {
        Self::new(StatusCode::FORBIDDEN, problem)
    }

    /// Nobody is signed in.
    pub fn signed_out() -> Self {
        Self::new(StatusCode::UNAUTHORIZED, tr!("you are signed out; come in again with your way back"))
    }

    /// Not there.
    pub fn missing(problem: impl Into<String>) -> Self {
        Self::new(StatusCode::NOT_FOUND, problem)
    }

    /// Cannot be used.
    pub fn unusable(problem: impl Into<String>) -> Self {
        Self::new(StatusCode::UNPROCESSABLE_ENTITY, problem)
    }

    /// Would waste what is sewn.
    pub fn waste(wasted: Vec<String>) -> Self {
        let mut trouble = Self::unusable(tr!("this would waste what is sewn already"));
        trouble.body.wasted = wasted;
        trouble
    }

    /// Asked for too often.
    pub fn too_often() -> Self {
        Self::new(StatusCode::TOO_MANY_REQUESTS, tr!("this was asked for too often; wait a moment"))
    }

    /// Not done in the time there is.
    pub fn busy(problem: impl Into<String>) -> Self {
        Self::new(StatusCode::SERVICE_UNAVAILABLE, problem)
    }

    /// A fault of this program.
    pub fn fault(problem: impl Into<String>) -> Self {
        Self::new(StatusCode::INTERNAL_SERVER_ERROR, problem)
    }

    /// What is told of it.
    pub fn problem(&self) -> &str {
        &self.body.problem
    }

    /// The same as a page.
    pub fn into_page(mut self) -> Self {
        self.page = true;
        self
    }

    /// The same as a page, where one is wanted.
    pub fn page_if(self, wanted: bool) -> Self {
        if wanted { self.into_page() } else { self }
    }
}

impl From<FileError> for Trouble {
    fn from(error: FileError) -> Self {
        let mut trouble = Self::unusable(tr!("{file} cannot be used", file = error.file.words()));
        let places = error.problems.into_iter();
        trouble.body.places = places.map(|p| Place { line: p.line, column: p.column, reason: p.reason, help: p.help }).collect();
        trouble
    }
}

impl From<EditError> for Trouble {
    fn from(error: EditError) -> Self {
        match error {
            EditError::NoSuch(what) => Self::unusable(what),
            EditError::Unreadable(file) => file.into(),
            // The text that was refused is never seen, so its lines would mean nothing.
            EditError::WouldBreak(file) => {
                let first = file.problems.into_iter().next();
                let told = first.map_or_else(
                    || tr!("it would be no quilt any more"),
                    |problem| match problem.help {
                        Some(help) => format!("{}; {help}", problem.reason),
                        None => problem.reason,
                    },
                );
                Self::unusable(told)
            }
        }
    }
}

impl From<StoreError> for Trouble {
    fn from(error: StoreError) -> Self {
        let status = match error {
            StoreError::NoSuchQuilt(_)
            | StoreError::NoSuchVersion
            | StoreError::NoSuchBlock
            | StoreError::NoSuchMember
            | StoreError::NoSuchInvitation => StatusCode::NOT_FOUND,
            StoreError::TooManyVersions | StoreError::TooManyPhotos => StatusCode::UNPROCESSABLE_ENTITY,
            StoreError::ChangedElsewhere | StoreError::NothingToUndo | StoreError::NothingToRedo | StoreError::LastKeeper => {
                StatusCode::CONFLICT
            }
            StoreError::Away(_) | StoreError::InDoubt | StoreError::Busy => StatusCode::SERVICE_UNAVAILABLE,
            StoreError::Newer { .. }
            | StoreError::NotAStore
            | StoreError::NotOurs
            | StoreError::OnServer
            | StoreError::Address(_)
            | StoreError::Letters(_)
            | StoreError::Server(_)
            | StoreError::Damaged(_)
            | StoreError::InUse
            | StoreError::NoStore
            | StoreError::Itself
            | StoreError::Beside { .. }
            | StoreError::Database(_) => StatusCode::INTERNAL_SERVER_ERROR,
        };
        Self::new(status, error.to_string())
    }
}

impl From<JsonRejection> for Trouble {
    fn from(error: JsonRejection) -> Self {
        Self::new(error.status(), error.body_text())
    }
}

impl From<FormRejection> for Trouble {
    fn from(error: FormRejection) -> Self {
        Self::new(error.status(), error.body_text())
    }
}

impl From<BytesRejection> for Trouble {
    fn from(error: BytesRejection) -> Self {
        match error.status() {
            StatusCode::PAYLOAD_TOO_LARGE => {
                Self::new(StatusCode::PAYLOAD_TOO_LARGE, tr!("the file is larger than 2 MiB, which no quilt file needs to be"))
            }
            status => Self::new(status, error.body_text()),
        }
    }
}

impl IntoResponse for Trouble {
    fn into_response(self) -> Response {
        if self.status.is_server_error() {
            tracing::error!("{}", self.body.problem);
        }
        if self.page {
            return (self.status, view::page::trouble(&self.body)).into_response();
        }
        (self.status, Json(self.body)).into_response()
    }
}
