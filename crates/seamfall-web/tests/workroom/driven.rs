//! A Chromium of Debian's, driven through its own driver, one a test.

use crate::common::Served;
use serde_json::{Value, json};
use std::future::Future;
use std::io::{BufRead, BufReader};
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::sync::Arc;
use std::time::Duration;
use thirtyfour::session::handle::SessionHandle;
use thirtyfour::{By, ChromiumLikeCapabilities, DesiredCapabilities, Key, LoggingPrefsLogLevel, WebDriver};

/// Runs a test on a page of the workroom.
pub fn on<F: Future<Output = ()>>(text: &str, window: Window, path: &str, test: impl FnOnce(Page, PathBuf) -> F) {
    let served = Served::quilt(text);
    let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(1).enable_all().build().expect("a runtime");
    runtime.block_on(async {
        let page = Page::open(&served.url(path), window).await;
        test(page, served.folder.path().to_owned()).await;
    });
}

/// A size of window to test in.
#[derive(Clone, Copy)]
pub enum Window {
    /// A laptop.
    Desk,
    /// A tablet, 1024 by 768 pixels.
    Tablet,
    /// A phone with a touch screen, 360 by 740 pixels.
    Phone,
}

/// A page in the browser.
pub struct Page {
    driver: WebDriver,
    _chromedriver: Killed,
}

/// A process that ends with the test.
struct Killed(Child);

impl Drop for Killed {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

const INSTALL: &str = "install what the browser tests need: `bash xtask/install-test-tools.sh`";

impl Page {
    /// Opens a page.
    pub async fn open(url: &str, window: Window) -> Self {
        let (chromedriver, port) = chromedriver();
        let mut caps = DesiredCapabilities::chrome();
        for arg in [
            "--headless=new",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-dev-shm-usage",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            "--no-first-run",
            "--no-default-browser-check",
            "--window-size=1440,900",
        ] {
            caps.add_arg(arg).expect("an argument");
        }
        if let Some((width, height, ratio)) = match window {
            Window::Desk => None,
            Window::Tablet => Some((1024, 768, 1.0)),
            Window::Phone => Some((360, 740, 2.0)),
        } {
            let device = json!({"deviceMetrics": {"width": width, "height": height, "pixelRatio": ratio, "touch": true}});
            caps.add_experimental_option("mobileEmulation", device).expect("an option");
        }
        caps.set_browser_log_level(LoggingPrefsLogLevel::All).expect("an option");
        let driver =
            WebDriver::new(format!("http://127.0.0.1:{port}"), caps).await.unwrap_or_else(|error| panic!("{error}; {INSTALL}"));
        driver.set_script_timeout(Duration::from_secs(60)).await.expect("a timeout");
        driver.goto(url).await.expect("the page opens");
        Self { driver, _chromedriver: Killed(chromedriver) }
    }

    fn handle(&self) -> &Arc<SessionHandle> {
        &self.driver
    }

    /// What a script in the page returns.
    pub async fn read(&self, script: &str) -> Value {
        let answer = self.driver.execute(script, Vec::new()).await.unwrap_or_else(|error| panic!("{script}: {error}"));
        answer.json().clone()
    }

    /// What a script in the page gives to `done`.
    pub async fn wait_for(&self, script: &str) -> Value {
        let script = format!("const done = arguments[arguments.length - 1]; {script}");
        let answer = self.driver.execute_async(&*script, Vec::new()).await.unwrap_or_else(|error| panic!("{script}: {error}"));
        answer.json().clone()
    }

    /// The same, for what takes minutes.
    pub async fn wait_long_for(&self, script: &str) -> Value {
        self.driver.set_script_timeout(Duration::from_secs(300)).await.expect("a timeout");
        self.wait_for(script).await
    }

    /// Waits until every edit that was sent is answered and painted.
    pub async fn settle(&self) {
        self.wait_for("const settle = () => { if (typeof busy === 'undefined') return setTimeout(settle, 10); const now = busy; now.then(() => (busy === now ? requestAnimationFrame(() => done(0)) : settle())); }; settle();").await;
    }

    /// Clicks in the middle of an element, as a hand does.
    pub async fn click(&self, css: &str) {
        self.click_beside(css, 0.0, 0.0).await;
    }

    /// Clicks beside the middle of an element, by shares of its width and height.
    pub async fn click_beside(&self, css: &str, right: f64, down: f64) {
        let element = self.driver.find(By::Css(css)).await.unwrap_or_else(|error| panic!("{css}: {error}"));
        element.scroll_into_view().await.expect("it can be seen");
        let (width, height) = element.rect().await.map(|rect| (rect.width, rect.height)).expect("it has a size");
        #[expect(clippy::cast_possible_truncation, reason = "whole pixels will do")]
        let (x, y) = ((width * right) as i64, (height * down) as i64);
        self.handle()
            .action_chain()
            .move_to_element_with_offset(&element, x, y)
            .click()
            .perform()
            .await
            .unwrap_or_else(|error| panic!("{css}: {error}"));
        if self.read("return typeof busy !== 'undefined'").await == json!(true) {
            self.settle().await;
        }
    }

