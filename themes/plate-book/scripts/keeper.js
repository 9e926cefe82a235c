// Keeps the site on the reader's device: the work of the service worker, which offline.js at the site's root runs.
//
// self.PRESS: SHA-256 of the site's list, offline.json. A lesson is kept in a cache of its own, taken whole or not
// at all: every file is held against the hash that the press gave it. Files named by what is in them are shared
// by lessons. Pages come from the network where there is one, so that only the newest press is read there.

const SITE = self.registration.scope;
const OURS = `lessonpress ${SITE} `; // begins the names of our caches: a host may have several sites
const SHELL = `${OURS}shell ${self.PRESS}`; // what all pages share, taken whole
const SEEN = `${OURS}seen ${self.PRESS}`; // lists and plain pages that were read, and the pictures on them
const FILES = `${OURS}files`;
const NOTES = `${OURS}notes`; // which lessons are wanted
const LESSON = `${OURS}lesson `; // then the hash of the lesson's list, and the path of its page
const LIST = "offline.json";
const SHORT = 16; // hex digits of the hashes in the site's list
const MOST_VISITED = 12; // lessons kept without having been asked for
const PATIENCE = 5000; // ms that a page is waited for where it is kept as well

const NAMED_BY_CONTENT = /^(?:assets|pictures)\//;
const A_LESSON = /^lessons\/[^/]+\/index\.html$/;

const at = (path) => new URL(path, SITE).href;

/** Of an address the path from the site's root, of a folder that of its page; null outside the site. */
function pathOf(url) {
  const { origin, pathname } = new URL(url);
  const whole = origin + pathname;
  if (!whole.startsWith(SITE)) return null;
  const path = whole.slice(SITE.length);
  return path === "" || path.endsWith("/") ? `${path}index.html` : path;
}

async function hashOf(bytes) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** A file as the host has it now. An Error where it does not come, or is another than its hash says. */
async function fetched(path, hash) {
  const answer = await fetch(at(path), { cache: NAMED_BY_CONTENT.test(path) ? "default" : "no-cache" });
  if (!answer.ok) throw new Error(`${path}: ${answer.status}`);
  const bytes = await answer.arrayBuffer();
  if (hash && (await hashOf(bytes)) !== hash) throw new Error(`${path} is another than was pressed`);
  return new Response(bytes, { headers: { "content-type": answer.headers.get("content-type") ?? "" } });
}

// One task after another: what one takes, no other clears away.
let last = Promise.resolve();
function inTurn(task) {
  const done = last.then(task);
  last = done.catch(() => null);
  return done;
}

async function ours(start) {
  return (await caches.keys()).filter((name) => name.startsWith(start));
}

async function removeAll(names) {
  await Promise.all(names.map((name) => caches.delete(name)));
}

// the site

/** The shell of this press, or an Error, so that the last press stays. */
async function takeShell() {
  const shell = await caches.open(SHELL);
  try {
    const answer = await fetched(LIST, self.PRESS);
    const { files } = await answer.clone().json();
    await Promise.all(
      files.map(async ([{ path, hash }]) => shell.put(at(path), await fetched(path, hash))),
    );
    await shell.put(at(LIST), answer);
  } catch (error) {
    await caches.delete(SHELL);
    throw error;
  }
}

/** Of the lessons that the site has now: hash of the path → hash of its list. */
async function present() {
  const answer = await (await caches.open(SHELL)).match(at(LIST));
  return answer ? (await answer.json()).lessons : {};
}

async function listedAs(path, lessons) {
  return lessons[(await hashOf(new TextEncoder().encode(path))).slice(0, SHORT)];
}

/** What earlier presses left, and lessons that the site no longer has. */
async function clear() {
  const old = [...(await ours(`${OURS}shell `)), ...(await ours(`${OURS}seen `))];
  await removeAll(old.filter((name) => name !== SHELL && name !== SEEN));
  const lessons = await present();
  for (const path of Object.keys(await notes()))
    if (!(await listedAs(path, lessons))) await forget(path);
  await sweep();
}

// lessons

async function notes() {
  const answer = await (await caches.open(NOTES)).match(SITE);
  return answer ? answer.json() : {};
}

async function write(all) {
  await (await caches.open(NOTES)).put(SITE, new Response(JSON.stringify(all)));
}

async function note(path, more) {
  const all = await notes();
  all[path] = { asked: false, visited: 0, width: 0, title: path, ...all[path], ...more };
  await write(all);
}

