//! Check values from published sources, for the tests beside it.

use serde::Deserialize;
use std::collections::BTreeMap;

#[derive(Deserialize)]
struct Values {
    check: Vec<Check>,
}

/// One value.
#[derive(Deserialize)]
pub struct Check {
    id: String,
    #[serde(default)]
    pub inputs: BTreeMap<String, toml::Value>,
    pub expected: BTreeMap<String, toml::Value>,
}

/// A number of a check.
pub fn number(table: &BTreeMap<String, toml::Value>, key: &str) -> f64 {
    let value = &table[key];
    value.as_float().or_else(|| value.as_integer().map(|whole| whole as f64)).unwrap_or_else(|| panic!("{key} is a number"))
}

/// The check `id` of a file of values.
pub fn value_of(text: &str, id: &str) -> Check {
    let all: Values = toml::from_str(text).expect("the values read");
    all.check.into_iter().find(|check| check.id == id).unwrap_or_else(|| panic!("there is no {id}"))
}
