//! A store on a PostgreSQL server: a few connections that are shared.
//!
//! In: the address of a database. Out: connections to it, one for each who asks at the same time up to [`MOST`], who comes later waits; opened when
//! they are needed, and opened anew when one has broken. What only looks is asked again then, for it changes nothing; of what changes something, only what
//! had not begun. So a server that was away and is back costs no request but those that it was away for.
//!
//! A connection waits for its answers on a small runtime of its own, so that nothing here may be called on a thread that itself runs one: requests
//! are worked on by threads that may wait.

mod layout;

#[cfg(test)]
pub use layout::bring_to;
pub use layout::{bring_up_to_date, damage};

use crate::StoreError;
use crate::work::{Given, Row, Value, Work, without_nul};
use postgres::types::private::BytesMut;
use postgres::types::{IsNull, ToSql, Type, to_sql_checked};
use postgres::{Client, Config, NoTls, Statement};
use std::collections::BTreeMap;
use std::error::Error;
use std::fmt;
use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

/// Connections at most. A server lets a hundred in unless told otherwise, and several processes may use it.
const MOST: usize = 8;

/// Who waits longer for a connection is told so.
const PATIENCE: Duration = Duration::from_secs(10);

/// What a connection begins with. No wait is without end. What is committed is on the disk before it is answered, whatever the server has been told.
const BEGIN: &str = "SET statement_timeout = '30s'; SET lock_timeout = '10s'; SET idle_in_transaction_session_timeout = '60s';
    SET client_min_messages = warning;
    SELECT set_config('synchronous_commit', 'on', false) WHERE current_setting('synchronous_commit') = 'off'";

/// A store on a server, in use.
#[derive(Debug)]
pub struct OnServer {
    config: Config,
    pool: Mutex<Pool>,
    freed: Condvar,
}

#[derive(Debug, Default)]
struct Pool {
    idle: Vec<Session>,
    /// Places that are taken, with a connection or about to have one.
    taken: usize,
}

impl OnServer {
    /// A server at an address. It is asked nothing yet.
    pub fn at(config: &Config) -> Self {
        let mut config = config.clone();
        if config.get_connect_timeout().is_none() {
            config.connect_timeout(Duration::from_secs(5));
        }
        config.keepalives_idle(Duration::from_secs(30)).tcp_user_timeout(Duration::from_secs(30));
        if config.get_application_name().is_none() {
            config.application_name("seamfall");
        }
        Self { config, pool: Mutex::default(), freed: Condvar::new() }
    }

    /// Asks something, in no transaction: what must fit together is one statement.
    pub fn look<T>(&self, look: impl Fn(&mut Work) -> Result<T, StoreError>) -> Result<T, StoreError> {
        let mut taken = self.take()?;
        let mut seen = look(&mut Work::Server(taken.session()?));
        if matches!(seen, Err(StoreError::Away(_))) {
            seen = look(&mut Work::Server(taken.anew()?));
        }
        if !matches!(seen, Err(StoreError::Away(_))) {
            taken.give_back();
        }
        seen
    }

    /// Whole or not at all. Others work at the same time: what must not change meanwhile is held first.
    pub fn transact<T, E: From<StoreError>>(&self, work: impl FnOnce(&mut Work) -> Result<T, E>) -> Result<T, E> {
        const BEGIN: &str = "BEGIN ISOLATION LEVEL READ COMMITTED READ WRITE";
        let mut taken = self.take()?;
        match taken.session()?.batch(BEGIN) {
            Err(StoreError::Away(_)) => taken.anew()?.batch(BEGIN)?,
            begun => begun?,
        }
        let session = taken.session()?;
        // Where the work panics the connection is closed, and the server takes back what was done.
        match work(&mut Work::Server(session)) {
            Ok(done) => {
                assert!(!session.is_spoiled, "what a statement failed with is passed on");
                match session.batch("COMMIT") {
                    Err(StoreError::Away(_)) => return Err(StoreError::InDoubt.into()),
                    answer => answer?,
                }
                taken.give_back();
                Ok(done)
            }
            Err(error) => {
                // A connection that cannot even do this is closed.
                if session.batch("ROLLBACK").is_ok() {
                    taken.give_back();
                }
                Err(error)
            }
        }
    }

    fn take(&self) -> Result<Taken<'_>, StoreError> {
        let pool = self.lock();
        let full = |pool: &mut Pool| pool.taken >= MOST;
        let (mut pool, _) = self.freed.wait_timeout_while(pool, PATIENCE, full).unwrap_or_else(PoisonError::into_inner);
        if full(&mut pool) {
            return Err(StoreError::Busy);
        }
        pool.taken += 1;
        Ok(Taken { server: self, session: pool.idle.pop() })
    }

    fn lock(&self) -> MutexGuard<'_, Pool> {
        self.pool.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// A place among those who work, with its connection once there is one. It is closed, unless it is given back.
struct Taken<'a> {
    server: &'a OnServer,
    session: Option<Session>,
}

