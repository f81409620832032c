//! A guild: its members, whom they invite, the browsers that are signed in, and who may do what with which quilt.
//!
//! In: keys as hashes, times as seconds since 1970; both come from outside, for the store has neither chance nor clock. Out: who somebody is that
//! shows a key, which quilts are hers, and which are shared with her. A quilt that is nobody's is a single maker's, as is an own block.
//!
//! Nothing here looks at keys or decides what a role allows.

use crate::work::{Row, Thing, Work};
use crate::{Listed, OwnBlock, OwnBlockId, QuiltId, Store, StoreError, create};
use std::fmt;

/// A member of the guild.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct MemberId(pub i64);

impl fmt::Display for MemberId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0)
    }
}

/// An invitation that is out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct InvitationId(pub i64);

/// A browser that is signed in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SessionId(pub i64);

/// What a member is in the guild.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Role {
    /// Makes quilts.
    Member,
    /// Invites, takes away, changes roles, and sees all quilts.
    Keeper,
}

/// What a member may do with a quilt; each includes those before it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum May {
    /// See it.
    Look,
    /// Tick off what is sewn.
    Tick,
    /// Change it.
    Edit,
    /// Share it and take it away: she makes it.
    Make,
}

/// Words of a column, and what they mean.
trait Word: Sized + Copy + PartialEq + 'static {
    const WORDS: &'static [(&'static str, Self)];

    fn word(self) -> &'static str {
        let found = Self::WORDS.iter().find(|(_, each)| *each == self);
        found.expect("each has its word").0
    }

    fn meant(word: &str) -> Result<Self, StoreError> {
        let found = Self::WORDS.iter().find(|(each, _)| *each == word);
        found.map(|(_, meant)| *meant).ok_or_else(|| StoreError::Damaged(format!("a row holds `{word}` where a role belongs")))
    }
}

impl Word for Role {
    const WORDS: &'static [(&'static str, Self)] = &[("member", Self::Member), ("keeper", Self::Keeper)];
}

impl Word for May {
    const WORDS: &'static [(&'static str, Self)] =
        &[("look", Self::Look), ("tick", Self::Tick), ("edit", Self::Edit), ("make", Self::Make)];
}

fn may_if_any(row: &mut Row, column: usize) -> Result<Option<May>, StoreError> {
    row.text_if_any(column)?.map(|word| May::meant(&word)).transpose()
}

/// A member of the guild.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Member {
    /// Which.
    pub id: MemberId,
    /// What she is called.
    pub name: String,
    /// What she is in the guild.
    pub role: Role,
    /// Hash of the key that lets her in again.
    pub way_back: String,
    /// Quilts that she makes.
    pub quilts: u64,
}

/// An invitation that is out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Invitation {
    /// Which.
    pub id: InvitationId,
    /// Hash of its key.
    pub hash: String,
    /// What she who opens it will be.
    pub role: Role,
    /// When it ends.
    pub ends: i64,
}

/// Who asks, told by the session that she asks in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Asking {
    /// Which member.
    pub member: MemberId,
    /// What she is called.
    pub name: String,
    /// What she is in the guild.
    pub role: Role,
    /// Hash of the session's key.
    pub hash: String,
    /// When the session ends.
    pub ends: i64,
    /// What she may do with the quilt that was asked about.
    pub may: Option<May>,
    /// Who makes that quilt.
    pub maker: Option<String>,
}

/// A quilt in a member's list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shared {
    /// The quilt.
    pub quilt: Listed,
    /// What she may do with it; nothing where she sees it as a keeper alone.
    pub may: Option<May>,
    /// Who makes it.
    pub maker: Option<String>,
}

/// Asks for members, as [`member`] reads them.
macro_rules! members {
    ($which:literal) => {
        concat!(
            "SELECT id, name, role, way_back, \
             (SELECT count(*) FROM part WHERE part.member = member.id AND part.may = 'make') FROM member ",
            $which
        )
    };
}

