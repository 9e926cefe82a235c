// The plates of a lesson: each is given the controls that its kind has.
import { playLoop } from "./loops.js";

for (const plate of document.querySelectorAll(".plate.loop")) playLoop(plate);
