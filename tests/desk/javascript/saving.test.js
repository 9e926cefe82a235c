import { save, toldAtRest, turned } from "/pages/saving.js";
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

export async function what_is_asked_while_something_is_saved_is_asked_again() {
  const real = window.fetch;
  const headers = { "Content-Type": "application/json" };
  window.fetch = async () => new Response(JSON.stringify({ edits: [], version: "2" }), { headers });
  try {
    let asked = 0;
    const told = await toldAtRest(async () => {
      asked += 1;
      if (asked === 1) await save([{ where: "marks", clip: "dune", edits: [] }]);
      return asked;
    });
    equal(told, 2);
  } finally {
    window.fetch = real;
  }
}
