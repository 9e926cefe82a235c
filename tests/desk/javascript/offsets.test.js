import { moved, offsetOf, placeAt, stretches } from "/pages/offsets.js";
import { equal } from "./check.js";

const TEXT = "one {two}\n\nthree 𝄞 {four}\n";

export function a_line_and_a_column_are_an_offset_and_the_other_way_round() {
  for (const [line, column, offset] of [
    [1, 1, 0],
    [1, 5, 4],
    [2, 1, 10],
    [3, 9, 20],
  ]) {
    equal(offsetOf(TEXT, line, column), offset);
    equal(placeAt(TEXT, offset), { line, column });
  }
}

export function what_is_past_a_line_or_the_text_is_its_end() {
  equal(offsetOf(TEXT, 1, 90), 9);
  equal(offsetOf(TEXT, 9), TEXT.length);
}

export function a_slip_lies_where_its_words_are_also_behind_a_letter_of_two_halves() {
  const found = stretches(TEXT, [
    { line: 3, column: 9, slip: "{four}" },
    { line: 1, column: 5, slip: "{two}" },
  ]);
  equal(
    found.map(({ start, end }) => TEXT.slice(start, end)),
    ["{two}", "{four}"],
  );
}

export function a_slip_without_words_or_over_another_is_left_out() {
  const found = stretches(TEXT, [
    { line: 2, column: 1, slip: "" },
    { line: 1, column: 5, slip: "{two}" },
    { line: 1, column: 6, slip: "two" },
    { line: 1, column: 5, slip: "elsewhere" },
  ]);
  equal(found.length, 1);
}

export function a_mistake_past_the_end_of_its_line_is_that_of_the_line() {
  const [{ start, end }] = stretches("  at:\nx", [{ line: 1, column: 6, slip: "at:" }]);
  equal([start, end], [2, 5]);
}

export function slips_before_a_change_stay_those_behind_go_along_those_in_it_are_gone() {
  const found = stretches(TEXT, [
    { line: 1, column: 5, slip: "{two}" },
    { line: 3, column: 9, slip: "{four}" },
  ]);
  const typed = TEXT.replace("three", "number three");
  equal(
    moved(found, TEXT, typed).map(({ start, end }) => typed.slice(start, end)),
    ["{two}", "{four}"],
  );
  equal(moved(found, TEXT, TEXT.replace("{four}", "{for}")).length, 1);
}
