/* Whether two answers say the same, however they were kept. */

/* With keys in order and without nulls: a server may keep them otherwise. */
export function sorted(value) {
  if (Array.isArray(value)) return value.map(sorted);
  if (value === null || typeof value !== "object") return value;
  const keys = Object.keys(value).filter((key) => value[key] !== null && value[key] !== undefined);
  return Object.fromEntries(keys.sort().map((key) => [key, sorted(value[key])]));
}

export function same(one, other) {
  return JSON.stringify(sorted(one ?? null)) === JSON.stringify(sorted(other ?? null));
}
