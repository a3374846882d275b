/* What may stand in a name. Twin: orders/reckoning/names.py, which says why. */

// Of surrogates only those that stand alone: under /u the pairs are characters of their own.
const UNSEEN = /[\u0000-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069\ud800-\udfff]/u;

/* Whether a text holds a character that no name may hold. */
export function hasUnseen(text) {
  return UNSEEN.test(text);
}
