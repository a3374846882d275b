"""The triggers that keep what was sent and what happened as it was."""

from django.db import migrations

from orders import triggers

TABLES = ("orders_event", "orders_look", "orders_revision", "capture_seal")

def make(apps, schema_editor):
    triggers.run(schema_editor, triggers.statements(schema_editor.connection.vendor, TABLES))


def drop(apps, schema_editor):
    triggers.run(schema_editor, triggers.drops(schema_editor.connection.vendor, TABLES))


class Migration(migrations.Migration):
    dependencies = [("orders", "0002_initial"), ("capture", "0001_initial")]
    operations = [migrations.RunPython(make, drop)]
