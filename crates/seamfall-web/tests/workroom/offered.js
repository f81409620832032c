// Uses whatever a page offers, as a hand would that tries everything, and notes what is asked of the server. What would change something is noted and
// held back, so that the page stays as it was.
window.recorded = new Set();
{
  const really = window.fetch;
  // A member may ask twenty times a second in the long run.
  let turn = Promise.resolve();
  const paced = (to, how) => {
    turn = turn.then(() => new Promise((done) => setTimeout(done, 60)));
    return turn.then(() => really(to, how));
  };
  window.fetch = (to, how = {}) => {
    const { pathname } = new URL(to, location);
    const method = how.method ?? "GET";
    recorded.add(`${method} ${pathname}`);
    // After every refusal the class is written anew, which a test need not wait for.
    if (pathname.endsWith("/class/state")) return Promise.reject(new TypeError("held back"));
    return method === "GET" || /\/(search|drape)$/.test(pathname) ? paced(to, how) : Promise.reject(new TypeError("held back"));
  };
  window.confirm = () => true;
  // A form that no script takes up goes to its own address.
  window.addEventListener("submit", (event) => {
    if (event.defaultPrevented) return;
    event.preventDefault();
    if (event.target.getAttribute("method") !== "dialog") recorded.add(`${event.target.getAttribute("method") === "post" ? "POST" : "GET"} ${new URL(event.target.getAttribute("action") ?? "", location).pathname}`);
  });
}

const settled = async () => {
  for (let now; now !== busy;) {
    now = busy;
    await now;
  }
};

const change = (field) => field.dispatchEvent(new Event("change", { bubbles: true }));

function useField(field) {
  if (field.matches("select")) field.selectedIndex = (field.selectedIndex + 1) % field.options.length;
  else if (field.type === "checkbox" || field.type === "radio") field.checked = !field.checked;
  else if (field.type === "file") {
    const files = new DataTransfer();
    files.items.add(new File(["<svg/>"], "x.toml"));
    field.files = files.files;
  } else if (field.value === "") field.value = field.type === "date" ? "2026-03-07" : "1";
  change(field);
}

/** Uses every control of the page, or of a part of it, that is enabled, folded up or not. */
async function useAll(part = document) {
  for (const fold of part.querySelectorAll("details")) fold.open = true;
  await new Promise((done) => setTimeout(done, 50));
  await settled();
  // A part of the page that was refused something may be written anew: what is used next is looked for in what there is then.
  const used = new Set();
  for (;;) {
    const all = [...part.querySelectorAll("button, input, select, textarea, a[href], [data-motif], form[data-at-once]")];
    const each = all.find((one) => !one.matches(":disabled, [data-stage], [data-light], #changed-since *") && !used.has(one.id || one.outerHTML));
    if (!each) return;
    used.add(each.id || each.outerHTML);
    if (each.matches("a")) {
      const to = new URL(each.href);
      if (to.origin === location.origin) recorded.add(`GET ${to.pathname}`);
    } else if (each.matches("button")) {
      for (const field of each.form?.querySelectorAll("[required]") ?? []) if (!field.value) useField(field);
      each.click();
    } else if (each.matches("form")) {
      if (![...each.elements].every((field) => field.matches(":disabled"))) change(each.elements[0]);
    } else if (each.matches("[data-motif]")) each.dispatchEvent(new MouseEvent("click", { bubbles: true }));
    else useField(each);
    await settled();
    for (const dialog of document.querySelectorAll("dialog[open]")) dialog.close();
  }
}

/** Presses every key of the workroom that does something with what is chosen. */
async function pressAll() {
  for (const [key, more] of [..."lrmpxabonsfq"].map((key) => [key, {}]).concat([["z", { ctrlKey: true }], ["y", { ctrlKey: true }], ["z", { ctrlKey: true, shiftKey: true }]])) {
    document.body.dispatchEvent(new KeyboardEvent("keydown", { key, bubbles: true, cancelable: true, ...more }));
    await settled();
  }
}

/** One of each kind of thing that the drawing has: a place, a patch, a strip, a band. */
function kinds() {
  const first = new Map();
  for (const { id } of svg().querySelectorAll("[id]")) {
    const kind = id.replace(/^[A-Z]+\d+/, "place").replace(/\d+/g, "n");
    if (!first.has(kind)) first.set(kind, id);
  }
  return [...first.values()];
}

/** Uses what a stage has. */
async function useStage(name) {
  stage(name);
  await settled();
  await useAll($(`stage-${name}`));
}

/** Uses what is offered about each kind of thing that the drawing has, in a stage. */
async function useAbout(name) {
  for (const id of name === "set" ? kinds() : [document.querySelector("g.place").id]) {
    stage(name);
    await choose(id, true);
    await settled();
    if (!chosen) continue;
    if (name === "set") await pressAll();
    await useAll($("about"));
  }
}

/** The same of a seam. */
async function useSeam() {
  await choose(document.querySelector("g.place").id, true);
  await settled();
  document.querySelector("#seams-of-place")?.click();
  await settled();
  await pressAll();
  await useAll($("about"));
}
