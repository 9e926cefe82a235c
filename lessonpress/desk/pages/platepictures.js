// Which pictures a plate shows: this one, several events, a stretch in motion, two side by side, one number
// over several clips; or none, for a number that several lessons have. What is chosen is kept on the plate.

import { button, h } from "./dom.js";
import { state, tell } from "./state.js";
import { capital, clipTitle, eventAt, eventsInOrder, instantOf } from "./words.js";

export const NOTHING_CHOSEN = {
  events: null, // of a strip; null: all of them
  stretch: null, // of a loop: {from, to, slowed}; null: from the first event to the last
  second: null, // of a pair: {clip, at, mirrored}; null: the same clip at another event
  over: null, // clips of a progress; null: this one and those that have this event
  followed: null, // the id of a number that lessons have; null: the first that several do
  lessons: null, // of a progress over lessons; null: all that have its number
};
const SLOWED = 4; // what the handbook takes where nothing is said

/** What may be chosen: [[kind of figure, words]…]. */
export function choices() {
  const events = eventsInOrder().length;
  const others = clipsWith(null).length;
  return [
    ["frame", "this frame"],
    events > 1 ? ["strip", "several events"] : null,
    events > 1 ? ["loop", "a stretch in motion"] : null,
    events > 1 || others > 1 ? ["pair", "two pictures"] : null,
    others > 1 && eventAt(state.frame) ? ["progress", "one number over clips"] : null,
    Object.keys(state.site.numbers).length ? ["lessons", "one number over lessons"] : null,
  ].filter(Boolean);
}

/** The kind of its block. */
export function blockKind(plate) {
  return plate.figure === "lessons" ? "progress" : plate.figure;
}

/** Whether there is something to set: what lessons have measured needs nothing drawn. */
export function isBegun(plate) {
  return plate.overlays.length > 0 || plate.figure === "lessons";
}

/** The keys of the block that say which pictures. */
export function pictureKeys(plate) {
  const here = instantOf(plate.frame ?? state.frame);
  if (plate.figure === "strip") return { frames: stripEvents(plate) };
  if (plate.figure === "loop") return stretch(plate);
  if (plate.figure === "pair") {
    const { clip, at, mirrored } = secondOf(plate);
    const other = { clip, at, ...(mirrored ? { mirrored } : {}) };
    return { of: [{ clip: state.clip.name, at: here }, other] };
  }
  if (plate.figure === "progress") return { at: here, clips: clipsOver(plate) };
  if (plate.figure === "lessons") return { measure: followedBy(plate), over: lessonsOver(plate) };
  return { at: here };
}

/** What the numbers of this clip's picture end in. */
export function suffixOf(plate) {
  if (plate.figure === "strip") return `.${eventAt(state.frame)}`;
  if (plate.figure === "pair") return ".first";
  return plate.figure === "progress" ? `.${state.clip.name}` : "";
}

/** A name for the plate: "top", "sequence". */
export function nameOf(plate) {
  if (plate.figure === "strip") return "sequence";
  if (plate.figure === "lessons") return followedBy(plate).replaceAll(".", "-");
  if (plate.figure !== "frame") return plate.figure;
  return eventAt(plate.frame ?? state.frame) ?? `frame-${plate.frame ?? state.frame}`;
}

function stripEvents(plate) {
  const all = eventsInOrder().map(([event]) => event);
  const chosen = all.filter((event) => !plate.events || plate.events.includes(event));
  return chosen.length ? chosen : all;
}

function stretch(plate) {
  const events = eventsInOrder().map(([event]) => event);
  return { from: events[0], to: events.at(-1), slowed: SLOWED, ...plate.stretch };
}

function secondOf(plate) {
  const events = eventsInOrder().map(([event]) => event);
  const here = eventAt(plate.frame ?? state.frame);
  const at = events.find((event) => event !== here) ?? here;
  return { clip: state.clip.name, at: at ?? instantOf(state.frame), mirrored: false, ...plate.second };
}

function clipsOver(plate) {
  const event = eventAt(plate.frame ?? state.frame);
  const names = clipsWith(event).map((one) => one.name);
  return names.filter((name) => name === state.clip.name || !plate.over || plate.over.includes(name));
}

function followedBy({ followed }) {
  const { numbers } = state.site;
  return followed in numbers ? followed : (Object.keys(numbers)[0] ?? "");
}

/** The lessons of a chart, the oldest first, as their list has them. */
function lessonsOver(plate) {
  const all = state.site.numbers[followedBy(plate)] ?? [];
  return all.filter((name) => !plate.lessons || plate.lessons.includes(name));
}

/** The clips whose cards are filled in, and name an event. */
function clipsWith(event) {
  return state.site.clips.filter((one) => one.has_card && (!event || one.events.includes(event)));
}

