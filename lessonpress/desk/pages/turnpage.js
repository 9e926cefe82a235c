// A page turned where it stands: what both pages have in common stays in the document, so that pictures that
// are shown are not loaded again and the reader keeps the place. What comes out is the new page, to the last
// attribute.

/** Makes a document the page of `text`; false, and nothing done, where that has other styles. */
export function turnInPlace(inside, text) {
  const next = new DOMParser().parseFromString(text, "text/html");
  if (styles(inside) !== styles(next)) return false;
  become(inside.documentElement, next.documentElement);
  return true;
}

function styles(page) {
  return [...page.querySelectorAll("link[rel~=stylesheet], style")]
    .map((one) => one.outerHTML)
    .join("\n");
}

function become(old, next) {
  const gone = Array.from(old.attributes, (one) => one.name).filter((name) => !next.hasAttribute(name));
  for (const name of gone) old.removeAttribute(name);
  for (const { name, value } of next.attributes)
    if (old.getAttribute(name) !== value) old.setAttributeNode(next.getAttributeNode(name).cloneNode());
  let at = old.firstChild;
  const wanted = [...next.childNodes];
  for (const [n, one] of wanted.entries()) {
    const same = at && sameFrom(at, one);
    if (same) {
      while (at !== same) at = without(at);
      at = at.nextSibling;
    } else if (at && alike(at, one) && !wanted.slice(n + 1).some((other) => at.isEqualNode(other))) {
      if (at.nodeType === Node.ELEMENT_NODE) become(at, one);
      else at.data = one.data;
      at = at.nextSibling;
    } else old.insertBefore(old.ownerDocument.adoptNode(one), at);
  }
  while (at) at = without(at);
}

/** This node, or of elements the next after it, that is the same as `one`. */
function sameFrom(at, one) {
  if (at.isEqualNode(one)) return at;
  if (one.nodeType !== Node.ELEMENT_NODE) return null;
  let later = at.nextSibling;
  while (later && !later.isEqualNode(one)) later = later.nextSibling;
  return later;
}

function alike(old, one) {
  return old.nodeName === one.nodeName && (old.id ?? "") === (one.id ?? "");
}

/** Takes a node out; the one after it. */
function without(node) {
  const after = node.nextSibling;
  node.remove();
  return after;
}
