import { nudge } from "/pages/hand.js";
import { drop, state } from "/pages/state.js";
import { atSuggestion, reasons } from "/pages/suggest.js";
import { equal } from "./check.js";

export function reasons_are_told_with_their_marks_or_how_many_these_are() {
  drop();
  state.site = { clips: [] };
  const unclear = Object.fromEntries(["a", "b", "c", "d", "e"].map((mark) => [mark, "unclear"]));
  equal(reasons({ "lead-hip": "hidden", "trail-hip": "hidden", ...unclear }), [
    "Lead hip, Trail hip: hidden",
    "five other marks: unclear",
  ]);
}

export function to_place_at_the_cross_accepts_only_what_is_suggested_just_there() {
  drop();
  state.clip = { room: [], middles: {}, default_u: 1.5 };
  Object.assign(state, { hand: "crown", frame: 3, suggested: { crown: { 3: [1.5, 2, 9] } } });
  state.aim = { x: 1.5, y: 2 };
  equal(atSuggestion(), true);
  state.aim = { x: 2.5, y: 2 };
  equal(atSuggestion(), false);
  state.hand = null;
  equal(atSuggestion(), false);
}

export function one_that_was_accepted_and_is_nudged_is_a_mark_by_hand() {
  drop();
  state.clip = { name: "dune", room: [], middles: {}, default_u: 1.5, size: [99, 99], events: {} };
  state.byHand = { crown: { 3: [1.5, 2, 9, "suggested"] }, navel: { 3: [1.5, 2, 0.8] } };
  Object.assign(state, { hand: "crown", frame: 3 });
  nudge(1, 0);
  equal(state.byHand.crown[3], [2.5, 2]);
  state.hand = "navel";
  nudge(1, 0);
  equal(state.byHand.navel[3], [2.5, 2, 0.8]);
}
