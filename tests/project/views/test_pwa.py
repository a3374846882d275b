"""The worker, the manifest and the page for no signal: from the root, anew with every build."""

import pytest

from project import build


def test_the_worker_lies_at_the_root_and_is_asked_for_anew(client):
    answer = client.get("/worker.js")

    assert answer.headers["Content-Type"] == "text/javascript; charset=utf-8"
    assert answer.headers["Cache-Control"] == "no-cache"
    assert build.build_id() in answer.content.decode()


def test_the_manifest_says_what_it_is(client):
    answer = client.get("/manifest.webmanifest")

    assert answer.headers["Content-Type"] == "application/manifest+json"
    assert answer.json()["name"] == "Shankline"


def test_the_policy_lets_a_worker_and_a_manifest_of_ours_in(client):
    policy = client.get("/worker.js").headers["Content-Security-Policy"]

    assert "worker-src 'self'" in policy
    assert "manifest-src 'self'" in policy
    assert "unsafe" not in policy


@pytest.mark.parametrize("address", ["/worker.js", "/manifest.webmanifest", "/offline/"])
def test_nothing_can_be_sent_there(address, client):
    assert client.post(address).status_code == 405


def test_the_page_for_no_signal_names_its_build_and_leads_to_the_visits(client):
    page = client.get("/offline/").content.decode()

    assert f'href="{build.static_prefix()}css/base.css"' in page
    assert 'href="/visits/"' in page


def test_a_phone_that_has_the_page_loads_it_only_once(clinician, client_for, built_pages):
    client = client_for(clinician)
    first = client.get("/visits/")

    again = client.get("/visits/", headers={"If-None-Match": first.headers["ETag"]})

    assert first.status_code == 200
    assert again.status_code == 304
    assert again.content == b""
