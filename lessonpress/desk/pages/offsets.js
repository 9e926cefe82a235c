// Lines and columns of a text, as mistakes have them (from 1, letters counted whole), and its offsets.

/** The offset of a line and column; past a line's end, its end. */
export function offsetOf(text, line, column = 1) {
  let start = 0;
  for (let number = 1; number < line; number++) {
    const end = text.indexOf("\n", start);
    if (end < 0) return text.length;
    start = end + 1;
  }
  let offset = start;
  for (let at = 1; at < column && offset < text.length && text[offset] !== "\n"; at++)
    offset += text.codePointAt(offset) > 0xffff ? 2 : 1;
  return offset;
}

/** {line, column} of an offset, both from 1. */
export function placeAt(text, offset) {
  const lines = text.slice(0, offset).split("\n");
  return { line: lines.length, column: [...lines.at(-1)].length + 1 };
}

/** Where slips lie in a text: [{start, end, problem}…] in order, those that lie over another left out. */
export function stretches(text, problems) {
  const found = problems
    .filter((problem) => problem.slip)
    .map((problem) => stretch(text, problem))
    .filter(Boolean)
    .sort((a, b) => a.start - b.start || a.end - b.end);
  return found.filter((one, n) => !n || one.start >= found[n - 1].end);
}

function stretch(text, problem) {
  let start = offsetOf(text, problem.line, problem.column);
  if (!text.startsWith(problem.slip, start)) {
    // a mistake at an empty place is that of its whole line
    const first = offsetOf(text, problem.line);
    const at = text.slice(first, text.indexOf("\n", first) >>> 0).indexOf(problem.slip);
    if (at < 0) return null;
    start = first + at;
  }
  return { start, end: start + problem.slip.length, problem };
}

/** The same once the text was changed: those behind the change are moved, those in it are gone. */
export function moved(found, was, now) {
  let same = 0;
  const most = Math.min(was.length, now.length);
  while (same < most && was[same] === now[same]) same++;
  let tail = 0;
  while (tail < most - same && was[was.length - 1 - tail] === now[now.length - 1 - tail]) tail++;
  const by = now.length - was.length;
  return found
    .filter((one) => one.end <= same || one.start >= was.length - tail)
    .map((one) => (one.end <= same ? one : { ...one, start: one.start + by, end: one.end + by }));
}
