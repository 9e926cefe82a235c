// A clip opened: what the server tells of it, its events, its place in the film.

import { api } from "./api.js";
import { tellAloud } from "./dom.js";
import { goTo, takeFirst } from "./hand.js";
import { readMarks } from "./marks.js";
import { Pictures } from "./pictures.js";
import { saved, toldAtRest, versions, whenSaved } from "./saving.js";
import { state, tell, whenDropped } from "./state.js";
import { act } from "./undo.js";
import { atWork, whenQuiet } from "./work.js";
import { eventsInOrder, frameWords } from "./words.js";

const STEPPED = 300; // ms within which who steps on steps again
export const USUAL_EVENTS = ["setup", "top", "impact", "finish"];

export async function openClip(name, lesson) {
  const [clip, card] = await Promise.all([api.clip(name), api.card(name)]);
  Object.assign(state, { clip, lesson });
  state.card = card.card ?? {};
  versions.card = card.version;
  state.pictures = new Pictures(clip.stretch, clip.size, clip.frames);
  state.frame = eventsInOrder()[0]?.[1] ?? 0;
  if (!lesson) state.pictures.ahead(state.frame); // a lesson may want another first
  await Promise.all([readMarks(), readWanted()]);
  takeFirst();
  tell("clip", "frame");
  seekMore(name);
}

whenDropped(() => state.pictures?.close());

/** What takes long, and can wait for the pictures that the author steps through. */
async function seekMore(name) {
  await atWork(() => atRest(state.pictures));
  if (state.clip?.name !== name) return;
  seekDoubts();
  await seekMotion(name);
  await seekProposals(name);
}

async function atRest(pictures) {
  let seen = null;
  do {
    seen = state.frame;
    await pictures.work();
    await new Promise((done) => setTimeout(done, STEPPED));
  } while (!pictures.closed && seen !== state.frame);
}

async function seekMotion(name) {
  try {
    const motion = await api.motion(name);
    if (state.clip?.name !== name) return;
    state.motion = motion;
    tell("clip");
  } catch {
    // without the curve the film still runs; the proof tells what is wrong with the file
  }
}

/** Where bodies are looked for, this takes some seconds. */
async function seekProposals(name) {
  try {
    const proposals = await api.proposed(name);
    if (state.clip?.name !== name) return;
    state.proposals = proposals;
    tell("clip");
  } catch {
    // a card that cannot be used yet says so elsewhere
  }
}

const seekDoubts = whenQuiet(600, async () => {
  const { clip } = state;
  if (!clip) return;
  try {
    const { warnings } = await api.doubts(clip.name);
    if (state.clip !== clip) return;
    state.doubts = warnings;
    tell("doubts");
  } catch {
    // a card that cannot be used yet has its reasons told elsewhere
  }
});

/** What the lesson's figures ask for. */
export async function readWanted() {
  if (!state.lesson) {
    state.wanted = [];
    state.figures = [];
    tell("wanted");
    return;
  }
  try {
    const told = await api.wanted(state.lesson);
    state.wanted = told.wanted;
    state.figures = told.figures;
  } catch {
    // a lesson whose front matter is broken asks for nothing; its fault is shown by the proof
  }
  tell("wanted");
}

let stale = false; // whether the clip changed since it was last asked for
let refreshing = null;
let carded = false; // whether the card changed since what does not fit was asked for

/** Reads the clip again after its card or its marks changed: once for all that changed meanwhile. */
export function refresh() {
  stale = true;
  refreshing ??= readAgain().finally(() => (refreshing = null));
  return refreshing;
}

async function readAgain() {
  while (stale) {
    await saved();
    stale = false;
    const name = state.clip?.name;
    if (!name) return;
    const [clip, card] = await toldAtRest(() => Promise.all([api.clip(name), api.card(name)]));
    if (state.clip?.name !== name) return;
    carded ||= versions.card !== card.version;
    state.clip = clip;
    state.card = card.card ?? {};
    versions.card = card.version;
    await Promise.all([readMarks(), readWanted()]);
    tell("clip");
    if (carded) seekDoubts(); // every limb is measured anew for a new scale, not for a new mark
    carded = false;
  }
}

export function step(by) {
  goTo(state.frame + by);
}

export function goToEvent(number) {
  const event = eventsInOrder()[number];
  if (event) goTo(event[1]);
  else tellAloud(`There is no event ${number + 1} yet.`);
}

/** Events that the film suggests and the card does not name yet: [[name, frame, within]…], in order. */
export function proposed() {
  return (state.proposals?.events ?? [])
    .filter(({ name }) => !(name in state.clip.events))
    .map(({ name, frame, within }) => [name, frame, within]);
}

/** Names frames: [[event, frame]…]; frame null takes a name away. */
export async function nameEvents(events) {
  const written = state.card.events ?? {};
  const edits = events
    .map(([name, frame]) => ({ path: ["events", name], was: written[name] ?? null, to: frame }))
    .filter((edit) => edit.was !== edit.to);
  if (!edits.length) return;
  state.card.events = { ...written };
  for (const [name, frame] of events) {
    for (const kept of [state.clip.events, state.card.events]) {
      if (frame === null) delete kept[name];
      else kept[name] = frame;
    }
  }
  tell("clip");
  const words = events
    .map(([name, frame]) => (frame === null ? `${name} deleted` : `${name}, frame ${frame}`))
    .join("; ");
  if (await act(words, [{ where: "card", clip: state.clip.name, edits }])) tellAloud(`Kept: ${words}.`);
}

export function takeProposed() {
  const events = proposed();
  if (!events.length)
    return tellAloud(
      `The film suggests no more events${state.proposals?.why ? `: ${state.proposals.why}` : ""}.`,
    );
  goTo(events[0][1]);
  return nameEvents(events.map(([name, frame]) => [name, frame]));
}

whenSaved("card", (answer, doing) => {
  if (doing.clip !== state.clip?.name) return;
  carded = true;
  refresh();
});

export function frameTold() {
  return frameWords(state.frame);
}
