// The slips beside the frame: the mark in hand, plates waiting, faults.

import { spread } from "./clicks.js";
import { api } from "./api.js";
import { keptCurve } from "./carry.js";
import { nameEvents, USUAL_EVENTS } from "./clip.js";
import { number } from "./compose.js";
import { button, h, refill } from "./dom.js";
import { frameElement, view } from "./frame.js";
import { clicksHere, emptyWords, goTo, take } from "./hand.js";
import { placeOf, suggestedAt } from "./marks.js";
import { chooseMark } from "./namelist.js";
import { on, state, tell } from "./state.js";
import { suggestEverywhere } from "./suggest.js";
import { capital, eventAt, frameWords, markWords } from "./words.js";
import { hasUsual, layOut } from "./usual.js";
import { afterPaint, whenQuiet } from "./work.js";

let inHand = null;
let waiting = null;
let fault = null;
let hint = null;

export function makeSlips() {
  inHand = h("section", { class: "slip in-hand", "aria-label": "In hand" });
  waiting = h("section", { class: "slip waiting", "aria-label": "Plates" });
  fault = h("div", { class: "fault-slip" });
  hint = h("p", { class: "hint view-hint" });
  const drawHand = afterPaint(() => {
    drawInHand();
    if (asksForNumbers()) measureSoon();
    else measureSoon.forget();
  });
  on("clip frame hand marks wanted", drawHand);
  on("clip frame", afterPaint(drawEvents));
  on("wanted marks clip suggest", drawWaiting);
  on("proof kept draft wanted mode", drawFault);
  on("view clip", drawHint);
  return { inHand, waiting, fault, hint, events: makeEvents() };
}

// the mark in hand

function drawInHand() {
  if (!state.clip) return;
  if (!state.hand) return drawEmpty();
  const place = placeOf(state.hand, state.frame);
  const clicks = clicksHere();
  const wide = spread(clicks);
  const curve = keptCurve(state.hand);
  return refill(
    inHand,
    h("h2", {}, "In hand"),
    h("h3", {}, markWords(state.hand)),
    h("p", {}, frameWords(state.frame)),
    h(
      "table",
      { class: "facts" },
      h(
        "tbody",
        {},
        row(
          "Stands",
          place
            ? {
                hand: "placed",
                suggested: "as suggested",
                track: "carried",
                room: "in the room",
                middle: "between its marks",
              }[place.by]
            : "not placed here",
        ),
        clicks.length ? row("Clicks", String(clicks.length)) : null,
        wide !== null
          ? row("Spread", `±${Math.max(0.5, wide).toFixed(1)} px`)
          : place
            ? row("Good to", `±${place.u.toFixed(1)} px`)
            : null,
        ...liveRows(),
      ),
    ),
    curve ? h("div", { class: "kept-curve" }, h("span", {}, "Carried error"), curve) : null,
    h(
      "div",
      { class: "row" },
      chooser(),
      h(
        "label",
        { class: "hold" },
        h("input", {
          type: "checkbox",
          checked: state.hold,
          data: { keep: "hold" },
          onchange: (event) => {
            state.hold = event.target.checked;
            tell("hand");
          },
        }),
        "Keep in hand",
      ),
    ),
  );
}

function drawEmpty() {
  refill(
    inHand,
    h("h2", {}, "In hand"),
    h("h3", {}, "Nothing"),
    h("p", {}, frameWords(state.frame)),
    h("p", {}, emptyWords()),
    h(
      "div",
      { class: "row" },
      chooser(),
      state.site.suggested
        ? button("Suggest in every picture", suggestEverywhere, {
            "aria-keyshortcuts": "Alt+S",
            data: { keep: "everywhere" },
          })
        : null,
    ),
  );
}

function chooser() {
  return button([h("kbd", {}, "M"), "Choose a mark"], chooseMark, { data: { keep: "choose" } });
}

function row(words, value) {
  return h("tr", {}, h("th", { scope: "row" }, words), h("td", {}, value));
}

function liveRows() {
  if (!state.live || state.live.key !== liveKey()) return [];
  return state.live.measures.map(([words, measure]) => row(words, number(measure)));
}

function liveKey() {
  const place = state.hand && placeOf(state.hand, state.frame);
  return place ? `${state.hand} ${state.frame} ${place.x} ${place.y}` : null;
}

/** Whether how far the mark in hand has come since setup can be measured and is not shown yet. */
function asksForNumbers() {
  const key = state.clip && liveKey();
  const setup = state.clip?.events.setup;
  if (!key || state.live?.key === key || setup === undefined || setup === state.frame) return false;
  return (
    !state.clip.lengths_refused &&
    !state.clip.room.includes(state.hand) &&
    Boolean(placeOf(state.hand, setup))
  );
}

/** Asked once the mark has rested. */
const measureSoon = whenQuiet(500, async () => {
  if (!asksForNumbers()) return;
  const key = liveKey();
  const draw = ["level", "plumb"]
    .map((axis) => `  - ${JSON.stringify({ shift: state.hand, since: "setup", axis, as: axis })}`)
    .join("\n");
  try {
    const told = await api.draft({
      clip: state.clip.name,
      kind: "frame",
      text: `at: ${state.frame}\ndraw:\n${draw}\n`,
      width: 640,
      crop: "whole",
    });
    const named = { level: "Since setup", plumb: "Up or down" };
    state.live = {
      key,
      measures: told.measures
        .filter((one) => one.number)
        .map((one) => [named[one.id] ?? one.words, one]),
    };
    drawInHand();
  } catch {
    state.live = { key, measures: [] };
  }
});