/** What is to be chosen for the kind of plate; null where nothing is. */
export function pictureChoices(plate) {
  const change = (keys) => {
    Object.assign(plate, keys);
    tell("plate");
  };
  if (plate.figure === "strip") return eventToggles(plate, change);
  if (plate.figure === "loop") return stretchFields(plate, change);
  if (plate.figure === "pair") return secondFields(plate, change);
  if (plate.figure === "lessons") return lessonFields(plate, change);
  return plate.figure === "progress" ? clipToggles(plate, change) : null;
}

function toggles(label, names, chosen, change, { words = capital, fixed = null } = {}) {
  const turned = (name) =>
    chosen.includes(name) ? chosen.filter((one) => one !== name) : [...chosen, name];
  return h(
    "div",
    { class: "sets", role: "group", "aria-label": label },
    h("span", {}, label),
    names.map((name) =>
      button(words(name), () => change(turned(name)), {
        "aria-pressed": chosen.includes(name) ? "true" : "false",
        disabled: name === fixed,
        data: { keep: `${label} ${name}` },
      }),
    ),
  );
}

function eventToggles(plate, change) {
  const names = eventsInOrder().map(([event]) => event);
  return toggles("Events", names, stripEvents(plate), (events) => change({ events }));
}

function clipToggles(plate, change) {
  const names = clipsWith(eventAt(plate.frame ?? state.frame)).map((one) => one.name);
  const said = { words: clipTitle, fixed: state.clip.name };
  return toggles("Clips", names, clipsOver(plate), (over) => change({ over }), said);
}

function lessonFields(plate, change) {
  const id = followedBy(plate);
  const titles = Object.fromEntries(state.site.lessons.map((one) => [one.name, one.title]));
  const take = (followed) => change({ followed, lessons: null });
  return [
    h(
      "div",
      { class: "picture-fields" },
      field("Its number", choice("followed", Object.keys(state.site.numbers), id, take, String)),
    ),
    toggles(
      "Lessons",
      state.site.numbers[id] ?? [],
      lessonsOver(plate),
      (lessons) => change({ lessons }),
      { words: (name) => titles[name] ?? name },
    ),
  ];
}

function stretchFields(plate, change) {
  const now = stretch(plate);
  const set = (key) => (value) => change({ stretch: { ...plate.stretch, [key]: value } });
  const events = eventsInOrder().map(([event]) => event);
  const slowed = h("input", {
    id: "loop-slowed",
    type: "number",
    min: "1",
    max: "100",
    step: "any",
    value: now.slowed,
    required: true,
    data: { keep: "slowed" },
  });
  // Noted as it is typed: the sheet may be drawn anew before the field is left, and not every browser then
  // says that it was changed.
  slowed.addEventListener("input", () => {
    if (slowed.validity.valid) plate.stretch = { ...plate.stretch, slowed: Number(slowed.value) };
  });
  slowed.addEventListener("change", () => slowed.validity.valid && tell("plate"));
  return h(
    "div",
    { class: "picture-fields" },
    field("From", choice("loop-from", events, now.from, set("from"))),
    field("To", choice("loop-to", events, now.to, set("to"))),
    field("Slower than life, times", slowed),
  );
}

function secondFields(plate, change) {
  const now = secondOf(plate);
  const set = (keys) => change({ second: { ...now, ...keys } });
  const clips = clipsWith(null);
  const eventsOf = (name) =>
    name === state.clip.name
      ? eventsInOrder().map(([event]) => event)
      : (clips.find((one) => one.name === name)?.events ?? []);
  const to = (clip) => {
    const events = eventsOf(clip);
    const here = eventAt(plate.frame ?? state.frame);
    const same = clip !== state.clip.name && events.includes(here) ? here : null;
    return { clip, at: same ?? (events.includes(now.at) ? now.at : events[0]) };
  };
  const about = h("input", {
    id: "pair-mirrored",
    type: "checkbox",
    checked: now.mirrored,
    data: { keep: "mirrored" },
    onchange: () => set({ mirrored: about.checked }),
  });
  const names = clips.filter((one) => one.events.length).map((one) => one.name);
  return h(
    "div",
    { class: "picture-fields" },
    field(
      "Beside it",
      choice("pair-clip", names, now.clip, (clip) => set(to(clip)), clipTitle),
    ),
    field(
      "At",
      choice("pair-at", eventsOf(now.clip), now.at, (at) => set({ at })),
    ),
    h("label", { class: "hold" }, about, "turned about"),
  );
}

function field(words, control) {
  return [h("label", { for: control.id }, words), control];
}

function choice(id, names, chosen, change, words = capital) {
  const select = h(
    "select",
    { id, data: { keep: id } },
    names.map((name) => h("option", { value: name, selected: name === chosen }, words(name))),
  );
  select.addEventListener("change", () => change(select.value));
  return select;
}
