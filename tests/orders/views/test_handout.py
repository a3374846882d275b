import html
import io
import logging
import re
from html.parser import HTMLParser

import polib
import pytest
from django.conf import settings
from django.urls import reverse
from django.utils import timezone, translation

from orders import handout, moves
from orders.models import Handout, Look
from tests import factories
from tests.orders.reading_grade import counted, grade, syllables_in
from tests.orders.test_handout_steps import PADDED

pytestmark = pytest.mark.django_db
NUMBER = "01632 960 147"  # a number that is kept free for drama


class Page(HTMLParser):
    """The texts a reader meets, one for each block; ids, and links within the page."""

    BLOCKS = {"p", "li", "h1", "h2", "h3", "a", "title"}
    VOID = {"meta", "link", "input", "br"}

    def __init__(self, html):
        super().__init__()
        self.texts, self.ids, self.links, self.tags, self.skipped = [], [], [], [], 0
        self.feed(html)

    def handle_starttag(self, tag, attrs):
        found = dict(attrs)
        self.ids += [found["id"]] if "id" in found else []
        self.links += [found["href"]] if tag == "a" else []
        self.tags.append((tag, found))
        self.skipped += tag in {"svg", "head", "nav"}
        if tag in self.BLOCKS:
            self.texts.append("")

    def handle_endtag(self, tag):
        self.skipped -= tag in {"svg", "head", "nav"}

    def handle_data(self, data):
        if not self.skipped and data.strip():
            self.texts[-1] = f"{self.texts[-1]} {data.strip()}".strip()


@pytest.fixture
def clinic(clinician):
    clinician.organisation.telephone = NUMBER
    clinician.organisation.out_of_hours = "Evenings: the ward's night desk."
    clinician.organisation.save()
    return clinician.organisation


@pytest.fixture
def order(clinic, clinician, fabricator):
    made = factories.order(clinician, fabricator.organisation)
    moves.confirm(made, made.current.seal.sha256, fabricator)
    return made


@pytest.fixture
def token(order, clinician):
    return handout.make(order, clinician)[1]


def address(token):
    return reverse("orders:handout", args=[token])


def read(client, token):
    return client.get(address(token)).content.decode()


def both_legs(clinician, fabricator):
    """A handout's token for two shells, the right one with a pad and a powered knee that has a charging port."""
    points = [{"what": "charging port", "side": "rear", "below_apex": "60", "stays_open": True}]
    reasons = {"strap.close": "Seen to."}
    right = factories.entry(side="right", service_points=points, answers=reasons, **PADDED)
    order = factories.order(clinician, fabricator.organisation, factories.entry(), right)
    return handout.make(order, clinician)[1]


def test_handout_answers_reading_only(client, token):
    for verb in (client.post, client.put, client.delete):
        assert verb(address(token)).status_code == 405
    assert client.head(address(token)).status_code == 200


def test_anybody_with_the_link_reads_it_signed_in_or_not(
    client_for, token, clinician, other_clinician, fabricator, other_fabricator
):
    for member in (None, clinician, other_clinician, fabricator, other_fabricator):
        assert client_for(member).get(address(token)).status_code == 200


def test_reading_uses_nothing_up_and_writes_nothing(client, token):
    before = list(Handout.objects.values())
    for _time in range(3):
        assert client.get(address(token), headers={"user-agent": "a preview"}).status_code == 200

    assert list(Handout.objects.values()) == before
    assert not Look.objects.exists()


@pytest.mark.parametrize("which", ["open", "withdrawn", "wrong"])
def test_page_is_told_to_nobody_and_kept_nowhere(client, order, clinician, token, which):
    if which == "withdrawn":
        handout.withdraw_all(order, clinician)

    answer = client.get(address("wrong" if which == "wrong" else token))

    assert answer["Referrer-Policy"] == "no-referrer"
    assert "noindex" in answer["X-Robots-Tag"]
    assert "no-store" in answer["Cache-Control"]
    assert "default-src 'none'" in answer["Content-Security-Policy"]
    assert "unsafe" not in answer["Content-Security-Policy"]
    assert not answer.cookies


def test_page_has_no_script_or_style_of_its_own(client, token):
    html = read(client, token)

    assert " style=" not in html
    assert "<style" not in html
    assert set(re.findall(r"<script[^>]*>(.*?)</script>", html)) == {""}
    assert " onclick" not in html


def test_page_names_nobody(client, order, token):
    html = read(client, token)

    assert order.person.reference == "T-0001"
    assert order.person.initials == "A. B."
    assert order.person.reference not in html
    assert order.person.initials not in html
    assert str(order.id) not in html
    assert token not in html


def test_caution_comes_first_then_the_steps_in_order(client, token):
    texts = Page(read(client, token)).texts

    assert texts[texts.index("Skip to the content") + 1] == (
        "Your leg works without the shell. If in doubt, sit down and take it off."
    )
    heads = ["Sit down", "Lower strap first", "Then the upper strap", "First steps", "Taking it off"]
    heads += [
        "Looking after it",
        "Day to day",
        "What to look at",
        "When to stop",
        "Whom to call",
        "Tell the clinic",
        "For a carer",
    ]
    places = [texts.index(head) for head in heads]
    assert places == sorted(places)