// events

let events = null;
let another = null; // the form for another name is made once: what is half typed outlasts each drawing

function makeEvents() {
  events = h("section", { class: "slip events", "aria-label": "Name this frame" });
  another = anotherForm();
  return events;
}

function anotherForm() {
  const name = h("input", {
    id: "event-name",
    placeholder: "delivery",
    autocomplete: "off",
    spellcheck: "false",
    data: { keep: "event-name" },
  });
  const form = h(
    "form",
    { class: "row" },
    h("label", { for: "event-name", class: "unseen" }, "Another event"),
    name,
    h("button", { data: { keep: "name it" } }, "Name it"),
  );
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const word = name.value.trim().toLowerCase().replace(/\s+/g, "-");
    if (!word) return;
    nameEvents([[word, state.frame]]);
    form.reset();
  });
  return form;
}

function drawEvents() {
  if (!state.clip) return;
  const here = eventAt(state.frame);
  const all = [...new Set([...USUAL_EVENTS, ...Object.keys(state.clip.events)])];
  refill(
    events,
    h("h2", {}, "Name this frame"),
    h(
      "div",
      { class: "names" },
      all.map((event, n) =>
        button(
          n < 4 ? [h("kbd", {}, `⇧${n + 1}`), capital(event)] : capital(event),
          () => nameEvents([[event, state.frame]]),
          { "aria-pressed": event === here ? "true" : "false", data: { keep: `event ${event}` } },
        ),
      ),
    ),
    another,
    here
      ? button(`Delete “${here}”`, () => nameEvents([[here, null]]), {
          class: "quiet",
          data: { keep: "away" },
        })
      : null,
  );
}

// plates waiting

function drawWaiting() {
  waiting.hidden = !state.figures.length && !(state.clip && !state.lesson && hasUsual());
  if (waiting.hidden) return;
  const gapsOf = (figure) =>
    state.wanted.filter(
      (one) =>
        one.figures.includes(figure.id) &&
        one.clip === state.clip?.name &&
        !placeOf(one.mark, one.frame),
    );
  refill(
    waiting,
    h("h2", {}, "Plates"),
    h(
      "ul",
      {},
      state.figures.map((figure) => {
        const gaps = gapsOf(figure);
        return h(
          "li",
          {},
          h("b", {}, `Plate ${figure.numeral}`),
          h("span", {}, gaps.length ? `${gaps.length} wanted` : "all placed"),
          gaps.length
            ? button(h("i", { class: "wanting" }, String(gaps.length)), () => seek(gaps[0]), {
                "aria-label": `Go to the first of ${gaps.length} marks wanted by plate ${figure.numeral}`,
                data: { keep: figure.id },
              })
            : h("span", { class: "set" }, "set"),
        );
      }),
    ),
    toPlace(),
    state.lesson
      ? null
      : button([h("kbd", {}, "⇧P"), "The usual plates"], layOut, { data: { keep: "usual" } }),
  );
}

/** The marks that the lesson wants and nothing suggests, with their frames. */
function toPlace() {
  const frames = {};
  for (const { clip, mark, frame } of state.wanted) {
    if (clip !== state.clip?.name || placeOf(mark, frame) || suggestedAt(mark, frame)) continue;
    frames[mark] = [...(frames[mark] ?? []), frame];
  }
  const rows = Object.entries(frames).map(([mark, at]) => `${markWords(mark)} ${at.join(", ")}`);
  return rows.length
    ? h("p", { class: "to-place" }, `To be placed by hand, with its frames: ${rows.join("; ")}.`)
    : null;
}

function seek(gap) {
  goTo(gap.frame);
  take(gap.mark);
  frameElement.focus({ preventScroll: true });
}

// faults

function drawFault() {
  const told = [];
  if (state.kept?.fault) told.push(h("p", {}, h("b", {}, "Not kept. "), state.kept.fault.whole));
  const refused = state.mode !== "compose" && (state.draft?.measures ?? []).find((one) => one.refused);
  if (refused)
    told.push(
      h(
        "p",
        {},
        h("b", {}, `No number for ${refused.letter ?? refused.id}. `),
        `${capital(refused.refused)}. ${capital(refused.way_out ?? "")}`,
      ),
    );
  const errors = (state.proof?.problems ?? []).filter((one) => one.severity === "error");
  for (const one of errors.slice(0, 2)) {
    told.push(
      h(
        "p",
        {},
        h("b", {}, `${one.path.split("/").at(-1)}:${one.line}:${one.column} `),
        `${capital(one.wrong)}. ${capital(one.right ?? "")} `,
        one.path.startsWith("lessons/")
          ? h("a", { href: `#/lesson/${one.path.slice(8, -3)}?line=${one.line}` }, "Go there")
          : null,
      ),
    );
  }
  if (errors.length > 2) told.push(h("p", {}, `${errors.length - 2} more in the proof.`));
  fault.hidden = !told.length;
  refill(fault, ...told);
}

function drawHint() {
  if (!state.clip) return;
  const zoom = view.zoom.toFixed(1);
  hint.textContent = `Zoom ${zoom}. Wheel to zoom, space to slide, 0 for the whole frame, L to lighten.`;
}
