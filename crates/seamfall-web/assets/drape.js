// The quilt on its bed: asks for the cloth frame by frame while it settles, and draws it, to be turned. Loaded before the rest of the
// script, which it calls. Drawn point by point into a picture of its own, so that it looks the same with and without a graphics card.
"use strict";

// What is shown: the scene it belongs to, the cloth, the drawing of the top that lies on it, and from where it is seen.
const hung = { scene: "", mesh: null, at: null, facing: null, furniture: [], top: null, topOf: -1, html: "", told: "" };
const seen = { turn: -0.5, height: 0.42 }; // from the foot, a little from the right and above; in radians
let draping = null; // what is being draped: a new object each time, so that one that was left knows it

const stillOnly = () => matchMedia("(prefers-reduced-motion: reduce)").matches;

// ---------------------------------------------------------------- asking

/** Asks for one frame after another until the cloth has settled, is stopped, or another is draped. */
async function drape() {
  const panel = $("drape");
  const mine = draping = { scene: panel.dataset.scene, revision };
  Object.assign(hung, { scene: mine.scene, mesh: null, html: "", told: "" });
  showDraping(0);
  try {
    await layTop(panel);
    for (let run = null; draping === mine;) {
      const has = hung.mesh ? hung.at.length / 3 : 0;
      const frame = await ask(panel.dataset.drape, JSON.stringify({ revision: mine.revision, run, has }));
      if (draping !== mine) return;
      if (!frame) {
        // The quilt was edited meanwhile; what followed from it is on its way, or comes when the page looks for it.
        await busy;
        return revision === mine.revision ? stopDraping(say("The quilt has changed meanwhile.")) : drape();
      }
      run = frame.run;
      take(frame);
      if (frame.finished) return settled(frame);
      showDraping(frame.done);
      if (!stillOnly()) paintBed();
      await new Promise(requestAnimationFrame);
    }
  } catch (error) {
    if (draping !== mine) return;
    stopDraping("");
    complain(error);
  }
}

function take({ mesh, at }) {
  if (mesh) {
    hung.mesh = { uv: mesh.flat, cells: Uint32Array.from(mesh.cells), fine: mesh.fine };
    hung.furniture = furniture(mesh.bed);
    hung.size = mesh.bed;
  }
  hung.at = Float32Array.from(at, (each) => each / hung.mesh.fine);
  hung.facing = facing(hung.at, hung.mesh.cells);
}

function settled({ html }) {
  hung.html = html;
  stopDraping(say("The quilt has settled."));
}

function stopDraping(told) {
  draping = null;
  hung.told = told;
  showResult();
}

function showDraping(done) {
  $("drape-stop").hidden = false;
  $("drape-again").hidden = true;
  $("drape-told").textContent = "";
  $("drape-result").innerHTML = "";
  $("drape-share").textContent = say("Settling, {share} % …", { share: Math.round(100 * done) });
}

function showResult() {
  $("drape-stop").hidden = true;
  $("drape-again").hidden = false;
  $("drape-share").textContent = "";
  $("drape-result").innerHTML = hung.html;
  $("drape-told").textContent = hung.told;
  paintBed();
}

/** The drawing of the top as dots of colour, fetched anew when the quilt has changed. */
async function layTop(panel) {
  if (hung.top && hung.topOf === revision) return;
  const at = revision;
  const svg = await (await fetch(panel.dataset.picture)).text();
  const [, , wide, high] = /viewBox="([^"]+)"/.exec(svg)[1].split(" ").map(Number);
  const scale = 1200 / Math.max(wide, high);
  const [width, height] = [Math.round(wide * scale), Math.round(high * scale)];
  const image = new Image();
  image.src = `data:image/svg+xml,${encodeURIComponent(svg.replace("<svg ", `<svg width="${width}" height="${height}" `))}`;
  await image.decode();
  const canvas = Object.assign(document.createElement("canvas"), { width, height });
  const pen = canvas.getContext("2d", { willReadFrequently: true });
  pen.drawImage(image, 0, 0, width, height);
  hung.top = { width, height, dots: new Uint32Array(pen.getImageData(0, 0, width, height).data.buffer) };
  hung.topOf = at;
}

// ---------------------------------------------------------------- shapes

