/* What this phone knows beside an entry: its photos. Earlier orders are the server's. Shape: orders/rulebook/beside.py. */

import { photoLength } from "../geometry/homography.js";

const WANTED = ["front", "side", "knee", "foot"];

/* What was measured in the photos, the better known of two. Twin: orders/photo_lengths.py. */
function lengthsIn(photos) {
  const best = {};
  for (const { measured } of photos) {
    if (!measured) continue;
    const { mm, U_mm } = photoLength(measured);
    const name = `photo_${measured.what}`;
    if (mm !== undefined && !(best[`${name}_U_mm`] <= U_mm)) Object.assign(best, { [`${name}_mm`]: mm, [`${name}_U_mm`]: U_mm });
  }
  return best;
}

/* The quantities that the photos of one shell give. */
export function besideOf(photos) {
  const shown = photos ?? [];
  const views = new Set(shown.map(({ view }) => view));
  return { ...Object.fromEntries(WANTED.map((view) => [`photo_${view}`, views.has(view)])), ...lengthsIn(shown) };
}
