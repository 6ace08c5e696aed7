"""The two roles with a sign-in. Students have none."""

from django.db import migrations

ROLES = ("instructor", "assistant")


def add_groups(apps, schema_editor):
    group = apps.get_model("auth", "Group")
    for name in ROLES:
        group.objects.get_or_create(name=name)


class Migration(migrations.Migration):
    dependencies = [
        ("recipes", "0001_initial"),
        ("auth", "0012_alter_user_first_name_max_length"),
    ]

    operations = [migrations.RunPython(add_groups, migrations.RunPython.noop)]
