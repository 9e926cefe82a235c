// Looking closer: a picture of the page, with its lines, as large as its source's own pixels.
import { fetchAhead } from "./pictures.js";
import { onFingers } from "./fingers.js";
import { Leafing } from "./leafing.js";

const STEP = 1.5; // how much larger or smaller at once
const LEAST = 3; // times the whole picture that even a small source is enlarged
const NARROW = 320; // CSS px: on a narrower picture tags would lie on each other; a low window shows a part of it
const PAN = 80; // CSS px an arrow key moves an enlarged picture

/** All pictures of the plates can be looked at closely, one after another. */
export function lookCloser(plates, dialog) {
  const panels = plates.flatMap((plate) => [...plate.querySelectorAll(".panel")]);
  const closer = new Closer(
    dialog,
    panels.filter((panel) => panel.querySelector(".pic > img")),
  );
  dialog.hidden = false;
  for (const plate of plates) {
    plate
      .querySelector("[data-does=closer]")
      ?.addEventListener("click", () => closer.open(shownOf(plate)));
    for (const panel of plate.querySelectorAll(".panel:has(.pic > img)")) {
      const picture = panel.querySelector(".pic");
      picture.classList.add("closable");
      picture.addEventListener("dblclick", () => closer.open(panel, 2));
      onFingers(picture, { onTwo: () => closer.open(panel, 2) });
    }
  }
}

/** The picture of a plate that is in view. */
function shownOf(plate) {
  return plate.querySelector(".panel:not(.away)");
}

function titleOf(panel) {
  const plate = panel.closest(".plate").querySelector(".plate-head b").textContent;
  const swing = panel.closest(".pair") && panel.querySelector(".panel-head b").textContent;
  return `${swing ? `${plate} · ${swing}` : plate}: ${panel.dataset.head}`;
}

class Closer {
  constructor(dialog, panels) {
    this.dialog = dialog;
    this.panels = panels;
    this.frame = dialog.querySelector(".glass-frame");
    this.glass = dialog.querySelector(".glass");
    this.head = dialog.querySelector("#closer-head");
    this.titles = panels.map(titleOf);
    this.leafing = new Leafing(dialog, panels, this.titles, (at) => at !== this.at && this.take(at));
    dialog.addEventListener("click", ({ target }) => this.act(target.closest("button")?.dataset.does));
    dialog.addEventListener("keydown", (event) => this.onKey(event));
    dialog.addEventListener("close", () => this.putBack());
    this.frame.addEventListener("wheel", (event) => this.onWheel(event), { passive: false });
    onFingers(this.frame, {
      onMove: (across, down) => this.frame.scrollBy(-across, -down),
      onPinch: (times, x, y) => this.enlarge(this.size * times, x, y),
      onDouble: (x, y) => this.enlarge(this.size > 1 ? 1 : this.most, x, y),
      onSwipe: (by) => this.size === 1 && this.step(by),
    });
    window.addEventListener("resize", () => this.at !== undefined && this.enlarge(this.size));
  }

  open(panel, size = 1) {
    if (this.dialog.open) return;
    this.dialog.showModal();
    this.take(this.panels.indexOf(panel));
    this.enlarge(size);
    this.frame.focus();
  }

  /** The picture itself moves here, since a copy would share its ids; a stand-in keeps its place. */
  take(at) {
    this.putBack();
    this.at = at;
    const panel = this.panels[at];
    this.picture = panel.querySelector(".pic");
    this.standIn = document.createElement("div");
    this.standIn.style.height = `${this.picture.getBoundingClientRect().height}px`; // not rounded
    this.picture.replaceWith(this.standIn);
    this.glass.append(this.picture);
    this.head.textContent = this.titles[at];
    this.leafing.tell(at);
    fetchAhead(this.panels, at);
    for (const [way, end] of [
      ["back", 0],
      ["on", this.panels.length - 1],
    ])
      this.dialog.querySelector(`[data-does=${way}]`).ariaDisabled = String(at === end);
    this.enlarge(1);
  }

  putBack() {
    if (this.at === undefined) return;
    this.image.sizes = this.sizes ?? this.image.sizes;
    this.standIn.replaceWith(this.picture);
    this.at = this.sizes = undefined;
  }

  step(by) {
    const to = this.at + by;
    if (to >= 0 && to < this.panels.length) this.take(to);
  }

  get image() {
    return this.picture.querySelector("img");
  }

  /** Width at which the whole picture is in sight, CSS px, as far as its tags can be read. */
  get fit() {
    const { clientWidth, clientHeight } = this.frame;
    const ratio = this.image.getAttribute("width") / this.image.getAttribute("height");
    return Math.max(1, Math.min(clientWidth, Math.max(NARROW, clientHeight * ratio)));
  }

  /** How many times that the source has pixels for. */
  get most() {
    return Math.max(LEAST, this.image.getAttribute("width") / this.fit);
  }

  /** size: times the whole picture; x, y: the point of the window that stays where it is. */
  enlarge(size, x, y) {
    const { frame, glass } = this;
    const box = frame.getBoundingClientRect();
    const [left, top] = [
      (x ?? box.left + box.width / 2) - box.left,
      (y ?? box.top + box.height / 2) - box.top,
    ];
    const before = glass.offsetWidth || 1;
    this.size = Math.min(Math.max(size, 1), this.most);
    const width = this.fit * this.size;
    const [across, down] = [
      frame.scrollLeft + left - glass.offsetLeft,
      frame.scrollTop + top - glass.offsetTop,
    ];
    glass.style.width = `${width}px`;
    frame.scrollTo(
      (across * width) / before - left + glass.offsetLeft,
      (down * width) / before - top + glass.offsetTop,
    );
    this.sizes ??= this.image.sizes;
    this.image.sizes = `${Math.round(width)}px`;
    const drawing = [...this.picture.querySelectorAll(".ov")].find((one) => one.offsetWidth > 0);
    const laidOut = drawing?.querySelector("[viewBox]")?.viewBox.baseVal.width ?? width;
    glass.style.setProperty("--zoom", width / laidOut);
  }

  act(does) {
    if (does === "close") this.dialog.close();
    if (does === "back") this.step(-1);
    if (does === "on") this.step(1);
    if (does === "larger") this.enlarge(this.size * STEP);
    if (does === "smaller") this.enlarge(this.size / STEP);
    if (does === "whole") this.enlarge(1);
  }

  onKey(event) {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const does = { "+": "larger", "=": "larger", "-": "smaller", 0: "whole" }[event.key];
    if (event.target === this.leafing.rule && event.key.startsWith("Arrow")) return;
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[
      event.key
    ];
    if (!does && !way) return;
    event.preventDefault();
    if (does) this.act(does);
    else if (this.size > 1 || way[1]) this.frame.scrollBy(PAN * way[0], PAN * way[1]);
    else this.step(way[0]);
  }

  onWheel(event) {
    event.preventDefault();
    this.enlarge(this.size * Math.exp(-event.deltaY / 400), event.clientX, event.clientY);
  }
}
