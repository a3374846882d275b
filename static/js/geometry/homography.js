// A length read from a photo with a sheet of known size in its plane. Twin: orders/reckoning/homography.py, which
// explains it and names the sources; a test holds both to the same cases.

export const SHEETS_MM = { a4: [210, 297, 2], letter: [215.9, 279.4, 2], card: [53.98, 85.6, 0.13] };
export const PHOTO_PLACED_SHARE = 0.001;
export const PHOTO_PLANE_U_MM = 10;
export const PHOTO_LENS_SHARE = 0.003;
export const PHOTO_FOCAL_SHARE = 0.7;
export const PHOTO_SIDES_RATIO_MOST = 1.25;
export const PHOTO_MOST_U_MM = 40;
export const PHOTO_COVERAGE_FACTOR = 2;

const dot = (a, b) => a.reduce((sum, part, n) => sum + part * b[n], 0);
const norm = (a) => Math.sqrt(dot(a, a));

/* What keeps places from giving a length; `why` is one of the words of the Python twin. */
class Unmeasurable extends Error {
  constructor(why) {
    super(why);
    this.why = why;
  }
}

function planeToPhoto([[x0, y0], [x1, y1], [x2, y2], [x3, y3]], [wide, high]) {
  const [ax, ay, bx, by] = [x1 - x2, y1 - y2, x3 - x2, y3 - y2];
  const [sx, sy] = [x0 - x1 + x2 - x3, y0 - y1 + y2 - y3];
  const spread = ax * by - bx * ay;
  const [g, h] = [(sx * by - bx * sy) / spread, (ax * sy - sx * ay) / spread];
  return [
    [(x1 - x0 + g * x1) / wide, (x3 - x0 + h * x3) / high, x0],
    [(y1 - y0 + g * y1) / wide, (y3 - y0 + h * y3) / high, y0],
    [g / wide, h / high, 1],
  ];
}

function onPlane([[a, b, c], [d, e, f], [g, h]], [x, y]) {
  const px = (e - f * h) * x + (c * h - b) * y + b * f - c * e;
  const py = (f * g - d) * x + (a - c * g) * y + c * d - a * f;
  const scale = (d * h - e * g) * x + (b * g - a * h) * y + a * e - b * d;
  const determinant = a * (e - f * h) - b * (d - f * g) + c * (d * h - e * g);
  if (!(scale * determinant > 0)) throw new Unmeasurable("beyond");
  return [px / scale, py / scale];
}

function seenFromCamera(homography, [width, height]) {
  const focal = PHOTO_FOCAL_SHARE * Math.max(width, height);
  return [0, 1, 2].map((column) => {
    const [x, y, w] = homography.map((row) => row[column]);
    return [(x - (width / 2) * w) / focal, (y - (height / 2) * w) / focal, w];
  });
}

function camera(homography, size) {
  const seen = seenFromCamera(homography, size);
  const length = Math.sqrt(norm(seen[0]) * norm(seen[1]));
  const [across, down, corner] = seen.map((one) => one.map((part) => part / length));
  const out = [1, 2, 0].map((n, at) => across[n] * down[[2, 0, 1][at]] - across[[2, 0, 1][at]] * down[n]);
  return [-dot(across, corner), -dot(down, corner), Math.abs(dot(out, corner))];
}

function goesRound(corners, u) {
  const clear = corners.map(([x0, y0], n) => {
    const [[x1, y1], [x2, y2]] = [corners[(n + 1) % 4], corners[(n + 2) % 4]];
    const bend = (x1 - x0) * (y2 - y1) - (y1 - y0) * (x2 - x1);
    const sides = Math.hypot(x1 - x0, y1 - y0) + Math.hypot(x2 - x1, y2 - y1);
    return Math.abs(bend) <= 4 * u * sides ? 0 : bend;
  });
  return Math.min(...clear) > 0 || Math.max(...clear) < 0;
}

function sidesInOrder(sheet, size, corners) {
  const [short, long] = SHEETS_MM[sheet];
  const ratios = [[short, long], [long, short]].map((sides) => {
    const [across, down] = seenFromCamera(planeToPhoto(corners, sides), size);
    const ratio = norm(across) / norm(down);
    return { sides, ratio: Math.max(ratio, 1 / ratio) };
  });
  const { sides, ratio } = ratios[ratios[1].ratio < ratios[0].ratio ? 1 : 0];
  if (ratio > PHOTO_SIDES_RATIO_MOST) throw new Unmeasurable("shape");
  return sides;
}

function endsOn(homography, places) {
  return places.slice(4).map((place) => onPlane(homography, place));
}

function lengthOf(places, sides) {
  const [[x0, y0], [x1, y1]] = endsOn(planeToPhoto(places.slice(0, 4), sides), places);
  return Math.hypot(x1 - x0, y1 - y0);
}

/* Half of how far a length moves while one of its numbers moves by u both ways. */
function moved(u, lengthAt) {
  return Math.abs(lengthAt(u) - lengthAt(-u)) / 2;
}

function fromPlaces(places, sides, u) {
  return places.flatMap((_place, n) =>
    [0, 1].map((axis) =>
      moved(u, (step) => {
        const other = places.map((place) => [...place]);
        other[n][axis] += step;
        return lengthOf(other, sides);
      }),
    ),
  );
}

function fromSides(places, sides, u) {
  return [0, 1].map((axis) => moved(u, (step) => lengthOf(places, sides.map((side, n) => (n === axis ? side + step : side)))));
}

function fromPlane(places, sides, size) {
  const homography = planeToPhoto(places.slice(0, 4), sides);
  const [x, y, z] = camera(homography, size);
  const ends = endsOn(homography, places);
  const [dx, dy] = [ends[1][0] - ends[0][0], ends[1][1] - ends[0][1]];
  const length = Math.hypot(dx, dy);
  if (!length) return [0];
  const shifts = ends.map(([px, py]) => ((px - x) * dx + (py - y) * dy) / length / z);
  return [shifts[1] - shifts[0], ...shifts].map((part) => part * PHOTO_PLANE_U_MM);
}

/** {mm, U_mm} of the length between two places of a photo; {why} where they give none. Places in its pixels. */
export function photoLength({ sheet, size, corners, ends }) {
  const places = [...corners, ...ends];
  const u = PHOTO_PLACED_SHARE * Math.max(...size);
  try {
    if (!goesRound(corners, u)) throw new Unmeasurable("crossed");
    const sides = sidesInOrder(sheet, size, corners);
    const mm = lengthOf(places, sides);
    const parts = [
      ...fromPlaces(places, sides, u),
      ...fromSides(places, sides, SHEETS_MM[sheet][2] / Math.sqrt(3)),
      ...fromPlane(places, sides, size),
      PHOTO_LENS_SHARE * mm,
    ];
    const U_mm = PHOTO_COVERAGE_FACTOR * norm(parts);
    return U_mm > PHOTO_MOST_U_MM ? { why: "unsure" } : { mm, U_mm };
  } catch (fault) {
    if (fault instanceof Unmeasurable) return { why: fault.why };
    throw fault;
  }
}
