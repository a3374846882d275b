// The pen: millimetres in, SVG text out, rounded to a tenth of a pixel. Everything is laid out for a left leg, which
// points left from the outside; for a right leg the pen mirrors every place on its way out, never the lettering.
// Twin of orders/figure/pen.py.

/** The value to one decimal, halves up, as the twin in Python writes it. */
export const tenths = (value) => decimal(value, 10);

/** The value in whole `parts` (10, 100 ...) of one, halves up, without trailing zeros. */
export function decimal(value, parts) {
  const whole = Math.floor(value * parts + 0.5);
  const size = Math.abs(whole);
  const rest = String(parts + (size % parts)).slice(1).replace(/0+$/, "");
  return `${whole < 0 ? "-" : ""}${Math.floor(size / parts)}${rest ? "." : ""}${rest}`;
}

const ESCAPES = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#x27;" };

/** Text that is safe inside an element or a quoted attribute. */
export const escapeText = (text) => String(text).replace(/[&<>"']/g, (letter) => ESCAPES[letter]);

/** About how wide the words are, for keeping room, in px. */
export const lettersPx = (words, size = 14) => words.length * size * 0.56;

/** Writes elements of one picture of `width` px at `scale` px per mm. */
export class Pen {
  constructor(scale, width, mirrored) {
    Object.assign(this, { scale, width, mirrored, out: [], lettered: [], x0: 0, y0: 0, way: -1, lying: false });
  }

  /** Put the origin of the next view at (x0, y0) px; `way` -1 has x run left, 1 right. */
  standAt(x0, y0, way, lying = false) {
    Object.assign(this, { x0, y0, way, lying });
  }

  /** Where a point of the leg lies on the unmirrored picture, in px. */
  at(x, y) {
    if (this.lying) [x, y] = [y, -x];
    return [this.x0 + this.way * this.scale * x, this.y0 + this.scale * y];
  }

  /** x of the finished picture, in px. */
  across(x) {
    return this.mirrored ? this.width - x : x;
  }

  pair(x, y) {
    return `${tenths(this.across(x))} ${tenths(y)}`;
  }

  raw(text) {
    this.out.push(text);
  }

  /** A path in mm as the text of a d attribute. */
  d(path) {
    return path.map(([letter, points]) => letter + points.map(([x, y]) => this.pair(...this.at(x, y))).join(" ")).join("");
  }

  path(kind, path) {
    this.raw(`<path class="${kind}" d="${this.d(path)}"/>`);
  }

  /** A broken line through px points of the unmirrored picture. */
  linePx(kind, points, close = false) {
    const d = points.map(([x, y]) => this.pair(x, y)).join("L");
    this.raw(`<path class="${kind}" d="M${d}${close ? "Z" : ""}"/>`);
  }

  circle(kind, x, y, rMm) {
    this.circlePx(kind, this.at(x, y), rMm * this.scale);
  }

  circlePx(kind, centre, r) {
    this.raw(`<circle class="${kind}" cx="${tenths(this.across(centre[0]))}" cy="${tenths(centre[1])}" r="${tenths(r)}"/>`);
  }

  /** A rectangle between two corners in mm. */
  box(kind, a, b, roundMm = 0) {
    this.boxPx(kind, this.at(...a), this.at(...b), roundMm * this.scale);
  }

  boxPx(kind, a, b, roundPx = 0) {
    const ax = this.across(a[0]);
    const bx = this.across(b[0]);
    const x = Math.min(ax, bx);
    const y = Math.min(a[1], b[1]);
    const size = `width="${tenths(Math.abs(bx - ax))}" height="${tenths(Math.abs(b[1] - a[1]))}"`;
    const soft = roundPx ? ` rx="${tenths(roundPx)}"` : "";
    this.raw(`<rect class="${kind}" x="${tenths(x)}" y="${tenths(y)}" ${size}${soft}/>`);
  }

  /** About where the words stand on the unmirrored picture: [left, top, right, bottom] in px. */
  roomOf([x, y], words, anchor, upright) {
    const long = lettersPx(words);
    if (upright) {
      const left = x - (this.mirrored ? 3 : 12);
      return [left, y - long / 2, left + 15, y + long / 2];
    }
    const left = x - { start: 0, middle: long / 2, end: long }[anchor];
    return [left, y - 12, left + long, y + 3];
  }

  /** Lettering; `anchor` as on the unmirrored picture, `upright` runs it from bottom to top. */
  text(kind, at, words, anchor = "middle", upright = false) {
    this.lettered.push(this.roomOf(at, words, anchor, upright));
    if (this.mirrored) anchor = { start: "end", end: "start" }[anchor] || anchor;
    const x = tenths(this.across(at[0]));
    const y = tenths(at[1]);
    const turn = upright ? ` transform="rotate(-90 ${x} ${y})"` : "";
    this.raw(`<text class="${kind}" x="${x}" y="${y}" text-anchor="${anchor}"${turn}>${escapeText(words)}</text>`);
  }
}