/** A lesson that is kept whole: the name of its cache and its list; undefined where it is not. */
async function held(path) {
  for (const name of await ours(LESSON)) {
    if (!name.endsWith(` ${path}`)) continue;
    const answer = await (await caches.open(name)).match(listOf(path));
    if (answer)
      return { name, hash: name.slice(LESSON.length).split(" ")[0], list: await answer.json() };
  }
  return undefined;
}

function listOf(path) {
  return new URL(LIST, at(path)).href;
}

/** Of pictures that come in several sizes the one that is wide enough. */
function wanted(list, width) {
  return list.files.map((sizes) => sizes.find((one) => one.width >= width) ?? sizes.at(-1));
}

/** Takes a lesson whole, in place of an earlier one. An Error where a file of it cannot be had as pressed. */
async function take(path, width) {
  const answer = await fetched(pathOf(listOf(path)));
  const hash = await hashOf(await answer.clone().arrayBuffer());
  if ((await held(path))?.hash === hash) return;
  const name = `${LESSON}${hash} ${path}`;
  const [own, shared] = [await caches.open(name), await caches.open(FILES)];
  try {
    await Promise.all(
      wanted(await answer.clone().json(), width).map(async (file) => {
        const cache = NAMED_BY_CONTENT.test(file.path) ? shared : own;
        if (cache === own || !(await cache.match(at(file.path))))
          await cache.put(at(file.path), await fetched(file.path, file.hash));
      }),
    );
    await own.put(listOf(path), answer); // the last: by it the lesson is whole
  } catch (error) {
    await caches.delete(name);
    throw error;
  }
  await remove(path, name);
}

async function remove(path, but = "") {
  const names = await ours(LESSON);
  await removeAll(names.filter((name) => name.endsWith(` ${path}`) && name !== but));
}

async function forget(path) {
  await remove(path);
  const all = await notes();
  delete all[path];
  await write(all);
}

/** Shared files that no lesson shows any more. */
async function sweep() {
  const used = new Set();
  for (const path of Object.keys(await notes())) {
    const lesson = await held(path);
    for (const { path: file } of lesson?.list.files.flat() ?? []) used.add(at(file));
  }
  const shared = await caches.open(FILES);
  for (const { url } of await shared.keys()) if (!used.has(url)) await shared.delete(url);
}

/** Lessons that were pressed anew, and those that once could not be had, are taken. */
async function renew() {
  const lessons = await present();
  for (const [path, { width, asked }] of Object.entries(await notes())) {
    const now = await listedAs(path, lessons);
    const lesson = await held(path);
    const isOld = lesson ? !lesson.hash.startsWith(now) : asked;
    if (now && isOld) await take(path, width).catch(() => null);
  }
}

// tasks that pages ask for

async function stateOf(path) {
  const { asked = false } = (await notes())[path] ?? {};
  const lesson = await held(path);
  const size = lesson ? await sizeOf(lesson) : 0;
  return { asked, size };
}

/** Bytes of what is kept of a lesson, without what all pages share. */
async function sizeOf({ list }) {
  const shared = await caches.open(FILES);
  const there = new Set((await shared.keys()).map(({ url }) => url));
  const own = list.files.flat().filter(({ path }) => !path.startsWith("assets/"));
  const kept = own.filter(({ path }) => there.has(at(path)) || !NAMED_BY_CONTENT.test(path));
  return kept.reduce((sum, { size }) => sum + size, 0);
}

async function visited({ url, title, width, sparing }) {
  const path = pathOf(url);
  if (!sparing || (await held(path))) {
    await note(path, { title, width, visited: Date.now() });
    await take(path, width).catch(() => null);
    await letOldGo();
  }
  await renew();
  await sweep();
  return stateOf(path);
}

/** Of the lessons that were only visited, the latest stay. */
async function letOldGo() {
  const all = Object.entries(await notes()).filter(([, { asked }]) => !asked);
  all.sort(([, one], [, other]) => other.visited - one.visited);
  for (const [path] of all.slice(MOST_VISITED)) await forget(path);
}

async function keep({ url, title, width }) {
  const path = pathOf(url);
  await note(path, { title, width, visited: Date.now(), asked: true });
  await take(path, width).catch((error) => held(path).then((lesson) => lesson ?? Promise.reject(error)));
  return stateOf(path);
}

async function letGo({ url }) {
  await forget(pathOf(url));
  await sweep();
  return stateOf(pathOf(url));
}

async function list() {
  const all = Object.entries(await notes());
  all.sort(([, one], [, other]) => other.visited - one.visited);
  return Promise.all(
    all.map(async ([path, { title }]) => ({ url: at(path), title, ...(await stateOf(path)) })),
  );
}

