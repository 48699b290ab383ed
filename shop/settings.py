"""Every setting, read from the environment. DEVELOPERS.md lists the variables."""

from __future__ import annotations

import os
from datetime import timedelta
from functools import partial
from pathlib import Path
from typing import Any

from csp.constants import NONE, SELF
from django.core.exceptions import ImproperlyConfigured
from django.utils.functional import SimpleLazyObject

from shop.premises import broker, database, secret_key

CHECKOUT = Path(__file__).resolve().parent.parent
_YES_NO = {
    "yes": True,
    "1": True,
    "true": True,
    "no": False,
    "0": False,
    "false": False,
}


def text(name: str, default: str) -> str:
    """A variable as it stands; one that is set but empty is a mistake."""
    value = os.environ.get(name, default)
    if value == "" and default != "":
        raise ImproperlyConfigured(f"{name} is empty. Give it a value or unset it.")
    return value


def number(name: str, default: int, least: int = 0) -> int:
    value = os.environ.get(name, str(default))
    if not (value.isascii() and value.isdigit() and int(value) >= least):
        raise ImproperlyConfigured(
            f"{name} is {value!r}. Give a whole number of {least} or more."
        )
    return int(value)


def switch(name: str, default: bool) -> bool:
    value = os.environ.get(name, "yes" if default else "no").lower()
    if value not in _YES_NO:
        raise ImproperlyConfigured(f"{name} is {value!r}. Give yes or no.")
    return _YES_NO[value]


_DATA = text("XDG_DATA_HOME", str(Path.home() / ".local" / "share"))
SEAMBOOK_HOME = Path(text("SEAMBOOK_HOME", f"{_DATA}/seambook")).expanduser().resolve()
MEDIA_ROOT = Path(text("SEAMBOOK_MEDIA", str(SEAMBOOK_HOME / "files"))).resolve()
# Made when first used: what needs no key, such as lay_out, needs no home either.
SECRET_KEY: Any = text("SEAMBOOK_SECRET_KEY", "") or SimpleLazyObject(
    partial(secret_key, SEAMBOOK_HOME)
)
DEBUG = switch("SEAMBOOK_DEBUG", False)
HTTPS = switch("SEAMBOOK_HTTPS", False)
ALLOWED_HOSTS = text("SEAMBOOK_HOSTS", "127.0.0.1,localhost,[::1]").split(",")
CSRF_TRUSTED_ORIGINS = [it for it in text("SEAMBOOK_ORIGINS", "").split(",") if it]

INSTALLED_APPS = [
    "shop.apps.OwnersAdmin",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "axes",
    "csp",
    "django_htmx",
    "rest_framework",
    "rest_framework.authtoken",
    "drf_spectacular",
    "shop",
    "jobs",
    "layout",
    "media",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "csp.middleware.CSPMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.auth.middleware.LoginRequiredMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "shop.middleware.the_shop",
    "axes.middleware.AxesMiddleware",
]
ROOT_URLCONF = "shop.urls"
WSGI_APPLICATION = "shop.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "shop.middleware.in_templates",
            ],
        },
    }
]

DATABASES = {"default": database(text("SEAMBOOK_DATABASE", ""), SEAMBOOK_HOME)}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

_bell = broker(text("SEAMBOOK_BROKER", ""), SEAMBOOK_HOME)
CELERY_BROKER_URL = _bell.pop("url")
CELERY_BROKER_TRANSPORT_OPTIONS = _bell
CELERY_BROKER_CONNECTION_RETRY_ON_STARTUP = True
CELERY_TASK_PUBLISH_RETRY = False  # the sweep rings again
CELERY_TASK_ACKS_LATE = True
CELERY_TASK_REJECT_ON_WORKER_LOST = True
CELERY_TASK_IGNORE_RESULT = True  # results are rows
CELERY_TASK_TIME_LIMIT = 600
CELERY_WORKER_PREFETCH_MULTIPLIER = 1
CELERY_WORKER_HIJACK_ROOT_LOGGER = False
CELERY_TIMEZONE = "UTC"
# Seconds without a beat after which an errand is taken from a worker held for dead.
SEAMBOOK_LEASE = number("SEAMBOOK_LEASE", 15, least=2)

