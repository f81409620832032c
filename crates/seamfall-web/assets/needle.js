// Plays the way of the needle through a section: on every page that shows one. Loaded before the rest of the script, which it calls.
"use strict";

const ways = new WeakMap(); // player -> its needlefuls and how far they are drawn
const pace = 2.5; // inches or two and a half times as many centimetres a second would be hasty to the hand, and pleasant to the eye

/** Fetches the way, once for each player, and lays the needle's layer over the drawing. */
async function wayOf(player) {
  if (ways.has(player)) return ways.get(player);
  const needlefuls = await ask(player.dataset.way);
  const picture = player.querySelector("svg");
  const layer = picture.appendChild(document.createElementNS("http://www.w3.org/2000/svg", "g"));
  layer.setAttribute("class", "played");
  const size = picture.viewBox.baseVal;
  layer.setAttribute("stroke-width", Math.max(size.width, size.height) / 110);
  const needle = document.createElementNS("http://www.w3.org/2000/svg", "circle");
  needle.setAttribute("class", "needle");
  needle.setAttribute("r", Math.max(size.width, size.height) / 90);
  const way = { needlefuls, layer, needle, at: -1, running: false };
  ways.set(player, way);
  return way;
}

function stretchOf(way, { hidden, d }, index) {
  const line = document.createElementNS("http://www.w3.org/2000/svg", "path");
  line.setAttribute("d", d);
  line.setAttribute("class", `${hidden ? "unseen" : "stitched"}${index < way.at ? " before" : ""}`);
  way.layer.append(line);
  return line;
}

/** Shows all needlefuls up to `at`, the last of them marked. */
function showNeedleful(player, way, at) {
  way.at = Math.max(-1, Math.min(at, way.needlefuls.length - 1));
  way.layer.replaceChildren();
  way.needlefuls.slice(0, way.at + 1).forEach((one, index) => one.stretches.forEach((stretch) => stretchOf(way, stretch, index)));
  const last = way.layer.querySelector("path:last-of-type");
  if (last) placeNeedle(way, last, last.getTotalLength());
  tell(player, way);
}

function placeNeedle(way, line, length) {
  const { x, y } = line.getPointAtLength(length);
  way.needle.setAttribute("cx", x);
  way.needle.setAttribute("cy", y);
  if (way.layer.lastChild !== way.needle) way.layer.append(way.needle);
}

function tell(player, way) {
  player.querySelector(".told").textContent = way.needlefuls[way.at]?.told ?? say("Nothing is quilted yet.");
  player.querySelector("[data-play=run]").textContent = way.running ? say("Stop") : say("Play");
}

/** Draws one stretch as the needle goes; ends early when it is stopped. */
function sew(way, line, speed) {
  const whole = line.getTotalLength();
  const start = performance.now();
  line.setAttribute("pathLength", "1");
  return new Promise((done) => {
    const step = (now) => {
      const share = whole ? Math.min(1, ((now - start) / 1000) * speed / whole) : 1;
      if (!way.running || !line.isConnected) return done(false);
      line.setAttribute("stroke-dasharray", `${share} 2`);
      placeNeedle(way, line, whole * share);
      if (share < 1) requestAnimationFrame(step);
      else {
        line.removeAttribute("stroke-dasharray");
        line.removeAttribute("pathLength");
        done(true);
      }
    };
    requestAnimationFrame(step);
  });
}

/** Plays from where it stands to the end. Who wants less motion sees needleful after needleful. */
async function runNeedle(player, way) {
  const still = matchMedia("(prefers-reduced-motion: reduce)").matches;
  const size = player.querySelector("svg").viewBox.baseVal;
  const speed = (pace * Math.max(size.width, size.height)) / 12;
  if (way.at >= way.needlefuls.length - 1) showNeedleful(player, way, -1);
  way.running = true;
  while (way.running && way.at < way.needlefuls.length - 1 && player.isConnected) {
    if (still) {
      showNeedleful(player, way, way.at + 1);
      await new Promise((done) => { setTimeout(done, 1500); });
      continue;
    }
    way.at += 1;
    for (const line of way.layer.querySelectorAll("path")) line.classList.add("before");
    tell(player, way);
    for (const stretch of way.needlefuls[way.at].stretches) {
      if (!way.running) break;
      if (!(await sew(way, stretchOf(way, stretch, way.at), speed))) break;
    }
  }
  if (way.running) {
    way.running = false;
    tell(player, way);
  }
}

async function playNeedle(button) {
  const player = button.closest(".player");
  const wanted = button.dataset.play;
  try {
    const way = await wayOf(player);
    const was = way.running;
    way.running = false;
    if (wanted === "on") showNeedleful(player, way, way.at + 1);
    else if (wanted === "back") showNeedleful(player, way, way.at - 1);
    else if (was) showNeedleful(player, way, way.at);
    else await runNeedle(player, way);
  } catch (error) {
    complain(error);
  }
}
