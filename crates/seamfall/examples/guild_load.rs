//! What a guild costs: fifty members, each with a quilt of her own, who edit at once; and what a page, an edit and a book cost.
//!
//! `cargo build --release && cargo run --release -p seamfall --example guild_load` starts the server that was built, on a store of its own, and prints
//! the figures of docs/guild.md and docs/figures.md. `SECONDS` of each pace may follow, 60 unless said. With
//! `SEAMFALL_DATABASE` the store is there, and its size is not told. Members and server share the machine, so
//! that what the members cost is told too; Linux alone tells what a process costs.

use reqwest::blocking::Client;
use reqwest::redirect::Policy;
use seamfall_model::Measure;
use seamfall_plan::begin::{Beginning, PALETTES, begin, blocks};
use serde_json::{Value, json};
use std::fs;
use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// Members, by the size of their quilt: beds as `seamfall fit beds` names them.
const MIX: [(&str, usize); 4] = [("lap", 20), ("twin", 10), ("queen", 14), ("king", 6)];

/// Edits a second of all members together, tried one after another until the answers are too slow.
const PACES: [f64; 7] = [10.0, 20.0, 40.0, 80.0, 120.0, 160.0, 240.0];

/// An answer is slow beyond this, at the 95th percentile.
const SLOW: Duration = Duration::from_millis(200);

/// An open page looks so often whether the quilt was changed elsewhere, as the script of the workroom does.
const LOOKS: Duration = Duration::from_secs(4);

/// Ticks of the processor's clock a second, as Linux counts them for every process.
const CLOCK: f64 = 100.0;

fn main() {
    let seconds = std::env::args().nth(1).map_or(60, |seconds| seconds.parse().expect("seconds"));
    let folder = tempfile::tempdir().expect("a temporary folder");
    let server = Server::start(folder.path());
    println!("load average before: {}", fs::read_to_string("/proc/loadavg").expect("Linux says it").trim());
    let idle = server.resident();
    let members = server.members();
    let stored = server.stored();
    println!("memory of the server, nothing open: {} MiB; {} members joined, a quilt each", mib(idle), members.len());
    let costs = costs(&server, &members, idle, stored);
    for pace in PACES {
        let took = edited(&server, &members, pace, Duration::from_secs(seconds));
        if took > SLOW {
            println!("slower than {} ms at the 95th percentile: no higher pace is tried", SLOW.as_millis());
            break;
        }
    }
    println!("memory of the server at the end: {} MiB, at most {} MiB", mib(server.resident()), mib(server.status("VmHWM")));
    many_guilds(&costs);
    println!("load average after: {}", fs::read_to_string("/proc/loadavg").expect("Linux says it").trim());
}

fn mib(bytes: u64) -> u64 {
    bytes >> 20
}

/// The server, and what Linux tells of it.
struct Server {
    process: Child,
    at: String,
    first: String,
    store: std::path::PathBuf,
}

impl Drop for Server {
    fn drop(&mut self) {
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}

impl Server {
    /// Starts the program that was built beside this one.
    fn start(folder: &Path) -> Self {
        let own = std::env::current_exe().expect("this program has a place");
        let program = own.parent().and_then(Path::parent).expect("in `examples`").join("seamfall");
        let mut command = Command::new(program);
        command.args(["guild", "--listen", "127.0.0.1:0"]);
        if std::env::var_os("SEAMFALL_DATABASE").is_none() {
            command.arg("--data").arg(folder);
        }
        let mut process =
            command.stdout(Stdio::piped()).stderr(Stdio::null()).spawn().expect("build it first: `cargo build --release`");
        let mut link = String::new();
        BufReader::new(process.stdout.as_mut().expect("a pipe")).read_line(&mut link).expect("it prints a link");
        let (at, first) = link.trim().split_once("/join/").expect("an invitation");
        Self { process, at: at.to_owned(), first: first.to_owned(), store: folder.join("seamfall.sqlite") }
    }

    /// Seconds of the processor that it has had.
    fn worked(&self) -> f64 {
        worked(&self.process.id().to_string())
    }

    /// A line of what Linux tells of its memory, in bytes.
    fn status(&self, name: &str) -> u64 {
        let status = fs::read_to_string(format!("/proc/{}/status", self.process.id())).expect("Linux says it");
        let line = status.lines().find(|line| line.starts_with(name)).expect("it is in it");
        1024 * line.split_whitespace().nth(1).and_then(|number| number.parse::<u64>().ok()).expect("a number")
    }

    fn resident(&self) -> u64 {
        self.status("VmRSS")
    }

