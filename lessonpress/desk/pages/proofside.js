// The proof beside the text: what state it is in, its page, the plate of the block that is written in, and
// the ways between a place of the page and its line.

import { api } from "./api.js";
import { button, h, refill } from "./dom.js";
import { makeParts } from "./proofparts.js";
import { figureAt, lineOfId, placeOfClick } from "./proofplace.js";
import { state } from "./state.js";
import { turnInPlace } from "./turnpage.js";
import { atWork } from "./work.js";
import { clockTime, plural } from "./words.js";
import { makeWrittenPlate } from "./writtenplate.js";

// clicks on these do something of their own
const ACTS = "a:not([href^='#']), button, input, label, summary, video, select";

/**
 * faulty(): whether the text has errors. letter(): writes it as one. text(): what is typed.
 * go(line or {start, end}): into the text. back(): to the cursor in it.
 */
export function makeProofSide({ faulty, letter, go, text, back }) {
  const page = h("iframe", { class: "proof", title: "Proof", sandbox: "allow-same-origin" });
  const stand = h("div", { class: "stand" });
  const written = makeWrittenPlate(text);
  const shown = { plate: null, line: 1, block: null };

  const onClick = (event) => clicked(event, { page, text, go });
  const parts = makeParts(page, { back, go: (part) => goFrom(part, { page, text, go }) });
  // a page whose pictures are still to come is heard too; the same listener is added to a page only once
  const hear = () => {
    page.contentDocument?.addEventListener("click", onClick);
    page.contentDocument?.addEventListener("keydown", parts.keyed);
  };

  /** The plate in the proof, or as it is written where the proof has none of it. */
  const showBoth = ({ still = false } = {}) => {
    hear();
    const there = showPlate(page, shown, { still: still || parts.hold() });
    written.show(there ? null : shown.block);
  };

  const draw = () => {
    const { proof } = state;
    if (!proof || !state.lessonText) return;
    const waits = isWaiting(proof);
    const path = `lessons/${state.lessonText.name}/index.html`;
    refill(stand, standing(proof, waits, path, { faulty, letter, show }));
    const errors = proof.problems.filter((one) => one.severity === "error").map((one) => one.told);
    const stamp = JSON.stringify([state.good, proof.pages[state.lessonText.name], errors]);
    if (!waits && proof.state !== "none" && state.page !== stamp) {
      state.page = stamp;
      turn(page, path, proof.number, () => showBoth());
    }
  };
  const show = (last) => {
    state.good = last;
    draw();
  };

  /** Shows the plate of the block around a line of the text, once: the reader may go on from there. */
  const follow = (blocks, line, { still = false } = {}) => {
    const block = figureAt(blocks, line) ?? null;
    const other = block?.plate !== shown.block?.plate;
    Object.assign(shown, { line, block, plate: block?.plate ?? null });
    if (other) showBoth({ still });
    else if (!written.place.hidden) written.show(block);
  };

  page.addEventListener("load", hear);
  /** To the part of the page that the line of the cursor made. */
  const enter = (at, line) => {
    hear();
    parts.enter(text(), at, line, figureAt(state.lessonText.blocks, line)?.plate);
  };
  return { page, stand, written: written.place, draw, follow, enter, forget: written.forget };
}

/** What is pressed now is this lesson. */
function isWaiting(proof) {
  const others = proof.pending.length && !proof.pending.includes(state.lessonText.name);
  return !others && (proof.state === "pressing" || proof.pending.length > 0);
}

function standing(proof, waits, path, { faulty, letter, show }) {
  const words = waits
    ? "Pressing"
    : proof.state === "none"
      ? "Not pressed yet"
      : faulty()
        ? "Faults"
        : "Pressed";
  const which = (last, said) =>
    h(
      "label",
      {},
      h("input", {
        type: "radio",
        name: "which",
        checked: state.good === last,
        onchange: () => show(last),
      }),
      h("span", {}, said),
    );
  return [
    h("p", { role: "status" }, h("b", {}, words), waits ? "" : ` ${pressedWords(proof)}`),
    h("div", { class: "switches" }, which(false, "Proof"), which(true, "Last good page")),
    button("Press now", () => api.press(), { data: { keep: "press" } }),
    button("Letter", letter, { data: { keep: "letter" } }),
    h(
      "a",
      { href: `/${state.good ? "good" : "proof"}/${path}`, target: "_blank", rel: "noopener" },
      "Open alone",
    ),
  ];
}

