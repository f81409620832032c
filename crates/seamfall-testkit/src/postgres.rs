//! PostgreSQL servers for tests: one that all tests of this machine share while they run, and servers that a test has for itself, to stop and to kill.
//!
//! In: the programs of PostgreSQL, on the path or where Debian puts them. Out: addresses of empty databases. A server keeps everything in a folder of its
//! own in the folder for temporary files, and listens on a socket there alone. It never runs as root: root starts it as `nobody`.
//!
//! Where there are no such programs the tests that need them fail and say so. `SEAMFALL_WITHOUT_POSTGRES=1` leaves them out, but not where `CI` is set.

use std::env;
use std::fs::{self, File, Permissions};
use std::os::unix::fs::{MetadataExt, PermissionsExt, chown};
use std::os::unix::net::UnixStream;
use std::os::unix::process::CommandExt;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::OnceLock;
use std::sync::atomic::{AtomicU32, Ordering};
use std::time::{Duration, Instant};

/// Whether tests of PostgreSQL are to be left out here. Says so, for whoever reads the output.
///
/// # Panics
/// Where there is no PostgreSQL and nobody has said that this is meant.
#[must_use]
pub fn is_left_out() -> bool {
    if programs().is_some() {
        return false;
    }
    let meant = env::var_os("SEAMFALL_WITHOUT_POSTGRES").is_some() && env::var_os("CI").is_none();
    assert!(
        meant,
        "PostgreSQL is not installed: run xtask/install-test-tools.sh, or set SEAMFALL_WITHOUT_POSTGRES=1 to do without its tests"
    );
    eprintln!("NOT TESTED: PostgreSQL is not installed, and SEAMFALL_WITHOUT_POSTGRES is set");
    true
}

/// The address of an empty place on the server that all tests share: a schema of its own. The server is started by the first test that asks and is
/// stopped, with all that is in it, when the last one has ended.
#[must_use]
pub fn address() -> String {
    static SHARED: OnceLock<Shared> = OnceLock::new();
    schema(&SHARED.get_or_init(Shared::join).folder)
}

/// A server that a test has for itself. It is stopped when it is dropped.
#[derive(Debug)]
pub struct Server {
    folder: PathBuf,
}

impl Server {
    /// Starts one.
    #[must_use]
    pub fn own() -> Self {
        let folder = env::temp_dir().join(format!("seamfall-postgres-{}-{}", std::process::id(), next()));
        make(&folder);
        let server = Self { folder };
        server.start();
        server
    }

    /// The address of an empty place on it.
    #[must_use]
    pub fn address(&self) -> String {
        schema(&self.folder)
    }

    /// Starts it again.
    pub fn start(&self) {
        start(&self.folder);
    }

    /// Stops it: those who are connected are sent away.
    pub fn stop(&self) {
        control(&self.folder, &["-m", "fast", "stop"]);
    }

    /// Kills it with all its processes (SIGKILL).
    pub fn kill(&self) {
        let pid = fs::read_to_string(self.folder.join("data/postmaster.pid")).expect("it runs");
        let pid = pid.lines().next().expect("its first line");
        let kill = |signal: &str, each: &str| drop(Command::new("kill").args([signal, each]).stderr(Stdio::null()).status());
        // It makes no more of them meanwhile: one that outlived the others would keep the next server from starting.
        kill("-STOP", pid);
        let children = fs::read_to_string(format!("/proc/{pid}/task/{pid}/children")).expect("it has children");
        for each in std::iter::once(pid).chain(children.split_whitespace()) {
            kill("-9", each);
            until(|| !Path::new(&format!("/proc/{each}")).exists(), "the server to die");
        }
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        let _ = as_its_user("pg_ctl").args(["-m", "immediate", "-D"]).arg(self.folder.join("data")).arg("stop").output();
        let _ = fs::remove_dir_all(&self.folder);
    }
}

/// The server that all tests share.
struct Shared {
    folder: PathBuf,
    /// Held with others for as long as this process lives; who can hold it alone stops the server.
    _user: File,
}

impl Shared {
    fn join() -> Self {
        let owner = fs::metadata("/proc/self").map_or(0, |about| about.uid());
        let folder = env::temp_dir().join(format!("seamfall-postgres-shared-{owner}"));
        let lock =
            |ending| File::create(folder.with_extension(ending)).expect("the folder for temporary files can be written to");
        let user = lock("users");
        user.lock_shared().expect("a file can be locked");
        let starting = lock("starting");
        starting.lock().expect("a file can be locked");
        if UnixStream::connect(folder.join(".s.PGSQL.5432")).is_err() {
            make(&folder);
            start(&folder);
            stop_after_the_last(&folder);
        }
        drop(starting);
        Self { folder, _user: user }
    }
}

