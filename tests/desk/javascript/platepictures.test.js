import {
  blockKind,
  choices,
  isBegun,
  nameOf,
  NOTHING_CHOSEN,
  pictureKeys,
  suffixOf,
} from "/pages/platepictures.js";
import { state } from "/pages/state.js";
import { equal } from "./check.js";

function opened(events = { setup: 3, top: 26, impact: 33 }) {
  const clip = (name, own) => ({ name, title: name, has_card: true, events: own });
  state.site = {
    clips: [clip("dune", Object.keys(events)), clip("shingle", ["setup", "impact"])],
    numbers: {},
  };
  state.clip = { name: "dune", events };
  state.frame = 33;
}

const plate = (figure, chosen = {}) => ({ figure, frame: null, ...NOTHING_CHOSEN, ...chosen });

export function what_a_plate_may_show_depends_on_events_and_other_clips() {
  opened();
  equal(
    choices().map(([figure]) => figure),
    ["frame", "strip", "loop", "pair", "progress"],
  );
  state.site.clips.pop();
  opened({});
  state.site.clips.pop();
  equal(
    choices().map(([figure]) => figure),
    ["frame"],
  );
}

export function a_frame_is_at_its_event_or_its_number() {
  opened();
  equal(pictureKeys(plate("frame")), { at: "impact" });
  equal(pictureKeys(plate("frame", { frame: 30 })), { at: 30 });
}

export function a_strip_has_all_events_until_some_are_chosen_and_never_none() {
  opened();
  equal(pictureKeys(plate("strip")), { frames: ["setup", "top", "impact"] });
  equal(pictureKeys(plate("strip", { events: ["impact", "setup"] })), { frames: ["setup", "impact"] });
  equal(pictureKeys(plate("strip", { events: [] })), { frames: ["setup", "top", "impact"] });
}

export function a_loop_goes_from_the_first_event_to_the_last_until_chosen() {
  opened();
  equal(pictureKeys(plate("loop")), { from: "setup", to: "impact", slowed: 4 });
  equal(pictureKeys(plate("loop", { stretch: { from: "top" } })), {
    from: "top",
    to: "impact",
    slowed: 4,
  });
}

export function a_pair_has_this_picture_first_and_another_event_or_clip_beside_it() {
  opened();
  equal(pictureKeys(plate("pair")), {
    of: [
      { clip: "dune", at: "impact" },
      { clip: "dune", at: "setup" },
    ],
  });
  equal(
    pictureKeys(plate("pair", { second: { clip: "shingle", at: "impact", mirrored: true } })).of[1],
    { clip: "shingle", at: "impact", mirrored: true },
  );
}

export function a_progress_follows_this_clip_and_those_chosen_that_have_the_event() {
  opened();
  equal(pictureKeys(plate("progress")), { at: "impact", clips: ["dune", "shingle"] });
  equal(pictureKeys(plate("progress", { over: [] })).clips, ["dune"]);
  state.frame = 26;
  equal(pictureKeys(plate("progress")), { at: "top", clips: ["dune"] });
}

export function a_progress_over_lessons_follows_a_number_that_they_have_and_draws_nothing() {
  opened();
  state.site.numbers = { back: ["one", "two", "three"], "lean.top": ["one", "two"] };
  equal(choices().at(-1)[0], "lessons");
  equal(pictureKeys(plate("lessons")), { measure: "back", over: ["one", "two", "three"] });
  const chosen = plate("lessons", { followed: "lean.top", lessons: ["two"] });
  equal(pictureKeys(chosen), { measure: "lean.top", over: ["two"] });
  equal(nameOf(chosen), "lean-top");
  equal([blockKind(chosen), isBegun({ ...chosen, overlays: [] })], ["progress", true]);
}

export function numbers_end_in_what_tells_the_pictures_apart() {
  opened();
  equal(
    ["frame", "strip", "loop", "pair", "progress"].map((figure) => suffixOf(plate(figure))),
    ["", ".impact", "", ".first", ".dune"],
  );
  equal(
    ["frame", "strip", "pair"].map((figure) => nameOf(plate(figure))),
    ["impact", "sequence", "pair"],
  );
}
