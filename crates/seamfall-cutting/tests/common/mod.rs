//! The instances of `tests/instances/`, as read.

use std::fs;
use std::path::{Path, PathBuf};

use seamfall_cutting::file::{self, Order, Task};
use seamfall_cutting::job::{Job, Stages};
use serde_json::Value;

/// One instance with what is known of it.
pub struct Instance {
    pub name: String,
    pub order: Order,
    pub known: Value,
}

impl Instance {
    /// A known length in ticks, by a pointer such as `/bounds/any_layout`.
    pub fn known_ticks(&self, pointer: &str) -> Option<u64> {
        let length = self.known.pointer(pointer)?.as_f64()?;
        Some((length * f64::from(self.order.ticks_per_unit)).round() as u64)
    }

    pub fn job(&self) -> &Job {
        match &self.order.task {
            Task::Length(job) => job,
            Task::Sheets(_) | Task::Templates(_) => panic!("{} is no list of rectangles for one cloth", self.name),
        }
    }
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/instances")
}

/// The instances whose name begins so, in the order of their names.
pub fn instances(start: &str, stages: Stages) -> Vec<Instance> {
    let mut files: Vec<PathBuf> =
        fs::read_dir(folder()).expect("there are instances").map(|entry| entry.expect("it can be read").path()).collect();
    files.retain(|path| path.extension().is_some_and(|ending| ending == "json"));
    files.retain(|path| path.file_name().is_some_and(|name| name.to_string_lossy().starts_with(start)));
    files.sort();
    files
        .iter()
        .map(|path| {
            let text = fs::read_to_string(path).expect("an instance can be read");
            let known: Value = serde_json::from_str(&text).expect("an instance is JSON");
            let order = file::read(&text, Some(stages)).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
            Instance { name: order.name.clone(), order, known }
        })
        .collect()
}
