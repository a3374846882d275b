// What stands beside the entry, from photos and earlier orders. Twin: orders/rulebook/beside.py, which describes it.

const JS_TYPES = { number: "number", flag: "boolean", text: "string" };

/** The quantities beside an entry, by name; what isn't known is left out or null. Throws for any other name or type. */
export function readBeside(beside, types) {
  if (!types) return {}; // a book from before there were any, still kept on this phone
  const known = {};
  for (const [name, value] of Object.entries(beside ?? {})) {
    if (!Object.hasOwn(types, name)) throw new TypeError(`beside.${name}: nothing beside an entry is called so.`);
    if (value === null || value === undefined) continue;
    if (typeof value !== JS_TYPES[types[name]] || (typeof value === "number" && !(value >= 0 && value < Infinity)))
      throw new TypeError(`beside.${name}: should be a ${types[name]}${types[name] === "number" ? " from 0 up" : ""}.`);
    known[name] = value;
  }
  return known;
}
