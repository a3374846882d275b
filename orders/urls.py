from django.urls import path

from orders.views import (
    bench,
    catalogue,
    clinic,
    clinic_handout,
    clinic_orders,
    document,
    handout,
    making,
    order,
    photo,
    problem,
    query,
    what_if,
)

app_name = "orders"
urlpatterns = [
    path("bench/", bench.bench, name="bench"),
    path("bench/<uuid:order_id>/", order.order, name="order"),
    path("bench/<uuid:order_id>/confirm", order.confirm, name="confirm"),
    path("bench/<uuid:order_id>/what-if", what_if.what_if, name="what-if"),
    path("bench/<uuid:order_id>/ask", query.query_ask, name="query-ask"),
    path(
        "bench/<uuid:order_id>/queries/<uuid:query_id>/withdraw", query.query_withdraw, name="query-withdraw"
    ),
    path("bench/<uuid:order_id>/photos/<str:sha256>", photo.photo, name="photo"),
    path("bench/<uuid:order_id>/making/", making.making, name="making"),
    path("bench/<uuid:order_id>/start", making.start, name="start"),
    path("bench/<uuid:order_id>/stage", making.stage, name="stage"),
    path("bench/<uuid:order_id>/inspect", making.inspect, name="inspect"),
    path("bench/<uuid:order_id>/ship", making.ship, name="ship"),
    path("bench/<uuid:order_id>/traveller", making.traveller, name="traveller"),
    path("bench/<uuid:order_id>/packing-slip", making.packing_slip, name="packing-slip"),
    path("catalogue/", catalogue.catalogue, name="catalogue"),
    path("catalogue/<int:version>.json", catalogue.export, name="catalogue-file"),
    path("catalogue/file", catalogue.read_in, name="catalogue-read-in"),
    path("orders/", clinic_orders.orders, name="clinic-orders"),
    path("orders/<uuid:order_id>/", clinic.order, name="clinic-order"),
    path("orders/<uuid:order_id>/photos/<str:sha256>", photo.clinic_photo, name="clinic-photo"),
    path("orders/<uuid:order_id>/pick", clinic.pick, name="clinic-pick"),
    path("orders/<uuid:order_id>/queries/<uuid:query_id>/accept", clinic.accept, name="proposal-accept"),
    path("orders/<uuid:order_id>/cancel", clinic.cancel, name="clinic-cancel"),
    path("orders/<uuid:order_id>/handout", clinic_handout.make, name="handout-make"),
    path("orders/<uuid:order_id>/handout/withdraw", clinic_handout.withdraw, name="handout-withdraw"),
    path("documents/<uuid:order_id>/<str:name>", document.document, name="document"),
    path("h/<str:token>/", handout.handout, name="handout"),
    path("h/<str:token>/problem", problem.report, name="problem-report"),
    path("h/<str:token>/told", problem.told, name="problem-told"),
]
