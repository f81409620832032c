//! Hands every input of the fuzzer to the trial that `SEAMFALL_TRIAL` names.
#![no_main]

use libfuzzer_sys::fuzz_target;
use std::sync::LazyLock;

static TRIAL: LazyLock<fn(&[u8])> = LazyLock::new(|| {
    let name = std::env::var("SEAMFALL_TRIAL").unwrap_or_default();
    let trial = seamfall_trial::TRIALS.iter().find(|(known, _)| *known == name);
    trial.unwrap_or_else(|| panic!("`{name}` is no trial: set SEAMFALL_TRIAL")).1
});

fuzz_target!(|data: &[u8]| TRIAL(data));
