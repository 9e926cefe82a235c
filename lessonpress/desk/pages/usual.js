// The site's usual plates laid out for a clip in one act: events as proposed, a lesson begun, its marks
// suggested. What is left is to look, to correct and to write.

import { api } from "./api.js";
import { ask, askLine } from "./ask.js";
import { nameEvents, proposed } from "./clip.js";
import { slug } from "./compose.js";
import { tellAloud } from "./dom.js";
import { saved } from "./saving.js";
import { state } from "./state.js";

/** Whether the site keeps overlays that it always draws. */
export function hasUsual() {
  return Object.keys(state.site.sets).length > 0;
}

export async function layOut() {
  if (!hasUsual())
    return tellAloud("Nothing is usual here yet: write what you always draw under sets in site.yaml.");
  const clip = state.clip.name;
  const title = await askLine("The usual plates", "The lesson’s title", {
    value: state.clip.title,
    hint: "Events that are only proposed are taken as they are; look at them afterwards.",
    yes: "Lay them out",
  });
  if (!title) return undefined;
  const events = proposed();
  if (events.length) await nameEvents(events.map(([name, frame]) => [name, frame]));
  await saved();
  tellAloud("Laying out the plates and looking for the body.");
  try {
    const made = await api.usual(clip, { name: slug(title), title });
    if (state.clip?.name === clip) location.hash = `#/clip/${clip}?lesson=${made.name}`;
  } catch (error) {
    await ask("The usual plates were not laid out", error.whole, [["Close", null, true]]);
  }
  return undefined;
}
