// The film: true frames in a row, ticks, events on bent leaders, the curve of change, the bob on this frame.

import { button, h, s } from "./dom.js";
import { nameEvents, proposed, takeProposed } from "./clip.js";
import { goTo } from "./hand.js";
import { on, state } from "./state.js";
import { afterPaint } from "./work.js";
import { capital, eventsInOrder, frameWords } from "./words.js";

const TOP = 42; // CSS px of labels and ticks above the pictures
const PICTURE = 78;
const TAKE = 134; // CSS px of the button that takes what is proposed
const LINES = 2;
const LABEL = 7.6; // CSS px a letter, for keeping labels apart

let film = null;
let pictures = null;
let drawing = null;
let labels = null;
let across = 0;
let held = null; // an event that is being moved: {name, frame, moved}

export function makeFilm() {
  pictures = h("div", { class: "thumbs", "aria-hidden": "true" });
  drawing = s("svg", { class: "strip", "aria-hidden": "true" });
  labels = h("div", { class: "labels" });
  const slider = h("div", {
    class: "scrub",
    role: "slider",
    tabindex: "0",
    "aria-label": "Frame",
    "data-own-keys": "arrows",
  });
  film = h("section", { class: "film", "aria-label": "Film" }, pictures, drawing, slider, labels);
  listen(slider);
  on("clip", () => fill());
  on("frame", afterPaint(draw));
  new ResizeObserver(() => fill()).observe(film);
  return film;
}

function fill() {
  if (!state.clip || !film.clientWidth) return;
  const { clip } = state;
  across = pictures.clientWidth;
  const wide = Math.max(46, Math.min(88, (PICTURE * clip.size[0]) / clip.size[1]));
  const count = Math.max(2, Math.min(clip.frames, Math.round(across / wide)));
  const frames = Array.from({ length: count }, (_, n) =>
    Math.round((n * (clip.frames - 1)) / (count - 1)),
  );
  const key = `${clip.fingerprint} ${count}`;
  if (pictures.dataset.key !== key) {
    pictures.dataset.key = key;
    pictures.replaceChildren(...frames.map(() => h("img", { alt: "", draggable: "false" })));
    fetchInTurn([...pictures.children], (n) => clip.thumbnail.replace("{frame}", frames[n]));
  }
  draw();
}

/** A browser has few lines to one server, and the frame's own pictures come over one of them. */
function fetchInTurn(images, address) {
  let next = 0;
  const one = () => {
    if (next === images.length) return;
    const image = images[next];
    for (const end of ["load", "error"]) image.addEventListener(end, one, { once: true });
    image.src = address(next++);
  };
  for (let line = 0; line < LINES; line++) one();
}

function x(frame) {
  const cell = across / Math.max(1, pictures.childElementCount);
  return cell / 2 + (frame / Math.max(1, state.clip.frames - 1)) * (across - cell);
}

function frameAt(clientX) {
  const cell = across / Math.max(1, pictures.childElementCount);
  const box = pictures.getBoundingClientRect();
  const share = (clientX - box.left - cell / 2) / (across - cell);
  return Math.round(Math.min(1, Math.max(0, share)) * (state.clip.frames - 1));
}

function draw() {
  if (!state.clip || !across) return;
  const here = x(state.frame);
  const cell = across / Math.max(1, pictures.childElementCount);
  const events = all();
  const places = spreadOut(events);
  drawing.setAttribute("viewBox", `0 0 ${across} ${TOP + PICTURE + 4}`);
  drawing.setAttribute("width", across);
  drawing.replaceChildren(
    s("path", { d: ticks(), class: "ticks" }),
    s("path", { d: `M0 ${TOP - 1}H${across}`, class: "edge" }),
    ...curve(),
    ...events.map(([, frame, kept], n) =>
      s("path", {
        d: `M${x(frame)} ${TOP - 1}V${TOP - 12}L${places[n]} ${TOP - 20}`,
        class: ["leader", kept ? "" : "proposed", frame === state.frame ? "now" : ""].join(" ").trim(),
      }),
    ),
    ...events.filter(([, , kept]) => !kept).map(([, frame]) => bob(x(frame), "hollow")),
    s("rect", {
      x: Math.min(across - cell + 1.5, Math.max(1.5, here - cell / 2)),
      y: TOP,
      width: Math.max(0, cell - 3),
      height: PICTURE,
      class: "now",
    }),
    s("path", { d: `M${here} ${TOP}V${TOP + PICTURE}`, class: "now-line" }),
    bob(here, "filled"),
  );
  label(events, places);
  const slider = film.querySelector(".scrub");
  slider.setAttribute("aria-valuemin", 0);
  slider.setAttribute("aria-valuemax", state.clip.frames - 1);
  slider.setAttribute("aria-valuenow", state.frame);
  slider.setAttribute("aria-valuetext", frameWords(state.frame));
}

