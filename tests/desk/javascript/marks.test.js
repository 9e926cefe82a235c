import { beside, gaps, placeOf, suggestedAt, suggestedHere, trackRows } from "/pages/marks.js";
import { drop, state } from "/pages/state.js";
import { equal } from "./check.js";

function placed() {
  drop();
  state.site = { clips: [] };
  state.clip = {
    default_u: 1.5,
    events: { setup: 3, top: 26 },
    middles: { "hip-middle": ["lead-hip", "trail-hip"] },
    room: ["tape-a"],
  };
  state.byHand = {
    "lead-hip": { 3: [10, 20, 3] },
    "trail-hip": { 3: [30, 40, 4] },
    navel: { 3: [5, 6], 26: [7, 8] },
    "tape-a": { 0: [1, 1] },
  };
  state.tracks = { navel: { 3: [9, 9, 1, 3], 4: [5.5, 6.5, 0.4, 3] } };
}

export function what_a_hand_placed_wins_over_what_was_carried() {
  placed();
  equal(placeOf("navel", 3), { x: 5, y: 6, u: 1.5, by: "hand" });
  equal(placeOf("navel", 4), { x: 5.5, y: 6.5, u: 0.4, by: "track" });
  equal(placeOf("navel", 5), null);
}

export function a_mark_of_the_room_is_where_it_is_on_every_frame() {
  placed();
  equal(placeOf("tape-a", 90), { x: 1, y: 1, u: 1.5, by: "room" });
}

export function a_middle_is_the_mean_and_its_u_that_of_a_mean() {
  placed();
  equal(placeOf("hip-middle", 3), { x: 20, y: 30, u: 2.5, by: "middle" });
  equal(placeOf("hip-middle", 26), null);
}

export function the_nearest_placings_by_hand_are_told() {
  placed();
  equal(beside("navel", 10), { last: { frame: 3, x: 5, y: 6 }, next: { frame: 26, x: 7, y: 8 } });
}

export function carried_rows_come_by_frame() {
  placed();
  equal(trackRows("navel", 4, 9), [[4, 5.5, 6.5, 0.4]]);
}

export function without_a_lesson_marks_are_missed_at_the_events() {
  placed();
  equal(
    gaps().map(({ mark, frame }) => [mark, frame]),
    [
      ["trail-hip", 26],
      ["lead-hip", 26],
    ],
  );
}

export function a_suggestion_is_no_mark_until_it_is_accepted() {
  placed();
  state.suggested = { crown: { 3: [1, 2, 9] }, navel: { 3: [8, 8, 9], 4: [8, 8, 9] } };
  state.frame = 3;
  equal(placeOf("crown", 3), null);
  equal(suggestedHere(), [["crown", { x: 1, y: 2, u: 9 }]]);
  equal(suggestedAt("navel", 4), null); // it was carried there
  state.byHand.crown = { 3: [1, 2, 9, "suggested"] };
  equal(placeOf("crown", 3), { x: 1, y: 2, u: 9, by: "suggested" });
  equal(suggestedHere(), []);
}
