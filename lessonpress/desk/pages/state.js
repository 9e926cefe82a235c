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
// | plate  | the plate being composed                      |
// | proof  | the state of the proof                        |
// | kept   | something was saved, or could not be          |

export const state = {
  site: null,
  clip: null, // as the server tells it
  card: null, // {card, version}
  lesson: null, // the lesson's name whose figures are being marked
  frame: 0,
  hand: null, // the mark in hand
  hold: false, // whether it stays in hand after a click
  aim: null, // {x, y} px of the picture: where keys move the cross
  mode: "mark",
  wanted: [],
  figures: [],
  motion: null, // {changes, proposals}
  doubts: [], // what does not fit together about the clip
  draft: null,
  proof: null,
  kept: null, // {at: Date, file} or {fault}
};

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
