//! The class of a quilt, worked out and remembered.
//!
//! In: the text of a class in the store, and its quilt. Out: the class with its plan, or what is wrong with the text. The last few are remembered for
//! speed only: the same two states give the same plan.

use crate::room::{Room, Worked};
use crate::trouble::Trouble;
use crate::wanted::while_wanted;
use seamfall_class::{ClassPlan, class_while};
use seamfall_cutting::Budget;
use seamfall_model::class::Class;
use seamfall_model::{ClassEdit, FileError, apply_class, read_class};
use seamfall_store::{QuiltId, Revision, StoredClass};
use std::collections::VecDeque;
use std::sync::{Arc, Mutex, PoisonError};

/// So many are remembered: two windows, and a step of undo.
const REMEMBERED: usize = 3;

/// A class with its quilt, as both stand.
pub struct WorkedClass {
    /// The quilt.
    pub worked: Arc<Worked>,
    /// The text and its state.
    pub stored: StoredClass,
    /// Read and planned; nothing where there is no class.
    pub planned: Option<Arc<Result<(Class, ClassPlan), FileError>>>,
}

/// Classes worked out.
#[derive(Default)]
pub struct Classes(Mutex<VecDeque<(Key, Arc<WorkedClass>)>>);

/// Quilt, its state, and that of its class.
type Key = (QuiltId, Revision, Revision);

impl Room {
    /// The class of a quilt as it stands.
    pub fn class(&self, id: QuiltId) -> Result<Arc<WorkedClass>, Trouble> {
        let worked = self.worked(id)?;
        let stored = self.store.class(id)?;
        let key = (id, worked.stored.revision, stored.revision);
        let all = self.classes.0.lock().unwrap_or_else(PoisonError::into_inner);
        let known = all.iter().find(|(other, _)| *other == key).map(|(_, class)| Arc::clone(class));
        drop(all);
        let planned = match known {
            // After an undo the same state has another redo.
            Some(class) if class.stored == stored => return Ok(class),
            Some(class) => class.planned.clone(),
            None if stored.text.is_empty() => None,
            None => Some(Arc::new(match read(&worked, &stored.text) {
                Ok((_, class)) => {
                    let plan = while_wanted(|wanted| class_while(&worked.quilt, &class, Budget::QUICK, wanted))?;
                    Ok((class, plan))
                }
                Err(error) => Err(error),
            })),
        };
        let class = Arc::new(WorkedClass { worked, stored, planned });
        let mut all = self.classes.0.lock().unwrap_or_else(PoisonError::into_inner);
        all.retain(|(other, _)| *other != key);
        all.push_front((key, Arc::clone(&class)));
        all.truncate(REMEMBERED);
        Ok(class)
    }
}

/// Reads a class; one of a quilt that has been given another name follows it there.
pub fn read(worked: &Worked, text: &str) -> Result<(String, Class), FileError> {
    let error = match read_class(text, &worked.quilt) {
        Ok(class) => return Ok((text.to_owned(), class)),
        Err(error) => error,
    };
    let follow = ClassEdit::Rename { quilt: worked.quilt.name.clone() };
    let followed = apply_class(text, &worked.quilt, &follow).map_err(|_| error)?;
    let class = read_class(&followed, &worked.quilt)?;
    Ok((followed, class))
}
