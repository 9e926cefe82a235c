// Brightness and contrast of the view alone; the film and the plates stay as they were filmed.

import { button, h } from "./dom.js";
import { frameElement, lighten, view } from "./frame.js";

let slip = null;

export function makeLight() {
  slip = h(
    "section",
    { class: "light", hidden: true, "aria-label": "Light of the view" },
    dial("brightness", "Brightness"),
    dial("contrast", "Contrast"),
    button("As filmed", () => {
      lighten({});
      slip.querySelectorAll("input").forEach((one) => (one.value = 1));
    }),
    button("Close", switchLight),
  );
  return slip;
}

function dial(what, words) {
  const id = `light-${what}`;
  const line = h("input", { id, type: "range", min: "0.5", max: "4", step: "0.1", value: "1" });
  line.addEventListener("input", () =>
    lighten({ brightness: view.brightness, contrast: view.contrast, [what]: Number(line.value) }),
  );
  return [h("label", { for: id }, words), line];
}

export function switchLight() {
  slip.hidden = !slip.hidden;
  if (slip.hidden) frameElement.focus({ preventScroll: true });
  else slip.querySelector("input").focus();
}
