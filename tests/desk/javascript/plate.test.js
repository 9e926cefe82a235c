import { choose, clear, fields, finish, letters, plate, plateText, wantedWords } from "/pages/plate.js";
import { state } from "/pages/state.js";
import { equal } from "./check.js";

const KINDS = [
  { kind: "vertical", letter: "q", measures: false, least: 1, most: 1, questions: [] },
  { kind: "brace", letter: null, measures: false, least: 2, most: 2, questions: [] },
  { kind: "outline", letter: "u", measures: false, least: 3, most: null, questions: [] },
];

function opened(...questions) {
  state.site = { kinds: KINDS.map((one) => (one.kind === "brace" ? { ...one, questions } : one)) };
  state.clip = { events: {} };
  if (!document.getElementById("told")) {
    document.body.append(Object.assign(document.createElement("p"), { id: "told" }));
  }
  clear();
}

export function a_kind_without_a_letter_has_no_key() {
  opened();
  equal(letters(), ["q", "u"]);
}

export async function a_further_mark_is_clicked_after_the_kinds_own() {
  opened({ key: "of", words: "", usual: "", mark: true });
  choose("brace");
  equal(wantedWords(), "click 3 marks");
  plate.picked = ["navel", "c7"];
  await finish();
  equal(plate.overlays, []);
  plate.picked = ["navel", "c7", "ball"];
  await finish();
  equal(plate.overlays, [{ brace: ["navel", "c7"], of: "ball" }]);
}

export async function a_text_is_asked_for_in_the_words_of_the_kind() {
  opened({ key: "why", words: "Why is it braced?", usual: "the trunk", mark: false });
  choose("brace");
  plate.picked = ["navel", "c7"];
  const drawn = finish();
  const sheet = document.querySelector("dialog");
  equal(
    [sheet.querySelector("h2").textContent, sheet.querySelector("label").textContent],
    ["Brace", "Why is it braced?"],
  );
  sheet.querySelector("form").requestSubmit();
  await drawn;
  equal(plate.overlays, [{ brace: ["navel", "c7"], why: "the trunk" }]);
}

export function a_loop_names_no_numbers() {
  opened();
  state.clip = { name: "dune", events: { setup: 0, top: 4 } };
  plate.overlays = [{ vertical: "navel", as: "a-number" }];
  plate.figure = "loop";
  equal(fields().draw, [{ vertical: "navel" }]);
  equal(plateText(), 'from: "setup"\nto: "top"\nslowed: 4\ndraw:\n  - {"vertical":"navel"}\n');
  plate.figure = "strip";
  equal(fields().draw, [{ vertical: "navel", as: "a-number" }]);
}

export async function a_kind_of_many_marks_takes_all_that_were_picked() {
  opened();
  choose("outline");
  plate.picked = ["navel", "c7", "ball", "head"];
  await finish();
  equal(plate.overlays, [{ outline: ["navel", "c7", "ball", "head"] }]);
}
