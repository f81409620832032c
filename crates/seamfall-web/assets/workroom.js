// The workroom's own script: points, sends edits, repaints what changed. It computes nothing about the quilt.
"use strict";

const $ = (id) => document.getElementById(id);
const base = document.body.dataset.base;
let revision = Number(document.body.dataset.revision);
let chosen = ""; // id of the chosen element of the drawing
let shown = ""; // the stage that is shown
let exchanging = ""; // an exchange that waits for its other place
let busy = Promise.resolve(); // edits go one after another
let asked = 0;
let shuffles = revision; // what the next shuffle starts from

/** Sends a request and gives its data; what could not be done is thrown with the words of the answer. */
async function ask(path, body, kind = "application/json") {
  const how = body === undefined ? {} : { method: "POST", body, headers: { "content-type": kind } };
  let answer;
  try {
    answer = await fetch(path, how);
  } catch {
    throw Object.assign(new Error(say("the workroom does not answer; start `seamfall` again, nothing that was said to be done is lost")), { status: 0 });
  }
  noticeMay(answer.headers.get("seamfall-may"));
  if (answer.ok) return answer.headers.get("content-type").startsWith("text/html") ? answer.text() : answer.json();
  const trouble = await answer.json().catch(() => ({ problem: answer.statusText, places: [] }));
  throw Object.assign(new Error(trouble.problem), { status: answer.status, places: trouble.places, wasted: trouble.wasted });
}

/** Says above all else, and once, that the page is not what it should be, and what to do about it. */
function changedSince(text, label, act) {
  if ($("changed-since")) return;
  const box = Object.assign(document.createElement("div"), { id: "changed-since" });
  box.setAttribute("role", "alert");
  const button = Object.assign(document.createElement("button"), { type: "button", textContent: label });
  button.addEventListener("click", act);
  box.append(Object.assign(document.createElement("p"), { textContent: text }), button);
  const header = document.querySelector("body > header");
  if (header) header.append(box);
  else document.querySelector("main").prepend(box);
}

/** In a guild: every answer says what one may do with the quilt now, and the page was written for what one might do then. */
function noticeMay(may) {
  const then = document.documentElement.dataset.may;
  if (!then || !may || may === then) return;
  changedSince(say("What you may do with this quilt was changed while this page was open."), say("Show the page anew"), () => location.reload());
}

/** Says what a change would waste of what is sewn, and makes it only when that is wanted. */
function warnOfWaste(error, make) {
  complain(error);
  const list = document.createElement("ul");
  for (const line of error.wasted) list.append(Object.assign(document.createElement("li"), { textContent: line }));
  const all = Object.assign(document.createElement("button"), { id: "waste-it", textContent: say("Make the change all the same") });
  all.addEventListener("click", () => { $("message").hidden = true; make(); });
  const close = $("message").querySelector("button");
  close.textContent = say("Leave it as it is");
  close.before(list, all, " ");
  close.focus();
}

function complain(error) {
  const message = $("message");
  message.replaceChildren();
  const add = (tag, text, to = message) => to.appendChild(Object.assign(document.createElement(tag), { textContent: text }));
  add("p", error.message[0].toUpperCase() + error.message.slice(1) + (error.places?.length ? ":" : "."));
  if (error.places?.length) {
    const list = add("ul", "");
    for (const { line, column, reason, help } of error.places.slice(0, 20)) {
      const item = add("li", say("Line {line}, column {column}: {reason}", { line, column, reason }), list);
      if (help) add("p", say("Help: {help}", { help }), item).className = "help";
    }
  }
  add("button", say("Close")).addEventListener("click", () => { message.hidden = true; });
  message.hidden = false;
}

// ---------------------------------------------------------------- repainting

/** Runs `change`, then puts the focus, what was unfolded, ticked and chosen back by id. */
function keeping(change) {
  const focused = document.activeElement?.id;
  const open = [...document.querySelectorAll(".side details[id], #sewn details[id]")].map((each) => [each.id, each.open]);
  const ticked = [...document.querySelectorAll("[data-keep]")].map((each) => [each.id, each.checked]);
  const choices = [...document.querySelectorAll("[data-keep-choice]")].map((each) => [each.id, each.value]);
  change();
  for (const [id, is] of choices) if ([...($(id)?.options ?? [])].some((option) => option.value === is)) $(id).value = is;
  for (const [id, is] of open) if ($(id) instanceof HTMLDetailsElement) $(id).open = is;
  for (const [id, is] of ticked) if ($(id)) $(id).checked = is;
  if (focused && document.activeElement?.id !== focused) $(focused)?.focus({ preventScroll: true });
}

