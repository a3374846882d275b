"""What makes the phone's page an app, from the root, so that it holds for every address. It is the same for everybody."""

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.views.decorators.cache import cache_control
from django.views.decorators.http import require_safe

from project import pwa


@cache_control(no_cache=True)
@require_safe
def worker(request: HttpRequest) -> HttpResponse:
    return HttpResponse(pwa.worker_script(), content_type="text/javascript; charset=utf-8")


@cache_control(no_cache=True)
@require_safe
def handout_worker(request: HttpRequest) -> HttpResponse:
    """What keeps a person's page on their phone, below the links alone."""
    return HttpResponse(pwa.handout_worker_script(), content_type="text/javascript; charset=utf-8")


@cache_control(no_cache=True)
@require_safe
def manifest(request: HttpRequest) -> HttpResponse:
    return JsonResponse(pwa.manifest(), content_type="application/manifest+json")


@cache_control(no_cache=True)
@require_safe
def offline(request: HttpRequest) -> HttpResponse:
    """What the worker shows of a page that needs a signal, while there is none."""
    return render(request, "offline.html")
