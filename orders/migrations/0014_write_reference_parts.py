"""What the orders that are there already can be found by."""

from django.db import migrations

from orders.finding import parts_of


def write(apps, schema_editor):
    Order, ReferencePart = apps.get_model("orders", "Order"), apps.get_model("orders", "ReferencePart")
    rows = Order.objects.values_list("id", "clinic_id", "workshop_id", "person__reference").iterator()
    parts = (
        ReferencePart(order_id=order, clinic_id=clinic, workshop_id=workshop, part=part.encode())
        for order, clinic, workshop, reference in rows
        for part in parts_of(reference)
    )
    ReferencePart.objects.bulk_create(parts, batch_size=500)


class Migration(migrations.Migration):
    dependencies = [("orders", "0013_bench_orders_and_finding")]
    operations = [migrations.RunPython(write, migrations.RunPython.noop)]