/** Elements parsed inside an svg, so that they are drawings and not unknown HTML. */
function drawn(markup) {
  const holder = document.createElement("template");
  holder.innerHTML = `<svg xmlns="http://www.w3.org/2000/svg">${markup}</svg>`;
  return [...holder.content.firstChild.children];
}

function fill(id, html) {
  $(id).innerHTML = html;
  delete $(id).dataset.stale;
}

/** The part of the page that the stage which is shown fills. */
const part = () => document.querySelector(`#stage-${shown} > div[id]`).id;

/** The parts of the page and the layers of the drawing that are seen: what changes elsewhere is fetched when it is shown. */
const showing = () => [part(), $("show-falls").checked && "falls", $("show-quilting").checked && "quilting"].filter(Boolean).join(" ");

const staleLayers = new Set();

/** Fetches a layer of the drawing that has changed while it was not shown. */
function layerUpToDate(layer) {
  if (!staleLayers.delete(layer)) return;
  busy = busy.then(async () => swapIn(await ask(`${base}layer/${layer}`))).catch(complain);
}

/** Puts elements of the drawing in the place of those of the same id. */
function swapIn(elements) {
  for (const fresh of drawn(elements.join(""))) {
    const old = $(fresh.id);
    if (old.classList.contains("place")) prepare(fresh, old.getAttribute("tabindex"));
    old.replaceWith(fresh);
  }
}

/** Has the part that is shown written, where the quilt has changed while it was not. */
function bringUpToDate() {
  busy = busy.then(async () => {
    const id = part();
    if ($(id).dataset.stale === undefined) return;
    const html = await ask(`${base}region/${id}`);
    keeping(() => fill(id, html));
    lessCloth();
  }).catch(complain);
}

function repaint(answer) {
  revision = answer.revision;
  keeping(() => {
    if (answer.whole) {
      $("drawing").innerHTML = answer.whole;
      view = null;
      staleLayers.clear();
      dress();
    } else {
      swapIn(answer.elements);
      for (const [id, name, value] of answer.attributes) $(id).setAttribute(name, value);
      if (answer.attributes.some(([, name]) => name === "viewBox")) sizeChanged();
      for (const layer of answer.stale_layers) staleLayers.add(layer);
      if (answer.names) svg().querySelector(".names").replaceWith(...drawn(answer.names));
    }
    for (const [id, html] of Object.entries(answer.regions)) fill(id, html);
    for (const id of answer.stale) $(id).dataset.stale = "";
    $("about").innerHTML = answer.about;
    if (chosen && !$(chosen) && !course()) chosen = "";
    if (answer.colours) $("cloth-colours").href = `${base}cloths.css?${revision}`;
    for (const [id, what] of [["undo", answer.undo], ["redo", answer.redo]].filter(([id]) => $(id))) {
      $(id).disabled = what === null;
      $(id).title = what ?? "";
    }
  });
  if (answer.regions.head) document.title = `${$("head").querySelector("h1").textContent} - Seamfall`;
  outline();
  lessCloth();
  if (answer.said) $("said").textContent = answer.said;
  $("message").hidden = true;
}

/** Shows the quilt as it stands now, whatever was shown before. */
const repaintAll = async () => repaint(await ask(`${base}state?about=${encodeURIComponent(panel())}&shown=${encodeURIComponent(showing())}`));

/** Sends `what` with the state that is shown, after all that was sent before. */
function send(where, what = {}) {
  busy = busy.then(async () => {
    try {
      repaint(await ask(base + where, JSON.stringify({ revision, about: panel(), shown: showing(), ...what })));
    } catch (error) {
      if (error.wasted?.length) {
        keeping(restore);
        return warnOfWaste(error, () => send(where, { ...what, waste: true }));
      }
      if (error.status === 409 && where === "edit") await repaintAll();
      else keeping(restore);
      complain(error);
    }
  }).catch(complain);
  return busy;
}

