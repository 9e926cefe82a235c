// Pictures fetched before they are asked for, and waited for until they can be seen.

const AHEAD = 3; // pictures on either side of the one in view

/** Those near the one in view are fetched; the others wait. */
export function fetchAhead(panels, at) {
  for (const panel of panels.slice(Math.max(0, at - AHEAD), at + AHEAD + 1)) {
    const picture = panel.querySelector("img");
    if (picture) picture.loading = "eager";
  }
}

/** Until a panel's picture can be painted at once; a picture that does not come is not waited for. */
export async function whenSeen(panel) {
  const picture = panel.querySelector("img");
  if (picture) await picture.decode().catch(() => null);
}
