// The reader's choices: kept on this device, shown by the controls, put into attributes and into the address.
//
// scripts/chosen.js has put them on the root element already and does so again at each "chosen".

const KEY = "lessonpress";
const root = document.documentElement;
const forms = document.querySelectorAll("form.settings");
const PICTURES = "img, video, [role=img]";
const ATTRIBUTES = ["alt", "aria-label"];
const own = new WeakMap(); // element → by attribute what it says in the site's own reading

function chosen() {
  const { units, site, light = "", size = "" } = root.dataset;
  return { units, site, light, size, side: root.hasAttribute("data-turned") ? "turned" : "" };
}

function keep(all) {
  try {
    localStorage.setItem(KEY, JSON.stringify(all));
  } catch {
    // a browser that keeps nothing still shows it on this page
  }
}

function choose(name, value) {
  const { site, ...all } = { ...chosen(), [name]: value };
  if (all.units === site) delete all.units; // so that another site of this host keeps its own
  keep(all);
  dispatchEvent(new CustomEvent("chosen", { detail: all }));
}

// Alt texts and names of pictures, as data-alt-cm and its kin have them; of several the one that says most.
function putWords() {
  const { units, site, side } = chosen();
  const reading = [units === site ? "" : units, side].filter(Boolean);
  const ways = reading.length > 1 ? [reading.join("-"), ...reading] : reading;
  for (const element of document.querySelectorAll(PICTURES)) {
    for (const name of ATTRIBUTES.filter((each) => element.hasAttribute(each))) {
      if (!own.has(element)) own.set(element, {});
      own.get(element)[name] ??= element.getAttribute(name);
      const said = ways
        .map((way) => element.getAttribute(`data-${name}-${way}`))
        .find((words) => words !== null);
      element.setAttribute(name, said ?? own.get(element)[name]);
    }
  }
}

function check() {
  const all = chosen();
  for (const form of forms) {
    for (const input of form.elements) {
      if (input.type === "radio") input.checked = input.value === all[input.name];
    }
  }
}

// For those to whom the reader sends it: what changes what the page shows, where it is not the site's own.
function putAddress() {
  if (!document.querySelector(".lesson")) return;
  const { units, site, side } = chosen();
  const address = new URL(location.href);
  for (const [name, value] of [
    ["units", units === site ? "" : units],
    ["side", side],
  ]) {
    if (value) address.searchParams.set(name, value);
    else address.searchParams.delete(name);
  }
  if (address.href !== location.href) history.replaceState(history.state, "", address);
}

// The browser's own frame round the page takes the page's colour.
function putColour() {
  const paper = getComputedStyle(root).backgroundColor;
  for (const meta of document.querySelectorAll("meta[name=theme-color]")) meta.content = paper;
}

function show() {
  check();
  putWords();
  putAddress();
  putColour();
}

for (const form of forms) {
  form.addEventListener("change", (event) => {
    const { name, value } = event.target;
    // an address that says otherwise would go before it
    const address = new URL(location.href);
    address.searchParams.delete(name);
    if (address.href !== location.href) history.replaceState(history.state, "", address);
    choose(name, value);
    show();
  });
}

for (const tray of document.querySelectorAll("details.tray")) {
  tray.addEventListener("keydown", (event) => {
    if (event.key !== "Escape" || !tray.open) return;
    tray.open = false;
    tray.querySelector("summary").focus();
  });
}

matchMedia("(prefers-color-scheme: dark)").addEventListener("change", putColour);
addEventListener("storage", show);
show();
