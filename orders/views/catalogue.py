"""The workshop keeps its catalogue: on a form, as a file, version by version."""

import json

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from orders import catalogue_editor as editor
from orders.catalogue_editor import Flat, Stale, Wrong
from orders.catalogue_page import checks_table, placed, places, sample_entries, sections, tables, tried
from orders.models import Catalogue
from project.access import WORKSHOP, for_members


@require_http_methods(["GET", "HEAD", "POST"])
@for_members(*WORKSHOP)
def catalogue(request: HttpRequest) -> HttpResponse:
    """The newest version on a form. What is posted is saved, or one row more or less, or a check tried."""
    newest = newest_or_404(request)
    if request.method != "POST":
        return page(request, newest, editor.flat_of(newest.content))
    flat = typed_on(request)
    act, _colon, which = request.POST.get("do", "save").partition(":")
    return {"add": add_row, "drop": drop_row, "try": try_check}.get(act, save)(request, newest, flat, which)


STARTS_AT = {"level": "note", "place": "none"}  # a browser would choose the first: a stop, at the ankle
NOT_FORM = ("csrfmiddlewaretoken", "do", "based_on", "sample", "file", "held")


def typed_on(request: HttpRequest) -> Flat:
    """The form's texts as they were posted, whatever button was pressed."""
    return editor.renumbered({path: text for path, text in request.POST.items() if path not in NOT_FORM})


def newest_or_404(request: HttpRequest) -> Catalogue:
    """The workshop's newest version; a workshop without one has nothing to edit."""
    newest = editor.newest_of(request.member.organisation)
    if newest is None:
        raise Http404
    return newest


def page(
    request: HttpRequest, newest: Catalogue, flat: Flat, wrong: Wrong | None = None, status: int = 200, **more
) -> HttpResponse:
    """The form with these texts; what is wrong stands at its field."""
    context = {
        "newest": newest,
        "based_on": request.POST.get("based_on") or newest.version,
        "sections": sections(flat, wrong),
        "tables": tables(flat, wrong),
        "checks": checks_table(flat, wrong),
        "differs": bool(editor.retyped(editor.flat_of(newest.content), flat)),
        "wrong": wrong,
        "above": wrong.says if wrong and not placed(flat, wrong) else "",
        "samples": [(key, name) for key, name, _entry in sample_entries(request.member, newest.content)],
        "sample": request.POST.get("sample", ""),
        "versions": newest.workshop.catalogues.select_related("saved_by").order_by("-version")[:20],
    }
    return render(request, "orders/catalogue.html", {**context, **more}, status=status)


def save(request: HttpRequest, newest: Catalogue, flat: Flat, _which: str) -> HttpResponse:
    """Saves the next version; told when somebody else was faster, with all that was typed kept."""
    based_on = request.POST.get("based_on", "")
    try:
        content = editor.content_of(flat, newest.content)
        saved = editor.save(
            newest.workshop, request.member, int(based_on) if editor.is_count(based_on) else 0, content
        )
    except Wrong as wrong:
        return page(request, newest, flat, wrong, status=422)
    except Stale as stale:
        differ = editor.differing(content, stale.newest.content)
        more = {"stale": stale.newest, "differ": places(differ), "based_on": stale.newest.version}
        return page(request, stale.newest, flat, status=409, **more)
    if saved.id == newest.id:
        messages.info(request, _("Nothing differs from version %(n)d.") % {"n": saved.version})
    else:
        messages.success(
            request,
            _("Version %(n)d is saved. Orders that are under way keep theirs.") % {"n": saved.version},
        )
    return redirect("orders:catalogue")


def add_row(request: HttpRequest, newest: Catalogue, flat: Flat, which: str) -> HttpResponse:
    """One row more in a table, empty but for a check's mildest level and no place; nothing is saved."""
    columns = {key: fields for key, _name, fields in editor.TABLES} | {"checks": editor.CHECK}
    if which not in columns:
        raise Http404
    number = len(editor.rows_of(flat, which))
    row = {f"{which}.{number}.{typed.path}": STARTS_AT.get(typed.kind, "") for typed in columns[which]}
    return page(request, newest, flat | row)


def drop_row(request: HttpRequest, newest: Catalogue, flat: Flat, which: str) -> HttpResponse:
    """One row less; nothing is saved."""
    return page(
        request,
        newest,
        editor.renumbered({path: text for path, text in flat.items() if not path.startswith(f"{which}.")}),
    )


def try_check(request: HttpRequest, newest: Catalogue, flat: Flat, which: str) -> HttpResponse:
    """Runs one check on the entry that was chosen, with the catalogue as it was saved last."""
    if not editor.is_count(which) or int(which) not in editor.rows_of(flat, "checks"):
        raise Http404
    entries = {key: entry for key, _name, entry in sample_entries(request.member, newest.content)}
    entry = entries.get(request.POST.get("sample", ""), entries["plain"])
    try:
        came = tried(flat, int(which), entry, newest.content)
    except Wrong as wrong:
        return page(request, newest, flat, wrong, status=422)
    return page(request, newest, flat, tried=came)


@require_safe
@for_members(*WORKSHOP)
def export(request: HttpRequest, version: int) -> HttpResponse:
    """One version as a file."""
    found = request.member.organisation.catalogues.filter(version=version).first()
    if found is None:
        raise Http404
    text = json.dumps(found.content, ensure_ascii=False, indent=1) + "\n"
    name = f"catalogue-{found.version}.json"
    headers = {"Content-Disposition": f'attachment; filename="{name}"', "Cache-Control": "no-store, private"}
    return HttpResponse(text, content_type="application/json; charset=utf-8", headers=headers)


@require_POST
@for_members(*WORKSHOP)
def read_in(request: HttpRequest) -> HttpResponse:
    """Puts a file's catalogue on the form, to be looked at and saved; in place of what was typed only when told so."""
    newest = newest_or_404(request)
    saved = editor.flat_of(based_on(request, newest).content)
    flat = typed_on(request) or saved
    try:
        content = editor.read_file(file_of(request))
    except Wrong as wrong:
        return page(request, newest, flat, file_says=wrong.says, status=422)
    unsaved = places(editor.retyped(saved, flat))
    if unsaved and request.POST.get("do") != "replace":
        held = json.dumps(
            content, ensure_ascii=False
        )  # a browser gives a file only once: the page carries it
        return page(request, newest, flat, unsaved=unsaved, held=held, status=409)
    return page(request, newest, editor.flat_of(content), from_file=True)


def based_on(request: HttpRequest, newest: Catalogue) -> Catalogue:
    """The version that the form was opened with."""
    version = request.POST.get("based_on", "")
    found = newest.workshop.catalogues.filter(version=version).first() if editor.is_count(version) else None
    return found or newest


def file_of(request: HttpRequest) -> bytes:
    """The file's bytes, from the browser or as the page has carried them. Raises Wrong."""
    if request.POST.get("do") == "replace":
        return request.POST.get("held", "").encode()
    if "file" not in request.FILES:
        raise Wrong("", _("Choose a file first."))
    return request.FILES["file"].read(editor.FILE_MOST + 1)