    /// Drags within an element from one place to another, both by shares of its width and height from its middle.
    pub async fn drag(&self, css: &str, from: (f64, f64), to: (f64, f64)) {
        let element = self.driver.find(By::Css(css)).await.unwrap_or_else(|error| panic!("{css}: {error}"));
        element.scroll_into_view().await.expect("it can be seen");
        let (width, height) = element.rect().await.map(|rect| (rect.width, rect.height)).expect("it has a size");
        #[expect(clippy::cast_possible_truncation, reason = "whole pixels will do")]
        let at = |(right, down): (f64, f64)| ((width * right).round() as i64, (height * down).round() as i64);
        let ((x, y), (to_x, to_y)) = (at(from), at(to));
        self.handle()
            .action_chain()
            .move_to_element_with_offset(&element, x, y)
            .click_and_hold()
            .move_to_element_with_offset(&element, i64::midpoint(x, to_x), i64::midpoint(y, to_y))
            .move_to_element_with_offset(&element, to_x, to_y)
            .release()
            .perform()
            .await
            .unwrap_or_else(|error| panic!("{css}: {error}"));
        self.settle().await;
    }

    /// Presses a key with the others held.
    pub async fn press(&self, held: &[Key], key: impl Into<char>) {
        let mut chain = self.handle().action_chain();
        for each in held {
            chain = chain.key_down(each.clone());
        }
        chain = chain.key_down(key.into());
        chain.perform().await.expect("a key is pressed");
        self.handle().action_chain().reset_actions().await.expect("and let go");
        self.settle().await;
    }

    /// Presses keys one after another, wherever the focus is, and waits for nothing: the last may lead to another page.
    pub async fn keys(&self, keys: &str) {
        let mut chain = self.handle().action_chain();
        for key in keys.chars() {
            chain = chain.key_down(key).key_up(key);
        }
        chain.perform().await.expect("keys are pressed");
    }

    /// Presses Tab until the focus is on an element.
    pub async fn tab_to(&self, css: &str) {
        let is_there = format!("return document.activeElement?.matches('{css}') ?? false");
        for _ in 0..100 {
            if self.read(&is_there).await == json!(true) {
                return;
            }
            self.keys("\u{e004}").await;
        }
        panic!("the focus does not come to {css}");
    }

    /// Types over what a field holds and leaves it.
    pub async fn fill(&self, css: &str, text: &str) {
        let field = self.driver.find(By::Css(css)).await.unwrap_or_else(|error| panic!("{css}: {error}"));
        field.scroll_into_view().await.expect("it can be seen");
        field.send_keys(Key::Control + "a").await.expect("it takes keys");
        field.send_keys(text.to_owned() + Key::Tab).await.expect("it takes text");
        self.settle().await;
    }

    /// Gives a file to a field.
    pub async fn give(&self, css: &str, file: &std::path::Path) {
        let field = self.driver.find(By::Css(css)).await.unwrap_or_else(|error| panic!("{css}: {error}"));
        field.send_keys(file.to_str().expect("a plain path")).await.expect("it takes a file");
    }

    /// Takes a picture of what is seen.
    #[allow(dead_code, reason = "the pictures of the docs are taken with it")]
    pub async fn picture(&self, file: &std::path::Path) {
        self.driver.screenshot(file).await.expect("a picture is taken and written");
    }

    /// Asks again until a script returns something true.
    pub async fn until(&self, script: &str) {
        for _ in 0..200 {
            if self.read(script).await == json!(true) {
                return;
            }
            tokio::time::sleep(Duration::from_millis(25)).await;
        }
        panic!("this did not come true: {script}");
    }

    /// Ends the test: nothing was refused by the page's own policy, and no script failed.
    pub async fn close(self) {
        let log = self.driver.browser_log().await.expect("a log");
        let bad: Vec<_> =
            log.iter().filter(|entry| entry.level == "SEVERE").filter(|entry| !entry.message.contains("422")).collect();
        assert!(bad.is_empty(), "{bad:#?}");
        self.driver.quit().await.expect("the browser closes");
    }
}

/// A driver on a port it chose itself. Now and then one ends before it has a port, since another program took it: then another is started.
fn chromedriver() -> (Child, u16) {
    (0..5).find_map(|_| started()).unwrap_or_else(|| panic!("no chromedriver stays up; {INSTALL}"))
}

fn started() -> Option<(Child, u16)> {
    let mut child = Command::new("chromedriver")
        .arg("--port=0")
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap_or_else(|error| panic!("chromedriver: {error}; {INSTALL}"));
    let mut lines = BufReader::new(child.stdout.take().expect("it was piped")).lines();
    let port = loop {
        let Some(line) = lines.next() else {
            let _ = child.wait();
            return None;
        };
        if let Some(port) = line.expect("as text").strip_prefix("ChromeDriver was started successfully on port ") {
            break port.trim_end_matches('.').parse().expect("a port");
        }
    };
    // What else it says is read away, or it would stop when the pipe is full.
    std::thread::spawn(move || lines.for_each(drop));
    Some((child, port))
}

/// The text of the accessibility checker.
pub fn axe() -> String {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/node_modules/axe-core/axe.min.js");
    std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("the accessibility checker: {error}; {INSTALL}"))
}

/// What axe finds in a part of the page, an expression of the script: WCAG 2.2 A and AA, as far as a program can tell.
pub fn axe_on(part: &str) -> String {
    format!(
        "{}; axe.run({part}, {{ runOnly: ['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'] }}) \
            .then((found) => done(found.violations.map((each) => [each.id, each.nodes.map((node) => node.html.slice(0, 160))])));",
        axe()
    )
}
