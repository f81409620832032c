//! What an edit of a class did, in words: for the store, the undo button and the live region.

use crate::view::key_words;
use seamfall_model::class::Class;
use seamfall_model::{ClassEdit, Quilt};
use tr::tr;

/// `edit` as a short sentence without a full stop.
pub fn said(quilt: &Quilt, class: &Class, edit: &ClassEdit) -> String {
    let student = |number: usize| class.students.get(number).map_or_else(|| tr!("a student"), |student| student.name.clone());
    let cloth = |key: &str| {
        let all = quilt.cloths.iter().chain(&class.cloths);
        all.into_iter().find(|cloth| cloth.key == *key).map_or_else(|| key.to_owned(), |cloth| cloth.name.clone())
    };
    match edit {
        ClassEdit::Set { path, .. } => tr!("{place} changed", place = place(class, path)),
        ClassEdit::Remove { path } => tr!("{place} taken away", place = place(class, path)),
        ClassEdit::Size { student: number, .. } => tr!("size of {student}'s quilt changed", student = student(*number)),
        ClassEdit::Swap { student: number, from, to: Some(to) } => {
            tr!("{student}: {new} instead of {old}", student = student(*number), new = cloth(to), old = cloth(from))
        }
        ClassEdit::Swap { student: number, from, to: None } => {
            tr!("{student}: {cloth} again", student = student(*number), cloth = cloth(from))
        }
        ClassEdit::AddCloth { name, .. } => tr!("cloth {name} added", name),
        ClassEdit::AddStudent { name } => tr!("{name} added", name),
        ClassEdit::AddLesson { .. } => tr!("lesson {number} added", number = class.lessons.len() + 1),
        ClassEdit::Work { lesson, .. } => tr!("work of lesson {lesson} changed", lesson = lesson + 1),
        ClassEdit::AddItem { name, .. } => tr!("{name} added to the list", name),
        ClassEdit::ItemWork { item, .. } => {
            tr!(
                "what {item} is for changed",
                item = class.items.get(*item).map_or_else(|| tr!("an item"), |item| item.name.clone())
            )
        }
        ClassEdit::Without { .. } => tr!("days without a lesson changed"),
        ClassEdit::Rename { .. } => tr!("the name of the quilt followed"),
    }
}

/// What stands at a path: `Student 2, rows`.
fn place(class: &Class, path: &[String]) -> String {
    let number = path.get(1).and_then(|number| number.parse::<usize>().ok());
    let of = match (path.first().map(String::as_str), number) {
        (Some("student"), Some(number)) => class.students.get(number).map(|student| student.name.clone()),
        (Some("item"), Some(number)) => class.items.get(number).map(|item| item.name.clone()),
        (Some("lesson"), Some(number)) => Some(tr!("lesson {number}", number = number + 1)),
        _ => None,
    };
    match (of, path.get(2)) {
        (Some(of), Some(key)) => format!("{of}, {}", key_words::said(key)),
        (Some(of), None) => of,
        (None, _) => path.last().map_or_else(|| tr!("the class"), |key| key_words::said(key)),
    }
}