const state = ({ url }) => stateOf(pathOf(url));

const TASKS = { visited, keep, "let go": letGo, list, state };

// what pages ask the host for

const comparing = new Map(); // path of a lesson → until its page was held against the kept one

/** A lesson of which another page has been read is kept no longer as it was. */
async function compare(path, answer) {
  const lesson = await held(path);
  if (!lesson) return;
  const hash = await hashOf(await answer.arrayBuffer());
  const [page] = lesson.list.files[0];
  if (hash !== page.hash) await caches.delete(lesson.name);
}

/** The kept page of a path, or undefined. */
async function keptPage(path) {
  const lesson = await held(path);
  const cache = lesson ? lesson.name : SHELL;
  return (
    (await (await caches.open(cache)).match(at(path))) ??
    (await (await caches.open(SEEN)).match(at(path)))
  );
}

async function answerPage(event, path) {
  // asked for anew, so that the browser's own store does not keep a page that the author took back
  const fetching = fetch(event.request, { cache: "no-cache" }).catch(() => null);
  const patient = new Promise((resolve) => setTimeout(resolve, PATIENCE, null));
  const kept = await keptPage(path);
  const answer = await (kept ? Promise.race([fetching, patient]) : fetching);
  if (!answer || answer.status >= 500) return kept ?? answer ?? nothingKept(path);
  if (answer.status === 404 || answer.status === 410) event.waitUntil(takenBack(path));
  else if (answer.ok && A_LESSON.test(path)) compareAside(event, path, answer.clone());
  else if (answer.ok) event.waitUntil(see(path, answer.clone()));
  return answer;
}

function nothingKept(path) {
  const settings = at("settings/index.html");
  return at(path) === settings ? Response.error() : Response.redirect(`${settings}#not-kept`);
}

function compareAside(event, path, answer) {
  const compared = compare(path, answer).catch(() => null);
  comparing.set(path, compared);
  event.waitUntil(compared.then(() => comparing.delete(path)));
}

async function takenBack(path) {
  await (await caches.open(SEEN)).delete(at(path));
  await inTurn(() => forget(path).then(sweep));
}

async function see(path, answer) {
  await (await caches.open(SEEN)).put(at(path), answer);
}

/** A file that is the same for good: from wherever it is kept. */
async function answerNamed(event, path) {
  const kept = await caches.match(at(path));
  if (kept) return kept;
  try {
    const answer = await fetch(event.request);
    const from = pathOf(event.request.referrer || SITE);
    if (answer.ok && from !== null && !from.startsWith("lessons/"))
      event.waitUntil(see(path, answer.clone()));
    return answer;
  } catch {
    return (await otherSize(path)) ?? Response.error();
  }
}

/** A picture in the size that is kept of it. */
async function otherSize(path) {
  for (const lesson of Object.keys(await notes())) {
    const sizes = (await held(lesson))?.list.files.find((files) =>
      files.some((one) => one.path === path),
    );
    for (const one of sizes ?? []) {
      const kept = await caches.match(at(one.path));
      if (kept) return kept;
    }
  }
  return undefined;
}

/** A file that lies beside a lesson's page: that of the lesson which is kept, else the host's. */
async function answerBeside(event, path) {
  const page = path.replace(/[^/]*$/, "index.html");
  await comparing.get(page);
  const lesson = await held(page);
  const kept = lesson && (await (await caches.open(lesson.name)).match(at(path)));
  return kept ?? fetch(event.request);
}

self.addEventListener("install", (event) => event.waitUntil(takeShell().then(() => self.skipWaiting())));
self.addEventListener("activate", (event) =>
  event.waitUntil(inTurn(clear).then(() => self.clients.claim())),
);
self.addEventListener("message", (event) => {
  const { does, ...about } = event.data;
  const [port] = event.ports;
  event.waitUntil(
    inTurn(() => TASKS[does](about)).then(
      (said) => port.postMessage({ said }),
      (error) => port.postMessage({ failed: error.message }),
    ),
  );
});
self.addEventListener("fetch", (event) => {
  const path = pathOf(event.request.url);
  if (event.request.method !== "GET" || path === null) return;
  if (event.request.mode === "navigate") event.respondWith(answerPage(event, path));
  else if (NAMED_BY_CONTENT.test(path)) event.respondWith(answerNamed(event, path));
  else if (path.startsWith("lessons/") && !path.endsWith(LIST))
    event.respondWith(answerBeside(event, path));
});
