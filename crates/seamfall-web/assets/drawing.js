// The drafting sheet's own script: points, keys, and what is shown meanwhile. What a drawing is, the server says; here are only
// the drawings before and after, for undo.
"use strict";

// A scope of its own: the workroom's script, which is on every page, has names of its own.
{
const page = document.body.dataset;
let keptAs = `seamfall.drawing.${location.pathname}${location.search}`;
let original = JSON.stringify(JSON.parse(page.drawing));
let atRevision = Number(page.revision);
let block = page.block ?? null;
let drawing = JSON.parse(original);
let saved = original; // as it stands in the quilt
let past = [];
let future = [];
let sheet = null; // the server's last answer
let tool = "line";
let cursor = { u: 0, v: 0 };
let begun = null; // where a seam begins
let bulge = null; // ends of an arc that waits for its bulge, with the arcs that are usual there
let chosenSeam = 0;
let held = null; // a point of the chosen seam: its number, or "all"
let chosenPatch = -1;
let dragged = null;
let view = null; // the part of the sheet that is seen; all of it without one
const fingers = new Map();
let pinched = null;
let seenBox = "";

const checked = (name) => document.querySelector(`[name=${name}]:checked`);
const on = () => [...document.querySelectorAll("[name=repeat]:checked")].map((each) => each.value);
const aloud = (text) => { $("said").textContent = ""; requestAnimationFrame(() => { $("said").textContent = text; }); };
const picture = () => $("sheet-drawing").firstElementChild;
const plainNumber = (value) => String(Math.round(value * 100) / 100);
const named = ({ u, v }) => say("{across} across, {up} up", { across: plainNumber(u), up: plainNumber(v) });

// ---------------------------------------------------------------- points of the sheet

const toSheet = ({ u, v }) => {
  const [origin, first, second] = sheet.axes;
  return { x: origin[0] + u * first[0] + v * second[0], y: origin[1] + u * first[1] + v * second[1] };
};

const toGrid = ({ x, y }) => {
  const [origin, first, second] = sheet.axes;
  const across = first[0] * second[1] - first[1] * second[0];
  const [dx, dy] = [x - origin[0], y - origin[1]];
  return { u: (dx * second[1] - dy * second[0]) / across, v: (first[0] * dy - first[1] * dx) / across };
};

const far = (a, b) => Math.hypot(a.x - b.x, a.y - b.y);
const spot = ({ at, grid, what }) => ({ x: at[0], y: at[1], u: grid[0], v: grid[1], what });

/** The point of the sheet under a pointer. */
function under(event) {
  const matrix = picture().getScreenCTM().inverse();
  const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix);
  return { x: point.x, y: point.y };
}

/** How many units of the sheet a pixel is. */
const pixel = () => 1 / picture().getScreenCTM().a;

/** The nearest point of the block's edge. */
function onFrame(point) {
  let best = null;
  sheet.frame.forEach(([x, y], i) => {
    const [x1, y1] = sheet.frame[(i + 1) % sheet.frame.length];
    const [dx, dy] = [x1 - x, y1 - y];
    const share = Math.max(0, Math.min(1, ((point.x - x) * dx + (point.y - y) * dy) / (dx * dx + dy * dy)));
    const near = { x: x + share * dx, y: y + share * dy, what: say("edge of the block") };
    if (!best || far(near, point) < far(best, point)) best = near;
  });
  return best;
}

/** Whether a point lies in the block or on its edge. */
function inside(point) {
  let within = false;
  const { frame } = sheet;
  for (let i = 0, j = frame.length - 1; i < frame.length; j = i, i += 1) {
    const [[x, y], [x1, y1]] = [frame[i], frame[j]];
    if ((y > point.y) !== (y1 > point.y) && point.x < ((x1 - x) * (point.y - y)) / (y1 - y) + x) within = !within;
  }
  return within || far(onFrame(point), point) < 1e-6 * Math.hypot(...sheet.axes[1]) * Math.max(...sheet.reach);
}

