//! The one door of a guild: who asks, what she may, and the cookie that tells it.
//!
//! In: every request. Out: the request, with her who asks; or a refusal. A quilt that is not hers is refused in the words of one that is not there.

use super::needs::{Needs, needs, other_methods};
use super::{Guild, SIGNED_IN, now};
use crate::asker::{Asker, asked_by};
use crate::keys::{self, Key};
use crate::offered::Viewer;
use crate::trouble::{Trouble, wants_page};
use axum::RequestExt;
use axum::extract::connect_info::ConnectInfo;
use axum::extract::{MatchedPath, RawPathParams, Request, State};
use axum::http::StatusCode;
use axum::http::header::{ALLOW, HeaderMap};
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};
use seamfall_store::{May, MemberId, QuiltId, Role, SessionId, StoreError};
use std::net::{IpAddr, SocketAddr};
use std::sync::Arc;
use tr::tr;

/// Name of the cookie where the way is encrypted: browsers take one of this name from nobody but this very host, and only so.
const CLOSED_COOKIE: &str = "__Host-seamfall";
/// And where it is not.
const OPEN_COOKIE: &str = "seamfall-member";

/// A browser that is signed in: stands with every request of hers.
#[derive(Debug, Clone, Copy)]
pub struct SignedIn(pub SessionId);

/// Where a request comes from: stands with every request.
#[derive(Debug, Clone, Copy)]
pub struct From(pub IpAddr);

/// Lets a request through if she who asks may.
pub async fn check(State(guild): State<Arc<Guild>>, mut request: Request, next: Next) -> Response {
    let route = request.extensions().get::<MatchedPath>().map(|route| route.as_str().to_owned());
    let as_page = wants_page(request.method(), request.headers());
    let from = from(&guild, &request);
    // An address that knows other methods says so to a member, as it does without a guild.
    let others = route.as_deref().map_or_else(String::new, |route| other_methods(request.method(), route));
    let asks = Asks {
        // What is nowhere is nothing that a stranger is told.
        needs: route.map_or(Needs::Member, |route| needs(request.method(), &route)),
        quilt: parameter(&mut request, "id").await.map(|id| id.parse().map(QuiltId)),
        photo: parameter(&mut request, "hash").await,
        cookie: cookie(&guild, request.headers()),
        from,
    };
    let needed = asks.needs;
    match guild.ask(move |guild| let_in(guild, asks)).await {
        Ok(Let::In(session, asker, may)) => {
            let viewer = Viewer::member(&asker);
            let answer = match may {
                _ if !others.is_empty() => (StatusCode::METHOD_NOT_ALLOWED, [(ALLOW, others)]).into_response(),
                Ok(()) => {
                    request.extensions_mut().insert(From(from));
                    request.extensions_mut().insert(session);
                    asked_by(asker, next.run(request)).await
                }
                Err(trouble) => trouble.page_if(as_page).into_response(),
            };
            match viewer {
                Some(viewer) => viewer.answered(answer).await,
                None => answer,
            }
        }
        Ok(Let::Stranger) if needed == Needs::Nothing => {
            request.extensions_mut().insert(From(from));
            next.run(request).await
        }
        Ok(Let::Stranger) if as_page => Redirect::to(&to_sign_in(request.uri().path())).into_response(),
        Ok(Let::Stranger) => Trouble::signed_out().into_response(),
        Err(trouble) => trouble.page_if(as_page).into_response(),
    }
}

/// What is asked, and by whom as she says.
struct Asks {
    needs: Needs,
    quilt: Option<Result<QuiltId, std::num::ParseIntError>>,
    photo: Option<String>,
    cookie: Option<String>,
    from: IpAddr,
}

enum Let {
    /// A member, and whether she may do what she asks.
    In(SignedIn, Asker, Result<(), Trouble>),
    Stranger,
}

fn let_in(guild: &Guild, asks: Asks) -> Result<Let, Trouble> {
    let store = &guild.room.store;
    let quilt = asks.quilt.transpose().map_err(|_| Trouble::missing(tr!("there is nothing at this address")))?;
    let shown = asks.cookie.as_deref().and_then(Key::read);
    let asking = match &shown {
        Some((session, _)) => store.asking(SessionId(*session), now(), quilt)?,
        None => None,
    };
    let known = match (shown, asking) {
        (Some((session, key)), Some(asking)) if key.is(&asking.hash) => Some((SignedIn(SessionId(session)), asking)),
        (_, asking) => {
            if asking.is_some() {
                guild.wrong.allows(&asks.from);
            }
            None
        }
    };
    let Some((session, asking)) = known else {
        return if guild.strangers.allows(&asks.from) { Ok(Let::Stranger) } else { Err(Trouble::too_often()) };
    };
    if !guild.members.allows(&asking.member) {
        return Err(Trouble::too_often());
    }
    let is_keeper = asking.role == Role::Keeper;
    let may = if is_keeper { asking.may.max(quilt.map(|_| May::Look)) } else { asking.may };
    let is_met = match asks.needs {
        Needs::Nothing | Needs::Member => Ok(()),
        Needs::Keeper if is_keeper => Ok(()),
        Needs::Keeper => Err(Trouble::refused(&tr!("only a keeper of the guild may do this; ask one"))),
        Needs::On(needed) => held(may, needed, quilt),
        Needs::Photo => photo(guild, asking.member, is_keeper, asks.photo.as_deref()),
        Needs::Shut => Err(Trouble::refused(&tr!("this is not to be had in a guild"))),
    };
    let (name, maker) = (asking.name.into(), asking.maker.map(Into::into));
    let asker = Asker { id: asking.member, name, role: asking.role, may, maker, guild: Arc::clone(&guild.name) };
    Ok(Let::In(session, asker, is_met))
}