/** Fields show again what stands in the quilt. */
function restore() {
  for (const input of document.querySelectorAll(".side input[data-edit], .side input.measure, .side input[data-noted], form[data-at-once] input")) [input.value, input.checked] = [input.defaultValue, input.defaultChecked];
  for (const select of document.querySelectorAll(".side select")) for (const option of select.options) option.selected = option.defaultSelected;
}

/** The day by this machine's calendar. */
function today() {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, "0")).join("-");
}

/** An edit with `$`, `$today` and `$name` filled in. */
function filled(edit, value, form) {
  return JSON.parse(edit, (_, each) => {
    if (typeof each !== "string" || !each.startsWith("$")) return each;
    if (each === "$") return value;
    if (each === "$today") return today();
    const field = form.elements[each.slice(1)];
    return field.type === "number" ? Number(field.value) : field.value;
  });
}

// ---------------------------------------------------------------- what takes longer

let stopped = true;

/** Runs the steps of a task, tells how far it is, and ends when it is done, stopped, or the quilt has changed. */
async function run(task) {
  const at = revision;
  stopped = false;
  $("stop-task").hidden = false;
  const told = (text) => { $("turning").textContent = text; $("said").textContent = text; };
  try {
    await (task === "search" ? searchOn : tryTurns)(() => stopped || revision !== at, told);
  } catch (error) {
    complain(error);
  }
  stopped = true;
  if ($("stop-task")) $("stop-task").hidden = true;
}

/** Searches for the proof twice as long each time. */
async function searchOn(ended, told) {
  for (let effort = 1; effort <= 64 && !ended(); effort *= 2) {
    told(say("Searching {effort} times as long as usual …", { effort }));
    const answer = await ask(`${base}search`, JSON.stringify({ revision, about: panel(), shown: showing(), effort }));
    if (ended()) return;
    repaint(answer);
    if (!$("search-on")) return;
    $("stop-task").hidden = false;
  }
  if (!ended()) told(say("The search has come to its end without a proof."));
}

/** Tries turns, eight at a time. */
async function tryTurns(ended, told) {
  let best = null;
  for (let step = 0, steps = 1; step < steps && !ended(); step += 1) {
    const answer = await ask(`${base}turning?revision=${revision}&step=${step}`);
    steps = answer.steps;
    if (answer.stacks !== null && (best === null || answer.stacks < best.stacks)) best = answer;
    if (best?.stacks === 0) break;
    told(say("Tried {step} of {steps} times eight turns …", { step: step + 1, steps }));
  }
  if (ended() && !best) return told("");
  if (!best) return told(say("No turn that was tried leaves fewer stacks."));
  $("turning").innerHTML = best.html;
  $("said").textContent = $("turning").querySelector("p").textContent;
}

let mayLook = true; // whether less cloth is looked for without being asked

/** Looks for less cloth, one cloth after another, as long as the cut stage is shown. */
function lessCloth() {
  const line = $("less-cloth");
  if (!line) return;
  $("less-cloth-stop").hidden = !mayLook;
  $("less-cloth-go").hidden = mayLook;
  if (mayLook && !$("stage-cut").hidden) {
    const left = line.dataset.left;
    // What was sent before comes first; it may have changed what there is to look for.
    busy.then(() => { if ($("less-cloth")?.dataset.left === left && mayLook && !lookingAt) step(); });
  }
  async function step() {
    const left = line.dataset.left;
    lookingAt = true;
    await send("cloth/search");
    lookingAt = false;
    // Nothing came of it: the server is away, or asks for patience.
    if ($("less-cloth")?.dataset.left === left) setTimeout(lessCloth, 4000);
    else lessCloth();
  }
}

let lookingAt = false;

function looking(may) {
  mayLook = may;
  lessCloth();
}

// ---------------------------------------------------------------- the drawing

const svg = () => $("drawing").firstElementChild;
const places = () => svg().querySelectorAll("g.place");

/** A place can have the focus; one of them is in the order of the Tab key. */
function prepare(place, tabindex) {
  place.setAttribute("tabindex", tabindex);
  place.setAttribute("role", "button");
  place.setAttribute("aria-label", place.querySelector("title")?.textContent ?? place.id);
}

