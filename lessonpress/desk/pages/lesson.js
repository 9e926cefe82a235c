// A lesson's text beside its proof. The text is kept as it is typed; faults stand under it, with their lines.

import { api } from "./api.js";
import { ask } from "./ask.js";
import { button, h, refill, tellAloud } from "./dom.js";
import { showLetter } from "./letter.js";
import { on, state, tell } from "./state.js";
import { capital, clockTime, plural } from "./words.js";
import { whenQuiet } from "./work.js";

const REST = 450; // ms after the last letter until the text is kept

let text = null;
let page = null;
let faults = null;
let stand = null;
let saving = Promise.resolve();

export async function openLesson(main, name, line) {
  state.lessonText = await api.lesson(name);
  text = h("textarea", {
    id: "text",
    spellcheck: "true",
    wrap: "soft",
    value: state.lessonText.text,
    "aria-describedby": "faults",
  });
  page = h("iframe", { class: "proof", title: "Proof", sandbox: "allow-same-origin" });
  faults = h("div", { id: "faults", class: "fault-list" });
  stand = h("div", { class: "stand" });
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
        text,
        faults,
      ),
      h("section", { class: "proof-side", "aria-label": "Proof" }, stand, page),
    ),
  );
  text.addEventListener("keyup", tellLine);
  text.addEventListener("click", tellLine);
  on("proof", drawProof);
  drawFaults();
  state.proof = await api.proof();
  tell("proof");
  if (line) goToLine(Number(line));
  else {
    text.setSelectionRange(0, 0);
    text.focus();
    text.scrollTop = 0;
  }
}

function tellLine() {
  const before = text.value.slice(0, text.selectionStart).split("\n");
  document.querySelector(".line-no").textContent =
    `line ${before.length}, column ${before.at(-1).length + 1}`;
}

function goToLine(line) {
  const lines = text.value.split("\n");
  const start = lines.slice(0, line - 1).join("\n").length + (line > 1 ? 1 : 0);
  text.focus();
  text.setSelectionRange(start, start + (lines[line - 1]?.length ?? 0));
  text.scrollTop = Math.max(0, (text.scrollHeight * (line - 1)) / lines.length - text.clientHeight / 3);
  tellLine();
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
  drawFaults();
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
  drawFaults();
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
}

/** The file changed on disk; what is typed and not kept yet is merged by keeping it. */
export async function lessonChanged({ lessons }) {
  if (!state.lessonText || !lessons.includes(state.lessonText.name)) return;
  const told = await api.lesson(state.lessonText.name).catch(() => null);
  if (!told || told.version === state.lessonText.version) return;
  if (text.value === state.lessonText.text) {
    state.lessonText = told;
    put(told.text);
    drawFaults();
  } else keepSoon();
}

function ours() {
  const about = (one) => one.path === state.lessonText.path || !one.path.startsWith("lessons/");
  const pressed = (state.proof?.problems ?? []).filter(about);
  const written = state.lessonText.problems.filter(
    (one) => !pressed.some((other) => other.told === one.told),
  );
  return [...written, ...pressed];
}

function drawFaults() {
  if (!faults) return;
  const told = ours();
  refill(
    faults,
    told.map((one) =>
      h(
        "p",
        { class: one.severity },
        one.path === state.lessonText.path
          ? button(`${one.path.split("/").at(-1)}:${one.line}:${one.column}`, () => goToLine(one.line), {
              class: "place",
            })
          : h("b", {}, `${one.path}:${one.line}:${one.column}`),
        ` ${capital(one.wrong)}. ${one.right ? `${capital(one.right)}.` : ""}`,
        one.nearest?.length ? ` Nearest: ${one.nearest.join(", ")}.` : "",
      ),
    ),
  );
  faults.hidden = !told.length;
}

function drawProof() {
  const { proof } = state;
  if (!proof || !state.lessonText) return;
  // what is pressed now is not this one
  const others = proof.pending.length && !proof.pending.includes(state.lessonText.name);
  const waits = !others && (proof.state === "pressing" || proof.pending.length > 0);
  const faulty = ours().some((one) => one.severity === "error");
  const words = waits
    ? "Pressing"
    : proof.state === "none"
      ? "Not pressed yet"
      : faulty
        ? "Faults"
        : "Pressed";
  const path = `lessons/${state.lessonText.name}/index.html`;
  refill(
    stand,
    h("p", { role: "status" }, h("b", {}, words), waits ? "" : ` ${pressedWords(proof)}`),
    h(
      "div",
      { class: "switches" },
      h(
        "label",
        {},
        h("input", { type: "radio", name: "which", checked: !state.good, onchange: () => show(false) }),
        h("span", {}, "Proof"),
      ),
      h(
        "label",
        {},
        h("input", { type: "radio", name: "which", checked: state.good, onchange: () => show(true) }),
        h("span", {}, "Last good page"),
      ),
    ),
    button("Press now", () => api.press(), { data: { keep: "press" } }),
    button("Letter", writeLetter, { data: { keep: "letter" } }),
    h(
      "a",
      { href: `/${state.good ? "good" : "proof"}/${path}`, target: "_blank", rel: "noopener" },
      "Open alone",
    ),
  );
  drawFaults();
  const errors = proof.problems.filter((one) => one.severity === "error").map((one) => one.told);
  const stamp = JSON.stringify([state.good, proof.pages[state.lessonText.name], errors]);
  if (!waits && proof.state !== "none" && state.page !== stamp) {
    state.page = stamp;
    turn(path, proof.number);
  }
}

/** What is typed goes into the letter. */
async function writeLetter() {
  keepSoon.forget();
  await keep();
  await showLetter(state.lessonText.name);
}

/** "at 09:41:07; two warnings in the site; three lessons still to come" */
function pressedWords(proof) {
  const count = (severity) => proof.problems.filter((one) => one.severity === severity).length;
  const [errors, warnings] = [count("error"), count("warning")];
  if (proof.state === "faulty" && !errors) return proof.summary; // the press could not be done at all
  const found = [
    errors ? plural(errors, "error") : "",
    warnings ? plural(warnings, "warning") : "",
  ].filter(Boolean);
  return [
    proof.pressed_at ? `at ${clockTime(new Date(proof.pressed_at))}` : "",
    found.length ? `${found.join(" and ")} in the site` : "",
    proof.pending.length ? `${plural(proof.pending.length, "other lesson")} still to come` : "",
  ]
    .filter(Boolean)
    .join("; ");
}

function show(last) {
  state.good = last;
  drawProof();
}

/** Shows the page anew, where the reader was. */
function turn(path, number) {
  const address = `/${state.good ? "good" : "proof"}/${path}?n=${number}`;
  let scrolled = 0;
  try {
    scrolled = page.contentWindow.scrollY;
  } catch {
    // the first page has nothing to scroll
  }
  page.addEventListener(
    "load",
    () => {
      page.contentWindow.scrollTo(0, scrolled);
      if (!scrolled) page.contentDocument.querySelector(".faulty")?.scrollIntoView({ block: "center" });
    },
    { once: true },
  );
  if (page.src) page.contentWindow.location.replace(address);
  else page.src = address;
}

export async function leaveLesson() {
  keepSoon.forget();
  await keep();
}
