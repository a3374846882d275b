// A polycentric knee as a four-bar linkage. Twin: orders/reckoning/mechanism.py, which draws it and tells the method.
// Pivots are [front lower, rear lower, front upper, rear upper], [x forward, y up] each, in mm at full extension.

const PARALLEL_SINE = 1e-9;

const less = ([ax, ay], [bx, by]) => [ax - bx, ay - by];
const size = ([x, y]) => Math.hypot(x, y);
const cross = ([ux, uy], [vx, vy]) => ux * vy - uy * vx;

/** What the thigh link turns about; null where the side links are parallel. */
export function instantCentre([a, b, c, d]) {
  const [front, rear] = [less(c, a), less(d, b)];
  if (!size(front)) return a;
  if (!size(rear)) return b;
  const turn = cross(front, rear);
  if (Math.abs(turn) <= PARALLEL_SINE * size(front) * size(rear)) return null;
  const along = cross(less(b, a), rear) / turn;
  return [a[0] + front[0] * along, a[1] + front[1] * along];
}

/** The pivots with the knee bent so far. */
export function bent([a, b, c, d], flexionDeg) {
  const angle = (flexionDeg * Math.PI) / 180;
  const link = less(d, c);
  const thigh = [
    link[0] * Math.cos(angle) - link[1] * Math.sin(angle),
    link[0] * Math.sin(angle) + link[1] * Math.cos(angle),
  ];
  const base = less(less(b, thigh), a);
  const straight = less(less(b, link), a);
  const [front, rear, span] = [size(less(c, a)), size(less(d, b)), size(base)];
  const side = cross(straight, less(c, a));
  if (Math.abs(side) <= PARALLEL_SINE * size(straight) * front)
    throw new RangeError(`pivots is ${[a, b, c, d]}; it must be a linkage that can turn, not at a dead point`);
  const along = (front ** 2 - rear ** 2 + span ** 2) / (2 * span);
  if (front ** 2 < along ** 2)
    throw new RangeError(`flexion_deg is ${flexionDeg}; it must be an angle that these links reach`);
  const height = Math.sqrt(front ** 2 - along ** 2) * Math.sign(side);
  const [ux, uy] = [base[0] / span, base[1] / span];
  const upper = [a[0] + ux * along - uy * height, a[1] + uy * along + ux * height];
  return [a, b, upper, [upper[0] + thigh[0], upper[1] + thigh[1]]];
}

/** The way from straight to bent in steps of a degree, as far as the links let it: [{angle, stand, centre}]. */
export function motion(pivots, flexionDeg) {
  const count = Math.ceil(flexionDeg);
  const steps = [];
  for (let at = 0; at <= count; at += 1) {
    const angle = (flexionDeg * at) / count;
    try {
      const stand = bent(pivots, angle);
      steps.push({ angle, stand, centre: instantCentre(stand) });
    } catch (error) {
      if (!at || !(error instanceof RangeError)) throw error;
      break;
    }
  }
  return steps;
}
