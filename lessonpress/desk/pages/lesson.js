// A lesson's text beside its proof. The text is kept as it is typed; what the site has for the place of the
// cursor is offered there, slips are underlined where they stand and told under the text.

import { api } from "./api.js";
import { ask } from "./ask.js";
import { h, tellAloud } from "./dom.js";
import { showLetter } from "./letter.js";
import { makeOffering } from "./offering.js";
import { offsetOf, placeAt } from "./offsets.js";
import { makeProofSide } from "./proofside.js";
import { makeSlipNotes } from "./slipnotes.js";
import { on, state, tell } from "./state.js";
import { makeUnderlay } from "./underlay.js";
import { whenQuiet } from "./work.js";

const REST = 450; // ms after the last letter until the text is kept

let text = null;
let underlay = null;
let slips = null;
let proofSide = null;
let saving = Promise.resolve();

export async function openLesson(main, name, line) {
  state.lessonText = await api.lesson(name);
  text = h("textarea", {
    id: "text",
    spellcheck: "true",
    wrap: "soft",
    value: state.lessonText.text,
    "aria-describedby": "writing-keys faults",
  });
  underlay = makeUnderlay(text);
  const offering = makeOffering(text, underlay, name, () => slips?.draw());
  slips = makeSlipNotes(text, underlay, { read: blocksRead, isOffered: offering.isOpen });
  proofSide = makeProofSide({
    faulty: () => slips.hasErrors(),
    letter: writeLetter,
    go: (to) => {
      if (typeof to === "number") showLine(to);
      else underlay.show(to.start, to.end);
      cursorMoved({ still: true });
    },
    text: () => text.value,
    back: () => text.focus(),
  });
  text.addEventListener("input", () => keepSoon());
  main.replaceChildren(
    h(
      "div",
      { class: "lesson" },
      h(
        "section",
        { class: "text-side", "aria-label": "Text" },
        h(
          "div",
          { class: "bar" },
          h("label", { for: "text" }, state.lessonText.path),
          h("span", { class: "line-no" }),
        ),
        underlay.box,
        slips.place,
        h("p", { id: "writing-keys", class: "writing-keys" }, ...KEYS),
      ),
      h(
        "section",
        { class: "proof-side", "aria-label": "Proof" },
        proofSide.stand,
        proofSide.written,
        proofSide.page,
      ),
    ),
  );
  const moved = whenQuiet(0, () => text?.isConnected && cursorMoved()); // a text put in is an event a line
  for (const moving of ["keyup", "click", "input"]) text.addEventListener(moving, moved);
  text.addEventListener("keydown", pressed);
  on("proof", drawProof);
  slips.draw();
  state.proof = await api.proof();
  tell("proof");
  if (line) goToLine(Number(line));
  else {
    text.setSelectionRange(0, 0);
    text.focus();
    text.scrollTop = 0;
  }
}

const KEYS = [
  h("kbd", {}, "Ctrl"),
  " ",
  h("kbd", {}, "Space"),
  " what fits here ",
  h("kbd", {}, "F8"),
  " next slip ",
  h("kbd", {}, "F6"),
  " to the proof",
];

const into = "Writing";
/** The keys of a lesson's text and of its proof, for the list of keys. */
export const WRITING = [
  { group: into, keys: [], shown: ["Ctrl", "Space"], words: "what fits at the cursor", act: () => {} },
  {
    group: into,
    keys: [],
    shown: ["F8"],
    words: "the next slip, with Shift the one before",
    act: () => {},
  },
  {
    group: into,
    keys: ["F6"],
    shown: ["F6"],
    words: "from the text to its part of the proof, and back",
    act: () => text?.focus(),
  },
  {
    group: into,
    keys: [],
    shown: ["Up", "Down"],
    words: "in the proof: from part to part",
    act: () => {},
  },
  {
    group: into,
    keys: [],
    shown: ["Enter"],
    words: "in the proof: to where it is written",
    act: () => {},
  },
];

