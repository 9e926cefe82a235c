// The linen tester: a square magnifier, ruled on two sides, that shows pixels as they are.

import { spread } from "./clicks.js";
import { h, s } from "./dom.js";
import { frameElement, isInPicture, shownPicture, toFrame, view } from "./frame.js";
import { clicksHere } from "./hand.js";
import { state } from "./state.js";

const TIMES = 6;
const GLASS = 160; // CSS px
const RULE = 13; // the ruled edge
const SIDE = GLASS + RULE + 3;
const CLEAR = 46; // from the pointer
const CAPTION = 52;

let glass = null;
let ruled = null;
let caption = null;
let tester = null;
let out = true; // whether the author wants it

export function makeTester() {
  glass = h("canvas", { width: GLASS, height: GLASS });
  ruled = s("svg", { viewBox: `0 0 ${SIDE} ${SIDE}` });
  caption = h("div", { class: "caption" });
  tester = h("div", { class: "tester", hidden: true, "aria-hidden": "true" }, glass, ruled, caption);
  return tester;
}

export function switchTester() {
  out = !out;
  if (!out) hideTester();
  return out;
}

export function hideTester() {
  tester.hidden = true;
}

/** Shows what lies under a place of the picture. told: a further line of the caption. */
export function showTester(point, told = "") {
  const picture = shownPicture();
  if (!out || !picture || !isInPicture(point)) return hideTester();
  look(picture, point);
  rule(point);
  const wide = spread(clicksHere());
  caption.replaceChildren(
    h("b", {}, `${point.x.toFixed(1)}, ${point.y.toFixed(1)} px`),
    wide === null ? "" : ` ±${Math.max(state.clip.least_u, wide).toFixed(1)}`,
    told ? h("span", {}, told) : "",
  );
  tester.hidden = false;
  place(point);
}

export function tellTester(told) {
  if (tester.hidden) return;
  caption.querySelector("span")?.remove();
  if (told) caption.append(h("span", {}, told));
}

function look(picture, point) {
  const ground = glass.getContext("2d");
  ground.imageSmoothingEnabled = false;
  ground.fillStyle = getComputedStyle(frameElement).backgroundColor;
  ground.fillRect(0, 0, GLASS, GLASS);
  ground.filter =
    view.brightness === 1 && view.contrast === 1
      ? "none"
      : `brightness(${view.brightness}) contrast(${view.contrast})`;
  ground.setTransform(TIMES, 0, 0, TIMES, GLASS / 2 - point.x * TIMES, GLASS / 2 - point.y * TIMES);
  ground.drawImage(picture, 0, 0);
  ground.setTransform(1, 0, 0, 1, 0, 0);
}

function rule(point) {
  const marks = [];
  for (let n = 0; n <= Math.floor(GLASS / TIMES); n++) {
    const at = RULE + n * TIMES;
    const tick = n % 5 ? 4 : 8;
    marks.push(`M${at} ${RULE}v${-tick}M${RULE} ${at}h${-tick}`);
  }
  const c = RULE + GLASS / 2;
  const arms = `M${c - 40} ${c}h32M${c + 8} ${c}h32M${c} ${c - 40}v32M${c} ${c + 8}v32`;
  const clicks = clicksHere();
  const wide = spread(clicks);
  const on = (click) => ({ cx: c + (click[0] - point.x) * TIMES, cy: c + (click[1] - point.y) * TIMES });
  const inside = clicks
    .map(on)
    .filter(({ cx, cy }) => cx > RULE && cy > RULE && cx < SIDE - 3 && cy < SIDE - 3);
  const mean = clicks.length
    ? on([0, 1].map((key) => clicks.reduce((sum, one) => sum + one[key], 0) / clicks.length))
    : null;
  ruled.replaceChildren(
    s("path", { d: marks.join(""), class: "tick" }),
    s("path", { d: arms, class: "casing" }),
    s("path", { d: arms, class: "line" }),
    ...(wide === null
      ? []
      : [s("circle", { ...mean, r: Math.max(state.clip.least_u, wide) * TIMES, class: "spread" })]),
    ...inside.map((at) => s("circle", { ...at, r: 1.6, class: "click" })),
  );
}

/** Clear of the pointer, of tags and of the frame's edges. */
function place(point) {
  const at = toFrame(point.x, point.y);
  const width = frameElement.clientWidth;
  const height = frameElement.clientHeight;
  const corners = [
    [1, -1],
    [-1, -1],
    [1, 1],
    [-1, 1],
  ].map(([right, down]) => [
    right > 0 ? at.x + CLEAR : at.x - CLEAR - SIDE,
    down > 0 ? at.y + CLEAR : at.y - CLEAR - SIDE - CAPTION,
  ]);
  const tags = [...frameElement.querySelectorAll(".overlays .tag, .overlays [data-tag]")].map((tag) =>
    tag.getBoundingClientRect(),
  );
  const box = frameElement.getBoundingClientRect();
  const cost = ([x, y]) => {
    const over =
      Math.max(0, -x) +
      Math.max(0, x + SIDE - width) +
      Math.max(0, -y) +
      Math.max(0, y + SIDE + CAPTION - height);
    const hit = tags.filter(
      (tag) =>
        tag.left - box.left < x + SIDE &&
        tag.right - box.left > x &&
        tag.top - box.top < y + SIDE + CAPTION &&
        tag.bottom - box.top > y,
    );
    return over * 10 + hit.length * 60;
  };
  const [x, y] = corners.reduce((best, one) => (cost(one) < cost(best) ? one : best));
  tester.style.left = `${Math.min(width - SIDE, Math.max(0, x))}px`;
  tester.style.top = `${Math.min(height - SIDE - CAPTION, Math.max(0, y))}px`;
}
