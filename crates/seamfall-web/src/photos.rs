//! The photographs that a quilt shows: where the browser finds them, and how light they are.
//!
//! In: the store. Out: an address for every photograph that the quilt's cloths name and the store has. An address names what is seen, so that the
//! browser asks for it once.

use seamfall_draw::{Picture, Pictures};
use seamfall_model::Quilt;
use seamfall_store::{QuiltId, Store, StoreError};
use std::collections::BTreeMap;

/// Photographs of a quilt.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Photos {
    /// Their addresses, by the names of their files.
    pub pictures: Pictures,
    /// How much light each gives back, from 0 to 1.
    pub light: BTreeMap<String, f64>,
}

impl Photos {
    /// Those that `quilt` names and the store has.
    pub fn of(store: &Store, id: QuiltId, quilt: &Quilt) -> Result<Self, StoreError> {
        let mut all = Self::default();
        if !named(quilt) {
            return Ok(all);
        }
        for photo in store.photos(id)? {
            let address = |shades: &str| format!("/photo/{}/{shades}.jpg", photo.hash);
            all.pictures.insert(photo.name.clone(), Picture { colours: address("colours"), greys: address("greys") });
            all.light.insert(photo.name, photo.luminance);
        }
        Ok(all)
    }
}

/// The pictures themselves, for a drawing that stands alone.
pub fn within(store: &Store, id: QuiltId, quilt: &Quilt) -> Result<Pictures, StoreError> {
    let mut all = Pictures::new();
    if !named(quilt) {
        return Ok(all);
    }
    for photo in store.photos(id)? {
        if let Some(jpeg) = store.photo(&photo.hash)? {
            let colours = seamfall_photo::as_address(&jpeg);
            all.insert(photo.name, Picture { greys: colours.clone(), colours });
        }
    }
    Ok(all)
}

fn named(quilt: &Quilt) -> bool {
    quilt.cloths.iter().any(|cloth| cloth.look.as_ref().is_some_and(|look| look.photo().is_some()))
}
