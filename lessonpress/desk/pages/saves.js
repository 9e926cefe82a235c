// What files were before they were saved, and the way back to it.

import { api } from "./api.js";
import { ask, sheet } from "./ask.js";
import { button, h, tellAloud } from "./dom.js";
import { state } from "./state.js";
import { capital, clockTime, plural } from "./words.js";

let place = null;

export async function openSaves(main) {
  const { saves } = await api.saves();
  place = main;
  main.replaceChildren(
    h(
      "div",
      { class: "saves" },
      h("h1", {}, saves.length ? capital(plural(saves.length, "save")) : "No save is kept yet"),
      h(
        "p",
        { class: "hint" },
        "What each file was before the desk saved it, the newest first. ",
        "The last hundred are kept, on this machine alone.",
      ),
      h("ol", { class: "findings" }, saves.map(save)),
    ),
  );
}

function save(one) {
  const at = new Date(one.at);
  const name = `${one.path}, before ${at.toLocaleDateString("en-GB")} ${clockTime(at)}`;
  return h(
    "li",
    {},
    h("span", { class: "place" }, one.path),
    h(
      "p",
      {},
      `Before the save of ${at.toLocaleDateString("en-GB")} at ${clockTime(at)}; ${one.bytes} bytes.`,
    ),
    one.same
      ? h("p", { class: "reason" }, "The file holds just that now.")
      : button("See what would change", () => look(one), {
          "aria-label": `See what would change: ${name}`,
        }),
  );
}

/** What bringing it back does, line by line, and the button that does it. */
async function look(one) {
  try {
    const told = await api.difference(one.number);
    const back = await sheet(one.path, (close) => shown(told, close), { wide: true });
    if (back) await bringBack(one);
  } catch (error) {
    await ask("This cannot be shown", capital(error.whole), [["Close", null, true]]);
  }
}

function shown(told, close) {
  return [
    h("p", {}, "Lines that go are marked −, lines that come back +."),
    h("div", { class: "difference", tabindex: "0" }, told.lines.map(line)),
    told.more ? h("p", {}, `And ${told.more} more lines.`) : null,
    h(
      "div",
      { class: "answers" },
      button("Close", () => close(false)),
      state.site.may_change
        ? button("Bring it back", () => close(true), { class: "chief", autofocus: true })
        : null,
    ),
  ].filter(Boolean);
}

function line(written) {
  const kind = { "+": "come", "-": "go", "@": "at" }[written[0]] ?? "stay";
  const words = kind === "go" ? `−${written.slice(1)}` : kind === "at" ? "…" : written;
  return h("pre", { class: kind }, words);
}

async function bringBack(one) {
  try {
    const { path } = await api.restore({ path: one.path, number: one.number });
    await openSaves(place);
    tellAloud(`${path} is again what it was. What it held is kept too.`);
  } catch (error) {
    await ask("It was not brought back", capital(error.whole), [["Close", null, true]]);
  }
}
