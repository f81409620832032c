//! What single questions have in common: sizes as people type them, and an answer in words.
//!
//! In: text. Out: lengths and sizes, or how to write them; the figures, steps and notes of an answer, line by line.

use crate::failure::Failure;
use seamfall_geom::Vec2;
use seamfall_model::{Length, Measure, parse_length};
use seamfall_plan::answer::{Answer, Ruler};
use std::fmt::Write;
use tr::tr;

/// What is typed is read in this measure.
#[derive(Debug, Clone, Copy)]
pub struct Asked {
    /// Unit, step and allowance.
    pub ruler: Ruler,
}

impl Asked {
    /// In inches, or in centimetres.
    pub fn new(cm: bool) -> Self {
        Self { ruler: Ruler::usual(if cm { Measure::Centimetre } else { Measure::Inch }) }
    }

    /// A length.
    pub fn length(&self, typed: &str) -> Result<Length, Failure> {
        parse_length(typed, self.ruler.measure).map_err(|error| Failure::Length(error.to_string()))
    }

    /// A length that may be left out.
    pub fn maybe(&self, typed: Option<&String>) -> Result<Option<Length>, Failure> {
        typed.map(|typed| self.length(typed)).transpose()
    }

    /// What was typed, or what is usual in inches and in centimetres.
    pub fn or(&self, typed: Option<&String>, [inches, centimetres]: [f64; 2]) -> Result<Length, Failure> {
        let usual = if self.ruler.measure == Measure::Inch { inches } else { centimetres };
        Ok(self.maybe(typed)?.unwrap_or(Length::new(usual)))
    }

    /// Width and height: `60 x 80`.
    pub fn size(&self, typed: &str) -> Result<Vec2, Failure> {
        let Some((width, height)) = typed.split_once(['x', '×', 'X']) else {
            return Err(Failure::Length(tr!("`{typed}` is not a size; write it like \"60 x 80\"", typed)));
        };
        Ok(Vec2::new(self.length(width)?.value(), self.length(height)?.value()))
    }

    /// Figures, steps and notes.
    pub fn words(&self, answer: &Answer) -> String {
        let mut text = format!("{} ({})\n", answer.question, self.ruler.measure.sign());
        for figure in &answer.figures {
            say(&mut text, format_args!("  {}", figure.working.line()));
        }
        for (number, step) in answer.steps.iter().enumerate() {
            say(&mut text, format_args!("{:>3}. {step}", number + 1));
        }
        for note in &answer.notes {
            say(&mut text, format_args!("  {}", tr!("note: {note}", note)));
        }
        text
    }
}

/// Adds a line.
pub fn say(text: &mut String, what: std::fmt::Arguments) {
    writeln!(text, "{what}").expect("writing to a string cannot fail");
}
