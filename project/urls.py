"""Every address of the site."""

from django.urls import include, path

from project.views import kept, members, pages, pwa, settings

urlpatterns = [
    path("", pages.home, name="home"),
    path("accounts/signup/", pages.nothing_here),
    path("accounts/", include("allauth.urls")),
    path("members/", members.members, name="members"),
    path("members/invite", members.invite, name="member-invite"),
    path("members/<uuid:member_id>/role", members.change_role, name="member-role"),
    path("members/<uuid:member_id>/leave", members.leave, name="member-leave"),
    path("members/invitations/<uuid:invitation_id>/withdraw", members.withdraw, name="invitation-withdraw"),
    path("join/<str:token>/", members.join, name="join"),
    path("worker.js", pwa.worker, name="worker"),
    path("h/worker.js", pwa.handout_worker, name="handout-worker"),
    path("manifest.webmanifest", pwa.manifest, name="manifest"),
    path("offline/", pwa.offline, name="offline"),
    path("kept/", kept.kept_form, name="kept-form"),
    path("settings/", settings.own_settings, name="settings"),
    path("", include("capture.urls")),
    path("", include("orders.urls")),
]
handler404 = "project.views.pages.not_found"
handler500 = "project.views.pages.failed"
