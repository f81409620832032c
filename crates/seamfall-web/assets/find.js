// Finding one's way: what is typed is looked up among stages, cloths, blocks, places, settings and findings. Loaded before the rest of the script.
"use strict";

let findsAsked = 0;

function openFind() {
  $("find").showModal();
  $("find-for").select();
  lookUp();
}

/** Shows what is found for the words that stand in the field; an answer that comes too late is let go. */
async function lookUp() {
  const mine = ++findsAsked;
  const words = $("find-for").value;
  try {
    const html = await ask(`${base}find?for=${encodeURIComponent(words)}`);
    if (mine === findsAsked) $("found").innerHTML = html;
  } catch (error) {
    $("find").close();
    complain(error);
  }
}

function onFindKey(event) {
  const all = [...$("found").querySelectorAll("button, a")];
  const at = all.indexOf(document.activeElement);
  const act = (does) => { event.preventDefault(); event.stopPropagation(); does(); };
  if (event.key === "ArrowDown") act(() => (all[at + 1] ?? all[0])?.focus());
  else if (event.key === "ArrowUp") act(() => (at > 0 ? all[at - 1] : $("find-for")).focus());
  else if (event.key === "Enter" && event.target.id === "find-for") act(() => lookUp().then(() => $("found").querySelector("button, a")?.click()));
}

function listenToFind() {
  $("find-for").addEventListener("input", lookUp);
  $("find").addEventListener("keydown", onFindKey);
  $("found").addEventListener("click", (event) => { if (event.target.closest("button, a")) $("find").close(); });
}