/** Events as kept and as the film suggests them: [[name, frame, kept, within]…]. */
function all() {
  const moving = ([name, frame]) => (held?.name === name ? held.frame : frame);
  const kept = eventsInOrder().map((event) => [event[0], moving(event), true]);
  const others = proposed().map((event) => [event[0], moving(event), false, event[2]]);
  return [...kept, ...others].sort((a, b) => a[1] - b[1]);
}

function words([name, frame, kept, within]) {
  return `${capital(name)} ${frame}${kept ? "" : ` ±${within}?`}`;
}

/** Label middles, kept apart, inside, and clear of the button at the end. */
function spreadOut(events) {
  const end = across - (proposed().length ? TAKE : 0);
  const wide = events.map((event) => words(event).length * LABEL + 18);
  const places = events.map(([, frame], n) =>
    Math.min(end - wide[n] / 2, Math.max(wide[n] / 2, x(frame))),
  );
  for (let n = 1; n < places.length; n++)
    places[n] = Math.max(places[n], places[n - 1] + (wide[n] + wide[n - 1]) / 2);
  for (let n = places.length - 1, most = end; n >= 0; n--) {
    places[n] = Math.min(places[n], most - wide[n] / 2);
    most = places[n] - wide[n] / 2;
  }
  return places;
}

function ticks() {
  let path = "";
  const every = state.clip.frames > 900 ? 25 : 5;
  for (let frame = 0; frame < state.clip.frames; frame += every)
    path += `M${x(frame)} ${TOP - 1}v${frame % (every * 5) ? -4 : -8}`;
  return path;
}

/** How much each picture differs from the one before, over the foot of the pictures. */
function curve() {
  const changes = state.motion?.changes ?? [];
  const most = Math.max(1e-6, ...changes.map(([, mean]) => mean));
  const foot = TOP + PICTURE;
  const points = changes.map(
    ([frame, mean]) => `${x(frame).toFixed(1)} ${(foot - 3 - (mean / most) * 34).toFixed(1)}`,
  );
  if (points.length < 2) return [];
  const path = `M${points.join("L")}`;
  return [s("path", { d: path, class: "curve casing" }), s("path", { d: path, class: "curve" })];
}

function bob(at, how) {
  return s("path", {
    transform: `translate(${at} ${TOP - 1})`,
    d: "M-6 -8h12l-1 5-5 10-5-10z",
    class: `bob ${how}`,
  });
}

function label(events, places) {
  const focused = labels.contains(document.activeElement) ? document.activeElement.dataset.keep : null;
  labels.replaceChildren(
    ...events.map((event, n) => {
      const [name, frame, kept, within] = event;
      const one = button(words(event), () => goTo(frame), {
        class: ["event", kept ? "" : "proposed", frame === state.frame ? "now" : ""].join(" ").trim(),
        data: { event: name, keep: name },
        "aria-current": frame === state.frame ? "true" : null,
        "aria-label": kept
          ? `${capital(name)}, frame ${frame}`
          : `${capital(name)} may be frame ${frame}, plus or minus ${within}`,
        title: "Click to go there, drag to move it",
      });
      one.style.left = `${places[n]}px`;
      one.addEventListener("pointerdown", (down) => grab(down, one, name, frame));
      return one;
    }),
  );
  if (proposed().length) {
    labels.append(
      button("Take as proposed", () => takeProposed(), {
        class: "take",
        title: "Y",
        data: { keep: "as proposed" },
      }),
    );
  }
  if (focused) labels.querySelector(`[data-keep="${CSS.escape(focused)}"]`)?.focus();
}

function grab(down, label, name, frame) {
  held = { name, frame, moved: false };
  const move = (event) => {
    if (!held.moved && Math.abs(event.clientX - down.clientX) < 5) return;
    held.moved = true;
    held.frame = frameAt(event.clientX);
    goTo(held.frame);
  };
  const done = () => {
    removeEventListener("pointermove", move);
    removeEventListener("pointerup", done);
    removeEventListener("pointercancel", done);
    const { moved, frame: to } = held;
    held = null;
    if (moved) nameEvents([[name, to]]);
    else draw();
  };
  addEventListener("pointermove", move);
  addEventListener("pointerup", done);
  addEventListener("pointercancel", done);
}

function listen(slider) {
  let scrubbing = false;
  slider.addEventListener("pointerdown", (event) => {
    scrubbing = true;
    slider.setPointerCapture(event.pointerId);
    goTo(frameAt(event.clientX));
  });
  slider.addEventListener("pointermove", (event) => scrubbing && goTo(frameAt(event.clientX)));
  for (const end of ["pointerup", "pointercancel"])
    slider.addEventListener(end, () => (scrubbing = false));
  slider.addEventListener("keydown", (event) => {
    const by = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1, PageDown: -10, PageUp: 10 }[
      event.key
    ];
    if (by) goTo(state.frame + by);
    else if (event.key === "Home") goTo(0);
    else if (event.key === "End") goTo(state.clip.frames - 1);
    else return;
    event.preventDefault();
    event.stopPropagation();
  });
}
