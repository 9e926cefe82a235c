// Names of clips and lessons, and those that are put away: changed with all that names them, and not against
// it.

import { api } from "./api.js";
import { ask, askLine } from "./ask.js";
import { slug } from "./compose.js";
import { tellAloud } from "./dom.js";
import { clipTitle, plural } from "./words.js";

/** Does what may be refused, and says the reason. */
async function tried(refusal, doing) {
  try {
    await doing();
  } catch (error) {
    await ask(refusal, error.whole ?? error.message, [["Close", null, true]]);
  }
}

export async function renameLesson(name) {
  const to = await askLine("Rename the lesson", "Its name, the last part of its address", {
    value: name,
    hint: "Links in other texts go along, and readers who come to its old address are led on.",
    yes: "Rename it",
  });
  if (!to || slug(to) === name) return;
  await tried("The lesson was not renamed", async () => {
    const { changed } = await api.renameLesson(name, slug(to));
    tellAloud(
      `Renamed${changed.length ? `, with its links in ${plural(changed.length, "other text")}` : ""}.`,
    );
  });
}

export async function renameClip({ name, lessons }) {
  const to = await askLine("Rename the clip", "The name of its folder", {
    value: name,
    hint: lessons.length
      ? `${plural(lessons.length, "lesson")} that show it go along. Readers see the title on its card.`
      : "Readers see the title on its card.",
    yes: "Rename it",
  });
  if (!to || slug(to) === name) return;
  await tried("The clip was not renamed", async () => {
    const { changed } = await api.renameClip(name, slug(to));
    tellAloud(
      `Renamed${changed.length ? `, with ${plural(changed.length, "file")} that named it` : ""}.`,
    );
  });
}

export async function putClipAway({ name }) {
  const sure = await ask(
    `Put ${clipTitle(name)} away?`,
    [
      "Its folder is moved to put-away in the site’s folder, and can be taken back.",
      "A clip that lessons show stays.",
    ],
    [
      ["Leave it", false],
      ["Put it away", true, true],
    ],
  );
  if (!sure) return;
  await tried("The clip was not put away", async () => {
    const { path } = await api.putClipAway(name);
    tellAloud(`Put away as ${path}.`);
  });
}

export async function putLessonAway({ name, title }) {
  const sure = await ask(
    `Put “${title}” away?`,
    [
      "It is moved to put-away in the site’s folder, and can be taken back.",
      "From the next press on, readers who come to its address find a note that it is gone.",
      "A lesson that other texts lead to stays.",
    ],
    [
      ["Leave it", false],
      ["Put it away", true, true],
    ],
  );
  if (!sure) return;
  await tried("The lesson was not put away", async () => {
    const { path } = await api.putLessonAway(name);
    tellAloud(`Put away as ${path}.`);
  });
}

export function takeBack({ path, what, name }) {
  return tried(`The ${what} was not taken back`, async () => {
    await api.takeBack(path);
    tellAloud(`${name} is back.`);
  });
}
