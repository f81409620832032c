//! Words in another language.
//!
//! The English sentence is the key. What is said where it stands goes through `tr!`; words that have to be constants are marked with
//! [`mark!`](crate::mark) where they stand and looked up with [`spoken`] where they are shown. Both are gathered for the translator.
//! The language is set once, before anything is planned; with none set all is English.

use tr::tr;

/// Marks plain words of a constant, so that they are gathered; they are themselves. [`spoken`](crate::spoken) says them.
#[macro_export]
macro_rules! mark {
    ($words:literal) => {
        $words
    };
}

/// Words of a constant that were [marked](crate::mark), as they are said.
#[must_use]
pub fn spoken(marked: &str) -> String {
    tr!(marked)
}
