//! The limits of the house in one place.
//!
//! In: the constants in the sources, with the sentences above them. Out: `docs/limits.md`: each limit, what it is, and where it is enforced. The page is
//! written from the sources (`cargo run -p xtask -- limits`) and held against them by a test; so is that no constant that is named like a limit is
//! left out. Knows whole numbers, decimals, sums and products of them, pairs, durations, and constants of the same file.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};
use syn::{Expr, Item, Lit};

/// The page, below the root of the workspace.
pub const PAGE: &str = "docs/limits.md";

/// A heading, what is said under it, and the files below `crates/` with the names of their constants; none for all public ones.
type Group = (&'static str, &'static str, &'static [(&'static str, &'static [&'static str])]);

const GROUPS: &[Group] = &[
    (
        "What one request may take",
        "A body of more bytes than a quilt file may have is refused with 413 before it is read whole; a photograph has a limit of its own, below. Work is done by so many threads at a time and nobody else's; the wait for a turn \
         counts. Work stops when the browser goes away: in a plan, in a search, between the steps of a photograph, and anywhere while a book is set.",
        &[
            ("seamfall-web/src/wanted.rs", &["LONGEST"]),
            ("seamfall-web/src/room.rs", &["AT_ONCE", "ONE_MAKER", "GUILD", "LAYOUTS"]),
            ("seamfall-web/src/class.rs", &["REMEMBERED"]),
            ("seamfall-web/src/drape.rs", &["POINTS", "AT_ONCE", "FRAME"]),
            ("seamfall-web/src/sheet.rs", &["POINTS"]),
            ("seamfall-web/src/routes/own.rs", &["MOST"]),
            ("seamfall-web/src/routes/falls.rs", &["MOST"]),
            ("seamfall-web/src/routes/versions.rs", &["SIDE_BY_SIDE", "LONGEST_NAME"]),
            ("seamfall-web/src/share.rs", &["MOST_KEYS", "AT_ONCE"]),
            ("seamfall-web/src/routes/guild.rs", &["LONGEST_NAME", "MOST_MEMBERS", "MOST_INVITATIONS"]),
            ("seamfall-web/src/guild/mod.rs", &["WRONG_AT_ONCE"]),
            ("seamfall-book/src/picture.rs", &["WIDEST"]),
            ("seamfall-drape/src/scene.rs", &["POINTS"]),
        ],
    ),
    (
        "The quilt file, the ledger, the class",
        "Beyond them a file is refused with the line and what to do. Lengths are in inches.",
        &[("seamfall-model/src/lib.rs", &[])],
    ),
    (
        "Lengths and answers about files",
        "",
        &[
            ("seamfall-model/src/typed.rs", &["LONGEST_IN", "LONGEST_TEXT"]),
            ("seamfall-model/src/file/parse.rs", &["TRIES"]),
            ("seamfall-model/src/file/problems.rs", &["MOST"]),
            ("seamfall-model/src/drawing/arcs.rs", &["MOST"]),
            ("seamfall-model/src/drawing/repeat.rs", &["MOST"]),
            ("seamfall/src/words.rs", &["MOST_BYTES"]),
        ],
    ),
    (
        "Photographs and drawings that are brought",
        "The size of a picture is read before its pixels are.",
        &[("seamfall-photo/src/lib.rs", &[]), ("seamfall-photo/src/drawing.rs", &["LARGEST", "DEEPEST"])],
    ),
    (
        "Planning",
        "Searches are counted in steps, not in seconds, so that a plan is the same on every machine. What reaches a limit keeps the best that was found, with its bound, or is left \
         out with a finding.",
        &[
            ("seamfall-plan/src/draft/crowd.rs", &["MOST", "MOST_IN_ALL"]),
            ("seamfall-plan/src/lap/lines.rs", &["MOST_EDGES"]),
            ("seamfall-plan/src/lap/sections.rs", &["MOST_IN_ALL"]),
            ("seamfall-plan/src/lap/pattern.rs", &["MOST_EDGES", "MOST_CROSSINGS"]),
            ("seamfall-plan/src/lap/graph.rs", &["STEPS"]),
            ("seamfall-plan/src/piece/foundation.rs", &["BUDGET", "MOST"]),
            ("seamfall-plan/src/piece/bends.rs", &["BUDGET"]),
            ("seamfall-plan/src/fall/search.rs", &["STEPS", "STEPS_OF_AN_EDIT"]),
            ("seamfall-plan/src/fall/redeal.rs", &["STEPS"]),
            ("seamfall-plan/src/turning.rs", &["TRIES"]),
            ("seamfall-class/src/remedy.rs", &["MOST_HOURS", "MOST_WEEKS"]),
        ],
    ),
    (
        "Lists for `seamfall cut`",
        "In ticks of the list's own grid, the coarsest on which all its sizes lie.",
        &[
            ("seamfall-cutting/src/job.rs", &[]),
            ("seamfall-cutting/src/nest/mod.rs", &["MOST_COPIES"]),
            ("seamfall-cutting/src/nest/shape.rs", &["MOST_CORNERS", "LARGEST"]),
        ],
    ),
    (
        "The store",
        "",
        &[
            ("seamfall-store/src/versions.rs", &["MOST_VERSIONS"]),
            ("seamfall-store/src/photos.rs", &["MOST_PHOTOS"]),
            ("seamfall-store/src/server/mod.rs", &["MOST"]),
        ],
    ),
];

