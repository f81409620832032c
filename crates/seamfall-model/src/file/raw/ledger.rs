//! The ledger as it is written.

use super::{At, RawFall, Typed};
use crate::mark;
use schemars::JsonSchema;
use serde::de::value::{MapAccessDeserializer, SeqAccessDeserializer};
use serde::de::{Deserialize, Deserializer, MapAccess, SeqAccess, Visitor};
use std::fmt;

/// A ledger of Seamfall: what has been sewn of a quilt.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "Seamfall ledger, format 1")]
pub(in crate::file) struct RawLedger {
    /// Version of the format: 1.
    #[schemars(range(min = 1, max = 1))]
    pub format: At<i64>,
    /// Name of the quilt that it belongs to.
    pub quilt: At<String>,
    /// Sections of which something is known.
    #[serde(default)]
    pub section: Vec<RawSection>,
    /// Seams as they were in fact pressed.
    #[serde(default)]
    pub fall: Vec<RawFall>,
    /// Joins that are sewn, in the order in which they were.
    #[serde(default)]
    pub join: Vec<RawJoin>,
}

/// What is known of a section.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::file) struct RawSection {
    /// Its name: `S3`.
    pub name: At<SectionName>,
    /// How far it is; `planned` unless said.
    pub state: Option<RawState>,
    /// Its sides from raw edge to raw edge: one length for all, two for width and height, or four: bottom, right, top, left.
    pub measured: Option<At<RawMeasured>>,
    /// The section whose place it takes, where that is not its own.
    pub at: Option<At<SectionName>>,
    /// Who has it.
    pub with: Option<At<String>>,
    /// What there is to say about it.
    pub note: Option<At<String>>,
    /// The day of the last change, such as 2026-03-07.
    pub date: Option<At<RawDate>>,
}

/// Name of a section.
#[derive(Debug, Clone, serde::Deserialize, JsonSchema)]
#[serde(transparent)]
#[schemars(inline)]
pub(in crate::file) struct SectionName(#[schemars(regex(pattern = r"^S[1-9][0-9]{0,5}$"))] pub String);

/// How far a section is.
#[derive(Debug, Clone, Copy, serde::Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(in crate::file) enum RawState {
    /// Nothing is done yet.
    Planned,
    /// Its pieces are cut.
    Cut,
    /// Its blocks are pieced.
    Pieced,
    /// Its blocks are framed, and its strips are sewn on.
    Framed,
    /// It lies on its batting and backing.
    Layered,
    /// It is quilted.
    Quilted,
    /// It is trimmed to size.
    Trimmed,
    /// It is joined to another.
    Joined,
}

/// Sides as measured: one length, or a list of two or four.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(untagged)]
pub(in crate::file) enum RawMeasured {
    /// All sides alike.
    One(Typed),
    /// Width and height, or bottom, right, top, left.
    Each(#[schemars(length(min = 2, max = 4))] Vec<At<Typed>>),
}

impl<'de> Deserialize<'de> for RawMeasured {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        struct Either;
        impl<'de> Visitor<'de> for Either {
            type Value = RawMeasured;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(mark!("a length like \"12 1/2\", or a list of two or four"))
            }
            fn visit_str<E>(self, text: &str) -> Result<RawMeasured, E> {
                Ok(RawMeasured::One(Typed::Text(text.to_owned())))
            }
            fn visit_i64<E>(self, number: i64) -> Result<RawMeasured, E> {
                Ok(RawMeasured::One(Typed::Number(number as f64)))
            }
            fn visit_f64<E>(self, number: f64) -> Result<RawMeasured, E> {
                Ok(RawMeasured::One(Typed::Number(number)))
            }
            fn visit_seq<A: SeqAccess<'de>>(self, list: A) -> Result<RawMeasured, A::Error> {
                Vec::deserialize(SeqAccessDeserializer::new(list)).map(RawMeasured::Each)
            }
        }
        from.deserialize_any(Either)
    }
}

/// A day, as text or as a date of TOML.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(inline)]
pub(in crate::file) struct RawDate(#[schemars(regex(pattern = r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$"))] pub String);

impl<'de> Deserialize<'de> for RawDate {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        struct Either;
        impl<'de> Visitor<'de> for Either {
            type Value = RawDate;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(mark!("a day like 2026-03-07"))
            }
            fn visit_str<E>(self, text: &str) -> Result<RawDate, E> {
                Ok(RawDate(text.to_owned()))
            }
            // The parser gives its dates as a table of one key.
            fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<RawDate, A::Error> {
                toml::value::Datetime::deserialize(MapAccessDeserializer::new(map)).map(|date| RawDate(date.to_string()))
            }
        }
        from.deserialize_any(Either)
    }
}

/// A join that is sewn.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::file) struct RawJoin {
    /// The sections that hung together on either side: `[["S1", "S2"], ["S3"]]`.
    #[schemars(length(equal = 2))]
    pub between: At<Vec<At<Vec<At<SectionName>>>>>,
    /// The day it was sewn.
    pub date: Option<At<RawDate>>,
}
