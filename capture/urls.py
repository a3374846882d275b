from django.urls import path, re_path

from capture.views import api, visits

app_name = "capture"
urlpatterns = [
    path("visits/", visits.visits, name="visits"),
    path("api/phone", api.phone, name="phone"),
    path("api/visits", api.plan_visit, name="plan-visit"),
    re_path(
        r"^api/entries/(?P<order_id>[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12})/seals/(?P<sha256>[0-9a-f]{64})$",
        api.seal,
        name="seal",
    ),
    re_path(r"^api/", api.not_here),
]
