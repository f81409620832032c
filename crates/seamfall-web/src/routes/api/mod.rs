//! The description of what can be asked for, in the open form OpenAPI 3.1.
//!
//! In: the tables of endpoints ([`table`], [`guild`]), and the types that bodies are read as and written from, which give their own schemas. Out: a JSON
//! document for each kind of server, served at `/api.json` and printed by `seamfall schema api`, `guild-api` and `door-api`. A test holds the table against the router, so that nothing is served that is not described,
//! and nothing described that is not served; a fuzzer that knows nothing of the house asks for everything by this page (`docs/fuzzing.md`).

mod guild;
mod table;

use crate::asker;
use crate::guild::needs::Needs;
use crate::offered;
use crate::share;
use axum::Json;
use schemars::SchemaGenerator;
use schemars::generate::SchemaSettings;
use serde_json::{Map, Value, json};
use table::{Answer, Body, ENDPOINTS, Endpoint, Query};

/// What there is to describe.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Server {
    /// The workroom of a single maker.
    Workroom,
    /// A guild.
    Guild,
    /// The door to the local network.
    Door,
}

/// The description, as it is served.
pub async fn description() -> Json<Value> {
    Json(document(if asker::here().is_some() { Server::Guild } else { Server::Workroom }))
}

/// The description of a server as text.
///
/// # Panics
/// Never: it is made of texts and numbers.
#[must_use]
pub fn api_json(server: Server) -> String {
    serde_json::to_string_pretty(&document(server)).expect("a description is made of texts and numbers") + "\n"
}

fn document(server: Server) -> Value {
    let settings = SchemaSettings::draft2020_12().with(|settings| settings.definitions_path = "/components/schemas".into());
    let mut schemas = settings.into_generator();
    let mut paths: Map<String, Value> = Map::new();
    let mut add = |endpoint: &Endpoint, needs: Option<Needs>| {
        let path = paths.entry(endpoint.path).or_insert_with(|| json!({ "parameters": places(endpoint.path) }));
        path[endpoint.method] = operation(endpoint, &mut schemas);
        if let Some(needs) = needs {
            guard(&mut path[endpoint.method], endpoint, needs);
        }
    };
    match server {
        Server::Workroom => ENDPOINTS.iter().for_each(|endpoint| add(endpoint, None)),
        Server::Guild => guild::all().for_each(|(endpoint, needs)| add(endpoint, Some(needs))),
        Server::Door => guild::DOOR.iter().for_each(|endpoint| add(endpoint, guild::needs(share::TABLE, endpoint))),
    }
    let trouble = schemas.subschema_for::<crate::trouble::Body>();
    let mut document = json!({
        "openapi": "3.1.0",
        "info": { "title": "Seamfall", "version": env!("CARGO_PKG_VERSION"), "description": about(server) },
        "paths": paths,
        "components": {
            "schemas": schemas.take_definitions(true),
            "responses": refusals(&trouble),
        },
    });
    if let Some(cookie) = match server {
        Server::Workroom => None,
        Server::Guild => Some("seamfall-member"),
        Server::Door => Some("seamfall-key"),
    } {
        document["components"]["securitySchemes"] = json!({ "cookie": { "type": "apiKey", "in": "cookie", "name": cookie } });
    }
    document
}

/// What a server is, in a few sentences.
fn about(server: Server) -> &'static str {
    match server {
        Server::Workroom => {
            "The workroom of this machine. Lengths are typed as in the quilt file; states of a quilt are told by their revision, and what is asked of another state than the quilt stands at is refused with 409."
        }
        Server::Guild => {
            "A guild: the workroom for many members. `x-needs` tells what an address needs of her who asks: nothing, to be a member or a keeper, or a part in the quilt: to look, to tick, to edit, to make it; a photograph needs a quilt that shows it. What she may do with a quilt stands in the header `seamfall-may` of every answer about it. Behind TLS the cookie is called `__Host-seamfall`."
        }
        Server::Door => {
            "The door to the local network, which a maker opens for one quilt: whoever holds a key may look, and tick off where the key allows it."
        }
    }
}

/// What is needed, in a word.
fn needed(needs: Needs) -> &'static str {
    match needs {
        Needs::Nothing => "nothing",
        Needs::Member => "member",
        Needs::Keeper => "keeper",
        Needs::On(may) => offered::word(may),
        Needs::Photo => "photo",
        Needs::Shut => "shut",
    }
}

/// Adds to an operation what it needs, and how it refuses her who does not have it.
fn guard(operation: &mut Value, endpoint: &Endpoint, needs: Needs) {
    operation["x-needs"] = needed(needs).into();
    if needs != Needs::Nothing {
        operation["security"] = json!([{ "cookie": [] }]);
    }
    for status in ["401", "429"] {
        operation["responses"][status] = json!({ "$ref": format!("#/components/responses/{status}") });
    }
    if endpoint.method == "get" && operation["responses"].get("303").is_none() {
        operation["responses"]["303"] = json!({ "description": "Whoever is not signed in is led to the page to sign in on." });
    }
}

