//! Text in drawings: escaped, sized, and readable on whatever lies below.

use crate::page::number;
use seamfall_geom::Point;
use std::fmt::Write;

/// Where text stands in relation to its point; always centred in height.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Anchor {
    Start,
    Middle,
}

/// A line of text, at a point of the sheet.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Label<'a> {
    pub text: &'a str,
    pub at: Point,
    pub size: f64,
    pub anchor: Anchor,
    pub bold: bool,
    /// Black on a white halo, or white on a black one; no halo in [`Tone::Plain`].
    pub tone: Tone,
}

/// What a label stands on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Tone {
    /// White paper.
    Plain,
    /// Something light.
    OnLight,
    /// Something dark.
    OnDark,
}

impl Label<'_> {
    /// Writes the element. `extra` is raw attributes, starting with a space.
    pub fn write(&self, out: &mut String, extra: &str) {
        // Height of capitals is about 0.7 of the size: half of it centres them, whatever a reader makes of baselines.
        let _ = write!(
            out,
            r#"<text x="{}" y="{}" font-size="{}""#,
            number(self.at.x),
            number(self.at.y + 0.35 * self.size),
            number(self.size)
        );
        out.push_str(match self.anchor {
            Anchor::Start => "",
            Anchor::Middle => r#" text-anchor="middle""#,
        });
        if self.bold {
            out.push_str(r#" font-weight="bold""#);
        }
        let (fill, halo) = match self.tone {
            Tone::Plain => ("#000", None),
            Tone::OnLight => ("#000", Some("#fff")),
            Tone::OnDark => ("#fff", Some("#000")),
        };
        let _ = write!(out, r#" fill="{fill}""#);
        match halo {
            Some(halo) => {
                let width = number(self.size * 0.18);
                let _ = write!(
                    out,
                    r#" stroke="{halo}" stroke-opacity="1" stroke-width="{width}" stroke-linejoin="round" paint-order="stroke""#
                );
            }
            None => out.push_str(r#" stroke="none""#),
        }
        let _ = write!(out, "{extra}>{}</text>", Escaped(self.text));
    }
}

/// About how wide `text` is when set at `size`. Fonts differ; 0.6 of the size a letter is on the safe side for most.
pub(crate) fn width(text: &str, size: f64) -> f64 {
    let letters = u32::try_from(text.chars().count()).unwrap_or(u32::MAX);
    f64::from(letters) * 0.6 * size
}

/// Text for XML, in content and in attributes. What XML 1.0 cannot hold (section 2.2) is shown as U+FFFD.
pub(crate) struct Escaped<'a>(pub &'a str);

impl std::fmt::Display for Escaped<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        for c in self.0.chars() {
            match c {
                '&' => f.write_str("&amp;")?,
                '<' => f.write_str("&lt;")?,
                '>' => f.write_str("&gt;")?,
                '"' => f.write_str("&quot;")?,
                '\'' => f.write_str("&#39;")?,
                '\t' | '\n' | '\r' => f.write_char(' ')?,
                '\0'..='\u{1f}' | '\u{fffe}' | '\u{ffff}' => f.write_char('\u{fffd}')?,
                _ => f.write_char(c)?,
            }
        }
        Ok(())
    }
}
