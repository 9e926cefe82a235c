import { drop, state, whenDropped } from "/pages/state.js";
import { equal } from "./check.js";

export function dropping_leaves_nothing_of_what_was_open() {
  drop();
  const begun = JSON.stringify(state);
  state.clip = { name: "dune" };
  state.hand = "navel";
  state.byHand.navel = { 3: [1, 2] };
  state.clicks.at.push([1, 2]);
  state.turn.push("c7");
  drop();
  equal(JSON.stringify(state), begun);
}

export function what_the_author_set_for_the_desk_stays() {
  state.hold = true;
  state.site = { title: "Notebook" };
  drop();
  equal([state.hold, state.site.title], [true, "Notebook"]);
}

export function what_runs_is_stopped_while_its_state_is_there() {
  let seen = null;
  whenDropped(() => (seen ??= state.mode));
  state.mode = "room";
  drop();
  equal([seen, state.mode], ["room", "mark"]);
}