/** Where a pointer is drawn to: ends, crossings, corners and middles that are near; the grid; the edge of the block. */
function snapped(point, coarse) {
  const near = (coarse ? 26 : 14) * pixel();
  const grid = toGrid(point);
  const candidates = sheet.points.map(spot).filter((each) => far(each, point) < near);
  const gridOn = $("snap").checked && drawing.grid;
  if (gridOn) {
    const around = [Math.floor, Math.ceil].flatMap((a) => [Math.floor, Math.ceil].map((b) => ({ u: a(grid.u), v: b(grid.v) })));
    candidates.push(...around.map((each) => ({ ...each, ...toSheet(each), what: "" })).filter(inside));
  }
  const edge = onFrame(point);
  if (far(edge, point) < near && !candidates.some((each) => far(each, point) < near)) candidates.push({ ...edge, ...toGrid(edge) });
  const best = candidates.reduce((a, b) => (a && far(a, point) <= far(b, point) ? a : b), null);
  return best ?? { ...point, ...grid, what: "" };
}

/** What is at the cursor. */
function whatIsAt(place) {
  const at = toSheet(place);
  const near = 1e-6 + 0.02 * Math.hypot(...sheet.axes[1]);
  const there = sheet.points.map(spot).find((each) => far(each, at) < near);
  if (there) return there.what;
  return far(onFrame(at), at) < near ? say("edge of the block") : "";
}

// ---------------------------------------------------------------- nearer and farther

const whole = () => { const [x, y, w, h] = sheet.box; return { x, y, w, h }; };

function showView() {
  const full = whole();
  if (view) {
    const keep = (value, least, most) => Math.max(least, Math.min(most, value));
    view = { ...view, x: keep(view.x, full.x, full.x + full.w - view.w), y: keep(view.y, full.y, full.y + full.h - view.h) };
  }
  const { x, y, w, h } = view ?? full;
  for (const each of [picture(), $("hand")]) each.setAttribute("viewBox", `${x} ${y} ${w} ${h}`);
}

/** Shows so much of the sheet's width, `anchor` staying under the point of the window at which it is. */
function seeWidth(width, anchor, client) {
  const full = whole();
  const wide = Math.max(full.w / 16, width);
  view = wide >= full.w ? null : { ...(view ?? full), w: wide, h: (wide * full.h) / full.w };
  showView();
  if (view) {
    const there = under(client);
    view = { ...view, x: view.x + anchor.x - there.x, y: view.y + anchor.y - there.y };
    showView();
  }
  paintHand();
}

/** Nearer or farther about the cursor. */
function zoomBy(factor) {
  const at = toSheet(cursor);
  const { x, y } = new DOMPoint(at.x, at.y).matrixTransform(picture().getScreenCTM());
  seeWidth((view ?? whole()).w / factor, at, { clientX: x, clientY: y });
}

/** The part that is seen goes with the cursor. */
function follow() {
  const at = toSheet(cursor);
  if (!view || (at.x >= view.x && at.x <= view.x + view.w && at.y >= view.y && at.y <= view.y + view.h)) return;
  view = { ...view, x: at.x - view.w / 2, y: at.y - view.h / 2 };
  showView();
}

function wheel(event) {
  // Where the page itself is scrolled by the wheel, it is left to it.
  if (!sheet || (!event.ctrlKey && document.documentElement.scrollHeight > innerHeight + 4)) return;
  event.preventDefault();
  seeWidth((view ?? whole()).w * 1.0015 ** event.deltaY, under(event), event);
}

/** Two fingers move the sheet and draw it nearer; true while they do. */
function pinch(event) {
  if (event.pointerType !== "touch") return false;
  const { type, pointerId, clientX, clientY } = event;
  if (type === "pointerdown" || fingers.has(pointerId)) fingers.set(pointerId, { clientX, clientY });
  const [a, b] = [...fingers.values()];
  const middle = b && { clientX: (a.clientX + b.clientX) / 2, clientY: (a.clientY + b.clientY) / 2 };
  const apart = b && Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY);
  if (type === "pointerdown" && b) {
    // What the first finger began was no seam.
    if (dragged && !dragged.waited) begun = null;
    [dragged, held] = [null, null];
    pinched = { anchor: under(middle), apart, width: (view ?? whole()).w };
  } else if (type === "pointermove" && pinched && b) {
    seeWidth((pinched.width * pinched.apart) / apart, pinched.anchor, middle);
  }
  const was = pinched !== null;
  if (type === "pointerup" || type === "pointercancel") {
    fingers.delete(pointerId);
    if (fingers.size === 0) pinched = null;
  }
  return was;
}