function dress() {
  let first = "0";
  for (const place of places()) {
    prepare(place, first);
    first = "-1";
  }
  show();
}

function show() {
  const picture = svg();
  picture.classList.remove("cloths", "values", "lines");
  picture.classList.add(document.querySelector("[name=paint]:checked").value);
  picture.classList.toggle("with-names", $("show-names").checked);
  picture.classList.toggle("with-sections", $("show-sections").checked);
  for (const layer of ["falls", "quilting"]) {
    picture.classList.toggle(`with-${layer}`, $(`show-${layer}`).checked);
    if ($(`show-${layer}`).checked) layerUpToDate(layer);
  }
  $("legend").hidden = !$("show-falls").checked;
}

// What the drawing shows is kept from visit to visit, where the browser lets it be kept.
const switches = () => document.querySelectorAll(".view input");
const kept = "seamfall.shown";

function keepShown() {
  try {
    localStorage.setItem(kept, JSON.stringify([...switches()].filter((each) => each.checked).map((each) => each.id || each.value)));
  } catch { /* then it is not kept */ }
}

function showKept() {
  try {
    const shown = JSON.parse(localStorage.getItem(kept));
    if (shown) for (const each of switches()) each.checked = shown.includes(each.id || each.value);
  } catch { /* then all is as usual */ }
}

/** Draws a line round what is chosen, above everything else. */
function outline() {
  svg().querySelector("#pick")?.remove();
  const seam = chosen && course();
  if (seam) {
    const lines = ["under", "over"].map((kind) => `<path class="${kind}" d="${seam}"/>`).join("");
    const pick = drawn(`<g id="pick" class="seam" pointer-events="none">${lines}</g>`)[0];
    svg().querySelector(".falls").before(pick);
    return;
  }
  const element = chosen && $(chosen);
  if (!element) return;
  const pick = drawn('<g id="pick" pointer-events="none"></g>')[0];
  const of = element.matches("g") ? element.querySelectorAll("path") : [element];
  const moved = element.closest("g.place")?.getAttribute("transform");
  if (moved) pick.setAttribute("transform", moved);
  for (const kind of ["under", "over", "cover"]) {
    for (const path of of) {
      const line = document.createElementNS("http://www.w3.org/2000/svg", "path");
      line.setAttribute("d", path.getAttribute("d"));
      if (kind === "cover" && path.hasAttribute("fill")) line.setAttribute("fill", path.getAttribute("fill"));
      if (path.hasAttribute("transform")) line.setAttribute("transform", path.getAttribute("transform"));
      line.setAttribute("class", kind === "cover" ? `cover ${path.getAttribute("class")}` : kind);
      pick.append(line);
    }
  }
  $("quilting").before(pick);
}

/** The place of an element; of a seam the one it is seen from, else that of the first piece it joins. */
const placeOf = (id) => ($(id) ?? $(id?.split("~")[2]) ?? $(id?.split(/[.~]/)[0]))?.closest("#drawing g.place");

/** The course of the seam that is chosen, as the panel has it; nothing when no seam is. */
const course = () => $("about").querySelector("[data-course]")?.dataset.course;

const isSeam = (id) => id.includes("~");

/** Stages at which pointing at something asks about its section. */
const ofSections = ["lap", "true"];

/** What the panel is about: of what is chosen its quilting, or what is sewn of it, while that is worked on. */
const panel = () => (ofSections.includes(shown) && !isSeam(chosen) ? `${shown}:${chosen}` : chosen);

/** Chooses an element of the drawing and shows what it is. */
async function choose(id, focus = false) {
  if (exchanging && id) {
    const other = placeOf(id);
    if (!other) return;
    const [, letters, number] = /^([A-Z]+)(\d+)$/.exec(other.id);
    const row = [...letters].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0) - 1;
    const edit = JSON.parse(exchanging, (_, each) => (each === "$row" ? row : each === "$number" ? Number(number) - 1 : each));
    leaveExchange();
    return send("edit", { edit });
  }
  chosen = id;
  const place = placeOf(id);
  if (place) {
    for (const other of svg().querySelectorAll('g.place[tabindex="0"]')) other.setAttribute("tabindex", "-1");
    place.setAttribute("tabindex", "0");
    if (focus) place.focus({ preventScroll: true });
  }
  if (isSeam(id) && !$("show-falls").checked) $("show-falls").click();
  if (!isSeam(id)) outline();
  if (id) stage(isSeam(id) ? "fall" : ofSections.includes(shown) ? shown : "set");
  return tellAbout();
}

