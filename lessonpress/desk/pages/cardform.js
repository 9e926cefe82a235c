// The card's form: it asks what only the author knows, and says what follows.

import { api } from "./api.js";
import { ask } from "./ask.js";
import { h } from "./dom.js";
import { state, tell } from "./state.js";

const SHELF = "desk-source"; // what was last answered about rights, which seldom changes

const VIEWS = [
  ["face-on", "Face-on"],
  ["down-the-line", "Down the line"],
  ["from-behind", "From behind"],
  ["from-target", "From the target"],
  ["overhead", "Overhead"],
];
const FLIGHT = {
  "face-on": ["right", "left"],
  "from-behind": ["left", "right"],
  "down-the-line": ["into the picture", "into the picture"],
  "from-target": ["out of the picture", "out of the picture"],
};
const SAFE =
  "While a ball is hit no one stands ahead of the player, opposite the ball or behind the swing: " +
  "the camera runs on its own there. From the target is for rehearsals without a ball, or from behind a net.";
const KINDS = [
  ["own", "My own"],
  ["licensed", "Licensed to me"],
  ["public-domain", "Public domain"],
  ["quotation", "A quotation"],
];

export async function openCard(main, name) {
  const [clip, told] = await Promise.all([api.clip(name).catch((error) => error), api.card(name)]);
  const card = told.card ?? {};
  const form = h(
    "form",
    { class: "card-form" },
    h("h1", {}, `The card of ${name}`),
    facts(clip),
    h(
      "div",
      { class: "asked" },
      titled(card, name),
      choices("view", "From where was it filmed?", VIEWS, card.view, SAFE),
      choices(
        "hand",
        "Which hand does the golfer play with?",
        [
          ["right", "Right"],
          ["left", "Left"],
        ],
        card.hand,
      ),
      h("p", { class: "follows", role: "status" }),
      choices(
        "still",
        "How was the camera held?",
        [
          ["still", "It stood still, on a tripod"],
          ["moved", "In the hand"],
        ],
        card.camera?.still === undefined ? null : card.camera.still ? "still" : "moved",
      ),
      rights(card),
      people(card),
      more(card),
    ),
    h("p", { class: "why", role: "alert" }),
    h(
      "div",
      { class: "row" },
      h("button", { class: "chief" }, "Keep the card"),
      h("a", { class: "button", href: "#/" }, "Later"),
    ),
  );
  form.addEventListener("change", () => follow(form));
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    keep(form, name, told);
  });
  main.replaceChildren(form);
  follow(form);
  form.querySelector("[name=view]:checked, [name=view]")?.focus();
}

function titled(card, name) {
  return h(
    "fieldset",
    {},
    h("legend", {}, "What do readers call it?"),
    line("title", "Title: the golfer, the view, the club", {
      value: card.title ?? "",
      placeholder: "Dune, face-on, 7-iron",
      "aria-describedby": "title-hint",
    }),
    h("p", { class: "hint", id: "title-hint" }, `Without one, pages call it ${name}, as its folder.`),
  );
}

function facts(clip) {
  if (clip instanceof Error) return h("p", { class: "why" }, clip.message);
  const seconds = clip.times.at(-1) ?? 0;
  return h(
    "div",
    { class: "facts-of-clip" },
    h("img", {
      src: clip.thumbnail.replace("{frame}", Math.floor(clip.frames / 2)),
      alt: "",
      height: "96",
    }),
    h(
      "p",
      {},
      `${clip.frames} pictures of ${clip.size[0]} × ${clip.size[1]} px, ` +
        `${Number(clip.rate).toFixed(0)} a second, ${seconds.toFixed(1)} s.`,
    ),
  );
}

function choices(name, words, all, chosen, hint = null) {
  return h(
    "fieldset",
    hint ? { "aria-describedby": `${name}-hint` } : {},
    h("legend", {}, words),
    h(
      "div",
      { class: "switches" },
      all.map(([value, said]) =>
        h(
          "label",
          {},
          h("input", { type: "radio", name, value, checked: chosen === value, required: true }),
          h("span", {}, said),
        ),
      ),
    ),
    hint ? h("p", { class: "hint", id: `${name}-hint` }, hint) : null,
  );
}

function line(name, words, { value = "", ...props } = {}) {
  const id = `card-${name}`;
  return h(
    "p",
    { class: "line" },
    h("label", { for: id }, words),
    h("input", { id, name, value, autocomplete: "off", spellcheck: "false", ...props }),
  );
}

function rights(card) {
  const last = JSON.parse(localStorage.getItem(SHELF) ?? "{}");
  const source = { kind: "own", credit: state.site.author ?? "", ...last, ...card.source };
  return h(
    "fieldset",
    {},
    h("legend", {}, "Whose footage is it?"),
    h(
      "div",
      { class: "switches" },
      KINDS.map(([value, said]) =>
        h(
          "label",
          {},
          h("input", { type: "radio", name: "kind", value, checked: source.kind === value }),
          h("span", {}, said),
        ),
      ),
    ),
    line("credit", "Credit, as it is printed", { value: source.credit ?? "", required: true }),
    line("licence", "Licence", { value: source.licence ?? "", placeholder: "CC BY 4.0" }),
    h(
      "div",
      { class: "quoted" },
      line("url", "Where it comes from", { value: source.url ?? "" }),
      line("reason", "Why it is quoted", { value: source.reason ?? "" }),
    ),
  );
}

