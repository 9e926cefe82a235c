// Where the marks are: placed by hand, carried, or standing in the room; and how they are placed.

import { api } from "./api.js";
import { tellAloud } from "./dom.js";
import { saved, savesWaiting, versions, whenSaved } from "./saving.js";
import { state, tell } from "./state.js";
import { act } from "./undo.js";
import { eventsInOrder, grouped, knownMarks, markWords } from "./words.js";

let hand = {}; // mark -> frame -> [x, y] or [x, y, u]
let tracks = {}; // mark -> frame -> [x, y, u, origin]
let tentative = {}; // as tracks: carried just now and not accepted yet
let clicks = { mark: null, frame: null, at: [] };
let turn = []; // marks that come in hand one after another, on every frame

export async function readMarks() {
  const clip = state.clip.name;
  let told;
  do {
    await saved();
    told = await api.marks(clip);
    if (state.clip?.name !== clip) return;
  } while (savesWaiting()); // the page is ahead of what the server told
  hand = told.marks;
  tracks = told.tracks;
  versions.marks = told.version;
  versions.tracks = told.tracks_version;
  tell("marks");
}

export function forgetMarks() {
  hand = {};
  tracks = {};
  tentative = {};
  clicks = { mark: null, frame: null, at: [] };
  turn = [];
}

