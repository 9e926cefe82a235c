// All pictures of a lesson on one rule, those of its plates named: leafed through like a book.

const LONG = 6; // of the rule's 30 units: where the tick of a named picture begins
const SHORT = 10; // and of one between them

export class Leafing {
  /** titles: what is said of each picture. show(at): shows one; told what is shown by tell(at). */
  constructor(dialog, panels, titles, show) {
    const part = dialog.querySelector(".leafing");
    this.rule = part.querySelector("input");
    this.titles = titles;
    part.hidden = panels.length < 2;
    const last = panels.length - 1;
    this.rule.max = last;
    const ticks = panels.map(
      (panel, at) => `M${(100 * at) / last} ${panel.matches(".between") ? SHORT : LONG}V15`,
    );
    if (last > 0) part.querySelector("path").setAttribute("d", `M0 15H100${ticks.join("")}`);
    this.names = [...panels.entries()]
      .filter(([, panel]) => !panel.matches(".between"))
      .map(([at]) => nameOf(at, titles[at], show));
    part.querySelector(".names").append(...this.names);
    this.rule.addEventListener("input", () => show(Number(this.rule.value)));
  }

  tell(at) {
    this.rule.value = at;
    this.rule.ariaValueText = this.titles[at];
    for (const name of this.names) {
      const isCurrent = Number(name.dataset.picture) === at;
      name.ariaCurrent = isCurrent ? "true" : null;
      if (isCurrent)
        name.parentElement.scrollLeft = name.offsetLeft - name.parentElement.offsetWidth / 2;
    }
  }
}

/** A button of the plate and the event: the time and the frame are said where the picture is shown. */
function nameOf(at, title, show) {
  const button = document.createElement("button");
  Object.assign(button, { type: "button", textContent: title.split(", ")[0] });
  button.dataset.picture = at;
  button.addEventListener("click", () => show(at));
  return button;
}
