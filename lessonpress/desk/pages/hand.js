// The mark in hand: how it is placed, and which comes in hand by itself.
//
// Only a mark that was asked for comes by itself: by a lesson's plate, or by the author who took several
// in turn.
// When all of these are placed in a picture, the hand is empty, and a click places nothing.
//
// | when                     | what comes in hand                                                          |
// |--------------------------|-----------------------------------------------------------------------------|
// | a clip is opened         | what its lesson wants first, in its picture                                 |
// | a mark was placed        | the next of the turn; what plates want in this picture; the same mark where |
// |                          | a plate wants it next, in that picture; else nothing                        |
// | another picture is shown | if the hand is empty: the turn's first, else the mark placed last, else     |
// |                          | another that plates want there                                              |

import { placing, rounded } from "./clicks.js";
import { tellAloud } from "./dom.js";
import { beside, gaps, placedByHand, placeOf, show, suggestedAt } from "./marks.js";
import { savesWaiting, whenSaved } from "./saving.js";
import { state, tell } from "./state.js";
import { act } from "./undo.js";
import { frameWords, markInText, markWords } from "./words.js";

export const EMPTY = "No mark is in hand. Press M to choose one.";

/** What is clicked next begins a placing of its own. */
export function clickless() {
  state.clicks = { mark: null, frame: null, at: [] };
}

/** The clicks that make up the placing of the mark in hand on this frame. */
export function clicksHere() {
  return state.clicks.mark === state.hand && state.clicks.frame === state.frame ? state.clicks.at : [];
}

/** Puts the mark in hand where it was clicked. again: as one more click of the same placing. */
export async function click(x, y, { again = false } = {}) {
  const { hand: mark, frame } = state;
  if (!mark) return tellAloud(EMPTY);
  if (mark in state.clip.middles) return tellAloud("A middle follows from its marks.");
  const at = [rounded(x), rounded(y)];
  const gathering = (again || state.hold) && state.clicks.mark === mark && state.clicks.frame === frame;
  state.clicks = { mark, frame, at: gathering ? [...state.clicks.at, at] : [at] };
  const was = placedByHand(mark, frame);
  const to = placing(state.clicks.at, state.clip.least_u);
  show(mark, frame, to);
  state.placedLast = mark;
  if (was === null && !again && !state.hold) next();
  else aimAt(mark, frame);
  const edit =
    state.clicks.at.length > 1
      ? { mark, frame, was, clicks: state.clicks.at }
      : { mark, frame, was, to };
  await act(`${markWords(mark)}, frame ${frame}`, [
    { where: "marks", clip: state.clip.name, edits: [edit] },
  ]);
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
  // a suggestion that was accepted and is moved is a mark by hand, and its u was that of the suggestion
  const to = [rounded(x), rounded(y), ...(placed.length > 3 ? [] : placed.slice(2))];
  show(mark, frame, to);
  nudged(mark, frame, placed, to);
}

function nudged(mark, frame, was, to) {
  if (state.nudge && state.nudge.mark === mark && state.nudge.frame === frame) {
    state.nudge.to = to;
    return;
  }
  const mine = { mark, frame, was, to };
  const clip = state.clip.name;
  state.nudge = mine;
  act(
    `${markWords(mark)} moved`,
    () => {
      if (state.nudge === mine) state.nudge = null;
      return [{ where: "marks", clip, edits: [mine] }];
    },
    `nudge ${mark} ${frame}`,
  );
}

/** Deletes the placing of the mark in hand on this frame. */
export async function deletePlacing() {
  const { hand: mark, frame } = state;
  if (!mark) return tellAloud(EMPTY);
  const was = placedByHand(mark, frame);
  if (!was) return tellAloud("It is not placed by hand on this frame.");
  show(mark, frame, null);
  aimAt(mark, frame);
  await act(`${markWords(mark)} deleted`, [
    { where: "marks", clip: state.clip.name, edits: [{ mark, frame, was, to: null }] },
  ]);
}

