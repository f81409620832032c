//! Tests of how a cloth looks: read, refused with a remedy, changed as a whole.

use super::reading::problems;
use crate::*;

fn with(look: &str) -> String {
    format!("format = 1\nname = \"x\"\nmeasure = \"inch\"\n[cloth.a]\ncolour = \"#ffffff\"\nlook = {look}\n{REST}")
}

const REST: &str = "[block.b]\nshape = \"square\"\nsize = \"6\"\ngrid = 1\npatches = { a = [[0.5, 0.5]] }\n[setting]\nlayout = \"straight\"\nrows = 1\ncolumns = 1\npattern = [[\"b\"]]\n";

fn look(text: &str) -> Look {
    read(&with(text)).unwrap().cloths[0].look.clone().unwrap()
}

#[test]
fn figures_have_usual_sizes() {
    let Look::Figure(stripes) = look(r##"{ kind = "stripes", colour = "#102030" }"##) else { panic!() };
    assert_eq!((stripes.size.value(), stripes.repeat.value(), stripes.angle_deg), (0.5, 1.0, 0.0));
    let Look::Figure(dots) = look(r##"{ kind = "dots", colour = "#102030", repeat = "3/4", angle = 30 }"##) else { panic!() };
    assert_eq!((dots.size.value(), dots.repeat.value(), dots.angle_deg), (0.25, 0.75, 30.0));
}

/// By hand: 2000 by 1500 pixels at 10 in wide are 7.5 in high; 10 per cent off at the left and 15 at the right leave 7.5 in, 20 off at the top 6 in.
#[test]
fn a_photograph_is_as_high_as_its_pixels_say_and_what_is_left_repeats() {
    let text = r#"{ kind = "photo", file = "moss.jpg", width = "10", pixels = [2000, 1500], crop = [10, 20, 15, 0] }"#;
    let photo = look(text);
    let kept = photo.photo().unwrap().kept().map(Length::value);
    for (is, wanted) in kept.into_iter().zip([1.0, 1.5, 7.5, 6.0]) {
        assert!((is - wanted).abs() < 1e-12, "{kept:?}");
    }
    assert_eq!(photo.photo().unwrap().whole().map(Length::value), [10.0, 7.5]);
}

#[test]
fn what_no_cloth_can_look_like_is_refused() {
    for (text, reason) in [
        (r#"{ kind = "stripes" }"#, "stripes need the key `colour`"),
        (r##"{ kind = "tartan", colour = "#ffffff" }"##, "`kind` cannot be `tartan`"),
        (r#"{ kind = "dots", colour = "red" }"#, "`red` is not a colour"),
        (r##"{ kind = "stripes", colour = "#ffffff", size = "1" }"##, "nothing of the ground is seen"),
        (r##"{ kind = "stripes", colour = "#ffffff", angle = 200 }"##, "must lie between -180 and 180"),
        (r##"{ kind = "stripes", colour = "#ffffff", file = "a.jpg" }"##, "`file` is no key of stripes"),
        (r#"{ kind = "photo", file = "a.jpg", width = "4" }"#, "a photograph needs the key `pixels`"),
        (r#"{ kind = "photo", file = "../a.jpg", width = "4", pixels = [4, 4] }"#, "leads to another folder"),
        (r#"{ kind = "photo", file = "a.jpg", width = "4", pixels = [4] }"#, "two whole numbers"),
        (r#"{ kind = "photo", file = "a.jpg", width = "4", pixels = [4, 0] }"#, "two whole numbers"),
        (r#"{ kind = "photo", file = "a.jpg", width = "4", pixels = [4, 4], crop = [50, 0, 50, 0] }"#, "leaves nothing"),
        (r#"{ kind = "photo", file = "a.jpg", width = "4", pixels = [4, 4], crop = [1, 2, 3] }"#, "four numbers"),
        (r##"{ kind = "photo", file = "a.jpg", width = "4", pixels = [4, 4], colour = "#ffffff" }"##, "no key of a photograph"),
    ] {
        let told = problems(&with(text));
        assert!(told.contains(reason), "{text}: {told}");
    }
}

#[test]
fn a_look_is_changed_as_a_whole_and_the_rest_of_the_text_stays() {
    let text = with(r##"{ kind = "stripes", colour = "#102030", size = "1/4" } # as in the shop"##);
    let with = vec![
        ("file".to_owned(), Scalar::Text("moss.jpg".to_owned())),
        ("width".to_owned(), Scalar::Text("8".to_owned())),
        ("pixels".to_owned(), Scalar::Numbers(vec![400.0, 300.0])),
        ("crop".to_owned(), Scalar::Numbers(vec![0.0, 0.0, 0.0, 0.0])),
    ];
    let look = Some(NewLook { kind: "photo".to_owned(), with });
    let photo = apply(&text, &Edit::Look { cloth: "a".to_owned(), look }).unwrap();
    let path = ["cloth", "a", "look", "crop", "2"].map(str::to_owned).to_vec();
    let cropped = apply(&photo, &Edit::Set { path, value: Scalar::Number(12.5) }).unwrap();
    let quilt = read(&cropped).unwrap();
    assert_eq!(quilt.cloths[0].look.as_ref().unwrap().photo().unwrap().crop, [0.0, 0.0, 12.5, 0.0]);
    assert!(cropped.ends_with(REST), "{cropped}");
    let plain = apply(&cropped, &Edit::Look { cloth: "a".to_owned(), look: None }).unwrap();
    assert_eq!(read(&plain).unwrap().cloths[0].look, None);
}

const PHOTO: &str = r#"{ kind = "photo", file = "moss.jpg", width = "10", pixels = [2000, 1500], crop = [10, 20, 15, 0] }"#;

#[test]
fn motifs_lie_on_what_is_kept_of_a_photograph() {
    let fussy = |keys: &str| format!("{}\n[[fussy]]\n{keys}\n", with(PHOTO));
    let good = read(&fussy("cloth = \"a\"\nof = \"b.a\"\nat = [42.5, 30]\nturn = 15")).unwrap();
    assert_eq!((good.fussy[0].at, good.fussy[0].turn_deg, good.fussy[0].of), ([42.5, 30.0], 15.0, FussyOf::Part(PartId(0))));
    assert_eq!(good.motif(BlockId(0), Some(1), Some(PartId(0)), ClothId(0)), Some(0));
    for (keys, reason) in [
        (
            "cloth = \"a\"\nof = \"b.a\"\nat = [5, 30]",
            "lies on what is cut off the photograph | choose a point from 10 to 85 per cent across and from 20 to 100 down",
        ),
        ("cloth = \"a\"\nof = \"b.c\"\nat = [50, 50]", "block `b` has no part `c`"),
        ("cloth = \"a\"\nof = \"star.a\"\nat = [50, 50]", "there is no block `star`"),
        ("cloth = \"a\"\nof = \"b\"\nat = [50, 50]", "is no part and no patch of a block"),
        ("cloth = \"a\"\nof = \"b.a\"\nat = [50]", "`at` has two numbers"),
        ("cloth = \"a\"\nof = \"b.a\"\nat = [50, 50]\n[[fussy]]\ncloth = \"a\"\nof = \"b.a\"\nat = [60, 50]", "chosen twice"),
        ("cloth = \"moss\"\nof = \"b.a\"\nat = [50, 50]", "there is no cloth `moss`"),
    ] {
        let told = problems(&fussy(keys));
        assert!(told.contains(reason), "{keys}: {told}");
    }
    let plain = fussy("cloth = \"a\"\nof = \"b.a\"\nat = [50, 50]").replace(PHOTO, r##"{ kind = "dots", colour = "#000000" }"##);
    assert!(problems(&plain).contains("which has no photograph"));
}

#[test]
fn a_motif_is_set_moved_and_taken_away_by_edits() {
    let text = with(PHOTO);
    let edit = |at, turn| Edit::Fussy { of: "b.a".to_owned(), cloth: "a".to_owned(), at, turn };
    let set = apply(&text, &edit(Some([50.0, 60.0]), 0.0)).unwrap();
    let moved = apply(&set, &edit(Some([20.0, 60.5]), 90.0)).unwrap();
    let fussy = read(&moved).unwrap().fussy;
    assert_eq!((fussy.len(), fussy[0].at, fussy[0].turn_deg), (1, [20.0, 60.5], 90.0));
    let path = ["fussy", "0", "at", "1"].map(str::to_owned).to_vec();
    let typed = apply(&moved, &Edit::Set { path, value: Scalar::Number(70.0) }).unwrap();
    assert_eq!(read(&typed).unwrap().fussy[0].at, [20.0, 70.0]);
    assert_eq!(apply(&typed, &edit(None, 0.0)).unwrap(), text);
    let other = apply(&typed, &Edit::Look { cloth: "a".to_owned(), look: None });
    assert!(other.is_err(), "the motif would have no photograph");
}