def test_each_leaf_leads_on_and_back(client, token):
    page = Page(read(client, token))
    inner = [link[1:] for link in page.links if link.startswith("#")]

    assert len(page.ids) == len(set(page.ids))
    assert set(inner) - {"everything", "one"} <= set(page.ids)
    assert {f"left-{n}" for n in range(1, 8)} <= set(inner)
    assert "Next: upper strap" in read(client, token)


@pytest.mark.parametrize(
    "told",
    [
        "Cleaning",
        "Heat",
        "Water",
        "Charging",
        "Kneeling",
        "Driving",
        "After a fall",
        "A changed shoe",
        "Your skin",
    ],
)
def test_everyday_matters_have_their_place(client, token, told):
    assert told in Page(read(client, token)).texts


@pytest.mark.parametrize(
    "sign",
    [
        "the leg catches",
        "the knee does not bend or lock as before",
        "the foot strikes the shell",
        "the shell cracks",
        "your skin stays red for more than twenty minutes",
    ],
)
def test_when_to_stop_says_every_sign(client, token, sign):
    assert sign in Page(read(client, token)).texts


def test_clinic_can_be_called_also_out_of_hours(client, token):
    html = read(client, token)

    assert 'href="tel:01632960147"' in html
    assert NUMBER in html
    assert "Evenings: the ward&#x27;s night desk." in html


@pytest.mark.parametrize("withdrawn", [False, True])
def test_the_number_out_of_hours_can_be_called_too(client, clinic, order, clinician, token, withdrawn):
    clinic.out_of_hours = "01632 960 148, ask for the limb desk"
    clinic.save()
    if withdrawn:
        handout.withdraw_all(order, clinician)

    html = read(client, token)

    assert "<bdi>01632 960 148, ask for the limb desk</bdi>" in html
    assert 'href="tel:01632960148"><bdi class="nowrap" dir="ltr">01632 960 148</bdi></a>' in html


def test_without_a_number_no_button_calls_nowhere(client, clinic, token):
    clinic.telephone = ""
    clinic.save()

    html = read(client, token)

    assert "tel:" not in html
    assert f"Call {clinic.name}." in html


def test_two_shells_have_their_own_steps(client, clinic, clinician, fabricator):
    html = read(client, both_legs(clinician, fabricator))

    assert {f"{side}-{n}" for side in ("left", "right") for n in range(1, 8)} <= set(Page(html).ids)
    assert "Putting it on, right leg" in html
    assert html.count("foam pad</text>") == 3  # round, upper, off: of the right shell alone
    assert "charging port, at the rear, right leg" in html
    assert "Switch the knee on again." in html
    assert "Switch on again what you switched off." in html


def test_handout_stays_with_the_revision_it_was_made_for(client, order, token):
    assert Handout.objects.get().revision_id == order.current.id
    assert "13 mm (1/2 in) stay open" in read(client, token)


def test_wrong_link_is_told_kindly_and_still_cautions(client, token):
    answer = client.get(address("x" + token[1:]))
    html = answer.content.decode()

    assert answer.status_code == 404
    assert "This link is not right" in html
    assert "Your leg works without the shell." in html
    assert "tel:" not in html


@pytest.mark.parametrize("token", ["x", "%00", "a" * 2000, "é", "..%2f"])
def test_nonsense_is_a_wrong_link(client, token):
    assert client.get(f"/h/{token}/").status_code == 404


def test_withdrawn_link_says_so_with_the_clinics_number(client, order, clinician, token):
    handout.withdraw_all(order, clinician)

    answer = client.get(address(token))

    assert answer.status_code == 410
    assert "This link has been stopped" in answer.content.decode()
    assert NUMBER in answer.content.decode()
    assert "Lower strap first" not in answer.content.decode()


def test_expired_link_says_so_with_the_clinics_number(client, token):
    Handout.objects.update(expires_at=timezone.now())

    answer = client.get(address(token))

    assert answer.status_code == 410
    assert "This link is too old" in answer.content.decode()
    assert NUMBER in answer.content.decode()
    assert "Lower strap first" not in answer.content.decode()


def test_token_is_not_logged(client, order, clinician, token):
    handout.withdraw_all(order, clinician)
    console = logging.getLogger().handlers[0]
    before = console.setStream(io.StringIO())

    client.get(address(token))

    logged = console.setStream(before).getvalue()
    assert "/h/.../" in logged
    assert token not in logged


def test_every_word_passes_through_the_translator(client, token, clinic, monkeypatch):
    monkeypatch.setattr(translation._trans, "gettext", lambda message: f"⟦{message}⟧")
    own = {clinic.name, NUMBER, clinic.out_of_hours}

    texts = [text for text in Page(read(client, token)).texts if text]

    assert len(texts) > 80
    bare = [untranslated(text) for text in texts]
    assert [text for text in bare if re.search("[A-Za-z]", text) and text not in own] == []


