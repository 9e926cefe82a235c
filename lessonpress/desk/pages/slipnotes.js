// The slips of a lesson's text: underlined where they stand, and below the text with the way out. They come
// from what is typed, before it is saved; what the press alone can say is added once it has pressed.

import { api } from "./api.js";
import { button, h, refill, tellAloud } from "./dom.js";
import { write } from "./offering.js";
import { moved, offsetOf, stretches } from "./offsets.js";
import { state } from "./state.js";
import { capital } from "./words.js";
import { whenQuiet } from "./work.js";

const REST = 250; // ms after the last letter until the text is read

/**
 * place: the list below the text. read(blocks): hears the lines of blocks when they are known anew.
 * isOffered(): whether what is written at the cursor is being chosen, so that it is no slip yet.
 */
export function makeSlipNotes(field, underlay, { read, isOffered }) {
  const place = h("div", { id: "faults", class: "fault-list" });
  const own = { text: field.value, problems: state.lessonText.problems, found: [], begun: [], at: null };

  const ask = async () => {
    const text = field.value;
    const answer = await api.slips(state.lessonText.name, { text }).catch(() => null);
    if (!answer || !place.isConnected) return;
    Object.assign(own, { text, problems: answer.problems });
    read(answer.blocks);
    if (field.value !== text) askSoon();
    draw();
  };
  const askSoon = whenQuiet(REST, ask);

  const draw = () => {
    if (!state.lessonText) return; // the lesson is left
    const at = field.selectionStart;
    const offered = isOffered();
    own.found = moved(stretches(own.text, own.problems), own.text, field.value);
    own.begun = offered ? own.found.filter((one) => one.start <= at && at <= one.end) : [];
    underlay.draw(own.found.filter((one) => !own.begun.includes(one)));
    drawList();
  };

  const drawList = () => {
    const begun = own.begun.map((one) => one.problem);
    const told = listed(own, field.value).filter((one) => !begun.includes(one));
    own.at = own.found.find(
      (one) => one.start <= field.selectionStart && field.selectionStart <= one.end,
    );
    refill(
      place,
      told.map((one) => note(one, own, { field, underlay, follow })),
    );
    place.hidden = !told.length;
    place.querySelector("[aria-current]")?.scrollIntoView({ block: "nearest" });
  };

  /** Says the slip that the cursor has come to. */
  const follow = () => {
    const before = own.at?.problem;
    drawList();
    if (own.at && own.at.problem !== before) tellAloud(words(own.at.problem));
  };

  /** Goes to the slip after the cursor, or before it. */
  const next = (step) => {
    const here = field.selectionStart;
    const on =
      step > 0 ? own.found.find((one) => one.start > here) : own.found.findLast((one) => one.end < here);
    const to = on ?? own.found.at(step > 0 ? 0 : -1);
    if (!to) return tellAloud("No slip is underlined.");
    underlay.show(to.start, to.end);
    return follow();
  };

  const drawSoon = whenQuiet(0, draw); // a text that is put in comes as an event for each of its lines
  field.addEventListener("input", () => {
    drawSoon();
    askSoon();
  });
  ask();
  const hasErrors = () => listed(own, field.value).some((one) => one.severity === "error");
  return { place, draw, drawList, follow, next, ask, hasErrors, forget: askSoon.forget };
}

function listed(own, text) {
  return [...own.problems, ...pressedBesides(own, text)];
}

/** What the press says besides, of lines that are still as they were pressed, and of other files. */
function pressedBesides(own, text) {
  const lines = text.split("\n");
  return (state.proof?.problems ?? []).filter((one) => {
    if (one.path !== state.lessonText.path) return !one.path.startsWith("lessons/");
    const standing = (lines[one.line - 1] ?? "").includes(one.source_line.replaceAll("…", "").trimEnd());
    return standing && !own.problems.some((other) => other.told === one.told);
  });
}

function words(problem) {
  return `${capital(problem.wrong)}. ${problem.right ? `${capital(problem.right)}.` : ""}`;
}

function note(problem, own, { field, underlay, follow }) {
  const here = own.found.find((one) => one.problem === problem);
  const inText = problem.path === state.lessonText.path;
  const spot = `${inText ? problem.path.split("/").at(-1) : problem.path}:${problem.line}:${problem.column}`;
  return h(
    "p",
    { class: problem.severity, "aria-current": here && here === own.at ? "true" : null },
    inText
      ? button(spot, () => goTo(problem, here, { field, underlay, follow }), {
          class: "place",
          data: { keep: problem.told },
        })
      : h("b", {}, spot),
    ` ${words(problem)}`,
    here && problem.instead?.length
      ? [
          " ",
          problem.instead.map((text) => [
            button(text, () => write(field, here.start, here.end, text), {
              class: "instead",
              "aria-label": `Write ${text} instead of ${problem.slip}`,
            }),
            " ",
          ]),
        ]
      : problem.nearest?.length
        ? ` Nearest: ${problem.nearest.join(", ")}.`
        : "",
  );
}

function goTo(problem, here, { field, underlay, follow }) {
  const start = here?.start ?? offsetOf(field.value, problem.line);
  const end = field.value.indexOf("\n", start);
  underlay.show(start, here?.end ?? (end < 0 ? field.value.length : end));
  follow();
}
