//! A guild's server as a process of its own, and browsers that ask it.
#![allow(dead_code, reason = "each test program uses some of it")]

use reqwest::blocking::{Client, Response};
use reqwest::redirect::Policy;
use std::io::{BufRead, BufReader, Read};
use std::path::Path;
use std::process::{Child, Command, ExitStatus, Stdio};
use std::time::{Duration, Instant};

/// The command.
pub fn seamfall(words: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_seamfall"));
    command.arg("guild").args(words).env("NO_COLOR", "1").env_remove("SEAMFALL_DATABASE");
    command
}

/// A server that listens. It is killed when it is let go of.
pub struct Served {
    pub child: Child,
    /// Where it listens.
    pub url: String,
    /// What it said until it served.
    pub said: String,
    rest: Option<std::thread::JoinHandle<String>>,
}

impl Served {
    pub fn start(data: &Path, words: &[&str]) -> Self {
        let data = data.to_str().expect("a plain path");
        let mut child = seamfall(&["--data", data, "--listen", "127.0.0.1:0", "--name", "Patch and Thimble"])
            .args(words)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the command was built with this test");
        let mut lines = BufReader::new(child.stderr.take().expect("it is piped"));
        let mut said = String::new();
        while !said.contains("Ctrl+C closes it") {
            assert_ne!(lines.read_line(&mut said).expect("it is text"), 0, "it ended: {said}");
        }
        let at = said.split("listens at ").nth(1).and_then(|rest| rest.split_whitespace().next()).expect("where it listens");
        let rest = std::thread::spawn(move || {
            let mut rest = String::new();
            lines.read_to_string(&mut rest).expect("it is text");
            rest
        });
        Self { url: format!("http://{at}"), child, said, rest: Some(rest) }
    }

    /// The path of the invitation that it prints, its first line on standard output.
    pub fn invitation(&mut self) -> String {
        let mut line = String::new();
        BufReader::new(self.child.stdout.as_mut().expect("it is piped")).read_line(&mut line).expect("it is text");
        let (_, path) = line.trim().split_once(&self.url).unwrap_or_else(|| panic!("no link: {line:?}"));
        path.to_owned()
    }

    pub fn get(&self, path: &str, cookie: &str) -> Response {
        client().get(format!("{}{path}", self.url)).header("cookie", cookie).send().expect("it answers")
    }

    pub fn form(&self, path: &str, fields: &str, cookie: &str) -> Response {
        let form = "application/x-www-form-urlencoded";
        let asked = client().post(format!("{}{path}", self.url)).header("cookie", cookie).header("content-type", form);
        asked.body(fields.to_owned()).send().expect("it answers")
    }

    /// Joins, and gives the cookie.
    pub fn join(&self, invitation: &str, name: &str) -> String {
        let answer = self.form(invitation, name, "");
        assert_eq!(answer.status(), 200);
        cookie(&answer)
    }

    /// Invites a member, and gives the path of the link.
    pub fn invite(&self, keeper: &str) -> String {
        let page = self.form("/members/invite", "role=member&days=1", keeper).text().expect("a page");
        let link = page.split("/join/").nth(1).and_then(|rest| rest.split(['"', '<']).next()).expect("a link");
        format!("/join/{link}")
    }

    /// Sends a signal, and gives how it ended, what it said last, and how long that took.
    pub fn stopped(mut self, signal: &str) -> (ExitStatus, String, Duration) {
        let since = Instant::now();
        let sent = Command::new("sh").args(["-c", &format!("kill -{signal} {}", self.child.id())]).status();
        assert!(sent.expect("there is a shell").success());
        let ended = self.child.wait().expect("it ends");
        (ended, self.rest.take().expect("it is there").join().expect("it was read"), since.elapsed())
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// A client that follows no links.
pub fn client() -> Client {
    Client::builder().redirect(Policy::none()).no_proxy().timeout(Duration::from_secs(60)).build().expect("a client")
}

/// What an answer signs in with.
fn cookie(answer: &Response) -> String {
    let set = answer.headers()["set-cookie"].to_str().expect("text");
    set.split(';').next().expect("a cookie").to_owned()
}
