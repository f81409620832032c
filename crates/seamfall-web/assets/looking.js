// Zooming, panning and pointing on the drawing. Loaded before the rest of the script, which it calls.
"use strict";

let view = null; // the part of the drawing that is shown; nothing for all of it
let all = null;

function zoomed() {
  if (!view) {
    const box = svg().viewBox.baseVal;
    all = { x: box.x, y: box.y, width: box.width, height: box.height };
    view = { ...all };
  }
  return view;
}

function look(next) {
  zoomed();
  const width = Math.min(all.width, Math.max(all.width / 40, next.width));
  const height = (width / all.width) * all.height;
  const within = (from, size, start, length) => Math.min(Math.max(from, start), start + length - size);
  view = { width, height, x: within(next.x, width, all.x, all.width), y: within(next.y, height, all.y, all.height) };
  svg().setAttribute("viewBox", `${view.x} ${view.y} ${view.width} ${view.height}`);
  $("drawing").classList.toggle("zoomed", width < all.width);
}

/** The quilt became larger or smaller: what was looked at closely still is. */
function sizeChanged() {
  const close = view && view.width < all.width && view;
  view = null;
  if (close) look(close);
}

/** Where a place lies in the drawing: it is drawn about its own corner. */
function boxOf(place) {
  const box = place.getBBox();
  const { e, f } = place.transform.baseVal.consolidate().matrix;
  return { x: box.x + e, y: box.y + f, width: box.width, height: box.height };
}

/** Shows what lies round a point of the drawing, so that single seams are seen. */
function lookAt(x, y) {
  zoomed();
  const place = places()[0]?.getBBox();
  const width = Math.min(all.width, 4 * Math.max(place?.width ?? 0, place?.height ?? 0, all.width / 40));
  const height = (width / all.width) * all.height;
  look({ width, height, x: x - width / 2, y: y - height / 2 });
  $("drawing").scrollIntoView({ block: "nearest" });
}

/** Chooses the seam beside a click, else `id`. */
function chooseSeam(event, id) {
  // In pixels; a finger is less exact than a mouse.
  const reach = (event.pointerType === "touch" ? 18 : 10) / svg().getScreenCTM().a;
  const { x, y } = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg().getScreenCTM().inverse());
  busy = busy.then(async () => { choose((await ask(`${base}seam?x=${x}&y=${y}&reach=${reach}`)) ?? id, true); }).catch(complain);
}

/** Zooms so that the point of the drawing under `x`, `y` stays there. */
function zoom(by, x, y) {
  const { x: left, y: top, width, height } = zoomed();
  const box = svg().getBoundingClientRect();
  const point = new DOMPoint(x ?? box.x + box.width / 2, y ?? box.y + box.height / 2).matrixTransform(svg().getScreenCTM().inverse());
  look({ width: width / by, height: height / by, x: point.x - (point.x - left) / by, y: point.y - (point.y - top) / by });
}

function pan(dx, dy) {
  const scale = svg().getScreenCTM().a;
  const { x, y, width, height } = zoomed();
  look({ x: x - dx / scale, y: y - dy / scale, width, height });
}

function listenToPointers(drawing) {
  const down = new Map();
  let moved = false;
  drawing.addEventListener("wheel", (event) => {
    event.preventDefault();
    zoom(Math.exp(-event.deltaY * (event.deltaMode ? 0.05 : 0.002)), event.clientX, event.clientY);
  }, { passive: false });
  drawing.addEventListener("pointerdown", (event) => {
    if (down.size === 0) moved = false;
    down.set(event.pointerId, { x: event.clientX, y: event.clientY, from: [event.clientX, event.clientY] });
  });
  drawing.addEventListener("pointermove", (event) => {
    const last = down.get(event.pointerId);
    if (!last) return;
    const { clientX: x, clientY: y } = event;
    // Less than this is a hand that trembles, in pixels; found by trying.
    if (!moved && Math.hypot(x - last.from[0], y - last.from[1]) < 6) return;
    moved = true;
    drawing.setPointerCapture(event.pointerId);
    if (down.size === 1) pan(x - last.x, y - last.y);
    else {
      const other = [...down].find(([id]) => id !== event.pointerId)[1];
      const apart = (a, b) => Math.hypot(a.x - b.x, a.y - b.y);
      zoom(apart({ x, y }, other) / Math.max(apart(last, other), 1), (x + other.x) / 2, (y + other.y) / 2);
    }
    Object.assign(last, { x, y });
  });
  for (const end of ["pointerup", "pointercancel"]) drawing.addEventListener(end, (event) => down.delete(event.pointerId));
  drawing.addEventListener("click", (event) => {
    if (moved) return;
    const hit = event.target.closest("[id]");
    if (!hit || hit === drawing) return;
    if ($("show-falls").checked && !exchanging) chooseSeam(event, hit.id);
    else choose(hit.id, true);
  });
}