/// Refuses what she may not do with a quilt.
fn held(may: Option<May>, needed: May, quilt: Option<QuiltId>) -> Result<(), Trouble> {
    match (may, quilt) {
        (Some(may), Some(_)) if may >= needed => Ok(()),
        (None, Some(quilt)) => Err(StoreError::NoSuchQuilt(quilt).into()),
        _ => Err(Trouble::refused(&match needed {
            May::Look | May::Tick => {
                tr!("you may look at this quilt only; ask its maker whether you may tick off what is sewn")
            }
            May::Edit => tr!("this quilt is not yours to change; ask its maker whether you may"),
            May::Make => tr!("only the maker of this quilt may do this"),
        })),
    }
}

fn photo(guild: &Guild, member: MemberId, is_keeper: bool, hash: Option<&str>) -> Result<(), Trouble> {
    if is_keeper || guild.room.store.shows_photo(member, hash.unwrap_or_default())? {
        return Ok(());
    }
    Err(Trouble::missing(tr!("there is no such photograph")))
}

impl Guild {
    /// The cookie that signs a browser in.
    pub fn signed_in(&self, key: &str) -> String {
        self.cookie(key, SIGNED_IN)
    }

    /// The cookie that signs it out.
    pub fn signed_out(&self) -> String {
        self.cookie("", 0)
    }

    fn cookie(&self, key: &str, seconds: i64) -> String {
        let (name, secure) = self.cookie_name();
        format!("{name}={key}; HttpOnly; SameSite=Lax; Path=/; Max-Age={seconds}{secure}")
    }

    fn cookie_name(&self) -> (&'static str, &'static str) {
        if self.address.is_encrypted() { (CLOSED_COOKIE, "; Secure") } else { (OPEN_COOKIE, "") }
    }

    /// Whether one who comes from there may try a key. A wrong one is counted with [`Guild::was_wrong`].
    pub fn may_try(&self, from: IpAddr) -> Result<(), Trouble> {
        if self.wrong.would_allow(&from) { Ok(()) } else { Err(Trouble::too_often()) }
    }

    /// Counts a wrong key.
    pub fn was_wrong(&self, from: IpAddr) {
        self.wrong.allows(&from);
    }
}

fn cookie(guild: &Guild, headers: &HeaderMap) -> Option<String> {
    let (own, _) = guild.cookie_name();
    keys::shown(headers, own).map(str::to_owned)
}

async fn parameter(request: &mut Request, name: &str) -> Option<String> {
    let all = request.extract_parts::<RawPathParams>().await.ok()?;
    all.iter().find(|(each, _)| *each == name).map(|(_, value)| value.to_owned())
}

/// Where a request comes from. Behind a proxy that is whom the proxy names last, since what stands before that anybody can have written.
fn from(guild: &Guild, request: &Request) -> IpAddr {
    let peer = request.extensions().get::<ConnectInfo<SocketAddr>>().map_or(IpAddr::from([0, 0, 0, 0]), |peer| peer.0.ip());
    if !guild.address.is_encrypted() {
        return peer;
    }
    let named = request.headers().get_all("x-forwarded-for").iter().next_back().and_then(|value| value.to_str().ok());
    named.and_then(|named| named.rsplit(',').next()?.trim().parse().ok()).unwrap_or(peer)
}

/// The page to sign in on, from where a quilt is gone on to.
fn to_sign_in(path: &str) -> String {
    if is_quilt(path) { format!("/sign-in?to={path}") } else { "/sign-in".to_owned() }
}

/// Whether a path leads to a page of a quilt, and nowhere else.
pub fn is_quilt(path: &str) -> bool {
    let plain = |letter: char| letter.is_ascii_alphanumeric() || "/-.".contains(letter);
    path.strip_prefix("/q/").is_some_and(|rest| rest.starts_with(|first: char| first.is_ascii_digit()) && rest.chars().all(plain))
}
