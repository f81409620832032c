//! The quilt on its bed, to scale: from above, from the side and from the foot.
//!
//! In: the bed, the outline of the top, the drops and how far the corners hang. Out: three views with one scale, every number with its name.
//! How the cloth folds at a corner is drawn roughly, as a fold that hangs from the mattress's corner as deep as it reaches: where it ends is
//! geometry, its folds are those of `drape`.

use crate::dimension::{self, Course};
use crate::page::{Page, number, open};
use crate::text::{Anchor, Label, Tone, width};
use seamfall_geom::{Edge, Loop, Point, Pose, Rect};
use seamfall_model::{Bed, Length, Quilt};
use seamfall_plan::Plan;
use seamfall_plan::answer::Ruler;
use seamfall_plan::fit::Drops;
use std::fmt::Write;
use tr::tr;

/// Thickness of a post, in inches. A choice: posts are drawn as a sign that they are there.
const POST_IN: f64 = 3.0;

/// The views of a quilt on its bed; nothing without a bed, or where its corner cannot be had.
#[must_use]
pub fn bed_svg(quilt: &Quilt, plan: &Plan) -> Option<String> {
    let fit = plan.fit.as_ref()?;
    let hang = fit.hang.as_ref()?;
    let corner = hang.corner(quilt.corners)?.cut.as_ref().ok()?;
    let drops = Drops { side: hang.side[1].length(), foot: hang.foot[1].length() };
    Some(bed_views_svg(&fit.bed, &plan.top.outline, drops, corner.hang.length(), Ruler::of(quilt)))
}

/// A quilt on its bed from above, from the side and from the foot.
///
/// `outline` is that of the top, in whatever size: it is brought to the drops as they are after quilting and the wash. `hang` is how far down the
/// cloth reaches at a corner. The viewBox is in the document's unit, the scale of all views one to one.
#[must_use]
pub fn bed_views_svg(bed: &Bed, outline: &Loop, drops: Drops, hang: Length, ruler: Ruler) -> String {
    let scene = Scene::new(bed, outline, drops, hang, ruler);
    let text = scene.text;
    let (cloth, bed_size) = (scene.cloth.bounds(), [bed.width.value(), bed.length.value()]);
    let (aside, below) = (4.5 * dimension::depth(text), dimension::depth(text) + 2.0 * text);
    let title = 2.5 * text;
    let high = scene.height * if bed.posts { 1.5 } else { 1.0 };
    let left = cloth.width() + dimension::depth(text) + 4.0 * text;
    let right = bed_size[0].max(bed_size[1]) + aside + 2.0 * text;
    let floors = [title + high, 2.0 * title + 2.0 * high + below];
    let tall = (title + cloth.height() + below).max(floors[1] + below);
    let mut out = String::new();
    open(&mut out, (-text, -text, left + right + 2.0 * text, tall + 2.0 * text), &tr!("The quilt on its bed"));
    let mut board = Board { out, scene: &scene };
    board.plan_view(Page { left: 0.0, top: title + cloth.height() });
    let start = left + dimension::depth(text) + 2.0 * text;
    let post = POST_IN * ruler.measure.inch();
    let side = View { name: tr!("From the side"), long: bed_size[1], drop: scene.side, tips: [false, true], along: None };
    board.upright(&side, Point::new(start, floors[0]), post);
    let along = Some((tr!("mattress"), bed_size[0]));
    let foot = View { name: tr!("From the foot"), long: bed_size[0], drop: scene.foot, tips: [true, true], along };
    board.upright(&foot, Point::new(start, floors[1]), post);
    board.out.push_str("</svg>");
    board.out
}

/// What all views show.
struct Scene<'a> {
    bed: &'a Bed,
    /// The outline of the quilt, its lower left corner at the origin, the foot below.
    cloth: Loop,
    side: f64,
    foot: f64,
    height: f64,
    hang: f64,
    /// Where the cloth of a corner reaches farthest, at the lower right; nothing where no cloth hangs from it.
    tip: Option<Point>,
    ruler: Ruler,
    text: f64,
}

impl<'a> Scene<'a> {
    fn new(bed: &'a Bed, outline: &Loop, drops: Drops, hang: Length, ruler: Ruler) -> Self {
        let [side, foot] = [drops.side, drops.foot].map(|drop| drop.value().max(0.0));
        let wide = outline.bounds().width();
        let scale = if wide > 0.0 { (bed.width.value() + 2.0 * side) / wide } else { 1.0 };
        let cloth = scaled(outline, scale);
        let mattress = Point::new(side + bed.width.value(), foot);
        let reach = |point: &Point| if point.x > mattress.x && point.y < mattress.y { (*point - mattress).hypot2() } else { 0.0 };
        let points = cloth.edges().iter().flat_map(|edge| [edge.from(), edge.at(0.5)]);
        let tip = points.filter(|point| reach(point) > 0.0).max_by(|a, b| reach(a).total_cmp(&reach(b)));
        let text = cloth.bounds().width().max(cloth.bounds().height()) / 28.0;
        Self { bed, cloth, side, foot, height: bed.height.value(), hang: hang.value(), tip, ruler, text }
    }