/** Takes a mark in hand, or with null none. */
export function take(mark) {
  putInHand(mark);
  tell("hand");
}

function putInHand(mark) {
  if (state.hand !== mark) clickless();
  state.hand = mark;
  setAim(mark, state.frame);
}

/** Takes marks in hand one after another. */
export function takeInTurn(marks) {
  state.turn = marks;
  take(marks.find((one) => !placeOf(one, state.frame)) ?? marks[0]);
}

/** Sets the cross on the mark, or where it may be looked for: where it stood nearest in time. */
export function aimAt(mark, frame) {
  setAim(mark, frame);
  tell("hand");
}

function setAim(mark, frame) {
  const here = mark && (placeOf(mark, frame) ?? suggestedAt(mark, frame));
  if (here) state.aim = { x: here.x, y: here.y };
  else if (mark) {
    const { last, next } = beside(mark, frame);
    const near =
      last && next ? (frame - last.frame <= next.frame - frame ? last : next) : (last ?? next);
    if (near) state.aim = { x: near.x, y: near.y };
  }
  state.aim ??= { x: state.clip.size[0] / 2, y: state.clip.size[1] / 2 };
}

/** Shows another picture; an empty hand takes what is wanted there. */
export function goTo(frame) {
  const to = Math.min(state.clip.frames - 1, Math.max(0, Math.round(frame)));
  if (to === state.frame) return;
  state.frame = to;
  putInHand(state.hand ?? missingOfTurn() ?? wantedHere() ?? carriedOfTurn());
  tell("frame", "hand"); // at once: most parts hear of both
}

/** Takes in hand what the lesson wants first, in its picture. */
export function takeFirst() {
  const [gap] = state.lesson ? gaps() : [];
  if (gap) state.frame = gap.frame;
  take(gap?.mark ?? null);
}

/** Takes what comes after the mark that was just placed. */
function next() {
  take(missingOfTurn() ?? wantedHere());
  const then =
    !state.hand && state.lesson
      ? gaps().find((one) => one.mark === state.placedLast && one.frame > state.frame)
      : null;
  if (then) goTo(then.frame);
  if (!state.hand) tellAloud(emptyWords());
}

function missingOfTurn() {
  return state.turn.includes(state.placedLast)
    ? (state.turn.find((one) => !placeOf(one, state.frame)) ?? null)
    : null;
}

/** What the turn begins with in a picture over which it was carried: to be put right. */
function carriedOfTurn() {
  return state.turn.includes(state.placedLast)
    ? (state.turn.find((one) => !placedByHand(one, state.frame)) ?? null)
    : null;
}

/** What plates want in this picture: the mark placed last before others. */
function wantedHere() {
  const marks = state.lesson
    ? gaps()
        .filter((one) => one.frame === state.frame)
        .map((one) => one.mark)
    : [];
  return marks.includes(state.placedLast) ? state.placedLast : (marks[0] ?? null);
}

/** The gap that comes after the mark in hand in this picture, from the first again after the last. */
export function nextGap() {
  const all = gaps();
  const here = all.findIndex((one) => one.frame === state.frame && one.mark === state.hand);
  const after = here < 0 ? all.findIndex((one) => one.frame >= state.frame) : here + 1;
  return all[Math.max(0, after) % all.length] ?? null;
}

/** Why the hand is empty. */
export function emptyWords() {
  if (!state.lesson) return "Press M to choose a mark.";
  const gap = nextGap();
  if (!gap) return "Every mark that the lesson wants is placed.";
  const where = `${markInText(gap.mark)}, ${frameWords(gap.frame)}`;
  return `Nothing more is wanted in this picture. W goes to ${where}.`;
}

whenSaved("marks", (answer, doing) => {
  if (answer === null || answer.merged || doing.clip !== state.clip?.name || savesWaiting() > 1) return;
  if (answer.edits.some((edit) => edit.mark === state.hand && edit.frame === state.frame))
    aimAt(state.hand, state.frame);
});
