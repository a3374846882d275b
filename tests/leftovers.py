"""What of a page is still English, in a page that should be in another language.

The rule book's own notation, in which a workshop writes its checks, is in every language the same: `translate="no"`.
"""

import json

from project import texts
from tests.factories import CATALOGUES

# Every text of the page that stands by itself: what is seen, and what is said to who can't see it.
STANDING = """() => {
  const found = new Set();
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const { parentElement, textContent } = walker.currentNode;
    if (!["SCRIPT", "STYLE", "TEMPLATE"].includes(parentElement.tagName) && !parentElement.closest("[translate=no]"))
      found.add(textContent.trim());
  }
  for (const one of document.querySelectorAll("[aria-label], [placeholder], [alt], [title]"))
    for (const name of ["aria-label", "placeholder", "alt", "title"]) found.add((one.getAttribute(name) ?? "").trim());
  found.add(document.title);
  return [...found].filter(Boolean);
}"""


def english_only(language: str) -> set[str]:
    """The English texts that read otherwise in the language, less the words of the demo's own catalogues."""
    messages = [message for message in texts.read_texts(language) if isinstance(message.id, str)]
    told = {message.id: message.string for message in messages if message.id and message.string}
    return {english for english, said in told.items() if english != said} - own_words() - set(told.values())


def own_words() -> set[str]:
    """What the demo's workshops call their options."""
    contents = [json.loads(file.read_text()) for file in CATALOGUES.glob("*.json")]
    lists = [options for content in contents for options in content.values() if isinstance(options, list)]
    labels = {option["label"] for options in lists for option in options if "label" in option}
    return labels | {label[:1].lower() + label[1:] for label in labels}


def left_in_english(page, language: str) -> list[str]:
    """The texts of the page as it stands that are English."""
    english = english_only(language)
    return sorted(text for text in page.evaluate(STANDING) if text in english)
