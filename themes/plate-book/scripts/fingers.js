// One finger or the mouse moves a picture, two fingers change its size, a double tap does so at once.

const TAP = 300; // ms between the taps of a double tap
const STILL = 12; // CSS px within which a finger has only tapped
const SWIPE = 60; // CSS px that a finger goes sideways to turn to the next picture

/** Calls what is given of onMove(across, down), onPinch(times, x, y), onDouble(x, y), onSwipe(by), onTwo(). */
export function onFingers(element, { onMove, onPinch, onDouble, onSwipe, onTwo }) {
  const down = new Map();
  let start = null;
  let tapped = 0;
  element.addEventListener("pointerdown", (event) => {
    if (event.pointerType === "mouse" && (onTwo || event.button)) return;
    if (event.isPrimary) down.clear(); // of others no end was heard: the element has moved under them
    down.set(event.pointerId, event);
    start = down.size === 1 ? event : null;
    if (down.size === 2) onTwo?.();
  });
  element.addEventListener("pointermove", (event) => {
    const last = down.get(event.pointerId);
    if (!last) return;
    const before = spanOf(down);
    down.set(event.pointerId, event);
    if (down.size === 1) onMove?.(event.clientX - last.clientX, event.clientY - last.clientY);
    if (down.size !== 2) return;
    const now = spanOf(down);
    if (before.length > 0) onPinch?.(now.length / before.length, now.x, now.y);
  });
  const end = (event) => {
    if (!down.delete(event.pointerId) || event.type === "pointercancel" || !start) return;
    const [across, along] = [event.clientX - start.clientX, event.clientY - start.clientY];
    start = null;
    if (Math.hypot(across, along) > STILL) {
      if (event.pointerType === "touch" && Math.abs(across) > Math.max(SWIPE, 1.5 * Math.abs(along)))
        onSwipe?.(across < 0 ? 1 : -1);
      return;
    }
    if (event.timeStamp - tapped < TAP) onDouble?.(event.clientX, event.clientY);
    tapped = event.timeStamp;
  };
  for (const name of ["pointerup", "pointercancel", "pointerleave"]) element.addEventListener(name, end);
}

/** How far two fingers are apart, and the point between them. */
function spanOf(down) {
  const [one, other = one] = [...down.values()];
  return {
    length: Math.hypot(one.clientX - other.clientX, one.clientY - other.clientY),
    x: (one.clientX + other.clientX) / 2,
    y: (one.clientY + other.clientY) / 2,
  };
}
