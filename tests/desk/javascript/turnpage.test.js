import { turnInPlace } from "/pages/turnpage.js";
import { equal } from "./check.js";

const PICTURE = '<img src="data:image/gif;base64,R0lGODlhAQABAAAAACw=" alt="">';

function page(body, { title = "One", style = "a.css", of = "" } = {}) {
  const head = `<title>${title}</title><link rel="stylesheet" href="${style}">`;
  return `<!doctype html><html lang="en"${of}><head>${head}</head><body>${body}</body></html>`;
}

const read = (text) => new DOMParser().parseFromString(text, "text/html");
const whole = (one) => one.documentElement.outerHTML;

export function what_comes_out_is_the_new_page_whatever_was_there() {
  const parts = [
    "<p>One word.</p>",
    '<p class="a">One word more.</p>',
    `<figure id="plate-x">${PICTURE}<figcaption>It leans <b>4</b>.</figcaption></figure>`,
    `<figure id="plate-y">${PICTURE}<figcaption>It leans <b>5</b>.</figcaption></figure>`,
    '<svg viewBox="0 0 9 9"><use xlink:href="#a"></use><path d="M0 0"></path></svg>',
    "<ul><li>a</li><li>b</li></ul>",
    "<ul><li>b</li><li>c</li><li>a</li></ul>",
    "words of their own",
    "<!-- said -->",
  ];
  let seed = 7;
  const chance = (most) => (seed = (seed * 16807) % 2147483647) % most;
  const some = () => Array.from({ length: chance(7) }, () => parts[chance(parts.length)]).join("\n");
  const inside = read(page(some()));
  for (let n = 0; n < 300; n++) {
    const text = page(some(), { title: `T${chance(3)}`, of: chance(2) ? ' class="b"' : "" });
    equal(turnInPlace(inside, text), true);
    equal(whole(inside), whole(read(text)));
  }
}

export function pictures_that_both_pages_have_stay_in_the_document() {
  const plate = (id, words) => `<figure id="${id}"><div>${PICTURE}</div><p>${words}</p></figure>`;
  const inside = read(page(`<h1>A</h1>${plate("one", "4")}<p>b</p>${plate("two", "5")}`));
  const before = [...inside.images];
  turnInPlace(
    inside,
    page(`<h1>A!</h1><p>new</p>${plate("one", "4")}<p>c</p>${plate("two", "6")}<p>d</p>`),
  );
  equal(
    [...inside.images].map((one) => before.indexOf(one)),
    [0, 1],
  );
}

export function a_page_with_other_styles_is_left_as_it_is() {
  const inside = read(page("<p>a</p>"));
  equal(turnInPlace(inside, page("<p>b</p>", { style: "b.css" })), false);
  equal(inside.body.textContent, "a");
}
