// The signs on the frame: rings for marks, the open cross for the one in hand, where it stood before and
// after.

import { s } from "./dom.js";
import { frameElement, toFrame, view } from "./frame.js";
import { beside, names, placeOf, suggestedHere } from "./marks.js";
import { on, state } from "./state.js";
import { markWords } from "./words.js";

const NAMED = 1.2; // from this zoom on each suggestion has room for its word
const under = s("svg", { class: "signs", "aria-hidden": "true" }); // the overlays' tags lie over these
const over = s("svg", { class: "signs", "aria-hidden": "true" });
export let extra = () => []; // what other modes draw: lines of the room, picked marks

export function makeSigns() {
  on("view frame marks hand mode clip plate shown", draw);
  return [under, over];
}

export function alsoDraw(call) {
  extra = call;
}

function draw() {
  if (!state.clip || !frameElement) return;
  const others = [...names()].filter((mark) => mark !== state.hand);
  const rings = others.map((mark) => [mark, placeOf(mark, state.frame)]).filter(([, at]) => at);
  under.replaceChildren(
    ...(state.mode === "mark" && state.hand ? ghosts() : []),
    ...rings.map(([mark, at]) => ring(mark, at)),
    ...(state.mode === "mark" ? suggestedHere().map(([mark, at]) => question(mark, at)) : []),
  );
  over.replaceChildren(...extra(), ...(state.mode === "compose" ? [] : cross()));
}

function ring(mark, place) {
  const { x, y } = toFrame(place.x, place.y);
  const carried = place.by === "track";
  const still = place.by === "room"; // what belongs to the room keeps out of the way
  const r = still ? 3 : 6.5;
  return s(
    "g",
    { class: carried ? "ring carried" : "ring", transform: `translate(${x} ${y})`, "data-mark": mark },
    s("circle", { r, class: "casing" }),
    s("circle", { r, class: "line" }),
    carried || still ? null : s("circle", { r: 1.8, class: "dot" }),
  );
}

/** A suggestion: hollow, with its u around it where that can be seen, and in words. */
function question(mark, place) {
  const { x, y } = toFrame(place.x, place.y);
  const words = mark === state.hand ? `${markWords(mark)}, suggested` : "suggested";
  return s(
    "g",
    { class: "ring suggested", transform: `translate(${x} ${y})`, "data-suggested": mark },
    s("circle", { r: 5, class: "casing" }),
    s("circle", { r: 5, class: "line" }),
    s("circle", { r: Math.max(8, place.u * view.zoom), class: "spread" }),
    s("text", { x: 9, y: 4 }, mark === state.hand || view.zoom >= NAMED ? words : ""),
    s("title", {}, `${markWords(mark)}, suggested, ± ${place.u.toFixed(1)} px`),
  );
}

/** Its places in the last and next frames where it was placed by hand. */
function ghosts() {
  const here = placeOf(state.hand, state.frame);
  const { last, next } = beside(state.hand, state.frame);
  return [last, next].filter(Boolean).map((at) => {
    const { x, y } = toFrame(at.x, at.y);
    const trail = here && trailTo(here, x, y);
    return s(
      "g",
      { class: "ghost" },
      trail,
      s("circle", { cx: x, cy: y, r: 5, class: "casing" }),
      s("circle", { cx: x, cy: y, r: 5, class: "line" }),
      s("title", {}, `${markWords(state.hand)}, frame ${at.frame}`),
    );
  });
}

function trailTo(here, x, y) {
  const end = toFrame(here.x, here.y);
  const path = `M${end.x} ${end.y}L${x} ${y}`;
  return [s("path", { d: path, class: "casing" }), s("path", { d: path, class: "line" })];
}

function cross() {
  if (!state.aim) return [];
  const { x, y } = toFrame(state.aim.x, state.aim.y);
  const placed = state.mode === "mark" && state.hand && placeOf(state.hand, state.frame);
  const arms = "M-26 0h18M8 0h18M0 -26v18M0 8v18";
  const u = placed ? placed.u * view.zoom : 0;
  return [
    s(
      "g",
      { class: placed ? "cross placed" : "cross", transform: `translate(${x} ${y})` },
      u > 9 ? s("circle", { r: u, class: "spread" }) : null,
      s("path", { d: arms, class: "casing" }),
      s("path", { d: arms, class: "line" }),
      placed ? s("circle", { r: 1.8, class: "dot" }) : null,
    ),
  ];
}
