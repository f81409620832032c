// Photographs of cloths: sent, then shown by an edit like any other.
"use strict";

/** The largest file that is taken, in bytes; the server refuses more, too. */
const LARGEST_PHOTO = 32 * 1024 * 1024;

/** Sends the photograph of a form, then makes the edit that the answer is. */
async function bringPhoto(form) {
  const [file] = form.elements.file.files;
  if (!file) return;
  if (file.size > LARGEST_PHOTO) return complain(new Error(say("{name} is larger than 32 MB; save it smaller, 4,000 pixels wide is plenty", { name: file.name })));
  const asked = new URLSearchParams({ name: file.name, width: form.elements.width.value });
  $("said").textContent = say("Reading the photograph …");
  try {
    const edit = await ask(`${form.dataset.photo}?${asked}`, file, "application/octet-stream");
    await send("edit", { edit });
    // The text may be as it was while the picture is not.
    repaint(await ask(`${base}state?about=${encodeURIComponent(panel())}&shown=${encodeURIComponent(showing())}`));
    $("said").textContent = say("{name} is shown at true scale", { name: file.name });
  } catch (error) {
    $("said").textContent = "";
    complain(error);
  }
}

document.addEventListener("submit", (event) => {
  if (!event.target.dataset.photo) return;
  event.preventDefault();
  bringPhoto(event.target);
});

/** Chooses the motif that was pointed at: in per cent of the photograph, to a tenth. */
document.addEventListener("click", (event) => {
  const picture = event.target.closest("svg[data-motif]");
  if (!picture) return;
  const box = picture.getBoundingClientRect();
  const share = (at, from, long) => Math.round(Math.min(Math.max((at - from) / long, 0), 1) * 1000) / 10;
  const edit = JSON.parse(picture.dataset.motif);
  edit.at = [share(event.clientX, box.left, box.width), share(event.clientY, box.top, box.height)];
  send("edit", { edit });
});
