// What the pointer and the keys of the marking desk do.

import { accept, isCarrying, letGo } from "./carry.js";
import { clickCompose, close } from "./compose.js";
import { tellAloud } from "./dom.js";
import { follow, slide } from "./frame.js";
import { click, goTo, nextGap, nudge, take } from "./hand.js";
import { isSliding } from "./keys.js";
import { set } from "./plate.js";
import { clickRoom, leave } from "./room.js";
import { measureTo } from "./rulers.js";
import { state, tell } from "./state.js";
import { accept as acceptSuggested, atSuggestion } from "./suggest.js";
import { hideTester, showTester } from "./tester.js";
import { markWords } from "./words.js";

export function hover(point) {
  if (!point) {
    hideTester();
    return measureTo.forget();
  }
  showTester(point);
  return measureTo(point);
}

export function drop(point, event) {
  if (state.mode === "room") return clickRoom(point);
  if (state.mode === "compose") return clickCompose(point);
  return click(point.x, point.y, { again: event.shiftKey });
}

export function enter() {
  if (isCarrying()) return accept();
  if (state.mode === "compose") return set();
  if (!state.aim) return undefined;
  if (state.mode === "mark" && atSuggestion()) return acceptSuggested([state.hand]);
  return state.mode === "room" ? clickRoom(state.aim) : click(state.aim.x, state.aim.y);
}

export function escape() {
  if (isCarrying()) letGo();
  else if (state.mode === "compose") close();
  else if (state.mode === "room") leave();
  else tellAloud("Nothing to cancel.");
}

export function move(right, down) {
  if (isSliding()) return slide(-right * 40, -down * 40);
  if (state.mode === "mark") nudge(right, down);
  else {
    const [width, height] = state.clip.size;
    state.aim = {
      x: Math.min(width, Math.max(0, state.aim.x + right)),
      y: Math.min(height, Math.max(0, state.aim.y + down)),
    };
    tell("hand", "view");
  }
  follow();
  showTester(state.aim);
  measureTo(state.aim);
}

/** Goes to the next mark that a figure wants, with its name in hand. */
export function toNextGap() {
  const gap = nextGap();
  if (!gap)
    return tellAloud(
      state.lesson ? "Nothing is wanted: all marks are placed." : "All marks are placed at all events.",
    );
  goTo(gap.frame);
  take(gap.mark);
  follow();
  return tellAloud(
    `${markWords(gap.mark)}, ` +
      (gap.numerals.length
        ? `wanted by plate ${gap.numerals.join(", ")}`
        : `not placed on frame ${gap.frame}`),
  );
}
