/* What this phone knows beside an entry: its photos. Earlier orders are the server's. Shape: orders/rulebook/beside.py. */

const WANTED = ["front", "side", "knee", "foot"];

/* The quantities that the photos of one shell give. */
export function besideOf(photos) {
  const views = new Set((photos ?? []).map(({ view }) => view));
  return Object.fromEntries(WANTED.map((view) => [`photo_${view}`, views.has(view)]));
}