function pressed(event) {
  if (event.key === "F6")
    proofSide.enter(text.selectionStart, placeAt(text.value, text.selectionStart).line);
  else if (event.key === "F8") slips.next(event.shiftKey ? -1 : 1);
  else return;
  event.preventDefault();
}

function cursorMoved({ still = false } = {}) {
  const { line, column } = placeAt(text.value, text.selectionStart);
  document.querySelector(".line-no").textContent = `line ${line}, column ${column}`;
  slips.follow();
  proofSide.follow(state.lessonText.blocks, line, { still });
}

/** Where the blocks are in what is typed now; the cursor may be in one that was not there before. */
function blocksRead(blocks) {
  state.lessonText = { ...state.lessonText, blocks };
  if (document.activeElement === text)
    proofSide?.follow(blocks, placeAt(text.value, text.selectionStart).line, { still: true });
}

function goToLine(line) {
  showLine(line);
  cursorMoved();
}

function showLine(line) {
  const start = offsetOf(text.value, line);
  const end = text.value.indexOf("\n", start);
  underlay.show(start, end < 0 ? text.value.length : end);
}

const keepSoon = whenQuiet(REST, () => keep());

/** Keeps what is typed; called when the page is left, too. */
export function keep() {
  if (!state.lessonText || !text) return saving;
  saving = saving.then(() => send(false)).catch((error) => tellAloud(error.message));
  return saving;
}

async function send(anyway) {
  const typed = text.value;
  if (typed === state.lessonText.text) return;
  try {
    const told = await api.saveLesson(state.lessonText.name, {
      was: state.lessonText.text,
      to: typed,
      anyway,
    });
    const moved = told.text !== typed;
    state.lessonText = told;
    if (moved && text.value === typed) put(told.text);
    state.kept = { at: new Date(), file: state.lessonText.path };
  } catch (error) {
    if (error.status !== 409) {
      state.kept = { fault: error };
    } else {
      await settle(error);
      return;
    }
  }
  tell("kept");
}

/** Changed lines that another program wrote meanwhile. */
async function settle(error) {
  const rows = error.collisions.map((one) =>
    h(
      "div",
      { class: "collision" },
      h("p", {}, `Line ${one.line}`),
      h("pre", {}, `the file: ${lines(one.disk)}`),
      h("pre", {}, `yours: ${lines(one.to)}`),
    ),
  );
  const mine = await ask(
    `${state.lessonText.path} was changed meanwhile`,
    [error.message, ...rows],
    [
      ["Keep the file’s", false, true],
      ["Keep mine", true],
    ],
  );
  if (mine) return send(true);
  state.lessonText = await api.lesson(state.lessonText.name);
  put(state.lessonText.text);
  return undefined;
}

function lines(given) {
  return Array.isArray(given) ? given.join("\n") : String(given ?? "");
}

function put(words) {
  const at = text.selectionStart;
  const scrolled = text.scrollTop;
  text.value = words;
  text.setSelectionRange(at, at);
  text.scrollTop = scrolled;
  slips.draw();
  slips.ask();
}

/** The file changed on disk; what is typed and not kept yet is merged by keeping it. */
export async function lessonChanged({ lessons }) {
  if (!state.lessonText) return;
  if (!lessons.includes(state.lessonText.name)) return slips.ask(); // a number may be another one now
  const told = await api.lesson(state.lessonText.name).catch(() => null);
  if (!told || told.version === state.lessonText.version) return;
  if (text.value === state.lessonText.text) {
    state.lessonText = told;
    put(told.text);
  } else keepSoon();
}

function drawProof() {
  slips.drawList();
  proofSide.draw();
}

/** What is typed goes into the letter. */
async function writeLetter() {
  keepSoon.forget();
  await keep();
  await showLetter(state.lessonText.name);
}

export async function leaveLesson() {
  keepSoon.forget();
  slips?.forget();
  proofSide?.forget();
  await keep();
}
