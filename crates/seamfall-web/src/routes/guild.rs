//! What can be asked for in a guild beside the workroom: signing in, invitations, members, and with whom a quilt is shared.
//!
//! Forms are sent as forms and answered with a page, so that they need no script. A key is shown on the answer to the form that made it, and never again.

use crate::address::{Path, Query};
use crate::asker;
use crate::guild::{DAYS, Guild, SIGNED_IN, door, now};
use crate::keys::Key;
use crate::trouble::Trouble;
use crate::view::guild as view;
use axum::Router;
use axum::extract::rejection::FormRejection;
use axum::extract::{Extension, Form, State};
use axum::http::header::SET_COOKIE;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use door::{From, SignedIn};
use maud::Markup;
use seamfall_store::{InvitationId, May, MemberId, QuiltId, Role, StoreError};
use serde::Deserialize;
use std::net::IpAddr;
use std::sync::Arc;
use tr::tr;

/// Letters of the longest name.
pub const LONGEST_NAME: usize = 60;

/// So many members a guild has at most, and so many invitations are out.
pub const MOST_MEMBERS: usize = 1000;
/// Invitations that are open, at most.
const MOST_INVITATIONS: usize = 200;

const DAY: i64 = 24 * 60 * 60;

type Sent<T> = Result<Form<T>, FormRejection>;

/// The routes.
pub fn guild(guild: Arc<Guild>) -> Router {
    Router::new()
        .route("/sign-in", get(sign_in_page).post(sign_in))
        .route("/join/{key}", get(join_page).post(join))
        .route("/sign-out", post(sign_out))
        .route("/sign-out-everywhere", post(sign_out_everywhere))
        .route("/me", get(me))
        .route("/me/name", post(rename))
        .route("/me/way-back", post(way_back))
        .route("/members", get(members))
        .route("/members/invite", post(invite))
        .route("/members/invitation/{invitation}/take-back", post(take_back))
        .route("/members/member/{member}/role", post(role))
        .route("/members/member/{member}/way-back", post(way_back_of))
        .route("/members/member/{member}/remove", post(remove))
        .route("/q/{id}/members", get(shared).post(share))
        .with_state(guild)
}

/// Where she wanted to go.
#[derive(Deserialize)]
pub struct To {
    #[serde(default)]
    to: String,
}

async fn sign_in_page(State(guild): State<Arc<Guild>>, Query(To { to }): Query<To>) -> Markup {
    view::sign_in(&guild.name, &to, None)
}

/// A key that was typed.
#[derive(Deserialize, schemars::JsonSchema)]
pub struct Typed {
    key: String,
    #[serde(default)]
    to: String,
}

/// Lets a member in by her way back. The browser gets a session that it never had: one that it brought along means nothing.
async fn sign_in(
    State(guild): State<Arc<Guild>>,
    Extension(From(from)): Extension<From>,
    form: Sent<Typed>,
) -> Result<Response, Trouble> {
    let Form(Typed { key, to }) = form?;
    let onwards = if door::is_quilt(&to) { to.clone() } else { "/quilts".to_owned() };
    let signed = guild.ask(move |guild| {
        guild.may_try(from)?;
        let known = match Key::read(&key) {
            Some((number, key)) => match guild.room.store.member(MemberId(number)) {
                Ok(member) if key.is(&member.way_back) => Some(member.id),
                Ok(_) | Err(StoreError::NoSuchMember) => None,
                Err(error) => return Err(error.into()),
            },
            None => None,
        };
        match known {
            Some(member) => begin_session(guild, member).map(Some),
            None => {
                guild.was_wrong(from);
                Ok(None)
            }
        }
    });
    match signed.await.map_err(Trouble::into_page)? {
        Some(cookie) => Ok(([(SET_COOKIE, cookie)], Redirect::to(&onwards)).into_response()),
        None => {
            let why = tr!("This key opens nothing. Look whether every letter is as it was written down.");
            Ok((axum::http::StatusCode::FORBIDDEN, view::sign_in(&guild.name, &to, Some(&why))).into_response())
        }
    }
}

/// The cookie of a new session.
fn begin_session(guild: &Guild, member: MemberId) -> Result<String, Trouble> {
    let key = Key::fresh()?;
    let session = guild.room.store.sign_in(member, &key.hash(), now(), now() + SIGNED_IN)?;
    Ok(guild.signed_in(&key.numbered(session.0)))
}

/// The invitation of a key, if it is one that is out.
fn invited(guild: &Guild, shown: &str, from: IpAddr) -> Result<InvitationId, Trouble> {
    guild.may_try(from)?;
    let found = Key::read(shown).map(|(number, key)| (guild.room.store.invitation(InvitationId(number), now()), key));
    match found {
        Some((Ok(invitation), key)) if key.is(&invitation.hash) => Ok(invitation.id),
        // One that has ended or was used is no attempt to get in.
        Some((Err(error), _)) => Err(error.into()),
        _ => {
            guild.was_wrong(from);
            Err(StoreError::NoSuchInvitation.into())
        }
    }
}