// ---------------------------------------------------------------- asking and showing

/** Asks the server what comes of something that is done, after all that was asked before. */
function act(what, { undone = false } = {}) {
  busy = busy.then(async () => {
    const before = JSON.stringify(drawing);
    try {
      const answer = await ask(`${base}drawing`, JSON.stringify({ drawing, repeat: on(), ...what() }));
      const after = JSON.stringify(answer.drawing);
      // As the server writes what the quilt has.
      if (!sheet && before === original) saved = after;
      if (sheet && after !== before && !undone) { past.push(before); future = []; if (past.length > 500) past.shift(); }
      show(answer);
      keepHere();
    } catch (error) {
      complain(error);
      if (sheet) show(sheet, "");
      // What was left here can be of a quilt that has other cloths by now.
      else if (before !== original) anew();
    }
  }).catch(complain);
  return busy;
}

function show(answer, said = answer.said) {
  const fresh = answer !== sheet;
  sheet = answer;
  drawing = answer.drawing;
  const kept = on();
  const focused = document.activeElement?.id;
  if (fresh) {
    $("sheet-drawing").innerHTML = answer.svg;
    const box = picture().getAttribute("viewBox");
    // Another shape or size is seen whole.
    if (box !== seenBox) view = null;
    seenBox = box;
    answer.box = box.split(" ").map(Number);
    showView();
    $("sheet-findings").innerHTML = answer.findings;
    $("sheet-templates").innerHTML = answer.templates;
  }
  $("settings").innerHTML = answer.settings;
  for (const each of document.querySelectorAll("[name=repeat]")) each.checked = kept.includes(each.value);
  if (focused && document.activeElement?.id !== focused) $(focused)?.focus({ preventScroll: true });
  if ($("draw-name") !== document.activeElement) $("draw-name").value = drawing.name;
  if (chosenSeam > drawing.seams.length) [chosenSeam, held] = [0, null];
  if (!inside(toSheet(cursor))) cursor = toGrid({ x: answer.frame[0][0], y: answer.frame[0][1] });
  if (said) { aloud(said); $("message").hidden = true; }
  buttons();
  paintHand();
}

function buttons() {
  $("draw-undo").disabled = past.length === 0;
  $("draw-redo").disabled = future.length === 0;
  $("draw-delete").disabled = chosenSeam === 0;
  $("draw-clear").disabled = drawing.seams.length === 0;
  for (const axis of picture().querySelectorAll(".axis")) axis.classList.toggle("on", on().includes(axis.dataset.axis));
  $("sheet").dataset.tool = tool;
}

/** Keeps the drawing in this browser until it is saved, so that a closed window loses nothing. */
function keepHere() {
  const now = JSON.stringify(drawing);
  try {
    if (now === saved) localStorage.removeItem(keptAs);
    else localStorage.setItem(keptAs, JSON.stringify({ saved: original, drawing, past: past.slice(-50) }));
  } catch { /* then it is not kept */ }
}

function takeUpAgain() {
  try {
    const kept = JSON.parse(localStorage.getItem(keptAs));
    // Of a block that has been saved otherwise since, what was left is no longer what it was left for.
    if (!kept || kept.saved !== original || JSON.stringify(kept.drawing) === original) return;
    [drawing, past] = [kept.drawing, kept.past];
    $("restored").hidden = false;
  } catch { /* then it begins as it is saved */ }
}

/** Begins again with what is saved. */
function anew() {
  $("restored").hidden = true;
  drawing = JSON.parse(original);
  [past, future] = [[], []];
  letGo();
  act(() => ({}), { undone: true });
}

function undo(from, to) {
  busy = busy.then(() => {
    if (from.length === 0) return undefined;
    to.push(JSON.stringify(drawing));
    drawing = JSON.parse(from.pop());
    letGo();
    $("draw-name").value = drawing.name;
    return undefined;
  });
  act(() => ({}), { undone: true });
}

// ---------------------------------------------------------------- what is drawn over the sheet

