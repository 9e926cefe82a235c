// What lies under the letters of a text field: a copy of its text, unseen, in which slips are underlined. A
// field cannot underline its own words, and anything but a field would have to be made readable and editable.

import { h } from "./dom.js";

/** box: holds the field and what lies under it. */
export function makeUnderlay(field) {
  const words = h("pre", { class: "words" });
  const under = h("div", { class: "under", "aria-hidden": "true" }, words);
  const box = h("div", { class: "text-box" }, under, field);
  const fit = () => {
    under.style.width = `${field.clientWidth}px`;
    under.style.height = `${field.clientHeight}px`;
    slide();
  };
  const slide = () => (words.style.transform = `translateY(${-field.scrollTop}px)`);
  field.addEventListener("scroll", slide);
  new ResizeObserver(fit).observe(field);
  const at = (offset) => boxAt(words, box, offset);
  return {
    box,
    draw: (found) => draw(words, field, found, fit),
    boxAt: at,
    show: (start, end) => show(field, start, end, at),
  };
}

/** Selects a stretch of the text and brings it into view. */
function show(field, start, end, at) {
  field.focus();
  field.setSelectionRange(start, end);
  const { top, bottom } = at(start);
  if (top < 0 || bottom > field.clientHeight)
    field.scrollTop = Math.max(0, field.scrollTop + top - field.clientHeight / 3);
}

/** found: [{start, end, problem}…] in order. */
function draw(words, field, found, fit) {
  const text = field.value;
  let from = 0;
  const parts = found.flatMap(({ start, end, problem }) => {
    const before = text.slice(from, start);
    from = end;
    return [before, h("mark", { class: `slip-words ${problem.severity}` }, text.slice(start, end))];
  });
  // a last empty line has its height in a field, and here only with a letter in it
  words.replaceChildren(...parts, `${text.slice(from)}\u200b`);
  fit();
}

/** Where the letter at an offset is shown: {left, top, bottom} px within the box. */
function boxAt(words, box, offset) {
  let left = offset;
  const walker = document.createTreeWalker(words, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const node = walker.currentNode;
    if (left <= node.length) {
      const range = document.createRange();
      range.setStart(node, left);
      const mark = h("span", {}, "\u200b");
      range.insertNode(mark);
      const seen = mark.getBoundingClientRect();
      mark.remove();
      words.normalize();
      const of = box.getBoundingClientRect();
      return { left: seen.left - of.left, top: seen.top - of.top, bottom: seen.bottom - of.top };
    }
    left -= node.length;
  }
  return { left: 0, top: 0, bottom: 0 };
}
