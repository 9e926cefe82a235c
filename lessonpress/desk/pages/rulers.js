// The scale bars below and beside the frame, and the length from the mark in hand to the pointer.
//
// Below stands the bar of the plate of this frame, as the press draws it; where there is none, and at the
// left,
// a bar counts from the mark in hand.

import { api } from "./api.js";
import { h, s } from "./dom.js";
import { frameElement, toFrame, view } from "./frame.js";
import { placeOf } from "./marks.js";
import { tellTester } from "./tester.js";
import { on, state } from "./state.js";
import { markInText } from "./words.js";
import { whenQuiet } from "./work.js";

const LEAST_BLOCK = 14; // CSS px; where blocks would be narrower, each stands for twice as much
const BAR = 7; // CSS px wide
const CLEAR = 34; // CSS px between two numbers

let below = null;
let beside = null;
let asked = null;

export function makeBars() {
  below = h("div", { class: "scale-bar below", "aria-hidden": "true" });
  beside = h("div", { class: "scale-bar beside", "aria-hidden": "true" });
  on("draft view clip hand", draw);
  return [below, beside];
}

function draw() {
  if (!state.clip || !frameElement.clientWidth) return;
  const pressed = state.draft?.bar;
  if (pressed) {
    below.replaceChildren(pressed);
    pressed.style.left = `${-view.x * view.zoom}px`;
    pressed.style.width = `${state.clip.size[0] * view.zoom}px`;
  } else below.replaceChildren(...counted(frameElement.clientWidth, "x"));
  beside.replaceChildren(...counted(frameElement.clientHeight, "y"));
}

/** A bar along `long` CSS px of the frame, zero at the cross. */
function counted(long, axis) {
  const { px_per_metre: scale } = state.clip;
  if (!scale || !state.aim) return [];
  let [worth, metres] = state.clip.block;
  let step = worth * metres * scale * view.zoom;
  while (step < LEAST_BLOCK) [worth, step] = [2 * worth, 2 * step];
  const zero = toFrame(state.aim.x, state.aim.y)[axis];
  const [first, last] = [Math.floor(-zero / step), Math.ceil((long - zero) / step)];
  const across = axis === "x";
  const at = (block) => zero + block * step;
  const every = 2 * Math.ceil(CLEAR / step / 2);
  const blocks = [];
  for (let block = first; block < last; block++) {
    if (block % 2) continue;
    const [from, to] = [Math.max(0, at(block)), Math.min(long, at(block + 1))];
    if (to > from)
      blocks.push(across ? `M${from} 0H${to}V${BAR}H${from}Z` : `M0 ${from}V${to}H${BAR}V${from}Z`);
  }
  const numbered = [];
  for (let block = first; block <= last; block++) {
    if (block % every || at(block) < 12 || at(block) > long - 12) continue;
    const withUnit = block === every || (block === -every && at(every) > long - 12);
    const words = `${Math.abs(block * worth)}${withUnit ? ` ${state.site.units}` : ""}`;
    numbered.push(
      s(
        "text",
        across
          ? { x: at(block), y: 25, "text-anchor": "middle" }
          : { x: -6, y: at(block) + 4.5, "text-anchor": "end" },
        words,
      ),
    );
  }
  const size = across ? { width: long, height: 30 } : { width: BAR, height: long };
  return [
    s(
      "svg",
      { ...size, viewBox: `0 0 ${size.width} ${size.height}`, class: "counted" },
      s("rect", { width: across ? long : BAR, height: across ? BAR : long, class: "ground" }),
      s("path", { d: blocks.join(""), class: "block" }),
      s("path", { d: across ? `M0 ${BAR + 0.5}H${long}` : `M0.5 0V${long}`, class: "edge" }),
      numbered,
    ),
  ];
}

export const measureTo = whenQuiet(140, async (point) => {
  asked?.abort();
  const from = state.hand && placeOf(state.hand, state.frame);
  if (!from || !state.clip || state.clip.lengths_refused || from.by === "middle") return;
  asked = new AbortController();
  const body = {
    frame: state.frame,
    a: state.hand,
    b: [point.x, point.y],
    axis: "straight",
    marks: {
      [state.hand]: { [state.frame]: from.by === "track" ? [from.x, from.y] : [from.x, from.y, from.u] },
    },
  };
  try {
    const { number } = await api.length(state.clip.name, body, asked.signal);
    if (number) tellTester(`${number.text} from ${markInText(state.hand)}`);
  } catch {
    // without a length the tester still shows the place
  }
});
