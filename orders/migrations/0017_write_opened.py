"""Which of the orders that are there already their workshops have opened: a look no older than the current revision."""

from django.db import migrations
from django.db.models import Exists, OuterRef, Subquery


def write(apps, schema_editor):
    Look, Order, Revision = (apps.get_model("orders", name) for name in ("Look", "Order", "Revision"))
    current = Revision.objects.filter(order=OuterRef("pk"), number=OuterRef("revision_number"))
    looks = Look.objects.filter(
        order_id=OuterRef("pk"), organisation_id=OuterRef("workshop_id"), at__gte=OuterRef("sent_at")
    )
    sent = Order.objects.annotate(sent_at=Subquery(current.values("created_at")[:1]))
    sent.filter(Exists(looks)).update(opened=True)


class Migration(migrations.Migration):
    dependencies = [("orders", "0016_opened_kept_on_the_order")]
    operations = [migrations.RunPython(write, migrations.RunPython.noop)]
