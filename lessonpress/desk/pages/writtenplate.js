// The plate of the block that is being written, drawn from what is typed: shown while the proof has none of
// it, since there are faults in the text or it is not pressed yet.

import { api } from "./api.js";
import { chartParts, number } from "./compose.js";
import { drawn, h, refill } from "./dom.js";
import { state } from "./state.js";
import { plural } from "./words.js";
import { whenQuiet } from "./work.js";

const REST = 200; // ms after the last change
const WIDE = 240; // CSS px of a picture
const WIDE_DRAWING = 480; // of a chart or a plan, which have no picture
const DRAWN = ["frame", "strip", "pair", "loop", "progress", "plan"];

/** text(): what is typed. */
export function makeWrittenPlate(text) {
  const place = h("section", {
    class: "written-plate",
    "aria-label": "Plate as it is written",
    hidden: true,
  });
  let block = null;

  const draw = async () => {
    const asked = block;
    if (!asked) return;
    const lines = text()
      .split("\n")
      .slice(asked.line, asked.last_line - 1);
    const clip = state.lessonText.clip ?? state.site.clips.find((one) => one.has_card)?.name;
    const width = ["progress", "plan"].includes(asked.kind) ? WIDE_DRAWING : WIDE;
    const body = { clip, kind: asked.kind, text: lines.join("\n"), width, crop: "own" };
    const answer = clip ? await api.draft(body).catch(() => null) : null;
    if (block !== asked || !place.isConnected) return;
    place.hidden = !answer?.panels.length && !answer?.drawing;
    if (!place.hidden) fill(place, answer);
  };
  const drawSoon = whenQuiet(REST, draw);

  return {
    place,
    forget: drawSoon.forget,
    /** given: the block to show; null: none. */
    show: (given) => {
      const shown = given && DRAWN.includes(given.kind) ? given : null;
      if (!shown && !block) return;
      block = shown;
      if (block) drawSoon();
      else place.hidden = true;
    },
  };
}

function fill(place, { panels, measures, drawing, points, loop, alt }) {
  const pictures = { class: "pictures", tabindex: "0", role: "group", "aria-label": "Its pictures" };
  const own = points.length ? [] : measures; // a chart's points say them
  refill(
    place,
    h("h2", {}, "As it is written"),
    loop ? h("p", {}, loopWords(loop)) : null,
    panels.length ? h("div", pictures, panels.map(picture)) : null,
    drawing ? chartParts(drawn(drawing), points, alt) : null,
    h(
      "ul",
      {},
      own.map((one) => h("li", {}, `${one.words}: `, number(one))),
    ),
  );
}

/** "A loop of 31 pictures, 2.1 s a round, 4 times slower than life; its first, middle and last." */
function loopWords({ pictures, seconds, slowed }) {
  const slower = slowed === 1 ? "as fast as life" : `${slowed} times slower than life`;
  const length = `A loop of ${plural(pictures, "picture")}, ${seconds} s a round, ${slower}`;
  return `${length}; its first, middle and last.`;
}

/** A panel: its part of the picture under its drawing. */
function picture(panel) {
  const [left, top, right, bottom] = panel.crop;
  const [wide, high] = [right - left, bottom - top];
  const image = h("img", { src: panel.picture, alt: panel.alt });
  const from = panel.mirrored ? panel.size[0] - right : left;
  Object.assign(image.style, {
    width: `${(100 * panel.size[0]) / wide}%`,
    left: `${(-100 * from) / wide}%`,
    top: `${(-100 * top) / high}%`,
    transform: panel.mirrored ? "scaleX(-1)" : "",
  });
  const cut = h("div", { class: "cut" }, image, drawn(panel.svg));
  Object.assign(cut.style, { width: `${WIDE}px`, aspectRatio: `${wide} / ${high}` });
  return h("figure", {}, cut, h("figcaption", {}, panel.label));
}
