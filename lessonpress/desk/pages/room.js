// The room: the known length, the plumb line and the wall's grid are drawn on the picture and kept on the
// card.

import { api } from "./api.js";
import { button, h, refill, s, tellAloud } from "./dom.js";
import { frameElement, toFrame } from "./frame.js";
import { clickless } from "./hand.js";
import { names } from "./marks.js";
import { alsoDraw } from "./signs.js";
import { on, state, tell } from "./state.js";
import { act } from "./undo.js";

const DRAWN = {
  length: {
    words: "Known length",
    points: 2,
    names: ["tape-a", "tape-b"],
    say: ["Click one end of a known length", "Click its other end"],
  },
  plumb: {
    words: "Plumb line",
    points: 2,
    names: ["plumb-top", "plumb-foot"],
    say: ["Click the upper end of what hangs or stands upright", "Click its lower end"],
  },
  wall: {
    words: "Wall grid",
    points: 4,
    names: ["wall-a", "wall-b", "wall-c", "wall-d"],
    say: [
      "Click the upper left corner",
      "Click the upper right corner",
      "Click the lower right corner",
      "Click the lower left corner",
    ],
  },
};

let slip = null;

export function makeRoomSlip() {
  slip = h("section", { class: "slip room", "aria-label": "Room and scale" });
  on("clip doubts", () => {
    if (!slip.querySelector("form")) draw(); // what is being typed into it stays
  });
  alsoDraw(lines);
  return slip;
}

export function begin(what) {
  state.drawing = { what, frame: state.frame, points: [] };
  state.mode = "room";
  tell("mode");
  draw();
  tellAloud(DRAWN[what].say[0]);
  frameElement.focus({ preventScroll: true });
}

export function leave() {
  state.drawing = null;
  state.mode = "mark";
  tell("mode");
  draw();
}

/** A click on the picture while the room is drawn. */
export function clickRoom({ x, y }) {
  const kind = DRAWN[state.drawing.what];
  if (state.drawing.points.length === kind.points) return;
  state.drawing.points.push([Math.round(x * 100) / 100, Math.round(y * 100) / 100]);
  if (state.drawing.points.length < kind.points) tellAloud(kind.say[state.drawing.points.length]);
  else if (state.drawing.what === "plumb") keepPlumb();
  draw();
  tell("mode");
  if (state.drawing?.points.length === kind.points) slip.querySelector("input")?.focus();
}

function lines() {
  if (state.mode !== "room" || !state.drawing) return [];
  const points = state.drawing.points.map(([x, y]) => toFrame(x, y));
  const path =
    points.map(({ x, y }, n) => `${n ? "L" : "M"}${x} ${y}`).join("") +
    (state.drawing.what === "wall" && points.length === 4 ? "Z" : "");
  return [
    s(
      "g",
      { class: `measure ${state.drawing.what}` },
      s("path", { d: path, class: "casing" }),
      s("path", { d: path, class: "line" }),
      points.map(({ x, y }) => s("circle", { cx: x, cy: y, r: 4, class: "end" })),
    ),
  ];
}

/** Names that no mark has yet. */
function freeNames(what) {
  const taken = new Set(names());
  for (let n = 1; ; n++) {
    const free = DRAWN[what].names.map((name) => (n === 1 ? name : `${name}-${n}`));
    if (!free.some((name) => taken.has(name))) return free;
  }
}

async function keep(what, key, entry) {
  const { frame, points } = state.drawing;
  const free = freeNames(what);
  const order = what === "plumb" && points[0][1] > points[1][1] ? [1, 0] : points.map((_, n) => n);
  const edits = free.map((mark, n) => ({ mark, frame, was: null, to: points[order[n]] }));
  const card = [append("room", free), append(key, [entry(free)])].flat();
  const clip = state.clip.name;
  clickless();
  leave();
  const done = await act(DRAWN[what].words.toLowerCase(), [
    { where: "marks", clip, edits },
    { where: "card", clip, edits: card },
  ]);
  if (done?.length === 2) tellAloud(`Kept: ${DRAWN[what].words.toLowerCase()}.`);
  frameElement.focus({ preventScroll: true });
}

function append(key, values) {
  const there = state.card[key];
  state.card[key] = [...(there ?? []), ...values]; // what is drawn next comes after it
  if (!there?.length) return [{ path: [key], was: there ?? null, to: values }];
  return values.map((to, n) => ({ path: [key, there.length + n], was: null, to }));
}

function keepPlumb() {
  return keep("plumb", "plumb", (free) => free);
}

