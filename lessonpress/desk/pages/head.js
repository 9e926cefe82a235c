// The head: what is on the desk, for which lesson, when it was last kept, and the way to the proof.

import { button, h, refill, s } from "./dom.js";
import { open } from "./compose.js";
import { clipNames, clockTime } from "./words.js";
import { state } from "./state.js";

export function drawHead(view) {
  const head = document.getElementById("head");
  refill(
    head,
    h(
      "a",
      { class: "home", href: "#/", "aria-label": "Contents of the site", data: { keep: "home" } },
      bob(),
      h("span", { class: "title" }, TITLES[view.name]),
    ),
    h("p", { class: "what" }, what(view)),
    h("p", { class: state.kept?.fault ? "kept fault" : "kept" }, kept()),
    h("div", { class: "ways" }, ways(view)),
  );
}

const TITLES = {
  contents: "Marking desk",
  card: "Card of a clip",
  clip: "Marking desk",
  lesson: "Lesson and proof",
  lastlook: "Last look",
  saves: "Earlier texts",
};

function bob() {
  return s(
    "svg",
    { class: "bob", viewBox: "0 0 13 28", "aria-hidden": "true" },
    s("path", { d: "M6.500 0v12", stroke: "currentColor", "stroke-width": "1.6" }),
    s("path", { d: "M1 12h11l-1 5-4.500 11L2 17z", fill: "currentColor" }),
  );
}

function what(view) {
  if (["contents", "lastlook", "saves"].includes(view.name) || !state.site)
    return [h("b", {}, state.site?.title ?? "")];
  const lesson = state.site.lessons.find((one) => one.name === view.lesson);
  if (view.name === "lesson") return [h("b", {}, lesson?.title ?? view.lesson)];
  const [title, folder] = clipNames(view.clip);
  return [
    h("b", {}, title),
    folder ? ` (${folder})` : "",
    lesson ? [" for ", h("b", {}, lesson.title)] : "",
  ].flat();
}

function kept() {
  if (!state.site?.may_change && state.site) return "This browser may look and not change anything.";
  if (!state.kept) return "";
  return state.kept.fault
    ? `Not kept: ${state.kept.fault.message}`
    : `Kept at ${clockTime(state.kept.at)} in ${state.kept.file}`;
}

function ways(view) {
  const lesson = view.lesson ?? state.site?.lessons.find((one) => one.clip === view.clip)?.name;
  if (view.name === "clip") {
    return [
      button("Draw a plate", open, { "aria-keyshortcuts": "p", data: { keep: "plate" } }),
      lesson ? way("See the proof", `#/lesson/${lesson}`, { chief: true }) : way("Contents", "#/"),
    ];
  }
  if (view.name === "lesson") {
    const clip = state.site?.lessons.find((one) => one.name === view.lesson)?.clip;
    return [
      clip ? way("Mark its clip", `#/clip/${clip}?lesson=${view.lesson}`) : "",
      way("Contents", "#/"),
    ];
  }
  if (view.name === "contents") {
    return [way("Earlier texts", "#/saves"), way("Last look", "#/lastlook", { chief: true })];
  }
  return way("Contents", "#/");
}

function way(words, href, { chief = false } = {}) {
  return h("a", { class: chief ? "button chief" : "button", href, data: { keep: words } }, words);
}
