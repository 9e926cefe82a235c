// Which place of a lesson's text a place of its page is made from, found by the words around it: a page has
// no trace of lines, which would make it another page with every line that is typed.

const NEAR = 7; // words to either side that are compared
const LEAST = 0.5; // share of them that has to be the same
const BRACE = "{}"; // in the place of the number that a brace prints

/** The words of a text with their offsets; a brace is one, marks of Markdown are none. */
function wordsOf(text) {
  const found = [];
  const each = /(?<brace>\{[^{}\n]*\})|\]\((?<link>[^()\s]*)\)|(?<word>[\p{L}\p{N}]+)/gu;
  for (const { groups, index, 0: whole } of text.matchAll(each)) {
    if (groups.brace) found.push({ word: BRACE, at: index, end: index + whole.length });
    else if (groups.word)
      found.push({ word: groups.word.toLowerCase(), at: index, end: index + whole.length });
  }
  return found;
}

/**
 * The offsets {start, end} of the word of the text that was clicked on a page; null where none is like it.
 * page: the text of the part that was clicked. at: the offset in it. share: how far down the page that is.
 */
export function placeOfClick(text, page, at, share = 0) {
  const source = wordsOf(text);
  const shown = wordsOf(page);
  if (!source.length || !shown.length) return null;
  const after = shown.findIndex((one) => one.end > at);
  const here = after < 0 ? shown.length - 1 : after;
  const near = new Set(around(shown, here).map((one) => one.word));
  let best = null;
  for (let n = 0; n < source.length; n++) {
    const likeness = like(source[n].word, shown[here].word) * 2.5 + alike(source, n, near);
    const off = Math.abs(source[n].at / text.length - share);
    if (!best || likeness > best.likeness || (likeness === best.likeness && off < best.off))
      best = { likeness, off, n };
  }
  if (best.likeness < Math.max(1, near.size * LEAST)) return null;
  return { start: source[best.n].at, end: source[best.n].end };
}

function around(words, n) {
  return [...words.slice(Math.max(0, n - NEAR), n), ...words.slice(n + 1, n + 1 + NEAR)];
}

function alike(source, n, near) {
  const seen = new Set(around(source, n).map((one) => one.word));
  return [...seen].filter((word) => near.has(word)).length;
}

/** Whether a word of the page may come of one of the text: a brace prints numbers. */
function like(written, shown) {
  return written === shown || (written === BRACE && /^\p{N}/u.test(shown)) ? 1 : 0;
}

/** The line that gives a number its id; a strip's numbers have the event behind it. */
export function lineOfId(text, row) {
  const lines = text.split("\n");
  const given = (line) => /^\s*(?:- )?as:\s*(\S+)/.exec(line)?.[1];
  const fits = (line) => given(line) && (row === given(line) || row.startsWith(`${given(line)}.`));
  const best = lines.findIndex((line) => given(line) === row);
  return (best < 0 ? lines.findIndex(fits) : best) + 1;
}

/** The block {line, last_line, plate} in which a line lies, undefined outside of figures. */
export function figureAt(blocks, line) {
  return blocks.findLast((one) => one.plate && one.line <= line && line <= one.last_line);
}
