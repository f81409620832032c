//! Photographs of cloths, kept once however many quilts show them.
//!
//! A picture is named by what it holds; a quilt knows it by the name of the file. A picture that no quilt knows any more goes with the last quilt that did.
//! A name leads to the same picture as long as a state of the quilt may name it, so that undo finds it again.

use crate::work::{Row, Thing, Work};
use crate::{QuiltId, Store, StoreError};

/// So many photographs of one quilt are kept at most.
pub const MOST_PHOTOS: usize = 400;

/// A photograph to keep.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NewPhoto<'a> {
    /// Name of its file.
    pub name: &'a str,
    /// What names the picture itself.
    pub hash: &'a str,
    /// The picture.
    pub bytes: &'a [u8],
    /// How much light it gives back, from 0 to 1.
    pub luminance: f64,
}

/// A photograph that a quilt knows.
#[derive(Debug, Clone, PartialEq)]
pub struct PhotoOf {
    /// Name of its file.
    pub name: String,
    /// What names the picture itself.
    pub hash: String,
    /// How much light it gives back, from 0 to 1.
    pub luminance: f64,
}

impl Store {
    /// The photographs that a quilt knows, by name.
    ///
    /// # Errors
    /// What the database says.
    pub fn photos(&self, quilt: QuiltId) -> Result<Vec<PhotoOf>, StoreError> {
        self.look(|work| of(work, quilt))
    }

    /// A picture by what names it.
    ///
    /// # Errors
    /// What the database says.
    pub fn photo(&self, hash: &str) -> Result<Option<Vec<u8>>, StoreError> {
        let found = self.look(|work| work.row("SELECT bytes FROM photo WHERE hash = ?1", &[hash.into()]))?;
        found.map(|mut row| row.bytes(0)).transpose()
    }

    /// Keeps a photograph for a quilt. A name that the quilt has for another picture gets a number: `moss.jpg`, `moss-2.jpg`. Gives the name.
    ///
    /// # Errors
    /// [`StoreError::NoSuchQuilt`], [`StoreError::TooManyPhotos`], or what the database says.
    pub fn keep_photo(&self, quilt: QuiltId, photo: NewPhoto) -> Result<String, StoreError> {
        self.transact(|work| {
            work.hold(quilt)?;
            let known = of(work, quilt)?;
            let names = std::iter::once(photo.name.to_owned()).chain((2..).map(|number| numbered(photo.name, number)));
            let free = |name: &String| known.iter().all(|each| each.name != *name || each.hash == photo.hash);
            let name = names.into_iter().find(free).expect("numbers do not end");
            put(work, quilt, NewPhoto { name: &name, ..photo })?;
            Ok(name)
        })
    }

    /// Keeps a photograph for a quilt under this very name, in place of one that had it.
    ///
    /// # Errors
    /// See [`Store::keep_photo`].
    pub fn put_photo(&self, quilt: QuiltId, photo: NewPhoto) -> Result<(), StoreError> {
        self.transact(|work| {
            work.hold(quilt)?;
            put(work, quilt, photo)
        })
    }
}

fn of(work: &mut Work, quilt: QuiltId) -> Result<Vec<PhotoOf>, StoreError> {
    const SQL: &str = "SELECT photo_of.name, photo_of.hash, photo.luminance FROM photo_of JOIN photo USING (hash) WHERE quilt = ?1 ORDER BY name";
    let photo = |mut row: Row| Ok(PhotoOf { name: row.text(0)?, hash: row.text(1)?, luminance: row.real(2)? });
    work.rows(SQL, &[quilt.0.into()])?.into_iter().map(photo).collect()
}

/// Keeps a photograph for a quilt that is held.
fn put(work: &mut Work, quilt: QuiltId, photo: NewPhoto) -> Result<(), StoreError> {
    work.hold_all(Thing::Photos)?;
    let known = work.one("SELECT count(*) FROM photo_of WHERE quilt = ?1", &[quilt.0.into()])?.number(0)?;
    if usize::try_from(known).unwrap_or(usize::MAX) >= MOST_PHOTOS {
        return Err(StoreError::TooManyPhotos);
    }
    work.execute(
        "INSERT INTO photo (hash, bytes, luminance) VALUES (?1, ?2, ?3) ON CONFLICT DO NOTHING",
        &[photo.hash.into(), photo.bytes.into(), photo.luminance.into()],
    )?;
    work.execute(
        "INSERT INTO photo_of (quilt, name, hash) VALUES (?1, ?2, ?3) ON CONFLICT (quilt, name) DO UPDATE SET hash = excluded.hash",
        &[quilt.0.into(), photo.name.into(), photo.hash.into()],
    )?;
    forget(work)
}

/// Takes away pictures that no quilt knows.
pub(crate) fn forget(work: &mut Work) -> Result<(), StoreError> {
    work.execute("DELETE FROM photo WHERE hash NOT IN (SELECT hash FROM photo_of)", &[]).map(drop)
}

/// `moss.jpg` as `moss-2.jpg`.
fn numbered(name: &str, number: u32) -> String {
    match name.rsplit_once('.') {
        Some((stem, ending)) => format!("{stem}-{number}.{ending}"),
        None => format!("{name}-{number}"),
    }
}
