// The marking desk: the frame, the slips, the ledger and the film put together.

import { drop, hover } from "./acts.js";
import { carry, makeCarrySlip } from "./carry.js";
import { openClip, refresh, step, readWanted } from "./clip.js";
import { makeCompose, pickedSigns } from "./compose.js";
import { button, h } from "./dom.js";
import { readBlocks, soon, startDrafts } from "./draft.js";
import { makeFilm } from "./film.js";
import { closer, frameElement, makeFrame, slide, view, whole } from "./frame.js";
import { goTo, take } from "./hand.js";
import { arrow } from "./keys.js";
import { makeLedger } from "./ledger.js";
import { makeLight, switchLight } from "./light.js";
import { makeRoomSlip } from "./room.js";
import { makeBars } from "./rulers.js";
import { alsoDraw, extra, makeSigns } from "./signs.js";
import { makeSlips } from "./slips.js";
import { on, state } from "./state.js";
import { makeSuggestSlip, suggest } from "./suggest.js";
import { makeTester } from "./tester.js";
import { undo, whenUndone } from "./undo.js";

const SLIDE = 120; // CSS px that a press of a button slides the view

/** Lays the desk out in `main` and opens a clip on it. */
export async function openMarking(main, clip, lesson) {
  const frame = makeFrame([...makeSigns(), makeTester()], {
    press: () => null,
    drop,
    hover,
    settle: soon,
  });
  const slips = makeSlips();
  const room = makeRoomSlip();
  const inRoom = extra;
  alsoDraw(() => [...inRoom(), ...pickedSigns()]);
  main.replaceChildren(
    h(
      "p",
      { id: "frame-help", class: "unseen" },
      "Arrows move the cross, Enter places the mark in hand. Press ? for all keys.",
    ),
    h(
      "section",
      { class: "mount", "aria-label": "Frame" },
      frame,
      makeBars(),
      makeLight(),
      slides(),
      handles(),
    ),
    h(
      "div",
      { class: "slips" },
      makeCarrySlip(),
      makeSuggestSlip(),
      slips.inHand,
      slips.fault,
      slips.waiting,
      slips.hint,
      room,
      slips.events,
    ),
    h("div", { class: "sheet-side" }, makeLedger(), makeCompose()),
    makeFilm(),
  );
  startDrafts();
  whenUndone((at, mark) => {
    if (at !== undefined) goTo(at);
    take(mark);
  });
  await openClip(clip, lesson);
  await readBlocks();
  frameElement.focus({ preventScroll: true });
}

/** For fingers and for those who press buttons: what the wheel and the keys do. */
function handles() {
  return h(
    "div",
    { class: "handles", role: "group", "aria-label": "View" },
    button("Zoom in", () => closer(1.4)),
    button("Zoom out", () => closer(1 / 1.4)),
    button("Whole", whole),
    button("Light", switchLight),
    button("Previous", () => step(-1), { "aria-label": "Previous frame" }),
    button("Next", () => step(1), { "aria-label": "Next frame" }),
    button("Undo", undo),
    button("Carry", () => carry()),
    button("Suggest", suggest),
  );
}

/** Slide a close view without dragging it. */
function slides() {
  const ways = { Left: [1, 0], Right: [-1, 0], Up: [0, 1], Down: [0, -1] };
  const made = h(
    "div",
    { class: "slides", role: "group", "aria-label": "Slide the view", hidden: true },
    Object.entries(ways).map(([way, [right, down]]) =>
      button(arrow(way), () => slide(right * SLIDE, down * SLIDE), { "aria-label": way }),
    ),
  );
  on("view", () => (made.hidden = view.whole));
  return made;
}

/** Files of this clip or its lesson changed on disk. */
export async function filesChanged({ clips, lessons }) {
  if (!state.clip) return;
  if (clips.includes(state.clip.name)) await refresh();
  else if (lessons.includes(state.lesson)) await readWanted();
  if (lessons.includes(state.lesson)) await readBlocks();
}
