// The maker's own blocks in the draft stage: fetched when the card is unfolded, renamed, taken away, brought in.
"use strict";

const ownList = () => document.getElementById("own-list");

async function showOwn(said = "") {
  const card = document.getElementById("own-blocks");
  if (!card) return;
  ownList().innerHTML = await ask(card.dataset.own);
  document.getElementById("own-said").textContent = said;
}

/** Does something with one of them and shows the list anew. */
function withOwn(asking) {
  busy = busy.then(async () => { await showOwn(await asking()); $("message").hidden = true; }).catch(complain);
}

document.addEventListener("toggle", ({ target }) => {
  if (target.id === "own-blocks" && target.open) busy = busy.then(() => showOwn()).catch(complain);
}, true);

document.addEventListener("click", ({ target }) => {
  const button = target.closest("button");
  const data = button?.dataset ?? {};
  if (data.take) send(data.take);
  if (data.ownRemove && confirm(say("Take {name} away from your own blocks? Quilts that have it keep it. This cannot be undone.", { name: data.name }))) withOwn(() => ask(data.ownRemove, ""));
});

document.addEventListener("change", ({ target }) => {
  const { ownName, ownFile } = target.dataset;
  if (ownName) withOwn(() => ask(ownName, JSON.stringify({ name: target.value })));
  if (!ownFile) return;
  const [file] = target.files;
  target.value = "";
  if (!file) return;
  // The server refuses it too; this spares sending it.
  if (file.size > 2 * 1024 * 1024) return complain(new Error(say("{name} is larger than 2 MiB, which no block file needs to be", { name: file.name })));
  withOwn(() => ask(ownFile, file, "application/toml"));
});

// An unfolded card that was written anew with its panel is filled again.
const ownCard = new MutationObserver(() => {
  const card = document.getElementById("own-blocks");
  if (card?.open && !document.getElementById("own-said")) busy = busy.then(() => showOwn()).catch(complain);
});
if (document.getElementById("draft")) ownCard.observe(document.getElementById("draft"), { childList: true });
