//! A maker at work: random edits, imports, versions and undo at the laptop, ticks from the phone; and what the store has to hold after each.
//!
//! What an edit makes of a text is worked out here with the same `apply` as in the server; that an answer was given, and what it means for the
//! history, is kept here alone. A change that was sent and not answered stands beside: the store may hold it, or not.

use crate::SMALL;
use crate::chance::Chance;
use reqwest::blocking::Client;
use seamfall_model::{Edit, LedgerEdit, apply, apply_ledger, read};
use serde_json::{Value, json};

/// A quilt as the store has to hold it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Kept {
    pub id: i64,
    /// Text and ledger of every state.
    pub states: Vec<(String, String)>,
    /// The state that it stands on.
    pub at: usize,
    /// Texts of the versions kept under a name.
    pub versions: Vec<String>,
}

impl Kept {
    pub fn new(id: i64, text: &str) -> Self {
        Self { id, states: vec![(text.to_owned(), String::new())], at: 0, versions: Vec::new() }
    }

    fn now(&self) -> &(String, String) {
        &self.states[self.at]
    }

    fn edited(&self, text: String, ledger: String) -> Self {
        let mut after = self.clone();
        after.states.truncate(self.at + 1);
        after.states.push((text, ledger));
        after.at += 1;
        after
    }
}

/// What was sent and not answered.
#[derive(Debug, Clone)]
pub enum Unanswered {
    /// The quilt would be this.
    Change(Box<Kept>),
    /// There would be another quilt of this text.
    Quilt(String),
}

/// Who changes some quilts, one change after another.
pub struct Maker {
    pub quilts: Vec<Kept>,
    pub unanswered: Option<Unanswered>,
    pub answered: usize,
    chance: Chance,
    client: Client,
}

/// The server is gone, and with it this maker's work.
pub struct Gone;

impl Maker {
    pub fn new(quilts: Vec<Kept>, seed: u64) -> Self {
        Self { quilts, unanswered: None, answered: 0, chance: Chance(seed), client: crate::server::client() }
    }

    /// Works at the laptop until the server is gone.
    pub fn at_the_laptop(&mut self, url: &str) {
        while self.one_thing(url).is_ok() {}
    }

    fn one_thing(&mut self, url: &str) -> Result<(), Gone> {
        let which = self.chance.below(self.quilts.len());
        match self.chance.below(20) {
            0 if self.quilts.len() < 6 => self.import(url),
            0..=3 => self.step(url, which, -1),
            4..=5 => self.step(url, which, 1),
            6 => self.keep_version(url, which),
            _ => self.edit(url, which),
        }
    }

    /// One turn of a block of the first quilt, which always changes it. With what it is refused.
    pub fn edit_on(&mut self, url: &str) -> Result<(), (u16, String)> {
        let quilt = self.quilts[0].clone();
        let edit = json!({"do": "turn", "row": 0, "number": 0, "times": 1});
        let asked: Edit = serde_json::from_value(edit.clone()).expect("an edit");
        let text = apply(&quilt.now().0, &asked).expect("a block can be turned");
        let revision = self.revision(url, quilt.id).ok().expect("the server is there");
        let body = json!({"revision": revision, "about": "", "edit": edit});
        let answer = self.client.post(format!("{url}/q/{}/edit", quilt.id)).json(&body).send().expect("the server is there");
        let (status, said) = (answer.status(), answer.text().expect("a whole answer"));
        if !status.is_success() {
            return Err((status.as_u16(), said));
        }
        self.quilts[0] = quilt.edited(text, quilt.now().1.clone());
        Ok(())
    }

