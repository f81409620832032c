//! What each address of a guild needs of her who asks. What is not in the table is refused; a test holds it against the routes.

use Needs::*;
use axum::http::Method;
use seamfall_store::May;
use seamfall_store::May::{Edit, Look, Make, Tick};

/// What is needed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Needs {
    /// Nothing: whoever comes.
    Nothing,
    /// A member.
    Member,
    /// A keeper.
    Keeper,
    /// A member who may do this with the quilt `{id}`.
    On(May),
    /// A member who may look at a quilt that shows the photograph `{hash}`.
    Photo,
    /// What a guild does not have: the door of a single maker's machine.
    Shut,
}

/// By method and address.
pub const TABLE: &[(&str, &str, Needs)] = &[
    ("GET", "/", Member),
    ("GET", "/api.json", Member),
    ("GET", "/quilts", Member),
    ("GET", "/q/{id}", On(Look)),
    ("GET", "/q/{id}/cloths.css", On(Look)),
    ("GET", "/assets/{name}", Nothing),
    ("GET", "/favicon.ico", Nothing),
    ("GET", "/starter/{file}", Member),
    ("GET", "/demo/{file}", Member),
    ("GET", "/q/{id}/state", On(Look)),
    ("GET", "/q/{id}/about/{element}", On(Look)),
    ("GET", "/q/{id}/region/{name}", On(Look)),
    ("GET", "/q/{id}/seam", On(Look)),
    ("GET", "/q/{id}/find", On(Look)),
    ("GET", "/q/{id}/layer/{name}", On(Look)),
    ("POST", "/q/{id}/edit", On(Edit)),
    ("POST", "/q/{id}/undo", On(Edit)),
    ("POST", "/q/{id}/redo", On(Edit)),
    ("GET", "/q/{id}/turning", On(Look)),
    // Searches on and remembers, and writes nothing.
    ("POST", "/q/{id}/search", On(Look)),
    ("POST", "/q/{id}/shuffle", On(Edit)),
    ("GET", "/q/{id}/versions", On(Look)),
    ("POST", "/q/{id}/versions", On(Edit)),
    ("POST", "/q/{id}/versions/{version}/name", On(Edit)),
    ("POST", "/q/{id}/versions/{version}/drop", On(Edit)),
    ("POST", "/q/{id}/versions/{version}/take", On(Edit)),
    ("GET", "/q/{id}/versions/{version}/file", On(Look)),
    ("GET", "/q/{id}/versions/{version}/quilt.svg", On(Look)),
    ("POST", "/q/{id}/cloth/search", On(Look)),
    // Writes into the quilt that its body names, for which it asks by itself.
    ("POST", "/q/{id}/cloth/{key}/keep", On(Look)),
    ("GET", "/q/{id}/cloth/{key}", On(Look)),
    ("POST", "/q/{id}/cloth/{key}/photo", On(Edit)),
    ("GET", "/photo/{hash}/{file}", Photo),
    ("GET", "/q/{id}/photo/{name}", On(Look)),
    ("GET", "/q/{id}/cloth/{key}/{file}", On(Look)),
    ("GET", "/q/{id}/drape", On(Look)),
    ("POST", "/q/{id}/drape", On(Look)),
    ("GET", "/q/{id}/draw", On(Edit)),
    ("GET", "/q/{id}/draw/{block}", On(Edit)),
    ("POST", "/q/{id}/drawing", On(Edit)),
    ("POST", "/q/{id}/drawing/arcs", On(Edit)),
    ("POST", "/q/{id}/drawing/save", On(Edit)),
    ("POST", "/q/{id}/drawing/keep", On(Edit)),
    ("GET", "/q/{id}/own", On(Look)),
    ("POST", "/q/{id}/own/{own}/take", On(Edit)),
    // Whose own block it is, is asked where it is read.
    ("POST", "/own", Member),
    ("GET", "/own/{own}", Member),
    ("POST", "/own/{own}/name", Member),
    ("POST", "/own/{own}/remove", Member),
    ("GET", "/q/{id}/class", On(Look)),
    ("GET", "/q/{id}/class/state", On(Look)),
    ("POST", "/q/{id}/class/edit", On(Edit)),
    ("POST", "/q/{id}/class/begin", On(Edit)),
    ("POST", "/q/{id}/class/undo", On(Edit)),
    ("POST", "/q/{id}/class/redo", On(Edit)),
    ("GET", "/q/{id}/class/file", On(Look)),
    ("POST", "/q/{id}/class/file", On(Edit)),
    ("GET", "/q/{id}/class/handouts.pdf", On(Look)),
    ("GET", "/q/{id}/class/cloth/{key}/{file}", On(Look)),
    ("GET", "/q/{id}/cut-list.csv", On(Look)),
    ("GET", "/q/{id}/share", Shut),
    ("POST", "/q/{id}/share", Shut),
    ("GET", "/q/{id}/sewing", On(Look)),
    ("GET", "/q/{id}/sewn", On(Look)),
    ("GET", "/q/{id}/revision", On(Look)),
    ("POST", "/q/{id}/tick", On(Tick)),
    ("GET", "/q/{id}/join/{file}", On(Look)),
    ("GET", "/q/{id}/ledger", On(Look)),
    ("POST", "/q/{id}/ledger", On(Tick)),
    ("POST", "/q/{id}/ledger/import", On(Edit)),
    ("GET", "/design/{file}", Member),
    ("POST", "/drawing", Member),
    ("GET", "/q/{id}/section/{name}", On(Look)),
    ("GET", "/q/{id}/section/{name}/{file}", On(Look)),
    ("GET", "/begin", Member),
    ("POST", "/begin", Member),
    ("POST", "/new/{demo}", Member),
    ("POST", "/import", Member),
    ("POST", "/q/{id}/remove", On(Make)),
    ("GET", "/q/{id}/file", On(Look)),
    ("GET", "/q/{id}/quilt.svg", On(Look)),
    ("GET", "/q/{id}/edge.svg", On(Look)),
    ("GET", "/q/{id}/settings", On(Look)),
    ("GET", "/q/{id}/corner/{file}", On(Look)),
    ("GET", "/q/{id}/plan.json", On(Look)),
    ("GET", "/q/{id}/book.pdf", On(Look)),
    ("GET", "/q/{id}/print", On(Look)),
    ("GET", "/q/{id}/quilt.png", On(Look)),
    ("GET", "/q/{id}/mats", On(Look)),
    ("GET", "/q/{id}/mats/{file}", On(Look)),
    ("GET", "/q/{id}/units/{file}", On(Look)),
    ("GET", "/q/{id}/templates/{block}", On(Look)),
    ("GET", "/q/{id}/templates/{block}/{file}", On(Look)),
    // The guild's own.
    ("GET", "/sign-in", Nothing),
    ("POST", "/sign-in", Nothing),
    ("GET", "/join/{key}", Nothing),
    ("POST", "/join/{key}", Nothing),
    ("POST", "/sign-out", Member),
    ("POST", "/sign-out-everywhere", Member),
    ("GET", "/me", Member),
    ("POST", "/me/name", Member),
    ("POST", "/me/way-back", Member),
    ("GET", "/members", Member),
    ("POST", "/members/invite", Keeper),
    ("POST", "/members/invitation/{invitation}/take-back", Keeper),
    ("POST", "/members/member/{member}/role", Keeper),
    ("POST", "/members/member/{member}/way-back", Keeper),
    ("POST", "/members/member/{member}/remove", Keeper),
    ("GET", "/q/{id}/members", On(Make)),
    ("POST", "/q/{id}/members", On(Make)),
];

