// Where the marks are: placed by hand, carried, or standing in the room; and which are wanted.

import { api } from "./api.js";
import { savesWaiting, toldAtRest, versions, whenSaved } from "./saving.js";
import { state, tell } from "./state.js";
import { eventsInOrder, grouped } from "./words.js";

export async function readMarks() {
  const clip = state.clip.name;
  const told = await toldAtRest(() => api.marks(clip));
  if (state.clip?.name !== clip) return;
  state.byHand = told.marks;
  state.tracks = told.tracks;
  state.suggested = told.suggested;
  versions.marks = told.version;
  versions.tracks = told.tracks_version;
  tell("marks");
}

/** {x, y, u, by: "hand" | "suggested" | "track" | "room" | "middle"} or null; suggested: and accepted. */
export function placeOf(mark, frame) {
  const placed = state.byHand[mark]?.[frame];
  if (placed) {
    const by = placed[3] ?? "hand";
    return { x: placed[0], y: placed[1], u: placed[2] ?? state.clip.default_u, by };
  }
  const carried = state.tentative[mark]?.[frame] ?? state.tracks[mark]?.[frame];
  if (carried) return { x: carried[0], y: carried[1], u: carried[2], by: "track" };
  if (state.clip.room.includes(mark)) {
    const [first] = Object.values(state.byHand[mark] ?? {});
    return first ? { x: first[0], y: first[1], u: first[2] ?? state.clip.default_u, by: "room" } : null;
  }
  return middle(mark, frame);
}

function middle(mark, frame) {
  const members = state.clip.middles[mark]?.map((one) => placeOf(one, frame));
  if (!members?.length || members.includes(null)) return null;
  const mean = (key) => members.reduce((sum, one) => sum + one[key], 0) / members.length;
  const u = Math.hypot(...members.map((one) => one.u)) / members.length;
  return { x: mean("x"), y: mean("y"), u, by: "middle" };
}

/** {x, y, u} of a suggestion that is not answered yet, or null. */
export function suggestedAt(mark, frame) {
  const at = state.suggested[mark]?.[frame];
  return at && !placeOf(mark, frame) ? { x: at[0], y: at[1], u: at[2] } : null;
}

/** Suggestions of the picture in view that are not answered yet: [[mark, {x, y, u}]…]. */
export function suggestedHere() {
  return Object.keys(state.suggested)
    .map((mark) => [mark, suggestedAt(mark, state.frame)])
    .filter(([, at]) => at);
}

/** Shows marks as carried before they are accepted: {mark: [[frame, x, y, u]…]}. */
export function showTentative(rows) {
  state.tentative = {};
  for (const [mark, its] of Object.entries(rows)) {
    state.tentative[mark] = Object.fromEntries(its.map(([frame, ...row]) => [frame, row]));
  }
  tell("marks");
}

export function names() {
  return [...new Set([...Object.keys(state.byHand), ...Object.keys(state.tracks)])];
}

export function placedByHand(mark, frame) {
  return state.byHand[mark]?.[frame] ?? null;
}

export function handFrames(mark) {
  return Object.keys(state.byHand[mark] ?? {})
    .map(Number)
    .sort((a, b) => a - b);
}

export function trackRows(mark, first, last) {
  return Object.entries(state.tracks[mark] ?? {})
    .map(([frame, row]) => [Number(frame), row[0], row[1], row[2]])
    .filter(([frame]) => frame >= first && frame <= last)
    .sort((a, b) => a[0] - b[0]);
}

/** Where the mark stood in the last and next frames where it is placed by hand. */
export function beside(mark, frame) {
  const frames = handFrames(mark);
  const last = frames.filter((one) => one < frame).at(-1) ?? null;
  const next = frames.find((one) => one > frame) ?? null;
  const at = (one) =>
    one === null ? null : { frame: one, x: state.byHand[mark][one][0], y: state.byHand[mark][one][1] };
  return { last: at(last), next: at(next) };
}

/** Shows a mark at its new place, or at none, before the file has it. */
export function show(mark, frame, to) {
  state.byHand[mark] ??= {};
  if (to) state.byHand[mark][frame] = to;
  else delete state.byHand[mark][frame];
  tell("marks");
}

/**
 * Marks wanted and not there: [{mark, frame, numerals}…] in the order of the swing.
 * Without a lesson, those of the events.
 */
export function gaps() {
  const asked = state.lesson
    ? state.wanted.filter((one) => one.clip === state.clip.name)
    : missingAtEvents();
  return asked
    .filter((one) => !placeOf(one.mark, one.frame))
    .sort((one, other) => one.frame - other.frame);
}

/** Marks that the clip has somewhere, at every event. */
function missingAtEvents() {
  const marks = grouped(names())
    .flatMap(([, its]) => its)
    .filter((mark) => !state.clip.room.includes(mark));
  return eventsInOrder().flatMap(([, frame]) => marks.map((mark) => ({ mark, frame, numerals: [] })));
}

function turnIn(answer, doing) {
  if (doing.clip !== state.clip?.name) return;
  if (answer === null || answer.merged) {
    readMarks();
    return;
  }
  if (savesWaiting() > 1) return; // the page is ahead of the file
  for (const edit of answer.edits) show(edit.mark, edit.frame, edit.to);
}

function turnInTracks(answer, doing) {
  if (doing.clip === state.clip?.name) readMarks();
}

whenSaved("marks", turnIn);
whenSaved("tracks", turnInTracks);
