from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("herd", "0002_roles_kept")]
    operations = [
        migrations.AddIndex(
            model_name="quarantine",
            index=models.Index(fields=["farm", "sender", "received_ms"], name="refusals_of_a_day"),
        )
    ]
