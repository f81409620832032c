//! Takes pictures of every screen, in three widths, to be looked at; and those that the docs show.
//!
//! `cargo run -p seamfall-web --example pictures -- FOLDER` writes all of them there; without a folder only those that the docs show.

#[allow(dead_code, reason = "the tests use the rest")]
#[path = "../tests/workroom/common.rs"]
mod common;
#[allow(dead_code, reason = "the tests use the rest")]
#[path = "../tests/workroom/driven.rs"]
mod driven;

use common::Served;
use driven::{Page, Window};
use std::path::{Path, PathBuf};

/// A screen: its name, its page (`~` stands for the quilt), and what is done there before the picture is taken.
type Screen = (&'static str, &'static str, &'static str);

const SCREENS: &[Screen] = &[
    ("workroom", "~", "choose('B2.p1')"),
    ("fit", "~", "stage('fit')"),
    ("cloths", "~", "stage('cloths')"),
    ("draft", "~", "stage('draft')"),
    ("draw", "~/draw?from=starter:lemoyne-star", ""),
    ("set", "~", "stage('set')"),
    ("piece", "~", "stage('piece')"),
    ("fall", "~", "$('show-falls').click(); stage('fall')"),
    ("cut", "~", "stage('cut')"),
    ("lap", "~", "stage('lap')"),
    ("true", "~", "stage('true')"),
    ("join", "~", "stage('join')"),
    ("finish", "~", "stage('finish')"),
    ("find", "~", "openFind()"),
    ("dark", "~", "chooseLight('dark'); choose('B2.p1')"),
    ("begin", "/begin", ""),
    ("quilts", "/quilts", ""),
    ("versions", "~/versions", ""),
    ("sewing", "~/sewing", ""),
    ("share", "~/share", "document.querySelector('#give button').click()"),
    ("class", "~/class", "document.querySelector('#class-begin, main form button[type=submit]')?.click()"),
    ("print", "~/print", ""),
    ("section", "~/section/S1", ""),
    ("table", "~/cloth/night", ""),
];

/// Those that the docs show: the screen and the width.
const IN_DOCS: &[(&str, &str)] = &[("workroom", "wide"), ("begin", "wide"), ("versions", "wide"), ("dark", "wide")];

fn main() {
    let folder = PathBuf::from(std::env::args().nth(1).unwrap_or_else(|| "docs/pictures".to_owned()));
    std::fs::create_dir_all(&folder).expect("the folder can be made");
    let only_docs = folder.ends_with("docs/pictures");
    let served = Served::quilt(seamfall_web::demo_quilts()[0].1);
    let client = reqwest::blocking::Client::new();
    let keep = client.post(served.url("~/versions")).json(&serde_json::json!({ "name": "As drawn first" })).send();
    assert!(keep.is_ok_and(|answer| answer.status().is_success()), "a version is kept");
    let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(1).enable_all().build().expect("a runtime");
    for (width, window) in [("wide", Window::Desk), ("middle", Window::Tablet), ("phone", Window::Phone)] {
        for screen in SCREENS {
            if !only_docs || IN_DOCS.contains(&(screen.0, width)) {
                runtime.block_on(take(&served, window, *screen, &folder.join(format!("{}-{width}.png", screen.0))));
            }
        }
    }
}

async fn take(served: &Served, window: Window, (_, path, action): Screen, file: &Path) {
    let page = Page::open(&served.url(path), window).await;
    page.until("return document.readyState === 'complete' && [...document.images].every((image) => image.loading === 'lazy' || image.complete)").await;
    page.read(action).await;
    if path == "~" {
        page.settle().await;
    }
    page.picture(file).await;
    page.close().await;
    println!("{}", file.display());
}