/** Which way the cloth faces at each point: the sum over the cells about it. */
function facing(at, cells) {
  const sum = new Float32Array(at.length);
  for (let k = 0; k < cells.length; k += 4) {
    const [a, b, c, d] = [3 * cells[k], 3 * cells[k + 1], 3 * cells[k + 2], 3 * cells[k + 3]];
    const [ux, uy, uz] = [at[c] - at[a], at[c + 1] - at[a + 1], at[c + 2] - at[a + 2]];
    // The other diagonal; of a triangle its second side.
    const [vx, vy, vz] = c === d ? [at[c] - at[b], at[c + 1] - at[b + 1], at[c + 2] - at[b + 2]] : [at[d] - at[b], at[d + 1] - at[b + 1], at[d + 2] - at[b + 2]];
    const [x, y, z] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    for (const p of [a, b, c, d]) { sum[p] += x; sum[p + 1] += y; sum[p + 2] += z; }
  }
  for (let p = 0; p < sum.length; p += 3) {
    const long = Math.hypot(sum[p], sum[p + 1], sum[p + 2]) || 1;
    sum[p] /= long; sum[p + 1] /= long; sum[p + 2] /= long;
  }
  return sum;
}

const dot = (red, green, blue) => (255 << 24 | blue << 16 | green << 8 | red) >>> 0;
const COLOURS = { mattress: dot(236, 230, 218), wood: dot(176, 138, 102), floor: dot(226, 214, 194), lining: dot(222, 212, 196) };

/** Mattress, base, headboard, posts and floor as faces: four corners, the way they face, their colour. */
function furniture({ width, length, height, edge, metre, posts }) {
  const faces = [];
  const box = (x0, y0, z0, x1, y1, z1, colour) => {
    const p = (x, y, z) => [x ? x1 : x0, y ? y1 : y0, z ? z1 : z0];
    const face = (way, ...corners) => faces.push({ way, colour, corners: corners.map(([x, y, z]) => p(x, y, z)) });
    face([0, 0, 1], [0, 0, 1], [1, 0, 1], [1, 1, 1], [0, 1, 1]);
    face([0, -1, 0], [0, 0, 0], [1, 0, 0], [1, 0, 1], [0, 0, 1]);
    face([0, 1, 0], [0, 1, 0], [1, 1, 0], [1, 1, 1], [0, 1, 1]);
    face([-1, 0, 0], [0, 0, 0], [0, 1, 0], [0, 1, 1], [0, 0, 1]);
    face([1, 0, 0], [1, 0, 0], [1, 1, 0], [1, 1, 1], [1, 0, 1]);
  };
  const inside = 0.4 * edge; // sharp edges stay below the cloth, which lies round rounded ones
  const [x, y, top] = [width / 2 - inside, length / 2 - inside, height - inside];
  const base = Math.max(0, Math.min(0.5 * height, height - 0.3 * metre));
  box(-x, -y, base, x, y, top, COLOURS.mattress);
  if (base > 0) box(-x + inside, -y + inside, 0, x - inside, y, base, COLOURS.wood);
  box(-width / 2, length / 2 + 0.01 * metre, 0, width / 2, length / 2 + 0.05 * metre, height + 0.45 * metre, COLOURS.wood);
  for (const [px, py, thick, high] of posts) box(px - thick / 2, py - thick / 2, 0, px + thick / 2, py + thick / 2, high, COLOURS.wood);
  return faces;
}

// ---------------------------------------------------------------- drawing

/** What stands between the place of the eye and the picture: places in the room to dots of the picture. */
function eye(width, height) {
  const [ct, st, ch, sh] = [Math.cos(seen.turn), Math.sin(seen.turn), Math.cos(seen.height), Math.sin(seen.height)];
  const { width: w, length: l, height: h } = hung.size;
  const reach = 0.5 * Math.hypot(w, l) + 0.75 * h;
  const far = 3.2 * reach;
  return {
    right: [ct, st, 0], up: [-st * sh, ct * sh, ch], back: [st * ch, -ct * ch, sh],
    middle: [0, -0.04 * l, 0.5 * h], far, focus: 0.5 * Math.min(width, 1.45 * height) * far / reach, width, height,
  };
}

/** Writes a place as the picture has it into `to`: across, down, nearness. */
function project({ right, up, back, middle, far, focus, width, height }, x, y, z, to, k) {
  x -= middle[0]; y -= middle[1]; z -= middle[2];
  const near = 1 / (far - (x * back[0] + y * back[1] + z * back[2]));
  to[k] = width / 2 + focus * near * (x * right[0] + y * right[1]);
  to[k + 1] = height / 2 - focus * near * (x * up[0] + y * up[1] + z * up[2]);
  to[k + 2] = near;
}

