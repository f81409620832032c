//! Every input that was kept, on every check.

use seamfall_trial::TRIALS;
use std::fs;
use std::path::{Path, PathBuf};

/// Most that the inputs of all trials together take of the repository, in bytes.
const MOST_BYTES: u64 = 2_000_000;

fn corpus() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../fuzz/corpus")
}

fn inputs(trial: &str) -> Vec<PathBuf> {
    let folder = fs::read_dir(corpus().join(trial)).unwrap_or_else(|error| panic!("{trial} has no inputs: {error}"));
    let mut files: Vec<PathBuf> = folder.map(|entry| entry.expect("it can be read").path()).collect();
    files.sort();
    files
}

fn holds(name: &str) {
    let (_, trial) = TRIALS.iter().find(|(known, _)| *known == name).expect("a trial of this name");
    let files = inputs(name);
    assert!(files.len() > 5, "{name} is tried with next to nothing");
    for file in files {
        // Seen where a law does not hold.
        println!("{}", file.display());
        trial(&fs::read(&file).expect("an input can be read"));
    }
}

macro_rules! trials {
    ($($name:ident),*) => {
        $(#[test]
        fn $name() {
            holds(stringify!($name));
        })*

        #[test]
        fn every_trial_has_a_test_and_a_folder_and_all_is_small() {
            let names: Vec<&str> = TRIALS.iter().map(|(name, _)| *name).collect();
            assert_eq!(names, [$(stringify!($name)),*]);
            let mut folders: Vec<String> = fs::read_dir(corpus()).expect("there are inputs").map(|entry| entry.expect("a folder").file_name().to_string_lossy().into_owned()).collect();
            folders.sort();
            let mut sorted: Vec<String> = names.iter().map(|&name| name.to_owned()).collect();
            sorted.sort();
            assert_eq!(folders, sorted);
            let bytes: u64 = names.iter().flat_map(|name| inputs(name)).map(|file| fs::metadata(file).expect("it is there").len()).sum();
            assert!(bytes <= MOST_BYTES, "{bytes} bytes of inputs: make them fewer with `bash fuzz/run.sh --fewer`");
        }
    };
}

trials!(quilt, ledger, class, drawing, photo, cutting, maker, member);
