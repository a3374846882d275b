/* The answer to a question of the sheet's own, told again from an entry that was sent. */

function holds(entry, path) {
  return (path.split(".").reduce((place, step) => place?.[step], entry) ?? null) !== null;
}

/* The value of the choice that asks for everything of its kind that the entry holds, and for no more than it must: what
   is held must not be closed again, or it would be gone from the next revision. */
export function impliedBy(entry, choices) {
  const holdsOf = ({ holds }) => holds ?? [];
  const held = [...new Set(choices.flatMap(holdsOf))].filter((key) => holds(entry, key));
  const fitting = choices.filter((choice) => held.every((key) => holdsOf(choice).includes(key)));
  return fitting.reduce((one, other) => (holdsOf(other).length < holdsOf(one).length ? other : one)).value;
}
