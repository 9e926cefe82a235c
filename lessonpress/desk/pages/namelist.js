// The list from which a mark is taken in hand: the body's names, the implement's, the room's, or a new one.

import { sheet } from "./ask.js";
import { h, refill } from "./dom.js";
import { frameElement } from "./frame.js";
import { take, takeInTurn } from "./hand.js";
import { names, placeOf } from "./marks.js";
import { pick } from "./plate.js";
import { state } from "./state.js";
import { grouped, knownMarks, markWords } from "./words.js";

const NAME = /^[a-z][a-z0-9-]*$/;

const named = (typed) => typed.trim().toLowerCase().replace(/\s+/g, "-");

export async function chooseMark() {
  const composing = state.mode === "compose";
  const chosen = await sheet(composing ? "Pick a mark" : "Take a mark in hand", list, { wide: true });
  if (chosen?.length > 1 && !composing) takeInTurn(chosen);
  else chosen?.forEach(composing ? pick : take);
  frameElement.focus({ preventScroll: true });
}

function list(close) {
  const line = h("input", {
    id: "mark-name",
    autocomplete: "off",
    spellcheck: "false",
    autofocus: true,
    "aria-describedby": "mark-hint",
  });
  const found = h("div", { class: "name-list" });
  const told = h(
    "p",
    { id: "mark-hint", class: "hint" },
    "Type a few letters, or a new name. Enter takes the first; commas part several, taken in turn.",
  );
  const all = [...new Set([...knownMarks(), ...names(), ...state.clip.room])];
  const parts = () => line.value.split(",").filter((part) => part.trim());
  const fitting = (typed = parts().at(-1) ?? "") => {
    const words = typed
      .trim()
      .toLowerCase()
      .split(/[\s-]+/)
      .filter(Boolean);
    const fits = all.filter((mark) =>
      words.every((word) => `${mark} ${markWords(mark).toLowerCase()}`.includes(word)),
    );
    const whole = words.join("-");
    return fits.sort((a, b) => Number(b === whole) - Number(a === whole));
  };
  const first = (typed) => fitting(typed)[0] ?? (NAME.test(named(typed)) ? named(typed) : null);
  const show = () => {
    const fits = fitting();
    const chosen = new Set(parts().map(first));
    const fresh = named(parts().at(-1) ?? "");
    refill(
      found,
      grouped(fits).map(([group, marks]) =>
        h(
          "section",
          {},
          h("h3", {}, group),
          h(
            "div",
            { class: "names" },
            marks.map((mark) => {
              const at = placeOf(mark, state.frame);
              const one = h(
                "button",
                {
                  type: "button",
                  onclick: () => close([mark]),
                  class: chosen.has(mark) ? "first" : null,
                },
                h("i", { class: at ? (at.by === "track" ? "carried" : "placed") : "none" }),
                markWords(mark),
              );
              return one;
            }),
          ),
        ),
      ),
      !fits.length && NAME.test(fresh)
        ? h("button", { type: "button", onclick: () => close([fresh]) }, `A new mark, “${fresh}”`)
        : null,
    );
  };
  const form = h(
    "form",
    { method: "dialog" },
    h("label", { for: "mark-name" }, "Name"),
    line,
    told,
    found,
  );
  line.addEventListener("input", show);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const chosen = [...new Set(parts().map(first))];
    if (chosen.length && !chosen.includes(null)) close(chosen);
  });
  show();
  return form;
}
