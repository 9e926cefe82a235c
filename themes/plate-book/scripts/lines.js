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
  for (const picture of pictures) lightFrom(picture, keys);
}

class KeyLine {
  constructor(line, pictures) {
    this.line = line;
    this.letters = [...line.querySelectorAll(".chip")].map((chip) => chip.textContent);
    const drawn = (picture) =>
      this.letters.flatMap((one) => [...picture.querySelectorAll(`[data-letter="${one}"]`)]);
    this.drawn = pictures.flatMap(drawn);
    this.pictures = pictures;
    for (const [event, isLit] of [
      ["pointerenter", true],
      ["pointerleave", false],
      ["focusin", true],
      ["focusout", false],
    ])
      line.addEventListener(event, () => this.light(isLit));
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
      const isShown = button.ariaPressed !== "true";
      button.ariaPressed = String(isShown);
      for (const one of this.drawn) one.classList.toggle("put-away", !isShown);
    });
    this.line.querySelector("dd").prepend(button);
  }

  /** Its own lines stay as they are, the others step back. */
  light(isLit) {
    for (const picture of this.pictures)
      picture.classList.toggle("lit", isLit && this.letters.length > 0);
    for (const one of this.drawn) one.classList.toggle("alight", isLit);
    this.line.classList.toggle("alight", isLit);
  }
}

/** A line that is touched on the picture lights up with its key. */
function lightFrom(picture, keys) {
  let lit = null;
  const change = (letter) => {
    const key = letter ? (keys.find((one) => one.letters.includes(letter)) ?? null) : null;
    if (key === lit) return;
    lit?.light(false);
    key?.light(true);
    lit = key;
  };
  picture.addEventListener("pointerover", ({ target }) =>
    change(target.closest("[data-letter]")?.dataset.letter),
  );
  picture.addEventListener("pointerleave", () => change(null));
}
