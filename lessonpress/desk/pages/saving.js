// Every change goes to its file at once, one request after another, and can be turned round without end.
//
// A doing is {where: "marks" | "tracks" | "card", clip, edits}: what stood there and what is to stand there.
// Turned round (`was` for `to`) it is its own undoing.

import { api } from "./api.js";
import { ask } from "./ask.js";
import { state, tell } from "./state.js";

const SEND = { marks: api.saveMarks, tracks: api.saveTracks, card: api.saveCard };
export const FILES = { marks: "marks.yaml", tracks: "tracks.csv", card: "clip.yaml" };

const sent = new Map(); // where -> functions called with the answer, in the order in which they asked
export const versions = {}; // where -> version last seen of the clip that is open
let last = Promise.resolve();
let begun = 0;
let waiting = 0;

/**
 * `call(answer, doing)` is called when something was saved there; with null, when the file must be read
 * again.
 */
export function whenSaved(where, call) {
  sent.set(where, [...(sent.get(where) ?? []), call]);
}

/** When all that was to be saved until now is. */
export function saved() {
  return last;
}

export function savesWaiting() {
  return waiting;
}

/**
 * What `ask` gives, asked for when all is saved. The page goes ahead of the server: where something was saved
 * while it was asked, the answer may be from before that, and it is asked again.
 */
export async function toldAtRest(ask) {
  let before;
  let told;
  do {
    while (savesWaiting()) await last;
    before = begun;
    told = await ask();
  } while (before !== begun);
  return told;
}

/**
 * Saves in the order asked. Gives the doings as done, or null where they could not be.
 * due: the doings, or a function that gives them when it is their turn, which counts as waiting until then.
 */
export function save(due) {
  begun += 1;
  waiting += 1;
  const done = last
    .then(() => all(typeof due === "function" ? due() : due))
    .finally(() => (waiting -= 1));
  last = done.catch(() => {});
  return done;
}

async function all(doings) {
  const done = [];
  for (const doing of doings) {
    const answer = await one(doing);
    if (answer === null) return done.length ? done : null;
    done.push({ ...doing, edits: answer.edits });
    state.kept = { at: new Date(), file: FILES[doing.where] };
    tell("kept");
  }
  return done;
}

async function one(doing, anyway = false) {
  const known = doing.clip === state.clip?.name ? versions[doing.where] : undefined;
  try {
    const answer = await SEND[doing.where](doing.clip, { edits: doing.edits, version: known, anyway });
    if (doing.clip === state.clip?.name) versions[doing.where] = answer.version;
    tellSent(answer, doing);
    return answer;
  } catch (error) {
    if (error.status === 409 && error.collisions.length) {
      if (await whose(doing, error)) return one(doing, true);
    } else {
      state.kept = { fault: error };
      tell("kept");
    }
    tellSent(null, doing);
    return null;
  }
}

function tellSent(answer, doing) {
  for (const call of sent.get(doing.where) ?? []) call(answer, doing);
}

/** Asks whose change is to stand. True: ours. */
async function whose(doing, error) {
  const rows = error.collisions.map(
    (one) => `${named(one)}: the file has ${said(one.disk)}, you put ${said(one.to)}`,
  );
  return ask(
    `${FILES[doing.where]} was changed meanwhile`,
    [error.message, ...rows],
    [
      ["Keep the file’s", false, true],
      ["Keep mine", true],
    ],
  );
}

function named(collision) {
  if (collision.path) return collision.path.join(", ");
  return collision.frame === undefined ? collision.mark : `${collision.mark}, frame ${collision.frame}`;
}

function said(value) {
  if (value === null || value === undefined) return "nothing";
  return typeof value === "string" ? value : JSON.stringify(value);
}

export function turned(doing) {
  return {
    ...doing,
    edits: doing.edits.map((edit) => ({ ...edit, was: edit.to, to: edit.was })).reverse(),
  };
}
