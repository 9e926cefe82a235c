// The words for marks, events and frames.

import { state } from "./state.js";

const ORDER = [
  ["Pelvis", ["trail-hip", "navel", "lead-hip"]],
  ["Trunk", ["c7", "head", "crown", "trail-shoulder", "lead-shoulder"]],
  ["Arms", ["trail-elbow", "trail-wrist", "lead-elbow", "lead-wrist"]],
  ["Implement", ["implement-grip", "implement-head", "ball"]],
  [
    "Legs",
    [
      "trail-knee",
      "lead-knee",
      "trail-ankle",
      "lead-ankle",
      "trail-heel",
      "lead-heel",
      "trail-toe",
      "lead-toe",
    ],
  ],
];

export function capital(text) {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** "lead-hip" -> "Lead hip"; the implement's parts have the site's own words. */
export function markWords(mark) {
  const implement = state.site?.implement;
  if (mark === "implement-head" && implement?.head) return capital(implement.head);
  if (mark === "implement-grip") return "Grip";
  if (state.clip?.middles?.[mark]) return `${capital(mark.replaceAll("-", " "))}, middle`;
  return capital(mark.replaceAll("-", " "));
}

/** The same within a sentence: "lead hip"; C7 keeps its capital. */
export function markInText(mark) {
  const words = markWords(mark);
  return /^[A-Z]\d/.test(words) ? words : words.charAt(0).toLowerCase() + words.slice(1);
}

/** What a clip is called: its card's title, else its folder's name. */
export function clipTitle(name) {
  return state.site?.clips.find((one) => one.name === name)?.title ?? name;
}

/** The title, and the folder's name where it is another. */
export function clipNames(name) {
  const title = clipTitle(name);
  return title === name ? [title] : [title, name];
}

/** Groups of names: [["Pelvis", [mark…]]…], those given that no group knows under Room or Others. */
export function grouped(marks, { all = false } = {}) {
  const left = new Set(marks);
  const middles = Object.keys(state.clip?.middles ?? {}).filter((name) => left.has(name));
  const groups = [];
  for (const [words, known] of ORDER) {
    const names = known.filter((mark) => all || left.has(mark));
    if (words === "Pelvis") names.push(...middles);
    names.forEach((mark) => left.delete(mark));
    if (names.length) groups.push([words, names]);
  }
  const room = [...left].filter((mark) => state.clip?.room?.includes(mark));
  room.forEach((mark) => left.delete(mark));
  if (left.size) groups.push(["Others", [...left]]);
  if (room.length) groups.push(["Room", room]);
  return groups;
}

export function knownMarks() {
  return ORDER.flatMap(([, marks]) => marks);
}

/** Events in the order of the swing: [[name, frame]…]. */
export function eventsInOrder() {
  return Object.entries(state.clip?.events ?? {}).sort((a, b) => a[1] - b[1]);
}

export function eventAt(frame) {
  return eventsInOrder().find(([, at]) => at === frame)?.[0] ?? null;
}

/** How a block names a frame: the event, or its number. */
export function instantOf(frame) {
  return eventAt(frame) ?? frame;
}

/** "impact, 1.22 s, frame 293" */
export function frameWords(frame) {
  const event = eventAt(frame);
  const seconds = state.clip?.seconds?.[frame];
  return [event, seconds === undefined ? null : `${seconds.toFixed(2)} s`, `frame ${frame}`]
    .filter(Boolean)
    .join(", ");
}

export function clockTime(date) {
  return date.toLocaleTimeString("en-GB");
}

export function plural(count, one, many = `${one}s`) {
  const small = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"];
  return `${small[count] ?? count} ${count === 1 ? one : many}`;
}
