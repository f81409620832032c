//! The real server as a process of its own.

use std::io::{BufRead, BufReader, Read};
use std::path::Path;
use std::process::{Child, Command, ExitStatus, Stdio};
use std::time::Duration;

/// A server that listens. It is killed when it is let go of.
pub struct Server {
    child: Child,
    /// Where it listens, `http://127.0.0.1:1234`.
    pub url: String,
}

impl Server {
    /// Starts it on the store in `data`. What it says and with which code it ends, where it does not start.
    pub fn start(data: &Path, words: &[&str]) -> Result<Self, (ExitStatus, String)> {
        let mut server = Self { child: spawn(data, words), url: String::new() };
        let mut said = BufReader::new(server.child.stderr.take().expect("it is piped"));
        let mut all = String::new();
        loop {
            let mut line = String::new();
            if said.read_line(&mut line).expect("it is text") == 0 {
                return Err((server.child.wait().expect("it ends"), all));
            }
            if let Some(page) = line.strip_prefix("The workroom is open at ") {
                server.url = page.split("/q/").next().expect("an address").to_owned();
                // What else it says is read, so that it never waits for us.
                std::thread::spawn(move || said.read_to_string(&mut String::new()));
                return Ok(server);
            }
            all.push_str(&line);
        }
    }

    /// Kills it, as the system does when the memory is short or the battery empty: it is told nothing (SIGKILL).
    pub fn kill(&mut self) {
        self.child.kill().expect("it can be killed");
        self.child.wait().expect("it ends");
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// The process, which may not listen yet.
pub fn spawn(data: &Path, words: &[&str]) -> Child {
    Command::new(env!("CARGO_BIN_EXE_seamfall"))
        .args(words)
        .arg("--no-browser")
        .arg("--data")
        .arg(data)
        .env("NO_COLOR", "1")
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the command was built with this test")
}

/// A client that follows no links, as a script does not.
pub fn client() -> reqwest::blocking::Client {
    let client = reqwest::blocking::Client::builder().redirect(reqwest::redirect::Policy::none()).no_proxy();
    client.timeout(Duration::from_secs(60)).build().expect("a client")
}