    /// Sends a change. Answered with success it is made; refused, it is not; without an answer it may be.
    fn send(&mut self, url: &str, body: Option<&Value>, after: Unanswered) -> Result<Option<Value>, Gone> {
        self.unanswered = Some(after);
        let request = self.client.post(url);
        let request = match body {
            Some(body) => request.json(body),
            None => request.body(self.unanswered_text()),
        };
        // Half an answer is none.
        let answer = request.send().and_then(|answer| Ok((answer.status(), answer.text()?))).map_err(|_| Gone)?;
        let (status, text) = answer;
        self.answered += 1;
        let after = self.unanswered.take().expect("it was sent");
        if !status.is_success() {
            assert!(status.as_u16() == 409, "{url}: {status}: {text}");
            return Ok(None);
        }
        let told: Value = serde_json::from_str(&text).expect("an answer is JSON");
        match after {
            Unanswered::Change(after) => {
                let there = self.quilts.iter_mut().find(|quilt| quilt.id == after.id).expect("a quilt of ours");
                *there = *after;
            }
            Unanswered::Quilt(text) => {
                let id = told["open"].as_str().and_then(|open| open.strip_prefix("/q/")?.parse().ok()).expect("where it is");
                self.quilts.push(Kept::new(id, &text));
            }
        }
        Ok(Some(told))
    }

    fn unanswered_text(&self) -> String {
        match &self.unanswered {
            Some(Unanswered::Quilt(text)) => text.clone(),
            _ => String::new(),
        }
    }

    fn revision(&self, url: &str, quilt: i64) -> Result<i64, Gone> {
        let answer = self.client.get(format!("{url}/q/{quilt}/revision")).send().and_then(reqwest::blocking::Response::json);
        answer.map_err(|_| Gone)
    }

    fn edit(&mut self, url: &str, which: usize) -> Result<(), Gone> {
        let quilt = self.quilts[which].clone();
        let place = |chance: &mut Chance| (chance.below(2), chance.below(2));
        let (row, number) = place(&mut self.chance);
        let (with_row, with_number) = place(&mut self.chance);
        let edit = match self.chance.below(6) {
            0 => json!({"do": "turn", "row": row, "number": number, "times": 1 + self.chance.below(3)}),
            1 => json!({"do": "mirror", "row": row, "number": number}),
            2 => {
                json!({"do": "put", "row": row, "number": number, "block": if self.chance.below(2) == 0 { "half" } else { "plain" }})
            }
            3 => json!({"do": "exchange", "row": row, "number": number, "with_row": with_row, "with_number": with_number}),
            4 => json!({"do": "set", "path": ["name"], "value": format!("Quilt {}", self.chance.below(1000))}),
            _ => json!({"do": "set", "path": ["band", "0", "width"], "value": format!("{} 1/4", 1 + self.chance.below(4))}),
        };
        let asked: Edit = serde_json::from_value(edit.clone()).expect("an edit");
        let Ok(text) = apply(&quilt.now().0, &asked) else { return Ok(()) };
        let revision = self.revision(url, quilt.id)?;
        // An edit that changes nothing makes no state.
        let after = if text == quilt.now().0 { quilt.clone() } else { quilt.edited(text, quilt.now().1.clone()) };
        let body = json!({"revision": revision, "about": "", "edit": edit});
        let told = self.send(&format!("{url}/q/{}/edit", quilt.id), Some(&body), Unanswered::Change(Box::new(after)))?;
        assert!(told.is_some(), "an edit that can be made is made: {edit}");
        Ok(())
    }

    fn step(&mut self, url: &str, which: usize, by: isize) -> Result<(), Gone> {
        let quilt = self.quilts[which].clone();
        let at = quilt.at.checked_add_signed(by).filter(|at| *at < quilt.states.len());
        let after = Kept { at: at.unwrap_or(quilt.at), ..quilt.clone() };
        let body = json!({"revision": self.revision(url, quilt.id)?, "about": ""});
        let word = if by < 0 { "undo" } else { "redo" };
        let told = self.send(&format!("{url}/q/{}/{word}", quilt.id), Some(&body), Unanswered::Change(Box::new(after)))?;
        assert_eq!(told.is_some(), at.is_some(), "{word} is refused at the end of the row alone");
        Ok(())
    }