/** {x, y, u, by: "hand" | "track" | "room" | "middle"} or null. */
export function placeOf(mark, frame) {
  const placed = hand[mark]?.[frame];
  if (placed) return { x: placed[0], y: placed[1], u: placed[2] ?? state.clip.default_u, by: "hand" };
  const carried = tentative[mark]?.[frame] ?? tracks[mark]?.[frame];
  if (carried) return { x: carried[0], y: carried[1], u: carried[2], by: "track" };
  if (state.clip.room.includes(mark)) {
    const [first] = Object.values(hand[mark] ?? {});
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

/** Shows marks as carried before they are accepted: {mark: [[frame, x, y, u]…]}. */
export function showTentative(rows) {
  tentative = {};
  for (const [mark, its] of Object.entries(rows)) {
    tentative[mark] = Object.fromEntries(its.map(([frame, ...row]) => [frame, row]));
  }
  tell("marks");
}

export function names() {
  return [...new Set([...Object.keys(hand), ...Object.keys(tracks)])];
}

export function placedByHand(mark, frame) {
  return hand[mark]?.[frame] ?? null;
}

export function handFrames(mark) {
  return Object.keys(hand[mark] ?? {}).map(Number).sort((a, b) => a - b);
}

export function trackRows(mark, first, last) {
  return Object.entries(tracks[mark] ?? {})
    .map(([frame, row]) => [Number(frame), row[0], row[1], row[2]])
    .filter(([frame]) => frame >= first && frame <= last)
    .sort((a, b) => a[0] - b[0]);
}

/** Where the mark stood in the last and next frames where it is placed by hand. */
export function beside(mark, frame) {
  const frames = handFrames(mark);
  const last = frames.filter((one) => one < frame).at(-1) ?? null;
  const next = frames.find((one) => one > frame) ?? null;
  const at = (one) => (one === null ? null : { frame: one, x: hand[mark][one][0], y: hand[mark][one][1] });
  return { last: at(last), next: at(next) };
}

/** What is clicked next begins a placing of its own. */
export function clickless() {
  clicks = { mark: null, frame: null, at: [] };
}

/** The clicks that make up the placing of the mark in hand on this frame. */
export function clicksHere() {
  return clicks.mark === state.hand && clicks.frame === state.frame ? clicks.at : [];
}

export function spread(points) {
  if (points.length < 3) return null;
  const mean = (key) => points.reduce((sum, point) => sum + point[key], 0) / points.length;
  const squares = (key) => points.reduce((sum, point) => sum + (point[key] - mean(key)) ** 2, 0) / (points.length - 1);
  return Math.sqrt((squares(0) + squares(1)) / 2);
}

/** Puts the mark in hand where it was clicked. again: as one more click of the same placing. */
export async function click(x, y, { again = false } = {}) {
  const { hand: mark, frame } = state;
  if (!mark) return tellAloud("No mark is in hand. Press M to choose one.");
  if (mark in state.clip.middles) return tellAloud("A middle follows from its marks.");
  const at = [rounded(x), rounded(y)];
  const gathering = (again || state.hold) && clicks.mark === mark && clicks.frame === frame;
  clicks = { mark, frame, at: gathering ? [...clicks.at, at] : [at] };
  const was = placedByHand(mark, frame);
  const to = placing(clicks.at);
  show(mark, frame, to);
  const first = was === null;
  if (first && !again && !state.hold) next();
  else aimAt(mark, frame);
  const edit = clicks.at.length > 1 ? { mark, frame, was, clicks: clicks.at } : { mark, frame, was, to };
  await act(`${markWords(mark)}, frame ${frame}`, [{ where: "marks", clip: state.clip.name, edits: [edit] }]);
}

/** The mean of clicks; the server says the same and has the last word. */
function placing(points) {
  const mean = (key) => rounded(points.reduce((sum, point) => sum + point[key], 0) / points.length);
  const u = spread(points);
  return u === null ? [mean(0), mean(1)] : [mean(0), mean(1), Math.max(0.5, u)];
}

/** Moves the mark in hand, or only the cross where it is not placed yet. */
export function nudge(right, down) {
  const { hand: mark, frame, clip } = state;
  const placed = mark && placedByHand(mark, frame);
  const from = placed ? { x: placed[0], y: placed[1] } : state.aim;
  if (!from) return;
  const x = Math.min(clip.size[0], Math.max(0, from.x + right));
  const y = Math.min(clip.size[1], Math.max(0, from.y + down));
  state.aim = { x, y };
  if (!placed) return tell("hand");
  clickless();
  const to = [rounded(x), rounded(y), ...placed.slice(2)];
  show(mark, frame, to);
  nudged(mark, frame, placed, to);
}

let pushing = null; // the nudge that waits for what is on its way before it; nudges meanwhile are one with it

function nudged(mark, frame, was, to) {
  if (pushing && pushing.mark === mark && pushing.frame === frame) {
    pushing.to = to;
    return;
  }
  const mine = { mark, frame, was, to };
  const clip = state.clip.name;
  pushing = mine;
  act(`${markWords(mark)} moved`, () => {
    if (pushing === mine) pushing = null;
    return [{ where: "marks", clip, edits: [mine] }];
  }, `nudge ${mark} ${frame}`);
}

/** Takes the placing of the mark in hand away from this frame. */
export async function takeAway() {
  const { hand: mark, frame } = state;
  const was = placedByHand(mark, frame);
  if (!was) return tellAloud("It is not placed by hand on this frame.");
  show(mark, frame, null);
  aimAt(mark, frame);
  await act(`${markWords(mark)} taken away`, [{ where: "marks", clip: state.clip.name, edits: [{ mark, frame, was, to: null }] }]);
}

function rounded(number) {
  return Math.round(number * 100) / 100;
}

function show(mark, frame, to) {
  hand[mark] ??= {};
  if (to) hand[mark][frame] = to;
  else delete hand[mark][frame];
  tell("marks");
}

/** Takes a mark in hand; frame: goes there too. */
export function take(mark) {
  if (state.hand !== mark) clickless();
  state.hand = mark;
  aimAt(mark, state.frame);
}

/** Takes marks in hand one after another. */
export function takeInTurn(marks) {
  turn = marks;
  take(marks.find((one) => !placeOf(one, state.frame)) ?? marks[0]);
}

/** Sets the cross on the mark, or where it may be looked for: where it stood nearest in time. */
export function aimAt(mark, frame) {
  const here = mark && placeOf(mark, frame);
  if (here) state.aim = { x: here.x, y: here.y };
  else if (mark) {
    const { last, next } = beside(mark, frame);
    const near = last && next ? (frame - last.frame <= next.frame - frame ? last : next) : (last ?? next);
    if (near) state.aim = { x: near.x, y: near.y };
  }
  state.aim ??= { x: state.clip.size[0] / 2, y: state.clip.size[1] / 2 };
  tell("hand");
}

/** Marks wanted and not there: [{mark, frame, numerals}…] in the figures' order; without a lesson, the events'. */
export function gaps() {
  const asked = state.lesson ? state.wanted.filter((one) => one.clip === state.clip.name) : missingAtEvents();
  return asked.filter((one) => !placeOf(one.mark, one.frame));
}

/** Marks that the clip has somewhere, at every event. */
function missingAtEvents() {
  const marks = grouped(names()).flatMap(([, its]) => its).filter((mark) => !state.clip.room.includes(mark));
  return eventsInOrder().flatMap(([, frame]) => marks.map((mark) => ({ mark, frame, numerals: [] })));
}

/** Takes the next mark in hand after one was placed: its turn, what figures want here, what other frames have. */
function next() {
  const { hand: mark, frame } = state;
  if (turn.includes(mark)) return take(after(turn, mark).find((one) => !placeOf(one, frame)) ?? turn[0]);
  const order = grouped([...names(), ...state.clip.room]).flatMap(([, marks]) => marks);
  const wanting = gaps().filter((one) => one.frame === frame).map((one) => one.mark);
  const elsewhere = after(order, mark).filter((one) => !state.clip.room.includes(one));
  const choice = [...wanting, ...elsewhere, ...after(knownMarks(), mark)];
  return take(choice.find((one) => !(one in state.clip.middles) && !placeOf(one, frame)) ?? mark);
}

function after(order, mark) {
  const here = order.indexOf(mark);
  return [...order.slice(here + 1), ...order.slice(0, Math.max(0, here))];
}

function turnIn(answer, doing) {
  if (doing.clip !== state.clip?.name) return;
  if (answer === null || answer.merged) {
    readMarks();
    return;
  }
  if (savesWaiting() > 1) return; // the page is ahead of the file
  for (const edit of answer.edits) show(edit.mark, edit.frame, edit.to);
  if (answer.edits.some((edit) => edit.mark === state.hand && edit.frame === state.frame)) aimAt(state.hand, state.frame);
}

function turnInTracks(answer, doing) {
  if (doing.clip === state.clip?.name) readMarks();
}

whenSaved("marks", turnIn);
whenSaved("tracks", turnInTracks);
