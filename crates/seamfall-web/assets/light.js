// Whether the room is light or dark, before anything is painted: as the device has it unless the maker chose.
"use strict";

const lightKey = "seamfall.light";

function setLight(light) {
  if (light === "light" || light === "dark") document.documentElement.dataset.light = light;
  else delete document.documentElement.dataset.light;
}

try {
  setLight(localStorage.getItem(lightKey));
} catch { /* then it is as the device has it */ }

/** Takes the maker's choice, and keeps it where the browser lets it be kept. */
function chooseLight(light) {
  setLight(light);
  try {
    localStorage.setItem(lightKey, light);
  } catch { /* then it holds for this page */ }
}