def untranslated(text):
    """What is left of a text when all that went through the translator is taken out, inner brackets first."""
    inner = re.sub(r"⟦[^⟦⟧]*⟧", "", text)
    return inner if inner == text else untranslated(inner)


@pytest.mark.parametrize(
    ("words", "sentences", "syllables", "expected"),
    [(6, 1, 6, -1.45), (100, 8, 140, 5.805), (117, 9, 160, 5.6168)],
)
def test_grade_is_reckoned_as_published(words, sentences, syllables, expected):
    assert grade(words, sentences, syllables) == pytest.approx(expected, abs=5e-5)


def test_syllables_are_counted_about_right():
    known = {
        "strap": 1,
        "closed": 1,
        "straightened": 2,
        "moving": 2,
        "buckle": 2,
        "clinic": 2,
        "advice": 2,
        "medical": 3,
    }
    assert {word: syllables_in(word) for word in known} == known


def test_page_reads_easily(client, clinic, clinician, fabricator):
    sentences = sentences_of(read(client, both_legs(clinician, fabricator)))

    words, count, syllables = counted(sentences)

    # Patient text: at most 15 to 20 words in a sentence on average (CHCS), grade 6 to 8 (common practice).
    assert count > 80
    assert words / count <= 15
    assert grade(words, count, syllables) <= 8


def sentences_of(html):
    """The page's sentences: texts that end like one, split where the next begins."""
    texts = [text for text in Page(html).texts if text.endswith((".", "?", ":"))]
    return [sentence for text in texts for sentence in re.split(r"(?<=[.?:])\s+", text)]


# In the person's own language.

OTHERS = [language for language in handout.LANGUAGES if language != "en"]


def known_texts(language):
    """The texts of a language by the English ones, as patterns of what stands on a page."""
    (place,) = settings.LOCALE_PATHS
    return {
        entry.msgid: entry.msgstr for entry in polib.pofile(str(place / language / "LC_MESSAGES/django.po"))
    }


def in_language(order, clinician, language):
    return handout.make(order, clinician, language)[1]


@pytest.mark.parametrize("language", OTHERS)
def test_page_is_whole_in_the_persons_own_language(client, order, clinician, language):
    page = read(client, in_language(order, clinician, language))
    texts = known_texts(language)
    seen = html.unescape(page)

    assert (
        f'<html lang="{language}"{" dir=" + chr(34) + "rtl" + chr(34) if language == "ar" else ""}>' in page
    )
    left_over = [
        text for text in texts if len(text.split()) > 3 and re.search(rf"(?<!\w){re.escape(text)}", seen)
    ]
    assert left_over == []
    assert texts["Your leg works without the shell."] in seen
    assert texts["Lower strap first"] in seen
    assert texts["the foot strikes the shell"] in seen
    # a number reads from left to right, whichever way its sentence does
    assert page.count(f'<bdi class="nowrap" dir="ltr">{NUMBER}</bdi>') == page.count(NUMBER)
    assert "<bdi>Evenings: the ward&#x27;s night desk.</bdi>" in page


@pytest.mark.parametrize("language", OTHERS)
def test_page_is_told_to_be_in_the_language_it_is_in(client, order, clinician, language):
    token = in_language(order, clinician, language)
    told = [client.get(address(token), headers={"accept-language": "en"}).headers["Content-Language"]]
    handout.withdraw_all(order, clinician)
    told.append(client.get(address(token), headers={"accept-language": "en"}).headers["Content-Language"])

    assert told == [language, language]


def test_every_sentence_of_the_page_has_its_text_in_the_other_languages(client, clinician, fabricator):
    """What stands on the English page is made of what is translated; only the clinic's own words are not."""
    page = Page(read(client, both_legs(clinician, fabricator)))
    patterns = [
        re.sub(r"%\\\(\w+\\\)s|\\\{\w+\\\}", ".+", re.escape(text)) for text in known_texts(OTHERS[0])
    ]
    known = re.compile(rf"(?:(?:{'|'.join(patterns)}|charging port|[^\w]|\d+)+)", re.IGNORECASE)

    own = {clinician.organisation.name, clinician.organisation.telephone}
    strange = [text for text in page.texts if text and text not in own and not known.fullmatch(text)]

    assert strange == []


@pytest.mark.parametrize("language", OTHERS)
def test_a_withdrawn_link_says_so_in_the_same_language(client, order, clinician, language):
    token = in_language(order, clinician, language)
    handout.withdraw_all(order, clinician)

    page = html.unescape(read(client, token))

    assert "<bdi>Evenings: the ward's night desk.</bdi>" in page
    assert known_texts(language)["This link has been stopped"] in page
    assert known_texts(language)["If in doubt, sit down and take it off."] in page
    assert NUMBER in page


def test_the_language_of_one_page_does_not_reach_the_next(client, order, clinician, token):
    read(client, in_language(order, clinician, "de"))

    wrong = read(client, "nonsense")

    assert "This link is not right" in wrong
    assert translation.get_language() == "en"