/** A triangle of the points `a`, `b`, `c` of `p`: across, down, nearness, light, and the place on the top's drawing; or how solid it is there. */
function triangle(to, p, a, b, c, colour, top, fades) {
  const [x0, y0, x1, y1, x2, y2] = [p[a], p[a + 1], p[b], p[b + 1], p[c], p[c + 1]];
  const area = (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0);
  if (area === 0) return;
  const side = top ? (area < 0 ? 1 : -1) : 1; // seen from above, or from below
  const left = Math.max(0, Math.ceil(Math.min(x0, x1, x2) - 0.5));
  const last = Math.min(to.width - 1, Math.floor(Math.max(x0, x1, x2) - 0.5));
  const first = Math.max(0, Math.ceil(Math.min(y0, y1, y2) - 0.5));
  const lowest = Math.min(to.height - 1, Math.floor(Math.max(y0, y1, y2) - 0.5));
  const [acrossB, acrossC] = [(y2 - y0) / area, -(y1 - y0) / area];
  const [downB, downC] = [-(x2 - x0) / area, (x1 - x0) / area];
  for (let y = first; y <= lowest; y += 1) {
    let wb = (left + 0.5 - x0) * acrossB + (y + 0.5 - y0) * downB;
    let wc = (left + 0.5 - x0) * acrossC + (y + 0.5 - y0) * downC;
    for (let x = left, at = y * to.width + left; x <= last; x += 1, at += 1, wb += acrossB, wc += acrossC) {
      const wa = 1 - wb - wc;
      if (wa < -1e-6 || wb < -1e-6 || wc < -1e-6) continue;
      const near = wa * p[a + 2] + wb * p[b + 2] + wc * p[c + 2];
      if (near <= to.near[at]) continue;
      to.near[at] = near;
      let paint = colour;
      if (top && side > 0) {
        const u = wa * p[a + 4] + wb * p[b + 4] + wc * p[c + 4];
        const v = wa * p[a + 5] + wb * p[b + 5] + wc * p[c + 5];
        paint = top.dots[Math.min(top.height - 1, Math.max(0, v | 0)) * top.width + Math.min(top.width - 1, Math.max(0, u | 0))];
      }
      const light = shade(side * (wa * p[a + 3] + wb * p[b + 3] + wc * p[c + 3]));
      const solid = fades ? wa * p[a + 4] + wb * p[b + 4] + wc * p[c + 4] : 255;
      to.dots[at] = solid << 24 | (paint >> 16 & 255) * light << 16 | ((paint >> 8 & 255) * light & 255) << 8 | ((paint & 255) * light & 255);
    }
  }
}

/** How light a face is that looks towards the light by so much: never so dark that its pattern is lost. */
const shade = (towards) => (towards > 0 ? 0.45 + 0.55 * towards : 0.45 + 0.12 * towards);

/** The floor, darker under the bed and away from it lost in the ground of the page. */
function paintFloor(to, from, light) {
  const { width: w, length: l, metre } = hung.size;
  const n = 40;
  const far = 1.3 * metre;
  const [wide, long] = [w + 2 * far, l + 2 * far];
  const p = new Float32Array(6 * (n + 1) * (n + 1));
  for (let j = 0, k = 0; j <= n; j += 1) {
    for (let i = 0; i <= n; i += 1, k += 6) {
      const [x, y] = [wide * (i / n - 0.5), long * (j / n - 0.5)];
      const out = Math.hypot(Math.max(0, Math.abs(x) - w / 2), Math.max(0, Math.abs(y) - l / 2));
      project(from, x, y, -0.02 * metre, p, k);
      p[k + 3] = light - 0.5 * Math.exp(-out / (0.22 * metre));
      p[k + 4] = 255 * Math.max(0, 1 - out / far);
    }
  }
  for (let j = 0; j < n; j += 1) {
    for (let i = 0; i < n; i += 1) {
      const a = 6 * (j * (n + 1) + i);
      triangle(to, p, a, a + 6, a + 6 * (n + 2), COLOURS.floor, null, true);
      triangle(to, p, a, a + 6 * (n + 2), a + 6 * (n + 1), COLOURS.floor, null, true);
    }
  }
}

function paintFurniture(to, from, light) {
  const p = new Float32Array(24);
  for (const { way, colour, corners } of hung.furniture) {
    corners.forEach(([x, y, z], corner) => {
      project(from, x, y, z, p, 6 * corner);
      p[6 * corner + 3] = way[0] * light[0] + way[1] * light[1] + way[2] * light[2];
    });
    triangle(to, p, 0, 6, 12, colour, null);
    triangle(to, p, 0, 12, 18, colour, null);
  }
}

function paintCloth(to, from, light) {
  const { at, facing: way, mesh: { uv, cells }, top } = hung;
  const count = at.length / 3;
  const p = new Float32Array(6 * count);
  for (let i = 0; i < count; i += 1) {
    project(from, at[3 * i], at[3 * i + 1], at[3 * i + 2], p, 6 * i);
    p[6 * i + 3] = way[3 * i] * light[0] + way[3 * i + 1] * light[1] + way[3 * i + 2] * light[2];
    p[6 * i + 4] = uv[2 * i] * top.width / 10000;
    p[6 * i + 5] = uv[2 * i + 1] * top.height / 10000;
  }
  for (let k = 0; k < cells.length; k += 4) {
    triangle(to, p, 6 * cells[k], 6 * cells[k + 1], 6 * cells[k + 2], COLOURS.lining, top);
    triangle(to, p, 6 * cells[k], 6 * cells[k + 2], 6 * cells[k + 3], COLOURS.lining, top);
  }
}

