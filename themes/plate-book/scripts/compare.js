// The two swings of a pair: side by side, one over the other with a divider, or changing places.

const TURN = 1000; // ms that each is seen: far from the three flashes a second of WCAG 2.2, 2.3.1

/** Gives a pair its choice of ways. Nothing changes places by itself where less motion is asked for. */
export function comparePair(plate, controls) {
  const choices = [...controls.querySelectorAll("[data-way]")];
  const divider = controls.querySelector("input");
  const other = controls.querySelector("[data-does=other]");
  let turning = 0;
  const turn = () => plate.classList.toggle("second-shown");
  const choose = (way) => {
    clearInterval(turning);
    for (const choice of choices) choice.ariaPressed = String(choice.dataset.way === way);
    plate.classList.toggle("over", way !== "beside");
    plate.classList.remove("second-shown");
    plate.style.setProperty("--divider", way === "divided" ? `${divider.value}%` : "100%");
    divider.hidden = way !== "divided";
    other.hidden = way !== "blinking";
    const isStill = matchMedia("(prefers-reduced-motion: reduce)").matches;
    if (way === "blinking" && !isStill) turning = setInterval(turn, TURN);
  };
  for (const choice of choices) choice.addEventListener("click", () => choose(choice.dataset.way));
  divider.addEventListener("input", () => choose("divided"));
  other.addEventListener("click", () => {
    clearInterval(turning); // by hand from now on
    turn();
  });
  controls.hidden = false;
}