    fn shown(&self, value: f64) -> String {
        self.ruler.shown(self.ruler.step.nearest(Length::new(value)))
    }
}

/// A loop `scale` times as large about the origin.
fn scaled(outline: &Loop, scale: f64) -> Loop {
    let at = |point: Point| Point::new(point.x * scale, point.y * scale);
    let edge = |edge: &Edge| match *edge {
        Edge::Line { from, to } => Edge::Line { from: at(from), to: at(to) },
        Edge::Arc { from, to, centre, turn } => Edge::Arc { from: at(from), to: at(to), centre: at(centre), turn },
    };
    Loop::new(outline.edges().iter().map(edge).collect())
}

/// An upright view.
struct View {
    name: String,
    /// Length of the mattress, as seen.
    long: f64,
    /// How far the cloth hangs in front.
    drop: f64,
    /// Whether a corner hangs at its left and at its right end.
    tips: [bool; 2],
    /// What is said of its length.
    along: Option<(String, f64)>,
}

/// A drawing as it grows.
struct Board<'a> {
    out: String,
    scene: &'a Scene<'a>,
}

impl Board<'_> {
    fn plan_view(&mut self, page: Page) {
        let scene = self.scene;
        let (bed, text, cloth) = (scene.bed, scene.text, scene.cloth.bounds());
        self.title(&tr!("From above"), Point::new(0.0, page.top - cloth.height()));
        self.path("quilt", "#f1e9da", false, |out| page.loops(out, Pose::IDENTITY, [&scene.cloth]));
        let (x0, y0) = (scene.side, scene.foot);
        let mattress = Rect::new(x0, y0, x0 + bed.width.value(), y0 + bed.length.value());
        self.path("mattress", "none", true, |out| page.loops(out, Pose::IDENTITY, [&Loop::rect(mattress)]));
        let post = POST_IN * scene.ruler.measure.inch();
        for x in [mattress.x0 - post, mattress.x1].into_iter().filter(|_| bed.posts) {
            let post = Rect::new(x, mattress.y0 - post, x + post, mattress.y0);
            self.path("post", "#999", false, |out| page.loops(out, Pose::IDENTITY, [&Loop::rect(post)]));
        }
        if let Some(tip) = scene.tip {
            let corner = Point::new(mattress.x1, mattress.y0);
            let line = [Edge::Line { from: corner, to: tip }];
            self.path("hang", "none", false, |out| page.chain(out, Pose::IDENTITY, &line, false));
            let words = tr!("corner {hang}", hang = scene.shown(scene.hang));
            let at = page.at(corner);
            let at = Point::new(at.x - width(&words, text) / 2.0 - text * 0.6, at.y - text);
            self.label(&words, at);
        }
        let bottom = page.top + text;
        self.measured(Course::Across, [0.0, mattress.x0], bottom, &tr!("side"), scene.side);
        self.measured(Course::Across, [mattress.x0, mattress.x1], bottom, &tr!("mattress"), bed.width.value());
        let aside = cloth.width() + text;
        let down = |y: f64| page.top - y;
        self.measured(Course::Down, [down(cloth.y1), down(mattress.y1)], aside, &tr!("tuck"), bed.tuck.value());
        self.measured(Course::Down, [down(mattress.y1), down(mattress.y0)], aside, &tr!("mattress"), bed.length.value());
        self.measured(Course::Down, [down(mattress.y0), down(0.0)], aside, &tr!("foot"), scene.foot);
    }

    /// A view along the floor, whose level is that of `origin`.
    fn upright(&mut self, view: &View, origin: Point, post: f64) {
        let scene = self.scene;
        let (text, high, long) = (scene.text, scene.height, view.long);
        let at = |x: f64, up: f64| Point::new(origin.x + x, origin.y - up);
        let rise = if scene.bed.posts { high * 1.5 } else { high };
        self.title(&view.name, at(0.0, rise));
        let area = |x0: f64, x1: f64, top: f64| [at(x0, 0.0), at(x1, 0.0), at(x1, top), at(x0, top)];
        self.polygon("bed", "#fff", &area(0.0, long, high));
        for (x, _) in [(0.0, view.tips[0]), (long - post, view.tips[1])].into_iter().filter(|(_, at)| *at && scene.bed.posts) {
            self.polygon("post", "#999", &area(x, x + post, rise));
        }
        // What is deeper than the bed is high lies on the floor.
        let hem = (high - view.drop).max(0.0);
        let tip = if scene.tip.is_some() { (high - scene.hang).max(0.0) } else { hem };
        let fold = (long / 5.0).min(scene.side.max(scene.foot));
        let mut cloth = vec![at(0.0, high), at(long, high)];
        cloth.extend(if view.tips[1] { vec![at(long, tip), at(long - fold, hem)] } else { vec![at(long, hem)] });
        cloth.extend(if view.tips[0] { vec![at(fold, hem), at(0.0, tip)] } else { vec![at(0.0, hem)] });
        self.polygon("quilt", "#f1e9da", &cloth);
        let beyond = scene.hang - high;
        if beyond > 0.0 && scene.tip.is_some() {
            for (end, from, to) in [(0, at(0.0, 0.0), at(-beyond, 0.0)), (1, at(long, 0.0), at(long + beyond, 0.0))] {
                if view.tips[end] {
                    self.line("drags", text / 4.0, from, to);
                }
            }
        }
        self.line("floor", text / 6.0, at(-2.0 * text, 0.0), at(long + 2.0 * text, 0.0));
        let down = |up: f64| origin.y - up;
        let left = origin.x - dimension::depth(text) - 2.0 * text;
        self.measured(Course::Down, [down(high), down(0.0)], left, &tr!("mattress top"), high);
        let mut aside = origin.x + long + beyond.max(0.0) + 1.5 * text;
        let word = if view.along.is_some() { tr!("foot") } else { tr!("side") };
        self.measured(Course::Down, [down(high), down(hem)], aside, &word, view.drop);
        if scene.tip.is_some() {
            aside += dimension::depth(text);
            self.measured(Course::Down, [down(high), down(tip)], aside, &tr!("corner"), scene.hang);
        }
        aside += dimension::depth(text);
        let lowest = if scene.tip.is_some() { tip.min(hem) } else { hem };
        if lowest > 0.0 {
            self.measured(Course::Down, [down(lowest), down(0.0)], aside, &tr!("above the floor"), lowest);
        } else {
            let words = tr!("on the floor {length}", length = scene.shown(scene.hang.max(view.drop) - high));
            self.label(&words, Point::new(aside + width(&words, text) / 2.0, down(0.0) - text));
        }
        if let Some((word, length)) = &view.along {
            self.measured(Course::Across, [origin.x, origin.x + long], origin.y + text, word, *length);
        }
    }

    /// A length between two stops, with its name; none where there is nothing.
    fn measured(&mut self, course: Course, stops: [f64; 2], at: f64, name: &str, value: f64) {
        if stops[1] - stops[0] <= 0.0 {
            return;
        }
        let words = format!("{name} {}", self.scene.shown(value));
        dimension::chain(&mut self.out, course, &stops, at, self.scene.text, &|_| words.clone());
    }

    fn title(&mut self, name: &str, above: Point) {
        let at = Point::new(above.x, above.y - self.scene.text * 1.2);
        let label = Label { text: name, at, size: self.scene.text * 1.2, anchor: Anchor::Start, bold: true, tone: Tone::Plain };
        label.write(&mut self.out, "");
    }

    fn label(&mut self, words: &str, at: Point) {
        let label = Label { text: words, at, size: self.scene.text, anchor: Anchor::Middle, bold: false, tone: Tone::OnLight };
        label.write(&mut self.out, "");
    }

    fn path(&mut self, class: &str, fill: &str, dashed: bool, data: impl FnOnce(&mut String)) {
        let (pen, dash) = (self.scene.text / 10.0, number(self.scene.text / 2.0));
        let dashes = if dashed { format!(r#" stroke-dasharray="{dash} {dash}""#) } else { String::new() };
        let _ = write!(
            self.out,
            r##"<path class="{class}" fill="{fill}" stroke="#000" stroke-width="{}" stroke-linejoin="round"{dashes} d=""##,
            number(pen)
        );
        data(&mut self.out);
        self.out.push_str(r#""/>"#);
    }

    fn polygon(&mut self, class: &str, fill: &str, points: &[Point]) {
        self.path(class, fill, false, |out| {
            for (i, point) in points.iter().enumerate() {
                let _ = write!(out, "{}{} {}", if i == 0 { 'M' } else { 'L' }, number(point.x), number(point.y));
            }
            out.push('z');
        });
    }

    fn line(&mut self, class: &str, pen: f64, from: Point, to: Point) {
        let _ = write!(
            self.out,
            r##"<path class="{class}" fill="none" stroke="#000" stroke-width="{}" d="M{} {}L{} {}"/>"##,
            number(pen),
            number(from.x),
            number(from.y),
            number(to.x),
            number(to.y)
        );
    }
}
