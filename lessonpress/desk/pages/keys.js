// The keys, in a table: what each does, and where. Letters can be switched off for those who speak to the
// page.

import { button, h, s, tellAloud } from "./dom.js";
import { sheet } from "./ask.js";
import { on, state } from "./state.js";

const SHELF = "desk-letters";
let table = []; // [{keys: ["a"], shown: ["A"], words, when?: mode, act, row?: true, group}]
const held = { space: false };

export function lettersOn() {
  return localStorage.getItem(SHELF) !== "off";
}

/** rows: the keys of the view that is open. */
export function useKeys(rows) {
  table = rows;
  drawRow();
  on("mode", drawRow);
}

export function startKeys() {
  document.addEventListener("keydown", press);
  document.addEventListener("keyup", (event) => event.key === " " && sliding(false));
  addEventListener("blur", () => sliding(false));
}

function press(event) {
  if (event.defaultPrevented || document.querySelector("dialog[open]")) return;
  const { target } = event;
  if (target.matches?.("input:not([type=checkbox]), textarea, select")) return;
  if (event.key === " " && target.id === "frame") {
    sliding(true);
    event.preventDefault();
    return;
  }
  const pressed = named(event);
  if ((pressed === "Enter" || pressed === " ") && target.closest?.("button, a, summary, label, input"))
    return;
  if (pressed.includes("Arrow") && target.closest?.("[data-own-keys]")) return;
  const row = table.find((one) => one.keys.includes(pressed) && (!one.when || one.when === state.mode));
  if (!row || (!lettersOn() && isLetter(pressed))) return;
  event.preventDefault();
  row.act(event, pressed);
}

/** "Shift+ArrowLeft", "Ctrl+z", "a", "?" */
function named(event) {
  const digit = /^Digit(\d)$/.exec(event.code);
  const key =
    digit && event.shiftKey ? digit[1] : event.key.length === 1 ? event.key.toLowerCase() : event.key;
  const shift = event.shiftKey && (event.key.length > 1 || /^[a-z0-9]$/.test(key)) ? "Shift+" : "";
  return `${event.ctrlKey || event.metaKey ? "Ctrl+" : ""}${event.altKey ? "Alt+" : ""}${shift}${key}`;
}

function isLetter(pressed) {
  return /^(Shift\+)?[^+\s]$/.test(pressed) && pressed !== "?";
}

function sliding(now) {
  held.space = now;
  document.getElementById("frame")?.classList.toggle("sliding", now);
}

export function isSliding() {
  return held.space;
}

function keyCaps(shown) {
  return shown.map((one) =>
    one.startsWith("~") ? ` ${one.slice(1)} ` : h("kbd", {}, one in ARROWS ? arrow(one) : one),
  );
}

const ARROWS = { Left: 180, Right: 0, Up: -90, Down: 90 };

export function arrow(way) {
  return s(
    "svg",
    { viewBox: "0 0 14 10", class: "arrow", role: "img", "aria-label": way },
    s("path", { d: "M1 5h11M8 1.500l4 3.500-4 3.500", transform: `rotate(${ARROWS[way]} 7 5)` }),
  );
}

function drawRow() {
  const row = document.getElementById("keys-row");
  const here = table.filter((one) => one.row && (!one.when || one.when === state.mode));
  row.replaceChildren(
    ...here.map((one) => h("span", {}, keyCaps(one.shown), one.row === true ? one.words : one.row)),
    ...(table.length
      ? [
          h(
            "button",
            { type: "button", class: "all-keys", onclick: showAll },
            h("kbd", {}, "?"),
            "all keys",
          ),
        ]
      : []),
  );
  row.hidden = !table.length;
}

export function showAll() {
  const groups = [...new Set(table.map((one) => one.group))];
  return sheet(
    "Keys",
    (close) => [
      h(
        "div",
        { class: "key-groups" },
        groups.map((group) =>
          h(
            "section",
            {},
            h("h3", {}, group),
            h(
              "dl",
              {},
              table
                .filter((one) => one.group === group)
                .map((one) => h("div", {}, h("dt", {}, keyCaps(one.shown)), h("dd", {}, one.words))),
            ),
          ),
        ),
      ),
      h(
        "label",
        { class: "hold" },
        h("input", {
          type: "checkbox",
          checked: lettersOn(),
          onchange: (event) => {
            localStorage.setItem(SHELF, event.target.checked ? "on" : "off");
            tellAloud(
              event.target.checked
                ? "Letters and figures are keys."
                : "Only arrows, Enter, Escape and ? are keys.",
            );
          },
        }),
        "Letters and figures are keys",
      ),
      h(
        "div",
        { class: "answers" },
        button("Close", () => close(null), { class: "chief", autofocus: true }),
      ),
    ],
    { wide: true },
  );
}
