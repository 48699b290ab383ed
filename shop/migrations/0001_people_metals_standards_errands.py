from decimal import Decimal

import django.contrib.auth.validators
import django.core.validators
import django.db.models.deletion
import django.utils.timezone
from django.db import migrations, models

import shop.models.people
import shop.models.standards


class Migration(migrations.Migration):
    initial = True

    dependencies = [
        ("auth", "0012_alter_user_first_name_max_length"),
    ]

    operations = [
        migrations.CreateModel(
            name="Standard",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True,
                        primary_key=True,
                        serialize=False,
                        verbose_name="ID",
                    ),
                ),
                ("key", models.SlugField(editable=False, max_length=60, unique=True)),
                ("value", models.CharField(max_length=60)),
                (
                    "unit",
                    models.CharField(
                        choices=[
                            ("mm", "mm"),
                            ("deg", "degrees"),
                            ("count", "number"),
                            ("word", "choice"),
                        ],
                        editable=False,
                        max_length=5,
                    ),
                ),
                ("words", models.TextField(editable=False, verbose_name="what it is")),
                (
                    "source",
                    models.TextField(
                        help_text="Printed wherever this standard decides."
                    ),
                ),
            ],
            options={
                "ordering": ["key"],
            },
        ),
        migrations.CreateModel(
            name="Brake",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True,
                        primary_key=True,
                        serialize=False,
                        verbose_name="ID",
                    ),
                ),
                ("name", models.CharField(max_length=60, unique=True)),
                (
                    "length_mm",
                    models.DecimalField(
                        decimal_places=3,
                        help_text="The longest fold it makes.",
                        max_digits=9,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0.001"))
                        ],
                    ),
                ),
                (
                    "throat_mm",
                    models.DecimalField(
                        decimal_places=3,
                        help_text="The most metal that fits behind the jaws.",
                        max_digits=9,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0.001"))
                        ],
                    ),
                ),
                (
                    "smallest_flange_mm",
                    models.DecimalField(
                        decimal_places=3,
                        help_text="The narrowest leg it folds.",
                        max_digits=9,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0.001"))
                        ],
                    ),
                ),
                (
                    "largest_angle_deg",
                    models.DecimalField(
                        decimal_places=1,
                        help_text="The farthest it turns metal from flat.",
                        max_digits=4,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("1"))
                        ],
                    ),
                ),
                (
                    "radius_mm",
                    models.DecimalField(
                        decimal_places=3,
                        help_text="Inside radius its nose leaves.",
                        max_digits=9,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0"))
                        ],
                    ),
                ),
                ("active", models.BooleanField(default=True)),
            ],
            options={
                "ordering": ["-length_mm", "name"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            ("largest_angle_deg__gt", 0),
                            ("largest_angle_deg__lte", 180),
                        ),
                        name="brake_angle_in_range",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("length_mm__gt", 0),
                            ("smallest_flange_mm__gt", 0),
                            ("throat_mm__gt", 0),
                        ),
                        name="brake_sizes_positive",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Errand",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True,
                        primary_key=True,
                        serialize=False,
                        verbose_name="ID",
                    ),
                ),
                ("kind", models.CharField(max_length=40)),
                ("payload", models.JSONField(default=dict)),
                (
                    "state",
                    models.CharField(
                        choices=[
                            ("queued", "waiting"),
                            ("running", "under way"),
                            ("done", "done"),
                            ("failed", "failed"),
                        ],
                        default="queued",
                        max_length=8,
                    ),
                ),
                (
                    "attempt",
                    models.PositiveIntegerField(
                        default=0,
                        help_text="Counts the workers that took it up, the last one holds it.",
                    ),
                ),
                ("asked_at", models.DateTimeField(default=django.utils.timezone.now)),
                (
                    "sent_at",
                    models.DateTimeField(
                        help_text="When the bell last rang.", null=True
                    ),
                ),
                ("heartbeat", models.DateTimeField(null=True)),
                ("lease_until", models.DateTimeField(null=True)),
                ("ended_at", models.DateTimeField(null=True)),
                (
                    "reason",
                    models.TextField(
                        blank=True, help_text="Why it failed, for a person."
                    ),
                ),
            ],
            options={
                "ordering": ["pk"],
                "indexes": [
                    models.Index(
                        condition=models.Q(("state__in", ["queued", "running"])),
                        fields=["state", "sent_at"],
                        name="errands_open",
                    )
                ],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("state", "failed"), _negated=True),
                            models.Q(("reason", ""), _negated=True),
                            _connector="OR",
                        ),
                        name="errand_failed_why",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("state", "running"), _negated=True),
                            models.Q(
                                ("lease_until__gte", models.F("heartbeat")),
                                ("lease_until__isnull", False),
                            ),
                            _connector="OR",
                        ),
                        name="errand_running_is_leased",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Metal",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True,
                        primary_key=True,
                        serialize=False,
                        verbose_name="ID",
                    ),
                ),
                ("slug", models.SlugField(unique=True)),
                (
                    "name",
                    models.CharField(
                        help_text='As it is said and written on a site record, such as "copper 20 oz".',
                        max_length=60,
                        unique=True,
                    ),
                ),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("copper", "Copper"),
                            ("zinc", "Zinc"),
                            ("steel", "Steel"),
                            ("stainless", "Stainless"),
                            ("aluminium", "Aluminium"),
                            ("lead", "Lead"),
                        ],
                        max_length=10,
                    ),
                ),
                (
                    "thickness_mm",
                    models.DecimalField(
                        decimal_places=4,
                        max_digits=6,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0.05"))
                        ],
                    ),
                ),
                (
                    "density_kg_m3",
                    models.DecimalField(
                        decimal_places=1,
                        max_digits=7,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("1000"))
                        ],
                    ),
                ),
                (
                    "smallest_radius_mm",
                    models.DecimalField(
                        decimal_places=3,
                        help_text="The tightest inside radius it may be folded to.",
                        max_digits=9,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0"))
                        ],
                    ),
                ),
                (
                    "sides",
                    models.CharField(
                        blank=True,
                        help_text="What the two sides are called, the weather side first.",
                        max_length=80,
                    ),
                ),
                (
                    "stretch",
                    models.DecimalField(
                        decimal_places=3,
                        default=Decimal("0"),
                        help_text="Share it stretches before it tears, for sweeps. 0 is not known.",
                        max_digits=4,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0"))
                        ],
                    ),
                ),
                (
                    "source",
                    models.TextField(help_text="Where these figures come from."),
                ),
                (
                    "active",
                    models.BooleanField(
                        default=True,
                        help_text="Off: no longer offered, still shown on old jobs.",
                    ),
                ),
            ],
            options={
                "ordering": ["kind", "thickness_mm", "name"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            ("density_kg_m3__gt", 0), ("thickness_mm__gt", 0)
                        ),
                        name="metal_is_there",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("smallest_radius_mm__gte", 0)),
                        name="metal_radius_not_negative",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="ShopProfile",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True,
                        primary_key=True,
                        serialize=False,
                        verbose_name="ID",
                    ),
                ),
                ("name", models.CharField(default="Our shop", max_length=120)),
                (
                    "address",
                    models.TextField(blank=True, help_text="As it stands on papers."),
                ),
                (
                    "units",
                    models.CharField(
                        choices=[("in", "inches"), ("mm", "millimetres")],
                        default="in",
                        max_length=2,
                    ),
                ),
                (
                    "paper",
                    models.CharField(
                        choices=[("letter", "Letter"), ("a4", "A4")],
                        default="letter",
                        max_length=6,
                    ),
                ),
                ("currency", models.CharField(default="USD", max_length=3)),
                (
                    "time_zone",
                    models.CharField(
                        default="UTC",
                        max_length=40,
                        validators=[shop.models.standards.is_time_zone],
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("pk", 1)), name="one_shop_profile"
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="Person",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True,
                        primary_key=True,
                        serialize=False,
                        verbose_name="ID",
                    ),
                ),
                ("password", models.CharField(max_length=128, verbose_name="password")),
                (
                    "last_login",
                    models.DateTimeField(
                        blank=True, null=True, verbose_name="last login"
                    ),
                ),
                (
                    "is_superuser",
                    models.BooleanField(
                        default=False,
                        help_text="Designates that this user has all permissions without explicitly assigning them.",
                        verbose_name="superuser status",
                    ),
                ),
                (
                    "username",
                    models.CharField(
                        error_messages={
                            "unique": "A user with that username already exists."
                        },
                        help_text="Required. 150 characters or fewer. Letters, digits and @/./+/-/_ only.",
                        max_length=150,
                        unique=True,
                        validators=[
                            django.contrib.auth.validators.UnicodeUsernameValidator()
                        ],
                        verbose_name="username",
                    ),
                ),
                (
                    "first_name",
                    models.CharField(
                        blank=True, max_length=150, verbose_name="first name"
                    ),
                ),
                (
                    "last_name",
                    models.CharField(
                        blank=True, max_length=150, verbose_name="last name"
                    ),
                ),
                (
                    "email",
                    models.EmailField(
                        blank=True, max_length=254, verbose_name="email address"
                    ),
                ),
                (
                    "is_staff",
                    models.BooleanField(
                        default=False,
                        help_text="Designates whether the user can log into this admin site.",
                        verbose_name="staff status",
                    ),
                ),
                (
                    "is_active",
                    models.BooleanField(
                        default=True,
                        help_text="Designates whether this user should be treated as active. Unselect this instead of deleting accounts.",
                        verbose_name="active",
                    ),
                ),
                (
                    "date_joined",
                    models.DateTimeField(
                        default=django.utils.timezone.now, verbose_name="date joined"
                    ),
                ),
                (
                    "role",
                    models.CharField(
                        choices=[
                            ("office", "Office"),
                            ("crew", "Crew"),
                            ("owner", "Owner"),
                        ],
                        default="crew",
                        help_text="What this person may do. Money is the office's and the owner's.",
                        max_length=10,
                    ),
                ),
                (
                    "groups",
                    models.ManyToManyField(
                        blank=True,
                        help_text="The groups this user belongs to. A user will get all permissions granted to each of their groups.",
                        related_name="user_set",
                        related_query_name="user",
                        to="auth.group",
                        verbose_name="groups",
                    ),
                ),
                (
                    "user_permissions",
                    models.ManyToManyField(
                        blank=True,
                        help_text="Specific permissions for this user.",
                        related_name="user_set",
                        related_query_name="user",
                        to="auth.permission",
                        verbose_name="user permissions",
                    ),
                ),
            ],
            options={
                "verbose_name_plural": "people",
                "ordering": ["first_name", "last_name", "username"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("role__in", ["office", "crew", "owner"])),
                        name="person_has_role",
                    )
                ],
            },
            managers=[
                ("objects", shop.models.people.PersonManager()),
            ],
        ),
        migrations.CreateModel(
            name="Stock",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True,
                        primary_key=True,
                        serialize=False,
                        verbose_name="ID",
                    ),
                ),
                (
                    "form",
                    models.CharField(
                        choices=[("sheet", "Sheet"), ("coil", "Coil")], max_length=5
                    ),
                ),
                (
                    "width_mm",
                    models.DecimalField(
                        decimal_places=3,
                        max_digits=9,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0.001"))
                        ],
                    ),
                ),
                (
                    "length_mm",
                    models.DecimalField(
                        blank=True,
                        decimal_places=3,
                        help_text="Leave empty for coil: it is cut to length.",
                        max_digits=9,
                        null=True,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0.001"))
                        ],
                    ),
                ),
                (
                    "metal",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="stocks",
                        to="shop.metal",
                    ),
                ),
            ],
            options={
                "verbose_name_plural": "stock",
                "ordering": ["metal__name", "form", "width_mm", "length_mm"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("form", "sheet"), ("length_mm__isnull", False)),
                            models.Q(("form", "coil"), ("length_mm__isnull", True)),
                            _connector="OR",
                        ),
                        name="stock_sheets_have_a_length",
                        violation_error_message="A sheet has a length. A coil has none.",
                    ),
                    models.UniqueConstraint(
                        fields=("metal", "form", "width_mm", "length_mm"),
                        name="stock_listed_once",
                    ),
                ],
            },
        ),
    ]
