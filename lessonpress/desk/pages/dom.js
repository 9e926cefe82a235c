// Elements made in a line. Text is always text: nothing from the site is read as markup.

const TOLD = 4000; // ms that a message stays at the foot
const SVG = "http://www.w3.org/2000/svg";

/** An HTML element. props: `class`, `on…` listeners, `data`, properties that are no text, or attributes. */
export function h(tag, props = {}, ...children) {
  return filled(document.createElement(tag), props, children);
}

/** An SVG element, attributes only. */
export function s(tag, props = {}, ...children) {
  return filled(document.createElementNS(SVG, tag), props, children);
}

function filled(element, props, children) {
  for (const [name, value] of Object.entries(props)) {
    if (value === undefined || value === null || value === false) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (name === "data") Object.assign(element.dataset, value);
    else if (name === "value" && "value" in element) element.value = value;
    else element.setAttribute(name, value === true ? "" : value);
  }
  element.append(
    ...children
      .flat(Infinity)
      .filter((child) => child !== null && child !== undefined && child !== false),
  );
  return element;
}

/** A drawing that the server made, as elements of this page. */
export function drawn(text) {
  const named = text.includes("xmlns=") ? text : text.replace("<svg", `<svg xmlns="${SVG}"`);
  const read = new DOMParser().parseFromString(named, "image/svg+xml").documentElement;
  return read.localName === "svg" ? document.importNode(read, true) : null;
}

let pressed = null; // what a pointer holds down
const waiting = new Map(); // elements, and what is put into them once the pointer is let go
addEventListener("pointerdown", ({ target }) => (pressed = target), true);
for (const end of ["pointerup", "pointercancel"]) addEventListener(end, letGo, true);

/** What was held back is put in after the click that a pointer ends with. */
function letGo() {
  pressed = null;
  setTimeout(() => {
    const held = [...waiting]; // where a pointer is down again by now, it goes on waiting
    for (const [element, children] of held) refill(element, ...children);
  });
}

/**
 * Puts children in place of what an element holds; the focus stays on the element of the same `data-keep`.
 *
 * While a pointer is held down inside it waits: a button that is replaced before it is let go hears no click.
 */
export function refill(element, ...children) {
  waiting.delete(element);
  if (element.contains(pressed)) {
    waiting.set(element, children);
    return;
  }
  const held = element.contains(document.activeElement) ? document.activeElement.dataset.keep : null;
  const scrolled = element.scrollTop;
  element.replaceChildren(...children.flat(Infinity).filter((child) => child));
  element.scrollTop = scrolled;
  if (held)
    [...element.querySelectorAll("[data-keep]")].find((one) => one.dataset.keep === held)?.focus();
}

export function button(words, act, props = {}) {
  return h("button", { type: "button", ...props, onclick: act }, words);
}

/** Tells a screen reader what has happened, and shows it for a while at the desk's foot. */
export function tellAloud(words) {
  const told = document.getElementById("told");
  told.textContent = words;
  told.classList.add("fresh");
  clearTimeout(fading);
  fading = setTimeout(() => told.classList.remove("fresh"), TOLD);
}
let fading = 0;

/** The message belongs to a page that is left. */
export function untell() {
  document.getElementById("told").classList.remove("fresh");
}