/** "at 09:41:07; two warnings in the site; three lessons still to come" */
function pressedWords(proof) {
  const count = (severity) => proof.problems.filter((one) => one.severity === severity).length;
  const [errors, warnings] = [count("error"), count("warning")];
  if (proof.state === "faulty" && !errors) return proof.summary; // the press could not be done at all
  const found = [
    errors ? plural(errors, "error") : "",
    warnings ? plural(warnings, "warning") : "",
  ].filter(Boolean);
  return [
    proof.pressed_at ? `at ${clockTime(new Date(proof.pressed_at))}` : "",
    found.length ? `${found.join(" and ")} in the site` : "",
    proof.pending.length ? `${plural(proof.pending.length, "other lesson")} still to come` : "",
  ]
    .filter(Boolean)
    .join("; ");
}

/** Shows the page anew, where the reader was: in its place where it can be, else loaded. */
async function turn(page, path, number, then) {
  const address = `/${state.good ? "good" : "proof"}/${path}?n=${number}`;
  turning = address;
  if (!stands(page, address)) return load(page, address, then);
  const answer = await atWork(() => fetch(address).then((one) => (one.ok ? one.text() : null))).catch(
    () => null,
  );
  if (turning !== address) return undefined; // a newer one is on its way
  unmark(page.contentDocument);
  return answer && turnInPlace(page.contentDocument, answer) ? then() : load(page, address, then);
}

let turning = "";

/** Whether the page at the address, as it was at some time, is there in whole. */
function stands(page, address) {
  const path = page.contentDocument?.location.pathname;
  return !("loading" in page.dataset) && path === address.split("?")[0];
}

function load(page, address, then) {
  let scrolled = 0;
  try {
    scrolled = page.contentWindow.scrollY;
  } catch {
    // the first page has nothing to scroll
  }
  page.dataset.loading = "";
  page.addEventListener(
    "load",
    () => {
      delete page.dataset.loading;
      page.contentWindow.scrollTo(0, scrolled);
      if (!scrolled) page.contentDocument.querySelector(".faulty")?.scrollIntoView({ block: "center" });
      then();
    },
    { once: true },
  );
  if (page.src) page.contentWindow.location.replace(address);
  else page.src = address;
}

function unmark(inside) {
  for (const one of inside.querySelectorAll("[data-written]")) {
    Object.assign(one.style, { outline: "", outlineOffset: "" });
    if (!one.getAttribute("style")) one.removeAttribute("style");
    delete one.dataset.written;
  }
}

/** Brings a plate into view and marks it, in a page of faults the line; whether the plate is there. */
function showPlate(page, { plate, line }, { still = false } = {}) {
  const inside = page.contentDocument;
  if (!inside) return false;
  unmark(inside);
  if (!plate) return false;
  const part = inside.getElementById(`plate-${plate}`) ?? inside.getElementById(`line-${line}`);
  if (!part) return false;
  part.dataset.written = "";
  part.style.outline = "3px solid var(--stamp)";
  part.style.outlineOffset = part.matches("figure") ? "6px" : "0";
  // one who looks at the page keeps it where it is
  if (!still) part.scrollIntoView({ block: part.offsetHeight > page.clientHeight ? "start" : "center" });
  return part.matches("figure");
}

function clicked(event, { page, text, go }) {
  const { target } = event;
  if (target.closest(ACTS) || !page.contentWindow.getSelection().isCollapsed) return;
  return goFrom(target, { page, text, go }, event);
}

/** From a part of the page to where it is written. event: of a click, which says the very word. */
function goFrom(target, { page, text, go }, event = null) {
  const line = target.closest("[id^=line-]");
  if (line) return go(Number(line.id.slice(5)));
  const found = byWords(target, page, text(), event);
  const row = target.closest("tr[id^=m-]");
  const measured = row && lineOfId(text(), row.id.slice(2));
  if (measured) return go(measured);
  const plate = target.closest("figure[id^=plate-]");
  const block = plate && state.lessonText.blocks.find((one) => `plate-${one.plate}` === plate.id);
  if (block && !target.closest(".caption")) return go(block.line);
  return found ? go(found) : block ? go(block.line) : undefined;
}

function byWords(target, page, text, event) {
  const inside = page.contentDocument;
  const part = target.closest("p, li, h1, h2, h3, h4, td, th, dd, dt, blockquote, caption");
  if (!part) return null;
  const { top } = part.getBoundingClientRect();
  const share = (top + page.contentWindow.scrollY) / inside.documentElement.scrollHeight;
  return placeOfClick(text, part.textContent, event ? offsetIn(part, inside, event) : 0, share);
}

/** The offset of a click in the text of a part. */
function offsetIn(part, inside, { clientX, clientY }) {
  const at = inside.caretPositionFromPoint
    ? inside.caretPositionFromPoint(clientX, clientY)
    : inside.caretRangeFromPoint?.(clientX, clientY);
  const node = at?.offsetNode ?? at?.startContainer;
  if (!node || !part.contains(node)) return 0;
  const before = inside.createRange();
  before.setStart(part, 0);
  before.setEnd(node, at.offset ?? at.startOffset);
  return before.toString().length;
}
