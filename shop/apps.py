from django.apps import AppConfig
from django.contrib.admin import apps as admin


class ShopConfig(AppConfig):
    default = True
    name = "shop"
    verbose_name = "Shop"

    def ready(self) -> None:
        from shop import checks  # noqa: F401  registers the start-up checks


class OwnersAdmin(admin.AdminConfig):
    """Django's admin, open to whom shop/access.py lets in."""

    default = False
    default_site = "shop.admin_site.OwnersSite"
