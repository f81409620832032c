//! What every question about a bed or an edge is asked with, and what is answered.
//!
//! In: sizes in the document's unit. Out: figures with their workings, what to do step by step, what to mind; or what cannot be
//! had with the nearest that can.

use seamfall_model::{Allowance, Length, Measure, Quilt, Rounding, Rule, Step, Term, Working, decimal};
use std::fmt;
use tr::tr;

/// What all sizes are reckoned with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ruler {
    /// The unit.
    pub measure: Measure,
    /// What cut sizes are rounded up to, and lengths shown in.
    pub step: Step,
    /// Seam allowance.
    pub allowance: Allowance,
}

impl Ruler {
    /// That of a quilt.
    #[must_use]
    pub fn of(quilt: &Quilt) -> Self {
        Self { measure: quilt.measure, step: quilt.step, allowance: quilt.allowance }
    }

    /// The usual step and allowance of a unit.
    #[must_use]
    pub fn usual(measure: Measure) -> Self {
        let step = if measure == Measure::Inch { Step::Eighth } else { Step::Millimetre };
        Self { measure, step, allowance: measure.usual_allowance() }
    }

    /// `inches`, or in a document in centimetres the other, which is as round there.
    pub(crate) fn size(self, inches: f64, centimetres: f64) -> Length {
        Length::new(if self.measure == Measure::Inch { inches } else { centimetres })
    }

    /// A length with its unit, as a quilter writes it.
    #[must_use]
    pub fn shown(self, length: Length) -> String {
        length.shown_with_unit(self.step)
    }

    pub(crate) fn seam(self) -> Term {
        seamfall_model::term(&tr!("allowance"), self.allowance.0.value())
    }

    /// An exact figure.
    pub(crate) fn exact(self, rule: impl Into<Rule>, what: &str, term: Term) -> Working {
        Working::new(rule.into(), what, term, Rounding::Exact)
    }

    /// A size to cut.
    pub(crate) fn cut(self, rule: impl Into<Rule>, what: &str, term: Term) -> Working {
        Working::new(rule.into(), what, term, Rounding::Up(self.step))
    }

    /// A count.
    pub(crate) fn whole(self, rule: impl Into<Rule>, what: &str, term: Term) -> Working {
        Working::new(rule.into(), what, term, Rounding::Whole)
    }
}

/// What cannot be had, and the nearest that can.
#[derive(Debug, Clone, PartialEq)]
pub struct Impossible {
    /// Why, in one sentence without a full stop.
    pub reason: String,
    /// What could be taken instead.
    pub nearest: String,
    /// That as a number, in the document's unit.
    pub value: f64,
}

impl Impossible {
    pub(crate) fn new(reason: impl Into<String>, nearest: impl Into<String>, value: f64) -> Self {
        Self { reason: reason.into(), nearest: nearest.into(), value }
    }
}

impl fmt::Display for Impossible {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.reason)
    }
}

impl std::error::Error for Impossible {}

/// A size must be more than nothing.
pub(crate) fn more_than_nothing(ruler: Ruler, what: &str, size: Length) -> Result<(), Impossible> {
    if size.value() > 0.0 {
        return Ok(());
    }
    let least = ruler.step.size();
    Err(Impossible::new(
        tr!("{what} is nothing", what),
        tr!("make it {least} or more", least = ruler.shown(Length::new(least))),
        least,
    ))
}

/// The answer to one question.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// What was asked: `bias`, `points`, ...
    pub question: &'static str,
    /// Figures by a stable name, in the order they are told.
    pub figures: Vec<Figure>,
    /// What to do, in order.
    pub steps: Vec<String>,
    /// What to mind.
    pub notes: Vec<String>,
}

/// One figure of an answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// Its stable name: `length`.
    pub name: &'static str,
    /// How it came about.
    pub working: Working,
}

impl Figure {
    /// As it is said: `292 in`, `26`, `511 g`.
    #[must_use]
    pub fn shown(&self, ruler: Ruler) -> String {
        match (self.name, self.working.rounding) {
            (name, _) if name.starts_with("remains") => format!("{} %", decimal(self.working.value * 100.0, 1)),
            ("weight", _) => format!("{} g", decimal(self.working.value, 0)),
            ("hours" | "sewing-down", _) => crate::words::hours(self.working.value),
            (name, _) if name.ends_with("-area") => format!("{} sq {}", decimal(self.working.value, 2), ruler.measure.sign()),
            // Tables round the side of a square up to a whole inch.
            (name, Rounding::Whole) if !name.starts_with("square") => decimal(self.working.value, 0),
            _ => ruler.shown(self.working.length()),
        }
    }
}

impl Answer {
    pub(crate) fn new<'a>(question: &'static str, figures: impl IntoIterator<Item = (&'static str, &'a Working)>) -> Self {
        let figures = figures.into_iter().map(|(name, working)| Figure { name, working: working.clone() });
        Self { question, figures: figures.collect(), steps: Vec::new(), notes: Vec::new() }
    }

    pub(crate) fn steps(mut self, steps: impl IntoIterator<Item = String>) -> Self {
        self.steps.extend(steps);
        self
    }

    pub(crate) fn note(mut self, note: impl Into<String>) -> Self {
        self.notes.push(note.into());
        self
    }

    /// What was asked, as a heading.
    #[must_use]
    pub fn title(&self) -> String {
        match self.question {
            "binding" => tr!("Binding"),
            "bias" => tr!("Continuous bias from a square"),
            "points" => tr!("Prairie points"),
            "scallops" => tr!("Scallops"),
            "waves" => tr!("Waves"),
            "ruffle" => tr!("Ruffle"),
            "piping" => tr!("Piping"),
            "facing" => tr!("Facing"),
            "sleeve" => tr!("Rod sleeve"),
            "enlarge" => tr!("A band to enlarge"),
            "cover" => tr!("Cover and insert"),
            "size" => tr!("The size it should have"),
            "drops" => tr!("How it hangs"),
            "corner" => tr!("A corner"),
            other => other.to_owned(),
        }
    }

    /// Its figures, what is the same for several sides once, with the number of them.
    #[must_use]
    pub fn each_once(&self) -> Vec<(&Figure, usize)> {
        let mut all: Vec<(&Figure, usize)> = Vec::new();
        for figure in &self.figures {
            match all.iter_mut().find(|(one, _)| *one == figure) {
                Some((_, count)) => *count += 1,
                None => all.push((figure, 1)),
            }
        }
        all
    }

    /// The figure called `name`, if it is in the answer.
    #[must_use]
    pub fn figure(&self, name: &str) -> Option<&Working> {
        self.figures.iter().find(|figure| figure.name == name).map(|figure| &figure.working)
    }
}
