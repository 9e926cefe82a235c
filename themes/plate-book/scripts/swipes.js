// A finger drawn sideways over a picture.

const FAR = 40; // CSS px that it goes at least
const STEEP = 1.5; // times as far sideways as up or down, else the page is scrolled

/** act(1) where the finger goes to the left, as a leaf is turned; act(-1) to the right. */
export function onSwipe(element, act) {
  let start = null;
  let fingers = 0;
  element.addEventListener("pointerdown", (event) => {
    if (event.pointerType !== "touch") return;
    fingers += 1;
    start = fingers === 1 ? event : null;
  });
  const end = (event) => {
    if (event.pointerType === "touch") fingers = Math.max(0, fingers - 1);
  };
  element.addEventListener("pointerup", (event) => {
    end(event);
    if (!start || event.pointerId !== start.pointerId) return;
    const across = event.clientX - start.clientX;
    const down = Math.abs(event.clientY - start.clientY);
    start = null;
    if (Math.abs(across) >= FAR && Math.abs(across) >= STEEP * down) act(across < 0 ? 1 : -1);
  });
  element.addEventListener("pointercancel", end);
}
