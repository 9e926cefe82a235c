// The ledger of marks: what is placed, carried and wanted, by events.

import { button, h, refill } from "./dom.js";
import { frameElement } from "./frame.js";
import { goTo, take } from "./hand.js";
import { names, placeOf } from "./marks.js";
import { on, state } from "./state.js";
import { afterPaint } from "./work.js";
import { capital, eventsInOrder, grouped, markWords } from "./words.js";

const BY = { track: "carried", suggested: "as suggested" };

let ledger = null;

export function makeLedger() {
  ledger = h("section", { class: "ledger", "aria-label": "Ledger of marks", "data-own-keys": "arrows" });
  on("clip frame marks hand wanted plate", afterPaint(draw));
  ledger.addEventListener("keydown", steer);
  return ledger;
}

function columns() {
  const events = eventsInOrder();
  if (events.some(([, frame]) => frame === state.frame)) return events;
  return [...events, [null, state.frame]].sort((a, b) => a[1] - b[1]);
}

function rows() {
  const wanted = state.wanted.filter((one) => one.clip === state.clip.name).map((one) => one.mark);
  const middles = Object.keys(state.clip.middles).filter((name) =>
    state.clip.middles[name].some((mark) => names().includes(mark)),
  );
  return grouped([...new Set([...names(), ...wanted, ...middles, state.hand].filter(Boolean))]);
}

function draw() {
  if (!state.clip) return;
  const shown = columns();
  const head = shown.map(([event, frame]) =>
    h(
      "th",
      {
        scope: "col",
        class: frame === state.frame ? "now" : null,
        "aria-current": frame === state.frame ? "true" : null,
      },
      h("b", {}, event ? capital(event) : "Here"),
      String(frame),
    ),
  );
  const body = rows().flatMap(([group, marks]) => [
    h("tr", { class: "group" }, h("th", { colspan: shown.length + 1, scope: "colgroup" }, group)),
    ...marks.map((mark) =>
      h(
        "tr",
        {},
        h("th", { scope: "row" }, markWords(mark)),
        shown.map(([event, frame], n) => cell(mark, event, frame, n)),
      ),
    ),
  ]);
  const before = ledger.querySelector(".scroll");
  const [left, top] = [before?.scrollLeft ?? 0, before?.scrollTop ?? 0];
  refill(
    ledger,
    h(
      "div",
      {
        class: "scroll",
        tabindex: "0",
        role: "group",
        "aria-label": "Marks by frame",
        data: { keep: "scroll" },
      },
      h(
        "table",
        {},
        h("caption", { class: "unseen" }, "Marks by frame"),
        h("thead", {}, h("tr", {}, h("th", { scope: "col" }, "Mark"), head)),
        h("tbody", {}, body),
      ),
    ),
    h(
      "p",
      { class: "legend" },
      h("span", {}, h("i", { class: "placed" }), "placed, ± px"),
      h("span", {}, h("i", { class: "carried" }), "carried"),
      h("span", {}, h("i", { class: "wanting" }, "II"), "wanted by a plate"),
      h("span", {}, "– not asked for"),
    ),
  );
  const scroll = ledger.querySelector(".scroll");
  Object.assign(scroll, { scrollLeft: left, scrollTop: top });
  intoSight(scroll);
}

/** Slides this frame's column, and the mark in hand, out from under the names and the head. */
function intoSight(scroll) {
  const cell = scroll.querySelector("td.hand") ?? scroll.querySelector("th.now");
  if (!cell) return;
  const [corner] = scroll.querySelectorAll("thead th");
  const [box, at] = [scroll.getBoundingClientRect(), cell.getBoundingClientRect()];
  const [left, top] = [box.left + corner.offsetWidth, box.top + corner.offsetHeight];
  if (at.left < left) scroll.scrollLeft -= left - at.left;
  else if (at.right > box.right) scroll.scrollLeft += at.right - box.right;
  if (cell.matches("th")) return;
  if (at.top < top) scroll.scrollTop -= top - at.top;
  else if (at.bottom > box.bottom) scroll.scrollTop += at.bottom - box.bottom;
}

function cell(mark, event, frame, column) {
  const at = placeOf(mark, frame);
  const wanted = state.wanted.find(
    (one) => one.clip === state.clip.name && one.mark === mark && one.frame === frame,
  );
  const inHand = mark === state.hand && frame === state.frame;
  const room = at?.by === "room";
  const sign =
    at && !(room && column > 0)
      ? [h("i", { class: at.by === "track" ? "carried" : "placed" }), at.u.toFixed(1)]
      : wanted && !at
        ? h("i", { class: "wanting" }, wanted.numerals[0] ?? "?")
        : "–";
  const state_words = at
    ? `${BY[at.by] ?? "placed"}, ± ${at.u.toFixed(1)} px`
    : wanted
      ? `wanted by plate ${wanted.numerals.join(", ")}`
      : "not asked for";
  const act = () => {
    goTo(frame);
    take(mark);
    frameElement.focus({ preventScroll: true });
  };
  return h(
    "td",
    {
      class:
        [frame === state.frame ? "now" : "", inHand ? "hand" : "", column === 0 ? "first" : ""]
          .join(" ")
          .trim() || null,
    },
    button(sign, act, {
      data: { keep: `${mark} ${event ?? "here"}` },
      tabindex: inHand ? "0" : "-1",
      class: at || wanted ? null : "blank",
      "aria-label": `${markWords(mark)}, ${event ?? "here"}, frame ${frame}: ${state_words}`,
    }),
  );
}

/** Arrows go from cell to cell. */
function steer(event) {
  const here = document.activeElement?.closest("td");
  if (!here || !ledger.contains(here)) return;
  const lines = [...ledger.querySelectorAll("tbody tr:not(.group)")];
  const row = lines.indexOf(here.parentElement);
  const column = [...here.parentElement.children].indexOf(here);
  const to = {
    ArrowUp: lines[row - 1]?.children[column],
    ArrowDown: lines[row + 1]?.children[column],
    ArrowLeft: here.previousElementSibling,
    ArrowRight: here.nextElementSibling,
  }[event.key];
  if (!event.key.startsWith("Arrow")) return;
  event.preventDefault();
  event.stopPropagation();
  to?.querySelector("button")?.focus();
}
