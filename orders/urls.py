from django.urls import path

from orders.views import bench, handout, order

app_name = "orders"
urlpatterns = [
    path("bench/", bench.bench, name="bench"),
    path("bench/<uuid:order_id>/", order.order, name="order"),
    path("bench/<uuid:order_id>/confirm", order.confirm, name="confirm"),
    path("h/<str:token>/", handout.handout, name="handout"),
]
