// Which place of a lesson's text a place of its page is made from, found by the words around it: a page has
// no trace of lines, which would make it another page with every line that is typed.

const NEAR = 7; // words to either side that are compared
const LEAST = 0.5; // share of a paragraph's words that has to be the same
const SHOWN = 0.3; // and of the words shown, of which numbers bring some along
const BEGINS = /\n\s*(?:\n|[-*+|#>]|\d+[.)]|`{3}|~{3})/;
const KEY = /^[\w-]+:(?:\s|$)/;
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
  const shown = wordsOf(page);
  const source = shown.length ? likest(text, shown, share * text.length) : null;
  if (!source) return null;
  const after = shown.findIndex((one) => one.end > at);
  const here = after < 0 ? shown.length - 1 : after;
  const near = new Set(around(shown, here).map((one) => one.word));
  const likeness = source.map(
    (one, n) => like(one.word, shown[here].word) * 2.5 + alike(source, n, near),
  );
  const best = source[likeness.indexOf(Math.max(...likeness))];
  return { start: best.at, end: best.end };
}

/** The words of the paragraph or block that has most of the words shown, the nearest one to `where`. */
function likest(text, shown, where) {
  const said = new Set(shown.map((one) => one.word));
  let best = null;
  for (const words of paragraphs(text)) {
    const own = new Set(words.map((one) => one.word));
    const likeness = likenessOf(own, said);
    if (!likeness) continue;
    const off = Math.abs(words[0].at - where);
    if (!best || likeness > best.likeness || (likeness === best.likeness && off < best.off))
      best = { words, likeness, off };
  }
  return best?.words ?? null;
}

/**
 * Which part of a page comes of the paragraph around an offset of the text; -1 where none is like it.
 * parts: the texts of the parts, in order.
 */
export function partOfPlace(text, at, parts) {
  const all = paragraphs(text);
  const line = text.indexOf("\n", at); // its marks of Markdown may come before its words
  const here = all.findLast((words) => line < 0 || words[0].at < line) ?? all[0] ?? [];
  const own = new Set(here.map((one) => one.word));
  let best = { part: -1, likeness: 0, off: 1 };
  for (const [part, words] of parts.entries()) {
    const said = new Set(wordsOf(words).map((one) => one.word));
    const likeness = likenessOf(own, said);
    const off = Math.abs(part / parts.length - at / text.length);
    if (likeness > best.likeness || (likeness && likeness === best.likeness && off < best.off))
      best = { part, likeness, off };
  }
  return best.part;
}

/** How like a paragraph and what is shown of it are, by the words of each; 0 for strangers. */
function likenessOf(own, shown) {
  const said = new Set([...shown].filter((word) => !/^\p{N}/u.test(word)));
  const both = [...own].filter((word) => said.has(word)).length;
  return both && both >= LEAST * own.size && both >= SHOWN * said.size
    ? both / (own.size + said.size)
    : 0;
}

/** The words of each paragraph of a text, each item of a list, each value of a block. */
function paragraphs(text) {
  const found = [];
  let before = 0;
  for (const one of wordsOf(text)) {
    const first = text.slice(before, one.at).includes("\n");
    // with the number and the dot of an item
    const begins =
      first && (BEGINS.test(text.slice(before, one.end + 1)) || KEY.test(text.slice(one.at)));
    if (!found.length || begins) found.push([]);
    found.at(-1).push(one);
    before = one.end;
  }
  return found;
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
