// A loop: played and paused, one picture back and on, at its printed pace, half or a quarter of it.
import { exchangeWords } from "./words.js";

/** Puts our controls in the place of the browser's; nothing plays until the reader asks for it. */
export function playLoop(plate) {
  const film = plate.querySelector("video");
  const controls = plate.querySelector(".loop-controls");
  const starts = startsOf(controls.dataset.shown.trim().split(" ").map(Number));
  const play = controls.querySelector("[data-does=play]");
  film.controls = false;
  controls.hidden = false;
  controls.addEventListener("click", ({ target }) => {
    const { does, pace } = target.closest("button")?.dataset ?? {};
    if (does === "play") playOrPause(film);
    if (does === "back") step(film, starts, -1);
    if (does === "on") step(film, starts, 1);
    if (pace) choosePace(film, controls, pace);
  });
  film.addEventListener("click", () => play.click());
  for (const change of ["play", "pause"]) film.addEventListener(change, () => exchangeWords(play));
}

/** When each picture comes up, s of the film, and when the last one ends. */
export function startsOf(shown) {
  const starts = [0];
  for (const seconds of shown) starts.push(starts.at(-1) + seconds);
  return starts;
}

/** The picture that is shown at a time of the film; the last one at its end. */
export function pictureAt(seconds, starts) {
  const next = starts.findIndex((start) => start > seconds + 0.0005);
  return (next < 0 ? starts.length - 1 : next) - 1;
}

async function playOrPause(film) {
  await whole(film);
  film[film.paused ? "play" : "pause"]();
}

async function step(film, starts, by) {
  film.pause();
  await whole(film);
  const count = starts.length - 1;
  const to = (pictureAt(film.currentTime, starts) + by + count) % count;
  film.currentTime = (starts[to] + starts[to + 1]) / 2; // its middle, which no rounding takes to a neighbour
}

/** The film is fetched whole before its first use: it is short, and then needs neither network nor ranges. */
async function whole(film) {
  if (film.src) return;
  const source = film.querySelector("source");
  const fetched = await fetch(source.src);
  if (!fetched.ok || film.src) return;
  film.src = URL.createObjectURL(await fetched.blob());
  await new Promise((resolve) => film.addEventListener("loadeddata", resolve, { once: true }));
}

function choosePace(film, controls, pace) {
  film.defaultPlaybackRate = film.playbackRate = Number(pace); // the default outlives the loading
  for (const button of controls.querySelectorAll("[data-pace]"))
    button.ariaPressed = String(button.dataset.pace === pace);
}
