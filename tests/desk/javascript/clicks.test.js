import { placing, rounded, spread } from "/pages/clicks.js";
import { equal } from "./check.js";

export function one_click_is_the_place_itself_to_a_hundredth() {
  equal(placing([[10.123, 20.456]], 0.5), [10.12, 20.46]);
}

export function two_clicks_say_nothing_of_their_spread() {
  equal(
    spread([
      [1, 2],
      [3, 4],
    ]),
    null,
  );
  equal(
    placing(
      [
        [10, 20],
        [11, 21],
      ],
      0.5,
    ),
    [10.5, 20.5],
  );
}

export function clicks_that_agree_are_no_better_than_the_least() {
  equal(
    placing(
      Array.from({ length: 5 }, () => [10, 20]),
      0.5,
    ),
    [10, 20, 0.5],
  );
}

export function a_rounded_number_has_two_decimals() {
  equal([1.005001, 2.994999].map(rounded), [1.01, 2.99]);
}
