from __future__ import annotations

from decimal import Decimal
from typing import Any

from django.db import migrations

from shop.pairs_table import PAIRS
from shop.seams_table import SEAMS
from shop.warmth_table import WARMTH

KEYS = (
    "expansion_along_mm_m",
    "expansion_across_mm_m",
    "expansion_source",
    "fold_from_c",
    "fold_source",
)


def fill(apps: Any, schema_editor: Any) -> None:
    """A shop that has metals gets what a new one starts with; a new one is opened
    later. Metals the owner added have the expansion of their kind."""
    metals = apps.get_model("shop", "Metal").objects
    if not metals.exists():
        return
    for metal in metals.filter(expansion_along_mm_m=0):
        painted = metal.slug.startswith("painted-steel")
        warmth = WARMTH["painted steel" if painted else metal.kind]
        metals.filter(pk=metal.pk).update(**{key: getattr(warmth, key) for key in KEYS})
    for name, rows in (("MetalPair", PAIRS), ("SeamKind", SEAMS)):
        table = apps.get_model("shop", name)
        table.objects.bulk_create(
            (table(**_known(table, row._asdict())) for row in rows),
            ignore_conflicts=True,
        )


def _known(table: Any, row: dict[str, Any]) -> dict[str, Any]:
    """What the table had at this migration, lengths to a thousandth of a mm."""
    fields = {field.name for field in table._meta.get_fields()}
    return {
        name: round(Decimal(value), 3) if isinstance(value, float) else value
        for name, value in row.items()
        if name in fields
    }


class Migration(migrations.Migration):
    dependencies = [("shop", "0004_metals_pairs_seams_and_brake_sections")]

    operations = [migrations.RunPython(fill, migrations.RunPython.noop)]
