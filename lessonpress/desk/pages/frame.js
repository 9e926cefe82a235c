// The frame: the picture, close or far, with marks and overlays on it; and where a click lands.
//
// view.zoom is CSS px per px of the picture; view.x, view.y is the picture's point at the frame's upper left
// corner. A pointer's place is read from where the browser says the picture stands, so what is clicked is
// what
// is marked, whatever has moved or scaled it.

import { h, tellAloud } from "./dom.js";
import { on, state, tell } from "./state.js";
import { frameWords, markWords } from "./words.js";
import { whenQuiet } from "./work.js";

export const MOST_ZOOM = 8;
const TAP = 6; // CSS px that a mouse may wander between press and release and still have clicked
const SMOOTH_UNTIL = 3; // from this zoom on, pixels are shown as they are

export const view = { zoom: 1, x: 0, y: 0, brightness: 1, contrast: 1, whole: true };
export let frameElement = null;
let picture = null;
let overlays = null;
let shown = -1;

/** press(point), drop(point), hover(point or null), settle(): what the desk does with the pointer. */
export function makeFrame([under, ...over], does) {
  picture = h("canvas", { class: "picture", "aria-hidden": "true" });
  overlays = h("div", { class: "overlays", "aria-hidden": "true" });
  frameElement = h(
    "div",
    {
      class: "frame",
      id: "frame",
      tabindex: "0",
      role: "application",
      "aria-roledescription": "picture with marks",
      "aria-describedby": "frame-help",
    },
    picture,
    under,
    overlays,
    ...over,
    h("p", { class: "absent", hidden: true }),
  );
  listen(does);
  on("frame clip", showPicture);
  on("frame hand marks clip mode", describe);
  on("draft", showOverlays);
  new ResizeObserver(() => (view.whole ? whole() : moved())).observe(frameElement);
  return frameElement;
}

function describe() {
  const aim = state.aim ? `cross at ${state.aim.x.toFixed(1)}, ${state.aim.y.toFixed(1)} px` : "";
  const words = [
    frameWords(state.frame),
    state.hand ? `${markWords(state.hand)} in hand` : "no mark in hand",
    aim,
  ];
  frameElement.setAttribute("aria-label", words.filter(Boolean).join("; "));
}

async function showPicture() {
  const { frame, clip } = state;
  const here = state.pictures.have(frame);
  if (here) {
    draw(here, frame);
    state.pictures.ahead(frame);
    return;
  }
  try {
    const come = await state.pictures.at(frame);
    if (state.frame === frame && state.clip === clip) draw(come, frame);
  } catch (error) {
    const absent = frameElement.querySelector(".absent");
    absent.textContent = error.message;
    absent.hidden = false;
  }
}

function draw(image, frame) {
  const [width, height] = state.clip.size;
  if (picture.width !== width || picture.height !== height) {
    picture.width = width;
    picture.height = height;
    whole();
  }
  picture.getContext("2d").drawImage(image, 0, 0);
  shown = frame;
  frameElement.dataset.shown = String(frame);
  frameElement.querySelector(".absent").hidden = true;
  tell("shown");
}

export function shownPicture() {
  return shown === state.frame ? picture : null;
}

/** The place on the picture, px, of a point of the window. */
export function toPicture(clientX, clientY) {
  const box = picture.getBoundingClientRect();
  return {
    x: ((clientX - box.left) * picture.width) / box.width,
    y: ((clientY - box.top) * picture.height) / box.height,
  };
}

/** The point of the frame, CSS px, where a place of the picture is shown. */
export function toFrame(x, y) {
  return { x: (x - view.x) * view.zoom, y: (y - view.y) * view.zoom };
}

export function isInPicture({ x, y }) {
  return x >= 0 && y >= 0 && x <= picture.width && y <= picture.height;
}

function fitting() {
  const [width, height] = state.clip.size;
  return Math.min(frameElement.clientWidth / width, frameElement.clientHeight / height);
}

/** Shows the whole picture. */
export function whole() {
  if (!state.clip || !frameElement.clientWidth) return;
  view.whole = true;
  view.zoom = fitting();
  moved();
}

/** Comes closer about a point of the frame, CSS px. */
export function zoomTo(zoom, at = middle()) {
  const least = Math.min(fitting(), 1);
  const to = Math.min(MOST_ZOOM, Math.max(least, zoom));
  const x = view.x + at.x / view.zoom;
  const y = view.y + at.y / view.zoom;
  view.whole = false;
  Object.assign(view, { zoom: to, x: x - at.x / to, y: y - at.y / to });
  moved();
}

/** Slides the picture by CSS px. */
export function slide(right, down) {
  view.whole = false;
  view.x -= right / view.zoom;
  view.y -= down / view.zoom;
  moved();
}

/** Comes closer about the cross by a factor. */
export function closer(factor) {
  const at = state.aim ? toFrame(state.aim.x, state.aim.y) : middle();
  const inside =
    at.x >= 0 && at.y >= 0 && at.x <= frameElement.clientWidth && at.y <= frameElement.clientHeight;
  zoomTo(view.zoom * factor, inside ? at : middle());
  follow();
  tellAloud(`Zoom ${view.zoom.toFixed(1)}`);
}

