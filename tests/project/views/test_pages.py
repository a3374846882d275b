from django.urls import reverse

from project.views import pages


def test_nothing_here_is_said_kindly(client_for, clinician):
    answer = client_for(clinician).get("/nowhere/")

    assert answer.status_code == 404
    assert "Nothing here" in answer.content.decode()


def test_a_fault_of_ours_says_so_without_asking_who(rf):
    answer = pages.failed(rf.get("/"))

    assert answer.status_code == 500
    assert "our fault" in answer.content.decode()


def test_a_form_that_is_too_old_says_what_to_do(client_for, lead):
    answer = client_for(lead, enforce_csrf_checks=True).post(reverse("member-invite"), {})

    assert answer.status_code == 403
    assert "open for too long" in answer.content.decode()


def test_every_page_allows_only_our_own_files(client_for, fabricator):
    for address in ("/accounts/login/", "/bench/", "/nowhere/"):
        policy = client_for(fabricator).get(address).headers["Content-Security-Policy"]
        assert "default-src 'none'" in policy, address
        assert "script-src 'self'" in policy, address
        assert "unsafe" not in policy, address