    fn keep_version(&mut self, url: &str, which: usize) -> Result<(), Gone> {
        let mut after = self.quilts[which].clone();
        if after.versions.len() >= 30 {
            return Ok(());
        }
        after.versions.push(after.now().0.clone());
        let body = json!({"name": format!("version {}", after.versions.len())});
        self.send(&format!("{url}/q/{}/versions", after.id), Some(&body), Unanswered::Change(Box::new(after))).map(drop)
    }

    fn import(&mut self, url: &str) -> Result<(), Gone> {
        let text = format!("# brought in, number {}\n{SMALL}", self.chance.next());
        self.send(&format!("{url}/import"), None, Unanswered::Quilt(text)).map(drop)
    }

    /// Ticks sections off from the phone until the server is gone; through the door to the network where the machine is on one. Whether it was.
    pub fn at_the_phone(&mut self, url: &str) -> bool {
        let id = self.quilts[0].id;
        match self.invited(url, id) {
            Err(Gone) => false,
            Ok(None) => {
                while self.tick(url, &format!("{url}/q/{id}/tick"), None).is_ok() {}
                false
            }
            Ok(Some((address, key))) => {
                while self.tick(url, &format!("{address}/q/{id}/tick"), Some(&key)).is_ok() {}
                true
            }
        }
    }

    /// Opens the door. Where the phone goes then, and the cookie that it gets there; nothing where the machine is on no network.
    fn invited(&self, url: &str, id: i64) -> Result<Option<(String, String)>, Gone> {
        let page = format!("{url}/q/{id}/share");
        let give = json!({"do": "give", "role": "tick", "hours": 1});
        let given = self.client.post(&page).json(&give).send().map_err(|_| Gone)?;
        let status = given.status();
        let said = given.text().map_err(|_| Gone)?;
        if !status.is_success() {
            assert_eq!(status, 422, "{said}");
            return Ok(None);
        }
        let page = self.client.get(&page).send().and_then(|answer| answer.text()).map_err(|_| Gone)?;
        let (before, after) = page.split_once("/join/").expect("the page shows where to go");
        let address = before.rsplit(['"', '>', ' ']).next().expect("an address");
        let key: String = after.chars().take_while(char::is_ascii_hexdigit).collect();
        let joined = self.client.get(format!("{address}/join/{key}")).send().map_err(|_| Gone)?;
        let cookie = joined.headers().get("set-cookie").expect("the key is kept on the phone").to_str().expect("letters");
        Ok(Some((address.to_owned(), cookie.split(';').next().expect("a cookie").to_owned())))
    }

    fn tick(&mut self, url: &str, tick: &str, key: Option<&str>) -> Result<(), Gone> {
        let quilt = self.quilts[0].clone();
        let (text, ledger) = quilt.now();
        let states = ["cut", "pieced", "framed", "layered", "quilted", "trimmed"];
        let section = format!("S{}", 1 + self.chance.below(4));
        let edit = json!({"do": "state", "sections": [section], "state": states[self.chance.below(states.len())]});
        let asked: LedgerEdit = serde_json::from_value(edit.clone()).expect("an edit of the ledger");
        let Ok(next) = apply_ledger(ledger, &read(text).expect("a quilt"), &asked) else { return Ok(()) };
        let after = if next == *ledger { quilt.clone() } else { quilt.edited(text.clone(), next) };
        let body = json!({"revision": self.revision(url, quilt.id)?, "edit": edit});
        // The phone speaks to the door, with its key.
        let client = std::mem::replace(&mut self.client, with_cookie(key));
        let told = self.send(tick, Some(&body), Unanswered::Change(Box::new(after)));
        self.client = client;
        assert!(told?.is_some(), "a tick that can be made is made: {edit}");
        Ok(())
    }
}

fn with_cookie(key: Option<&str>) -> Client {
    let mut headers = reqwest::header::HeaderMap::new();
    if let Some(key) = key {
        headers.insert("cookie", key.parse().expect("a cookie"));
    }
    reqwest::blocking::Client::builder()
        .default_headers(headers)
        .no_proxy()
        .timeout(std::time::Duration::from_secs(60))
        .build()
        .expect("a client")
}
