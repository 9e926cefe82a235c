// Questions that wait for an answer, in the middle of the page.

import { button, h } from "./dom.js";

/** Shows a sheet; content is given `close(answer)`. Gives the answer, null where the author goes back. */
export function sheet(title, content, { wide = false } = {}) {
  return new Promise((done) => {
    const back = document.activeElement;
    const close = (given = null) => {
      dialog.remove(); // at once: the next key is for the desk
      if (back?.isConnected) back.focus();
      done(given);
    };
    const dialog = h(
      "dialog",
      { class: wide ? "sheet wide" : "sheet", "aria-labelledby": "sheet-title" },
      h("h2", { id: "sheet-title" }, title),
    );
    dialog.append(...[content(close)].flat());
    dialog.addEventListener("cancel", (event) => {
      event.preventDefault();
      close();
    });
    document.body.append(dialog);
    dialog.showModal();
    dialog.querySelector("[autofocus]")?.focus({ preventScroll: true });
    dialog.scrollTop = 0;
  });
}

/** One of several answers: [[words, answer, "chief"?]…]. */
export function ask(title, words, answers) {
  return sheet(title, (close) => [
    ...[words].flat().map((line) => (typeof line === "string" ? h("p", {}, line) : line)),
    h(
      "div",
      { class: "answers" },
      answers.map(([said, answer, chief]) =>
        button(said, () => close(answer), { class: chief ? "chief" : null, autofocus: Boolean(chief) }),
      ),
    ),
  ]);
}

/** A line of text. */
export function askLine(title, label, { value = "", hint = "", yes = "Keep" } = {}) {
  return sheet(title, (close) => {
    const line = h("input", {
      id: "asked-line",
      value,
      autocomplete: "off",
      spellcheck: "false",
      autofocus: true,
    });
    const form = h(
      "form",
      { method: "dialog" },
      h("label", { for: "asked-line" }, label),
      line,
      hint ? h("p", { class: "hint" }, hint) : null,
      h(
        "div",
        { class: "answers" },
        button("Cancel", () => close(null)),
        h("button", { class: "chief" }, yes),
      ),
    );
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      if (line.value.trim()) close(line.value.trim());
    });
    return form;
  });
}
