// The plates of a lesson: each is given the controls that its kind has.
import { lookCloser } from "./closer.js";
import { comparePair } from "./compare.js";
import { showLines } from "./lines.js";
import { playLoop } from "./loops.js";
import { stepStrip } from "./steps.js";

const plates = [...document.querySelectorAll(".plate")];
for (const plate of plates) {
  const looks = plate.querySelector(".looks");
  if (looks) {
    looks.hidden = false;
    showLines(plate, looks);
  }
  if (plate.matches(".loop")) playLoop(plate);
  const compare = plate.querySelector(".compare");
  if (compare) comparePair(plate, compare);
  if (plate.matches(".strip")) stepStrip(plate);
}
lookCloser(plates, document.querySelector("dialog.closer"));
