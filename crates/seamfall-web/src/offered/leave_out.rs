//! Leaves out of a page what is refused, and what held nothing else.
//!
//! In: a page or a part of one, as `maud` writes it: attributes in double quotes, every element closed that is not void. Out: the same text but for what
//! is refused. A field goes on showing its value and is disabled; a figure to point at is a picture; anything else goes as a whole. What has lost
//! something and has nothing left but its heading goes too, and a label without its control. Drawings are passed over.

/// Elements that have no end.
const VOID: [&str; 8] = ["br", "hr", "img", "input", "link", "meta", "source", "wbr"];

/// Elements that show what is chosen or typed.
const FIELDS: [&str; 4] = ["input", "select", "textarea", "fieldset"];

/// Elements that are about what stands beside them.
const HEADS: [&str; 7] = ["h2", "h3", "h4", "summary", "legend", "dt", "label"];

/// The page without what `may_be` refuses, which is asked with the name of an element and its attributes.
pub fn left_out(page: &str, may_be: impl Fn(&str, &[(&str, &str)]) -> bool) -> String {
    let mut rest = Rest { page, may_be, out: String::with_capacity(page.len()) };
    rest.inside(0, false);
    rest.out
}

struct Rest<'a, F> {
    /// What was not read yet.
    page: &'a str,
    may_be: F,
    out: String,
}

/// What became of the inside of an element.
#[derive(Default, Clone, Copy)]
struct Inside {
    /// Something was left out.
    lost: bool,
    /// Something is left besides headings.
    left: bool,
    /// A control is left.
    controls: bool,
    /// A choice in it is refused.
    refused: bool,
}

impl<'a, F: Fn(&str, &[(&str, &str)]) -> bool> Rest<'a, F> {
    /// Writes out what stands before the end of an element, `depth` elements deep; its fields are disabled where the element is a form that is refused.
    fn inside(&mut self, depth: usize, disabled: bool) -> Inside {
        let mut all = Inside::default();
        while let Some(start) = self.page.find('<') {
            let (text, from) = self.page.split_at(start);
            all.left |= text.chars().any(char::is_alphanumeric);
            self.out.push_str(text);
            let end = end_of_tag(from);
            let (tag, after) = from.split_at(end);
            self.page = after;
            if tag.starts_with("</") {
                if depth == 0 {
                    self.out.push_str(tag);
                    continue;
                }
                // Who began it writes it.
                return all;
            }
            if tag.starts_with("<!") {
                self.out.push_str(tag);
                continue;
            }
            let one = self.element(tag, depth, disabled);
            all.lost |= one.lost;
            all.left |= one.left;
            all.controls |= one.controls;
            all.refused |= one.refused;
        }
        all.left |= self.page.chars().any(char::is_alphanumeric);
        self.out.push_str(self.page);
        self.page = "";
        all
    }

    fn element(&mut self, tag: &'a str, depth: usize, disabled: bool) -> Inside {
        let (name, attributes) = read(tag);
        let has = |wanted: &str| attributes.iter().find(|(name, _)| *name == wanted).map(|(_, value)| *value);
        let is_void = VOID.contains(&name) || tag.ends_with("/>");
        let is_field = FIELDS.contains(&name) && has("type") != Some("file");
        let refused = !(self.may_be)(name, &attributes);
        let shows = is_field || name == "option" || (name == "form" && has("data-at-once").is_some());
        let start = self.out.len();
        if name == "svg" {
            let drawing = self.drawing();
            self.out.push_str(&if refused { without(tag, "data-motif") } else { tag.to_owned() });
            self.out.push_str(drawing);
            return Inside { left: true, ..Inside::default() };
        }
        self.out.push_str(tag);
        let shut = is_field && name != "fieldset" && (refused || disabled) && has("type") != Some("hidden");
        if is_void {
            if refused && !shows {
                self.out.truncate(start);
                return Inside { lost: true, ..Inside::default() };
            }
            if shut {
                self.disable(start, name, &attributes);
            }
            return Inside { left: name != "br", controls: name == "input", ..Inside::default() };
        }
        let mut inside = self.inside(depth + 1, disabled || (refused && name == "form"));
        if (refused && !shows) || is_left_empty(name, inside) {
            self.out.truncate(start);
            return Inside { lost: true, ..Inside::default() };
        }
        if shut || (name == "fieldset" && refused) || (name == "select" && inside.refused) {
            self.disable(start, name, &attributes);
        }
        self.out.push_str("</");
        self.out.push_str(name);
        self.out.push('>');
        inside.refused = name == "option" && refused;
        inside.controls |= matches!(name, "select" | "textarea" | "button" | "a");
        inside.left &= !HEADS.contains(&name) || inside.controls;
        inside
    }

    /// Reads to the end of a drawing, its end with it.
    fn drawing(&mut self) -> &'a str {
        let (mut depth, mut at) = (1_usize, 0);
        while depth > 0 {
            let Some(next) = self.page[at..].find('<').map(|next| at + next) else { break };
            let tag = &self.page[next..];
            let end = next + end_of_tag(tag);
            if tag.starts_with("</svg") {
                depth -= 1;
            } else if tag.starts_with("<svg") && !self.page[..end].ends_with("/>") {
                depth += 1;
            }
            at = end;
        }
        let (drawing, after) = self.page.split_at(at);
        self.page = after;
        drawing
    }

    fn disable(&mut self, start: usize, name: &str, attributes: &[(&str, &str)]) {
        if !attributes.iter().any(|(name, _)| *name == "disabled") {
            self.out.insert_str(start + 1 + name.len(), " disabled");
        }
    }
}

