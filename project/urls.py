"""Every address of the site."""

from django.urls import include, path

from project import views

urlpatterns = [
    path("", views.home, name="home"),
    path("accounts/signup/", views.nothing_here),
    path("accounts/", include("allauth.urls")),
    path("i18n/", include("django.conf.urls.i18n")),
    path("", include("capture.urls")),
    path("", include("orders.urls")),
]
handler404 = "project.views.not_found"
handler500 = "project.views.failed"
