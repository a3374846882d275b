import gzip

import brotli
import pytest
from django.urls import reverse

from project import build


def test_the_page_holds_nobodys_data(client_for, clinician, fabricator, built_pages):
    from tests import factories

    order = factories.order(clinician, fabricator.organisation)

    answer = client_for(clinician).get(reverse("capture:visits"))

    page = answer.content.decode()
    assert answer.status_code == 200
    assert answer.headers["Cache-Control"] == "no-cache"
    assert order.person.reference not in page
    assert clinician.organisation.name not in page


def test_the_wrong_verb_is_refused(client_for, clinician, built_pages):
    assert client_for(clinician).post(reverse("capture:visits")).status_code == 405


def test_the_page_is_sent_compressed(client_for, clinician, built_pages):
    answer = client_for(clinician).get(reverse("capture:visits"), headers={"Accept-Encoding": "gzip"})

    assert answer.headers["Content-Encoding"] == "gzip"
    assert b"bundle.js" in gzip.decompress(answer.content)


def test_the_page_is_sent_as_the_build_compressed_it(client_for, clinician, built_pages):
    answer = client_for(clinician).get(reverse("capture:visits"), headers={"Accept-Encoding": "gzip, br"})

    assert answer.headers["Content-Encoding"] == "br"
    assert "Accept-Encoding" in answer.headers["Vary"]
    assert brotli.decompress(answer.content) == build.sheet_page("en")


@pytest.mark.parametrize("accepted", ["br;q=0", "gzip, br; q=0.0", ""])
def test_a_browser_that_takes_no_brotli_gets_none(client_for, clinician, built_pages, accepted):
    answer = client_for(clinician).get(reverse("capture:visits"), headers={"Accept-Encoding": accepted})

    assert answer.headers.get("Content-Encoding") in (None, "gzip")


def test_a_phone_that_has_the_page_is_told_so(client_for, clinician, built_pages):
    client = client_for(clinician)
    tag = client.get(reverse("capture:visits")).headers["ETag"]

    again = client.get(reverse("capture:visits"), headers={"If-None-Match": tag, "Accept-Encoding": "br"})

    assert tag.startswith("W/")
    assert (again.status_code, again.content) == (304, b"")
