// The plate being composed: overlays on the pictures that it shows, picked mark by mark; and plates that are
// set aside.

import { api } from "./api.js";
import { askLine } from "./ask.js";
import { tellAloud } from "./dom.js";
import { placeOf } from "./marks.js";
import { blockKind, isBegun, NOTHING_CHOSEN, nameOf, pictureKeys, suffixOf } from "./platepictures.js";
import { state, tell, whenDropped } from "./state.js";
import { capital, markWords } from "./words.js";

const EMPTY = { overlays: [], kind: null, picked: [], frame: null, figure: "frame", ...NOTHING_CHOSEN };
export const plate = { ...EMPTY };
export let plates = []; // [{id, frame, figure, fields, block, written: Promise}] set and not in a lesson yet

export function kindNamed(kind) {
  return state.site.kinds.find((one) => one.kind === kind);
}

/** The letters that choose kinds, in the order of the kinds. */
export function letters() {
  return state.site.kinds.map((kind) => kind.letter).filter(Boolean);
}

/** How many marks a kind asks for before it is drawn: at least, and at most (null: as many as one likes). */
function asks(kind) {
  const further = kind.questions.filter((one) => one.mark).length;
  return { least: kind.least + further, most: kind.most === null ? null : kind.most + further };
}

export function choose(name) {
  plate.kind = name;
  plate.picked = [];
  if (asks(kindNamed(name)).most === 0) return finish();
  tellAloud(`${name}: ${wantedWords()}`);
  tell("plate");
}

export function wantedWords() {
  const { least, most } = asks(kindNamed(plate.kind));
  const left = (most ?? least) - plate.picked.length;
  if (left > 0) return `click ${left === 1 ? "a mark" : `${left} marks`}`;
  return "click further marks, then Enter";
}

/** Picks a mark for the overlay; the last one asked for draws it. */
export function pick(mark) {
  if (!plate.kind) return tellAloud("Choose what to draw first.");
  if (!placeOf(mark, state.frame)) return tellAloud(`${markWords(mark)} is not placed on this frame.`);
  plate.picked.push(mark);
  const { most } = asks(kindNamed(plate.kind));
  if (most !== null && plate.picked.length >= most) return finish();
  tellAloud(`${markWords(mark)}; ${wantedWords()}`);
  return tell("plate");
}

/** Adds the overlay with the marks picked so far. */
export async function finish() {
  const kind = kindNamed(plate.kind);
  if (plate.picked.length < asks(kind).least) return tellAloud(wantedWords());
  const picked = plate.picked;
  const own = picked.slice(0, kind.most ?? picked.length);
  const further = picked.slice(own.length);
  const overlay = { [kind.kind]: kind.most === 0 ? null : kind.most === 1 ? own[0] : own };
  for (const { key, words, usual, mark } of kind.questions) {
    const answer = mark ? further.shift() : await askLine(capital(kind.kind), words, { value: usual });
    if (!answer) return undefined;
    overlay[key] = answer;
  }
  if (kind.measures) overlay.as = freeId(picked, kind.kind);
  plate.frame ??= state.frame;
  plate.overlays.push(overlay);
  plate.kind = null;
  plate.picked = [];
  tellAloud(`${kind.kind} drawn. Enter sets the plate.`);
  return tell("plate");
}

/** An id for its number that nothing of these plates has: "navel-shift", "navel-c7-tilt". */
function freeId(picked, kind) {
  const taken = new Set(
    [...plates.flatMap((one) => one.fields.draw ?? []), ...plate.overlays].map((one) => one.as),
  );
  const name = [...picked.slice(0, 2), kind].join("-");
  for (let n = 1; ; n++) {
    const free = n === 1 ? name : `${name}-${n}`;
    if (!taken.has(free)) return free;
  }
}

export function without(overlay) {
  plate.overlays = plate.overlays.filter((one) => one !== overlay);
  if (!plate.overlays.length) plate.frame = null;
  tell("plate");
}

/** Sets or takes a key of an overlay, as the author typed it. */
export function setKey(overlay, key, typed) {
  const text = typed.trim();
  if (text) overlay[key] = read(text);
  else delete overlay[key];
  tell("plate");
}

