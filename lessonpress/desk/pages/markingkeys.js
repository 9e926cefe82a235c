// The keys of the marking desk, in a table.

import { enter, escape, move, toNextGap } from "./acts.js";
import { carry, cutBack } from "./carry.js";
import { goToEvent, nameEvents, step, takeProposed, USUAL_EVENTS } from "./clip.js";
import { intoLesson, newLesson, open } from "./compose.js";
import { h, tellAloud } from "./dom.js";
import { closer, whole } from "./frame.js";
import { deletePlacing, EMPTY, goTo } from "./hand.js";
import { showAll } from "./keys.js";
import { switchLight } from "./light.js";
import { chooseMark } from "./namelist.js";
import { choose, letters } from "./plate.js";
import { begin } from "./room.js";
import { state, tell } from "./state.js";
import { accept, suggest, suggestEverywhere } from "./suggest.js";
import { switchTester } from "./tester.js";
import { redo, undo } from "./undo.js";
import { layOut } from "./usual.js";

function arrows(prefix, by) {
  const ways = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  return {
    keys: Object.keys(ways).map((key) => prefix + key),
    act: (event) => move(...ways[event.key].map((way) => way * by)),
  };
}

export const KEYS = [
  {
    group: "Marks",
    keys: ["w"],
    shown: ["W"],
    words: "next wanted mark",
    act: toNextGap,
    when: "mark",
    row: true,
  },
  {
    group: "Frames",
    keys: ["a", "d"],
    shown: ["A", "D"],
    words: "previous or next frame",
    act: (_, key) => step(key === "a" ? -1 : 1),
    when: "mark",
    row: "one frame",
  },
  {
    group: "Frames",
    keys: [",", "."],
    shown: [",", "."],
    words: "previous or next frame, while composing too",
    act: (_, key) => step(key === "," ? -1 : 1),
  },
  {
    group: "Frames",
    keys: ["PageUp", "Shift+a"],
    shown: ["PageUp"],
    words: "ten frames back",
    act: () => step(-10),
  },
  {
    group: "Frames",
    keys: ["PageDown", "Shift+d"],
    shown: ["PageDown"],
    words: "ten frames on",
    act: () => step(10),
  },
  { group: "Frames", keys: ["Home"], shown: ["Home"], words: "first frame", act: () => goTo(0) },
  {
    group: "Frames",
    keys: ["End"],
    shown: ["End"],
    words: "last frame",
    act: () => goTo(state.clip.frames - 1),
  },
  {
    group: "Frames",
    keys: [..."123456789"],
    shown: ["1", "~to", "9"],
    words: "go to an event",
    act: (_, key) => goToEvent(Number(key) - 1),
    row: "events",
  },
  {
    group: "Frames",
    keys: ["Shift+1", "Shift+2", "Shift+3", "Shift+4"],
    shown: ["Shift", "1", "~to", "4"],
    words: "name this frame setup, top, impact, finish",
    act: (_, key) => nameEvents([[USUAL_EVENTS[key.at(-1) - 1], state.frame]]),
  },
  {
    group: "Frames",
    keys: ["y"],
    shown: ["Y"],
    words: "take events as proposed",
    act: takeProposed,
    when: "mark",
  },
  {
    group: "Marks",
    shown: ["Left", "Right", "Up", "Down"],
    words: "nudge by 1 px",
    ...arrows("", 1),
    row: "1 px",
  },
  {
    group: "Marks",
    shown: ["Alt", "~with arrows"],
    words: "nudge by 0.1 px",
    ...arrows("Alt+", 0.1),
    row: "0.1",
  },
  { group: "Marks", shown: ["Shift", "~with arrows"], words: "nudge by 10 px", ...arrows("Shift+", 10) },
  {
    group: "Marks",
    keys: ["Enter"],
    shown: ["Enter"],
    words: "place at the cross, click again; accept what was carried; set the plate",
    act: enter,
    row: "place, again",
  },
  {
    group: "Marks",
    keys: ["m"],
    shown: ["M"],
    words: "choose a mark or several in turn, or name a new one",
    act: chooseMark,
    row: "choose a mark",
  },
  {
    group: "Marks",
    keys: ["h"],
    shown: ["H"],
    words: "keep the mark in hand: clicks are gathered, their spread is its ±",
    when: "mark",
    act: () => {
      state.hold = !state.hold;
      tell("hand");
      tellAloud(state.hold ? "It stays in hand." : "The next wanted mark comes in hand by itself.");
    },
  },
  {
    group: "Marks",
    keys: [],
    shown: ["Shift", "~and click"],
    words: "click the mark in hand once more",
    act: () => {},
  },
  {
    group: "Marks",
    keys: ["Delete", "Backspace"],
    shown: ["Delete"],
    words: "delete the mark from this frame",
    act: deletePlacing,
    when: "mark",
  },
  {
    group: "Marks",
    keys: ["s"],
    shown: ["S"],
    words: "suggest the body’s marks in this picture",
    act: suggest,
    when: "mark",
    row: "suggest",
  },
  {
    group: "Marks",
    keys: ["Alt+s"],
    shown: ["Alt", "S"],
    words: "suggest the body’s marks in every picture",
    act: suggestEverywhere,
    when: "mark",
  },
  {
    group: "Marks",
    keys: ["Shift+s"],
    shown: ["Shift", "S"],
    words: "accept all that is suggested in this picture",
    act: () => accept(),
    when: "mark",
  },
  {
    group: "Carry",
    keys: ["c"],
    shown: ["C"],
    words: "carry the marks of this frame on from here",
    act: () => carry(),
    when: "mark",
    row: "carry on",
  },
  {
    group: "Carry",
    keys: ["Shift+c"],
    shown: ["Shift", "C"],
    words: "carry the mark in hand alone",
    act: () => (state.hand ? carry(state.hand) : tellAloud(EMPTY)),
    when: "mark",
  },
  {
    group: "Carry",
    keys: ["x"],
    shown: ["X"],
    words: "delete what was carried, from this frame on",
    act: cutBack,
    when: "mark",
  },
  {
    group: "Room",
    keys: ["k"],
    shown: ["K"],
    words: "draw a known length",
    act: () => begin("length"),
    when: "mark",
  },
  {
    group: "Room",
    keys: ["u"],
    shown: ["U"],
    words: "draw a plumb line",
    act: () => begin("plumb"),
    when: "mark",
  },
  {
    group: "Room",
    keys: ["g"],
    shown: ["G"],
    words: "draw the wall’s grid",
    act: () => begin("wall"),
    when: "mark",
  },
  {
    group: "Plates",
    keys: ["p"],
    shown: ["P"],
    words: "draw a plate",
    act: open,
    when: "mark",
    row: true,
  },
  {
    group: "Plates",
    keys: ["Shift+p"],
    shown: ["Shift", "P"],
    words: "lay out the site’s usual plates for this clip",
    act: layOut,
    when: "mark",
  },
  {
    group: "Plates",
    get keys() {
      return letters();
    },
    get shown() {
      return [letters()[0].toUpperCase(), "~to", letters().at(-1).toUpperCase()];
    },
    words: "while composing: what to draw",
    when: "compose",
    row: "what to draw",
    act: (_, key) => choose(state.site.kinds.find((kind) => kind.letter === key).kind),
  },
  {
    group: "Plates",
    keys: ["n"],
    shown: ["N"],
    words: "a new lesson of the plates that are set",
    act: newLesson,
    row: "new lesson",
  },
  {
    group: "Plates",
    keys: ["b"],
    shown: ["B"],
    words: "put the plates that are set into a lesson",
    act: intoLesson,
  },
  { group: "View", keys: ["+", "="], shown: ["+"], words: "zoom in", act: () => closer(1.4) },
  { group: "View", keys: ["-"], shown: ["−"], words: "zoom out", act: () => closer(1 / 1.4) },
  { group: "View", keys: ["0"], shown: ["0"], words: "the whole frame", act: whole },
  {
    group: "View",
    keys: [],
    shown: ["Space", "~with arrows or drag"],
    words: "slide the picture",
    act: () => {},
  },
  {
    group: "View",
    keys: ["l"],
    shown: ["L"],
    words: "light of the view",
    act: switchLight,
    when: "mark",
  },
  {
    group: "View",
    keys: ["t"],
    shown: ["T"],
    words: "linen tester on or off",
    act: () => tellAloud(switchTester() ? "The tester is out." : "The tester is put away."),
    when: "mark",
  },
  { group: "Everything", keys: ["z", "Ctrl+z"], shown: ["Z"], words: "undo", act: undo, row: true },
  {
    group: "Everything",
    keys: ["Shift+z", "Ctrl+Shift+z", "Ctrl+y"],
    shown: ["Shift", "Z"],
    words: "redo",
    act: redo,
  },
  { group: "Everything", keys: ["Escape"], shown: ["Esc"], words: "cancel", act: escape },
  { group: "Everything", keys: ["?"], shown: ["?"], words: "this list", act: showAll },
];
