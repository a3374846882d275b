// Coordinates that are sums of numbers and named lengths, and the smooth lines through them.
// Points are [x, y] in mm; a path is a list of [letter, points] with the letters M, L, C and Z.
// Twin of orders/figure/form.py: the same sums in the same order.

const TERM = /([+-]?)(\d*\.?\d*)([A-Za-z][A-Za-z0-9]*)?/y;
const known = new Map();

function termsOf(form) {
  if (known.has(form)) return known.get(form);
  const terms = [];
  let at = 0;
  while (at < form.length) {
    TERM.lastIndex = at;
    const match = TERM.exec(form);
    if (!match || TERM.lastIndex === at || !(match[2] || match[3])) {
      throw new Error(`not a sum of numbers and named lengths: ${form}`);
    }
    const size = match[2] ? Number(match[2]) : 1;
    terms.push([match[1] === "-" ? -size : size, match[3] || ""]);
    at = TERM.lastIndex;
  }
  known.set(form, terms);
  return terms;
}

/** Value of a form such as "0.5L-har+12", in mm. Throws for a length that has no name here. */
export function valueOf(form, lengths) {
  let total = 0;
  for (const [size, name] of termsOf(form)) {
    if (name && !(name in lengths)) throw new Error(`no such length: ${name}`);
    total += name ? size * lengths[name] : size;
  }
  return total;
}

/** The point "x,y" of two forms, in mm. */
export function pointOf(pair, lengths) {
  const [x, y] = pair.split(",");
  return [valueOf(x, lengths), valueOf(y, lengths)];
}

/** The path written as M, L, Z and ~ (a smooth line through the points after it). */
export function pathOf(text, lengths) {
  const path = [];
  let letter = "";
  let smooth = [];
  let here = [0, 0];
  for (const token of [...text.split(/\s+/), "."]) {
    if (token.includes(",")) {
      here = pointOf(token, lengths);
      if (letter === "~") smooth.push(here);
      else path.push([letter, [here]]);
      continue;
    }
    if (smooth.length > 1) for (const piece of spline(smooth)) path.push(["C", piece]);
    smooth = token === "~" ? [here] : [];
    letter = token;
    if (token === "Z") path.push(["Z", []]);
  }
  return path;
}

/** Cubic pieces through the points: each leaves along the line between its neighbours, handles a third of the
 *  chord long; the first and the last piece bend like a parabola. */
export function spline(points) {
  const last = points.length - 1;
  if (last === 1) return [[points[0], points[1], points[1]]];
  const ways = points.map((_, i) => (i > 0 && i < last ? wayOf(points[i - 1], points[i + 1]) : [0, 0]));
  const pieces = [];
  for (let i = 0; i < last; i++) {
    const [ax, ay] = points[i];
    const [bx, by] = points[i + 1];
    const reach = Math.sqrt((bx - ax) * (bx - ax) + (by - ay) * (by - ay)) / 3;
    let one = [ax + ways[i][0] * reach, ay + ways[i][1] * reach];
    let two = [bx - ways[i + 1][0] * reach, by - ways[i + 1][1] * reach];
    if (i === 0) one = [(ax + two[0]) / 2, (ay + two[1]) / 2];
    if (i === last - 1) two = [(bx + one[0]) / 2, (by + one[1]) / 2];
    pieces.push([one, two, [bx, by]]);
  }
  return pieces;
}

function wayOf(a, b) {
  const x = b[0] - a[0];
  const y = b[1] - a[1];
  const size = Math.sqrt(x * x + y * y);
  return size > 0 ? [x / size, y / size] : [0, 0];
}

/** The path turned about a point, positive from forward towards up. */
export function turned(path, about, degrees) {
  const angle = (degrees * Math.PI) / 180;
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const turn = (point) => {
    const x = point[0] - about[0];
    const y = point[1] - about[1];
    return [about[0] + x * c + y * s, about[1] - x * s + y * c];
  };
  return path.map(([letter, points]) => [letter, points.map(turn)]);
}