/** Slides so that the cross is seen. */
export function follow() {
  if (!state.aim || view.whole) return;
  const at = toFrame(state.aim.x, state.aim.y);
  const edge = 40;
  const past = (place, size) =>
    place < edge ? edge - place : place > size - edge ? size - edge - place : 0;
  const right = past(at.x, frameElement.clientWidth);
  const down = past(at.y, frameElement.clientHeight);
  if (right || down) slide(right, down);
}

function middle() {
  return { x: frameElement.clientWidth / 2, y: frameElement.clientHeight / 2 };
}

function moved() {
  const [width, height] = state.clip?.size ?? [1, 1];
  view.x = held(view.x, width, frameElement.clientWidth / view.zoom);
  view.y = held(view.y, height, frameElement.clientHeight / view.zoom);
  const style = picture.style;
  style.width = `${width * view.zoom}px`;
  style.height = `${height * view.zoom}px`;
  style.left = `${-view.x * view.zoom}px`;
  style.top = `${-view.y * view.zoom}px`;
  style.filter =
    view.brightness === 1 && view.contrast === 1
      ? ""
      : `brightness(${view.brightness}) contrast(${view.contrast})`;
  style.imageRendering = view.zoom >= SMOOTH_UNTIL ? "pixelated" : "auto";
  placeOverlays();
  tell("view");
}

/** A picture smaller than the frame stands in its middle; a larger one may not leave an edge bare. */
function held(from, size, room) {
  return room >= size ? (size - room) / 2 : Math.min(size - room, Math.max(0, from));
}

export function lighten({ brightness = 1, contrast = 1 }) {
  Object.assign(view, { brightness, contrast });
  moved();
}

function showOverlays() {
  const svg = state.draft?.svg ?? null;
  overlays.replaceChildren(...(svg ? [svg] : []));
  placeOverlays();
}

/** Until the drawing for this zoom has come, the last one stands in, scaled. */
function placeOverlays() {
  const [width, height] = state.clip?.size ?? [1, 1];
  Object.assign(overlays.style, {
    width: `${width * view.zoom}px`,
    height: `${height * view.zoom}px`,
    left: `${-view.x * view.zoom}px`,
    top: `${-view.y * view.zoom}px`,
  });
}

function listen(does) {
  const fingers = new Map();
  let pressing = null; // {id, x, y, sliding}
  let pinch = null;

  const at = (event) => toPicture(event.clientX, event.clientY);
  const let_go = () => {
    pressing = null;
    does.hover(null);
  };

  frameElement.addEventListener("pointerdown", (event) => {
    if (event.button > 1 || event.target.closest("button")) return;
    event.preventDefault();
    frameElement.focus({ preventScroll: true });
    frameElement.setPointerCapture(event.pointerId);
    fingers.set(event.pointerId, event);
    if (fingers.size === 2) {
      pinch = spanned([...fingers.values()]);
      pressing = null;
      does.hover(null);
      return;
    }
    const sliding = event.button === 1 || frameElement.classList.contains("sliding");
    pressing = {
      id: event.pointerId,
      x: event.clientX,
      y: event.clientY,
      sliding,
      grabbed: sliding ? null : does.press(at(event)),
    };
    if (!sliding) does.hover(at(event), event);
  });
  frameElement.addEventListener("pointermove", (event) => {
    const before = fingers.get(event.pointerId);
    if (before) fingers.set(event.pointerId, event);
    if (fingers.size === 2) {
      const now = spanned([...fingers.values()]);
      slide(now.x - pinch.x, now.y - pinch.y);
      const box = frameElement.getBoundingClientRect();
      if (pinch.far > 10)
        zoomTo((view.zoom * now.far) / pinch.far, { x: now.x - box.left, y: now.y - box.top });
      pinch = now;
    } else if (pressing?.sliding && before) {
      slide(event.clientX - before.clientX, event.clientY - before.clientY);
    } else if (!frameElement.classList.contains("sliding")) {
      does.hover(at(event), event);
    }
  });
  frameElement.addEventListener("pointerup", (event) => {
    fingers.delete(event.pointerId);
    if (pressing?.id === event.pointerId && !pressing.sliding) {
      // a steady mouse clicked where it was pressed; a finger or pen looks through the tester and lets go
      // there
      const still =
        event.pointerType === "mouse" &&
        Math.hypot(event.clientX - pressing.x, event.clientY - pressing.y) < TAP;
      const point = still ? toPicture(pressing.x, pressing.y) : at(event);
      if (isInPicture(point)) does.drop(point, event);
    }
    if (event.pointerType !== "mouse") does.hover(null);
    pressing = null;
    if (fingers.size < 2) pinch = null;
  });
  frameElement.addEventListener("pointercancel", (event) => {
    fingers.delete(event.pointerId);
    let_go();
  });
  frameElement.addEventListener("pointerleave", () => pressing || does.hover(null));
  frameElement.addEventListener(
    "wheel",
    (event) => {
      event.preventDefault();
      const box = frameElement.getBoundingClientRect();
      const lines = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 16 : 1;
      const pace = event.ctrlKey ? 0.01 : 0.0018;
      zoomTo(view.zoom * Math.exp(-event.deltaY * lines * pace), {
        x: event.clientX - box.left,
        y: event.clientY - box.top,
      });
    },
    { passive: false },
  );
  on(
    "view",
    whenQuiet(160, () => does.settle()),
  );
}

function spanned([one, other]) {
  return {
    x: (one.clientX + other.clientX) / 2,
    y: (one.clientY + other.clientY) / 2,
    far: Math.hypot(one.clientX - other.clientX, one.clientY - other.clientY),
  };
}
