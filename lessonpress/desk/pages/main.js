// Opens the page that the address names, and hears what the server tells.

import { api } from "./api.js";
import { openCard } from "./cardform.js";
import { openContents, startDropping } from "./contents.js";
import { h, tellAloud, untell } from "./dom.js";
import { drawHead } from "./head.js";
import { showAll, startKeys, useKeys } from "./keys.js";
import { openLastLook } from "./lastlook.js";
import { keep, leaveLesson, lessonChanged, openLesson, WRITING } from "./lesson.js";
import { filesChanged, openMarking } from "./marking.js";
import { KEYS } from "./markingkeys.js";
import { openSaves } from "./saves.js";
import { savesWaiting } from "./saving.js";
import { drop, on, silence, state, tell } from "./state.js";
import { redo, undo } from "./undo.js";
import { whenQuiet } from "./work.js";

const main = document.getElementById("desk");
let view = { name: null };
let opening = Promise.resolve();

const OPENING = {
  contents: "Opening the contents.",
  card: "Opening the card.",
  clip: "Opening the clip.",
  lesson: "Opening the lesson.",
  lastlook: "Looking at the whole site. The first time takes as long as a press.",
  saves: "Opening the saves.",
};

const EVERYWHERE = [
  { group: "Everything", keys: ["?"], shown: ["?"], words: "this list", act: showAll },
  {
    group: "Everything",
    keys: ["Ctrl+z"],
    shown: ["Ctrl", "Z"],
    words: "undo the last change of marks or card",
    act: undo,
  },
  {
    group: "Everything",
    keys: ["Ctrl+Shift+z", "Ctrl+y"],
    shown: ["Ctrl", "Shift", "Z"],
    words: "redo",
    act: redo,
  },
];

/** "#/clip/dune?lesson=pelvis" -> {name: "clip", clip: "dune", lesson: "pelvis"} */
function addressed() {
  const [path, query] = location.hash.replace(/^#\/?/, "").split("?");
  const [name, what] = path.split("/").map(decodeURIComponent);
  const asked = Object.fromEntries(new URLSearchParams(query ?? ""));
  if (name === "clip" || name === "card") return { name, clip: what, lesson: asked.lesson ?? null };
  if (name === "lesson") return { name, lesson: what, line: asked.line ?? null };
  if (name === "lastlook" || name === "saves") return { name };
  return { name: "contents" };
}

function open() {
  opening = opening.then(openNow);
  return opening;
}

/** Shows the contents as they are now, unless the author has gone on meanwhile. */
function openContentsAgain() {
  opening = opening.then(() => (addressed().name === "contents" ? openNow() : undefined));
  return opening;
}

async function openNow() {
  if (view.name === "lesson") await leaveLesson();
  silence();
  untell();
  const before = view;
  view = addressed();
  if (before.name !== view.name || view.name !== "contents") {
    drop();
    useKeys(EVERYWHERE);
  }
  // what is left has no styles in the view that comes
  if (before.name !== view.name) showOpening(main, view.name);
  document.body.dataset.view = view.name;
  on("kept site", () => drawHead(view));
  try {
    state.site = await api.site();
    drawHead(view);
    useKeys(
      view.name === "clip" ? KEYS : view.name === "lesson" ? [...WRITING, ...EVERYWHERE] : EVERYWHERE,
    );
    if (view.name === "clip") await openMarking(main, view.clip, view.lesson);
    else if (view.name === "card") await openCard(main, view.clip);
    else if (view.name === "lesson") await openLesson(main, view.lesson, view.line);
    else if (view.name === "lastlook") await openLastLook(main);
    else if (view.name === "saves") await openSaves(main);
    else openContents(main);
    document.title = `${document.querySelector("#head .title").textContent}, ${state.site.title}`;
    main.dataset.open = view.name;
  } catch (error) {
    console.error(error);
    main.replaceChildren(
      h(
        "div",
        { class: "stopped" },
        h("h1", {}, "This cannot be opened"),
        h("p", {}, error.whole ?? error.message),
        h("p", {}, h("a", { href: "#/" }, "Contents of the site")),
      ),
    );
  }
}

function showOpening(place, name) {
  delete place.dataset.open;
  place.replaceChildren(h("p", { class: "opening", role: "status" }, OPENING[name]));
}

function hear() {
  const events = new EventSource("/api/events");
  let lost = false;
  events.addEventListener("open", () => {
    if (lost) open();
    lost = false;
  });
  events.addEventListener("error", () => {
    if (!lost) tellAloud("The desk does not answer. What was kept is kept; start it again.");
    lost = true;
  });
  let changed = { clips: new Set(), lessons: new Set() };
  const told = whenQuiet(150, async () => {
    const now = { clips: [...changed.clips], lessons: [...changed.lessons] };
    changed = { clips: new Set(), lessons: new Set() };
    if (savesWaiting()) return again(now);
    if (view.name === "clip") await filesChanged(now);
    if (view.name === "lesson") await lessonChanged(now);
    if (view.name === "contents") await openContentsAgain();
    return undefined;
  });
  const again = ({ clips, lessons }) => {
    clips.forEach((one) => changed.clips.add(one));
    lessons.forEach((one) => changed.lessons.add(one));
    told();
  };
  events.addEventListener("saved", (event) => again(JSON.parse(event.data)));
  events.addEventListener("proof", (event) => {
    state.proof = JSON.parse(event.data);
    tell("proof");
  });
}

addEventListener("hashchange", open);
addEventListener("beforeunload", (event) => {
  if (view.name === "lesson") keep();
  if (savesWaiting()) event.preventDefault();
});
startKeys();
startDropping();
hear();
open();