/// Leaves a process behind that waits until nobody holds the lock of the users, then stops the server and takes its folder away. It holds the lock
/// meanwhile: who comes then starts another.
#[expect(clippy::zombie_processes, reason = "it outlives this process")]
fn stop_after_the_last(folder: &Path) {
    let stop = as_its_user("pg_ctl");
    let script = r#"exec 9>"$1"; while sleep 1; do flock -n 9 && break; done; folder="$2"; shift 2
        "$@" -m immediate -D "$folder/data" stop; rm -rf "$folder""#;
    Command::new("sh")
        .args(["-c", script, "stop"])
        .arg(folder.with_extension("users"))
        .arg(folder)
        .arg(stop.get_program())
        .args(stop.get_args())
        .process_group(0)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("there is a shell");
}

/// Makes an empty server in a folder.
fn make(folder: &Path) {
    let _ = fs::remove_dir_all(folder);
    fs::create_dir(folder).expect("the folder for temporary files can be written to");
    fs::set_permissions(folder, Permissions::from_mode(0o755)).expect("the folder is ours");
    if is_root() {
        let nobody = Command::new("id").args(["-u", "nobody"]).output().expect("there is `id`").stdout;
        let nobody = String::from_utf8_lossy(&nobody).trim().parse().expect("there is `nobody`");
        chown(folder, Some(nobody), None).expect("root may give a folder away");
    }
    let mut initdb = as_its_user("initdb");
    initdb.args(["-A", "trust", "-U", "seamfall", "-E", "UTF8", "--no-sync", "-D"]).arg(folder.join("data"));
    // It sorts as a dictionary does, so that what must sort otherwise has to say so.
    initdb.args(["--locale=C.UTF-8", "--locale-provider=icu", "--icu-locale=en"]);
    run(&mut initdb);
}

/// It does not wait for the disk: what a test kills are processes, and what they have written the system keeps.
fn start(folder: &Path) {
    let log = folder.join("log");
    let settings = format!("-k {} -c listen_addresses='' -c max_connections=200 -c fsync=off", folder.display());
    control(folder, &["-w", "-l", &log.display().to_string(), "-o", &settings, "start"]);
}

fn control(folder: &Path, what: &[&str]) {
    // A server that starts keeps what it is given to print on.
    let done =
        as_its_user("pg_ctl").arg("-D").arg(folder.join("data")).args(what).stdout(Stdio::null()).stderr(Stdio::null()).status();
    let log = fs::read_to_string(folder.join("log")).unwrap_or_default();
    assert!(done.expect("it runs").success(), "pg_ctl {what:?}: {log}");
}

/// An empty schema, and an address that leads into it.
fn schema(folder: &Path) -> String {
    let name = format!("place_{}_{}", std::process::id(), next());
    let mut psql = Command::new(program("psql"));
    psql.arg("-h").arg(folder).args(["-U", "seamfall", "-d", "postgres", "-q", "-c", &format!("CREATE SCHEMA {name}")]);
    run(&mut psql);
    format!("postgres://seamfall@/postgres?host={}&options=-csearch_path%3D{name}", folder.display())
}

fn run(command: &mut Command) {
    let done = command.stdin(Stdio::null()).output().expect("it runs");
    assert!(done.status.success(), "{command:?}: {}", String::from_utf8_lossy(&done.stderr));
}

/// A program of PostgreSQL, run by somebody who may run it.
fn as_its_user(name: &str) -> Command {
    let mut command = if is_root() { Command::new("runuser") } else { Command::new(program(name)) };
    if is_root() {
        command.args(["-u", "nobody", "--"]).arg(program(name));
    }
    command.current_dir("/");
    command
}

fn is_root() -> bool {
    fs::metadata("/proc/self").is_ok_and(|about| about.uid() == 0)
}

fn program(name: &str) -> PathBuf {
    programs().expect("PostgreSQL is installed").join(name)
}

/// The folder of the programs: where `pg_ctl` is on the path, or the newest that Debian has.
fn programs() -> Option<PathBuf> {
    let path = env::var_os("PATH")?;
    let mut debian: Vec<PathBuf> =
        fs::read_dir("/usr/lib/postgresql").into_iter().flatten().flatten().map(|entry| entry.path().join("bin")).collect();
    debian.sort_by_key(|folder| folder.iter().rev().nth(1).and_then(|number| number.to_str()?.parse::<u32>().ok()));
    debian
        .into_iter()
        .rev()
        .chain(env::split_paths(&path))
        .find(|folder| ["initdb", "pg_ctl", "psql"].iter().all(|name| folder.join(name).exists()))
}

fn next() -> u32 {
    static NUMBER: AtomicU32 = AtomicU32::new(0);
    NUMBER.fetch_add(1, Ordering::Relaxed)
}

fn until(done: impl Fn() -> bool, what: &str) {
    let begun = Instant::now();
    while !done() {
        assert!(begun.elapsed() < Duration::from_secs(10), "waited in vain for {what}");
        std::thread::sleep(Duration::from_millis(10));
    }
}