function paintBed() {
  const canvas = $("drape-picture");
  if (!canvas || !hung.mesh || !hung.top) return;
  const wide = canvas.clientWidth || 400;
  // Twice as fine as the screen's own dots, which the browser evens out.
  const width = Math.min(1800, Math.round(wide * 2));
  const height = Math.round(width * 0.72);
  if (canvas.width !== width || canvas.height !== height) Object.assign(canvas, { width, height });
  const pen = canvas.getContext("2d");
  const image = pen.createImageData(width, height);
  const to = { width, height, dots: new Uint32Array(image.data.buffer), near: new Float32Array(width * height) };
  const from = eye(width, height);
  // The light comes over the left shoulder of whoever looks, so that folds show from every side.
  const light = [0, 1, 2].map((axis) => (-0.4 * from.right[axis] + 0.46 * from.up[axis] + 0.79 * from.back[axis]));
  paintFloor(to, from, 0.95);
  paintFurniture(to, from, light);
  paintCloth(to, from, light);
  pen.putImageData(image, 0, 0);
  canvas.setAttribute("aria-label", say("The quilt on its bed, seen {where}", { where: fromWhere() }));
}

/** In words, from where it is seen. */
function fromWhere() {
  const eighth = Math.round(seen.turn / (Math.PI / 4));
  const sides = [say("from the foot"), say("from the foot and its right side"), say("from its right side"), say("from the head and its right side"), say("from the head"), say("from the head and its left side"), say("from its left side"), say("from the foot and its left side")];
  const side = sides[((eighth % 8) + 8) % 8];
  return seen.height > 1 ? say("from high above, {side}", { side }) : side;
}

// ---------------------------------------------------------------- turning

function turn(across, up) {
  seen.turn += across;
  seen.height = Math.max(0.03, Math.min(1.5, seen.height + up));
  requestAnimationFrame(paintBed);
}

const QUARTER = Math.PI / 12;

document.addEventListener("click", ({ target }) => {
  const button = target.closest("#drape button");
  if (!button) return;
  if (button.dataset.turn) {
    const [across, up] = button.dataset.turn.split(" ").map(Number);
    turn(across * QUARTER, up * QUARTER / 2);
  } else if (button.id === "drape-stop") stopDraping(say("Stopped before the quilt had settled."));
  else if (button.id === "drape-again") drape();
});

document.addEventListener("keydown", (event) => {
  const way = { ArrowLeft: [1, 0], ArrowRight: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
  if (!way || event.target.id !== "drape-picture") return;
  event.preventDefault();
  turn(way[0] * QUARTER, way[1] * QUARTER / 2);
});

let dragged = null;
document.addEventListener("pointerdown", (event) => {
  if (event.target.id !== "drape-picture") return;
  dragged = [event.clientX, event.clientY];
  event.target.setPointerCapture(event.pointerId);
});
document.addEventListener("pointermove", (event) => {
  if (!dragged) return;
  turn((dragged[0] - event.clientX) / 150, (event.clientY - dragged[1]) / 200);
  dragged = [event.clientX, event.clientY];
});
for (const end of ["pointerup", "pointercancel"]) document.addEventListener(end, () => { dragged = null; });

// ---------------------------------------------------------------- when it is seen

/** Begins when the panel is seen with a scene that was not draped yet; else shows again what there is. */
async function lookAtBed() {
  const panel = $("drape");
  if (!panel?.dataset.drape || !panel.checkVisibility()) return;
  if (panel.dataset.scene !== (draping?.scene ?? hung.scene)) return drape();
  if (draping) return;
  await layTop(panel);
  showResult();
}

function watchBed() {
  let watched = null;
  const seeing = new IntersectionObserver((entries) => { if (entries.some((entry) => entry.isIntersecting)) lookAtBed().catch(complain); });
  const follow = () => {
    if ($("drape") === watched) return;
    seeing.disconnect();
    watched = $("drape");
    if (watched) seeing.observe(watched);
  };
  new MutationObserver(follow).observe(document.body, { childList: true, subtree: true });
  addEventListener("resize", () => requestAnimationFrame(paintBed));
  follow();
}
// The rest of the script has been loaded by then.
document.addEventListener("DOMContentLoaded", watchBed);
