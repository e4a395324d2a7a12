import os
from pathlib import Path
from typing import Any

import dj_database_url

from herd.mail import mail_settings
from herd.pages import static_headers
from herd.private_files import make_private
from herd.secret import secret_key

BASE_DIR = Path(__file__).resolve().parent.parent
DATA_DIR = Path(os.environ.get("MANGERLINE_DATA", ".data")).resolve()
DATABASE_URL = os.environ.get("DATABASE_URL")
SQLITE_FILE = DATA_DIR / "mangerline.sqlite3"
make_private(DATA_DIR, None if DATABASE_URL else SQLITE_FILE)

DEBUG = os.environ.get("MANGERLINE_DEBUG") == "1"
LOCAL_HOSTS = ["localhost", "127.0.0.1", "[::1]"]
ALLOWED_HOSTS = os.environ.get("MANGERLINE_HOSTS", ",".join(LOCAL_HOSTS)).split(",")
ON_THE_NET = not DEBUG and not set(ALLOWED_HOSTS) <= set(LOCAL_HOSTS)
SECRET_KEY = os.environ.get("MANGERLINE_SECRET_KEY") or secret_key(DATA_DIR / "secret_key")

# Keys it replaced: what they signed stays good, and new things are signed with the one above.
SECRET_KEY_FALLBACKS = [key for key in os.environ.get("MANGERLINE_OLD_SECRET_KEYS", "").split(",") if key]

# Notices to phones: the key their makers know this server by, and whom they may turn to.
VAPID_KEY_FILE = DATA_DIR / "vapid_key"
PUSH_CONTACT = os.environ.get("MANGERLINE_CONTACT") or f"https://{ALLOWED_HOSTS[0].lstrip('.*') or 'localhost'}"
# For tests alone: addresses inside the house, and without TLS.
PUSH_TO_OURSELVES = os.environ.get("MANGERLINE_PUSH_TO_OURSELVES") == "1"

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "rest_framework",
    "drf_spectacular",
    "allauth",
    "allauth.account",
    "allauth.mfa",
    "allauth.headless",
    "allauth.usersessions",
    "herd",
]
MIDDLEWARE = [
    "herd.pages.SafetyHeaders",
    "herd.health.HealthFirst",
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.middleware.gzip.GZipMiddleware",
    "api.middleware.ApiAnswers",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "herd.sessions.RollingSession",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "api.account.lasting.ProofLasts",
    "allauth.account.middleware.AccountMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
]
# For mails alone; every page is the client's.
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {"context_processors": ["django.template.context_processors.request"]},
    }
]
ROOT_URLCONF = "herd.urls"
WSGI_APPLICATION = "herd.wsgi.application"
APPEND_SLASH = False
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

SQLITE: dict[str, Any] = {
    "ENGINE": "django.db.backends.sqlite3",
    "NAME": SQLITE_FILE,
    "OPTIONS": {
        "timeout": 20,
        "transaction_mode": "IMMEDIATE",
        "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL;",
    },
}
DATABASES: dict[str, Any] = {
    "default": dj_database_url.parse(DATABASE_URL, conn_max_age=60, conn_health_checks=True) if DATABASE_URL else SQLITE
}

# What counts tries must count for all workers; what only keeps accidents small may count in each.
CACHES: dict[str, Any] = {
    "default": {
        "BACKEND": "django.core.cache.backends.db.DatabaseCache",
        "LOCATION": "mangerline_cache",
        "OPTIONS": {"MAX_ENTRIES": 200_000},
    },
    "worker": {"BACKEND": "django.core.cache.backends.locmem.LocMemCache", "OPTIONS": {"MAX_ENTRIES": 20_000}},
}

AUTH_USER_MODEL = "herd.Person"
AUTHENTICATION_BACKENDS = [
    "allauth.account.auth_backends.AuthenticationBackend",
    # Sessions opened before allauth came name this one.
    "django.contrib.auth.backends.ModelBackend",
]
PASSWORD_HASHERS = ["herd.hashers.FarmArgon2"]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator", "OPTIONS": {"min_length": 8}},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]
# With the prefix a browser takes such a cookie from this host alone, and only by TLS.
COOKIE_PREFIX = "__Host-" if ON_THE_NET else ""
SESSION_COOKIE_NAME = f"{COOKIE_PREFIX}mangerline_session"
SESSION_COOKIE_AGE = 90 * 24 * 3600
CSRF_COOKIE_NAME = f"{COOKIE_PREFIX}mangerline_csrf"
CSRF_FAILURE_VIEW = "api.errors.csrf_failure"
CSRF_TRUSTED_ORIGINS = [f"https://{host}" for host in ALLOWED_HOSTS if ON_THE_NET and host != "*"]

SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = SECURE_SSL_REDIRECT = ON_THE_NET
SECURE_HSTS_SECONDS = 365 * 24 * 3600 if ON_THE_NET else 0
SECURE_HSTS_INCLUDE_SUBDOMAINS = ON_THE_NET
SECURE_REDIRECT_EXEMPT = [r"^healthz$"]
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
# A browser's preload list is hard to leave again: the owner of the domain asks for it, not we.
SILENCED_SYSTEM_CHECKS = ["security.W021"]
BEHIND_PROXY = os.environ.get("MANGERLINE_BEHIND_PROXY") == "1"
if BEHIND_PROXY:
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")

# What a farm's pictures and recordings may take.
MEDIA_MB = int(os.environ.get("MANGERLINE_MEDIA_MB", "200"))
# How large a farm's file the app takes in.
IMPORT_MB = int(os.environ.get("MANGERLINE_IMPORT_MB", "200"))
# Who may make an account: anybody, or only somebody with an invitation.
SIGN_UP = os.environ.get("MANGERLINE_SIGN_UP", "open")
MAIL, MAIL_SETTINGS = mail_settings(os.environ)
globals().update(MAIL_SETTINGS)

