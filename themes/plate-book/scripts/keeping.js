// What the reader keeps on this device: asked for on a lesson's page, listed and let go of in the settings.
import { ask, canKeep } from "./offline.js";

const WIDEST = 1100; // CSS px that a picture is shown at

const keep = document.querySelector(".keep:not(.whole)");
const whole = document.querySelector(".keep.whole");
const kept = document.querySelector(".kept");

function sized(words, bytes) {
  const unit = bytes < 1e6 ? "kilobyte" : "megabyte";
  const inUnit = new Intl.NumberFormat(document.documentElement.lang, {
    style: "unit",
    unit,
    maximumFractionDigits: unit === "megabyte" ? 1 : 0,
  });
  return words.replace("{size}", inUnit.format(bytes / (unit === "megabyte" ? 1e6 : 1e3)));
}

function widthShown() {
  return Math.min(innerWidth, WIDEST) * devicePixelRatio;
}

// A lesson's page tells that it is read, and offers to keep it.
async function offer() {
  const about = {
    url: location.href,
    title: document.querySelector("h1").textContent,
    width: widthShown(),
    sparing: navigator.connection?.saveData ?? false,
  };
  const status = keep.querySelector("[role=status]");
  const [take, letGo] = keep.querySelectorAll("button");

  function show({ asked, size }) {
    take.hidden = asked;
    letGo.hidden = !asked && !size;
    status.textContent = size
      ? sized(asked ? keep.dataset.kept : keep.dataset.visited, size)
      : asked
        ? keep.dataset.failed
        : "";
  }

  keep.addEventListener("click", async ({ target }) => {
    const { does } = target.closest("button")?.dataset ?? {};
    if (!does) return;
    if (does === "keep") {
      status.textContent = keep.dataset.taking;
      navigator.storage?.persist?.();
    }
    try {
      show(await ask(does, about));
    } catch {
      status.textContent = keep.dataset.failed;
    }
    if (target.hidden) (target === take ? letGo : take).focus();
  });
  addEventListener("series", async () => show(await ask("state", about)));
  const state = ask("visited", about);
  await navigator.serviceWorker.ready;
  keep.hidden = false;
  show(await state);
}

// A lesson of a series offers to keep all of it: one after the other, each whole or not at all.
async function offerSeries() {
  const links = [...document.querySelectorAll(".series li > a")];
  const lessons = links.map(({ href, textContent: title }) => ({
    url: href,
    title,
    width: widthShown(),
  }));
  const status = whole.querySelector("[role=status]");
  const [take, letGo] = whole.querySelectorAll("button");
  const say = (words, number) => words.replace("{number}", number).replace("{count}", lessons.length);

  async function show() {
    const states = await Promise.all(lessons.map((about) => ask("state", about)));
    const asked = states.filter((one) => one.asked && one.size);
    const bytes = asked.reduce((sum, { size }) => sum + size, 0);
    take.hidden = asked.length === lessons.length;
    letGo.hidden = asked.length === 0;
    const words = take.hidden ? whole.dataset.kept : whole.dataset.part;
    status.textContent = asked.length ? sized(say(words, asked.length), bytes) : "";
  }

  async function each(does) {
    for (const [at, about] of lessons.entries()) {
      if (does === "keep") status.textContent = say(whole.dataset.taking, at + 1);
      await ask(does, about); // in turn: a slow network is not asked for all at once
    }
  }

  whole.addEventListener("click", async ({ target }) => {
    const { does } = target.closest("button")?.dataset ?? {};
    if (!does) return;
    if (does === "keep") navigator.storage?.persist?.();
    const failed = await each(does).catch(() => true);
    await show();
    if (failed) status.textContent = whole.dataset.failed;
    if (target.hidden) (target === take ? letGo : take).focus();
    dispatchEvent(new CustomEvent("series"));
  });
  await navigator.serviceWorker.ready;
  whole.hidden = false;
  await show();
}

// The settings list all that is kept.
async function list() {
  const lessons = await ask("list");
  const lines = kept.querySelector("ul");
  const status = kept.querySelector("[role=status]");
  const one = kept.querySelector("template").content.firstElementChild;
  lines.replaceChildren(
    ...lessons.map(({ url, title, asked, size }) => {
      const line = one.cloneNode(true);
      const [link, said, letGo] = line.children;
      link.href = url;
      link.textContent = title;
      said.textContent = size
        ? sized(asked ? lines.dataset.asked : lines.dataset.visited, size)
        : lines.dataset.wanting;
      letGo.ariaLabel = `${letGo.textContent}: ${title}`;
      letGo.addEventListener("click", async () => {
        await ask("let go", { url });
        await list();
        (lines.querySelector("button") ?? kept.querySelector("h2")).focus();
      });
      return line;
    }),
  );
  const bytes = lessons.reduce((sum, { size }) => sum + size, 0);
  status.textContent = lessons.length ? sized(status.dataset.total, bytes) : status.dataset.none;
  kept.hidden = false;
}

if (canKeep && keep) offer();
if (canKeep && whole) offerSeries();
if (canKeep && kept) list();