/// Whether an element has lost what it was there for.
fn is_left_empty(name: &str, inside: Inside) -> bool {
    inside.lost
        && if name == "label" { !inside.controls } else { !inside.left && !matches!(name, "body" | "main" | "html" | "head") }
}

/// Where the tag ends that a text begins with; a `>` in a value does not end it.
fn end_of_tag(text: &str) -> usize {
    let mut quote = None;
    for (at, letter) in text.bytes().enumerate() {
        match (quote, letter) {
            (None, b'>') => return at + 1,
            (None, b'"' | b'\'') => quote = Some(letter),
            (Some(open), _) if open == letter => quote = None,
            _ => {}
        }
    }
    text.len()
}

/// The name of a tag's element, and its attributes with their values.
fn read(tag: &str) -> (&str, Vec<(&str, &str)>) {
    let inside = tag.trim_start_matches('<').trim_end_matches('>').trim_end_matches('/');
    let (name, mut rest) = inside.split_once(char::is_whitespace).unwrap_or((inside, ""));
    let mut attributes = Vec::new();
    loop {
        rest = rest.trim_start();
        let end = rest.find(|letter: char| letter == '=' || letter.is_whitespace()).unwrap_or(rest.len());
        if end == 0 {
            return (name, attributes);
        }
        let (attribute, after) = rest.split_at(end);
        let quoted = after.strip_prefix('=').and_then(|after| {
            let quote = after.chars().next().filter(|letter| matches!(letter, '"' | '\''))?;
            after[1..].split_once(quote)
        });
        let (value, after) = quoted.unwrap_or(("", after.trim_start_matches('=')));
        attributes.push((attribute, value));
        rest = after;
    }
}

/// A tag without one of its attributes.
fn without(tag: &str, attribute: &str) -> String {
    let (name, attributes) = read(tag);
    let kept = attributes.iter().filter(|(name, _)| *name != attribute);
    let kept: String = kept.map(|(name, value)| format!(" {name}=\"{value}\"")).collect();
    format!("<{name}{kept}>")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What is left where everything with `data-edit` is refused.
    fn left(page: &str) -> String {
        left_out(page, |_, attributes| attributes.iter().all(|(name, _)| *name != "data-edit"))
    }

    #[test]
    fn what_is_not_refused_stays_byte_for_byte() {
        let page = concat!(
            "<!DOCTYPE html><html lang=\"en\"><body><p title=\"a > b\">1 &lt; 2<br>é</p><input disabled>",
            "<svg viewBox='0 0 1 1'><svg><path d=\"M0 0\"/></svg><g/></svg><p></p></body></html>"
        );
        assert_eq!(left(page), page);
    }

    #[test]
    fn fields_show_their_values_and_cannot_be_changed() {
        for (before, after) in [
            (
                r#"<label>W <input value="4" data-edit="{}"></label>"#,
                r#"<label>W <input disabled value="4" data-edit="{}"></label>"#,
            ),
            (
                r"<select><option data-edit='{}'>a</option><option selected data-edit='{}'>b</option></select>",
                r"<select disabled><option data-edit='{}'>a</option><option selected data-edit='{}'>b</option></select>",
            ),
            (
                r#"<form data-edit="{}" data-at-once><input name="a"><input disabled name="b"></form>"#,
                r#"<form data-edit="{}" data-at-once><input disabled name="a"><input disabled name="b"></form>"#,
            ),
            (r#"<fieldset data-edit="{}">x<input></fieldset>"#, r#"<fieldset disabled data-edit="{}">x<input></fieldset>"#),
        ] {
            assert_eq!(left(before), after);
        }
    }

    #[test]
    fn what_only_does_something_goes_and_so_does_what_held_nothing_else() {
        for (before, after) in [
            (r#"<p><button data-edit="{}">Turn</button></p>x"#, "x"),
            (r#"<p>Here: <button data-edit="{}">Turn</button></p>"#, "<p>Here: </p>"),
            (r#"<section><h3>Add</h3><form data-edit="{}"><input name="a"><button>Add</button></form></section>"#, ""),
            (r#"<label><span>File</span><input type="file" data-edit="{}"></label>"#, ""),
            (r#"<details><summary><b>More</b></summary><button data-edit="{}">x</button></details>"#, ""),
            (r#"<ul><li>a</li><li><button data-edit="{}">x</button></li></ul>"#, "<ul><li>a</li></ul>"),
            (r#"<svg class="s" data-edit="{}" data-motif="{}"><path/></svg>"#, r#"<svg class="s" data-edit="{}"><path/></svg>"#),
            (r#"<div id="said"></div><button data-edit="{}">x</button>"#, r#"<div id="said"></div>"#),
        ] {
            assert_eq!(left(before), after);
        }
    }
}
