// Carrying marks over frames: started here, watched on a curve, accepted with one key, cut back.

import { api } from "./api.js";
import { button, h, refill, s, tellAloud } from "./dom.js";
import { names, placedByHand, showTentative, trackRows } from "./marks.js";
import { saved } from "./saving.js";
import { on, state, tell, whenDropped } from "./state.js";
import { act } from "./undo.js";
import { eventsInOrder, markWords } from "./words.js";

let slip = null;

export function makeCarrySlip() {
  slip = h("section", { class: "slip carry", hidden: true, "aria-label": "Carried" });
  on("carry frame hand marks", draw);
  return slip;
}

whenDropped(() => state.carrying?.stop.abort());

export function isCarrying() {
  return state.carrying !== null;
}

/** Carries marks that are placed by hand on this frame, on to the last event; only: this mark alone. */
export async function carry(only = null) {
  if (state.carrying && !state.carrying.done) return tellAloud("Marks are being carried already.");
  const here = (only ? [only] : names()).filter(
    (mark) => placedByHand(mark, state.frame) && !state.clip.room.includes(mark),
  );
  if (!here.length) return tellAloud("Place a mark on this frame first: it is carried on from here.");
  const first = state.frame;
  const end = eventsInOrder().at(-1)?.[1] ?? 0;
  const last = end > first ? end : state.clip.frames - 1;
  if (first === last) return tellAloud("This is the last frame.");
  const stop = new AbortController();
  state.carrying = { marks: here, first, last, rows: {}, gaps: {}, told: "", stop, done: false };
  tell("carry");
  try {
    await saved(); // the server carries from what is in the file
    await api.track(state.clip.name, { marks: here, from: first, to: last }, take, stop.signal);
  } catch (error) {
    if (error.name !== "AbortError") tellAloud(error.whole ?? error.message);
    if (state.carrying && !Object.keys(state.carrying.rows).length) letGo();
  }
}

function take(line) {
  if (!state.carrying) return;
  if (line.error) tellAloud(`${line.error.reason}: ${line.error.way_out}`);
  if (line.progress) state.carrying.told = `${markWords(line.mark)}: ${line.progress} of ${line.of}`;
  if (line.rows) {
    state.carrying.rows[line.mark] = line.rows;
    state.carrying.gaps[line.mark] = line.gaps;
    showTentative(state.carrying.rows);
  }
  if (line.done) {
    state.carrying.done = true;
    state.carrying.told = "";
    tellAloud("Carried. Enter accepts.");
  }
  tell("carry");
}

export async function accept() {
  const { marks, first, last, rows } = state.carrying;
  const edits = marks
    .filter((mark) => rows[mark])
    .map((mark) => ({
      mark,
      first,
      last,
      was: trackRows(mark, first, last),
      to: rows[mark].map((row) => row.slice(0, 4)),
    }));
  state.carrying = null;
  tell("carry");
  await act(`carried ${marks.map(markWords).join(", ")}`, [
    { where: "tracks", clip: state.clip.name, edits },
  ]);
  showTentative({});
}

export function letGo() {
  state.carrying?.stop.abort();
  state.carrying = null;
  showTentative({});
  tell("carry");
}

/** Takes the carried places of the mark in hand away from this frame on. */
export async function cutBack() {
  const { hand: mark, frame } = state;
  if (state.carrying?.rows[mark]) {
    state.carrying.rows[mark] = state.carrying.rows[mark].filter((row) => row[0] < frame);
    showTentative(state.carrying.rows);
    return tell("carry");
  }
  const was = trackRows(mark, frame, state.clip.frames - 1);
  if (!was.length) return tellAloud("Nothing of this mark was carried from here on.");
  const edits = [{ mark, first: frame, last: state.clip.frames - 1, was, to: [] }];
  await act(`${markWords(mark)} cut back to frame ${frame - 1}`, [
    { where: "tracks", clip: state.clip.name, edits },
  ]);
}

function draw() {
  slip.hidden = !state.carrying;
  if (!state.carrying) return;
  const { rows, gaps, told, done, first, last } = state.carrying;
  refill(
    slip,
    h("h2", {}, done ? "Carried, not kept yet" : "Carrying"),
    h("p", {}, `Frames ${first} to ${last}. ${told}`),
    h(
      "ul",
      { class: "curves" },
      Object.keys(rows).map((mark) =>
        h(
          "li",
          { class: mark === state.hand ? "hand" : null },
          h("b", {}, markWords(mark)),
          curve(rows[mark], first, last),
          h("span", {}, worst(rows[mark])),
          gaps[mark].map((gap) => h("small", {}, `not on ${gap.first} to ${gap.last}: ${gap.reason}`)),
        ),
      ),
    ),
    h(
      "div",
      { class: "row" },
      button("Accept", accept, { class: "chief", disabled: !done, data: { keep: "accept" } }),
      button("Cancel", letGo, { data: { keep: "cancel" } }),
    ),
    h(
      "p",
      { class: "hint" },
      "Enter accepts, X deletes the carried places of the mark in hand from this frame on, Esc cancels.",
    ),
  );
}

function worst(rows) {
  const most = Math.max(0, ...rows.map((row) => row[3]));
  return rows.length ? `to ± ${most.toFixed(1)} px` : "lost at once";
}

/** Its standard uncertainty over the frames, 4 px high at most. */
export function curve(rows, first, last) {
  const [wide, high] = [100, 26];
  const most = Math.max(2, ...rows.map((row) => row[3]));
  const x = (frame) => (wide * (frame - first)) / Math.max(1, last - first);
  const y = (u) => high - 1 - ((high - 3) * u) / most;
  const path = rows
    .map(
      (row, n) =>
        `${n && rows[n - 1][0] === row[0] - 1 ? "L" : "M"}${x(row[0]).toFixed(1)} ${y(row[3]).toFixed(1)}`,
    )
    .join("");
  return s(
    "svg",
    {
      viewBox: `0 0 ${wide} ${high}`,
      preserveAspectRatio: "none",
      class: "error-curve",
      role: "img",
      "aria-label": `error, ${worst(rows)}`,
    },
    s("path", { d: `M0 ${high - 0.5}H${wide}`, class: "ground" }),
    s("path", { d: path, class: "line" }),
    s("path", { d: `M${x(state.frame)} 0V${high}`, class: "now" }),
  );
}

/** The curve of the mark in hand as it is kept, for the slip of the mark in hand. */
export function keptCurve(mark) {
  const rows = trackRows(mark, 0, state.clip.frames - 1);
  return rows.length > 2 ? curve(rows, rows[0][0], rows.at(-1)[0]) : null;
}
