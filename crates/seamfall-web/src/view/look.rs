//! How a cloth looks: its figure or its photograph, at true scale, and the value that follows from it.

use super::fields::{self, set};
use super::words;
use crate::photos::Photos;
use maud::{Markup, PreEscaped, html};
use seamfall_draw::swatch_svg;
use seamfall_model::{
    ClothId, Edit, Figure, FigureKind, Length, Look, Measure, NewLook, Photo, Quilt, Scalar, decimal, lightness,
};
use tr::tr;

/// The look of a cloth. What is linked lies below `base`.
pub fn section(base: &str, quilt: &Quilt, id: ClothId, photos: &Photos) -> Markup {
    let cloth = &quilt.cloths[id.0];
    let key = cloth.key.as_str();
    let named = |what: &str| format!("cloth-{key}-look-{what}");
    html! {
        h3 { (tr!("How it looks")) }
        @if let Some(drawn) = swatch_svg(quilt, id.0, &photos.pictures, seen(quilt)) {
            figure.cloth-look { (PreEscaped(drawn)) figcaption.quiet { (tr!("{size} of it, as it lies", size = size_of(quilt, seen(quilt).map(Length::new)))) } }
        }
        div.fields {
            (fields::choice(&named("kind"), &tr!("Pattern"), &kinds(quilt, key, cloth.look.as_ref())))
            @if let Some(Look::Figure(figure)) = &cloth.look { (figure_fields(quilt, key, figure)) }
        }
        @if let Some(Look::Photo(photo)) = &cloth.look { (photo_fields(base, quilt, id, photo, photos)) }
        form.fields #(named("bring")) data-photo={ (base) "cloth/" (key) "/photo" } {
            label.field.whole for=(named("file")) { span { (tr!("Photograph of the cloth, JPEG, PNG or HEIC, its upper edge across the cloth")) }
                input id=(named("file")) name="file" type="file" accept="image/jpeg,image/png,image/heic,image/heif,.heic,.heif" required; }
            label.field for=(named("across")) { span { (tr!("How wide is the photographed piece really?")) }
                input id=(named("across")) name="width" type="text" required autocomplete="off" placeholder=(usual_width(quilt)); }
            button type="submit" { (tr!("Bring it in")) }
        }
        p.quiet data-for="edit" { (tr!("Lay a ruler along the lower edge when you take it. It is made smaller, and what the camera noted with it, such as the place, is thrown away.")) }
    }
}

/// Across and along of the piece that is shown.
fn seen(quilt: &Quilt) -> [f64; 2] {
    if quilt.measure == Measure::Inch { [12.0, 6.0] } else { [30.0, 15.0] }
}

fn usual_width(quilt: &Quilt) -> &'static str {
    if quilt.measure == Measure::Inch { "9 1/2" } else { "24" }
}

fn size_of(quilt: &Quilt, sides: [Length; 2]) -> String {
    let [across, along] = sides.map(|side| side.shown(quilt.step));
    format!("{across} × {along} {}", quilt.measure.sign())
}

fn kinds(quilt: &Quilt, key: &str, look: Option<&Look>) -> Vec<(String, String, bool)> {
    let cloth = |look: Option<NewLook>| fields::json(&Edit::Look { cloth: key.to_owned(), look });
    let mut all = vec![(tr!("plain"), cloth(None), look.is_none())];
    let there = if let Some(Look::Figure(figure)) = look { Some(figure) } else { None };
    for kind in FigureKind::ALL {
        let colour = there.map_or_else(|| contrast(quilt, key), |figure| figure.colour.hex());
        let new = NewLook { kind: kind.word().to_owned(), with: vec![("colour".to_owned(), Scalar::Text(colour))] };
        all.push((figure_word(kind), cloth(Some(new)), there.is_some_and(|figure| figure.kind == kind)));
    }
    if let Some(Look::Photo(_)) = look {
        all.push((tr!("photograph"), String::new(), true));
    }
    all
}

/// A colour that is seen on the cloth's own.
fn contrast(quilt: &Quilt, key: &str) -> String {
    let light = quilt.cloths.iter().find(|cloth| cloth.key == key).map_or(0.0, |cloth| cloth.colour.luminance());
    if light < 0.3 { "#f6f0e0" } else { "#30384a" }.to_owned()
}

