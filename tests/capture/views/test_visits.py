import gzip

from django.urls import reverse


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