function keepLength(form) {
  const length = typed(form, "length");
  const within = typed(form, "within");
  if (!length) return form.querySelector("#room-length").focus();
  return keep("length", "scale", (free) => ({ between: free, length, ...(within ? { within } : {}) }));
}

function keepWall(form) {
  const [width, height, within] = ["width", "height", "within"].map((name) => typed(form, name));
  if (!width || !height) return form.querySelector(width ? "#room-height" : "#room-width").focus();
  return keep("wall", "scale", (free) => ({
    grid: free,
    size: [width, height],
    ...(within ? { within } : {}),
    plane: "wall",
  }));
}

function typed(form, name) {
  return form.querySelector(`#room-${name}`).value.trim();
}

function field(name, label, props = {}) {
  const id = `room-${name}`;
  return [
    h("label", { for: id }, label),
    h("input", { id, autocomplete: "off", spellcheck: "false", ...props }),
  ];
}

function form(fields, keepIt) {
  const made = h(
    "form",
    {},
    fields,
    h("div", { class: "row" }, h("button", { class: "chief" }, "Keep"), button("Cancel", leave)),
  );
  made.addEventListener("submit", (event) => {
    event.preventDefault();
    keepIt(made);
  });
  return made;
}

function draw() {
  if (!state.clip) return;
  refill(slip, h("h2", {}, "Room and scale"), state.drawing ? drawingNow() : resting());
}

function drawingNow() {
  const kind = DRAWN[state.drawing.what];
  if (state.drawing.points.length < kind.points) {
    return [
      h("p", { class: "say" }, kind.say[state.drawing.points.length]),
      h("div", { class: "row" }, button("Cancel", leave)),
    ];
  }
  if (state.drawing.what === "length") {
    return form(
      [
        field("length", "How long is it?", { placeholder: "36 in, 1 m, 5 ft 10 in" }),
        field("within", "Good to within", { placeholder: "0.1 in" }),
      ],
      keepLength,
    );
  }
  if (state.drawing.what === "wall") {
    return form(
      [
        field("width", "Width", { placeholder: "48 in" }),
        field("height", "Height", { placeholder: "36 in" }),
        field("within", "Good to within", { placeholder: "0.2 in" }),
      ],
      keepWall,
    );
  }
  return [];
}

function resting() {
  const { lengths_refused: refused, stature, assumptions } = state.clip;
  const warnings = state.doubts;
  const scales = state.card.scale?.length ?? 0;
  const plumbs = state.card.plumb?.length ?? 0;
  const implied = stature?.implied;
  return [
    h(
      "div",
      { class: "choices" },
      button([h("kbd", {}, "K"), "Known length"], () => begin("length"), { data: { keep: "k" } }),
      button([h("kbd", {}, "U"), "Plumb line"], () => begin("plumb"), { data: { keep: "u" } }),
      button([h("kbd", {}, "G"), "Wall grid"], () => begin("wall"), { data: { keep: "g" } }),
    ),
    h(
      "table",
      { class: "facts" },
      h(
        "tbody",
        {},
        fact("Scales", scales || "none yet"),
        fact("Plumb lines", plumbs || "none yet"),
        stature?.text ? fact("Stature", stature.text) : null,
        implied
          ? fact(
              "Stature in the picture",
              h("span", { class: "n" }, `${implied.words} `, h("small", {}, `±${implied.pm}`)),
            )
          : null,
        state.camera ? fact("Camera", state.camera) : null,
      ),
    ),
    refused ? h("p", { class: "why" }, `No lengths: ${refused.reason}. ${refused.way_out}.`) : null,
    warnings.length || assumptions.length || !state.camera
      ? h(
          "details",
          { data: { keep: "assumed" } },
          h("summary", {}, "What is assumed"),
          h(
            "ul",
            {},
            [...warnings, ...assumptions].map((one) => h("li", {}, one)),
          ),
          state.camera ? null : button("See how the camera moved", seeCamera),
        )
      : null,
  ];
}

function fact(words, value) {
  return h(
    "tr",
    {},
    h("th", { scope: "row" }, words),
    h("td", {}, typeof value === "number" ? String(value) : value),
  );
}

async function seeCamera() {
  try {
    const told = await api.camera(state.clip.name);
    const far = told.frames.map(([, right, down]) => Math.hypot(right, down));
    state.camera = !told.frames.length
      ? "not followed"
      : `moved ${Math.max(...far).toFixed(1)} px at most` +
        (told.unregistered.length ? `, lost on ${told.unregistered.length} frames` : "");
  } catch (error) {
    state.camera = error.message;
  }
  draw();
}
