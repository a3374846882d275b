// Our own functions in the rule book's notation. Twin: orders/rulebook/functions.py, which describes each.

const TOLERANCE = 1e-6;
const RADIANS = Math.PI / 180;

const rise = (radius, height, mostDeg) => {
  let angle = mostDeg * RADIANS;
  if (height > 0) angle = Math.min(angle, Math.atan2(radius, height));
  return radius * Math.sin(angle) - height * (1 - Math.cos(angle));
};

export const FUNCTIONS = {
  less: (a, b) => a < b - TOLERANCE,
  more: (a, b) => a > b + TOLERANCE,
  floor_mm: (a) => Math.floor(a + TOLERANCE),
  up_to_half: (a) => Math.ceil((a - TOLERANCE) * 2) / 2,
  rim_rise: (radius, height, up, down) => Math.max(rise(radius, height, up), rise(radius, height, down)),
  abs: Math.abs,
  sqrt: Math.sqrt,
  sin_deg: (angle) => Math.sin(angle * RADIANS),
  cos_deg: (angle) => Math.cos(angle * RADIANS),
  min: Math.min,
  max: Math.max,
};
