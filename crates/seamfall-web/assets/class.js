// The page of a class: sends its edits one after another and shows what the answer says. Loaded before the rest of the script, which it calls.
"use strict";

const classPage = {
  at: Number(document.body.dataset.classRevision),
  open: new Set(),
};

/** Sends something about the class; when it was changed elsewhere it is shown as it is now, and said so. */
function sendClass(to, body) {
  busy = busy.then(async () => {
    try {
      showClass(await ask(`${base}class/${to}`, JSON.stringify({ revision: classPage.at, ...body })));
    } catch (error) {
      // What was typed and refused, or overtaken, must not stay as if it were so.
      const before = classPage.at;
      showClass(await ask(`${base}class/state`));
      complain(error.status === 409 && classPage.at !== before
        ? new Error(say("the class was changed in another window in the meantime; it is shown as it is now, then make the change again"))
        : error);
    }
  }).catch(complain);
}

function showClass({ revision: at, html, said }) {
  classPage.at = at;
  const open = [...document.querySelectorAll("#class details[id]")].map((each) => [each.id, each.open]);
  const scrolled = window.scrollY;
  keeping(() => {
    $("class").innerHTML = html;
    for (const [id, is] of open) if ($(id)) $(id).open = is;
  });
  window.scrollTo(window.scrollX, scrolled);
  $("message").hidden = true;
  if (said) $("said").textContent = said[0].toUpperCase() + said.slice(1);
}

/** An edit with what is typed put in the place of `$`. */
function classEdit(text, value) {
  return JSON.parse(text, (_, each) => (each === "$" ? value : each));
}

document.addEventListener("change", ({ target }) => {
  const group = target.closest("[data-class-work]");
  if (group) {
    const work = [...group.querySelectorAll("input:checked")].map((each) => each.value);
    return sendClass("edit", { edit: { ...JSON.parse(group.dataset.classWork), work } });
  }
  if (target.matches("[data-class-days]")) {
    const days = target.value.split(/[,;\s]+/).filter(Boolean);
    return sendClass("edit", { edit: { do: "without", days } });
  }
  if (target.matches("select")) {
    const edit = target.selectedOptions[0]?.dataset.class;
    return edit && sendClass("edit", { edit: JSON.parse(edit) });
  }
  const { class: edit, empty } = target.dataset;
  if (!edit) return;
  const typed = target.value.trim();
  if (typed === "" && empty) return sendClass("edit", { edit: JSON.parse(empty) });
  sendClass("edit", { edit: classEdit(edit, target.type === "number" && typed !== "" ? Number(typed) : typed) });
});

document.addEventListener("click", (event) => {
  const { classDo, classStep } = event.target.closest("button")?.dataset ?? {};
  if (classDo) sendClass("edit", { edit: JSON.parse(classDo) });
  if (classStep) sendClass(classStep, {});
});

document.addEventListener("submit", (event) => {
  const form = event.target;
  if ("classBegin" in form.dataset) {
    event.preventDefault();
    const { name, students, last_day } = Object.fromEntries(new FormData(form));
    return sendClass("begin", { name, students: Number(students), last_day });
  }
  const edit = form.dataset.classForm;
  if (!edit) return;
  event.preventDefault();
  const typed = new FormData(form);
  const edited = JSON.parse(edit, (_, each) => (typeof each === "string" && each.startsWith("$") ? String(typed.get(each.slice(1))) : each));
  sendClass("edit", { edit: edited });
});

// Printing shows what is folded up, but for how numbers came about, and folds it up again.
window.addEventListener("beforeprint", () => {
  classPage.open = new Set([...document.querySelectorAll("#class details[open]")]);
  document.querySelectorAll("#class details:not(.how)").forEach((each) => { each.open = true; });
  document.querySelectorAll("#class img[loading]").forEach((each) => { each.loading = "eager"; });
});
window.addEventListener("afterprint", () => {
  document.querySelectorAll("#class details").forEach((each) => { each.open = classPage.open.has(each); });
});