HEADLESS_ONLY = True
HEADLESS_CLIENTS = ("browser",)
HEADLESS_FRONTEND_URLS = {
    "account_confirm_email": "/#/mail/{key}",
    "account_reset_password_from_key": "/#/reset/{key}",
    "account_signup": "/",
}
ACCOUNT_ADAPTER = "api.account.adapter.AccountAdapter"
ACCOUNT_USER_MODEL_USERNAME_FIELD = "name"
ACCOUNT_USER_MODEL_EMAIL_FIELD = "email"
ACCOUNT_LOGIN_METHODS = {"username", "email"}
ACCOUNT_SIGNUP_FIELDS = ["username*", "email", "password1*"]
ACCOUNT_USERNAME_MIN_LENGTH = 1
ACCOUNT_EMAIL_VERIFICATION = "optional" if MAIL else "none"
ACCOUNT_EMAIL_NOTIFICATIONS = MAIL
# One address at most: another one takes its place once the link in the mail to it was opened.
ACCOUNT_CHANGE_EMAIL = True
ACCOUNT_LOGIN_BY_CODE_ENABLED = MAIL
ACCOUNT_PASSWORD_RESET_BY_CODE_ENABLED = MAIL
ACCOUNT_EMAIL_SUBJECT_PREFIX = "Mangerline: "
ACCOUNT_SESSION_REMEMBER = True
# On a shared phone anybody may be on in her name: a new mail address takes her password.
ACCOUNT_REAUTHENTICATION_REQUIRED = True
# Failed sign-ins are counted by api/account/doors.py, for every door alike.
ACCOUNT_RATE_LIMITS = {"login_failed": None, "login": "60/m/ip", "signup": None}
USERSESSIONS_ADAPTER = "api.account.ending.Sessions"
MFA_ADAPTER = "api.account.mfa.SecondStep"
MFA_RATE_LIMITS = {"webauthn_login": "60/m/ip"}
MFA_SUPPORTED_TYPES = ["webauthn", "recovery_codes"]
MFA_PASSKEY_LOGIN_ENABLED = True
# A name is the account here: nobody has to have a mail address, proved or not.
MFA_ALLOW_UNVERIFIED_EMAIL = True
MFA_WEBAUTHN_ALLOW_INSECURE_ORIGIN = not ON_THE_NET

CLIENT_DIST = BASE_DIR / "herd" / "client_dist"
STATIC_URL = "assets/"
WHITENOISE_ROOT = CLIENT_DIST if CLIENT_DIST.is_dir() else None
WHITENOISE_AUTOREFRESH = DEBUG
WHITENOISE_MAX_AGE = 0
WHITENOISE_ALLOW_ALL_ORIGINS = False
WHITENOISE_MIMETYPES = {".webmanifest": "application/manifest+json"}
WHITENOISE_IMMUTABLE_FILE_TEST = r"^/assets/.+-[\w-]{8}\.\w+$"
WHITENOISE_ADD_HEADERS_FUNCTION = static_headers

USE_TZ = True
TIME_ZONE = "UTC"
# Read before Django puts its own zone in its place.
MACHINE_TZ = os.environ.get("TZ", "")
LANGUAGE_CODE = "en"
USE_I18N = False

REST_FRAMEWORK: dict[str, Any] = {
    "DEFAULT_RENDERER_CLASSES": ["rest_framework.renderers.JSONRenderer"],
    "DEFAULT_PARSER_CLASSES": ["api.bodies.PlainJSON"],
    "DEFAULT_AUTHENTICATION_CLASSES": ["rest_framework.authentication.SessionAuthentication"],
    "DEFAULT_PERMISSION_CLASSES": ["api.permissions.SignedIn"],
    "EXCEPTION_HANDLER": "api.errors.drf_handler",
    "DEFAULT_SCHEMA_CLASS": "api.schema.auto.DoorSchema",
}
SPECTACULAR_SETTINGS: dict[str, Any] = {
    "TITLE": "Mangerline",
    "DESCRIPTION": (
        "What a phone says to the server. Each error is {code, message, where}. Sign in by POST /api/session, send the"
        " cookie, and with whatever changes something the token as X-CSRFToken. Accounts, passkeys and sessions under"
        " /api/auth/browser/v1/ are django-allauth's headless API, described at"
        " https://docs.allauth.org/en/latest/headless/openapi-specification/."
    ),
    "VERSION": "1",
    "SCHEMA_PATH_PREFIX": "/api/",
    "POSTPROCESSING_HOOKS": ["drf_spectacular.hooks.postprocess_schema_enums", "api.schema.auto.with_sync"],
    "ENUM_NAME_OVERRIDES": {},
    "COMPONENT_SPLIT_REQUEST": False,
    # A PATCH here names all it changes.
    "COMPONENT_SPLIT_PATCH": False,
}
# One batch from a phone is at most 1 MB; a gzip body is measured again after inflating.
DATA_UPLOAD_MAX_MEMORY_SIZE = 2 * 1024 * 1024

LOGGING: dict[str, Any] = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"json": {"()": "herd.log.JsonLines"}},
    "handlers": {"stderr": {"class": "logging.StreamHandler", "formatter": "json"}},
    "root": {"handlers": ["stderr"], "level": os.environ.get("MANGERLINE_LOG", "INFO")},
    "loggers": {"django.server": {"handlers": ["stderr"], "propagate": False}},
}