    /// Bytes of the store with its log.
    fn stored(&self) -> u64 {
        let size = |ending| fs::metadata(format!("{}{ending}", self.store.display())).map_or(0, |file| file.len());
        size("") + size("-wal")
    }

    /// All members, each with her quilt.
    fn members(&self) -> Vec<Member> {
        let keeper = Member::joins(self, &self.first, "keeper", "lap", 0);
        let sizes = MIX.iter().flat_map(|(size, many)| std::iter::repeat_n(*size, *many));
        let others = sizes.enumerate().skip(1).map(|(number, size)| {
            let link = keeper.form("/members/invite", "role=member&days=7");
            let key = link.split_once("/join/").and_then(|(_, rest)| rest.split(['"', '<']).next()).expect("a link");
            Member::joins(self, key, &format!("Member {number}"), size, number)
        });
        let others: Vec<_> = others.collect();
        std::iter::once(keeper).chain(others).collect()
    }
}

fn worked(process: &str) -> f64 {
    let stat = fs::read_to_string(format!("/proc/{process}/stat")).expect("Linux says it");
    let fields: Vec<&str> = stat.rsplit(')').next().expect("a name").split_whitespace().collect();
    fields[11..13].iter().map(|ticks| ticks.parse::<f64>().expect("a number")).sum::<f64>() / CLOCK
}

/// A member with her quilt and her browser.
#[derive(Clone)]
struct Member {
    client: Client,
    at: String,
    cookie: String,
    size: &'static str,
    quilt: i64,
    /// Row and number of every place.
    places: Vec<(usize, usize)>,
    cloths: Vec<String>,
    revision: i64,
    chance: u64,
}

impl Member {
    fn joins(server: &Server, key: &str, name: &str, size: &'static str, number: usize) -> Self {
        let client = Client::builder().redirect(Policy::none()).build().expect("a client");
        let mut member = Self {
            client,
            at: server.at.clone(),
            cookie: String::new(),
            size,
            quilt: 0,
            places: Vec::new(),
            cloths: Vec::new(),
            revision: 0,
            chance: 12_345 + number as u64,
        };
        let request = member.client.post(format!("{}/join/{key}", member.at)).body(format!("name={name}"));
        let answer = request.header("content-type", "application/x-www-form-urlencoded").send().expect("she joins");
        let cookie = answer.headers()["set-cookie"].to_str().expect("text").split(';').next().expect("a cookie");
        member.cookie = cookie.to_owned();
        let text = text(size, number);
        let quilt = seamfall_model::read(&text).expect("it reads");
        member.places = seamfall_plan::plan_with(&quilt, &seamfall_model::Ledger::default(), seamfall_plan::Effort::FIRST)
            .top
            .places
            .iter()
            .map(|place| (place.row, place.number))
            .collect();
        member.cloths = quilt.cloths.iter().map(|cloth| cloth.key.clone()).collect();
        let import = member.client.post(format!("{}/import", member.at)).header("cookie", &member.cookie).body(text).send();
        let open: Value = import.expect("an answer").json().expect("where it is");
        member.quilt = open["open"].as_str().and_then(|open| open.rsplit('/').next()?.parse().ok()).expect("a quilt");
        member
    }

    fn form(&self, path: &str, fields: &'static str) -> String {
        let request = self.client.post(format!("{}{path}", self.at)).header("cookie", &self.cookie).body(fields);
        let answer = request.header("content-type", "application/x-www-form-urlencoded").send().expect("an answer");
        answer.text().expect("a page")
    }

    /// A page of her quilt.
    fn opens(&mut self, path: &str) -> Vec<u8> {
        let answer = self.client.get(format!("{}/q/{}{path}", self.at, self.quilt)).header("cookie", &self.cookie).send();
        let answer = answer.expect("an answer");
        assert_eq!(answer.status(), 200, "{path}");
        let bytes = answer.bytes().expect("a page").to_vec();
        if path.is_empty() {
            let page = String::from_utf8_lossy(&bytes);
            let (_, at) = page.split_once("data-revision=\"").expect("a workroom");
            self.revision = at.split('"').next().and_then(|number| number.parse().ok()).expect("a number");
        }
        bytes
    }

    /// Bytes of her quilt file.
    fn opens_file(&self) -> usize {
        self.clone().opens("/file").len()
    }

    fn below(&mut self, many: usize) -> usize {
        self.chance = self.chance.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from((self.chance >> 33) % many as u64).expect("it is small")
    }