/** Fetches the panel about what is chosen. */
function tellAbout() {
  const mine = ++asked;
  busy = busy.then(async () => {
    if (mine !== asked) return;
    const html = await ask(`${base}about/${encodeURIComponent(panel() || "none")}`);
    keeping(() => { $("about").innerHTML = html; });
    outline();
    document.querySelector(".side").scrollTop = 0;
    if (chosen) $("said").textContent = $("about").querySelector("[data-said]")?.dataset.said ?? $("about").querySelector("h2")?.textContent ?? "";
  }).catch(complain);
  return busy;
}

function leaveExchange() {
  exchanging = "";
  $("drawing").classList.remove("waiting");
}

/** Goes to the nearest place that lies in a direction. */
function go(dx, dy) {
  const all = [...places()];
  const here = placeOf(document.activeElement.id) ?? placeOf(chosen);
  if (!here) return choose(all[0]?.id ?? "", true);
  const middle = (place) => { const box = boxOf(place); return [box.x + box.width / 2, box.y + box.height / 2]; };
  const [x, y] = middle(here);
  let best = null;
  let least = Infinity;
  for (const place of all) {
    const [px, py] = middle(place);
    const along = (px - x) * dx + (py - y) * dy;
    const aside = Math.abs((px - x) * dy) + Math.abs((py - y) * dx);
    if (along <= 1e-6 || aside > along * 1.5) continue;
    if (along + 2 * aside < least) [best, least] = [place, along + 2 * aside];
  }
  if (!best) return;
  if (!exchanging) return choose(best.id, true);
  best.setAttribute("tabindex", "0");
  best.focus({ preventScroll: true });
}

/** The next patch of the place that is chosen. */
function nextPatch() {
  const place = placeOf(chosen);
  if (!place) return;
  const patches = [...place.querySelectorAll("path")].filter((path) => /\.[po]\d+$/.test(path.id));
  const at = patches.findIndex((path) => path.id === chosen);
  if (patches.length) choose(patches[(at + 1) % patches.length].id);
}

/** The seam after or before the one that is chosen. */
function step(by) {
  busy = busy.then(() => { $("about").querySelector(`[data-step="${by}"]`)?.click(); });
}

// ---------------------------------------------------------------- the page

function stage(name) {
  const before = panel();
  shown = name;
  if (name === "lap" && !$("show-quilting").checked) $("show-quilting").click();
  for (const each of document.querySelectorAll("section.stage")) each.hidden = each.id !== `stage-${name}`;
  for (const each of document.querySelectorAll("[data-stage]")) {
    if (each.dataset.stage === name) {
      each.setAttribute("aria-current", "step");
      each.parentElement.scrollTo({ left: each.offsetLeft - each.parentElement.clientWidth / 2 + each.offsetWidth / 2 });
    }
    else each.removeAttribute("aria-current");
  }
  $("about").hidden = name !== "set" && !(ofSections.includes(name) && chosen) && !(name === "fall" && isSeam(chosen));
  if (panel() !== before && chosen) tellAbout();
  bringUpToDate();
  lessCloth();
}

/** Shows a stage, and in it what is to be looked at, unfolded. */
function goTo(name, id) {
  stage(name);
  if (id) busy = busy.then(() => pointOut($(id)));
}

