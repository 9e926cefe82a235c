import { figureAt, lineOfId, partOfPlace, placeOfClick } from "/pages/proofplace.js";
import { equal } from "./check.js";

const TEXT = `---
title: The pelvis travels
---

At setup three lines are *dropped* and left standing.

By the top the navel has moved {navel-back}, and the [head](hub.md) stays.

\`\`\`frame
id: top
at: top
draw:
  - shift: navel
    as: navel-back
  - tilt: [navel, c7]
    as: lean
caption: The navel has moved away.
\`\`\`

At setup the line is upright.
`;

function words(page, clicked, share) {
  const found = placeOfClick(TEXT, page, page.indexOf(clicked), share);
  return found && TEXT.slice(found.start, found.end);
}

export function a_word_of_the_page_is_found_in_the_text_without_its_marks() {
  equal(words("At setup three lines are dropped and left standing.", "dropped"), "dropped");
  equal(words("The pelvis travels", "pelvis"), "pelvis");
  equal(placeOfClick(TEXT, "The pelvis travels", 4).start, TEXT.indexOf("pelvis"));
}

export function a_number_is_found_at_its_brace() {
  const page = "By the top the navel has moved 4.0 in ± 0.7 away from the target, and the head stays.";
  equal(words(page, "4.0"), "{navel-back}");
  equal(words(page, "head"), "head");
  equal(words(page, "stays"), "stays");
}

export function a_word_that_stands_often_is_found_by_those_around_it() {
  equal(placeOfClick(TEXT, "The navel has moved away.", 4).start, TEXT.lastIndexOf("navel has moved"));
  equal(placeOfClick(TEXT, "At setup the line is upright.", 3).start, TEXT.lastIndexOf("setup"));
}

export function what_the_text_does_not_say_is_nowhere() {
  equal(words("Printed at the foot by the theme of another day", "foot"), null);
  equal(words("", ""), null);
}

export function a_row_of_the_ledger_is_where_its_id_is_given() {
  const line = (id) => TEXT.split("\n")[lineOfId(TEXT, id) - 1].trim();
  equal(line("navel-back"), "as: navel-back");
  equal(line("lean.impact"), "as: lean");
  equal(lineOfId(TEXT, "elsewhere"), 0);
}

export function the_cursor_is_in_the_figure_whose_fences_are_around_it() {
  const blocks = [
    { plate: "top", line: 9, last_line: 18 },
    { plate: null, line: 20, last_line: 22 },
  ];
  equal(figureAt(blocks, 9).plate, "top");
  equal(figureAt(blocks, 18).plate, "top");
  equal(
    [8, 19, 21].map((line) => figureAt(blocks, line)),
    [undefined, undefined, undefined],
  );
}

export function the_part_of_a_page_is_found_from_the_cursor() {
  const text =
    "---\ntitle: The hub moves\n---\n\nAt setup it is here.\n\n- One {a} of two\n- Another thing\n\n## The hub at the top\n";
  const parts = [
    "The hub moves",
    "At setup it is here.",
    "One 4.2 in of two",
    "Another thing",
    "The hub at the top",
  ];
  const found = ["title", "setup", "{a}", "thing", "## The"].map((words) =>
    partOfPlace(text, text.indexOf(words), parts),
  );
  equal(found, [0, 1, 2, 3, 4]);
  equal(partOfPlace("Nothing of this", 3, parts), -1);
}
