// The sheet on which a plate is composed: what to draw, its marks, its numbers, its text, where it goes.

import { api } from "./api.js";
import { ask, askLine, sheet } from "./ask.js";
import { button, h, refill, s, tellAloud } from "./dom.js";
import { frameElement, toFrame } from "./frame.js";
import { names, placeOf } from "./marks.js";
import { chooseMark } from "./namelist.js";
import {
  choose,
  chooseFigure,
  clear,
  fields,
  kindNamed,
  measureOf,
  othersOf,
  pick,
  plate,
  plates,
  set,
  setKey,
  takeOut,
  useSet,
  wantedWords,
  without,
} from "./plate.js";
import { readWanted } from "./clip.js";
import { readBlocks } from "./draft.js";
import { blockKind, choices, isBegun, pictureChoices } from "./platepictures.js";
import { on, state, tell } from "./state.js";
import { capital, frameWords, markInText, plural } from "./words.js";

const NEAR = 26; // CSS px within which a click finds a mark

let sheetElement = null;
let blockText = "";
let lastAsked = null; // of the block's texts

export function makeCompose() {
  sheetElement = h("section", { class: "compose", "aria-label": "Compose a plate", hidden: true });
  on("plate draft mode marks frame clip", draw);
  on("plate", readText);
  return sheetElement;
}

export function open() {
  state.mode = "compose";
  tell("mode", "plate");
  frameElement.focus({ preventScroll: true });
  tellAloud("Compose: choose what to draw, then click its marks.");
}

export function close() {
  plate.kind = null;
  plate.picked = [];
  state.mode = "mark";
  tell("mode", "plate");
  frameElement.focus({ preventScroll: true });
}

/** A click on the picture picks the nearest mark. */
export function clickCompose(point) {
  const at = toFrame(point.x, point.y);
  const far = (mark) => {
    const place = toFrame(placeOf(mark, state.frame).x, placeOf(mark, state.frame).y);
    return Math.hypot(place.x - at.x, place.y - at.y);
  };
  const [nearest] = here().sort((a, b) => far(a) - far(b));
  if (!nearest || far(nearest) > NEAR)
    return tellAloud("No mark is placed here. Place it first, or pick it by its name.");
  return pick(nearest);
}

function here() {
  const all = [...names(), ...Object.keys(state.clip.middles)];
  return all.filter((mark) => placeOf(mark, state.frame));
}

/** Rings round the marks picked. */
export function pickedSigns() {
  if (state.mode !== "compose") return [];
  return plate.picked
    .map((mark) => placeOf(mark, state.frame))
    .filter(Boolean)
    .map((place) => {
      const { x, y } = toFrame(place.x, place.y);
      return s("circle", { cx: x, cy: y, r: 11, class: "picked" });
    });
}

async function readText() {
  const mine = {};
  lastAsked = mine;
  let text = "";
  if (isBegun(plate)) {
    try {
      text = (await api.block(blockKind(plate), fields())).block;
    } catch (error) {
      text = error.whole;
    }
  }
  if (lastAsked !== mine) return; // answers may overtake each other
  blockText = text;
  sheetElement.querySelector("pre")?.replaceChildren(blockText);
}

function draw() {
  sheetElement.hidden = state.mode !== "compose";
  sheetElement.parentElement?.classList.toggle("composing", !sheetElement.hidden);
  if (
    sheetElement.hidden ||
    (sheetElement.contains(document.activeElement) &&
      document.activeElement.matches("input:not([data-keep]), select:not([data-keep])"))
  )
    return;
  refill(
    sheetElement,
    h(
      "div",
      { class: "sheet-head" },
      h("h2", {}, "Compose a plate"),
      button("Close", close, { data: { keep: "close" } }),
    ),
    h(
      "p",
      {},
      plate.figure === "lessons" ? OVER_LESSONS : `${frameWords(plate.frame ?? state.frame)}. ${HOW}`,
    ),
    figures(),
    state.draft?.chart ? chartParts(state.draft.chart, state.draft.points) : null,
    ...(plate.figure === "lessons" ? [problems()] : drawing()),
    text(),
    aside(),
  );
}

const HOW = "Choose what to draw, then click its marks.";
const OVER_LESSONS = "What the lessons have measured, by the days on which it was filmed.";

function drawing() {
  return [drawnList(), problems(), plate.kind ? picking() : null, sets(), kinds()];
}

/** The pictures that the plate shows. */
function figures() {
  const all = choices();
  if (all.length < 2) return null;
  return [
    h(
      "div",
      { class: "sets", role: "group", "aria-label": "Plate of" },
      h("span", {}, "Plate of"),
      all.map(([figure, words]) =>
        button(words, () => chooseFigure(figure), {
          "aria-pressed": plate.figure === figure ? "true" : "false",
          data: { keep: `figure ${figure}` },
        }),
      ),
    ),
    pictureChoices(plate),
  ];
}

