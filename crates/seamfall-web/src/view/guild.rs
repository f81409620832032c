//! The pages of a guild beside the workroom: signing in, invitations, members, a member's own page, and with whom a quilt is shared.
//!
//! Plain forms, without script. What takes something away lies behind a summary that says what becomes of it.

use super::page;
use crate::asker::{self, Asker};
use crate::guild::DAYS;
use crate::routes::LONGEST_NAME;
use crate::share::code;
use maud::{Markup, PreEscaped, html};
use seamfall_store::{Invitation, May, Member, MemberId, QuiltId, Role};
use tr::tr;

/// What was just made, to be shown once.
pub enum Made {
    /// An invitation.
    Invitation {
        /// What it makes of her who opens it.
        role: Role,
        /// For so long.
        days: i64,
        /// Its address.
        link: String,
    },
    /// A way back for another member.
    WayBack {
        /// As it is written down.
        key: String,
        /// Whose it is.
        name: String,
    },
}

/// A page of the guild, for her who is signed in or for a stranger.
fn framed(title: &str, guild: &str, asker: Option<&Asker>, body: &Markup) -> Markup {
    let whole = html! {
        body.plain.guild {
            header {
                a.brand href="/quilts" title=(tr!("All quilts")) { (page::mark()) span { "Seamfall" } }
                @if let Some(asker) = asker { (nav(asker)) } @else { p.quiet { (guild) } }
            }
            main { (body) }
        }
    };
    page::plain(&format!("{title} - {guild}"), &whole)
}

/// The ways through the guild.
pub fn nav(asker: &Asker) -> Markup {
    html! {
        nav.guild aria-label=(tr!("The guild")) {
            span.quiet { (asker.guild) }
            a href="/quilts" { (tr!("Quilts")) }
            a href="/members" { (tr!("Members")) }
            a href="/me" title=(tr!("You are signed in as {name}", name = &*asker.name)) { (asker.name) }
        }
    }
}

/// The page to sign in on, with what was wrong about the last key.
pub fn sign_in(guild: &str, to: &str, wrong: Option<&str>) -> Markup {
    let body = html! {
        h1 { (tr!("Come in")) }
        @if let Some(wrong) = wrong { p.alert role="alert" { (wrong) } }
        form method="post" action="/sign-in" {
            label.field for="way-back" { span { (tr!("Your way back: the key that was shown to you when you joined")) }
                input #way-back name="key" type="password" required autocomplete="current-password" spellcheck="false" autocapitalize="none" maxlength="80"
                    aria-describedby="way-back-help"; }
            p.quiet #way-back-help { (tr!("It begins with a number, then letters from a to f and digits, such as 7-3f9a-…; small or large letters and spaces do not matter.")) }
            @if !to.is_empty() { input type="hidden" name="to" value=(to); }
            p.go { button type="submit" { (tr!("Come in")) } }
        }
        h2 { (tr!("No key?")) }
        p { (tr!("Members are invited: ask a keeper of the guild for an invitation. A member who has lost the key is given another by a keeper.")) }
    };
    framed(&tr!("Come in"), guild, None, &body)
}

/// The page of an invitation.
pub fn join(guild: &str, key: &str) -> Markup {
    let body = html! {
        h1 { (tr!("You are invited to {guild}", guild)) }
        p { (tr!("Here members plan their quilts, and show them to one another where they like. Say what you are called, and you are one of them.")) }
        form method="post" action={ "/join/" (key) } {
            (named("join-name", &tr!("Your name, as the others will see it"), ""))
            p.go { button type="submit" { (tr!("Join")) } }
        }
        p.quiet { (tr!("This invitation is for one person, and is used up by it.")) }
    };
    framed(&tr!("Invitation"), guild, None, &body)
}

fn named(id: &str, label: &str, name: &str) -> Markup {
    html! {
        label.field for=(id) { span { (label) } input id=(id) name="name" required maxlength=(LONGEST_NAME) value=(name) autocomplete="nickname"; }
    }
}

