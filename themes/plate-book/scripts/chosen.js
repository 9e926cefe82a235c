// What the reader has chosen, put on the page before anything of it is painted: loaded as it stands, in the head.
//
// Kept on this device under KEY; what the address says goes before it, for this page alone. The root element then
// says it by attributes, from which the style sheet shows what is for this reader (styles/mine.css).
(() => {
  const KEY = "lessonpress";
  const IN_ADDRESS = ["units", "side"];
  const root = document.documentElement;

  function kept() {
    try {
      return JSON.parse(localStorage.getItem(KEY)) ?? {};
    } catch {
      return {}; // a browser that keeps nothing, or something else under the name
    }
  }

  function set(name, value) {
    if (value) root.dataset[name] = value;
    else delete root.dataset[name];
  }

  function one(value, ...known) {
    return known.includes(value) ? value : "";
  }

  function apply(event) {
    const asked = new URLSearchParams(location.search);
    const chosen = event?.detail ?? kept();
    for (const name of IN_ADDRESS) chosen[name] = asked.get(name) ?? chosen[name];
    root.dataset.units = one(chosen.units, "in", "cm") || root.dataset.site;
    root.toggleAttribute("data-turned", chosen.side === "turned");
    set("light", one(chosen.light, "day", "night"));
    set("size", one(chosen.size, "larger", "largest"));
  }

  if (location.protocol === "file:") return; // from where no browser loads the modules that the controls need
  root.dataset.scripts = "";
  apply();
  addEventListener("chosen", apply); // by scripts/mine.js, with all choices
  addEventListener("storage", apply); // in another window of this site
})();
