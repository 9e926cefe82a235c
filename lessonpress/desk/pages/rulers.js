// The scale bar below the frame, as the press draws it, and the length from the mark in hand to the pointer.

import { api } from "./api.js";
import { h } from "./dom.js";
import { view } from "./frame.js";
import { placeOf } from "./marks.js";
import { tellTester } from "./tester.js";
import { on, state } from "./state.js";
import { markInText } from "./words.js";
import { whenQuiet } from "./work.js";

let bar = null;
let asked = null;

export function makeBar() {
  bar = h("div", { class: "scale-bar", "aria-hidden": "true" });
  on("draft", show);
  on("view", place);
  return bar;
}

function show() {
  const svg = state.draft?.bar;
  bar.replaceChildren(...(svg ? [svg] : []));
  place();
}

function place() {
  const svg = bar.firstElementChild;
  if (!svg || !state.clip) return;
  svg.style.left = `${-view.x * view.zoom}px`;
  svg.style.width = `${state.clip.size[0] * view.zoom}px`;
}

export const measureTo = whenQuiet(140, async (point) => {
  asked?.abort();
  const from = state.hand && placeOf(state.hand, state.frame);
  if (!from || !state.clip || state.clip.lengths_refused || from.by === "middle") return;
  asked = new AbortController();
  const body = { frame: state.frame, a: state.hand, b: [point.x, point.y], axis: "straight", marks: { [state.hand]: { [state.frame]: [from.x, from.y] } } };
  try {
    const { number } = await api.length(state.clip.name, body, asked.signal);
    if (number) tellTester(`${number.text} from ${markInText(state.hand)}`);
  } catch {
    // without a length the tester still shows the place
  }
});
