// What the site has for the place of the cursor, in a list at that place. The field keeps the focus; arrows
// choose, Enter takes, Escape closes, Tab goes on to the next field as ever.
//
// A field of several lines is no combobox, so it is a textbox with `aria-autocomplete`, and its list is
// pointed at by `aria-activedescendant` (WAI-ARIA 1.2, textbox; Authoring Practices, listbox popup).

import { api } from "./api.js";
import { h } from "./dom.js";
import { plural } from "./words.js";

const WIDEST = 440; // CSS px

/** field: the text. underlay: where its letters lie. lesson: its name. toldClosed(): the list was closed. */
export function makeOffering(field, underlay, lesson, toldClosed) {
  const list = h("ul", { id: "offers", class: "offers", role: "listbox", hidden: true });
  const told = h("p", { class: "unseen", role: "status", id: "offers-told" });
  const shown = { rows: [], at: -1, start: 0, typed: "", over: "" };
  let asked = 0;
  for (const [name, value] of [
    ["aria-autocomplete", "list"],
    ["aria-haspopup", "listbox"],
    ["aria-controls", "offers"],
  ])
    field.setAttribute(name, value);

  const close = () => {
    asked += 1;
    if (list.hidden) return;
    list.hidden = true;
    told.textContent = "";
    field.removeAttribute("aria-activedescendant");
    toldClosed();
  };

  /** Asks what there is. wanted: by a key, so that the first is chosen at once. */
  const ask = async (wanted = false) => {
    const mine = ++asked;
    const [before, after] = [
      field.value.slice(0, field.selectionStart),
      field.value.slice(field.selectionEnd),
    ];
    if (!wanted && !isBegun(before)) return close();
    const answer = await api.offers(lesson, { before, after }).catch(() => null);
    if (mine !== asked) return undefined;
    if (!answer?.offers.length) {
      close();
      if (wanted) told.textContent = "Nothing is known that would fit here.";
      return undefined;
    }
    return open(answer, wanted);
  };

  const open = ({ of, typed, over, offers }, wanted) => {
    Object.assign(shown, { rows: offers, start: field.selectionStart - typed.length, typed, over });
    list.setAttribute("aria-label", of);
    list.replaceChildren(
      ...offers.map((one, n) =>
        h(
          "li",
          { id: `offer-${n}`, role: "option", data: { n } },
          h("b", {}, one.name),
          one.words ? h("span", {}, one.words) : null,
        ),
      ),
    );
    list.hidden = false;
    place(list, field, underlay, typed);
    choose(wanted || typed ? 0 : -1);
    told.textContent = `${plural(offers.length, "choice")}: ${of}. Arrows choose, Enter takes.`;
  };

  const choose = (at) => {
    shown.at = at;
    [...list.children].forEach((one, n) =>
      one.setAttribute("aria-selected", n === at ? "true" : "false"),
    );
    if (at < 0) field.removeAttribute("aria-activedescendant");
    else field.setAttribute("aria-activedescendant", `offer-${at}`);
    list.children[at]?.scrollIntoView({ block: "nearest" });
  };

  /** Whether a row fits what is typed by now, and is not written already: else Enter begins a new line. */
  const fits = (n) => {
    const typed = field.value.slice(shown.start, field.selectionStart);
    const { name, text } = shown.rows[n];
    return name.toLowerCase().includes(typed.toLowerCase()) && text !== typed + shown.over;
  };

  const takeIn = (n) => {
    const { text, back } = shown.rows[n];
    const at = field.selectionStart; // more may have been typed since they were asked for
    const over = field.value.startsWith(shown.over, at) ? shown.over.length : 0;
    close();
    if (at < shown.start) return;
    write(field, shown.start, at + over, text);
    field.setSelectionRange(field.selectionStart - back, field.selectionStart - back);
  };

  field.addEventListener("input", (event) => !event.isComposing && ask());
  field.addEventListener("blur", close);
  field.addEventListener("scroll", close);
  field.addEventListener("pointerdown", close);
  field.addEventListener("keydown", (event) => {
    if (event.isComposing) return;
    if ((event.key === " " && event.ctrlKey) || (event.key === "ArrowDown" && event.altKey)) {
      event.preventDefault();
      ask(true);
    } else if (!list.hidden) pressed(event, { shown, choose, takeIn, close, fits });
  });
  list.addEventListener("pointerdown", (event) => event.preventDefault()); // the field keeps the focus
  list.addEventListener("click", (event) => {
    const row = event.target.closest("[data-n]");
    if (row) takeIn(Number(row.dataset.n));
  });
  underlay.box.append(list, told);
  return { isOpen: () => !list.hidden };
}

/** A key while the list is open. */
function pressed(event, { shown, choose, takeIn, close, fits }) {
  const count = shown.rows.length;
  const plain = !event.ctrlKey && !event.metaKey && !event.altKey && !event.shiftKey;
  if (!plain) return close();
  if (event.key === "ArrowDown") choose((shown.at + 1) % count);
  else if (event.key === "ArrowUp") choose((shown.at + count + (shown.at < 0 ? 0 : -1)) % count);
  else if (event.key === "Enter" && shown.at >= 0 && fits(shown.at)) takeIn(shown.at);
  else if (event.key === "Escape") close();
  else {
    if (
      ["ArrowLeft", "ArrowRight", "Home", "End", "PageUp", "PageDown", "Enter", "Tab"].includes(
        event.key,
      )
    )
      close();
    return undefined;
  }
  event.preventDefault();
  return event.stopPropagation();
}

/** Whether something is begun in the cursor's line: a line that is empty asks for nothing by itself. */
function isBegun(before) {
  return /\S[^\n]*$/.test(before);
}

/** Puts a text in the place of another, so that the browser's own undo takes it back. */
export function write(field, start, end, text) {
  field.focus();
  field.setSelectionRange(start, end);
  if (document.execCommand("insertText", false, text)) return;
  field.setRangeText(text, start, end, "end");
  field.dispatchEvent(new InputEvent("input", { inputType: "insertText" }));
}

/** The list below what is typed, above it where there is more room, never past the edge. */
function place(list, field, underlay, typed) {
  const at = underlay.boxAt(field.selectionStart - typed.length);
  const [wide, high] = [field.clientWidth, field.clientHeight];
  list.style.width = `${Math.min(WIDEST, wide - 16)}px`;
  list.style.left = `${Math.max(8, Math.min(at.left, wide - list.offsetWidth - 8))}px`;
  const below = high - at.bottom >= Math.min(list.scrollHeight, at.top);
  list.style.maxHeight = `${Math.max(96, below ? high - at.bottom - 8 : at.top - 8)}px`;
  list.style.top = below ? `${at.bottom + 3}px` : "";
  list.style.bottom = below ? "" : `${underlay.box.clientHeight - at.top + 3}px`;
}