/// A new member's first page.
pub fn welcome(guild: &str, sign_in: &str, back: &str) -> Markup {
    let body = html! {
        h1 { (tr!("You are a member of {guild}", guild)) }
        p { (tr!("This browser is signed in for three months. To come in with another one, or after that, you need your way back.")) }
        (shown_key(&tr!("Your way back"), back))
        p { (tr!("Write it down or print this page, and keep it where you keep your keys: it is shown this once, and nobody can look it up. With it you come in at {address}.", address = sign_in)) }
        p.go { a.button href="/quilts" { (tr!("I have written it down: to the quilts")) } }
    };
    framed(&tr!("Welcome"), guild, None, &body)
}

fn shown_key(title: &str, key: &str) -> Markup {
    html! {
        section.key aria-label=(title) {
            h2 { (title) }
            p.written { (key) }
        }
    }
}

/// A member's own page, with the way back where it was just made anew.
pub fn me(asker: &Asker, back: Option<&str>) -> Markup {
    let body = html! {
        h1 { (asker.name) }
        p { (match asker.role {
            Role::Keeper => tr!("You are a keeper of {guild}: you invite, and you see all quilts.", guild = &*asker.guild),
            Role::Member => tr!("You are a member of {guild}.", guild = &*asker.guild),
        }) }
        @if let Some(back) = back {
            (shown_key(&tr!("Your new way back"), back))
            p { (tr!("Write it down or print this page: it is shown this once. The one you had opens nothing any more.")) }
        }
        h2 { (tr!("What you are called")) }
        form method="post" action="/me/name" {
            (named("my-name", &tr!("Your name, as the others see it"), &asker.name))
            p { button type="submit" { (tr!("Change it")) } }
        }
        h2 { (tr!("Your way back")) }
        p { (tr!("The key with which you come in with another browser, a phone say. If you have lost it, or somebody else may have seen it, make another.")) }
        form method="post" action="/me/way-back" { p { button type="submit" { (tr!("Make another way back")) } } }
        h2 { (tr!("Leaving this browser")) }
        div.actions {
            form method="post" action="/sign-out" { button type="submit" { (tr!("Sign out")) } }
            form method="post" action="/sign-out-everywhere" { button type="submit" { (tr!("Sign out everywhere")) } }
        }
        p.quiet { (tr!("You need your way back to come in again.")) }
    };
    framed(&asker.name, &asker.guild, Some(asker), &body)
}

fn role_word(role: Role) -> String {
    match role {
        Role::Keeper => tr!("keeper"),
        Role::Member => tr!("member"),
    }
}

/// `6 days`.
fn left(seconds: i64) -> String {
    let (hours, days) = (seconds.div_euclid(3600).max(1), seconds.div_euclid(24 * 3600));
    let count = |number: i64| usize::try_from(number).unwrap_or(0);
    if days > 0 { tr!("1 day" | "{n} days" % count(days)) } else { tr!("one hour" | "{n} hours" % count(hours)) }
}

