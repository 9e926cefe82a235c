// The plates of a lesson: each is given the controls that its kind has.
import { playLoop } from "./loops.js";
import { stepStrip } from "./steps.js";

for (const plate of document.querySelectorAll(".plate")) {
  const looks = plate.querySelector(".looks");
  if (looks) looks.hidden = false;
  if (plate.matches(".loop")) playLoop(plate);
  if (plate.matches(".strip")) stepStrip(plate);
}