/// Constants that are named like limits and are not met from outside: they shape a search or a drawing, whose answer says what was found.
#[cfg(test)]
const INSIDE: &[&str] = &[
    "seamfall-cutting/src/search/",
    "seamfall-cutting/src/bound/",
    "seamfall-cutting/src/nest/",
    "seamfall-solve/src/",
    "seamfall-draw/src/",
    "seamfall-trial/src/",
];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("xtask lies in the workspace").to_owned()
}

/// A constant with the first sentence above it.
struct Constant {
    name: String,
    value: String,
    what: String,
    is_public: bool,
}

/// The constants of a file, those in its modules too.
fn constants(file: &str) -> Vec<Constant> {
    let text = fs::read_to_string(root().join("crates").join(file)).unwrap_or_else(|error| panic!("{file}: {error}"));
    let parsed = syn::parse_file(&text).unwrap_or_else(|error| panic!("{file}: {error}"));
    let mut known = BTreeMap::new();
    let mut found = Vec::new();
    gather(&parsed.items, &mut known, &mut found);
    found
}

fn gather(items: &[Item], known: &mut BTreeMap<String, f64>, found: &mut Vec<Constant>) {
    for item in items {
        match item {
            Item::Const(one) => {
                let name = one.ident.to_string();
                let number = number(&one.expr, known);
                if let Some(number) = number {
                    known.insert(name.clone(), number);
                }
                let Some(value) = number.map(plain).or_else(|| worded(&one.expr, known)) else { continue };
                let is_public = matches!(one.vis, syn::Visibility::Public(_));
                found.push(Constant { name, value, what: doc(&one.attrs), is_public });
            }
            Item::Mod(inner) if !inner.attrs.iter().any(|attribute| attribute.path().is_ident("cfg")) => {
                if let Some((_, items)) = &inner.content {
                    gather(items, known, found);
                }
            }
            _ => {}
        }
    }
}

fn doc(attributes: &[syn::Attribute]) -> String {
    let lines = attributes.iter().filter_map(|attribute| match &attribute.meta {
        syn::Meta::NameValue(pair) if pair.path.is_ident("doc") => match &pair.value {
            Expr::Lit(lit) => match &lit.lit {
                Lit::Str(text) => Some(text.value().trim().to_owned()),
                _ => None,
            },
            _ => None,
        },
        _ => None,
    });
    lines.take_while(|line| !line.is_empty()).collect::<Vec<_>>().join(" ").replace('|', "\\|")
}

fn number(expr: &Expr, known: &BTreeMap<String, f64>) -> Option<f64> {
    match expr {
        Expr::Lit(lit) => match &lit.lit {
            Lit::Int(whole) => whole.base10_parse().ok(),
            Lit::Float(number) => number.base10_parse().ok(),
            _ => None,
        },
        Expr::Paren(inner) => number(&inner.expr, known),
        Expr::Path(path) => known.get(&path.path.segments.last()?.ident.to_string()).copied(),
        Expr::Binary(two) => {
            let (left, right) = (number(&two.left, known)?, number(&two.right, known)?);
            match two.op {
                syn::BinOp::Add(_) => Some(left + right),
                syn::BinOp::Sub(_) => Some(left - right),
                syn::BinOp::Mul(_) => Some(left * right),
                syn::BinOp::Div(_) => Some(left / right),
                syn::BinOp::Shl(_) => Some(left * right.exp2()),
                _ => None,
            }
        }
        _ => None,
    }
}

