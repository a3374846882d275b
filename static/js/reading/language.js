// The language that the core and the drawings speak: English, until the page puts its own words here. So each script of
// the page takes them up, whenever it comes. Twin: orders/reckoning/language.py.

/** The decimal `mark`, and the sentences by their keys: of `reading`, of the `book`'s code, of the `figure`. */
export const language = { mark: ".", reading: {}, book: {}, figure: {} };

/** A number's digits as the language writes them: "19.05" is "19,05" in German. */
export const withMark = (number) => number.replaceAll(".", language.mark);
