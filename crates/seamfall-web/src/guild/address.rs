//! The address at which a guild is reached from outside.
//!
//! In: what was typed, `https://guild.example`. Out: its scheme and its host with the port, as browsers write them.

use std::net::SocketAddr;
use std::str::FromStr;
use tr::tr;

/// Where a guild is reached.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Address {
    scheme: &'static str,
    host: String,
}

/// Why an address was not understood.
#[derive(Debug, thiserror::Error)]
#[error("{}", tr!("`{typed}` is no address of a guild; write `https://` or `http://`, the name, and a port where there is one, as in `https://quilts.example`", typed = _0))]
pub struct AddressError(String);

impl FromStr for Address {
    type Err = AddressError;

    fn from_str(typed: &str) -> Result<Self, AddressError> {
        let lower = typed.trim().trim_end_matches('/').to_ascii_lowercase();
        let scheme = ["https://", "http://"].into_iter().find(|scheme| lower.starts_with(scheme));
        let scheme = scheme.ok_or_else(|| AddressError(typed.to_owned()))?;
        let host = &lower[scheme.len()..];
        let plain = |letter: char| letter.is_ascii_alphanumeric() || ".-:[]".contains(letter);
        if host.is_empty() || host.starts_with(':') || !host.chars().all(plain) {
            return Err(AddressError(typed.to_owned()));
        }
        // A browser leaves the usual port out.
        let usual = if scheme == "https://" { ":443" } else { ":80" };
        Ok(Self { scheme, host: host.strip_suffix(usual).unwrap_or(host).to_owned() })
    }
}

impl Address {
    /// That of a listener without a name, in the open.
    #[must_use]
    pub fn plain(at: SocketAddr) -> Self {
        let host = if at.port() == 80 { at.ip().to_string() } else { at.to_string() };
        Self { scheme: "http://", host }
    }

    /// `http://` or `https://`.
    #[must_use]
    pub fn scheme(&self) -> &'static str {
        self.scheme
    }

    /// The name, with the port where it is not the usual one.
    #[must_use]
    pub fn host(&self) -> &str {
        &self.host
    }

    /// Whether what is sent to it is encrypted on the way.
    #[must_use]
    pub fn is_encrypted(&self) -> bool {
        self.scheme == "https://"
    }

    /// The address of a page.
    #[must_use]
    pub fn page(&self, path: &str) -> String {
        format!("{}{}{path}", self.scheme, self.host)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn addresses_are_read_as_browsers_write_them() {
        for (typed, page) in [
            ("https://quilts.example", "https://quilts.example/x"),
            ("https://Quilts.Example:443/", "https://quilts.example/x"),
            ("http://192.168.1.7:8080", "http://192.168.1.7:8080/x"),
            ("http://[::1]:80", "http://[::1]/x"),
        ] {
            assert_eq!(typed.parse::<Address>().expect("it is one").page("/x"), page);
        }
        for typed in
            ["quilts.example", "https://", "ftp://a", "https://a/b", "https://a b", "https://:80", "https://a?b", "https://me@a"]
        {
            assert!(typed.parse::<Address>().is_err(), "{typed}");
        }
        assert_eq!(Address::plain(([127, 0, 0, 1], 80).into()).page("/"), "http://127.0.0.1/");
    }
}
