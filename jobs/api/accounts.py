"""The account of a job for programs: what was quoted and what it took."""

from __future__ import annotations

from typing import Any

from rest_framework import serializers

from jobs import closing
from jobs.api.money import SumField
from jobs.models import Account, Job, RemakeAccount


class SumsSerializer(serializers.ModelSerializer[Account]):
    quoted_metal = SumField()
    quoted_labour = SumField()
    quoted_other = SumField()
    quoted = SumField(help_text="Metal, labour and other.")
    quoted_net = SumField(help_text="The price before tax.")
    metal = SumField()
    labour = SumField()
    other = SumField()
    real = SumField(help_text="Metal, labour and other.")
    kept = SumField(help_text="What is left of the price for overhead and gain.")

    class Meta:
        model = Account
        fields = [
            "job",
            "state",
            "quote",
            "currency",
            "quoted_metal",
            "quoted_labour",
            "quoted_other",
            "quoted",
            "quoted_net",
            "quoted_minutes",
            "metal",
            "labour",
            "other",
            "real",
            "kept",
            "minutes",
            "unpriced_minutes",
            "pieces",
            "remakes",
        ]
        read_only_fields = fields


class FamilySumsSerializer(serializers.Serializer[Any]):
    """One family at one stage; its metal without a stage, the job's without family."""

    family = serializers.CharField(read_only=True)
    stage = serializers.CharField(read_only=True)
    pieces = serializers.IntegerField(read_only=True)
    quoted_minutes = serializers.DecimalField(10, 2, read_only=True)
    minutes = serializers.DecimalField(10, 2, read_only=True)
    quoted = SumField()
    real = SumField()


class RemakeSumsSerializer(serializers.ModelSerializer[RemakeAccount]):
    labour = SumField()
    metal = SumField()

    class Meta:
        model = RemakeAccount
        fields = ["piece", "family", "reason", "minutes", "labour", "metal"]
        read_only_fields = fields


class AccountSerializer(serializers.Serializer[Any]):
    """In the shop's currency, as it is now."""

    account = SumsSerializer(read_only=True)
    families = FamilySumsSerializer(many=True, read_only=True)
    remakes = RemakeSumsSerializer(many=True, read_only=True)


def account_of(job: Job) -> dict[str, Any]:
    """The answer of the API."""
    made = closing.reckoned(job)
    families = [
        {
            "family": family,
            "stage": stage,
            "pieces": row.pieces,
            "quoted_minutes": row.quoted_minutes,
            "minutes": row.minutes,
            "quoted": row.quoted,
            "real": row.real,
        }
        for (family, stage), row in made.families.items()
    ]
    told = {"account": made.account, "families": families, "remakes": made.remakes}
    context = {"currency": made.account.currency}
    return dict(AccountSerializer(told, context=context).data)
