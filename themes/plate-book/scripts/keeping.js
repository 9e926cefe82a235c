// What the reader keeps on this device: asked for on a lesson's page, listed and let go of in the settings.
import { ask, canKeep } from "./offline.js";

const WIDEST = 1100; // CSS px that a picture is shown at

const keep = document.querySelector(".keep");
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

// A lesson's page tells that it is read, and offers to keep it.
async function offer() {
  const about = {
    url: location.href,
    title: document.querySelector("h1").textContent,
    width: Math.min(innerWidth, WIDEST) * devicePixelRatio,
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
  const state = ask("visited", about);
  await navigator.serviceWorker.ready;
  keep.hidden = false;
  show(await state);
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
if (canKeep && kept) list();