function people(card) {
  const [person] = card.people ?? [];
  const none = Array.isArray(card.people) && card.people.length === 0;
  const consent = [
    ["none", "No one: a drawn or empty scene"],
    ["written", "A player, with written consent"],
    ["spoken", "A player, with spoken consent"],
    ["guardian", "A child, with a guardian's consent"],
  ];
  return h(
    "fieldset",
    {},
    h("legend", {}, "Who can be seen, and did they agree to be shown?"),
    h(
      "div",
      { class: "switches down" },
      consent.map(([value, said]) =>
        h(
          "label",
          {},
          h("input", {
            type: "radio",
            name: "consent",
            value,
            required: true,
            checked: none ? value === "none" : person?.consent === value,
          }),
          h("span", {}, said),
        ),
      ),
    ),
    h(
      "div",
      { class: "who" },
      line("person", "Name, as it may be printed", { value: person?.name ?? "" }),
      line("given", "Agreed on", { value: person?.given ?? "", type: "date" }),
    ),
    (card.people?.length ?? 0) > 1
      ? h(
          "p",
          { class: "hint" },
          `The card names ${card.people.length} people; the others stay as they are written.`,
        )
      : null,
  );
}

function more(card) {
  const camera = card.camera ?? {};
  return h(
    "details",
    { open: true },
    h("summary", {}, "What makes numbers narrower"),
    line("distance", "From the lens to the golfer", {
      value: camera.distance ?? "",
      placeholder: "14 ft",
    }),
    line("within", "Good to within", { value: camera.within ?? "", placeholder: "6 in" }),
    line("wall", "From the lens to the wall, where the camera was held in the hand", {
      value: camera.wall ?? "",
      placeholder: "20 ft",
    }),
    line("stature", "Stature", { value: card.stature ?? "", placeholder: "5 ft 10 in" }),
    line("implement_length", "Length of the club, from the end of the handle to the sole", {
      value: card.implement_length ?? "",
      placeholder: "37 in",
    }),
    line("filmed_at", "Pictures per second of real time, if it plays slower than life", {
      value: Array.isArray(card.filmed_at) ? "" : (card.filmed_at ?? ""),
      inputmode: "numeric",
      placeholder: "240",
    }),
    line("filmed_on", "Filmed on", { value: card.filmed_on ?? "", type: "date" }),
  );
}

/** Says where the ball flies, by view and hand; shows what is asked only of some. */
function follow(form) {
  const { view, hand, kind, consent } = Object.fromEntries(new FormData(form));
  const flies = FLIGHT[view]?.[hand === "left" ? 1 : 0];
  form.querySelector(".follows").textContent =
    view && hand && flies
      ? `So the ball flies ${/^(right|left)$/.test(flies) ? `to the ${flies} of the picture` : flies}. ` +
        "If it does not, the video is mirrored: do not go on with it."
      : "";
  form.querySelector(".quoted").hidden = kind !== "quotation" && kind !== "licensed";
  form.querySelector(".who").hidden = !consent || consent === "none";
}

async function keep(form, name, told) {
  const card = told.card ?? {};
  const given = Object.fromEntries([...new FormData(form)].map(([key, value]) => [key, value.trim()]));
  const source = compact({
    ...card.source,
    kind: given.kind,
    credit: given.credit,
    licence: given.licence,
    url: given.url,
    reason: given.reason,
  });
  const edits = [
    [["title"], given.title || null],
    [["view"], given.view],
    [["hand"], given.hand],
    [["source"], source],
    [["people"], peopleOf(given, card)],
    [["camera"], cameraOf(given, card)],
    [["stature"], given.stature || null],
    [["implement_length"], given.implement_length || null],
    [["filmed_on"], given.filmed_on || null],
    ...(Array.isArray(card.filmed_at)
      ? []
      : [[["filmed_at"], given.filmed_at ? Number(given.filmed_at) || given.filmed_at : null]]),
  ]
    .map(([path, to]) => ({ path, was: card[path[0]] ?? null, to }))
    .filter((edit) => JSON.stringify(edit.was) !== JSON.stringify(edit.to));
  localStorage.setItem(
    SHELF,
    JSON.stringify({ kind: given.kind, credit: given.credit, licence: given.licence }),
  );
  if (await sent(form, name, edits, told.version)) location.hash = `#/clip/${name}`;
}

async function sent(form, name, edits, version, anyway = false) {
  if (!edits.length) return true;
  try {
    await api.saveCard(name, { edits, version, anyway });
    state.kept = { at: new Date(), file: "clip.yaml" };
    tell("kept");
    return true;
  } catch (error) {
    if (error.status === 409 && error.collisions.length) {
      const mine = await ask("The card was changed meanwhile", error.whole, [
        ["Keep the file’s", false, true],
        ["Keep mine", true],
      ]);
      return mine ? sent(form, name, edits, version, true) : false;
    }
    const problems = error.problems.map((one) => `${one.wrong}: ${one.right}`);
    form.querySelector(":scope > .why").textContent = [error.whole, ...problems].join(". ");
    return false;
  }
}

function cameraOf(given, card) {
  const told = compact({
    ...card.camera,
    distance: given.distance,
    within: given.distance && given.within,
    wall: given.wall,
  });
  return { ...told, still: given.still === "still" };
}

function peopleOf(given, card) {
  if (given.consent === "none") return [];
  const [first = {}, ...others] = card.people ?? [];
  const one = compact({ ...first, name: given.person, consent: given.consent, given: given.given });
  if (given.consent === "guardian") one.minor = true;
  return [one, ...others];
}

function compact(fields) {
  const kept = Object.fromEntries(Object.entries(fields).filter(([, value]) => value));
  return Object.keys(kept).length ? kept : null;
}
