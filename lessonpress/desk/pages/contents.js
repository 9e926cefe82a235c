// The contents of the site: its lessons, its clips, and where a new video is dropped.

import { api } from "./api.js";
import { ask } from "./ask.js";
import { button, h, refill, tellAloud } from "./dom.js";
import { slug } from "./compose.js";
import { putClipAway, putLessonAway, renameClip, renameLesson, takeBack } from "./naming.js";
import { askLine } from "./ask.js";
import { state } from "./state.js";
import { clipNames, clipTitle, plural } from "./words.js";

/** Shows the contents; what is shown already stays where it is, and only its lists are drawn anew. */
export function openContents(main) {
  const { site } = state;
  if (!main.querySelector(".contents")) main.replaceChildren(unfilled());
  const [clips, lessons, away] = main.querySelectorAll(".contents > .listed");
  refill(
    clips,
    h("h1", { id: "clips-head" }, "Clips"),
    site.clips.length
      ? h("ul", { class: "clips" }, site.clips.map(clip))
      : h("p", { class: "none" }, "No clip yet. Drop a video to begin."),
  );
  refill(
    lessons,
    h("h1", { id: "lessons-head" }, "Lessons"),
    site.lessons.length
      ? h("ol", { class: "lessons" }, site.lessons.map(lesson))
      : h("p", { class: "none" }, "No lesson yet. It begins with a clip."),
  );
  away.hidden = !site.put_away.length;
  refill(
    away,
    h("h2", { id: "away-head" }, "Put away"),
    h("p", { class: "hint" }, "In the site’s folder put-away, and in no press."),
    h("ul", {}, site.put_away.map(putAway)),
  );
}

function unfilled() {
  return h(
    "div",
    { class: "contents" },
    dropPlace(),
    h("section", { class: "listed", "aria-labelledby": "clips-head" }),
    h("section", { class: "listed", "aria-labelledby": "lessons-head" }),
    h("section", { class: "listed away", "aria-labelledby": "away-head" }),
  );
}

function putAway(one) {
  return h(
    "li",
    {},
    h("b", {}, one.name),
    h("span", {}, one.what),
    button("Take back", () => takeBack(one), {
      "aria-label": `Take back the ${one.what} ${one.name}`,
      data: { keep: `back ${one.what} ${one.name}` },
    }),
  );
}

function clip(one) {
  const asked = !one.has_card;
  const [title, folder] = clipNames(one.name);
  const uses = asked
    ? "its card waits for answers"
    : `${one.frames ?? "?"} frames, ` +
      (one.lessons.length ? `in ${plural(one.lessons.length, "lesson")}` : "in no lesson yet");
  return h(
    "li",
    {},
    one.poster
      ? h("img", { src: one.poster, alt: "", height: "96" })
      : h("span", { class: "no-poster" }, "No picture"),
    h(
      "a",
      {
        class: "whole-row",
        href: asked
          ? `#/card/${one.name}`
          : `#/clip/${one.name}${one.lessons.length ? `?lesson=${one.lessons.at(-1)}` : ""}`,
        data: { keep: `clip ${one.name}` },
      },
      title,
    ),
    h("span", {}, [folder, uses].filter(Boolean).join(", ")),
    h(
      "span",
      { class: "row" },
      asked
        ? null
        : [
            h(
              "a",
              {
                href: `#/card/${one.name}`,
                "aria-label": `Card of ${title}`,
                data: { keep: `card ${one.name}` },
              },
              "Card",
            ),
            button("New lesson", () => begin(one.name), {
              "aria-label": `New lesson from ${title}`,
              data: { keep: `lesson from ${one.name}` },
            }),
          ],
      button("Rename", () => renameClip(one), {
        class: "quiet",
        "aria-label": `Rename the clip ${title}`,
        data: { keep: `rename clip ${one.name}` },
      }),
      button("Put away", () => putClipAway(one), {
        class: "quiet",
        "aria-label": `Put the clip ${title} away`,
        data: { keep: `away clip ${one.name}` },
      }),
    ),
  );
}

async function begin(clipName) {
  const title = await askLine("New lesson", "Its title", { yes: "Begin it" });
  if (!title) return;
  try {
    const made = await api.newLesson({ name: slug(title), title, clip: clipName });
    location.hash = `#/lesson/${made.name}`;
  } catch (error) {
    await ask("The lesson was not begun", error.whole, [["Close", null, true]]);
  }
}

function lesson(one) {
  return h(
    "li",
    {},
    h(
      "a",
      { class: "whole-row", href: `#/lesson/${one.name}`, data: { keep: `lesson ${one.name}` } },
      one.title,
    ),
    h("span", {}, `${one.date}${one.draft ? ", draft" : one.held ? ", held back until then" : ""}`),
    one.clip
      ? h(
          "a",
          {
            class: "clip",
            href: `#/clip/${one.clip}?lesson=${one.name}`,
            title: one.clip,
            data: { keep: `clip of ${one.name}` },
          },
          clipTitle(one.clip),
        )
      : "",
    h(
      "span",
      { class: "row" },
      button("Rename", () => renameLesson(one.name), {
        class: "quiet",
        "aria-label": `Rename the lesson ${one.title}`,
        data: { keep: `rename lesson ${one.name}` },
      }),
      button("Put away", () => putLessonAway(one), {
        class: "quiet",
        "aria-label": `Put the lesson ${one.title} away`,
        data: { keep: `away lesson ${one.name}` },
      }),
    ),
  );
}

function dropPlace() {
  const file = h("input", {
    id: "video",
    type: "file",
    accept: "video/*,.mkv,.mts,.m2ts",
    class: "unseen",
  });
  const told = h("p", { class: "hint" }, "It is copied into the site’s folder and nowhere else.");
  const place = h(
    "section",
    { class: "drop", "aria-label": "New clip" },
    h("h2", {}, "Drop a video here"),
    h("p", {}, "or ", h("label", { class: "button chief", for: "video" }, "Choose a video")),
    file,
    told,
  );
  file.addEventListener("change", () => file.files[0] && takeIn(file.files[0], told));
  return place;
}

/** A video dropped anywhere on the page. */
export function startDropping() {
  const over = (event) => {
    if (![...(event.dataTransfer?.types ?? [])].includes("Files")) return;
    event.preventDefault();
    document.body.classList.add("dropping");
  };
  addEventListener("dragover", over);
  addEventListener("dragenter", over);
  addEventListener(
    "dragleave",
    (event) => event.relatedTarget === null && document.body.classList.remove("dropping"),
  );
  addEventListener("drop", (event) => {
    document.body.classList.remove("dropping");
    const [file] = event.dataTransfer?.files ?? [];
    if (!file) return;
    event.preventDefault();
    takeIn(file, document.querySelector(".drop .hint"));
  });
}

async function takeIn(file, told) {
  const say = (words) => (told?.isConnected ? (told.textContent = words) : tellAloud(words));
  say(`Taking in ${file.name}.`);
  try {
    const { clip: name } = await api.upload(file, (share) =>
      say(`Taking in ${file.name}: ${Math.round(share * 100)} %.`),
    );
    location.hash = `#/card/${name}`;
  } catch (error) {
    say("It is copied into the site’s folder and nowhere else.");
    await ask(`${file.name} was not taken in`, error.whole, [["Close", null, true]]);
  }
}