impl Taken<'_> {
    fn session(&mut self) -> Result<&mut Session, StoreError> {
        let session = match self.session.take() {
            Some(session) => session,
            None => Session::open(&self.server.config)?,
        };
        Ok(self.session.insert(session))
    }

    /// Another connection in the place of one that has broken. The idle ones have broken with it.
    fn anew(&mut self) -> Result<&mut Session, StoreError> {
        let broken = (self.session.take(), std::mem::take(&mut self.server.lock().idle));
        drop(broken);
        self.session()
    }

    fn give_back(mut self) {
        if let Some(mut session) = self.session.take() {
            session.is_spoiled = false;
            self.server.lock().idle.push(session);
        }
    }
}

impl Drop for Taken<'_> {
    fn drop(&mut self) {
        self.server.lock().taken -= 1;
        self.server.freed.notify_one();
    }
}

/// A connection with the statements that it knows.
pub struct Session {
    /// Nothing only while it is dropped.
    client: Option<Client>,
    known: BTreeMap<&'static str, Statement>,
    /// A statement failed: the transaction is lost with it.
    is_spoiled: bool,
}

impl fmt::Debug for Session {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Session").field("known", &self.known.len()).finish_non_exhaustive()
    }
}

impl Drop for Session {
    /// A connection is closed on a thread of its own, since a store may be dropped where nothing may wait.
    fn drop(&mut self) {
        let client = self.client.take();
        let _ = std::thread::Builder::new().spawn(move || drop(client));
    }
}

impl Session {
    fn open(config: &Config) -> Result<Self, StoreError> {
        let mut client = config.connect(NoTls)?;
        client.batch_execute(BEGIN)?;
        Ok(Self { client: Some(client), known: BTreeMap::new(), is_spoiled: false })
    }

    /// Statements that are given nothing.
    pub fn batch(&mut self, sql: &str) -> Result<(), StoreError> {
        Ok(self.client().batch_execute(sql)?)
    }

    /// Does something. Gives the number of rows that were changed.
    pub fn execute(&mut self, sql: &'static str, given: &[Given]) -> Result<u64, StoreError> {
        self.ask(sql, |client, statement| client.execute(statement, &places(given)))
    }

    /// All rows of the answer.
    pub fn rows(&mut self, sql: &'static str, given: &[Given]) -> Result<Vec<Row>, StoreError> {
        self.ask(sql, |client, statement| client.query(statement, &places(given))?.iter().map(row).collect())
    }

    fn ask<T>(
        &mut self,
        sql: &'static str,
        ask: impl FnOnce(&mut Client, &Statement) -> Result<T, postgres::Error>,
    ) -> Result<T, StoreError> {
        let answer = self.statement(sql).and_then(|statement| ask(self.client(), &statement));
        self.is_spoiled |= answer.is_err();
        Ok(answer?)
    }

    /// A statement as the server knows it, taught to it once a connection.
    fn statement(&mut self, sql: &'static str) -> Result<Statement, postgres::Error> {
        if let Some(known) = self.known.get(sql) {
            return Ok(known.clone());
        }
        let statement = self.client().prepare(&sql.replace('?', "$"))?;
        self.known.insert(sql, statement.clone());
        Ok(statement)
    }

    fn client(&mut self) -> &mut Client {
        self.client.as_mut().expect("it is taken out when it is dropped")
    }
}

fn places<'a>(given: &'a [Given<'a>]) -> Vec<&'a (dyn ToSql + Sync)> {
    given.iter().map(|each| each as &(dyn ToSql + Sync)).collect()
}

fn row(row: &postgres::Row) -> Result<Row, postgres::Error> {
    let value = |(column, about): (usize, &postgres::Column)| {
        Ok(match *about.type_() {
            Type::INT8 => row.try_get::<_, Option<i64>>(column)?.map(Value::Number),
            Type::INT4 => row.try_get::<_, Option<i32>>(column)?.map(|number| Value::Number(number.into())),
            Type::FLOAT8 => row.try_get::<_, Option<f64>>(column)?.map(Value::Real),
            Type::BYTEA => row.try_get::<_, Option<Vec<u8>>>(column)?.map(Value::Bytes),
            Type::VOID => None,
            _ => row.try_get::<_, Option<String>>(column)?.map(Value::Text),
        }
        .unwrap_or(Value::Nothing))
    };
    row.columns().iter().enumerate().map(value).collect::<Result<_, _>>().map(Row)
}

impl ToSql for Given<'_> {
    fn to_sql(&self, kind: &Type, out: &mut BytesMut) -> Result<IsNull, Box<dyn Error + Sync + Send>> {
        match *self {
            Self::Number(number) if *kind == Type::INT4 => i32::try_from(number)?.to_sql(kind, out),
            Self::Number(number) => number.to_sql(kind, out),
            Self::Real(number) => number.to_sql(kind, out),
            Self::Text(text) => without_nul(text).to_sql(kind, out),
            Self::Bytes(bytes) => bytes.to_sql(kind, out),
        }
    }

    /// What a statement asks for is known from the layout.
    fn accepts(_: &Type) -> bool {
        true
    }

    to_sql_checked!();
}