AUTH_USER_MODEL = "shop.Person"
AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",
    "django.contrib.auth.backends.ModelBackend",
]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": f"django.contrib.auth.password_validation.{name}"}
    for name in (
        "UserAttributeSimilarityValidator",
        "MinimumLengthValidator",
        "CommonPasswordValidator",
        "NumericPasswordValidator",
    )
]
PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.Argon2PasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
AXES_FAILURE_LIMIT = 5
AXES_COOLOFF_TIME = timedelta(minutes=15)
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_LOCKOUT_TEMPLATE = "429.html"
AXES_RESET_ON_SUCCESS = True
AXES_VERBOSE = False
LOGIN_URL = "login"
LOGIN_REDIRECT_URL = "/"
LOGOUT_REDIRECT_URL = "login"

REST_FRAMEWORK = {
    "DEFAULT_AUTHENTICATION_CLASSES": [
        "rest_framework.authentication.TokenAuthentication",
        "rest_framework.authentication.SessionAuthentication",
    ],
    "DEFAULT_PERMISSION_CLASSES": ["rest_framework.permissions.IsAuthenticated"],
    "DEFAULT_RENDERER_CLASSES": ["rest_framework.renderers.JSONRenderer"],
    "DEFAULT_PAGINATION_CLASS": "rest_framework.pagination.LimitOffsetPagination",
    "PAGE_SIZE": 50,
    "DEFAULT_SCHEMA_CLASS": "drf_spectacular.openapi.AutoSchema",
    "TEST_REQUEST_DEFAULT_FORMAT": "json",
}
SPECTACULAR_SETTINGS = {
    "TITLE": "Seambook",
    "VERSION": "1",
    "DESCRIPTION": "Jobs, measures, pieces, layouts, papers and money of one shop.",
    "SERVE_INCLUDE_SCHEMA": False,
    "SCHEMA_PATH_PREFIX": "/api/v1",
    "ENUM_NAME_OVERRIDES": {
        "JobStateEnum": "jobs.models.Job.State",
        "SiteKindEnum": "jobs.models.Site.Kind",
        "PieceStateEnum": "jobs.models.Piece.State",
        "LayoutStateEnum": "layout.models.Layout.State",
        "DocumentStateEnum": "media.models.Document.State",
        "QuoteStateEnum": "jobs.models.Quote.State",
        "QuotePartEnum": "jobs.models.QuoteLine.Part",
        "CostPartEnum": "jobs.models.Cost.Part",
        "WorkStageEnum": "jobs.models.WorkTime.Stage",
        "SpoiledEnum": "jobs.models.Piece.Spoiled",
    },
}

CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [SELF],
        "img-src": [SELF, "data:", "blob:"],
        "object-src": [NONE],
        "base-uri": [SELF],
        "form-action": [SELF],
        "frame-ancestors": [NONE],
    }
}
X_FRAME_OPTIONS = "DENY"
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = HTTPS
SESSION_COOKIE_AGE = number("SEAMBOOK_SIGNED_IN_DAYS", 30, least=1) * 24 * 3600
SECURE_SSL_REDIRECT = HTTPS
SECURE_REDIRECT_EXEMPT = [r"^health/$"]
SECURE_HSTS_SECONDS = 3600 * 24 * 30 if HTTPS else 0
SECURE_PROXY_SSL_HEADER = (
    ("HTTP_X_FORWARDED_PROTO", "https")
    if switch("SEAMBOOK_BEHIND_PROXY", False)
    else None
)
DATA_UPLOAD_MAX_MEMORY_SIZE = 2_500_000
DATA_UPLOAD_MAX_NUMBER_FIELDS = 2000

LANGUAGE_CODE = "en-us"
TIME_ZONE = text("SEAMBOOK_TIME_ZONE", "UTC")
USE_TZ = True
# Django's own formats are set aside: no date may be read day for month.
DATE_FORMAT = "D j M Y"
DATETIME_FORMAT = "D j M Y, H:i"
TIME_FORMAT = "H:i"

STATIC_URL = "static/"
STATIC_ROOT = text("SEAMBOOK_STATIC", "") or None
WHITENOISE_USE_FINDERS = STATIC_ROOT is None
_MANIFEST = "whitenoise.storage.CompressedManifestStaticFilesStorage"
_PLAIN = "django.contrib.staticfiles.storage.StaticFilesStorage"
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": _MANIFEST if STATIC_ROOT else _PLAIN},
}
MEDIA_URL = "files/"
FILE_UPLOAD_PERMISSIONS = 0o640
LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {
        "line": {"format": "{asctime} {levelname} {name}: {message}", "style": "{"}
    },
    "handlers": {"console": {"class": "logging.StreamHandler", "formatter": "line"}},
    "root": {"handlers": ["console"], "level": text("SEAMBOOK_LOG", "WARNING").upper()},
}
