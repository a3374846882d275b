// Which checks speak of the leg alone, whichever workshop is chosen.

const REPEATED = ["read_mm", "count", "spread_mm", "swapped", "typed"];

function givenNames({ entry, beside }) {
  const names = Object.keys(entry).flatMap((name) => [name, `${name.slice(0, name.lastIndexOf("_"))}_given`]);
  const repeats = ["length", "girth"].flatMap((name) => REPEATED.map((what) => `${name}_${what}`));
  return new Set([...names, ...repeats, ...Object.keys(beside)]);
}

let told = { book: null, ids: null };

/** The ids of the book's checks that need nothing of a catalogue. */
export function sureChecks(book) {
  if (told.book === book) return told.ids;
  const sure = givenNames(book.givens);
  const isSure = ({ needs }) => needs.every((name) => sure.has(name));
  for (const stage of [1, 2]) {
    for (const figure of book.figures) if (figure.stage === stage && isSure(figure)) sure.add(figure.id);
  }
  told = { book, ids: new Set(book.checks.filter((check) => !check.by && isSure(check)).map(({ id }) => id)) };
  return told.ids;
}
