// Marks that are suggested in the picture in view: asked for here, hollow on the frame, accepted all by one
// key or one by one. Until then they are questions: nothing else on the desk takes them for marks.

import { api } from "./api.js";
import { button, h, refill, tellAloud } from "./dom.js";
import { goTo, nextGap, take } from "./hand.js";
import { readMarks, show, suggestedAt, suggestedHere } from "./marks.js";
import { on, state, tell, whenDropped } from "./state.js";
import { act } from "./undo.js";
import { markInText, markWords, plural } from "./words.js";

let slip = null;

export function makeSuggestSlip() {
  slip = h("section", { class: "slip suggested", hidden: true, "aria-label": "Suggested" });
  on("suggest frame hand marks clip", draw);
  return slip;
}

/** Has marks suggested in this picture. */
export async function suggest() {
  const { clip, frame } = state;
  if (!state.site.suggested)
    return tellAloud("site.yaml says that no marks are suggested on this site.");
  tellAloud("Looking for the body.");
  try {
    const told = await api.suggest(clip.name, { frame });
    if (state.clip?.name !== clip.name) return undefined;
    state.suggesting = { frame, missing: told.missing, why: told.why };
    await readMarks();
  } catch (error) {
    if (state.clip?.name !== clip.name) return undefined;
    state.suggesting = { frame, missing: {}, why: error.whole ?? error.message };
  }
  tell("suggest");
  const found = suggestedHere().length;
  return tellAloud(
    found
      ? `${plural(found, "mark")} suggested: questions until you accept them.`
      : `Nothing is suggested: ${state.suggesting.why || "every mark is placed or unclear"}.`,
  );
}

whenDropped(() => state.everywhere?.stop.abort());

/** Has marks suggested in every picture of the clip; stopped, what was found until then is kept. */
export async function suggestEverywhere() {
  const { clip } = state;
  if (state.everywhere) return tellAloud("Every picture is being looked at already.");
  if (!state.site.suggested)
    return tellAloud("site.yaml says that no marks are suggested on this site.");
  const stop = new AbortController();
  state.everywhere = { done: 0, of: clip.frames, stop };
  tell("suggest");
  tellAloud("Looking for the body in every picture.");
  let words = "Stopped. What was found until then is kept.";
  try {
    await api.suggestAll(clip.name, (line) => (words = heard(line) ?? words), stop.signal);
  } catch (error) {
    if (error.name !== "AbortError") words = error.whole ?? error.message;
  }
  if (state.clip?.name !== clip.name) return undefined;
  state.everywhere = null;
  await readMarks();
  tell("suggest");
  return tellAloud(words);
}

/** A line of the answer; the words for what came of it once it is the last. */
function heard(line) {
  if (line.error) return `${line.error.reason}: ${line.error.way_out}`;
  if (line.done)
    return line.pictures
      ? `${plural(line.marks, "mark")} suggested in ${plural(line.pictures, "picture")}: ` +
          "questions until you accept them."
      : `Nothing is suggested: ${line.why || "every mark is placed or unclear"}.`;
  if (!state.everywhere) return undefined;
  Object.assign(state.everywhere, { done: line.progress, of: line.of });
  tell("suggest");
  return undefined;
}

/** Takes suggestions of this picture for marks, as they are. */
export function accept(marks = suggestedHere().map(([mark]) => mark)) {
  const { frame, clip } = state;
  if (!marks.length) return tellAloud("Nothing is suggested in this picture. S asks.");
  const edits = marks.map((mark) => {
    const at = suggestedAt(mark, frame);
    return { mark, frame, was: null, to: [at.x, at.y, at.u, "suggested"] };
  });
  for (const edit of edits) show(edit.mark, frame, edit.to);
  const words = marks.length === 1 ? markWords(marks[0]) : plural(marks.length, "mark");
  const done = act(`${words} as suggested, frame ${frame}`, [
    { where: "marks", clip: clip.name, edits },
  ]);
  if (state.lesson && !suggestedHere().length) toNext();
  return done;
}

/** What the lesson wants after what was accepted, in its picture and in hand. */
function toNext() {
  const gap = nextGap();
  if (!gap) return;
  goTo(gap.frame);
  take(gap.mark);
}

/** Whether the cross is on the suggestion of the mark in hand, so that to place it is to accept it. */
export function atSuggestion() {
  const at = state.hand ? suggestedAt(state.hand, state.frame) : null;
  return at !== null && state.aim !== null && at.x === state.aim.x && at.y === state.aim.y;
}

/** The reasons for which marks are not suggested, each with its marks: "Lead hip, trail hip: …". */
export function reasons(missing) {
  const marks = {};
  for (const [mark, why] of Object.entries(missing)) marks[why] = [...(marks[why] ?? []), mark];
  return Object.entries(marks).map(([why, its]) =>
    its.length > 4
      ? `${plural(its.length, "other mark")}: ${why}`
      : `${its.map(markWords).join(", ")}: ${why}`,
  );
}

function drawEverywhere({ done, of, stop }) {
  refill(
    slip,
    h("h2", {}, "Looking at every picture"),
    h("progress", { max: of, value: done, "aria-label": "Pictures looked at" }),
    h("p", {}, `${done} of ${of} pictures. What was found is kept when you stop.`),
    button("Stop", () => stop.abort(), { data: { keep: "stop" } }),
  );
}

function draw() {
  const here = state.clip ? suggestedHere() : [];
  const last = state.suggesting?.frame === state.frame ? state.suggesting : null;
  slip.hidden = !here.length && !last && !state.everywhere;
  if (slip.hidden) return;
  if (state.everywhere) return drawEverywhere(state.everywhere);
  const own = here.find(([mark]) => mark === state.hand);
  refill(
    slip,
    h("h2", {}, "Suggested, not accepted"),
    h(
      "p",
      {},
      here.length
        ? `${plural(here.length, "hollow point")} in this picture. Nothing rests on one until you accept it.`
        : `Nothing more in this picture${last?.why ? `: ${last.why}` : ""}.`,
    ),
    last ? reasons(last.missing).map((words) => h("small", {}, words)) : null,
    h(
      "div",
      { class: "row" },
      here.length
        ? button("Accept all", () => accept(), { class: "chief", data: { keep: "accept-all" } })
        : null,
      own
        ? button(`Accept ${markInText(own[0])}`, () => accept([own[0]]), {
            data: { keep: "accept-one" },
          })
        : null,
    ),
    here.length
      ? h(
          "p",
          { class: "hint" },
          "Shift S accepts all, Enter the one in hand. Placed by click or after a nudge it is your own.",
        )
      : null,
    button("Suggest in every picture", suggestEverywhere, { data: { keep: "everywhere" } }),
  );
}
