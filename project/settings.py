"""The site's one settings file. What differs between machines comes through env.py; DEVELOPERS.md lists the names."""

import re
from pathlib import Path

from csp.constants import NONE, SELF

from project import databases, env, mail_server

ROOT = Path(__file__).resolve().parent.parent
VAR = Path(env.text("SHANKLINE_VAR", str(ROOT / "var")))

# The demo alone may run with what must never be seen elsewhere: a known secret, http, one factor.
DEMO = env.flag("SHANKLINE_DEMO")
HTTPS = not DEMO and not env.flag("SHANKLINE_PLAIN_HTTP")
SECOND_FACTOR = env.flag("SHANKLINE_SECOND_FACTOR", not DEMO)
DEBUG = False
DEMO_SECRET = "only for the demo, where nothing is real"
SECRET_KEY = env.text("SHANKLINE_SECRET", DEMO_SECRET)
ALLOWED_HOSTS = env.words("SHANKLINE_HOSTS", "localhost,127.0.0.1,[::1],testserver")
CSRF_TRUSTED_ORIGINS = env.words("SHANKLINE_ORIGINS")

INSTALLED_APPS = [
    "project",
    "capture",
    "orders",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.humanize",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "allauth",
    "allauth.account",
    "allauth.mfa",
    "django_htmx",
    "csp",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "csp.middleware.CSPMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.locale.LocaleMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "project.session_age.SessionAgeMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "allauth.account.middleware.AccountMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "project.members.MemberMiddleware",
]
ROOT_URLCONF = "project.urls"
WSGI_APPLICATION = "project.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "builtins": ["project.templatetags.dates"],
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "project.members.member_in_templates",
            ],
        },
    },
]

DATABASES = {"default": databases.chosen(env.text("SHANKLINE_DATABASE"), VAR / "shankline.sqlite3")}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
CACHES = {"default": {"BACKEND": "django.core.cache.backends.db.DatabaseCache", "LOCATION": "cache"}}

LANGUAGE_CODE = "en"
# Each by its own name. The person's page (the handout) has one more, see orders/handout.py.
LANGUAGES = [("en", "English"), ("es", "Español"), ("de", "Deutsch"), ("fr", "Français")]
LOCALE_PATHS = [ROOT / "project" / "locale"]
TIME_ZONE = env.text("SHANKLINE_TIME_ZONE", "UTC")
USE_TZ = True

# Sign-in, by mail address; nobody signs up, a clinic lead invites.
AUTH_USER_MODEL = "project.User"
AUTHENTICATION_BACKENDS = ["allauth.account.auth_backends.AuthenticationBackend"]
ACCOUNT_ADAPTER = "project.members.Adapter"
ACCOUNT_LOGIN_METHODS = {"email"}
ACCOUNT_SIGNUP_FIELDS = ["email*", "password1*"]
ACCOUNT_USER_MODEL_USERNAME_FIELD = None
ACCOUNT_EMAIL_VERIFICATION = "none"
ACCOUNT_LOGOUT_ON_GET = False
ACCOUNT_SESSION_REMEMBER = True
ACCOUNT_PREVENT_ENUMERATION = True
MFA_SUPPORTED_TYPES = ["totp", "webauthn", "recovery_codes"]
MFA_PASSKEY_LOGIN_ENABLED = HTTPS
LOGIN_URL = "account_login"
LOGIN_REDIRECT_URL = "home"
ACCOUNT_LOGOUT_REDIRECT_URL = "account_login"
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator", "OPTIONS": {"min_length": 12}},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]
SESSION_COOKIE_AGE = env.whole("SHANKLINE_IDLE_SECONDS", 8 * 3600)
SESSION_SAVE_EVERY_REQUEST = True
SESSION_LONGEST_SECONDS = env.whole("SHANKLINE_SESSION_SECONDS", 24 * 3600)

# How patient phones are when they send: the first wait after a failure (it doubles), the longest, and how long one call
# may go unanswered, with the slowest link that a body is given time for.
SENDING_PACE = {
    "first_wait_ms": env.whole("SHANKLINE_SENDING_FIRST_WAIT_MS", 5_000),
    "longest_wait_ms": env.whole("SHANKLINE_SENDING_LONGEST_WAIT_MS", 300_000),
    "timeout_ms": env.whole("SHANKLINE_SENDING_TIMEOUT_MS", 20_000),
    "slowest_bytes_per_ms": env.whole("SHANKLINE_SENDING_SLOWEST_KB_PER_S", 2),
}

# Static files sit in one folder named by the build's hash: modules import each other by plain relative paths.
STATIC_URL = "/static/"
STATIC_ROOT = VAR / "site"
STATICFILES_DIRS = [ROOT / "static"]
STORAGES = {
    "default": {
        "BACKEND": "django.core.files.storage.FileSystemStorage",
        "OPTIONS": {"location": VAR / "files"},
    },
    "staticfiles": {"BACKEND": "project.build.BuildStorage"},
}
WHITENOISE_ALLOW_ALL_ORIGINS = False  # no other site has a use for our files
WHITENOISE_IMMUTABLE_FILE_TEST = lambda path, url: bool(re.match(r"^/static/[0-9a-f]{16}/", url))  # noqa: E731

# Nothing runs or loads here but our own files; pictures may also be ones that the phone holds (blob:).
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "script-src": [SELF],
        "style-src": [SELF],
        "img-src": [SELF, "blob:"],
        "connect-src": [SELF],
        "manifest-src": [SELF],
        "worker-src": [SELF],
        "form-action": [SELF],
        "frame-ancestors": [NONE],
        "base-uri": [NONE],
    },
}
SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
SECURE_SSL_REDIRECT = HTTPS
SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https") if env.flag("SHANKLINE_BEHIND_PROXY") else None
SECURE_HSTS_SECONDS = 31_536_000 if HTTPS else 0
SECURE_HSTS_INCLUDE_SUBDOMAINS = HTTPS
SECURE_HSTS_PRELOAD = HTTPS
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = HTTPS
SESSION_COOKIE_NAME = "__Host-session" if HTTPS else "session"
CSRF_COOKIE_NAME = "__Host-csrf" if HTTPS else "csrf"
CSRF_COOKIE_HTTPONLY = True
MEMBER_COOKIE_NAME = "__Host-member" if HTTPS else "member"  # an id and no right: project/members.py
MEMBER_COOKIE_AGE = 400 * 24 * 3600  # the longest that browsers keep one
CSRF_FAILURE_VIEW = "project.views.pages.csrf_failed"
DATA_UPLOAD_MAX_MEMORY_SIZE = 1_000_000

EMAIL_BACKEND = env.text("SHANKLINE_MAIL_BACKEND", "django.core.mail.backends.console.EmailBackend")
globals().update(mail_server.chosen(env.text("SHANKLINE_SMTP")))
SITE_ADDRESS = env.text("SHANKLINE_ADDRESS", "http://127.0.0.1:8000/")
DEFAULT_FROM_EMAIL = env.text("SHANKLINE_MAIL_FROM", "shankline@localhost")

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "filters": {"without_tokens": {"()": "project.logs.WithoutTokens"}},
    "handlers": {"console": {"class": "logging.StreamHandler", "filters": ["without_tokens"]}},
    "root": {"handlers": ["console"], "level": "WARNING"},
}