function pointOut(element) {
  if (!element) return;
  for (let fold = element.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
  element.scrollIntoView({ block: "center" });
  const control = element.matches("input, select, button, summary") ? element : element.querySelector("summary, input, select, button");
  control?.focus({ preventScroll: true });
  element.classList.add("pointed-out");
  setTimeout(() => element.classList.remove("pointed-out"), 2500);
}

/** Stages at which the parts of the quilt file are decided. */
const decidedAt = {
  bed: "fit", corners: "fit", cloth: "cloths", block: "draft", way: "piece", fall: "fall", backing: "cut", batting: "cut", reserve: "cut",
  lap: "lap", quilting: "lap", join: "join", binding: "finish", finish: "finish", sleeve: "finish", label: "finish", cover: "finish",
};

/** Leads to the control of a value of the quilt file. */
function goToControl(path) {
  stage(decidedAt[path[0]] ?? "set");
  busy = busy.then(() => {
    const wanted = path.join("\n");
    const makes = (control) => [control.dataset.edit, ...[...(control.options ?? [])].map((option) => option.dataset.edit)];
    const is = (edit) => edit && (JSON.parse(edit).path ?? []).slice(0, path.length).join("\n") === wanted;
    const controls = [...document.querySelectorAll(`#stage-${shown} :is(input, select, form, button)`)];
    pointOut(controls.find((control) => makes(control).some(is)));
  }).catch(complain);
}

/** The stage after or before the one that is shown. */
function nextStage(by) {
  const all = [...document.querySelectorAll("[data-stage]")];
  const next = all[all.findIndex((each) => each.dataset.stage === shown) + by];
  if (!next) return;
  stage(next.dataset.stage);
  $("said").textContent = next.textContent.trim();
}

function onClick(event) {
  if (!event.target.closest("#menu")) $("menu").open = false;
  const button = event.target.closest("button");
  const data = button?.dataset;
  if (!data) return;
  if (data.stage) stage(data.stage);
  else if (data.play) playNeedle(button);
  else if (data.task) { if (stopped) run(data.task); }
  else if (button.id === "stop-task") stopped = true;
  else if (button.id === "less-cloth-stop") looking(false);
  else if (button.id === "less-cloth-go") looking(true);
  else if (data.go?.startsWith("stage:")) goTo(...data.go.slice(6).split(" "));
  else if (data.decide) goToControl(JSON.parse(data.decide));
  else if (data.go || data.look) {
    if (data.look) lookAt(...data.look.split(" ").map(Number));
    if (data.go) choose(data.go);
  }
  else if (data.shuffle) send("shuffle", { manner: data.shuffle, block: $("shuffle-block").value, seed: (shuffles += 1) });
  else if (data.exchange) {
    exchanging = data.exchange;
    $("drawing").classList.add("waiting");
    $("said").textContent = say("Point at the other place, or go there with the arrows and press Enter. Esc leaves it.");
    placeOf(chosen)?.focus({ preventScroll: true });
  } else if (data.note) send("ledger", { edit: filled(data.note, "") });
  else if (data.edit) {
    const everywhere = data.everywhere && button.closest("fieldset").querySelector("[data-keep]")?.checked;
    send("edit", { edit: JSON.parse(everywhere ? data.everywhere : data.edit) });
  }
}

/** Asks for settings that reach the size of the bed, after all that was sent before. */
function findSettings(form) {
  const asked = new URLSearchParams(new FormData(form));
  $("said").textContent = say("Looking for settings …");
  busy = busy.then(async () => {
    $("settings-found").innerHTML = await ask(`${base}${form.dataset.find}?${asked}`);
    $("message").hidden = true;
    $("said").textContent = $("settings-found").querySelector("p").textContent;
    $("settings-found").scrollIntoView({ block: "start" });
  }).catch(complain);
}

/** Sends the SVG file that was chosen and sets the design's path to its lines. */
function bringDrawing(target) {
  const [file] = target.files;
  target.value = "";
  if (!file) return;
  // The server refuses it too; this spares sending it.
  if (file.size > 1024 * 1024) return complain(new Error(say("{name} is larger than 1 MiB; draw it with fewer points", { name: file.name })));
  ask("/drawing", file, "image/svg+xml").then((path) => send("edit", { edit: filled(target.dataset.drawing, path) })).catch(complain);
}

/** Notes the sides that were typed: one, two with an x, or four with semicolons between them. */
function noteMeasure({ dataset, value }) {
  const sides = value.trim() ? value.trim().split(/\s*[x×;]\s*/) : null;
  send("ledger", { edit: { do: "measure", section: dataset.section, sides, date: today() } });
}

function onChange(event) {
  const { target } = event;
  if (target.matches(".measure")) return noteMeasure(target);
  if (target.dataset.noted) return send("ledger", { edit: filled(target.value ? target.dataset.noted : target.dataset.notedEmpty, target.value) });
  if (target.dataset.drawing) return bringDrawing(target);
  if (target.matches(".view input")) return [show(), keepShown()];
  const form = target.closest("form[data-at-once]");
  if (form) return form.reportValidity() && send("edit", { edit: filled(form.dataset.edit, "", form) });
  const edit = target.matches("select") ? target.selectedOptions[0].dataset.edit : target.dataset.edit;
  const value = target.type === "number" ? Number(target.value) : target.value;
  if (target.value === "" && target.dataset.empty) send("edit", { edit: JSON.parse(target.dataset.empty) });
  else if (edit) send("edit", { edit: filled(edit, value) });
}

function onKey(event) {
  const { key, target } = event;
  const typing = target.matches("input:not([type=checkbox], [type=radio]), select, textarea");
  const command = event.ctrlKey || event.metaKey;
  const act = (does) => { event.preventDefault(); does(); };
  // Enter goes to the next line, as in a table; leaving the field notes it.
  if (key === "Enter" && target.matches(".measure")) {
    const all = [...document.querySelectorAll(".measure")];
    act(() => (all[all.indexOf(target) + 1] ?? target).focus());
  }
  if (command && !typing) {
    if (key.toLowerCase() === "z") act(() => $(event.shiftKey ? "redo" : "undo")?.click());
    if (key.toLowerCase() === "y") act(() => $("redo")?.click());
  }
  if (command || event.altKey || typing || document.querySelector("dialog[open]")) return;
  const onDrawing = target.closest("#drawing") || target === document.body;
  const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[key];
  if (way && onDrawing && isSeam(chosen)) act(() => step(way[0] + way[1]));
  else if (way && onDrawing) act(() => go(...way));
  else if ((key === "Enter" || key === " ") && target.matches("g.place")) act(() => choose(target.id, true));
  else if (key === "Escape") act(() => (exchanging ? leaveExchange() : choose((isSeam(chosen) && placeOf(chosen)?.id) || "", true)));
  else if (key === "f") act(() => $("show-falls").click());
  else if (key === "q") act(() => $("show-quilting").click());
  else if (key === "?") act(() => $("keys").showModal());
  else if (key === "/") act(openFind);
  else if (key === "[" || key === "]") act(() => nextStage(key === "]" ? 1 : -1));
  else if (key === "+") act(() => zoom(1.5));
  else if (key === "-") act(() => zoom(1 / 1.5));
  else if (key === "0") act(() => look(zoomed() && all));
  else if (key === "p") act(nextPatch);
  else if (/^[a-z]$/.test(key) && chosen) act(() => { busy = busy.then(() => { document.querySelector(`#about [data-key="${key}"]`)?.click(); }); });
}

function startWorkroom() {
  showKept();
  dress();
  stage("set");
  listenToPointers($("drawing"));
  document.addEventListener("click", onClick);
  document.addEventListener("change", onChange);
  document.addEventListener("keydown", onKey);
  document.addEventListener("submit", (event) => {
    const { find } = event.target.dataset;
    const edit = event.submitter?.dataset.formEdit ?? event.target.dataset.edit;
    if (!edit && !find) return;
    event.preventDefault();
    if (find) return findSettings(event.target);
    send("edit", { edit: filled(edit, "", event.target) });
  });
  followElsewhere(() => revision, repaintAll);
  $("undo")?.addEventListener("click", () => send("undo"));
  $("redo")?.addEventListener("click", () => send("redo"));
  $("show-keys").addEventListener("click", () => $("keys").showModal());
  $("show-find").addEventListener("click", openFind);
  listenToFind();
  $("zoom-in").addEventListener("click", () => zoom(1.5));
  $("zoom-out").addEventListener("click", () => zoom(1 / 1.5));
  $("zoom-fit").addEventListener("click", () => look(zoomed() && all));
}

let sewnAt = Number(document.body.dataset.revision); // the state of the quilt that the sewing page shows

/** Ticks something off on the sewing page. */
function tickOff(edit) {
  busy = busy.then(async () => {
    try {
      showSewn(await ask(`${base}tick`, JSON.stringify({ revision: sewnAt, edit: filled(edit, "") })));
    } catch (error) {
      if (error.status === 409) showSewn(await ask(`${base}sewn`));
      complain(error);
    }
  }).catch(complain);
}

function showSewn({ revision: at, html, said }) {
  sewnAt = at;
  keeping(() => { $("sewn").innerHTML = html; });
  if (said) $("said").textContent = said;
  $("message").hidden = true;
}

/** Looks now and then whether the quilt has changed elsewhere: on a phone, in another window. */
function followElsewhere(known, follow) {
  setInterval(() => {
    if (document.hidden) return;
    busy = busy.then(async () => {
      const now = await ask(`${base}revision`);
      if (known() !== now) await follow(now);
    }).catch(({ status }) => {
      // Else it is asked again.
      if (!document.documentElement.dataset.may || ![401, 404].includes(status)) return;
      changedSince(say("This quilt is not open to you any more: it was taken away, is no longer shared with you, or you were signed out. What you see is as it was."), say("All quilts"), () => location.assign("/quilts"));
    });
  }, 4000);
}

function startSewing() {
  followElsewhere(() => sewnAt, async () => showSewn(await ask(`${base}sewn`)));
}

function startPlain() {
  if (document.body.matches(".sewing")) startSewing();
  $("give")?.addEventListener("submit", (event) => {
    event.preventDefault();
    const { role, hours } = event.target.elements;
    ask(event.target.dataset.give, JSON.stringify({ do: "give", role: role.value, hours: Number(hours.value) })).then(() => location.reload()).catch(complain);
  });
  const open = (asking) => asking.then((answer) => location.assign(answer.open)).catch(complain);
  document.addEventListener("click", (event) => {
    const button = event.target.closest("button");
    const data = button?.dataset ?? {};
    if (data.play) playNeedle(button);
    if (data.tick) tickOff(data.tick);
    if (data.share) ask(data.share, data.body).then(() => location.reload()).catch(complain);
    if (data.new) open(ask(`/new/${data.new}`, ""));
    if (data.remove && confirm(say("Take this quilt away, with all its edits? This cannot be undone."))) open(ask(data.remove, ""));
  });
  const send = (to, body) => ask(to, JSON.stringify(body)).then((answer) => location.assign(answer.open)).catch((error) => {
    if (error.wasted?.length) warnOfWaste(error, () => send(to, { ...body, waste: true }));
    else complain(error);
  });
  document.addEventListener("click", (event) => {
    const { send: to, body, confirm: sure } = event.target.closest("button")?.dataset ?? {};
    if (to && (!sure || confirm(sure))) send(to, body ? JSON.parse(body) : {});
  });
  document.addEventListener("submit", (event) => {
    const { send: to, several } = event.target.dataset;
    if (to) {
      event.preventDefault();
      send(to, Object.fromEntries(new FormData(event.target)));
    } else if (several) {
      event.preventDefault();
      const chosen = new FormData(event.target).getAll("with");
      if (chosen.length < 2 || chosen.length > Number(several)) return complain(new Error(say("two or {several} can be laid side by side, and {ticked} are ticked", { several, ticked: chosen.length })));
      location.assign(`${event.target.getAttribute("action")}?with=${chosen.join(",")}`);
    }
  });
  document.addEventListener("submit", (event) => {
    const keep = event.target.dataset.keep;
    if (!keep) return;
    event.preventDefault();
    open(ask(keep, JSON.stringify({ into: Number(event.target.elements.into.value) })));
  });
  document.addEventListener("change", ({ target }) => {
    const into = target.dataset.bring;
    if (!into) return;
    const [file] = target.files;
    target.value = "";
    if (!file) return;
    // The server refuses it too; this spares sending it.
    if (file.size > 2 * 1024 * 1024) return complain(new Error(say("{name} is larger than 2 MiB, which no quilt file needs to be", { name: file.name })));
    open(ask(into, file, "application/toml"));
  });
}

document.addEventListener("click", ({ target }) => {
  const light = target.closest("[data-light]")?.dataset.light;
  if (light !== undefined && target.closest("button")) chooseLight(light);
});
if (document.body.matches(".workroom")) startWorkroom();
else startPlain();
