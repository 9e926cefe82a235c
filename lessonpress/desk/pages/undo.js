// Undo and redo, without end, through reloads of the page too.

import { save, turned } from "./saving.js";
import { tellAloud } from "./dom.js";

const SHELF = "desk-done";
const JOIN = 900; // ms: nudges of one mark that follow each other so fast are one doing

let { done, undone } = read();
let before = { key: null, at: 0 };
let moving = Promise.resolve();
let go = () => {};

/** `call(frame, mark)` brings what was undone into view. */
export function whenUndone(call) {
  go = call;
}

/**
 * Saves doings and remembers them under `words`. key: doings of one key that follow each other fast are
 * one.
 */
export async function act(words, due, key = null) {
  const saved = await save(due);
  if (!saved) return null;
  const now = Date.now();
  const top = done.at(-1);
  if (key && top && before.key === key && now - before.at < JOIN) join(top, saved);
  else done.push({ words, doings: saved });
  before = { key, at: now };
  undone = [];
  write();
  return saved;
}

function join(top, saved) {
  const [first] = top.doings;
  const [then] = saved;
  first.edits = first.edits.map((edit, n) => ({ ...edit, to: then.edits[n].to }));
}

export function undo() {
  return move(
    "Undone",
    () => done.pop(),
    (entry) => undone.push(entry),
    true,
  );
}

export function redo() {
  return move(
    "Redone",
    () => undone.pop(),
    (entry) => done.push(entry),
    false,
  );
}

function move(words, from, onto, back) {
  moving = moving.then(async () => {
    const entry = from();
    if (!entry) return tellAloud(back ? "There is nothing to undo." : "There is nothing to redo.");
    const doings = back ? entry.doings.map(turned).reverse() : entry.doings;
    const saved = await save(doings);
    if (saved) onto(entry);
    before = { key: null, at: 0 };
    write();
    if (saved) tellAloud(`${words}: ${entry.words}`);
    const edit = entry.doings[0]?.edits?.[0];
    if (saved && edit?.mark !== undefined) go(edit.frame ?? edit.first, edit.mark);
    return saved;
  });
  return moving;
}

function read() {
  try {
    const kept = JSON.parse(sessionStorage.getItem(SHELF));
    return { done: kept.done, undone: kept.undone };
  } catch {
    return { done: [], undone: [] };
  }
}

function write() {
  try {
    sessionStorage.setItem(SHELF, JSON.stringify({ done, undone }));
  } catch {
    // the shelf is full: what was done stays in this page's memory
  }
}