fn member(mut row: Row) -> Result<Member, StoreError> {
    let (id, quilts) = (MemberId(row.number(0)?), row.number(4)?.unsigned_abs());
    Ok(Member { id, name: row.text(1)?, role: Role::meant(&row.text(2)?)?, way_back: row.text(3)?, quilts })
}

fn invitation(mut row: Row) -> Result<Invitation, StoreError> {
    let id = InvitationId(row.number(0)?);
    Ok(Invitation { id, hash: row.text(1)?, role: Role::meant(&row.text(2)?)?, ends: row.number(3)? })
}

impl Store {
    /// All members, by their names.
    ///
    /// # Errors
    /// What the database says.
    pub fn members(&self) -> Result<Vec<Member>, StoreError> {
        self.look(|work| work.rows(members!("ORDER BY name, id"), &[])?.into_iter().map(member).collect())
    }

    /// One of them.
    ///
    /// # Errors
    /// [`StoreError::NoSuchMember`], or what the database says.
    pub fn member(&self, id: MemberId) -> Result<Member, StoreError> {
        let found = self.look(|work| work.row(members!("WHERE id = ?1"), &[id.0.into()]))?;
        found.ok_or(StoreError::NoSuchMember).and_then(member)
    }

    /// Gives a member another name.
    ///
    /// # Errors
    /// [`StoreError::NoSuchMember`], or what the database says.
    pub fn rename_member(&self, id: MemberId, name: &str) -> Result<(), StoreError> {
        self.transact(|work| one(work.execute("UPDATE member SET name = ?2 WHERE id = ?1", &[id.0.into(), name.into()])?))
    }

    /// Gives a member another key to come back with; the old one opens nothing any more.
    ///
    /// # Errors
    /// [`StoreError::NoSuchMember`], or what the database says.
    pub fn set_way_back(&self, id: MemberId, hash: &str) -> Result<(), StoreError> {
        self.transact(|work| one(work.execute("UPDATE member SET way_back = ?2 WHERE id = ?1", &[id.0.into(), hash.into()])?))
    }

    /// Makes a member something else in the guild.
    ///
    /// # Errors
    /// [`StoreError::LastKeeper`], [`StoreError::NoSuchMember`], or what the database says.
    pub fn set_role(&self, id: MemberId, role: Role) -> Result<(), StoreError> {
        self.transact(|work| {
            work.hold_all(Thing::Members)?;
            one(work.execute("UPDATE member SET role = ?2 WHERE id = ?1", &[id.0.into(), role.word().into()])?)?;
            has_keeper(work)
        })
    }

    /// Takes a member away: her sessions end, what others shared with her is shut to her, and her quilts and own blocks go to `heir`.
    ///
    /// # Errors
    /// [`StoreError::LastKeeper`], [`StoreError::NoSuchMember`] also where there is no such heir, or what the database says.
    pub fn remove_member(&self, id: MemberId, heir: MemberId) -> Result<(), StoreError> {
        self.transact(|work| {
            work.hold_all(Thing::Members)?;
            let both = [id.0.into(), heir.0.into()];
            if work.one("SELECT count(*) FROM member WHERE id IN (?1, ?2)", &both)?.number(0)? != 2 {
                return Err(StoreError::NoSuchMember);
            }
            for sql in [
                // What the heir was allowed before is less than making it.
                "DELETE FROM part WHERE member = ?2 AND quilt IN (SELECT quilt FROM part WHERE member = ?1 AND may = 'make')",
                "UPDATE part SET member = ?2 WHERE member = ?1 AND may = 'make'",
                "UPDATE own_block_of SET member = ?2 WHERE member = ?1",
            ] {
                work.execute(sql, &both)?;
            }
            work.execute("DELETE FROM member WHERE id = ?1", &[id.0.into()])?;
            has_keeper(work)
        })
    }

    /// Writes down an invitation.
    ///
    /// # Errors
    /// What the database says.
    pub fn invite(&self, hash: &str, role: Role, ends: i64) -> Result<InvitationId, StoreError> {
        const SQL: &str = "INSERT INTO invitation (hash, role, ends) VALUES (?1, ?2, ?3) RETURNING id";
        self.transact(|work| work.one(SQL, &[hash.into(), role.word().into(), ends.into()])?.number(0).map(InvitationId))
    }