const shape = (name, attributes) => {
  const made = document.createElementNS("http://www.w3.org/2000/svg", name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  return made;
};

/** The path of an arc through a third point; a straight line where there is none. */
function arcPath(a, b, p) {
  const cross = (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
  if (Math.abs(cross) < 1e-9) return `M${a.x} ${a.y}L${b.x} ${b.y}`;
  const [c, d] = [(b.x - a.x) ** 2 + (b.y - a.y) ** 2, (p.x - a.x) ** 2 + (p.y - a.y) ** 2];
  const [x, y] = [(c * (p.y - a.y) - d * (b.y - a.y)) / (2 * cross), (d * (b.x - a.x) - c * (p.x - a.x)) / (2 * cross)];
  const middle = (b.x - a.x) * y - (b.y - a.y) * x;
  const large = middle > 0 === cross > 0 ? 1 : 0;
  return `M${a.x} ${a.y}A${Math.hypot(x, y)} ${Math.hypot(x, y)} 0 ${large} ${cross > 0 ? 0 : 1} ${b.x} ${b.y}`;
}

/** Draws a line that is not there yet, and where the lines and turns take it. */
function preview(hand, d) {
  for (const image of [null, ...sheet.images]) {
    const line = shape("path", { d, class: image ? "ahead image" : "ahead" });
    if (image) line.setAttribute("transform", `matrix(${image.join(" ")})`);
    hand.append(line);
  }
}

function paintHand() {
  const hand = $("hand");
  hand.replaceChildren();
  const at = toSheet(cursor);
  const dot = pixel();
  for (const each of document.querySelectorAll("#sheet-drawing .seam")) each.classList.toggle("chosen", Number(each.dataset.seam) === chosenSeam);
  if (chosenSeam) {
    sheet.seams[chosenSeam - 1].holds.map(spot).forEach((hold, i) => {
      hand.append(shape("rect", { x: hold.x - 6 * dot, y: hold.y - 6 * dot, width: 12 * dot, height: 12 * dot, class: held === i ? "hold held" : "hold" }));
    });
  }
  if (chosenPatch >= 0 && sheet.patches[chosenPatch]) {
    const outline = document.querySelector(`#sheet-drawing #p${chosenPatch + 1}`);
    const copy = shape("path", { d: outline.getAttribute("d"), class: "patch-ring" });
    // Patches are drawn with a rim of their own.
    const inner = outline.ownerSVGElement;
    const box = inner.viewBox.baseVal;
    copy.setAttribute("transform", `translate(${inner.x.baseVal.value - box.x} ${inner.y.baseVal.value - box.y})`);
    hand.append(copy);
  }
  if (begun && !bulge && far(toSheet(begun), at) > 1e-9) preview(hand, `M${toSheet(begun).x} ${toSheet(begun).y}L${at.x} ${at.y}`);
  if (bulge) {
    const through = bulge.arcs[bulge.at] ? spot(bulge.arcs[bulge.at]) : { ...at };
    preview(hand, arcPath(toSheet(bulge.from), toSheet(bulge.to), through));
    for (const each of bulge.arcs.map(spot)) hand.append(shape("circle", { cx: each.x, cy: each.y, r: 4 * dot, class: "usual" }));
  }
  if (begun) hand.append(shape("circle", { cx: toSheet(begun).x, cy: toSheet(begun).y, r: 6 * dot, class: "begun" }));
  hand.append(shape("path", { d: `M${at.x - 11 * dot} ${at.y}H${at.x + 11 * dot}M${at.x} ${at.y - 11 * dot}V${at.y + 11 * dot}`, class: "cross-under" }));
  hand.append(shape("path", { d: `M${at.x - 11 * dot} ${at.y}H${at.x + 11 * dot}M${at.x} ${at.y - 11 * dot}V${at.y + 11 * dot}`, class: "cross" }));
  hand.append(shape("circle", { cx: at.x, cy: at.y, r: 5 * dot, class: "cross" }));
}

// ---------------------------------------------------------------- what is done

function letGo() {
  begun = null;
  bulge = null;
  held = null;
  dragged = null;
}

const pair = ({ u, v }) => [u, v];

function line(from, to) {
  if (Math.hypot(from.u - to.u, from.v - to.v) < 1e-9) return;
  const ends = { from: pair(from), to: pair(to), repeat: on() };
  letGo();
  act(() => ({ act: { do: "line", ...ends } }));
}

/** Both ends of an arc are known: asks which arcs are usual there, and waits for the bulge. */
function ends(from, to) {
  if (Math.hypot(from.u - to.u, from.v - to.v) < 1e-9) return;
  bulge = { from, to, arcs: [], at: -1 };
  const mine = bulge;
  busy = busy.then(async () => {
    const arcs = await ask(`${base}drawing/arcs`, JSON.stringify({ drawing, ends: [...pair(from), ...pair(to)] }));
    // Meanwhile it may have been let go of.
    if (bulge !== mine) return;
    bulge.arcs = arcs;
    if (arcs.length) bulge.at = 0;
    aloud(arcs.length ? say("{n} usual arcs. {first}. Arrows for the others, Enter takes it; or point where it is to go.", { n: arcs.length, first: arcs[0].what }) : say("Point where the arc is to go."));
    paintHand();
  }).catch(complain);
  paintHand();
}

function takeArc(through) {
  const { from, to } = bulge;
  const what = { from: pair(from), to: pair(to), through: pair(through), repeat: on() };
  letGo();
  act(() => ({ act: { do: "arc", ...what } }));
}

function brush(at) {
  if (!checked("cloth")) return aloud(say("The quilt has no cloths yet: add one in the workroom."));
  return act(() => ({ paint: { cloth: checked("cloth").value, at: pair(at) } }));
}

function chooseSeam(number, told = true) {
  chosenSeam = number;
  held = null;
  if (told) aloud(number ? sheet.seams[number - 1].what : say("Nothing is chosen."));
  buttons();
  paintHand();
}

function removeSeam() {
  if (!chosenSeam) return aloud(say("No seam is chosen: s chooses the next one."));
  const seam = chosenSeam;
  const repeat = on();
  letGo();
  chosenSeam = 0;
  return act(() => ({ act: { do: "remove", seam, repeat } }));
}

function setDown(to) {
  const [seam, point] = [chosenSeam, held];
  letGo();
  act(() => ({ act: { do: "move-point", seam, point, to: pair(to) } }));
}

function setTool(name) {
  letGo();
  tool = name;
  document.querySelector(`[name=tool][value=${name}]`).checked = true;
  if (name !== "choose") chosenSeam = 0;
  chosenPatch = -1;
  buttons();
  paintHand();
}

async function saveDrawing(waste = false) {
  busy = busy.then(async () => {
    try {
      const answer = await ask(`${base}drawing/save`, JSON.stringify({ revision: atRevision, block, drawing, waste }));
      atRevision = answer.revision;
      const fresh = block === null;
      block = answer.block;
      localStorage.removeItem(keptAs);
      saved = JSON.stringify(drawing);
      original = saved;
      keptAs = `seamfall.drawing.${base}draw/${block}`;
      if (fresh) history.replaceState(null, "", `${base}draw/${block}`);
      $("message").hidden = true;
      $("restored").hidden = true;
      aloud(`${answer.said}. ${fresh ? say("It stands among the blocks of the quilt, to be put wherever you like.") : say("Undo in the workroom takes it back.")}`);
    } catch (error) {
      if (error.wasted?.length) return warnOfWaste(error, () => saveDrawing(true));
      if (error.status === 409) {
        atRevision = await ask(`${base}revision`);
        error.message = say("the quilt was changed elsewhere in the meantime; save again to save this block into it as it is now");
      }
      complain(error);
    }
    return undefined;
  }).catch(complain);
}

// ---------------------------------------------------------------- pointers

function down(event) {
  if (event.button > 0 || !sheet || pinch(event)) return;
  const coarse = event.pointerType === "touch";
  const point = under(event);
  const seam = Number(event.target.dataset?.seam ?? 0);
  if (tool === "paint") return;
  $("sheet").setPointerCapture(event.pointerId);
  chosenPatch = -1;
  cursor = snapped(point, coarse);
  if (tool === "choose") {
    const holds = chosenSeam ? sheet.seams[chosenSeam - 1].holds.map(spot) : [];
    const grip = holds.findIndex((hold) => far(hold, point) < (coarse ? 24 : 12) * pixel());
    if (grip >= 0) held = grip;
    else if (seam && seam === chosenSeam) held = "all";
    else chooseSeam(seam);
    dragged = { from: cursor };
  } else if (!bulge) {
    dragged = { from: cursor, waited: begun !== null };
    begun ??= cursor;
  }
  paintHand();
}

function move(event) {
  if (!sheet || pinch(event)) return;
  const point = under(event);
  const coarse = event.pointerType === "touch";
  if (tool === "paint") return;
  if (bulge) {
    const near = bulge.arcs.findIndex((arc) => far(spot(arc), point) < (coarse ? 26 : 14) * pixel());
    bulge.at = near;
    cursor = { ...point, ...toGrid(point) };
  } else {
    cursor = snapped(point, coarse);
  }
  if (tool === "choose" && dragged && held !== null) event.preventDefault();
  paintHand();
}

function up(event) {
  if (!sheet || pinch(event)) return;
  const coarse = event.pointerType === "touch";
  const point = under(event);
  if (tool === "paint") {
    if (event.type === "pointerup" && event.button <= 0) brush(toGrid(point));
    return;
  }
  if (event.type === "pointercancel") { letGo(); paintHand(); return; }
  if (bulge && !dragged) {
    move(event);
    takeArc(bulge.arcs[bulge.at] ? spot(bulge.arcs[bulge.at]) : toGrid(point));
    return;
  }
  if (!dragged) return;
  cursor = snapped(point, coarse);
  const { from, waited } = dragged;
  const moved = Math.hypot(cursor.u - from.u, cursor.v - from.v) > 1e-9;
  dragged = null;
  if (tool === "choose") {
    if (held === "all" && moved) {
      const [seam, by] = [chosenSeam, [cursor.u - from.u, cursor.v - from.v]];
      held = null;
      act(() => ({ act: { do: "move", seam, by } }));
    } else if (typeof held === "number" && moved) {
      setDown(held === 2 ? toGrid(point) : cursor);
    }
    held = null;
  } else if (moved || waited) {
    const start = begun;
    if (Math.hypot(cursor.u - start.u, cursor.v - start.v) < 1e-9) { letGo(); aloud(say("Let go.")); }
    else if (tool === "line") line(start, cursor);
    else ends(start, cursor);
  } else {
    aloud(say("A seam begins at {where}. Now its other end.", { where: named(cursor) }));
  }
  paintHand();
}

// ---------------------------------------------------------------- keys

function goTo(place, said = "") {
  cursor = { u: place.u, v: place.v };
  if (bulge) bulge.at = -1;
  follow();
  paintHand();
  const there = whatIsAt(cursor);
  aloud(said || [named(cursor), there].filter(Boolean).join(", "));
}

function step(du, dv, fine) {
  if (bulge && bulge.arcs.length) {
    const by = du + dv > 0 ? 1 : -1;
    bulge.at = (Math.max(bulge.at, 0) + by + bulge.arcs.length) % bulge.arcs.length;
    aloud(bulge.arcs[bulge.at].what);
    return paintHand();
  }
  chosenPatch = -1;
  const size = fine ? 0.25 : 1;
  // From between two steps to the next one.
  const along = (value, way) => (way === 0 ? value : (way > 0 ? Math.floor(value / size + 1e-6) + 1 : Math.ceil(value / size - 1e-6) - 1) * size);
  const next = { u: along(cursor.u, du), v: along(cursor.v, dv) };
  if (inside(toSheet(next))) return goTo(next);
  return aloud(say("The edge of the block."));
}

function nextPoint(by) {
  const points = sheet.points.map(spot);
  const here = points.findIndex((each) => Math.hypot(each.u - cursor.u, each.v - cursor.v) < 1e-9);
  chosenPatch = -1;
  goTo(points[(here + by + points.length) % points.length]);
}

function nextPatch(by) {
  const count = sheet.patches.length;
  chosenPatch = chosenPatch < 0 ? (by > 0 ? 0 : count - 1) : (chosenPatch + by + count) % count;
  const patch = spot(sheet.patches[chosenPatch]);
  goTo(patch, patch.what);
}

function nextSeam(by) {
  const count = drawing.seams.length;
  if (!count) return aloud(say("There are no seams yet."));
  if (tool !== "choose") setTool("choose");
  return chooseSeam(((chosenSeam - 1 + by + (chosenSeam ? 0 : by > 0 ? 0 : 1)) % count + count) % count + 1);
}

function nextHold() {
  if (!chosenSeam) return aloud(say("No seam is chosen: s chooses the next one."));
  const { holds } = sheet.seams[chosenSeam - 1];
  held = ((typeof held === "number" ? held : -1) + 1) % holds.length;
  const hold = spot(holds[held]);
  return goTo(hold, say("Holding the {what} at {where}. Move the cursor, Enter sets it down.", { what: hold.what, where: named(hold) }));
}

function nextCloth(by) {
  const all = [...document.querySelectorAll("[name=cloth]")];
  if (!all.length) return aloud(say("The quilt has no cloths yet."));
  const next = all[(all.findIndex((each) => each.checked) + by + all.length) % all.length];
  next.checked = true;
  return aloud(say("Brush: {name}", { name: next.dataset.name }));
}

/** Enter: begins, ends, paints or sets down. */
function enter() {
  if (tool === "paint") return brush(cursor);
  if (tool === "choose") {
    if (held !== null) return setDown(cursor);
    const at = toSheet(cursor);
    const near = sheet.seams.findIndex((seam) => seam.holds.map(spot).some((hold) => far(hold, at) < 1e-6 * Math.max(...sheet.reach) + 1e-6));
    return near >= 0 ? chooseSeam(near + 1) : aloud(say("There is no end of a seam here: s chooses the next seam."));
  }
  if (bulge) return takeArc(bulge.arcs[bulge.at] ? spot(bulge.arcs[bulge.at]) : cursor);
  if (!begun) {
    begun = { ...cursor };
    paintHand();
    return aloud(say("A seam begins at {where}.", { where: named(cursor) }));
  }
  if (Math.hypot(begun.u - cursor.u, begun.v - cursor.v) < 1e-9) return aloud(say("It cannot end where it begins. Esc lets go of it."));
  return tool === "line" ? line(begun, { ...cursor }) : ends(begun, { ...cursor });
}

function escape() {
  if (bulge || begun || held !== null) { letGo(); aloud(say("Let go.")); }
  else if (chosenSeam) chooseSeam(0);
  chosenPatch = -1;
  paintHand();
}

function sayHere() {
  const at = toSheet(cursor);
  const inverse = picture().getScreenCTM();
  const point = new DOMPoint(at.x, at.y).matrixTransform(inverse);
  const patch = document.elementsFromPoint(point.x, point.y).map((each) => /^p(\d+)$/.exec(each.id)).find(Boolean);
  const parts = [named(cursor), whatIsAt(cursor), patch ? sheet.patches[Number(patch[1]) - 1].what : ""];
  aloud(parts.filter(Boolean).join(". "));
}

const KEYS = {
  Enter: enter, " ": enter, Escape: escape, Delete: removeSeam, Backspace: removeSeam,
  l: () => { setTool("line"); aloud(say("Straight seams")); }, a: () => { setTool("arc"); aloud(say("Arcs")); },
  b: () => { setTool("paint"); aloud(say("Paint, with {cloth}", { cloth: checked("cloth")?.dataset.name ?? say("no cloth") })); }, v: () => { setTool("choose"); aloud(say("Move")); },
  n: () => nextPoint(1), N: () => nextPoint(-1), s: () => nextSeam(1), S: () => nextSeam(-1), e: nextHold,
  p: () => nextPatch(1), P: () => nextPatch(-1), f: () => brush(cursor), F: () => $("paint-rest").click(),
  c: () => nextCloth(1), C: () => nextCloth(-1), w: sayHere,
  o: () => { $("snap").click(); aloud($("snap").checked ? say("Snapping to the grid") : say("Free")); },
  "+": () => zoomBy(1.5), "=": () => zoomBy(1.5), "-": () => zoomBy(1 / 1.5), 0: () => { view = null; showView(); paintHand(); },
  "?": () => $("keys").showModal(),
};

function key(event) {
  const { target } = event;
  const typing = target.matches("input:not([type=checkbox], [type=radio]), select, textarea");
  const command = event.ctrlKey || event.metaKey;
  const does = (what) => { event.preventDefault(); what(); };
  if ($("keys").open) return undefined;
  if (command && event.key.toLowerCase() === "s") return does(() => saveDrawing());
  if (typing) return undefined;
  if (command && event.key.toLowerCase() === "z") return does(() => $(event.shiftKey ? "draw-redo" : "draw-undo").click());
  if (command && event.key.toLowerCase() === "y") return does(() => $("draw-redo").click());
  if (command || event.altKey || !sheet) return undefined;
  const onSheet = target === $("sheet");
  if (event.key === "?") return does(KEYS["?"]);
  if (!onSheet) return undefined;
  const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
  if (way) return does(() => step(...way, event.shiftKey));
  if (/^[1-9]$/.test(event.key)) {
    const box = document.querySelectorAll("[name=repeat]")[Number(event.key) - 1];
    return does(() => { if (box) { box.click(); aloud(`${box.parentElement.textContent.trim().replace(/ \d$/, "")}: ${box.checked ? say("on") : say("off")}`); } });
  }
  return KEYS[event.key] ? does(KEYS[event.key]) : undefined;
}

// ---------------------------------------------------------------- the page

function changed({ target }) {
  if (target.name === "tool") return setTool(target.value);
  if (target.name === "repeat") return act(() => ({}), { undone: true });
  const { value } = target;
  if (target.id === "draw-name") { past.push(JSON.stringify(drawing)); drawing = { ...drawing, name: value }; return act(() => ({}), { undone: true }); }
  if (target.id === "draw-shape") return act(() => ({ act: { do: "shape", shape: value } }));
  if (target.id === "draw-size") return act(() => ({ act: { do: "size", size: value } }));
  if (target.id === "draw-angle") return act(() => ({ act: { do: "angle", angle: Number(value) } }));
  if (target.dataset.grid !== undefined) {
    const first = Number($("draw-grid-0").value);
    const second = $("draw-grid-1");
    // Both ways alike as long as they were so, since that is what is mostly wanted; the second can be changed alone.
    const alike = !second || (target.id === "draw-grid-0" && drawing.grid[0] === drawing.grid[1]);
    return act(() => ({ act: { do: "grid", grid: [first, alike ? first : Number(second.value)] } }));
  }
  return undefined;
}

function clicked({ target }) {
  const button = target.closest("button");
  if (!button) return;
  if (button.dataset.newGrid !== undefined) act(() => ({ act: { do: "grid", grid: [4, 4] } }));
  if (button.dataset.finding) {
    $("sheet").focus();
    goTo({ u: Number(button.dataset.u), v: Number(button.dataset.v) }, button.textContent);
    for (const each of document.querySelectorAll(".sign")) each.classList.toggle("here", each.dataset.finding === button.dataset.finding);
  }
}

function start() {
  takeUpAgain();
  const paper = $("sheet");
  paper.addEventListener("pointerdown", down);
  paper.addEventListener("pointermove", move);
  paper.addEventListener("pointerup", up);
  paper.addEventListener("pointercancel", up);
  paper.addEventListener("wheel", wheel, { passive: false });
  $("sheet-in").addEventListener("click", () => zoomBy(1.5));
  $("sheet-out").addEventListener("click", () => zoomBy(1 / 1.5));
  $("sheet-all").addEventListener("click", () => { view = null; showView(); paintHand(); });
  document.addEventListener("keydown", key);
  document.addEventListener("change", changed);
  document.addEventListener("click", clicked);
  $("draw-undo").addEventListener("click", () => undo(past, future));
  $("draw-redo").addEventListener("click", () => undo(future, past));
  $("draw-keys").addEventListener("click", () => $("keys").showModal());
  $("draw-save").addEventListener("click", () => saveDrawing());
  $("draw-delete").addEventListener("click", removeSeam);
  $("draw-clear").addEventListener("click", () => { letGo(); chosenSeam = 0; act(() => ({ act: { do: "clear" } })); });
  $("paint-rest").addEventListener("click", () => checked("cloth") && act(() => ({ paint: { cloth: checked("cloth").value } })));
  $("draw-keep").addEventListener("click", () => { busy = busy.then(async () => aloud(await ask(`${base}drawing/keep`, JSON.stringify({ drawing })))).catch(complain); });
  $("draw-anew").addEventListener("click", anew);
  addEventListener("resize", () => sheet && paintHand());
  act(() => ({}), { undone: true });
}

start();
}
