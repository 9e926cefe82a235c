// The last look before publishing: what was found, the most severe first, each with its place and its answer.

import { api } from "./api.js";
import { ask, askLine } from "./ask.js";
import { button, h, refill, tellAloud } from "./dom.js";
import { state } from "./state.js";
import { capital, plural } from "./words.js";

const GROUPS = [
  ["error", "Errors: the press would stop"],
  ["severe", "Severe: a reader learns something wrong, or may be hurt"],
  ["warning", "Warnings: a reader is let down"],
  ["note", "Notes: worth a look"],
];

let findings = [];
let more = 0;
let place = null;

export async function openLastLook(main) {
  const looked = await api.preflight();
  ({ findings, more } = looked);
  place = h("div", { class: "last-look" });
  draw();
  main.replaceChildren(place);
}

function draw() {
  const open = findings.filter((one) => one.answered === null);
  const answered = findings.filter((one) => one.answered !== null);
  refill(
    place,
    h("h1", {}, open.length ? capital(plural(open.length, "finding")) : "Nothing found"),
    h(
      "p",
      { class: "hint" },
      "A finding is a question and no advice. Correct it, or answer it where it is meant so; ",
      "an answer holds until the text that it is about changes.",
    ),
    h("div", { class: "row" }, button("Look again", again, { data: { keep: "again" } })),
    GROUPS.map(([severity, words]) =>
      group(
        words,
        open.filter((one) => one.severity === severity),
      ),
    ),
    more ? h("p", {}, `And ${more} more, which \`lessonpress preflight\` prints.`) : null,
    answered.length
      ? h(
          "details",
          { data: { keep: "answered" } },
          h("summary", {}, `Answered: ${answered.length}`),
          h("ol", { class: "findings" }, answered.map(finding)),
        )
      : null,
  );
}

function group(words, ones) {
  if (!ones.length) return null;
  return h(
    "section",
    {},
    h("h2", {}, `${words} (${ones.length})`),
    h("ol", { class: "findings" }, ones.map(finding)),
  );
}

function finding(one) {
  const name = `${one.file}:${one.line}:${one.column}`;
  const way = wayTo(one);
  return h(
    "li",
    { class: one.severity },
    way ? h("a", { class: "place", href: way }, name) : h("b", { class: "place" }, name),
    h("p", {}, `${capital(one.wrong)}.`),
    one.right ? h("p", { class: "right" }, `${capital(one.right)}.`) : null,
    one.answered === null ? null : h("p", { class: "reason" }, `It is meant so: ${one.answered}`),
    asks(one),
  );
}

function asks(one) {
  if (!one.id || !state.site.may_change) return null;
  return one.answered === null
    ? button("It is meant so", () => meant(one), { "aria-label": `It is meant so: ${one.wrong}` })
    : button("Ask again", () => write(one, null), { "aria-label": `Ask again: ${one.wrong}` });
}

/** Where the finding is opened at the desk; null for what is changed by hand. */
function wayTo({ file, line }) {
  const [folder, name] = file.split("/");
  if (folder === "lessons" && name.endsWith(".md")) {
    return `#/lesson/${encodeURIComponent(name.slice(0, -3))}?line=${line}`;
  }
  if (folder === "clips" && file.endsWith("/clip.yaml")) return `#/card/${encodeURIComponent(name)}`;
  if (folder === "clips" && name) return `#/clip/${encodeURIComponent(name)}`;
  return null;
}

async function meant(one) {
  const reason = await askLine("It is meant so", "Why", {
    hint: `Written under \`meant\` of its file as ${one.id}.`,
  });
  if (reason) await write(one, reason);
}

async function write(one, to) {
  try {
    const { path } = await api.answer({ path: one.file, finding: one.id, was: one.answered, to });
    one.answered = to;
    tellAloud(to === null ? `Taken out of ${path}.` : `Answered in ${path}.`);
    draw();
  } catch (error) {
    await ask("The answer was not written", capital(error.whole), [["Close", null, true]]);
  }
}

async function again() {
  tellAloud("Looking again.");
  try {
    ({ findings, more } = await api.preflight());
    draw();
    tellAloud("Looked again.");
  } catch (error) {
    tellAloud(error.message);
  }
}
