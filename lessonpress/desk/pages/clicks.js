// One placing made of many clicks on the same point, as `desk/files/clicks.py` makes it, whose answer has the
// last word: the page shows it meanwhile. A test holds the two to each other.

const ENOUGH = 3; // clicks from which on their spread is worth more than the usual error of a click

/** To a hundredth of a px, as marks.yaml keeps it. */
export function rounded(number) {
  return Math.round(number * 100) / 100;
}

/** The standard deviation of one click, px, each axis, both axes' variances averaged; null for too few. */
export function spread(points) {
  if (points.length < ENOUGH) return null;
  const squares = (axis) =>
    points.reduce((sum, point) => sum + (point[axis] - mean(points, axis)) ** 2, 0) /
    (points.length - 1);
  return Math.sqrt((squares(0) + squares(1)) / 2);
}

/** [x, y] of the mean of clicks, from three on [x, y, u]. least: px that u is not under. */
export function placing(points, least) {
  const u = spread(points);
  const at = [rounded(mean(points, 0)), rounded(mean(points, 1))];
  return u === null ? at : [...at, rounded(Math.max(least, u))];
}

function mean(points, axis) {
  return points.reduce((sum, point) => sum + point[axis], 0) / points.length;
}
