//! Versions of a quilt side by side: how they look and what each costs, and the way back to one.

use super::{guild, page};
use crate::room::Worked;
use maud::{Markup, html};
use seamfall_plan::costs::Cost;
use seamfall_store::Version;
use tr::tr;

/// A version that is laid beside others.
pub struct Column {
    /// Its number; 0 for the quilt as it stands.
    pub version: i64,
    /// Its name; nothing for the quilt as it stands.
    pub name: Option<String>,
    /// What it costs.
    pub costs: Vec<Cost>,
}

impl Column {
    fn name(&self) -> String {
        self.name.clone().unwrap_or_else(|| tr!("As it stands"))
    }

    fn cost(&self, key: &str) -> Option<&Cost> {
        self.costs.iter().find(|cost| cost.key == key)
    }
}

/// The page.
pub fn page(worked: &Worked, kept: &[Version], columns: &[Column]) -> Markup {
    let quilt = &worked.quilt;
    let base = format!("/q/{}", worked.id);
    let here = format!("{base}/versions");
    let drawing = |version: i64| match version {
        0 => format!("{base}/quilt.svg?{}", worked.stored.revision.0),
        version => format!("{here}/{version}/quilt.svg"),
    };
    let body = html! {
        body.plain.versions {
            main {
                p.back { a href=(base) { (tr!("Back to {name}", name = quilt.name)) } }
                (guild::whose())
                h1 { (tr!("Versions of {name}", name = quilt.name)) }
                div #message role="alert" hidden {}
                form.keep data-send=(here) {
                    label.field for="version-name" { span { (tr!("Keep the quilt as it stands, under the name")) }
                        input #version-name name="name" required maxlength="80" autocomplete="off" placeholder=(tr!("calm, with a wider band")); }
                    button type="submit" { (tr!("Keep it")) }
                }
                @if kept.is_empty() {
                    p.quiet { (tr!("None is kept yet. Keep one before you try something bold: you can lay the two side by side, and go back.")) }
                } @else {
                    h2 { (tr!("Side by side")) }
                    (choice(&here, kept, columns))
                }
                (compared(columns, &drawing))
                p.quiet { (tr!("Cloth is reckoned in plain strips in every version; the stage of cutting and the book search for less. What is sewn already is told by the ledger, whatever the version.")) }
                @if !kept.is_empty() {
                    h2 { (tr!("Kept")) }
                    ul.kept { @for version in kept { li { (card(&here, worked, version, &drawing(version.id.0))) } } }
                }
            }
        }
    };
    page::plain(&tr!("Versions of {name}", name = quilt.name), &body)
}

/// Which versions are laid side by side.
fn choice(here: &str, kept: &[Version], columns: &[Column]) -> Markup {
    let is_beside = |number: i64| columns.iter().any(|column| column.version == number);
    html! {
        form.beside action=(here) data-several="3" {
            fieldset {
                legend { (tr!("Two or three of these")) }
                label.switch { input type="checkbox" name="with" value="0" checked[is_beside(0)]; " " (tr!("As it stands")) }
                @for version in kept {
                    label.switch { input type="checkbox" name="with" value=(version.id.0) checked[is_beside(version.id.0)]; " " (version.name) }
                }
            }
            button type="submit" { (tr!("Lay them side by side")) }
        }
    }
}

/// Drawings and costs, a column a version. More and less are told against the first column, in words.
fn compared(columns: &[Column], drawing: &impl Fn(i64) -> String) -> Markup {
    let mut keys: Vec<&Cost> = Vec::new();
    for cost in columns.iter().flat_map(|column| &column.costs) {
        if !keys.iter().any(|known| known.key == cost.key) {
            keys.push(cost);
        }
    }
    html! {
        div.wide tabindex="0" role="region" aria-label=(tr!("Versions side by side")) {
            table.compared {
                thead {
                    tr { td {} @for column in columns { th scope="col" { (column.name()) } } }
                    tr.drawn { td {} @for column in columns { td { img src=(drawing(column.version)) alt=(tr!("The quilt, {column}", column = column.name())); } } }
                }
                tbody { @for row in keys { tr {
                    th scope="row" { (row.what) }
                    @for (number, column) in columns.iter().enumerate() {
                        td { @match column.cost(&row.key) {
                            None => span.quiet { (tr!("none")) },
                            Some(cost) => { (cost.shown) @if number > 0 { (against(columns[0].cost(&row.key), cost)) } },
                        } }
                    }
                } } }
            }
        }
    }
}

/// Whether a figure is more or less than that of the first column.
fn against(first: Option<&Cost>, cost: &Cost) -> Markup {
    let (Some(first), Some(value)) = (first.and_then(|first| first.value), cost.value) else {
        return html! {};
    };
    let near = 1e-6 * first.abs().max(1.0);
    html! {
        @if value > first + near { " " span.more { (tr!("▲ more")) } }
        @if value < first - near { " " span.less { (tr!("▼ less")) } }
    }
}

fn card(here: &str, worked: &Worked, version: &Version, drawing: &str) -> Markup {
    let to = |what: &str| format!("{here}/{}/{what}", version.id.0);
    let id = |what: &str| format!("version-{}-{what}", version.id.0);
    let stands = version.text == worked.stored.text;
    html! {
        img src=(drawing) alt=(tr!("The quilt, {version}", version = version.name)) loading="lazy";
        div {
            form.keep data-send=(to("name")) {
                label.field for=(id("name")) { span { (tr!("Name")) } input id=(id("name")) name="name" value=(version.name) required maxlength="80" autocomplete="off"; }
                button type="submit" { (tr!("Rename")) }
            }
            div.actions {
                @if stands {
                    p.quiet { (tr!("The quilt stands as this one.")) }
                } @else {
                    button type="button" id=(id("take")) data-send=(to("take")) data-body={ "{\"revision\":" (worked.stored.revision.0) "}" } { (tr!("Go back to it")) }
                }
                a href=(to("file")) download { (tr!("Save as file")) }
                button type="button" data-send=(to("drop")) data-confirm=(tr!("Let go of the version {version}? The quilt stays as it stands.", version = version.name)) { (tr!("Let go of it")) }
            }
        }
    }
}
