//! Messages in the templates of the book: every `say("…", name: value)`.

use super::Said;

/// The messages of a template.
pub fn messages(template: &str, file: &str) -> Vec<Said> {
    let mut said = Vec::new();
    for (at, call) in template.match_indices("say(\"") {
        let rest = &template[at + call.len()..];
        let Some((one, rest)) = rest.split_once('"') else { continue };
        said.push(Said {
            context: None,
            one: one.to_owned(),
            many: None,
            given: names(rest),
            file: file.to_owned(),
            line: template[..at].matches('\n').count() + 1,
        });
    }
    said
}

/// Names in what follows a message: `, page: counter(page).display(), pages: [5])` gives `page` and `pages`.
fn names(rest: &str) -> Vec<String> {
    let (mut depth, mut names, mut word, mut quoted) = (0, Vec::new(), String::new(), false);
    for letter in rest.chars() {
        if letter == '"' {
            quoted = !quoted;
        }
        match letter {
            _ if quoted => {}
            '(' | '[' | '{' => depth += 1,
            ')' if depth == 0 => break,
            ')' | ']' | '}' => depth -= 1,
            ':' if depth == 0 => names.push(std::mem::take(&mut word)),
            letter if depth == 0 && (letter.is_alphanumeric() || letter == '_') => {
                word.push(letter);
                continue;
            }
            _ => {}
        }
        word.clear();
    }
    names
}

#[test]
fn messages_of_a_template_are_found_with_what_is_given() {
    let said = messages("= #say(\"Units\")\n#small(say(\"{a} of {b}\", a: f(c: 1), b: str(x.len())))", "book.typ");
    let seen: Vec<_> = said.iter().map(|it| (it.one.as_str(), it.given.join(" "), it.line)).collect();
    assert_eq!(seen, [("Units", String::new(), 1), ("{a} of {b}", "a b".to_owned(), 2)]);
}
