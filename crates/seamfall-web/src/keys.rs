//! Keys that let somebody in: 128 bits of the system's own chance.
//!
//! In: nothing but chance. Out: a key as it is shown, with the number of what it opens; and its hash, which is all that is kept. A fast hash is right
//! here: slow ones are for passwords, which can be guessed, and nobody guesses one of 2^128 keys. What is looked up is the number; keys are compared
//! in a time that does not tell how much of one is right.

use crate::trouble::Trouble;
use axum::http::header::{COOKIE, HeaderMap};
use sha2::{Digest, Sha256};
use std::fmt::Write;
use tr::tr;

/// A key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Key([u8; 16]);

impl Key {
    /// One that nobody has.
    pub fn fresh() -> Result<Self, Trouble> {
        let mut bits = [0; 16];
        getrandom::fill(&mut bits)
            .map_err(|error| Trouble::fault(tr!("the system has no chance to give: {error}", error = error)))?;
        Ok(Self(bits))
    }

    /// Its letters.
    pub fn letters(&self) -> String {
        hexadecimal(&self.0)
    }

    /// What is kept of it.
    pub fn hash(&self) -> String {
        hexadecimal(&Sha256::digest(self.0))
    }

    /// Whether this is what was kept of it.
    pub fn is(&self, hash: &str) -> bool {
        same(&self.hash(), hash)
    }

    /// With the number of what it opens, for an address or a cookie.
    pub fn numbered(&self, number: i64) -> String {
        format!("{number}-{}", self.letters())
    }

    /// The same to be written down: in fours.
    pub fn written(&self, number: i64) -> String {
        let letters = self.letters();
        let fours = (0..letters.len() / 4).map(|four| &letters[4 * four..4 * four + 4]).collect::<Vec<_>>();
        format!("{number}-{}", fours.join("-"))
    }

    /// A number and a key, however it was typed: in fours or not, in large letters or small.
    pub fn read(typed: &str) -> Option<(i64, Self)> {
        let (number, letters) = typed.trim().split_once('-')?;
        let number = (number.len() <= 18 && number.bytes().all(|byte| byte.is_ascii_digit())).then(|| number.parse().ok())??;
        let mut digits =
            letters.chars().filter(|letter| *letter != '-' && !letter.is_whitespace()).map(|letter| letter.to_digit(16));
        let mut bits = [0; 16];
        for byte in &mut bits {
            *byte = u8::try_from(16 * digits.next()?? + digits.next()??).ok()?;
        }
        digits.next().is_none().then_some((number, Self(bits)))
    }
}

fn hexadecimal(bytes: &[u8]) -> String {
    bytes.iter().fold(String::new(), |mut letters, byte| {
        let _ = write!(letters, "{byte:02x}");
        letters
    })
}

/// Compares in a time that does not tell how much of a key is right.
pub fn same(one: &str, other: &str) -> bool {
    one.len() == other.len() && one.bytes().zip(other.bytes()).fold(0, |all, (a, b)| all | (a ^ b)) == 0
}

/// What a browser shows in the cookie of this name.
pub fn shown<'a>(headers: &'a HeaderMap, cookie: &str) -> Option<&'a str> {
    let all = headers.get_all(COOKIE).iter().filter_map(|value| value.to_str().ok());
    let mut all = all.flat_map(|value| value.split(';')).filter_map(|each| each.trim().split_once('='));
    all.find(|(name, _)| *name == cookie).map(|(_, value)| value)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source of the hash: FIPS 180-4 by `sha256sum` of sixteen bytes of zero.
    #[test]
    fn keys_are_read_as_they_are_typed() {
        let key = Key([0; 16]);
        assert!(key.is("374708fff7719dd5979ec875d56cd2286f6d3cf7ec317a3b25632aab28ec37bb"));
        assert_eq!(key.written(7), "7-0000-0000-0000-0000-0000-0000-0000-0000");
        let key = Key::fresh().expect("there is chance");
        assert_ne!(key, Key::fresh().expect("there is chance"));
        let written = format!(" {} ", key.written(12).to_uppercase());
        for typed in [key.numbered(12), key.written(12), written, key.written(12).replacen("-", "- ", 2)] {
            assert_eq!(Key::read(&typed), Some((12, key.clone())), "{typed}");
        }
    }

    #[test]
    fn what_is_no_key_is_none() {
        let letters = "0".repeat(32);
        for typed in ["", "-", "7", "7-", &letters, "7-00", "-7-00", &format!("-7-{letters}"), &format!("7-{letters}0")] {
            assert_eq!(Key::read(typed), None, "{typed}");
        }
        for typed in [format!("7-{}g", &letters[1..]), format!("{}-{letters}", "9".repeat(19)), format!("7-é{}", &letters[2..])]
        {
            assert_eq!(Key::read(&typed), None, "{typed}");
        }
    }
}