    /// One edit: four of ten turn a block, two mirror one, two exchange two, one gives a cloth another colour, one is an undo.
    fn edits(&mut self) {
        let [one, other] = [(); 2].map(|()| self.below(self.places.len()));
        let ((row, number), (with_row, with_number)) = (self.places[one], self.places[other]);
        let edit = match self.below(10) {
            0..4 => json!({ "do": "turn", "row": row, "number": number, "times": 1 + self.below(3) }),
            4..6 => json!({ "do": "mirror", "row": row, "number": number }),
            6..8 => json!({ "do": "exchange", "row": row, "number": number, "with_row": with_row, "with_number": with_number }),
            8 => {
                let (cloth, colour) = (self.below(self.cloths.len()), self.below(0xff_ffff));
                let cloth = &self.cloths[cloth];
                json!({ "do": "set", "path": ["cloth", cloth, "colour"], "value": format!("#{colour:06x}") })
            }
            _ => Value::Null,
        };
        let shown = json!({ "revision": self.revision, "about": "", "shown": "setting" });
        let (what, mut body) = if edit.is_null() { ("undo", shown) } else { ("edit", shown) };
        if !edit.is_null() {
            body["edit"] = edit;
        }
        let request = self.client.post(format!("{}/q/{}/{what}", self.at, self.quilt)).header("cookie", &self.cookie).json(&body);
        let answer = request.send().expect("an answer");
        let status = answer.status().as_u16();
        let answer: Value = answer.json().expect("what is painted anew");
        // Before the first edit there is nothing to undo.
        if what == "undo" && status == 409 {
            return;
        }
        assert_eq!(status, 200, "{}: {answer}", self.size);
        self.revision = answer["revision"].as_i64().expect("a state");
    }
}

/// The text of a quilt of this size.
fn text(size: &str, number: usize) -> String {
    if size == "king" {
        let (_, king) = seamfall_testkit::SAMPLES.iter().find(|(name, _)| *name == "king_200").expect("a sample");
        return king.replacen("name = \"", &format!("name = \"{number} "), 1);
    }
    let bed = [("twin", "us twin"), ("queen", "us queen")].into_iter().find(|(each, _)| *each == size).map(|(_, bed)| bed);
    let all: Vec<_> = blocks().collect();
    let begun = (0..all.len()).find_map(|more| {
        let block = &all[(number + more) % all.len()].key;
        let beginning = Beginning {
            name: &format!("Quilt {number}"),
            measure: Measure::Inch,
            bed,
            block,
            cloths: &PALETTES[number % PALETTES.len()],
        };
        begin(&beginning).ok()
    });
    begun.expect("some block covers it")
}

/// What things cost in the mean over the mix: seconds of the processor, bytes.
#[derive(Debug, Default)]
struct Costs {
    page: f64,
    edit: f64,
    book: f64,
    look: f64,
    /// A server with nothing open.
    idle: f64,
    /// A quilt that is open, two states of it.
    quilt: f64,
    /// A state in the store.
    state: f64,
}

/// What one edit, one page and one book cost, by the size of the quilt.
fn costs(server: &Server, members: &[Member], idle: u64, stored: u64) -> Costs {
    let mut mean = Costs { idle: idle as f64, ..Costs::default() };
    let mut of_size = members.to_vec();
    println!("size   places  open a page, CPU ms  memory, MiB  edit, CPU ms  state, bytes  book, CPU s");
    for (size, _) in MIX {
        let mut some: Vec<&mut Member> = of_size.iter_mut().filter(|member| member.size == size).collect();
        let many = some.len() as f64;
        let before = (server.worked(), server.resident());
        some.iter_mut().for_each(|member| drop(member.opens("")));
        let opened = (server.worked() - before.0) / many;
        let cpu = server.worked();
        for _ in 0..10 {
            some.iter_mut().for_each(|member| member.edits());
        }
        let edited = (server.worked() - cpu) / (10.0 * many);
        let memory = (server.resident().saturating_sub(before.1)) as f64 / many / f64::from(1 << 20);
        // Every state is kept whole: the text of the quilt file, what the edit did, and who and where, some hundred bytes. Pages and indexes
        // of the database are as much again, as the growth of the whole store shows.
        let grown = some.iter().map(|member| 2 * (member.opens_file() + 100)).sum::<usize>() as f64 / many;
        let cpu = server.worked();
        some[0].opens("/book.pdf?paper=letter");
        let book = server.worked() - cpu;
        let share = many / members.len() as f64;
        mean.page += share * opened;
        mean.edit += share * edited;
        mean.book += share * book;
        mean.quilt += share * memory * f64::from(1 << 20);
        mean.state += share * grown;
        println!(
            "{size:6} {:6} {:20.1} {memory:12.1} {:13.1} {grown:13.0} {book:12.2}",
            some[0].places.len(),
            1e3 * opened,
            1e3 * edited
        );
    }
    let cpu = server.worked();
    for _ in 0..100 {
        of_size[1].opens("/revision");
    }
    mean.look = (server.worked() - cpu) / 100.0;
    println!("a look whether the quilt was changed elsewhere: {:.2} ms of CPU", 1e3 * mean.look);
    println!(
        "all {} quilts open, two states of each: {} MiB more than with none; the store grew from {} to {} KiB",
        members.len(),
        mib(server.resident().saturating_sub(idle)),
        stored >> 10,
        server.stored() >> 10
    );
    mean
}

/// What a thousand guilds need by these costs: the formulae of docs/guild.md, and what is assumed there of how they are used.
fn many_guilds(costs: &Costs) {
    let (guilds, members, at_work, busy) = (1000.0, 40.0, 0.1, 0.6);
    let (edits, pages, books) = (120.0, 20.0, 0.2);
    let looks = 3600.0 / LOOKS.as_secs_f64();
    let hours_a_year = 120.0;
    let working = guilds * members * at_work;
    let an_hour = edits * costs.edit + pages * costs.page + books * costs.book + looks * costs.look;
    println!("in the mean over the mix: {costs:.4?}");
    println!(
        "an hour of a member at work: {an_hour:.1} s of CPU (edits {:.1}, pages {:.1}, books {:.1}, looks {:.1})",
        edits * costs.edit,
        pages * costs.page,
        books * costs.book,
        looks * costs.look
    );
    println!(
        "{guilds} guilds of {members} members, {working} at work at the peak: {:.0} cores, {:.0} edits a second, {:.0} GiB of memory ({:.0} for the \
         processes, {:.0} for what is open), {:.0} GiB more in the stores a year",
        working * an_hour / 3600.0 / busy,
        working * edits / 3600.0,
        (guilds * costs.idle + working * costs.quilt) / f64::from(1 << 30),
        guilds * costs.idle / f64::from(1 << 30),
        working * costs.quilt / f64::from(1 << 30),
        guilds * members * hours_a_year * edits * costs.state / f64::from(1 << 30)
    );
}

/// All members edit at once for some time, with pauses by chance, up to twice the mean, so that together they make `pace` edits a second. Gives the 95th percentile.
fn edited(server: &Server, members: &[Member], pace: f64, lasting: Duration) -> Duration {
    let mean = members.len() as f64 / pace;
    let own = std::process::id().to_string();
    let (cpu, members_cpu, start) = (server.worked(), worked(&own), Instant::now());
    let took: Vec<Vec<Duration>> = std::thread::scope(|scope| {
        let all: Vec<_> = members
            .iter()
            .map(|member| {
                let mut member = member.clone();
                scope.spawn(move || {
                    member.opens("");
                    let mut took = Vec::new();
                    let mut looked = Instant::now();
                    // Nobody starts on the same beat.
                    let mut next = Instant::now() + Duration::from_secs_f64(mean * member.below(1000) as f64 / 1000.0);
                    while start.elapsed() < lasting {
                        std::thread::sleep(next.saturating_duration_since(Instant::now()).min(Duration::from_millis(200)));
                        if looked.elapsed() > LOOKS {
                            looked = Instant::now();
                            member.opens("/revision");
                        }
                        if Instant::now() < next {
                            continue;
                        }
                        let sent = Instant::now();
                        member.edits();
                        took.push(sent.elapsed());
                        let chance = member.below(1_000_000) as f64 / 1e6;
                        next = sent + Duration::from_secs_f64(2.0 * mean * chance);
                    }
                    took
                })
            })
            .collect();
        all.into_iter().map(|member| member.join().expect("she edits to the end")).collect()
    });
    let mut took: Vec<Duration> = took.into_iter().flatten().collect();
    took.sort();
    let at = |share: f64| took[((took.len() - 1) as f64 * share).round() as usize];
    let passed = start.elapsed().as_secs_f64();
    println!(
        "{:3.0} edits a second wanted, {:.1} made ({} in all): median {} ms, 95th percentile {} ms, 99th {} ms, most {} ms; \
         server {:.2} and members {:.2} cores; memory {} MiB",
        pace,
        took.len() as f64 / passed,
        took.len(),
        at(0.5).as_millis(),
        at(0.95).as_millis(),
        at(0.99).as_millis(),
        at(1.0).as_millis(),
        (server.worked() - cpu) / passed,
        (worked(&own) - members_cpu) / passed,
        mib(server.resident())
    );
    at(0.95)
}
