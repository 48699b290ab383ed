from django.db import migrations, models


def empty_where_there_is_no_set(apps, schema_editor):
    apps.get_model("layout", "Layout").objects.filter(frame="{}").update(frame="")


class Migration(migrations.Migration):
    dependencies = [
        ("layout", "0001_layouts_and_laid_pieces"),
    ]

    operations = [
        migrations.AlterField(
            model_name="layout",
            name="frame",
            field=models.TextField(
                blank=True,
                help_text="The stored set without its pieces, as JSON text: a database would sort its keys. Empty where there is no set.",
            ),
        ),
        migrations.RunPython(empty_where_there_is_no_set, migrations.RunPython.noop),
    ]
