"""How hard a text is to read: words in a sentence, and the grade of Kincaid's formula.

Grade = 0.39 words/sentences + 11.8 syllables/words - 15.59 (VA HSR&D, quoted from the formula's authors).
Syllables are counted roughly, by groups of vowels, a silent e at the end left out; for plain English words that
counts about one in twenty words wrong, either way.
"""

import re


def grade(words: int, sentences: int, syllables: int) -> float:
    """Grade of a text with so many words, sentences and syllables."""
    return 0.39 * words / sentences + 11.8 * syllables / words - 15.59


def syllables_in(word: str) -> int:
    """About how many syllables a word has; at least one."""
    plain = re.sub(r"[^a-z]", "", word.lower())
    if not plain.endswith(("ted", "ded", "ses", "xes", "ches", "shes")):
        plain = re.sub(r"(?<=[^aeiouyl])(es|ed|e)$", "", plain)
    return max(1, len(re.findall(r"[aeiouy]+", plain)))


def counted(sentences: list[str]) -> tuple[int, int, int]:
    """Words, sentences and syllables of a text that is split into sentences already."""
    words = [word for sentence in sentences for word in re.findall(r"[A-Za-z'’]+", sentence)]
    return len(words), len(sentences), sum(syllables_in(word) for word in words)
