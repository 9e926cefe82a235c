// The pictures of a strip, one in view: stepped by button, arrow key, rule, name and swipe.
import { exchangeWords } from "./words.js";
import { onSwipe } from "./swipes.js";
import { fetchAhead, whenSeen } from "./pictures.js";

const NEAR = "50% 0px"; // of the screen, above and below it
const PAUSE = 400; // ms after the last step until a screen reader is told: a held key is not read out

/** A strip's pictures in their places; `step` shows another one. */
export function stepStrip(plate) {
  const controls = plate.querySelector(".steps");
  const strip = new Strip(plate, controls);
  const all = plate.querySelector("[data-does=all]");
  controls.hidden = all.hidden = false;
  strip.show(0);
  plate.addEventListener("click", ({ target }) => {
    const { does, picture } = target.closest("button")?.dataset ?? {};
    if (does === "back") strip.step(-1);
    if (does === "on") strip.step(1);
    if (picture) strip.show(Number(picture));
    if (target === all) layOut(plate, all);
  });
  plate.addEventListener("keydown", (event) => onKey(event, strip));
  strip.rule.addEventListener("input", () => strip.show(strip.nearest(Number(strip.rule.value))));
  strip.rule.addEventListener("change", () => strip.settle());
  onSwipe(plate.querySelector(".frames"), (by) => strip.step(by));
  plate.classList.add("stepped");
}

/** All pictures at once, as without scripts, or one at a time again. */
function layOut(plate, all) {
  exchangeWords(all);
  plate.querySelector(".steps").hidden = !plate.classList.toggle("stepped");
}

function onKey(event, strip) {
  const last = strip.panels.length - 1;
  const to = { ArrowLeft: strip.at - 1, ArrowRight: strip.at + 1, Home: 0, End: last }[event.key];
  if (to === undefined || event.altKey || event.ctrlKey || event.metaKey || !strip.isStepped) return;
  event.preventDefault();
  strip.show(to);
}

class Strip {
  constructor(plate, controls) {
    this.plate = plate;
    this.panels = [...plate.querySelectorAll(".panel")];
    this.rule = controls.querySelector("input");
    this.along = this.rule.dataset.along.trim().split(" ").map(Number);
    this.names = [...controls.querySelectorAll("[data-picture]")];
    this.count = controls.querySelector(".count");
    this.status = controls.querySelector("[role=status]");
    this.ways = {
      back: controls.querySelector("[data-does=back]"),
      on: controls.querySelector("[data-does=on]"),
    };
    this.keys = [...plate.querySelectorAll(".keys > div")];
    this.numbers = [...plate.querySelectorAll(".keys .m, .caption .m")];
    this.at = -1;
    this.#fetchWhenNear();
  }

  /** A strip far down the page fetches nothing ahead before it comes near the screen. */
  #fetchWhenNear() {
    const watch = (entries) => {
      if (!entries.some((entry) => entry.isIntersecting)) return;
      watching.disconnect();
      fetchAhead(this.panels, this.at);
    };
    const watching = new IntersectionObserver(watch, { rootMargin: NEAR });
    watching.observe(this.plate);
  }

  get isStepped() {
    return this.plate.classList.contains("stepped");
  }

  step(by) {
    this.show(this.at + by);
  }

  /** The picture of this number, once it is there: lines never lie on another picture than their own. */
  async show(to) {
    const next = Math.min(Math.max(to, 0), this.panels.length - 1);
    if (next === this.at) return;
    const isFirst = this.at < 0;
    this.at = next;
    this.#tell(isFirst);
    if (!isFirst) fetchAhead(this.panels, next);
    if (!isFirst) await whenSeen(this.panels[next]);
    if (this.at !== next) return;
    for (const [position, panel] of this.panels.entries())
      panel.classList.toggle("away", position !== next);
    this.#point(this.panels[next]);
  }

  /** The picture nearest to a place on the rule. */
  nearest(place) {
    const far = this.along.map((along) => Math.abs(along - place));
    return far.indexOf(Math.min(...far));
  }

  /** The pointer on the rule comes to rest on the picture it shows. */
  settle() {
    this.rule.value = this.along[this.at];
  }

  #tell(isFirst) {
    const { panels, at } = this;
    this.count.textContent = this.count.dataset.says
      .replace("{number}", at + 1)
      .replace("{count}", panels.length);
    const said = panels[at].dataset.head;
    this.rule.ariaValueText = said;
    if (!this.rule.matches(":active")) this.settle();
    for (const name of this.names) {
      const isCurrent = Number(name.dataset.picture) === at;
      name.ariaCurrent = isCurrent ? "true" : null;
      if (isCurrent && !isFirst)
        name.parentElement.scrollLeft = name.offsetLeft - name.parentElement.offsetWidth / 2;
    }
    for (const [way, end] of [
      ["back", 0],
      ["on", panels.length - 1],
    ])
      this.ways[way].ariaDisabled = String(at === end);
    clearTimeout(this.timer);
    if (!isFirst && document.activeElement !== this.rule)
      this.timer = setTimeout(() => (this.status.textContent = said), PAUSE);
  }

  /** The key and the caption point out what is on this picture. */
  #point(panel) {
    const letters = new Set(
      [...panel.querySelectorAll("[data-letter]")].map((one) => one.dataset.letter),
    );
    for (const line of this.keys) {
      const own = [...line.querySelectorAll(".chip")].map((chip) => chip.textContent);
      line.classList.toggle("elsewhere", own.length > 0 && !own.some((letter) => letters.has(letter)));
    }
    const here = new Set(panel.dataset.measures.split(" "));
    for (const number of this.numbers) {
      const isHere = here.has(decodeURIComponent(number.hash.slice(3)));
      number.ariaCurrent = isHere ? "true" : null;
    }
  }
}
