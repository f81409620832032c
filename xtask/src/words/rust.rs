//! Messages in Rust sources: every `tr!(…)`, also inside other macros, but not in tests, and every constant that is marked with `mark!(…)`.

use super::Said;
use proc_macro2::{Group, TokenStream, TokenTree};
use syn::parse::{Parse, ParseStream};
use syn::{Expr, Ident, LitStr, Token};

/// The messages of a source.
pub fn messages(source: &str, file: &str) -> Vec<Said> {
    let tokens: TokenStream = source.parse().unwrap_or_else(|error| panic!("{file}: {error}"));
    let mut said = Vec::new();
    walk(tokens, file, &mut said);
    said
}

fn walk(tokens: TokenStream, file: &str, said: &mut Vec<Said>) {
    let tokens: Vec<TokenTree> = tokens.into_iter().collect();
    let mut at = 0;
    while at < tokens.len() {
        match &tokens[at..] {
            [TokenTree::Punct(mark), TokenTree::Group(group), ..]
                if mark.as_char() == '#' && group.stream().to_string().replace(' ', "") == "cfg(test)" =>
            {
                // What the attribute stands on ends with its body, or with a semicolon where it has none.
                let ends = |token: &TokenTree| match token {
                    TokenTree::Group(group) => group.delimiter() == proc_macro2::Delimiter::Brace,
                    TokenTree::Punct(mark) => mark.as_char() == ';',
                    _ => false,
                };
                at += tokens[at..].iter().position(ends).unwrap_or(tokens.len() - at);
            }
            [TokenTree::Ident(name), TokenTree::Punct(mark), TokenTree::Group(group), ..]
                if (name == "tr" || name == "mark") && mark.as_char() == '!' && !is_looked_up(group) =>
            {
                let line = name.span().start().line;
                let call: Call =
                    syn::parse2(group.stream()).unwrap_or_else(|error| panic!("{file}:{line}: no message can be read: {error}"));
                // The empty message is the catalogue's own header, as everywhere in gettext.
                if !call.0.one.is_empty() {
                    said.push(Said { file: file.to_owned(), line, ..call.0 });
                }
                // What is filled in may say something itself.
                walk(group.stream(), file, said);
                at += 2;
            }
            [TokenTree::Group(group), ..] => walk(group.stream(), file, said),
            _ => {}
        }
        at += 1;
    }
}

/// Whether it is the one place where marked words are looked up, `tr!(marked)`, which has no message of its own.
fn is_looked_up(group: &Group) -> bool {
    matches!(group.stream().into_iter().collect::<Vec<_>>()[..], [TokenTree::Ident(_)])
}

/// The inside of `tr!(…)`: `"context" => "one" | "many" % count, name = value, name`.
struct Call(Said);

impl Parse for Call {
    fn parse(input: ParseStream) -> syn::Result<Self> {
        let mut one = input.parse::<LitStr>()?.value();
        let mut context = None;
        if input.peek(Token![=>]) {
            input.parse::<Token![=>]>()?;
            context = Some(std::mem::replace(&mut one, input.parse::<LitStr>()?.value()));
        }
        let mut many = None;
        let mut given = Vec::new();
        if input.peek(Token![|]) {
            input.parse::<Token![|]>()?;
            many = Some(input.parse::<LitStr>()?.value());
            input.parse::<Token![%]>()?;
            input.parse::<Expr>()?;
            given.push("n".to_owned());
        }
        while !input.is_empty() {
            input.parse::<Token![,]>()?;
            if input.is_empty() {
                break;
            }
            if input.peek(Ident) && input.peek2(Token![=]) && !input.peek2(Token![==]) {
                given.push(input.parse::<Ident>()?.to_string());
                input.parse::<Token![=]>()?;
                input.parse::<Expr>()?;
            } else {
                given.push(match input.parse::<Expr>()? {
                    Expr::Path(path) => path.path.get_ident().map(ToString::to_string).unwrap_or_default(),
                    _ => String::new(),
                });
            }
        }
        Ok(Self(Said { context, one, many, given, file: String::new(), line: 0 }))
    }
}
