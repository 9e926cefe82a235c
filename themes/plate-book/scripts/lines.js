// The lines on a plate's pictures: hidden and shown as a whole and one by one, and lit up by their key.
import { exchangeWords } from "./words.js";

/** Gives each line of the key a button, and the plate one for all lines. */
export function showLines(plate, looks) {
  const pictures = [...plate.querySelectorAll(".pic")];
  const bare = looks.querySelector("[data-does=bare]");
  bare.addEventListener("click", () => {
    exchangeWords(bare);
    for (const picture of pictures) picture.classList.toggle("bare");
  });
  const keys = [...plate.querySelectorAll(".keys > div")].map((line) => new KeyLine(line, pictures));
  for (const key of keys) if (key.letters.length) key.addButton(looks.dataset.line);
  lightUp(pictures, keys);
}

class KeyLine {
  constructor(line, pictures) {
    this.line = line;
    this.letters = [...line.querySelectorAll(".chip")].map((chip) => chip.textContent);
    const drawn = (picture) =>
      this.letters.flatMap((one) => [...picture.querySelectorAll(`[data-letter="${one}"]`)]);
    this.drawn = pictures.flatMap(drawn);
    this.pictures = pictures;
    this.isShown = true;
  }

  addButton(words) {
    const button = document.createElement("button");
    Object.assign(button, {
      type: "button",
      className: "drawn",
      textContent: words,
      ariaPressed: "true",
    });
    button.ariaLabel = `${words}: ${this.letters.join(", ")}`;
    button.addEventListener("click", () => {
      this.isShown = !this.isShown;
      button.ariaPressed = String(this.isShown);
      for (const one of this.drawn) one.classList.toggle("put-away", !this.isShown);
      this.light(this.isShown);
    });
    this.line.querySelector("dd").prepend(button);
  }

  /** Its own lines stay as they are, the others step back. */
  light(isAsked) {
    const isLit = isAsked && this.isShown && this.letters.length > 0;
    for (const picture of this.pictures) picture.classList.toggle("lit", isLit);
    for (const one of this.drawn) one.classList.toggle("alight", isLit);
    this.line.classList.toggle("alight", isLit);
  }
}

/** One line and its key at a time: while the mouse or the focus is on either; after a tap until the next touch. */
function lightUp(pictures, keys) {
  const places = [...pictures, ...keys.map((key) => key.line)];
  let lit = null;
  const change = (key) => {
    if (key === lit) return;
    lit?.light(false);
    key?.light(true);
    lit = key;
  };
  const light = ({ target }) => {
    const letter = target.closest("[data-letter]")?.dataset.letter;
    change(keys.find((key) => key.line.contains(target) || key.letters.includes(letter)) ?? null);
  };
  for (const place of places) {
    for (const event of ["pointerover", "focusin", "click"]) place.addEventListener(event, light);
    for (const event of ["pointerleave", "focusout"]) place.addEventListener(event, () => change(null));
  }
  document.addEventListener("pointerdown", ({ target }) => {
    if (!places.some((place) => place.contains(target))) change(null);
  });
}