/** The overlays that the site keeps under a name. */
function sets() {
  const all = Object.keys(state.site.sets);
  if (!all.length) return null;
  return h(
    "div",
    { class: "sets", role: "group", "aria-label": "The usual" },
    h("span", {}, "The usual"),
    all.map((name) =>
      button(
        name,
        () => {
          useSet(name);
          frameElement.focus({ preventScroll: true });
        },
        { data: { keep: `set ${name}` } },
      ),
    ),
  );
}

function kinds() {
  return h(
    "div",
    { class: "kinds", role: "group", "aria-label": "What to draw" },
    state.site.kinds.map(({ kind, letter, measures }) =>
      button(
        [letter ? h("kbd", {}, letter.toUpperCase()) : null, kind],
        () => {
          choose(kind);
          frameElement.focus({ preventScroll: true });
        },
        {
          class: measures ? "measures" : null,
          "aria-pressed": plate.kind === kind ? "true" : "false",
          data: { keep: `kind ${kind}` },
        },
      ),
    ),
  );
}

function picking() {
  return h(
    "div",
    { class: "picking" },
    h(
      "p",
      { class: "say" },
      h("b", {}, plate.kind),
      `: ${wantedWords()}`,
      plate.picked.length ? ` (${plate.picked.map(markInText).join(", ")})` : "",
    ),
    button([h("kbd", {}, "M"), "Pick by name"], chooseMark, { data: { keep: "pick" } }),
  );
}

function drawnList() {
  if (!plate.overlays.length) return null;
  return h(
    "ol",
    { class: "drawn" },
    plate.overlays.map((overlay) => {
      const [kind] = Object.keys(overlay);
      const measure = measureOf(overlay);
      return h(
        "li",
        {},
        measure?.letter
          ? h("span", { class: `chip ${measure.colour}` }, measure.letter)
          : h("span", { class: "chip blank" }, "–"),
        h(
          "span",
          { class: "what" },
          measure?.words ??
            [kind === "use" ? "the set" : kind, overlay[kind]]
              .flat()
              .filter(Boolean)
              .map((one, n) => (n && kind !== "use" ? markInText(one) : one))
              .join(" "),
        ),
        number(measure),
        othersOf(overlay).map(([words, other]) =>
          h("div", { class: "other" }, h("span", {}, `${words}: `), number(other)),
        ),
        button("Delete", () => without(overlay), {
          data: { keep: `out ${overlay.as ?? kind}` },
          "aria-label": `Delete ${kind}`,
        }),
        kind === "use" ? null : more(overlay, kind, measure),
      );
    }),
  );
}

/** A chart or a plan, and the numbers of its points: what a plan shows is told by its alternative alone. */
export function chartParts(drawing, points, alt = "") {
  const words = ({ on, label }) => `${on}, ${label}: `;
  return [
    h(
      "div",
      { class: "chart-drawn", role: "img", "aria-label": alt || "The chart as it is drawn" },
      drawing,
    ),
    points.length
      ? h(
          "ul",
          { class: "points" },
          points.map((one) => h("li", {}, words(one), number(one))),
        )
      : null,
  ];
}

export function number(measure) {
  if (!measure) return null;
  if (measure.refused)
    return h(
      "span",
      { class: "why" },
      `not measured: ${measure.refused}. ${capital(measure.way_out ?? "")}`,
    );
  const { value, unit, pm, way } = measure.number;
  return h(
    "span",
    { class: "number" },
    h("span", { class: "n" }, `${value}${unit === "°" ? "" : " "}${unit} `, h("small", {}, `±${pm}`)),
    way ? ` ${way}` : "",
  );
}

/** What would make its ± smaller, and by how much; null where nothing would. */
function narrower(measure) {
  if (!measure?.narrower?.length) return null;
  return h(
    "div",
    { class: "say" },
    h("p", {}, "Narrower with"),
    h(
      "ul",
      {},
      measure.narrower.map((words) => h("li", {}, words)),
    ),
  );
}

function more(overlay, kind, measure) {
  return h(
    "details",
    {},
    h("summary", {}, "More about it"),
    narrower(measure),
    h(
      "div",
      { class: "more" },
      kindNamed(kind).keys.map((key) => {
        const id = `key-${overlay.as ?? kind}-${key}`;
        const value =
          overlay[key] === undefined
            ? ""
            : Array.isArray(overlay[key])
              ? `[${overlay[key].join(", ")}]`
              : String(overlay[key]);
        const typed = h("input", { id, value, autocomplete: "off", spellcheck: "false" });
        typed.addEventListener("change", () => setKey(overlay, key, typed.value));
        return [h("label", { for: id }, key), typed];
      }),
    ),
  );
}

function problems() {
  // told beside their numbers
  const refused = (state.draft?.measures ?? []).map((one) => one.refused).filter(Boolean);
  const others = (state.draft?.problems ?? []).filter(
    (one) => !refused.some((reason) => one.wrong.includes(reason)),
  );
  const told = [
    ...others.map((one) => [one.wrong, one.right]),
    ...(state.draft?.fault ? [[state.draft.fault.message, state.draft.fault.wayOut]] : []),
  ];
  if (!isBegun(plate) || !told.length) return null;
  return h(
    "ul",
    { class: "faults" },
    told.map(([wrong, right]) => h("li", {}, h("b", {}, wrong), right ? `. ${right}` : "")),
  );
}

