// A lesson written as a letter, and looked at as a phone and a desk show it, pictures on and off.

import { api } from "./api.js";
import { sheet } from "./ask.js";
import { button, h, refill } from "./dom.js";
import { capital } from "./words.js";

const HOW = [
  ["excerpt", "An excerpt: the leading plate, the cautions and a link"],
  ["attach", "Pictures within the letter, in place of on the web"],
  ["unlisted", "Also where no list has the lesson"],
];
const WIDTHS = [
  ["phone", "Phone"],
  ["desk", "Desk"],
];
const PICTURES = [
  ["letter", "Pictures on"],
  ["letter-without-pictures", "Pictures off"],
];

/** Writes the lesson as a letter and shows it; what is asked for differently writes it anew. */
export function showLetter(name) {
  return sheet("Letter", (close) => shown(name, close), { wide: true });
}

function shown(name, close) {
  const asked = {};
  const seen = { width: "phone", pictures: "letter" };
  const said = h("div", { role: "status", class: "letter-said" });
  const frame = h("iframe", {
    class: "letter-frame",
    title: "The letter",
    sandbox: "allow-same-origin",
    hidden: true,
  });
  let preview = null;

  const look = () => {
    frame.dataset.width = seen.width;
    if (preview) frame.src = `/${seen.pictures}/${preview}`;
  };
  const write = async () => {
    refill(said, h("p", {}, "Writing"));
    try {
      const made = await api.letter(name, asked);
      preview = `${made.preview}?n=${Date.now()}`; // written anew under its name
      refill(said, written(made));
    } catch (error) {
      preview = null;
      refill(said, refusal(error));
    }
    frame.hidden = !preview;
    look();
  };

  write();
  return h(
    "div",
    { class: "letter" },
    h(
      "fieldset",
      {},
      h("legend", {}, "What is written"),
      HOW.map(([key, words]) =>
        h(
          "label",
          {},
          h("input", {
            type: "checkbox",
            onchange: (event) => {
              asked[key] = event.target.checked;
              write();
            },
          }),
          h("span", {}, words),
        ),
      ),
    ),
    said,
    h(
      "div",
      { class: "stand" },
      switches("width", WIDTHS, seen, look),
      switches("pictures", PICTURES, seen, look),
    ),
    frame,
    h(
      "div",
      { class: "answers" },
      button("Close", () => close(), { autofocus: true }),
    ),
  );
}

function switches(key, choices, seen, look) {
  return h(
    "div",
    { class: "switches", role: "group", "aria-label": capital(key) },
    choices.map(([value, words]) =>
      h(
        "label",
        {},
        h("input", {
          type: "radio",
          name: `letter-${key}`,
          checked: seen[key] === value,
          onchange: () => {
            seen[key] = value;
            look();
          },
        }),
        h("span", {}, words),
      ),
    ),
  );
}

function written(made) {
  const size = Math.ceil(made.files["letter.html"] / 1000);
  return h(
    "p",
    {},
    "Written into ",
    h("b", {}, made.folder),
    `: letter.eml to open in a mail program, letter.html (${size} kB) for a newsletter service, letter.txt. `,
    "Nothing was sent.",
  );
}

function refusal(error) {
  return [
    h("p", {}, h("b", {}, "No letter. "), `${capital(error.whole)}.`),
    ...error.problems.map((one) => h("p", {}, one.told)),
  ];
}