/// Looking at an invitation does not use it up: mail programs look at links too.
async fn join_page(
    State(guild): State<Arc<Guild>>,
    Extension(From(from)): Extension<From>,
    Path(key): Path<String>,
) -> Result<Markup, Trouble> {
    let page = guild.ask(move |guild| {
        invited(guild, &key, from)?;
        Ok(view::join(&guild.name, &key))
    });
    page.await.map_err(Trouble::into_page)
}

/// A name that is given.
#[derive(Deserialize, schemars::JsonSchema)]
pub struct Named {
    name: String,
}

impl Named {
    fn checked(&self) -> Result<String, Trouble> {
        let name = self.name.split_whitespace().collect::<Vec<_>>().join(" ");
        let unseen = |letter: char| {
            letter.is_control() || matches!(letter, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
        };
        if name.is_empty() || name.chars().count() > LONGEST_NAME || name.contains(unseen) {
            return Err(Trouble::unusable(tr!("a member needs a name of 1 to {most} letters; type one", most = LONGEST_NAME)));
        }
        Ok(name)
    }
}

/// Makes a member of her who opens an invitation.
async fn join(
    State(guild): State<Arc<Guild>>,
    Extension(From(from)): Extension<From>,
    Path(key): Path<String>,
    form: Sent<Named>,
) -> Result<Response, Trouble> {
    let joined = async {
        let Form(named) = form?;
        guild
            .ask(move |guild| {
                let invitation = invited(guild, &key, from)?;
                let name = named.checked()?;
                if guild.room.store.members()?.len() >= MOST_MEMBERS {
                    return Err(Trouble::unusable(tr!("the guild has {most} members, as many as can be", most = MOST_MEMBERS)));
                }
                let back = Key::fresh()?;
                let member = guild.room.store.accept(invitation, now(), &name, &back.hash())?;
                let cookie = begin_session(guild, member)?;
                let page = view::welcome(&guild.name, &guild.address.page("/sign-in"), &back.written(member.0));
                Ok(([(SET_COOKIE, cookie)], page).into_response())
            })
            .await
    };
    joined.await.map_err(Trouble::into_page)
}

async fn sign_out(
    State(guild): State<Arc<Guild>>,
    Extension(SignedIn(session)): Extension<SignedIn>,
) -> Result<Response, Trouble> {
    let out = guild.ask(move |guild| {
        guild.room.store.sign_out(session)?;
        Ok(([(SET_COOKIE, guild.signed_out())], Redirect::to("/sign-in")).into_response())
    });
    out.await.map_err(Trouble::into_page)
}

async fn sign_out_everywhere(State(guild): State<Arc<Guild>>) -> Result<Response, Trouble> {
    let out = guild.ask(move |guild| {
        guild.room.store.sign_out_everywhere(hers()?.id)?;
        Ok(([(SET_COOKIE, guild.signed_out())], Redirect::to("/sign-in")).into_response())
    });
    out.await.map_err(Trouble::into_page)
}

/// She who asks; the door has let her in.
fn hers() -> Result<asker::Asker, Trouble> {
    asker::here().ok_or_else(Trouble::signed_out)
}

async fn me(State(guild): State<Arc<Guild>>) -> Result<Markup, Trouble> {
    guild.ask(|_| Ok(view::me(&hers()?, None))).await.map_err(Trouble::into_page)
}

async fn rename(State(guild): State<Arc<Guild>>, form: Sent<Named>) -> Result<Redirect, Trouble> {
    let renamed = async {
        let Form(named) = form?;
        guild.ask(move |guild| Ok(guild.room.store.rename_member(hers()?.id, &named.checked()?)?)).await
    };
    renamed.await.map_err(Trouble::into_page)?;
    Ok(Redirect::to("/me"))
}

/// Gives her another way back; the old key opens nothing any more.
async fn way_back(State(guild): State<Arc<Guild>>) -> Result<Markup, Trouble> {
    let renewed = guild.ask(|guild| {
        let (asker, back) = (hers()?, Key::fresh()?);
        guild.room.store.set_way_back(asker.id, &back.hash())?;
        Ok(view::me(&asker, Some(&back.written(asker.id.0))))
    });
    renewed.await.map_err(Trouble::into_page)
}

async fn members(State(guild): State<Arc<Guild>>) -> Result<Markup, Trouble> {
    guild.ask(|guild| listed(guild, None)).await.map_err(Trouble::into_page)
}

/// The page of members, with what was just made.
fn listed(guild: &Guild, made: Option<&view::Made>) -> Result<Markup, Trouble> {
    let asker = hers()?;
    let out = if asker.role == Role::Keeper { guild.room.store.invitations(now())? } else { Vec::new() };
    Ok(view::members(&asker, &guild.room.store.members()?, &out, now(), made))
}

fn role_of(word: &str) -> Result<Role, Trouble> {
    match word {
        "keeper" => Ok(Role::Keeper),
        "member" => Ok(Role::Member),
        _ => Err(Trouble::unusable(tr!("one is a keeper or a member of a guild; choose one of these"))),
    }
}

/// Whom to invite.
#[derive(Deserialize, schemars::JsonSchema)]
pub struct Invite {
    role: String,
    days: i64,
}

async fn invite(State(guild): State<Arc<Guild>>, form: Sent<Invite>) -> Result<Markup, Trouble> {
    let invited = async {
        let Form(Invite { role, days }) = form?;
        guild
            .ask(move |guild| {
                let role = role_of(&role)?;
                if !DAYS.contains(&days) {
                    return Err(Trouble::unusable(tr!("an invitation is for 1, 7 or 30 days")));
                }
                if guild.room.store.invitations(now())?.len() >= MOST_INVITATIONS {
                    let full = tr!("{most} invitations are out, as many as can be; take one back first", most = MOST_INVITATIONS);
                    return Err(Trouble::unusable(full));
                }
                let key = Key::fresh()?;
                let number = guild.room.store.invite(&key.hash(), role, now() + days * DAY)?;
                let link = guild.address.page(&format!("/join/{}", key.numbered(number.0)));
                listed(guild, Some(&view::Made::Invitation { role, days, link }))
            })
            .await
    };
    invited.await.map_err(Trouble::into_page)
}

async fn take_back(State(guild): State<Arc<Guild>>, Path(invitation): Path<i64>) -> Result<Redirect, Trouble> {
    let back = guild.ask(move |guild| Ok(guild.room.store.take_back(InvitationId(invitation))?));
    back.await.map_err(Trouble::into_page)?;
    Ok(Redirect::to("/members"))
}

/// A role that is given.
#[derive(Deserialize, schemars::JsonSchema)]
pub struct As {
    role: String,
}

async fn role(State(guild): State<Arc<Guild>>, Path(member): Path<i64>, form: Sent<As>) -> Result<Redirect, Trouble> {
    let changed = async {
        let Form(As { role }) = form?;
        guild.ask(move |guild| Ok(guild.room.store.set_role(MemberId(member), role_of(&role)?)?)).await
    };
    changed.await.map_err(Trouble::into_page)?;
    Ok(Redirect::to("/members"))
}

/// Gives another member a way back, who has lost hers: whoever has the old key, or is signed in with it, is so no longer.
async fn way_back_of(State(guild): State<Arc<Guild>>, Path(member): Path<i64>) -> Result<Markup, Trouble> {
    let renewed = guild.ask(move |guild| {
        let (member, back) = (guild.room.store.member(MemberId(member))?, Key::fresh()?);
        guild.room.store.set_way_back(member.id, &back.hash())?;
        guild.room.store.sign_out_everywhere(member.id)?;
        listed(guild, Some(&view::Made::WayBack { key: back.written(member.id.0), name: member.name }))
    });
    renewed.await.map_err(Trouble::into_page)
}

/// Takes a member away; what she made goes to the keeper who does.
async fn remove(State(guild): State<Arc<Guild>>, Path(member): Path<i64>) -> Result<Redirect, Trouble> {
    let removed = guild.ask(move |guild| {
        let asker = hers()?;
        if asker.id == MemberId(member) {
            return Err(Trouble::unusable(tr!("keepers do not take themselves away; ask another keeper to do it")));
        }
        Ok(guild.room.store.remove_member(MemberId(member), asker.id)?)
    });
    removed.await.map_err(Trouble::into_page)?;
    Ok(Redirect::to("/members"))
}

async fn shared(State(guild): State<Arc<Guild>>, Path(id): Path<i64>) -> Result<Markup, Trouble> {
    let page = guild.ask(move |guild| {
        let asker = hers()?;
        let name = seamfall_model::read(&guild.room.store.get(QuiltId(id))?.text)
            .map_or_else(|_| tr!("Quilt {id}", id), |quilt| quilt.name);
        Ok(view::shared(&asker, QuiltId(id), &name, &guild.room.store.parts(QuiltId(id))?, &guild.room.store.members()?))
    });
    page.await.map_err(Trouble::into_page)
}

/// With whom to share.
#[derive(Deserialize, schemars::JsonSchema)]
pub struct ShareWith {
    member: i64,
    may: String,
}

async fn share(State(guild): State<Arc<Guild>>, Path(id): Path<i64>, form: Sent<ShareWith>) -> Result<Redirect, Trouble> {
    let shared = async {
        let Form(ShareWith { member, may }) = form?;
        guild
            .ask(move |guild| {
                let may = match may.as_str() {
                    "look" => Some(May::Look),
                    "tick" => Some(May::Tick),
                    "edit" => Some(May::Edit),
                    "nothing" => None,
                    _ => return Err(Trouble::unusable(tr!("a member may look, tick off or edit; choose one of these"))),
                };
                Ok(guild.room.store.share(QuiltId(id), MemberId(member), may)?)
            })
            .await
    };
    shared.await.map_err(Trouble::into_page)?;
    Ok(Redirect::to(&format!("/q/{id}/members")))
}
