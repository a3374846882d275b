// One section of the shell: an ellipse, its girth, and what lies inside it. Twin: orders/reckoning/section.py,
// which tells the methods and their sources. All in mm.

/** A point this near to the long axis, as a share of the short half, counts as on it. */
const ON_AXIS = 1e-9;

function aboveZero(name, value) {
  if (!(value > 0 && value < Infinity)) throw new RangeError(`${name} is ${value}; it must be above 0`);
}

/** Perimeter of an ellipse by its half axes, in either order. */
export function perimeterMm(halfA, halfB) {
  aboveZero("half_a_mm", halfA);
  aboveZero("half_b_mm", halfB);
  let a = Math.max(halfA, halfB);
  let b = Math.min(halfA, halfB);
  let weight = 0.5;
  let c = Math.sqrt((a - b) * (a + b));
  let total = a * a - weight * c * c;
  while (a - b > 1e-15 * a) {
    [a, b, c] = [(a + b) / 2, Math.sqrt(a * b), (a - b) / 2];
    weight *= 2;
    total -= weight * c * c;
  }
  return (2 * Math.PI * total) / a;
}

/** Breadth and depth of the ellipse of that girth. */
export function axesMm(girthMm, depthOverBreadth) {
  aboveZero("girth_mm", girthMm);
  aboveZero("depth_over_breadth", depthOverBreadth);
  const breadth = girthMm / perimeterMm(0.5, depthOverBreadth / 2);
  return [breadth, breadth * depthOverBreadth];
}

/** Girth of the inside of a wall of even thickness. */
export function insideGirthMm(girthMm, wallMm) {
  const inside = girthMm - 2 * Math.PI * wallMm;
  if (!(wallMm >= 0 && inside > 0))
    throw new RangeError(`wall_mm is ${wallMm}; it must be 0 or more, and less than ${girthMm} / 2 pi mm`);
  return inside;
}

/** How far inside the ellipse a point lies, square to its edge; negative outside. x forward, y sideways. */
export function depthInsideMm(xMm, yMm, breadthMm, depthMm) {
  aboveZero("breadth_mm", breadthMm);
  aboveZero("depth_mm", depthMm);
  let [along, across, long, short] = [Math.abs(xMm), Math.abs(yMm), depthMm / 2, breadthMm / 2];
  if (short > long) [along, across, long, short] = [across, along, short, long];
  const distance = distanceToEllipse(long, short, along, across);
  return (along / long) ** 2 + (across / short) ** 2 > 1 ? -distance : distance;
}

function distanceToEllipse(long, short, along, across) {
  if (across <= ON_AXIS * short) return distanceOnLongAxis(long, short, along);
  if (along === 0) return Math.abs(across - short);
  const ratio = (long / short) ** 2;
  const s = bisected(ratio, along / long, across / short);
  return Math.hypot((ratio * along) / (s + ratio) - along, across / (s + 1) - across);
}

function distanceOnLongAxis(long, short, along) {
  const spread = long ** 2 - short ** 2;
  if (long * along >= spread) return Math.abs(along - long);
  const share = (long * along) / spread;
  return Math.hypot(long * share - along, short * Math.sqrt(1 - share * share));
}

/** The s at which (ratio z0 / (s + ratio))² + (z1 / (s + 1))² is 1; it falls as s grows. */
function bisected(ratio, z0, z1) {
  let low = z1 - 1;
  let high = Math.hypot(ratio * z0, z1) - 1;
  for (;;) {
    const middle = (low + high) / 2;
    if (!(low < middle && middle < high)) return middle;
    if (((ratio * z0) / (middle + ratio)) ** 2 + (z1 / (middle + 1)) ** 2 > 1) low = middle;
    else high = middle;
  }
}
