// What all parts of the desk look at, and who hears when it changes. A part changes it and names the topic.
//
// | topic  | changed                                       |
// |--------|-----------------------------------------------|
// | site   | the site's lists of clips and lessons         |
// | clip   | the clip, its card, its events                |
// | doubts | what does not fit together about the clip     |
// | frame  | the picture shown                             |
// | view   | zoom, place, brightness of the frame          |
// | marks  | marks or tracks                               |
// | hand   | the mark in hand, where it is aimed           |
// | wanted | the marks that the lesson's figures ask for   |
// | mode   | what a click means: mark, room, compose       |
// | draft  | the drawing over the picture                  |
// | carry  | marks being carried                           |
// | suggest | what was suggested last                      |
// | plate  | the plate being composed                      |
// | proof  | the state of the proof                        |
// | kept   | something was saved, or could not be          |

/** What belongs to what is open, as it begins: all of it goes when another clip or view is opened. */
function opened() {
  return {
    clip: null, // as the server tells it
    card: null, // {card, version}
    pictures: null, // the clip's, as `pictures.js` fetches them
    lesson: null, // the lesson's name whose figures are being marked
    blocks: [], // [{kind, text}] of that lesson's figures
    wanted: [],
    figures: [],
    motion: null, // {changes}
    proposals: null, // {events: [{name, frame, within}], why}: events as the film suggests them
    doubts: [], // what does not fit together about the clip
    frame: 0,
    mode: "mark",
    hand: null, // the mark in hand
    aim: null, // {x, y} px of the picture: where keys move the cross
    turn: [], // marks that come in hand one after another, on every frame
    placedLast: null, // the mark placed last
    clicks: { mark: null, frame: null, at: [] }, // of the placing that may go on
    nudge: null, // that waits for what is on its way before it; nudges meanwhile are one with it
    byHand: {}, // mark -> frame -> [x, y], [x, y, u] or [x, y, u, "suggested"] as accepted
    suggested: {}, // mark -> frame -> [x, y, u]: questions, taken for marks by nothing
    suggesting: null, // {frame, missing: {mark: reason}, why}: what was answered last
    everywhere: null, // {done, of, stop}: pictures that are looked at, all of them
    tracks: {}, // mark -> frame -> [x, y, u, origin]
    tentative: {}, // as tracks: carried just now and not accepted yet
    carrying: null, // {marks, first, last, rows: {mark: rows}, gaps: {mark: gaps}, told, stop, done}
    drawing: null, // of the room: {what, frame, points: [[x, y]…]}
    camera: null, // how it moved, in words, once asked for
    draft: null,
    live: null, // {key, measures}: numbers of the mark in hand
    lessonText: null, // of the lesson that is written: as the server last told it
    good: false, // whether the last good page is shown instead of the proof
    page: "", // what the page that is shown was made from
  };
}

export const state = {
  ...opened(),
  site: null,
  proof: null,
  hold: false, // whether a mark stays in hand after a click
  kept: null, // {at: Date, file} or {fault}
};

const dropping = new Set();

/** Drops all that belongs to what was open. */
export function drop() {
  for (const call of dropping) call();
  Object.assign(state, opened());
}

/** `call()` is called before what is open is dropped: what runs for it is stopped. */
export function whenDropped(call) {
  dropping.add(call);
}

const listening = new Map();

export function on(topic, call) {
  for (const one of topic.split(" ")) {
    if (!listening.has(one)) listening.set(one, new Set());
    listening.get(one).add(call);
  }
}

export function tell(...topics) {
  const calls = new Set(topics.flatMap((topic) => [...(listening.get(topic) ?? [])]));
  for (const call of calls) call();
}

/** Forgets all listeners: the parts of a view that is left are not told any more. */
export function silence() {
  listening.clear();
}
