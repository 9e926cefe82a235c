// The proof for those who use the keyboard: from the cursor to the part of the page that it made, from part
// to part, from a part to its words. A page has no scripts of its own here; the desk hears its keys.

import { tellAloud } from "./dom.js";
import { partOfPlace } from "./proofplace.js";

const TEXTS = "h1, h2, h3, h4, p, li, dt, dd, blockquote, tr[id^=m-]";
const PARTS = `${TEXTS}, figure[id^=plate-]`;
const KEYS = "Up and down go from part to part, Enter to its words, F6 back to the text.";

/** back(): to the cursor in the text. go(part): to where a part is written. */
export function makeParts(page, { back, go }) {
  let held = null; // the part in focus, which nothing but the focus belongs to

  const to = (part) => {
    held = part;
    part.tabIndex = -1;
    part.addEventListener("blur", () => letGo(part), { once: true });
    part.focus({ preventScroll: true });
    part.scrollIntoView({ block: "nearest" });
  };
  const letGo = (part) => {
    part.removeAttribute("tabindex");
    if (held === part) held = null;
  };

  const keyed = (event) => {
    const inside = page.contentDocument;
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const by = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (event.key === "F6" || (event.key === "Escape" && held)) back();
    else if (held && event.target === held && event.key === "Enter") go(held);
    else if (held && event.target === held && by) {
      const all = partsOf(inside);
      const next = all[all.indexOf(held) + by];
      if (next) to(next);
    } else return;
    event.preventDefault();
  };

  return {
    keyed,
    /** Keeps the focus where it was, once the page was turned; whether it is in the page. */
    hold: () => {
      if (held?.isConnected) to(held);
      return Boolean(held?.isConnected);
    },
    /** To what the cursor at an offset of the text, in a line and maybe in a plate's block, made. */
    enter: (text, at, line, plate) => {
      const inside = page.contentDocument;
      const all = inside ? partsOf(inside) : [];
      const part =
        inside?.getElementById(`line-${line}`) ??
        (plate && inside?.getElementById(`plate-${plate}`)) ??
        all[
          partOfPlace(
            text,
            at,
            all.map((one) => (one.matches(TEXTS) ? one.textContent : "")),
          )
        ];
      if (!part) return tellAloud("The proof has nothing of this line yet.");
      to(part);
      return tellAloud(KEYS);
    },
  };
}

/** The parts to be read, in order; of parts within parts the innermost, and every plate. */
function partsOf(inside) {
  return [...inside.querySelectorAll(PARTS)].filter(
    (one) => one.checkVisibility() && (one.matches("figure") || !one.querySelector(TEXTS)),
  );
}