/// The members, and for a keeper what she may do about them.
pub fn members(asker: &Asker, members: &[Member], out: &[Invitation], now: i64, made: Option<&Made>) -> Markup {
    let keeps = asker.role == Role::Keeper;
    let keepers = members.iter().filter(|member| member.role == Role::Keeper).count();
    let body = html! {
        h1 { (tr!("Members")) }
        @if let Some(made) = made { (shown_made(made)) }
        ul.members { @for member in members { li id={ "member-" (member.id) } {
            p { b { (member.name) } @if member.id == asker.id { " " span.quiet { (tr!("(you)")) } } }
            p.quiet { (role_word(member.role)) ", " (tr!("1 quilt" | "{n} quilts" % usize::try_from(member.quilts).unwrap_or(0))) }
            @if keeps { (about(asker, member, member.role == Role::Keeper && keepers == 1)) }
        } } }
        @if keeps {
            h2 { (tr!("Invite somebody")) }
            form method="post" action="/members/invite" {
                div.fields {
                    label.field for="invite-role" { span { (tr!("to be a")) } select #invite-role name="role" {
                        option value="member" { (tr!("member, who makes quilts")) }
                        option value="keeper" { (tr!("keeper, who invites as well, and sees all quilts")) }
                    } }
                    label.field for="invite-days" { span { (tr!("open for")) } select #invite-days name="days" {
                        @for days in DAYS { option value=(days) selected[days == DAYS[1]] { (tr!("1 day" | "{n} days" % usize::try_from(days).unwrap_or(0))) } }
                    } }
                }
                p { button type="submit" { (tr!("Make an invitation")) } }
            }
            @if !out.is_empty() {
                h2 { (tr!("Invitations that are out")) }
                ul.members { @for invitation in out { li {
                    p { (tr!("Number {number}, for a {role}, open for another {time}", number = invitation.id.0, role = role_word(invitation.role), time = left(invitation.ends - now))) }
                    form method="post" action={ "/members/invitation/" (invitation.id.0) "/take-back" } {
                        button type="submit" aria-label=(tr!("Take back invitation {number}", number = invitation.id.0)) { (tr!("Take it back")) }
                    }
                } } }
            }
        }
    };
    framed(&tr!("Members"), &asker.guild, Some(asker), &body)
}

fn shown_made(made: &Made) -> Markup {
    match made {
        Made::Invitation { role, days, link } => html! {
            section.key #made aria-label=(tr!("The invitation")) {
                h2 { (tr!("An invitation for a {role}", role = role_word(*role))) }
                p { (tr!("Send this link to one person, or let a phone scan the code. It is shown this once, open for {time}, and used up by whoever joins with it.", time = tr!("1 day" | "{n} days" % usize::try_from(*days).unwrap_or(0)))) }
                div.code role="img" aria-label=(tr!("Code of the address")) { (PreEscaped(code(link))) }
                p.written { a href=(link) { (link) } }
            }
        },
        Made::WayBack { key, name } => html! {
            (shown_key(&tr!("A way back for {name}", name), key))
            p { (tr!("Hand it to {name} and to nobody else: it is shown this once. Browsers that were signed in as {name} are signed out.", name)) }
        },
    }
}

/// What a keeper may do about a member.
fn about(asker: &Asker, member: &Member, is_last: bool) -> Markup {
    let to = |what: &str| format!("/members/member/{}/{what}", member.id);
    let other = if member.role == Role::Keeper { Role::Member } else { Role::Keeper };
    let quilts = usize::try_from(member.quilts).unwrap_or(0);
    html! {
        details.about-member {
            summary { span { (tr!("What a keeper can do")) } span.unseen { " " (tr!("about {name}", name = member.name)) } }
            @if is_last {
                p.quiet { (tr!("The last keeper stays one: make another member a keeper first.")) }
            } @else {
                form method="post" action=(to("role")) {
                    input type="hidden" name="role" value=(if other == Role::Keeper { "keeper" } else { "member" });
                    button type="submit" { (match other {
                        Role::Keeper => tr!("Make {name} a keeper", name = member.name),
                        Role::Member => tr!("Make {name} a member without keys", name = member.name),
                    }) }
                }
            }
            @if member.id != asker.id {
                form method="post" action=(to("way-back")) {
                    button type="submit" { (tr!("Give {name} a new way back", name = member.name)) }
                    p.quiet { (tr!("For one who has lost the key. It signs all browsers of {name} out.", name = member.name)) }
                }
                @if !is_last { form method="post" action=(to("remove")) {
                    button type="submit" { (tr!("Take {name} away", name = member.name)) }
                    p.quiet { (tr!("{name} is signed out everywhere, and sees nothing any more.", name = member.name))
                        @if quilts > 0 { " " (tr!("The quilt goes to you, and stays shared as it is." | "The {n} quilts go to you, and stay shared as they are." % quilts)) } }
                } }
            }
        }
    }
}

fn may_words(may: May) -> String {
    match may {
        May::Look => tr!("may look"),
        May::Tick => tr!("may look and tick off"),
        May::Edit => tr!("may change it"),
        May::Make => tr!("makes it"),
    }
}