/// What a request to an address needs by a table of this form; of addresses that fit, the one with fewer parts left open is meant, as the router has it.
pub fn of(table: &[(&str, &str, Needs)], method: &str, address: &str) -> Needs {
    let fits = |path: &str| {
        let (mut open, mut parts) = (0, address.split('/'));
        for part in path.split('/') {
            match parts.next() {
                Some(here) if part == here => {}
                Some(here) if part.starts_with('{') && !here.is_empty() => open += 1,
                _ => return None,
            }
        }
        parts.next().is_none().then_some(open)
    };
    let fitting = table.iter().filter(|(each, ..)| *each == method).filter_map(|(_, path, needs)| Some((fits(path)?, *needs)));
    fitting.min_by_key(|(open, _)| *open).map_or(Shut, |(_, needs)| needs)
}

/// The methods that a route knows, where it does not know this one.
pub fn other_methods(method: &Method, route: &str) -> String {
    let known: Vec<&str> = TABLE.iter().filter(|(_, path, _)| *path == route).map(|(method, ..)| *method).collect();
    let is_known = known.contains(&method.as_str()) || (method == Method::HEAD && known.contains(&"GET"));
    if is_known { String::new() } else { known.join(",") }
}

/// What a request needs; what is not in the table is shut.
pub fn needs(method: &Method, route: &str) -> Needs {
    let method = if method == Method::HEAD { "GET" } else { method.as_str() };
    TABLE.iter().find(|(each, path, _)| *each == method && *path == route).map_or(Shut, |(.., needs)| *needs)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    /// Every `.route(…)` of a text with the methods that it serves.
    fn routes(text: &str) -> BTreeSet<(String, String)> {
        let mut all = BTreeSet::new();
        for part in text.split(".route(").skip(1) {
            let mut quoted = part.split('"');
            let (_, path) = (quoted.next(), quoted.next().expect("an address"));
            let handlers = part.split_once('"').expect("an address").1.split(".fallback").next().expect("all of it");
            for (word, method) in
                [("get(", "GET"), ("post(", "POST"), ("put(", "PUT"), ("delete(", "DELETE"), ("patch(", "PATCH")]
            {
                if handlers.contains(word) {
                    all.insert((method.to_owned(), path.to_owned()));
                }
            }
            assert!(!handlers.contains("any("), "{path} answers to every method");
        }
        all
    }

    #[test]
    fn every_route_has_its_needs_and_no_other_is_in_the_table() {
        let single = include_str!("../routes/mod.rs");
        let single =
            &single[single.find("pub fn all(").expect("it is there")..single.find("pub fn shared(").expect("it is there")];
        let mut served = routes(single);
        assert!(served.len() > 80, "{}", served.len());
        served.append(&mut routes(include_str!("../routes/guild.rs")));
        agree(&served, TABLE);
        // The door to the local network has a table of its own.
        let all = include_str!("../routes/mod.rs");
        let shared = &all[all.find("pub fn shared(").expect("it is there")..all.find("fn numbered(").expect("it is there")];
        agree(&routes(shared), crate::share::TABLE);
    }

    fn agree(served: &BTreeSet<(String, String)>, table: &[(&str, &str, Needs)]) {
        let known: BTreeSet<_> = table.iter().map(|(method, path, _)| ((*method).to_owned(), (*path).to_owned())).collect();
        assert_eq!(known.len(), table.len(), "each stands there once");
        let none = Vec::<&(String, String)>::new();
        assert_eq!(served.difference(&known).collect::<Vec<_>>(), none, "served, and not in the table");
        assert_eq!(known.difference(served).collect::<Vec<_>>(), none, "in the table, and not served");
    }

    #[test]
    fn whatever_names_a_quilt_needs_a_part_in_it_and_changes_need_more_than_looking() {
        for (method, path, needs) in TABLE {
            if path.contains("{id}") {
                assert!(matches!(needs, On(_) | Shut), "{path}");
            }
            let computes = ["search", "drape", "keep"].iter().any(|word| path.ends_with(word));
            if *method == "POST" && !computes {
                assert_ne!(*needs, On(Look), "{path}");
            }
        }
        assert_eq!(needs(&Method::GET, "/q/{id}/edit"), Shut);
        assert_eq!(needs(&Method::GET, "/elsewhere"), Shut);
        assert_eq!(needs(&Method::HEAD, "/quilts"), Member);
    }

    #[test]
    fn an_address_needs_what_its_route_needs() {
        for (method, path, needs) in TABLE {
            let address = path.replace(['{', '}'], "");
            assert_eq!(of(TABLE, method, &address), *needs, "{method} {path}");
        }
        assert_eq!(of(TABLE, "GET", "/q/1/edit"), Shut);
        assert_eq!(of(TABLE, "GET", "/q/1/file/more"), Shut);
        assert_eq!(of(TABLE, "GET", "/q//file"), Shut);
    }
}
