// What was chosen in the workshop's catalogue, as quantities. Twin: orders/rulebook/options.py.

import { atPath } from "./readings.js";

const LISTS = { wall: "walls", rear: "rears", top: "tops", colour: "colours", finish: "finishes" };
const NUMBERS = { wall: ["wall_mm"], rear: ["reach", "open_share"], top: ["relief_mm"] };

/** The catalogue's option of a kind (wall, rear, top, colour, finish) by its key, or undefined. */
export const optionOf = (catalogue, kind, key) => catalogue[LISTS[kind]].find((option) => option.key === key);

const furthest = (options, number, pick) => {
  const best = pick(...options.map((option) => option[number]));
  return options.find((option) => option[number] === best);
};

/** The catalogue's own numbers, by the names that the book lists. */
export const limits = (catalogue, places) =>
  Object.fromEntries(Object.entries(places).map(([name, place]) => [name, atPath(catalogue, place)]));

/** What was chosen, and the furthest that the catalogue offers of it. Lengths in mm. */
export function chosen(shell, catalogue) {
  const known = {};
  for (const kind of Object.keys(LISTS)) {
    const key = shell?.[kind] ?? undefined;
    if (key === undefined) continue;
    const option = optionOf(catalogue, kind, key);
    known[`${kind}_made`] = option !== undefined;
    if (option) for (const number of NUMBERS[kind] ?? []) known[number] = option[number];
  }
  const shortest = furthest(catalogue.rears, "reach", Math.min);
  const deepest = furthest(catalogue.tops, "relief_mm", Math.max);
  return {
    ...known,
    thickest_wall_mm: furthest(catalogue.walls, "wall_mm", Math.max).wall_mm,
    shortest_rear: shortest.key,
    shortest_reach: shortest.reach,
    deepest_top: deepest.key,
    deepest_relief_mm: deepest.relief_mm,
  };
}