/// `4 to 60` for a pair, `300 s` for a duration, `all 6, of one 6` for several by name.
fn worded(expr: &Expr, known: &BTreeMap<String, f64>) -> Option<String> {
    match expr {
        Expr::Tuple(pair) if pair.elems.len() == 2 => {
            Some(format!("{} to {}", plain(number(&pair.elems[0], known)?), plain(number(&pair.elems[1], known)?)))
        }
        Expr::Struct(fields) => {
            let told = fields.fields.iter().filter_map(|field| {
                let syn::Member::Named(name) = &field.member else { return None };
                Some(format!("{} {}", name.to_string().replace('_', " "), plain(number(&field.expr, known)?)))
            });
            Some(told.collect::<Vec<_>>().join(", "))
        }
        Expr::Call(call) => {
            let Expr::Path(path) = &*call.func else { return None };
            let unit = match path.path.segments.last()?.ident.to_string().as_str() {
                "from_secs" => "s",
                "from_millis" => "ms",
                _ => return None,
            };
            Some(format!("{} {unit}", plain(number(call.args.first()?, known)?)))
        }
        _ => None,
    }
}

/// `2,097,152`, `0.125`.
fn plain(number: f64) -> String {
    if number.fract() != 0.0 {
        return format!("{number}");
    }
    let digits = format!("{number:.0}");
    let mut out = String::new();
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at) % 3 == 0 {
            out.push(',');
        }
        out.push(digit);
    }
    out
}

/// The whole page.
pub fn page() -> String {
    let mut page = String::from(
        "# Limits\n\nWhatever comes from outside is bounded, and whoever reaches a bound is told which, and what to do. This page lists them all, with the constant that \
         holds each; it is written by `cargo run -p xtask -- limits` from the sources, and a test holds it against them. How the bounds are tried: [fuzzing.md](fuzzing.md).\n",
    );
    for (heading, words, files) in GROUPS {
        let _ = write!(page, "\n## {heading}\n\n");
        if !words.is_empty() {
            let _ = write!(page, "{words}\n\n");
        }
        page.push_str("| limit | what | enforced in |\n| --- | --- | --- |\n");
        for (file, names) in *files {
            let all = constants(file);
            let listed: Vec<&Constant> = if names.is_empty() {
                all.iter().filter(|one| one.is_public).collect()
            } else {
                names
                    .iter()
                    .map(|name| all.iter().find(|one| one.name == *name).unwrap_or_else(|| panic!("{file} has no limit {name}")))
                    .collect()
            };
            for one in listed {
                let _ = writeln!(page, "| {} | {} | `{file}` `{}` |", one.value, one.what, one.name);
            }
        }
    }
    page
}

/// Writes the page.
pub fn write() {
    fs::write(root().join(PAGE), page()).expect("the page can be written");
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_page_is_what_the_sources_say() {
        let written = fs::read_to_string(root().join(PAGE)).expect("there is a page");
        assert!(written == page(), "run `cargo run -p xtask -- limits`");
    }

    #[test]
    fn nothing_that_is_named_like_a_limit_is_left_out() {
        let named = ["MOST", "LONGEST", "LARGEST", "WIDEST", "AT_ONCE", "REMEMBERED"];
        let page = page();
        let mut files = Vec::new();
        crate::house::sources(&root().join("crates"), &mut files);
        let mut seen = 0;
        for file in files.iter().filter(|file| file.iter().any(|part| part == "src")) {
            let short = file.strip_prefix(root().join("crates")).expect("it lies there").to_string_lossy().replace('\\', "/");
            if short.contains("/tests") || INSIDE.iter().any(|inside| short.starts_with(inside)) {
                continue;
            }
            for one in constants(&short) {
                if named.iter().any(|start| one.name.starts_with(start)) {
                    seen += 1;
                    assert!(
                        page.contains(&format!("`{short}` `{}`", one.name)),
                        "{short}: {} is not on the page of limits; add it in xtask/src/limits.rs",
                        one.name
                    );
                }
            }
        }
        assert!(seen > 20);
    }

    #[test]
    fn values_are_read_from_expressions() {
        let value = |text: &str| {
            let expr: Expr = syn::parse_str(text).expect("an expression");
            number(&expr, &BTreeMap::new()).map(plain).or_else(|| worded(&expr, &BTreeMap::new()))
        };
        for (text, told) in [
            ("2 * 1024 * 1024", "2,097,152"),
            ("1.0 / 8.0", "0.125"),
            ("(2.0, 72.0)", "2 to 72"),
            ("Duration::from_secs(300)", "300 s"),
            ("1 << 10", "1,024"),
        ] {
            assert_eq!(value(text).as_deref(), Some(told));
        }
    }
}
