// Finds lessons by their words: asks the indexes in search/records, which are loaded with the first question.
// There is one for each year, of which the newest is asked through its own program, and the others by it.
//
// A lesson is shown by the picture that answers best, with its lines (found.json beside the lesson).

const ROOT = new URL("../", import.meta.url); // this module lies in assets/
const SHOWN = 10; // lessons at a time
const SAME = 3; // letters that a word found has in common with the one asked for
const PAUSE = 250; // ms without a further letter

const form = document.querySelector(".search form");
const sought = form.querySelector("input");
const status = document.querySelector(".search [role=status]");
const found = document.querySelector(".found");
const more = document.querySelector(".search .more");
const blank = document.querySelector(".search template").content.firstElementChild;
const passedOver = new Set(form.dataset.passed.split(" "));
const parts = form.dataset.parts.split(" ");

let index; // a promise of all
let asked = ""; // the words that the answers shown are of
let answers = [];

function loaded() {
  index ??= load().catch((error) => {
    index = undefined; // to be tried again on a better network
    throw error;
  });
  return index;
}

/** Each part is told apart by a filter of its own. */
async function load() {
  const place = (part) => new URL(`search/records/${part}/`, ROOT).href;
  const [newest, ...older] = parts;
  const all = await import(`${place(newest)}pagefind.js`);
  await all.options({ mergeFilter: { part: newest } });
  await Promise.all(older.map((part) => all.mergeIndex(place(part), { mergeFilter: { part } })));
  return all;
}

/** What answers in all parts, the best first. */
async function answersTo(words) {
  const all = await loaded();
  await all.preload(words); // of all parts at once
  const answers = [];
  for (const part of parts) {
    const { results } = await all.search(words, { filters: { part } });
    const isFound = results.length > 0 && isMeant(await results[0].data(), words);
    if (isFound) answers.push(...results);
  }
  return answers.sort((one, other) => other.score - one.score);
}

/** Without the small words that every text has, unless there are no others. */
function telling(words) {
  const all = words.trim().split(/\s+/);
  const some = all.filter((word) => !passedOver.has(word.toLowerCase()));
  return (some.length ? some : all).join(" ");
}

const bare = (word = "") =>
  word
    .normalize("NFD")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]/gu, "");

/** For a word that it does not have an index takes the longest that it begins with, "a" for "aardvark". */
function isMeant({ raw_content: text, locations }, words) {
  if (text.includes("\u200B")) return true; // of a script without spaces
  const all = text.split(/\s+/);
  const met = locations.map((at) => bare(all[at]));
  return words.split(" ").every((word) => met.some((one) => one.includes(beginning(bare(word)))));
}

/** A number is asked for as a whole: 2025 is none that begins as 2024 does. */
function beginning(word) {
  return /\d/.test(word) ? word : word.slice(0, SAME);
}

async function find() {
  const words = sought.value.trim();
  if (words === asked) return;
  asked = words;
  putAddress(words);
  try {
    const results = words ? await answersTo(telling(words)) : [];
    if (words === asked) await show(results, words);
  } catch {
    asked = "";
    found.replaceChildren();
    status.textContent = status.dataset.failed;
  }
}

function putAddress(words) {
  const address = new URL(location.href);
  if (words) address.searchParams.set("q", words);
  else address.searchParams.delete("q");
  history.replaceState(history.state, "", address);
}

async function show(results, words) {
  const first = await Promise.all(results.slice(0, SHOWN).map(line));
  if (words !== asked) return;
  answers = results.slice(SHOWN);
  found.replaceChildren(...first);
  more.hidden = answers.length === 0;
  const { none, one, many } = status.dataset;
  const said = results.length > 1 ? many : results.length ? one : none;
  status.textContent = words ? said.replace("{count}", results.length).replace("{words}", words) : "";
}

async function showMore() {
  const words = asked;
  const next = await Promise.all(answers.slice(0, SHOWN).map(line));
  if (words !== asked) return;
  answers = answers.slice(SHOWN);
  more.hidden = answers.length === 0;
  found.append(...next);
  next[0]?.querySelector("a").focus();
}

/** What answers best within a lesson: a picture, else the text. */
function best(parts) {
  const weigh = (part) => part.weighted_locations.reduce((sum, one) => sum + one.balanced_score, 0);
  const pictures = parts.filter(({ anchor }) => anchor?.id.startsWith("plate-"));
  return pictures.sort((one, other) => weigh(other) - weigh(one))[0] ?? parts[0];
}

async function line(result) {
  const answer = await result.data();
  const part = best(answer.sub_results);
  const path = answer.raw_url.replace(/^\//, "");
  const page = new URL(path.split("/").map(encodeURIComponent).join("/"), ROOT);
  const item = blank.cloneNode(true);
  const link = item.querySelector("a");
  link.textContent = answer.meta.title;
  link.href = new URL(part?.anchor ? `#${encodeURIComponent(part.anchor.id)}` : "", page);
  item.querySelector(".entry-no").textContent = part?.anchor ? part.title : "";
  const { excerpt } = part ?? answer;
  const [before, after] = cut(excerpt, answer.raw_content, part?.title ?? "");
  item.querySelector(".excerpt").append(before, ...marked(excerpt), after);
  if (path.startsWith("lessons/")) await putPicture(item, page, part?.title);
  return item;
}

const ENDS = /[.!?…]["”’)]*$/; // of a sentence

/** What stands before and after an excerpt: dots where it begins or ends within a sentence, but not within its heading. */
function cut(excerpt, text, heading) {
  const [said, whole] = [excerpt, text].map((one) => textOf(one).split(/\s+/).filter(Boolean).join(" "));
  const before = whole.slice(0, Math.max(0, whole.indexOf(said))).trim();
  const isHead = heading.endsWith(said.slice(0, heading.length).split(".")[0]);
  return [before && !ENDS.test(before) && !isHead ? "… " : "", ENDS.test(said) ? "" : " …"];
}

/** What markup says, without anything of it being loaded or run. */
function textOf(markup) {
  return new DOMParser().parseFromString(markup, "text/html").body.textContent;
}

/** The words round those that were found, which are marked: text and marks are taken, and nothing else. */
function marked(excerpt) {
  const { body } = new DOMParser().parseFromString(excerpt, "text/html");
  return [...body.childNodes].map((node) => {
    if (node.nodeName !== "MARK") return node.textContent;
    const mark = document.createElement("mark");
    mark.textContent = node.textContent;
    return mark;
  });
}

/** The picture under the heading that was found, else the lesson's first; nothing where it does not come. */
async function putPicture(item, page, heading) {
  const answer = await fetch(new URL("found.json", page)).catch(() => null);
  const pictures = answer?.ok ? await answer.json() : {};
  const picture = pictures[heading] ?? Object.values(pictures)[0];
  if (!picture) return;
  const [place, image] = [item.querySelector(".pic"), item.querySelector("img")];
  image.width = picture.width;
  image.height = picture.height;
  image.src = new URL(picture.file, ROOT);
  const { body } = new DOMParser().parseFromString(picture.lines, "text/html");
  item.querySelector(".ov").append(...body.children);
  place.classList.toggle("mirrored", picture.turned);
  place.hidden = false;
  item.classList.remove("worded");
}

let waiting;
sought.addEventListener("input", () => {
  clearTimeout(waiting);
  waiting = setTimeout(find, PAUSE);
});
form.addEventListener("submit", (event) => {
  event.preventDefault();
  clearTimeout(waiting);
  find();
});
more.querySelector("button").addEventListener("click", showMore);
sought.value = new URLSearchParams(location.search).get("q") ?? "";
find();
