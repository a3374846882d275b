import uuid

import django.db.models.deletion
from django.db import migrations, models

from orders import triggers

TABLES = ("orders_document",)


def make(apps, schema_editor):
    triggers.run(schema_editor, triggers.statements(schema_editor.connection.vendor, TABLES))


def drop(apps, schema_editor):
    triggers.run(schema_editor, triggers.drops(schema_editor.connection.vendor, TABLES))


class Migration(migrations.Migration):
    dependencies = [("orders", "0006_photo_measured")]

    operations = [
        migrations.CreateModel(
            name="Document",
            fields=[
                (
                    "id",
                    models.UUIDField(default=uuid.uuid4, editable=False, primary_key=True, serialize=False),
                ),
                ("kind", models.CharField(help_text="as orders/documents/kinds.py names it", max_length=30)),
                (
                    "side",
                    models.CharField(
                        blank=True, help_text="left or right; empty for one of the whole order", max_length=5
                    ),
                ),
                ("sha256", models.CharField(max_length=64)),
                ("bytes", models.PositiveIntegerField()),
                ("stored", models.CharField(help_text="where its bytes lie", max_length=100)),
                ("made_at", models.DateTimeField(auto_now_add=True)),
                (
                    "revision",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="documents",
                        to="orders.revision",
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(fields=("revision", "kind", "side"), name="document_once")
                ],
            },
        ),
        migrations.RunPython(make, drop),
    ]
