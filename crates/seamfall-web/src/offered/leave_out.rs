//! Leaves out of a page what is refused, and what held nothing else.
//!
//! In: a page or a part of one, as `maud` writes it: every element closed that is not void. Out: the same text but for what
//! is refused. A field goes on showing its value and is disabled; a figure to point at is a picture; anything else goes as a whole. What has lost
//! something and has nothing left but its heading goes too, and a label without its control. Drawings are passed over.

use html5gum::{DefaultEmitter, HtmlString, Span, StartTag, Token, Tokenizer};

/// Elements that have no end.
const VOID: [&str; 8] = ["br", "hr", "img", "input", "link", "meta", "source", "wbr"];

/// Elements that show what is chosen or typed.
const FIELDS: [&str; 4] = ["input", "select", "textarea", "fieldset"];

/// Elements that are about what stands beside them.
const HEADS: [&str; 7] = ["h2", "h3", "h4", "summary", "legend", "dt", "label"];

/// The page without what `may_be` refuses, which is asked with the name of an element and its attributes.
pub fn left_out(page: &str, may_be: impl Fn(&str, &[(&str, &str)]) -> bool) -> String {
    let mut emitter = DefaultEmitter::<usize>::new_with_span();
    emitter.naively_switch_states(true);
    let tokens = Tokenizer::new_with_emitter(page, emitter).flatten();
    let mut rest = Rest { page, tokens, may_be, out: String::with_capacity(page.len()) };
    rest.inside(0, false);
    rest.out
}

struct Rest<'a, T, F> {
    page: &'a str,
    /// What was not read yet.
    tokens: T,
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

impl<T: Iterator<Item = Token<usize>>, F: Fn(&str, &[(&str, &str)]) -> bool> Rest<'_, T, F> {
    /// Writes out what stands before the end of an element, `depth` elements deep; its fields are disabled where the element is a form that is refused.
    fn inside(&mut self, depth: usize, disabled: bool) -> Inside {
        let mut all = Inside::default();
        while let Some(token) = self.tokens.next() {
            match token {
                Token::StartTag(tag) => {
                    let one = self.element(&tag, depth, disabled);
                    all.lost |= one.lost;
                    all.left |= one.left;
                    all.controls |= one.controls;
                    all.refused |= one.refused;
                }
                // Who began it writes it.
                Token::EndTag(_) if depth > 0 => return all,
                Token::EndTag(tag) => self.write(tag.span),
                Token::String(text) => {
                    all.left |= text_of(&text).chars().any(char::is_alphanumeric);
                    self.write(text.span);
                }
                Token::Comment(comment) => self.write(comment.span),
                Token::Doctype(doctype) => self.write(doctype.span),
                Token::Error(_) => {}
            }
        }
        all
    }

    /// Writes a stretch of the page as it is.
    fn write(&mut self, stretch: Span<usize>) {
        self.out.push_str(&self.page[stretch.start..stretch.end]);
    }

    fn element(&mut self, tag: &StartTag<usize>, depth: usize, disabled: bool) -> Inside {
        let name = text_of(&tag.name);
        let attributes: Vec<(&str, &str)> = tag.attributes.iter().map(|(name, value)| (text_of(name), text_of(value))).collect();
        let has = |wanted: &str| attributes.iter().find(|(name, _)| *name == wanted).map(|(_, value)| *value);
        let is_void = VOID.contains(&name) || tag.self_closing;
        let is_field = FIELDS.contains(&name) && has("type") != Some("file");
        let refused = !(self.may_be)(name, &attributes);
        let shows = is_field || name == "option" || (name == "form" && has("data-at-once").is_some());
        let start = self.out.len();
        if name == "svg" {
            self.drawing(tag, refused);
            return Inside { left: true, ..Inside::default() };
        }
        self.write(tag.span);
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

    /// Writes a drawing to its end, as it is but for what makes it a control.
    fn drawing(&mut self, tag: &StartTag<usize>, refused: bool) {
        let control = tag.attributes.get(b"data-motif".as_slice()).filter(|_| refused).map(|attribute| attribute.span);
        let from = control.map_or(tag.span.start, |control| {
            self.write(Span { start: tag.span.start, end: control.start - 1 });
            control.end
        });
        let (mut end, mut open) = (tag.span.end, usize::from(!tag.self_closing));
        while open > 0 {
            match self.tokens.next() {
                Some(Token::StartTag(tag)) if text_of(&tag.name) == "svg" && !tag.self_closing => open += 1,
                Some(Token::EndTag(tag)) => {
                    open -= usize::from(text_of(&tag.name) == "svg");
                    end = tag.span.end;
                }
                Some(_) => {}
                None => break,
            }
        }
        self.write(Span { start: from, end });
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

/// What was read, which comes out of a text.
fn text_of(read: &HtmlString) -> &str {
    std::str::from_utf8(read).unwrap_or_default()
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