    /// The invitations that have not ended by `now`, the oldest first. Others are forgotten.
    ///
    /// # Errors
    /// What the database says.
    pub fn invitations(&self, now: i64) -> Result<Vec<Invitation>, StoreError> {
        self.transact(|work| {
            work.execute("DELETE FROM invitation WHERE ends <= ?1", &[now.into()])?;
            work.rows("SELECT id, hash, role, ends FROM invitation ORDER BY id", &[])?.into_iter().map(invitation).collect()
        })
    }

    /// One of them, if it has not ended.
    ///
    /// # Errors
    /// [`StoreError::NoSuchInvitation`], or what the database says.
    pub fn invitation(&self, id: InvitationId, now: i64) -> Result<Invitation, StoreError> {
        const SQL: &str = "SELECT id, hash, role, ends FROM invitation WHERE id = ?1 AND ends > ?2";
        let found = self.look(|work| work.row(SQL, &[id.0.into(), now.into()]))?;
        found.ok_or(StoreError::NoSuchInvitation).and_then(invitation)
    }

    /// Takes an invitation back.
    ///
    /// # Errors
    /// [`StoreError::NoSuchInvitation`], or what the database says.
    pub fn take_back(&self, id: InvitationId) -> Result<(), StoreError> {
        self.transact(|work| match work.execute("DELETE FROM invitation WHERE id = ?1", &[id.0.into()])? {
            0 => Err(StoreError::NoSuchInvitation),
            _ => Ok(()),
        })
    }

    /// Makes a member of her who opens an invitation, which is used up by it.
    ///
    /// # Errors
    /// [`StoreError::NoSuchInvitation`], or what the database says.
    pub fn accept(&self, invitation: InvitationId, now: i64, name: &str, way_back: &str) -> Result<MemberId, StoreError> {
        self.transact(|work| {
            const OPEN: &str = "DELETE FROM invitation WHERE id = ?1 AND ends > ?2 RETURNING role";
            let role = work.row(OPEN, &[invitation.0.into(), now.into()])?.ok_or(StoreError::NoSuchInvitation)?.text(0)?;
            const JOIN: &str = "INSERT INTO member (name, role, way_back) VALUES (?1, ?2, ?3) RETURNING id";
            work.one(JOIN, &[name.into(), (&*role).into(), way_back.into()])?.number(0).map(MemberId)
        })
    }

    /// Signs a browser in. Sessions that have ended by `now` are forgotten.
    ///
    /// # Errors
    /// What the database says.
    pub fn sign_in(&self, member: MemberId, hash: &str, now: i64, ends: i64) -> Result<SessionId, StoreError> {
        self.transact(|work| {
            work.execute("DELETE FROM session WHERE ends <= ?1", &[now.into()])?;
            const SQL: &str = "INSERT INTO session (member, hash, ends) VALUES (?1, ?2, ?3) RETURNING id";
            work.one(SQL, &[member.0.into(), hash.into(), ends.into()])?.number(0).map(SessionId)
        })
    }

    /// Signs a browser out.
    ///
    /// # Errors
    /// What the database says.
    pub fn sign_out(&self, session: SessionId) -> Result<(), StoreError> {
        self.transact(|work| work.execute("DELETE FROM session WHERE id = ?1", &[session.0.into()]).map(drop))
    }

    /// Signs all browsers of a member out.
    ///
    /// # Errors
    /// What the database says.
    pub fn sign_out_everywhere(&self, member: MemberId) -> Result<(), StoreError> {
        self.transact(|work| work.execute("DELETE FROM session WHERE member = ?1", &[member.0.into()]).map(drop))
    }

