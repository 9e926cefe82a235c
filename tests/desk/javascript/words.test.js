import { state } from "/pages/state.js";
import {
  capital,
  eventsInOrder,
  frameWords,
  grouped,
  instantOf,
  markInText,
  markWords,
  plural,
} from "/pages/words.js";
import { equal } from "./check.js";

function opened() {
  state.site = { implement: { name: "club", head: "clubhead" }, clips: [] };
  state.clip = {
    events: { top: 26, setup: 3 },
    seconds: [0, 0.01, 0.02, 0.03],
    middles: { "hip-middle": ["lead-hip", "trail-hip"] },
    room: ["tape-a"],
  };
}

export function marks_are_said_in_words_and_the_implement_by_its_own() {
  opened();
  equal(["lead-hip", "implement-head", "implement-grip"].map(markWords), [
    "Lead hip",
    "Clubhead",
    "Grip",
  ]);
}

export function a_middle_is_said_to_be_one() {
  opened();
  equal(markWords("hip-middle"), "Hip middle, middle");
}

export function within_a_sentence_only_c7_keeps_its_capital() {
  opened();
  equal(["lead-hip", "c7"].map(markInText), ["lead hip", "C7"]);
}

export function events_come_in_the_order_of_the_swing() {
  opened();
  equal(eventsInOrder(), [
    ["setup", 3],
    ["top", 26],
  ]);
}

export function a_frame_is_said_by_event_time_and_number() {
  opened();
  equal(frameWords(3), "setup, 0.03 s, frame 3");
  equal(frameWords(9), "frame 9");
  equal([instantOf(26), instantOf(27)], ["top", 27]);
}

export function names_that_no_group_knows_come_last_and_the_room_after_them() {
  opened();
  equal(grouped(["tape-a", "navel", "belt"]), [
    ["Pelvis", ["navel"]],
    ["Others", ["belt"]],
    ["Room", ["tape-a"]],
  ]);
}

export function small_numbers_are_words() {
  equal(
    [plural(0, "lesson"), plural(1, "lesson"), plural(12, "lesson")],
    ["no lessons", "one lesson", "12 lessons"],
  );
  equal(capital("navel"), "Navel");
}