fn figure_fields(quilt: &Quilt, key: &str, figure: &Figure) -> Markup {
    let id = |what: &str| format!("cloth-{key}-look-{what}");
    let path = |what: &'static str| ["cloth", key, "look", what];
    let (size, colour) = match figure.kind {
        FigureKind::Stripes => (tr!("Width of a stripe"), tr!("Colour of the stripes")),
        FigureKind::Checks => (tr!("Width of a check"), tr!("Colour of the checks")),
        FigureKind::Dots => (tr!("Across a dot"), tr!("Colour of the dots")),
    };
    html! {
        label.field for=(id("colour")) { span { (colour) }
            input id=(id("colour")) type="color" value=(figure.colour.hex()) data-edit=(set(&path("colour"))); }
        (fields::text(&id("size"), &size, &words::typed(quilt, figure.size), &set(&path("size"))))
        (fields::text(&id("repeat"), &tr!("From one to the next"), &words::typed(quilt, figure.repeat), &set(&path("repeat"))))
        label.field for=(id("angle")) { span { (tr!("Turned to the left, degrees")) }
            input id=(id("angle")) type="number" min="-180" max="180" step="any" value=(decimal(figure.angle_deg, 2)) autocomplete="off" data-edit=(set(&path("angle"))); }
    }
}

fn photo_fields(base: &str, quilt: &Quilt, ClothId(cloth): ClothId, photo: &Photo, photos: &Photos) -> Markup {
    let key = quilt.cloths[cloth].key.as_str();
    let id = |what: &str| format!("cloth-{key}-look-{what}");
    let [_, _, across, along] = photo.kept();
    html! {
        div.fields {
            (fields::text(&id("width"), &tr!("The photographed piece is wide"), &words::typed(quilt, photo.width), &set(&["cloth", key, "look", "width"])))
            p.quiet { (tr!("The photograph: {whole}. One repeat, what is left of it: {repeat}.", whole = size_of(quilt, photo.whole()), repeat = size_of(quilt, [across, along]))) }
            @for (number, (side, label)) in cut_off().into_iter().enumerate() {
                label.field for=(id(side)) { span { (label) }
                    input id=(id(side)) type="number" min="0" max="99" step="any" value=(decimal(photo.crop[number], 2)) autocomplete="off"
                        data-edit=(set(&["cloth", key, "look", "crop", &number.to_string()])); }
            }
        }
        @if let Some(&light) = photos.light.get(&photo.file) { (proposed(quilt, cloth, light)) }
        @else { p.finding { (tr!("The photograph")) " " b { (photo.file) } " " (tr!("is not here, so that the cloth is shown in its colour: bring it in below.")) } }
        @if photos.light.contains_key(&photo.file) {
            p { a href={ (base) "photo/" (photo.file) } download=(photo.file) { (tr!("Save the photograph")) } ", " (tr!("to lie beside the quilt file")) }
        }
    }
}

/// The sides of a photograph that can be cut off: the word for the id, and the label.
fn cut_off() -> [(&'static str, String); 4] {
    [
        ("left", tr!("Cut off, left, %")),
        ("top", tr!("Cut off, top, %")),
        ("right", tr!("Cut off, right, %")),
        ("bottom", tr!("Cut off, bottom, %")),
    ]
}

fn figure_word(kind: FigureKind) -> String {
    match kind {
        FigureKind::Stripes => tr!("stripes"),
        FigureKind::Checks => tr!("checks"),
        FigureKind::Dots => tr!("dots"),
    }
}

/// The value that the photograph's lightness makes of the cloth, with its working.
fn proposed(quilt: &Quilt, cloth: usize, light: f64) -> Markup {
    let cloth = &quilt.cloths[cloth];
    let (working, value) = (lightness::lightness(light), lightness::value_of(light));
    let id = format!("cloth-{}-look-take", cloth.key);
    let line = html! { span.what { (tr!("By the photograph it is")) " " b { (words::value(value)) } ": " (tr!("lightness {lightness} of 100", lightness = decimal(working.value, 0))) } };
    html! {
        (fields::worked(&format!("{id}-how"), &line, &[&working]))
        @if value != cloth.value {
            p { (fields::button(&id, &tr!("Take it for {value}", value = words::value(value)), &fields::set_to(&["cloth", &cloth.key, "value"], value.word()), None)) }
        }
    }
}
