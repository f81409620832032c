//! Joins: the whole quilt with its steps, one step, and a join cut across.
//!
//! Black on white, told apart without colour. On the map what is sewn is a heavy line, what can be sewn next a heavy line in dashes with its
//! number in a ring, what comes later a thin line. On a step's drawing the seam is heavy, pins are short strokes across it, an arrow points
//! the way the fronts fall, and a hatched strip shows whose batting is caught; hand stitching, a row of short strokes on the side of the turned
//! backing, runs between two bars; a cross marks where the machine will balk. The join cut across is to scale in both directions.

use crate::page::{Page, number, open};
use crate::text::{Anchor, Label, Tone};
use seamfall_geom::{Point, Pose, Vec2};
use seamfall_model::{Length, Quilt};
use seamfall_plan::Plan;
use seamfall_plan::join::{CrossSection, Layer, LayerKind, Side, Step};
use std::fmt::Write;
use tr::tr;

/// A straight stroke.
fn stroke(out: &mut String, class: &str, [from, to]: [Point; 2], width: f64, dashes: Option<[f64; 2]>) {
    let _ = write!(
        out,
        r##"<path class="{class}" d="M{} {}L{} {}" fill="none" stroke="#000" stroke-width="{}""##,
        number(from.x),
        number(from.y),
        number(to.x),
        number(to.y),
        number(width)
    );
    if let Some([on, off]) = dashes {
        let _ = write!(out, r#" stroke-dasharray="{} {}""#, number(on), number(off));
    }
    out.push_str("/>");
}

/// A closed shape of straight sides.
fn shape(out: &mut String, class: &str, points: &[Point], paint: &str) {
    let _ = write!(out, r#"<path class="{class}" d="M"#);
    for (k, point) in points.iter().enumerate() {
        let _ = write!(out, "{}{} {}", if k > 0 { "L" } else { "" }, number(point.x), number(point.y));
    }
    let _ = write!(out, r#"z" {paint}/>"#);
}

fn outlines(out: &mut String, plan: &Plan, page: Page, sections: impl Iterator<Item = usize>, width: f64, fill: &str) {
    let _ = write!(out, r##"<g class="sections" fill="{fill}" stroke="#000" stroke-width="{}">"##, number(width));
    for section in sections {
        out.push_str(r#"<path d=""#);
        page.loops(out, Pose::IDENTITY, [&plan.top.sections[section].outline]);
        out.push_str(r#""/>"#);
    }
    out.push_str("</g>");
}

/// How far a step is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Stage {
    Sewn,
    Next,
    Later,
}

fn stage(plan: &Plan, step: &Step) -> Stage {
    match (step.join.sewn, plan.join.is_ready(step)) {
        (true, _) => Stage::Sewn,
        (false, true) => Stage::Next,
        (false, false) => Stage::Later,
    }
}

/// The whole quilt with every step's number on its seam. The viewBox is in the document's unit.
#[must_use]
pub fn join_map_svg(quilt: &Quilt, plan: &Plan) -> String {
    let size = plan.top.size;
    let long = size.x.max(size.y).max(1.0);
    let (pen, rim) = (long / 220.0, long / 60.0);
    let page = Page { left: 0.0, top: size.y };
    let mut out = String::new();
    open(&mut out, (-rim, -rim, size.x + 2.0 * rim, size.y + 2.0 * rim), &tr!("Joins of {name}", name = quilt.name));
    outlines(&mut out, plan, page, 0..plan.top.sections.len(), pen / 6.0, "#fff");
    let mut labels = String::new();
    for (index, step) in plan.join.steps.iter().enumerate() {
        let ends = step.join.seam.map(|at| page.at(at));
        let stage = stage(plan, step);
        match stage {
            Stage::Sewn => stroke(&mut out, "sewn", ends, pen, None),
            Stage::Next => stroke(&mut out, "next", ends, pen, Some([pen * 2.5, pen * 1.5])),
            Stage::Later => stroke(&mut out, "later", ends, pen * 0.35, None),
        }
        let size = (step.join.length() * 0.3).min(long / 45.0);
        let at = page.at(free_middle(step));
        if stage == Stage::Next {
            let _ = write!(
                labels,
                r##"<circle class="next" cx="{}" cy="{}" r="{}" fill="#fff" stroke="#000" stroke-width="{}"/>"##,
                number(at.x),
                number(at.y),
                number(size * 0.95),
                number(pen * 0.5)
            );
        }
        let text = (index + 1).to_string();
        Label { text: &text, at, size, anchor: Anchor::Middle, bold: stage == Stage::Next, tone: Tone::OnLight }
            .write(&mut labels, "");
    }
    out.push_str(&labels);
    out.push_str("</svg>");
    out
}

/// The middle of the longest stretch of a seam that nothing crosses; of equals the first.
fn free_middle(step: &Step) -> Point {
    let [start, end] = step.join.seam;
    let stops: Vec<Point> = std::iter::once(start).chain(step.crossings.iter().map(|one| one.at)).chain([end]).collect();
    let long = |pair: &&[Point]| (pair[1] - pair[0]).hypot2();
    let mut longest: Option<&[Point]> = None;
    for pair in stops.windows(2) {
        // A thousandth, so that rounding does not choose.
        if longest.is_none_or(|known| long(&pair) > long(&known) * 1.001) {
            longest = Some(pair);
        }
    }
    longest.map_or(start, |pair| pair[0].midpoint(pair[1]))
}

/// One step: its two sides, how it is pinned, sewn and stitched. The viewBox is in the document's unit. Nothing where there is no such step.
#[must_use]
pub fn join_step_svg(quilt: &Quilt, plan: &Plan, index: usize) -> Option<String> {
    let step = plan.join.steps.get(index)?;
    let sides = step.join.parts.map(|part| plan.join.sections(part));
    let bounds = sides
        .iter()
        .flatten()
        .map(|&section| plan.top.sections[section].outline.bounds())
        .reduce(|a, b| a.union(b))
        .expect("a join has two sides");
    let long = bounds.width().max(bounds.height());
    let (pen, rim) = (long / 200.0, long / 25.0);
    let page = Page { left: bounds.x0, top: bounds.y1 };
    let mut out = String::new();
    let name = tr!("Join {number} of {name}", number = index + 1, name = quilt.name);
    open(&mut out, (-rim, -rim, bounds.width() + 2.0 * rim, bounds.height() + 2.0 * rim), &name);
    let step_width = pen * 3.0;
    let _ = write!(
        out,
        r##"<defs><pattern id="join-{index}-caught" width="{w}" height="{w}" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0v{w}" stroke="#000" stroke-width="{}"/></pattern></defs>"##,
        number(pen * 0.6),
        w = number(step_width)
    );
    for (side, fill) in sides.iter().zip(["#fff", "#f2f2f2"]) {
        outlines(&mut out, plan, page, side.iter().copied(), pen * 0.4, fill);
    }
    seam(&mut out, plan, (index, step), page, long);
    for side in &sides {
        let size = long / 28.0;
        for &section in side {
            let at = page.at(plan.top.sections[section].outline.label_point());
            let text = &plan.top.sections[section].name;
            Label { text, at, size, anchor: Anchor::Middle, bold: false, tone: Tone::OnLight }.write(&mut out, "");
        }
    }
    out.push_str("</svg>");
    Some(out)
}

/// What lies along the seam of a step.
fn seam(out: &mut String, plan: &Plan, (index, step): (usize, &Step), page: Page, long: f64) {
    let (pen, manner) = (long / 200.0, &plan.join.manner);
    let [start, end] = step.join.seam.map(|at| page.at(at));
    let length = step.join.length();
    let along = (end - start) / length;
    // On the page y runs down, so that the left of the seam is at this hand.
    let left = Vec2::new(along.y, -along.x);
    let [towards, away] = if step.falls_to == 0 { [left, -left] } else { [-left, left] };
    let strip = pen * 6.0;
    if manner.section.caught {
        let paint = format!(r##"fill="url(#join-{index}-caught)" stroke="none""##);
        shape(out, "caught", &[start, end, end + away * strip, start + away * strip], &paint);
    }
    stroke(out, "seam", [start, end], pen * 1.4, None);
    let gaps = manner.pins(length, 0).count().saturating_sub(1).max(1);
    // The outermost pins lie a little inside, and one lies on either side of every crossing.
    let inside = |on: f64| on.clamp(pen * 3.0, (length - pen * 3.0).max(pen * 3.0));
    let even = (0..=gaps).map(|pin| inside(length * pin as f64 / gaps as f64));
    let beside = step.crossings.iter().flat_map(|one| {
        let on = (page.at(one.at) - start).dot(along);
        [on - pen * 4.0, on + pen * 4.0]
    });
    for at in even.chain(beside).map(|on| start + along * on) {
        stroke(out, "pin", [at - left * (pen * 3.0), at + left * (pen * 3.0)], pen * 0.5, None);
        let head = at + left * (pen * 3.0);
        let _ =
            write!(out, r##"<circle cx="{}" cy="{}" r="{}" fill="#000"/>"##, number(head.x), number(head.y), number(pen * 0.7));
    }
    // Hand stitching, on the turned backing, between two bars. The margin is measured from the trimmed edge, an allowance beyond the seam.
    let short = manner.stops_short().value - manner.section.allowance;
    let [first, last] = [0, 1].map(|at| if step.ends[at].is_some() { short } else { 0.0 });
    let hand = [start + along * first + away * (strip * 1.5), end - along * last + away * (strip * 1.5)];
    stroke(out, "hand", hand, pen * 0.6, Some([pen * 1.5, pen]));
    for at in hand {
        stroke(out, "bar", [at - away * (pen * 2.0), at + away * (pen * 2.0)], pen * 0.9, None);
    }
    // The way the fronts fall.
    let (tail, tip) = (start + along * (length * 0.42), start + along * (length * 0.42) + towards * (strip * 2.0));
    stroke(out, "fall", [tail, tip], pen * 0.9, None);
    let back = tip - towards * (pen * 3.0);
    shape(out, "fall", &[tip, back + along * (pen * 1.6), back - along * (pen * 1.6)], r##"fill="#000""##);
    for crossing in step.crossings.iter().filter(|one| one.balks) {
        let at = page.at(crossing.at);
        for hand in [1.0, -1.0] {
            let arm = (along + left * hand) * (pen * 2.5);
            stroke(out, "balks", [at - arm, at + arm], pen * 0.9, None);
        }
    }
}

/// A join cut across, to scale: the viewBox is in the document's unit. Cloth of the side to which the fronts fall is white, of the other
/// black; battings are hatched either way.
#[must_use]
pub fn cross_section_svg(quilt: &Quilt, section: &CrossSection) -> String {
    let reach = section.reach;
    let size = reach / 15.0;
    let pen = section.cloth * 0.12;
    let thick = section.breaks().windows(2).map(|pair| column(section, f64::midpoint(pair[0], pair[1])).1).fold(0.0, f64::max);
    let mut out = String::new();
    let (above, below) = (size * 6.0, size * 6.0);
    open(
        &mut out,
        (-reach * 1.75, -thick - above, reach * 3.5, thick + above + below),
        &tr!("A join of {name} cut across", name = quilt.name),
    );
    let step = number(section.cloth * 2.5);
    let _ = write!(
        out,
        r##"<defs><pattern id="batting-towards" width="{step}" height="{step}" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0v{step}" stroke="#000" stroke-width="{w}"/></pattern><pattern id="batting-away" width="{step}" height="{step}" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)"><path d="M0 0v{step}" stroke="#000" stroke-width="{w}"/></pattern></defs>"##,
        w = number(section.cloth * 0.3)
    );
    for pair in section.breaks().windows(2) {
        for (layer, low, high) in column(section, f64::midpoint(pair[0], pair[1])).0 {
            let corners = [(pair[0], low), (pair[1], low), (pair[1], high), (pair[0], high)].map(|(x, y)| Point::new(x, -y));
            let fill = match (layer.kind, layer.side) {
                (LayerKind::Batting, Side::Towards) => "url(#batting-towards)",
                (LayerKind::Batting, Side::Away) => "url(#batting-away)",
                (_, Side::Towards) => "#fff",
                (_, Side::Away) => "#000",
            };
            // Cloths are edged in the other ink, so that two on top of one another stay two.
            let edge = if fill == "#000" { "#fff" } else { "#000" };
            let class = match layer.kind {
                LayerKind::Front => "front",
                LayerKind::Allowance => "allowance",
                LayerKind::Batting => "batting",
                LayerKind::FlatBacking | LayerKind::Backing => "backing",
                LayerKind::TurnedUnder => "turned-under",
            };
            let drawn_edge = if layer.kind == LayerKind::Batting { "none" } else { edge };
            shape(&mut out, class, &corners, &format!(r#"fill="{fill}" stroke="{drawn_edge}" stroke-width="{}""#, number(pen)));
        }
    }
    stroke(
        &mut out,
        "seam",
        [Point::new(0.0, -thick - size * 0.6), Point::new(0.0, size * 0.6)],
        pen * 2.0,
        Some([size / 4.0, size / 4.0]),
    );
    labels(&mut out, quilt, section, thick, size);
    out.push_str("</svg>");
    out
}

/// The layers over a point with their lower and upper faces, and how thick it is there. The back lies on the table.
fn column(section: &CrossSection, at: f64) -> (Vec<(Layer, f64, f64)>, f64) {
    let mut layers: Vec<Layer> = section.over(at).copied().collect();
    layers.reverse();
    let mut height = 0.0;
    let placed = layers.into_iter().map(|layer| {
        let low = height;
        height += section.thickness(&layer);
        (layer, low, height)
    });
    (placed.collect(), height)
}

/// Names of the layers, with lines that lead to them.
fn labels(out: &mut String, quilt: &Quilt, section: &CrossSection, thick: f64, size: f64) {
    let (reach, allowance) = (section.reach, section.allowance);
    let show = |value: f64| Length::new(value).shown_with_unit(quilt.step);
    let middle = |at: f64, kind: LayerKind, side: Side| {
        let found = column(section, at).0.into_iter().find(|(layer, ..)| layer.kind == kind && layer.side == side);
        found.map(|(_, low, high)| Point::new(at, -f64::midpoint(low, high)))
    };
    let battings = if section.caught { tr!("batting, caught") } else { tr!("batting, cut back") };
    let cut = tr!("batting, cut back {cut_back}", cut_back = show(section.cut_back(Side::Towards).value));
    let turned = tr!("turned under {allowance}", allowance = show(allowance));
    let far = reach * 0.85;
    let (up, down) = (-thick - size * 1.8, size * 2.1);
    // What is named, where it is touched, and where its name stands.
    let named: [(&str, f64, LayerKind, Side, Point); 8] = [
        (&tr!("front"), -far, LayerKind::Front, Side::Away, Point::new(-reach, up - size * 1.4)),
        (&battings, -far * 0.7, LayerKind::Batting, Side::Away, Point::new(-reach * 0.62, up)),
        (&tr!("backing, turned under"), -far, LayerKind::Backing, Side::Away, Point::new(-reach, down)),
        (&tr!("front"), far, LayerKind::Front, Side::Towards, Point::new(reach, up - size * 1.4)),
        (&cut, far * 0.7, LayerKind::Batting, Side::Towards, Point::new(reach * 0.85, up)),
        (&tr!("backing, flat"), far, LayerKind::FlatBacking, Side::Towards, Point::new(reach, down)),
        (&tr!("allowances"), allowance * 0.5, LayerKind::Allowance, Side::Towards, Point::new(allowance * 0.5, up - size * 2.8)),
        (
            &turned,
            section.overlap - allowance * 0.5,
            LayerKind::TurnedUnder,
            Side::Away,
            Point::new(section.overlap - allowance * 0.5, down + size * 1.5),
        ),
    ];
    for (text, x, kind, side, at) in named {
        let Some(touch) = middle(x, kind, side) else { continue };
        let near = if at.y < touch.y { size * 0.6 } else { -size * 0.6 };
        stroke(out, "leader", [Point::new(at.x, at.y + near), touch], section.cloth * 0.2, None);
        let _ = write!(
            out,
            r##"<circle cx="{}" cy="{}" r="{}" fill="#fff" stroke="#000" stroke-width="{}"/>"##,
            number(touch.x),
            number(touch.y),
            number(section.cloth * 0.3),
            number(section.cloth * 0.1)
        );
        Label { text, at, size, anchor: Anchor::Middle, bold: false, tone: Tone::OnLight }.write(out, "");
    }
    Label {
        text: &tr!("seam"),
        at: Point::new(0.0, down + size * 3.0),
        size,
        anchor: Anchor::Middle,
        bold: true,
        tone: Tone::Plain,
    }
    .write(out, "");
}
