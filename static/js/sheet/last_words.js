/* What a page still had to write when it went. The database may drop a write that was only just begun, with the page
   that began it; a line here is there at once. Only ever a second copy, held against the database's own. */

const BEGINNING = "shankline.last/";

/* Leaves a draft as it stands. A browser that keeps nothing here has the first copy alone. */
export function leave(draft) {
  try {
    localStorage.setItem(BEGINNING + draft.key, JSON.stringify({ ...draft, writes: (draft.writes ?? 0) + 1 }));
  } catch {
    // no room, or not allowed
  }
}

/* Whichever is later: a draft as the database has it, or as it was left. */
export function later(draft) {
  const left = read(draft.key);
  return left && left.writes > (draft.writes ?? 0) ? left : draft;
}

/* Whether something is left that the database has not been given yet. */
export function isLeft(key) {
  return read(key) !== null;
}

function read(key) {
  try {
    return JSON.parse(localStorage.getItem(BEGINNING + key));
  } catch {
    return null;
  }
}

export function forget(key) {
  try {
    localStorage.removeItem(BEGINNING + key);
  } catch {
    // not allowed here: nothing was left either
  }
}
