//! What an edit of a class did, in words: for the store, the undo button and the live region.

use seamfall_model::class::Class;
use seamfall_model::{ClassEdit, Quilt};

/// `edit` as a short sentence without a full stop.
pub fn said(quilt: &Quilt, class: &Class, edit: &ClassEdit) -> String {
    let student = |number: usize| class.students.get(number).map_or("a student", |student| student.name.as_str());
    let cloth = |key: &str| {
        let all = quilt.cloths.iter().chain(&class.cloths);
        all.into_iter().find(|cloth| cloth.key == *key).map_or_else(|| key.to_owned(), |cloth| cloth.name.clone())
    };
    match edit {
        ClassEdit::Set { path, .. } => format!("{} changed", place(class, path)),
        ClassEdit::Remove { path } => format!("{} taken away", place(class, path)),
        ClassEdit::Size { student: number, .. } => format!("size of {}'s quilt changed", student(*number)),
        ClassEdit::Swap { student: number, from, to: Some(to) } => {
            format!("{}: {} instead of {}", student(*number), cloth(to), cloth(from))
        }
        ClassEdit::Swap { student: number, from, to: None } => format!("{}: {} again", student(*number), cloth(from)),
        ClassEdit::AddCloth { name, .. } => format!("cloth {name} added"),
        ClassEdit::AddStudent { name } => format!("{name} added"),
        ClassEdit::AddLesson { .. } => format!("lesson {} added", class.lessons.len() + 1),
        ClassEdit::Work { lesson, .. } => format!("work of lesson {} changed", lesson + 1),
        ClassEdit::AddItem { name, .. } => format!("{name} added to the list"),
        ClassEdit::ItemWork { item, .. } => {
            format!("what {} is for changed", class.items.get(*item).map_or("an item", |item| item.name.as_str()))
        }
        ClassEdit::Without { .. } => "days without a lesson changed".to_owned(),
        ClassEdit::Rename { .. } => "the name of the quilt followed".to_owned(),
    }
}

/// What stands at a path: `Student 2, rows`.
fn place(class: &Class, path: &[String]) -> String {
    let number = path.get(1).and_then(|number| number.parse::<usize>().ok());
    let of = match (path.first().map(String::as_str), number) {
        (Some("student"), Some(number)) => class.students.get(number).map(|student| student.name.clone()),
        (Some("item"), Some(number)) => class.items.get(number).map(|item| item.name.clone()),
        (Some("lesson"), Some(number)) => Some(format!("lesson {}", number + 1)),
        _ => None,
    };
    match (of, path.get(2)) {
        (Some(of), Some(key)) => format!("{of}, {}", key.replace('-', " ")),
        (Some(of), None) => of,
        (None, _) => path.last().map_or("the class", String::as_str).replace('-', " "),
    }
}
