import { turned } from "/pages/saving.js";
import { equal } from "./check.js";

export function a_doing_turned_round_puts_back_what_was_there_last_edit_first() {
  const edits = [
    { mark: "navel", was: null, to: [1, 2] },
    { mark: "navel", was: [1, 2], to: [3, 4] },
  ];
  const doing = { where: "marks", clip: "dune", edits };
  equal(turned(doing).edits, [
    { mark: "navel", was: [3, 4], to: [1, 2] },
    { mark: "navel", was: [1, 2], to: null },
  ]);
  equal(turned(turned(doing)), doing);
}
