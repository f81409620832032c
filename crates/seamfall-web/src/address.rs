//! What stands in an address, read.
//!
//! In: the parts of the path and what follows the `?`. Out: their values, or a refusal in the words of the house: as a page for who follows a link or typed
//! the address, as data for a script.

use crate::trouble::{Trouble, wants_page};
use axum::extract::{self, FromRequestParts};
use axum::http::request::Parts;
use serde::de::DeserializeOwned;
use std::error::Error;
use tr::tr;

/// The parts of the path. What is no number where one is wanted leads nowhere.
pub struct Path<T>(pub T);

/// What follows the `?`.
pub struct Query<T>(pub T);

impl<T: DeserializeOwned + Send, S: Send + Sync> FromRequestParts<S> for Path<T> {
    type Rejection = Trouble;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Trouble> {
        let read = extract::Path::from_request_parts(parts, state).await;
        let nowhere = |_| told(parts, Trouble::missing(tr!("there is nothing at this address")));
        read.map(|extract::Path(read)| Self(read)).map_err(nowhere)
    }
}

impl<T: DeserializeOwned, S: Send + Sync> FromRequestParts<S> for Query<T> {
    type Rejection = Trouble;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Trouble> {
        let read = extract::Query::from_request_parts(parts, state).await;
        let unread = |error: extract::rejection::QueryRejection| {
            let why = error.source().map_or_else(String::new, ToString::to_string);
            told(
                parts,
                Trouble::unread(tr!(
                    "what follows the `?` of this address cannot be read ({why}); go on from the page that it belongs to",
                    why
                )),
            )
        };
        read.map(|extract::Query(read)| Self(read)).map_err(unread)
    }
}

fn told(parts: &Parts, trouble: Trouble) -> Trouble {
    trouble.page_if(wants_page(&parts.method, &parts.headers))
}
