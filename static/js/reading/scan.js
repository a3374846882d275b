// Splits typed text into numbers, fractions, marks and words. Twin: orders/reckoning/typed_scan.py.
// The tables of characters are written out, so that every browser and the server take a text the same way.

/** The zero of each run of ten decimal digits (general category Nd) of Unicode 14. */
export const DIGIT_ZEROS = (
  "30 660 6F0 7C0 966 9E6 A66 AE6 B66 BE6 C66 CE6 D66 DE6 E50 ED0 F20 1040 1090 17E0 1810 1946 19D0 " +
  "1A80 1A90 1B50 1BB0 1C40 1C50 A620 A8D0 A900 A9D0 A9F0 AA50 ABF0 FF10 104A0 10D30 11066 110F0 11136 " +
  "111D0 112F0 11450 114D0 11650 116C0 11730 118E0 11950 11C50 11D50 11DA0 16A60 16AC0 16B50 1D7CE " +
  "1D7D8 1D7E2 1D7EC 1D7F6 1E140 1E2F0 1E950 1FBF0"
)
  .split(" ")
  .map((zero) => parseInt(zero, 16));

const WHITE_SPACE = new Set(
  "\t\n\v\f\r \x85\xa0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a" +
    "\u2028\u2029\u202f\u205f\u3000",
);

const VULGAR = "1/4 1/2 3/4 1/7 1/9 1/10 1/3 2/3 1/5 2/5 3/5 4/5 1/6 5/6 1/8 3/8 5/8 7/8 0/3".split(" ");
const VULGAR_FRACTIONS = new Map([..."¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞↉"].map((character, at) => [character, VULGAR[at]]));

const MARKS = { feet: "'`´ʹʼ‘’‛′", inches: '"ʺ˝“”„‟″', slash: "/⁄∕", dash: "-‐‑‒–", sign: "+−±" };
const MARK_KINDS = new Map(
  Object.entries(MARKS).flatMap(([kind, characters]) => [...characters].map((character) => [character, kind])),
);
const DECIMAL_MARKS = { ".": ".", ",": ",", "٫": "," };

/** Letters with a mark, as the plain letter that a word of the sheet's languages is looked up by. */
const ACCENTED = new Map([..."áàâäçéèêëíìîïñóòôöúùûüß"].map((letter, at) => [letter, "aaaaceeeeiiiinoooouuuus"[at]]));

/** A full-width form as its ASCII twin; anything else as it is. */
function plain(character) {
  const code = character.codePointAt(0);
  return code >= 0xff01 && code <= 0xff5e ? String.fromCodePoint(code - 0xfee0) : character;
}

function numeral(character) {
  const code = character.codePointAt(0);
  const zero = DIGIT_ZEROS.find((start) => code >= start && code < start + 10);
  return zero === undefined ? DECIMAL_MARKS[plain(character)] : String(code - zero);
}

function letter(character) {
  const small = plain(character).toLowerCase();
  const bare = ACCENTED.get(small) ?? small;
  return /^[a-z]$/.test(bare) ? bare : undefined;
}

/** What `taken` makes of the characters from `at` on, as long as it takes them. */
function run(characters, at, taken) {
  let found = "";
  for (; at < characters.length; at += 1) {
    const part = taken(characters[at]);
    if (part === undefined) break;
    found += part;
  }
  return found;
}

const markKind = (character) => (character === undefined ? undefined : MARK_KINDS.get(plain(character)));

/** Kind, plain text and length of the piece that starts at `at`. */
function piece(characters, at) {
  const number = run(characters, at, numeral);
  if (number) return ["number", number, number.length];
  const word = run(characters, at, letter);
  if (word) {
    const next = characters[at + word.length];
    return ["word", word, word.length + (next !== undefined && plain(next) === "." ? 1 : 0)];
  }
  const vulgar = VULGAR_FRACTIONS.get(characters[at]);
  if (vulgar) return ["vulgar", vulgar, 1];
  const kind = markKind(characters[at]) ?? "other";
  if (kind === "feet" && markKind(characters[at + 1]) === "feet")
    return ["inches", characters[at] + characters[at + 1], 2];
  return [kind, characters[at], 1];
}

/** The text's characters without white space at the ends, as text. */
export function trimmed(characters) {
  let [from, to] = [0, characters.length];
  while (from < to && WHITE_SPACE.has(characters[from])) from += 1;
  while (to > from && WHITE_SPACE.has(characters[to - 1])) to -= 1;
  return characters.slice(from, to).join("");
}

/** The pieces of the text ([...text]), in order: {kind, text, spaced, at}. */
export function scanned(characters) {
  const tokens = [];
  let at = 0;
  let spaced = false;
  while (at < characters.length) {
    if (WHITE_SPACE.has(characters[at])) {
      at += 1;
      spaced = true;
      continue;
    }
    const [kind, text, length] = piece(characters, at);
    tokens.push({ kind, text, spaced, at });
    at += length;
    spaced = false;
  }
  return tokens;
}
