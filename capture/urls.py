from django.urls import path, re_path

from capture.views import api, cards, design, phone, photo, take_in, visits

app_name = "capture"
urlpatterns = [
    path("visits/", visits.visits, name="visits"),
    path("design/", design.design, name="design"),
    path("take-in/", take_in.take_in, name="take-in"),
    path("phones/", phone.phones, name="phones"),
    path("phones/<uuid:key_id>/end", phone.end_key, name="phone-end"),
    path("cards/", cards.cards, name="cards"),
    path("cards/new/<slug:kind>/", cards.card_new, name="card-new"),
    path("cards/<uuid:card_id>/", cards.card_edit, name="card-edit"),
    path("cards/<uuid:card_id>/retire", cards.card_retire, name="card-retire"),
    path("api/phone", phone.phone, name="phone"),
    path("api/phone/key", phone.send_key, name="phone-key"),
    path("api/phone/have", phone.have, name="phone-have"),
    path("api/sign-out", phone.sign_out, name="phone-sign-out"),
    path("api/visits", api.plan_visit, name="plan-visit"),
    re_path(
        r"^api/entries/(?P<order_id>[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12})/seals/(?P<sha256>[0-9a-f]{64})$",
        api.seal,
        name="seal",
    ),
    re_path(r"^api/photos/(?P<sha256>[0-9a-f]{64})$", photo.photo_standing, name="photo-standing"),
    re_path(
        r"^api/photos/(?P<sha256>[0-9a-f]{64})/parts/(?P<offset>[0-9]{1,9})$",
        photo.photo_part,
        name="photo-part",
    ),
    re_path(r"^photos/(?P<sha256>[0-9a-f]{64})/(?P<size>1600|320)$", photo.picture, name="picture"),
    re_path(r"^api/", api.not_here),
]