function read(text) {
  if (/^-?\d+(\.\d+)?$/.test(text)) return Number(text);
  if (text === "true" || text === "false") return text === "true";
  const list = /^\[(.*)\]$/.exec(text);
  return list ? list[1].split(",").map((one) => read(one.trim())) : text;
}

/** Adds the overlays that the site keeps under a name. */
export function useSet(name) {
  plate.frame ??= state.frame;
  plate.overlays.push({ use: name });
  tellAloud(`The set ${name} drawn. Enter sets the plate.`);
  tell("plate");
}

/** What it shows, as `choices` has it. */
export function chooseFigure(figure) {
  plate.figure = figure;
  tell("plate");
}

/** The number of an overlay, as the draft has it for the picture that is shown. */
export function measureOf(overlay, suffix = suffixOf(plate)) {
  const made = state.draft?.measures ?? [];
  return overlay.as ? made.find((one) => one.id === `${overlay.as}${suffix}`) : undefined;
}

/** Its numbers on the other pictures: [[words, measure]…]. */
export function othersOf(overlay) {
  const suffixes =
    plate.figure === "pair"
      ? [
          ["Beside it", ".second"],
          ["First minus second", ".difference"],
        ]
      : plate.figure === "progress"
        ? pictureKeys(plate)
            .clips.filter((clip) => clip !== state.clip.name)
            .map((clip) => [clip, `.${clip}`])
        : [];
  return suffixes
    .map(([words, suffix]) => [words, measureOf(overlay, suffix)])
    .filter(([, measure]) => measure);
}

export function fields() {
  const which = { id: freeFigure(), ...pictureKeys(plate) };
  return plate.figure === "lessons" ? which : { ...which, draw: written() };
}

/** The overlays as its block has them: a loop measures nothing that could have a name. */
function written() {
  if (plate.figure !== "loop") return plate.overlays;
  return plate.overlays.map((one) =>
    Object.fromEntries(Object.entries(one).filter(([key]) => key !== "as" && key !== "expect")),
  );
}

function freeFigure() {
  const taken = new Set([...plates.map((one) => one.id), ...state.figures.map((one) => one.id)]);
  const name = nameOf(plate);
  for (let n = 1; ; n++) {
    const free = n === 1 ? name : `${name}-${n}`;
    if (!taken.has(free)) return free;
  }
}

/** The block's text for a drawing; the server writes the one for the lesson. JSON is YAML. */
export function plateText(keys = pictureKeys(plate)) {
  const which = Object.entries(keys).map(([key, value]) => `${key}: ${JSON.stringify(value)}`);
  if (plate.figure === "lessons") return [...which, ""].join("\n");
  const drawn = written().map((one) => `  - ${JSON.stringify(one)}`);
  return [...which, "draw:", ...drawn, ""].join("\n");
}

/** Sets the plate aside for a lesson and begins the next. */
export async function set() {
  if (plate.kind && plate.picked.length >= asks(kindNamed(plate.kind)).least) await finish();
  if (!isBegun(plate)) return tellAloud("Nothing is drawn on this plate yet.");
  const its = fields();
  const made = {
    id: its.id,
    frame: plate.frame,
    figure: blockKind(plate),
    fields: its,
    block: "",
    written: null,
  };
  made.written = write(made);
  plates.push(made);
  clear(); // at once: the next key draws on the next plate
  tellAloud(`Plate ${made.id} is set.`);
  return made.written;
}

async function write(made) {
  try {
    made.block = (await api.block(made.figure, made.fields)).block;
  } catch (error) {
    takeOut(made);
    tellAloud(error.whole);
  }
}

export function clear() {
  Object.assign(plate, EMPTY, { overlays: [], picked: [] });
  tell("plate");
}

export function takeOut(one) {
  plates = plates.filter((other) => other !== one);
  tell("plate");
}

whenDropped(() => {
  plates = [];
  Object.assign(plate, EMPTY, { overlays: [], picked: [] });
});
