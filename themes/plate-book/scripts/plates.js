// The plates of a lesson: each is given the controls that its kind has.
import { lookCloser } from "./closer.js";
import { comparePair } from "./compare.js";
import { offerCopies } from "./copying.js";
import { showLines } from "./lines.js";
import { playLoop } from "./loops.js";
import { stepStrip } from "./steps.js";

const plates = [...document.querySelectorAll(".plate")];
for (const plate of plates) {
  unfold(plate);
  const looks = plate.querySelector(".looks");
  if (looks) {
    looks.hidden = false;
    showLines(plate, looks);
  }
  offerCopies(plate);
  if (plate.matches(".loop")) playLoop(plate);
  const compare = plate.querySelector(".compare");
  if (compare) comparePair(plate, compare);
  if (plate.matches(".strip")) stepStrip(plate);
}

/** Pictures between those that a strip names are put into their places; they are fetched when they are near. */
function unfold(plate) {
  for (const template of plate.querySelectorAll(".frames > template"))
    template.replaceWith(template.content);
}
lookCloser(plates, document.querySelector("dialog.closer"));
