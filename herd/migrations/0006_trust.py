from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("herd", "0005_host")]
    operations = [
        migrations.AddIndex(
            model_name="quarantine",
            index=models.Index(fields=["farm", "sender", "received_ms"], name="refusals_of_a_day"),
        )
    ]