/// What a member may do with a quilt of somebody else's, in words, for the list and the workroom.
pub fn part_words(may: Option<May>, maker: Option<&str>) -> String {
    let maker = maker.map_or_else(|| tr!("nobody"), str::to_owned);
    match may {
        Some(May::Make) => tr!("made by {maker}", maker),
        Some(May::Edit) => tr!("made by {maker}; you may change it", maker),
        Some(May::Tick) => tr!("made by {maker}; you may look and tick off", maker),
        Some(May::Look) => tr!("made by {maker}; you may look", maker),
        None => tr!("made by {maker}; you see it as a keeper", maker),
    }
}

/// With whom a quilt is shared.
pub fn shared(asker: &Asker, quilt: QuiltId, name: &str, parts: &[(MemberId, String, May)], members: &[Member]) -> Markup {
    let to = format!("/q/{quilt}/members");
    let title = tr!("Share {quilt} with members", quilt = name);
    let is_in = |member: &&Member| parts.iter().any(|(id, ..)| *id == member.id);
    let others: Vec<&Member> = members.iter().filter(|member| !is_in(member)).collect();
    let choices = [(May::Look, "look"), (May::Tick, "tick"), (May::Edit, "edit")];
    let body = html! {
        p.back { a href={ "/q/" (quilt) } { (tr!("Back to {quilt}", quilt = name)) } }
        h1 { (title) }
        ul.members { @for (member, name, may) in parts { li {
            p { b { (name) } @if *member == asker.id { " " span.quiet { (tr!("(you)")) } } }
            @if *may == May::Make { p.quiet { (may_words(*may)) } } @else {
                form.one method="post" action=(to) {
                    input type="hidden" name="member" value=(member);
                    label.field for={ "may-" (member) } { span { (name) } select id={ "may-" (member) } name="may" {
                        @for (each, word) in choices { option value=(word) selected[each == *may] { (may_words(each)) } }
                        option value="nothing" { (tr!("sees it no longer")) }
                    } }
                    button type="submit" aria-label=(tr!("Change it for {name}", name)) { (tr!("Change it")) }
                }
            }
        } } }
        h2 { (tr!("Share it")) }
        @if others.is_empty() { p.quiet { (tr!("Every member has a part in it already.")) } } @else {
            form method="post" action=(to) {
                div.fields {
                    label.field for="share-member" { span { (tr!("with")) } select #share-member name="member" {
                        @for member in &others { option value=(member.id) { (member.name) } }
                    } }
                    label.field for="share-may" { span { (tr!("who")) } select #share-may name="may" {
                        @for (each, word) in choices { option value=(word) { (may_words(each)) } }
                    } }
                }
                p { button type="submit" { (tr!("Share it")) } }
            }
        }
        p.quiet { (tr!("Keepers of the guild see every quilt. Whoever may look may also save the file and print the book.")) }
    };
    framed(&title, &asker.guild, Some(asker), &body)
}

/// Whose quilt it is, what she who looks at it may do, and whom to ask; nothing for its maker.
pub fn whose() -> Markup {
    let Some(asker) = asker::here().filter(|asker| asker.may.is_some_and(|may| may < May::Make)) else { return html! {} };
    let maker = asker.maker.as_deref();
    let said = match (asker.may, maker) {
        (Some(May::Edit), Some(maker)) => tr!("{maker} makes this quilt, and lets you change it.", maker),
        (Some(May::Edit), None) => tr!("Nobody in the guild makes this quilt; you may change it."),
        (Some(May::Tick), Some(maker)) => {
            tr!("{maker} makes this quilt. You may look, measure, and tick off what is sewn; to change it, ask {maker}.", maker)
        }
        (_, Some(maker)) => {
            tr!("{maker} makes this quilt. You may look; to tick off what is sewn or to change it, ask {maker}.", maker)
        }
        (_, None) => tr!("Nobody in the guild makes this quilt. You may look."),
    };
    html! { p.whose { (said) } }
}
