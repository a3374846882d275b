/* Which visits this phone holds something of that isn't received: a list beside the database, so that the page can say
   what is missing when the browser has cleared the one and not the other. It never stands for the visits themselves. */

const NAME = "shankline.held";
let known = read() ?? []; // as this page saw it last

function read() {
  try {
    return JSON.parse(localStorage.getItem(NAME));
  } catch {
    return null;
  }
}

function write(list) {
  known = list;
  try {
    localStorage.setItem(NAME, JSON.stringify(list));
  } catch {
    // no room, or not allowed: then nothing can be told, and nothing is told
  }
}

/* Notes that a draft is kept here. */
export function note({ id, member, visit }) {
  known = read() ?? known;
  if (known.some((one) => one.id === id && one.member === member)) return;
  write([...known, { id, member, reference: visit.reference, initials: visit.initials }]);
}

/* These orders of a member are received, thrown away, or were told as missing. */
export function strike(member, ids) {
  known = read() ?? known;
  const left = known.filter((one) => one.member !== member || !ids.includes(one.id));
  if (left.length < known.length) write(left);
}

/* What this member has here, if nothing was cleared: [{id, reference, initials}]. */
export function heldOf(member) {
  known = read() ?? known;
  return known.filter((one) => one.member === member);
}

/* Writes the list once more, after everything was cleared. */
export function noteAnew() {
  write(read() ?? known);
}
