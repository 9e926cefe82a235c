// A finger drawn sideways over a picture.

const FAR = 40; // CSS px that it goes at least
const STEEP = 1.5; // times as far sideways as up or down, else the page is scrolled

/** act(1) where the finger goes to the left, as a leaf is turned; act(-1) to the right. */
export function onSwipe(element, act) {
  let start = null;
  element.addEventListener("pointerdown", (event) => {
    // a second finger is never primary; the first may have gone up elsewhere, where two opened the picture
    if (event.pointerType === "touch") start = event.isPrimary ? event : null;
  });
  element.addEventListener("pointerup", (event) => {
    if (!start || event.pointerId !== start.pointerId) return;
    const across = event.clientX - start.clientX;
    const down = Math.abs(event.clientY - start.clientY);
    start = null;
    if (Math.abs(across) >= FAR && Math.abs(across) >= STEEP * down) act(across < 0 ? 1 : -1);
  });
  element.addEventListener("pointercancel", () => {
    start = null;
  });
}