    /// Who asks in a session that has not ended, and what she may do with a quilt.
    ///
    /// # Errors
    /// What the database says.
    pub fn asking(&self, session: SessionId, now: i64, quilt: Option<QuiltId>) -> Result<Option<Asking>, StoreError> {
        const SQL: &str = "SELECT member.id, member.name, member.role, session.hash, session.ends, part.may,
                (SELECT made.name FROM part AS made_by JOIN member AS made ON made.id = made_by.member
                 WHERE made_by.quilt = ?3 AND made_by.may = 'make')
             FROM session JOIN member ON member.id = session.member
             LEFT JOIN part ON part.member = member.id AND part.quilt = ?3
             WHERE session.id = ?1 AND session.ends > ?2";
        let given = [session.0.into(), now.into(), quilt.map_or(0, |quilt| quilt.0).into()];
        let Some(mut row) = self.look(|work| work.row(SQL, &given))? else { return Ok(None) };
        Ok(Some(Asking {
            member: MemberId(row.number(0)?),
            name: row.text(1)?,
            role: Role::meant(&row.text(2)?)?,
            hash: row.text(3)?,
            ends: row.number(4)?,
            may: may_if_any(&mut row, 5)?,
            maker: row.text_if_any(6)?,
        }))
    }

    /// Adds a quilt that a member makes.
    ///
    /// # Errors
    /// What the database says.
    pub fn create_for(&self, maker: MemberId, text: &str, ledger: &str) -> Result<QuiltId, StoreError> {
        self.transact(|work| {
            let id = create(work, text, ledger)?;
            allow(work, id, maker, May::Make)?;
            Ok(id)
        })
    }

    /// The quilts that a member makes or that are shared with her, for a keeper every other one too; the one worked on last first.
    ///
    /// # Errors
    /// What the database says.
    pub fn quilts_of(&self, member: MemberId) -> Result<Vec<Shared>, StoreError> {
        const SQL: &str =
            "SELECT quilt.id, state.text, state.ledger, (SELECT count(*) FROM state AS each WHERE each.quilt = quilt.id), part.may,
                (SELECT member.name FROM part AS made JOIN member ON member.id = made.member
                 WHERE made.quilt = quilt.id AND made.may = 'make')
             FROM quilt JOIN state ON state.id = quilt.current
             LEFT JOIN part ON part.quilt = quilt.id AND part.member = ?1
             WHERE part.may IS NOT NULL OR (SELECT role FROM member WHERE id = ?1) = 'keeper' ORDER BY quilt.touched DESC";
        let shared = |mut row: Row| {
            let (id, states) = (QuiltId(row.number(0)?), row.number(3)?.unsigned_abs());
            let quilt = Listed { id, text: row.text(1)?, ledger: row.text(2)?, states };
            Ok(Shared { quilt, may: may_if_any(&mut row, 4)?, maker: row.text_if_any(5)? })
        };
        self.look(|work| work.rows(SQL, &[member.0.into()])?.into_iter().map(shared).collect())
    }

    /// Who may do what with a quilt: its maker first, then those she shares it with, by their names.
    ///
    /// # Errors
    /// What the database says.
    pub fn parts(&self, quilt: QuiltId) -> Result<Vec<(MemberId, String, May)>, StoreError> {
        const SQL: &str = "SELECT member.id, member.name, part.may FROM part JOIN member ON member.id = part.member
             WHERE part.quilt = ?1 ORDER BY CASE WHEN part.may = 'make' THEN 0 ELSE 1 END, member.name, member.id";
        let part = |mut row: Row| Ok((MemberId(row.number(0)?), row.text(1)?, May::meant(&row.text(2)?)?));
        self.look(|work| work.rows(SQL, &[quilt.0.into()])?.into_iter().map(part).collect())
    }

    /// What a member may do with a quilt.
    ///
    /// # Errors
    /// What the database says.
    pub fn may(&self, member: MemberId, quilt: QuiltId) -> Result<Option<May>, StoreError> {
        self.look(|work| may(work, member, quilt))
    }

