// What is drawn over the picture: the plate being composed, or the lesson's figure of this frame, as it
// will print.

import { api } from "./api.js";
import { drawn } from "./dom.js";
import { view } from "./frame.js";
import { plate, plateText } from "./plate.js";
import { blockKind, isBegun } from "./platepictures.js";
import { on, state, tell } from "./state.js";
import { whenQuiet } from "./work.js";

const WIDEST = 32000; // CSS px a drawing is asked for; it is stretched beyond that
const REST = 120; // ms on a frame before its drawing is asked for

let asked = null;
let last = "";

export function startDrafts() {
  last = "";
  on("frame marks clip plate wanted mode", soon);
  on("frame", away);
}

/** The drawing of another frame may not stand over this one. */
function away() {
  if (state.draft && state.draft.frame !== state.frame) {
    state.draft = null;
    last = "";
    tell("draft");
  }
}

export const soon = whenQuiet(REST, () => draw());

export async function readBlocks() {
  state.blocks = [];
  if (state.lesson) {
    try {
      const told = await api.lesson(state.lesson);
      const lines = told.text.split("\n");
      state.blocks = told.blocks.map(({ kind, line, last_line: end }) => ({
        kind,
        text: lines.slice(line, end - 1).join("\n"),
      }));
    } catch {
      // the proof tells what is wrong with the lesson
    }
  }
  soon();
}

/** The frame figure of the lesson that shows this frame. */
function figureHere() {
  const here = ({ kind, text }) => {
    const at = kind === "frame" && /^at:\s*(.+?)\s*$/m.exec(text)?.[1];
    return at && (state.clip.events[at] ?? Number(at)) === state.frame;
  };
  return state.blocks.find(here) ?? null;
}

/** The plate that is composed; seen: what is drawn of a chart, which has no picture of its own. */
function composed() {
  const figure = { kind: blockKind(plate), text: plateText() };
  if (plate.figure !== "progress") return figure;
  return { ...figure, seen: { kind: "frame", text: plateText({ at: state.frame }) } };
}

async function draw() {
  if (!state.clip) return;
  const figure = isBegun(plate) ? composed() : state.mode === "compose" ? null : figureHere();
  if (!figure) {
    last = "";
    asked?.abort();
    if (state.draft) {
      state.draft = null;
      tell("draft");
    }
    return;
  }
  const width = Math.min(WIDEST, Math.round(state.clip.size[0] * view.zoom));
  const frame = state.frame;
  asked?.abort();
  asked = new AbortController();
  const body = { clip: state.clip.name, width, crop: "whole", frame };
  const ask = ({ kind, text }) => api.draft({ ...body, kind, text }, asked.signal);
  try {
    const [told, seen] = await Promise.all([ask(figure), figure.seen ? ask(figure.seen) : null]);
    const panel =
      (seen ?? told).panels.find((one) => one.frame === frame && one.clip === body.clip) ?? null;
    if (state.frame !== frame) return;
    const stamp = JSON.stringify([told, panel, frame]);
    if (stamp === last) return;
    last = stamp;
    state.draft = {
      frame,
      width,
      svg: panel && drawn(panel.svg),
      bar: panel?.bar ? drawn(panel.bar) : null,
      chart: told.drawing && drawn(told.drawing),
      points: told.points,
      measures: told.measures,
      problems: told.problems,
      wanted: told.wanted,
      alt: panel?.alt ?? "",
    };
  } catch (error) {
    if (error.name === "AbortError") return;
    state.draft = {
      frame,
      width,
      svg: null,
      bar: null,
      chart: null,
      points: [],
      measures: [],
      problems: error.problems,
      fault: error,
      wanted: [],
      alt: "",
    };
  }
  tell("draft");
}