function text() {
  if (!isBegun(plate)) return null;
  return h(
    "div",
    { class: "block-text" },
    h("pre", { tabindex: "0", "aria-label": "The block’s text" }, blockText),
    h(
      "div",
      { class: "row" },
      button([h("kbd", {}, "Enter"), "Set the plate"], set, { class: "chief", data: { keep: "set" } }),
      button("Copy", () => copy(blockText), { data: { keep: "copy" } }),
      button("Begin anew", clear, { data: { keep: "anew" } }),
    ),
  );
}

async function copy(words) {
  try {
    await navigator.clipboard.writeText(words);
    tellAloud("The block is on the clipboard.");
  } catch {
    tellAloud("This browser does not let the page use the clipboard. Select the text and copy it.");
  }
}

function aside() {
  if (!plates.length) return null;
  return h(
    "div",
    { class: "aside" },
    h(
      "h3",
      {},
      `${plural(plates.length, "plate").replace(/^./, (first) => first.toUpperCase())} set, in no lesson yet`,
    ),
    h(
      "ul",
      {},
      plates.map((one) =>
        h(
          "li",
          {},
          h("b", {}, one.id),
          ` ${drawnOn(one).join(", ")}`,
          button("Copy", () => copy(one.block), { "aria-label": `Copy ${one.id}` }),
          button("Delete", () => takeOut(one), { "aria-label": `Delete ${one.id}` }),
        ),
      ),
    ),
    h(
      "div",
      { class: "row" },
      button([h("kbd", {}, "N"), "New lesson"], newLesson, { data: { keep: "new" } }),
      button([h("kbd", {}, "B"), "Into a lesson"], intoLesson, { data: { keep: "into" } }),
    ),
  );
}

/** The kinds of what is drawn on a plate that is set; a chart over lessons draws nothing of its own. */
function drawnOn({ figure, fields: { draw } }) {
  return draw ? draw.map((overlay) => Object.keys(overlay)[0]) : [figure];
}

/** A lesson's file name from its title. */
export function slug(title) {
  return (
    title
      .toLowerCase()
      .normalize("NFKD")
      .replace(/[^a-z0-9]+/g, "-")
      .replace(/^-|-$/g, "") || "lesson"
  );
}

/** A lesson with the plates that are set, in the order of the swing; without any, a frame for each event. */
export async function newLesson() {
  if (isBegun(plate)) set();
  const title = await askLine("New lesson", "Its title", { yes: "Begin it" });
  if (!title) return;
  await written();
  try {
    const blocks = plates.length ? plates.map((one) => one.block) : undefined;
    const made = await api.newLesson({ name: slug(title), title, clip: state.clip.name, blocks });
    plates.splice(0);
    location.hash = `#/lesson/${made.name}`;
  } catch (error) {
    await ask("The lesson was not begun", error.whole, [["Close", null, true]]);
  }
}

function written() {
  return Promise.all(plates.map((one) => one.written));
}

export async function intoLesson() {
  if (isBegun(plate)) await set();
  await written();
  if (!plates.length) return;
  const chosen = await sheet("Into a lesson", (done) => {
    const lesson = h(
      "select",
      { id: "into-lesson", autofocus: true },
      state.site.lessons.map((one) =>
        h("option", { value: one.name, selected: one.name === state.lesson }, one.title),
      ),
    );
    const place = h("select", { id: "into-place" });
    const places = async () => {
      const told = await api.lesson(lesson.value);
      const lines = told.text.split("\n");
      const figures = told.blocks.map((one) =>
        h("option", { value: one.line }, `before ${one.kind} ${one.id ?? lines[one.line] ?? ""}`),
      );
      place.replaceChildren(h("option", { value: lines.length + 1 }, "at the end"), ...figures);
    };
    lesson.addEventListener("change", places);
    places();
    const form = h(
      "form",
      { method: "dialog" },
      h("label", { for: "into-lesson" }, "Lesson"),
      lesson,
      h("label", { for: "into-place" }, "Place"),
      place,
      h(
        "div",
        { class: "answers" },
        button("Cancel", () => done(null)),
        h("button", { class: "chief" }, "Put it there"),
      ),
    );
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      done({ lesson: lesson.value, line: Number(place.value) });
    });
    return form;
  });
  if (!chosen) return;
  try {
    for (const one of [...plates].reverse()) {
      await api.putFigure(chosen.lesson, one.block, chosen.line);
      takeOut(one);
    }
    state.kept = { at: new Date(), file: `${chosen.lesson}.md` };
    tell("kept");
    tellAloud(`Put into ${chosen.lesson}.`);
    await Promise.all([readWanted(), readBlocks()]);
  } catch (error) {
    await ask("The plate was not put there", error.whole, [["Close", null, true]]);
  }
}