/// What stands for a part of the address, by its name.
fn places(path: &str) -> Value {
    let named = path.split('/').filter_map(|part| part.strip_prefix('{')?.strip_suffix('}'));
    let place = |name: &str| {
        let schema = match name {
            "id" | "version" | "invitation" | "member" => json!({ "type": "integer", "format": "int64" }),
            // One address serves the file `3.svg` and the number `3` of what is renamed or taken away.
            "own" if !path.ends_with("{own}") => json!({ "type": "integer", "format": "int64" }),
            _ => json!({ "type": "string", "minLength": 1 }),
        };
        json!({ "name": name, "in": "path", "required": true, "schema": schema })
    };
    named.map(place).collect()
}

fn operation(endpoint: &Endpoint, schemas: &mut SchemaGenerator) -> Value {
    let mut answers = Map::new();
    let (status, answer) = answer(endpoint.answer, schemas);
    answers.insert(status.to_owned(), answer);
    // Whatever is asked, the server may say that the address cannot be read, who may ask, that a thing is not there, that it has changed, and that it
    // cannot be used.
    for status in ["400", "403", "404", "405", "409", "422", "500", "503"] {
        answers.insert(status.to_owned(), json!({ "$ref": format!("#/components/responses/{status}") }));
    }
    if !matches!(endpoint.body, Body::None) {
        for status in ["413", "415"] {
            answers.insert(status.to_owned(), json!({ "$ref": format!("#/components/responses/{status}") }));
        }
    }
    let mut operation = json!({ "summary": endpoint.what, "responses": answers });
    if !endpoint.query.is_empty() {
        operation["parameters"] = endpoint.query.iter().map(asked).collect();
    }
    match endpoint.body {
        Body::None => {}
        Body::Json(schema) => {
            operation["requestBody"] =
                json!({ "required": true, "content": { "application/json": { "schema": schema(schemas) } } });
        }
        Body::Form(schema) => {
            operation["requestBody"] =
                json!({ "required": true, "content": { "application/x-www-form-urlencoded": { "schema": schema(schemas) } } });
        }
        Body::Bytes(kinds) => {
            let kinds = kinds.iter().map(|kind| ((*kind).to_owned(), json!({ "schema": {} })));
            operation["requestBody"] = json!({ "required": true, "content": kinds.collect::<Map<_, _>>() });
        }
    }
    operation
}

fn asked(query: &Query) -> Value {
    let schema = match query.kind {
        "revision" => json!({ "type": "integer", "format": "int64" }),
        "count" => json!({ "type": "integer", "minimum": 0, "maximum": u32::MAX }),
        "number" => json!({ "type": "number" }),
        "flag" => json!({ "type": "boolean" }),
        _ => json!({ "type": "string" }),
    };
    json!({ "name": query.name, "in": "query", "required": query.required, "schema": schema })
}

fn answer(answer: Answer, schemas: &mut SchemaGenerator) -> (&'static str, Value) {
    match answer {
        Answer::Json(schema) => ("200", said("What was asked for.", "application/json", schema(schemas).to_value())),
        Answer::Is(kinds) => {
            let kinds = kinds.iter().map(|kind| ((*kind).to_owned(), json!({ "schema": {} }))).collect::<Map<_, _>>();
            ("200", json!({ "description": "What was asked for.", "content": kinds }))
        }
        Answer::Goes(status) => (status, json!({ "description": "Stands at another address." })),
    }
}

fn said(what: &str, kind: &str, schema: Value) -> Value {
    json!({ "description": what, "content": { kind: { "schema": schema } } })
}

/// What is refused, and how.
fn refusals(trouble: &schemars::Schema) -> Value {
    let told = |what: &str| {
        json!({ "description": what, "content": {
            "application/json": { "schema": trouble.as_value() },
            "text/html": { "schema": {} },
            "text/plain": { "schema": { "type": "string" } },
        } })
    };
    json!({
        "400": told("The address or the body cannot be read."),
        "401": told("Nobody is signed in."),
        "403": told("Another site asks, or another machine, or a key does not allow it."),
        "404": told("There is no such thing."),
        "405": { "description": "The address does not know this method." },
        "409": told("The quilt has changed since, or there is nothing to undo or redo."),
        "413": told("The body is larger than is taken."),
        "415": told("The body says that it is of another kind."),
        "422": told("It was understood and cannot be done: why, and what to do."),
        "429": told("Somebody asks too often, or has tried too many wrong keys."),
        "500": told("A fault of the program, or of the disk."),
        "503": told("It took longer than is given, and was stopped."),
    })
}