    /// Shares a quilt with a member, or shuts it to her. Its maker stays its maker; nobody else becomes one.
    ///
    /// # Errors
    /// [`StoreError::NoSuchMember`], [`StoreError::NoSuchQuilt`], or what the database says.
    pub fn share(&self, quilt: QuiltId, member: MemberId, as_what: Option<May>) -> Result<(), StoreError> {
        self.transact(|work| {
            work.hold(quilt)?;
            work.hold_all(Thing::Members)?;
            if work.one("SELECT count(*) FROM member WHERE id = ?1", &[member.0.into()])?.number(0)? == 0 {
                return Err(StoreError::NoSuchMember);
            }
            if may(work, member, quilt)? == Some(May::Make) {
                return Ok(());
            }
            work.execute("DELETE FROM part WHERE quilt = ?1 AND member = ?2", &[quilt.0.into(), member.0.into()])?;
            as_what.map_or(Ok(()), |may| allow(work, quilt, member, may.min(May::Edit)))
        })
    }

    /// Whether a picture is on a quilt that a member makes or that is shared with her.
    ///
    /// # Errors
    /// What the database says.
    pub fn shows_photo(&self, member: MemberId, hash: &str) -> Result<bool, StoreError> {
        const SQL: &str = "SELECT count(*) FROM photo_of JOIN part ON part.quilt = photo_of.quilt WHERE photo_of.hash = ?1 AND part.member = ?2";
        self.look(|work| Ok(work.one(SQL, &[hash.into(), member.0.into()])?.number(0)? > 0))
    }

    /// A member's own blocks, the one kept first first.
    ///
    /// # Errors
    /// What the database says.
    pub fn own_blocks_of(&self, member: MemberId) -> Result<Vec<OwnBlock>, StoreError> {
        const SQL: &str =
            "SELECT own_block.id, own_block.text FROM own_block JOIN own_block_of ON own_block_of.block = own_block.id
             WHERE own_block_of.member = ?1 ORDER BY own_block.id";
        let block = |mut row: Row| Ok(OwnBlock { id: OwnBlockId(row.number(0)?), text: row.text(1)? });
        self.look(|work| work.rows(SQL, &[member.0.into()])?.into_iter().map(block).collect())
    }

    /// Whether an own block is this member's.
    ///
    /// # Errors
    /// What the database says.
    pub fn owns_block(&self, member: MemberId, block: OwnBlockId) -> Result<bool, StoreError> {
        const SQL: &str = "SELECT count(*) FROM own_block_of WHERE block = ?1 AND member = ?2";
        self.look(|work| Ok(work.one(SQL, &[block.0.into(), member.0.into()])?.number(0)? > 0))
    }

    /// Keeps another own block of a member's.
    ///
    /// # Errors
    /// What the database says.
    pub fn keep_block_for(&self, member: MemberId, text: &str) -> Result<OwnBlockId, StoreError> {
        self.transact(|work| {
            let id = work.one("INSERT INTO own_block (text) VALUES (?1) RETURNING id", &[text.into()])?.number(0)?;
            work.execute("INSERT INTO own_block_of (block, member) VALUES (?1, ?2)", &[id.into(), member.0.into()])?;
            Ok(OwnBlockId(id))
        })
    }
}

fn may(work: &mut Work, member: MemberId, quilt: QuiltId) -> Result<Option<May>, StoreError> {
    let found = work.row("SELECT may FROM part WHERE quilt = ?1 AND member = ?2", &[quilt.0.into(), member.0.into()])?;
    found.map_or(Ok(None), |mut row| May::meant(&row.text(0)?).map(Some))
}

fn allow(work: &mut Work, quilt: QuiltId, member: MemberId, may: May) -> Result<(), StoreError> {
    const SQL: &str = "INSERT INTO part (quilt, member, may) VALUES (?1, ?2, ?3)";
    work.execute(SQL, &[quilt.0.into(), member.0.into(), may.word().into()]).map(drop)
}

fn one(changed: u64) -> Result<(), StoreError> {
    if changed == 0 { Err(StoreError::NoSuchMember) } else { Ok(()) }
}

fn has_keeper(work: &mut Work) -> Result<(), StoreError> {
    match work.one("SELECT count(*) FROM member WHERE role = 'keeper'", &[])?.number(0)? {
        0 => Err(StoreError::LastKeeper),
        _ => Ok(()),
    }
}
